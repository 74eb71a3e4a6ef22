"""Platforms and builds that take over another, `like: ID`, and say what differs.

It is done on the trees, before anything is read of them: each value keeps the line that it was
written on, whichever definition that is of, so that pedigrees, findings and checks follow.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field
from typing import Final

from specgen.diagnostics import Code, Finding, Label, codes, did_you_mean, question, quoted
from specgen.diagnostics.unknown_names import NO_SUCH
from specgen.frozen import frozen, state
from specgen.load.tree_merging import Merge, SaidAgain, laid_over, left_out
from specgen.messages import say
from specgen.source import SourceFile, YamlMapping, YamlNode, YamlScalar, YamlSequence

FOLDERS: Final[Mapping[str, Code]] = {
    "platforms": codes.UNKNOWN_PLATFORM,
    "configured": codes.UNKNOWN_BUILD,
}
"""Where definitions may be like another, and what it is if there is none of that name."""
OWN: Final = frozenset(
    {
        *("id", "name", "number", "revision", "date", "history", "published", "shown"),
        *("allow", "measured", "like", "without"),
    }
)
"""Fields that tell of one system alone, and are taken over by no other: what it is called, when it
was made, whether it is published, what was decided or measured of it."""


@frozen
class Likeness:
    """A definition with all that it takes over; without a tree where that is not known."""

    tree: YamlMapping | None
    base: YamlMapping | None = None
    findings: tuple[Finding, ...] = ()

    def lacks(self, found: Finding) -> bool:
        """Whether a field is missing in what is taken over, where it is told."""
        name = str(found.message.named.get("name", ""))
        base, missing = self.base, found.code is codes.MISSING_FIELD
        return missing and base is not None and name not in base and name not in OWN


Likenesses = Mapping[int, Likeness]
"""By the identity of the tree that a definition was written as."""


def likenesses(files: Iterable[SourceFile]) -> Likenesses:
    """All definitions of a project that take over another."""
    found: dict[int, Likeness] = {}
    trees: dict[str, list[YamlMapping]] = {folder: [] for folder in FOLDERS}
    unread = set()
    for file in files:
        if file.folder in trees:
            if file.tree is None:
                unread.add(file.folder)
            trees[file.folder] += _mappings(file.tree)
    for folder, own in trees.items():
        if any("like" in each or "without" in each for each in own):
            found |= _Family(FOLDERS[folder], own, folder not in unread).resolved()
    return found


def _mappings(tree: YamlNode | None) -> Iterator[YamlMapping]:
    if isinstance(tree, YamlMapping):
        yield tree
    elif isinstance(tree, YamlSequence):
        for each in tree:
            yield from _mappings(each)


@state
class _Family:
    """The definitions of one sort, and what those that are like another come to."""

    code: Code
    trees: list[YamlMapping]
    complete: bool
    """Whether all files could be read: else what is taken over may stand in one of them."""
    named: dict[str, YamlMapping] = field(default_factory=dict)
    known: dict[int, Likeness] = field(default_factory=dict)

    def resolved(self) -> Likenesses:
        for each in self.trees:
            name = each.get("id")
            if isinstance(name, YamlScalar):
                self.named.setdefault(str(name), each)
        for each in self.trees:
            self._resolve(each)
        return {
            at: each
            for at, each in self.known.items()
            if each.tree is None or each.base or each.findings
        }

    def _resolve(self, tree: YamlMapping) -> None:
        """What a definition comes to, after all that it rests on."""
        chain: dict[int, YamlMapping] = {}
        while id(tree) not in self.known and id(tree) not in chain:
            chain[id(tree)] = tree
            base = self._base(tree)
            if base is None:
                break
            tree = base
        if id(tree) in chain and self._base(tree) is not None:
            self._circle([*chain.values()][[*chain].index(id(tree)) :])
        for each in reversed(chain.values()):
            if id(each) not in self.known:
                self.known[id(each)] = self._made(each)

    def _base(self, tree: YamlMapping) -> YamlMapping | None:
        name = tree.get("like")
        return self.named.get(name) if isinstance(name, YamlScalar) else None

    def _circle(self, trees: list[YamlMapping]) -> None:
        """What leads back to itself comes to nothing; it is told once."""
        first = min(trees, key=lambda each: each.span)
        names = [str(each["like"]) for each in trees]
        at = first["like"].span
        labels = [Label(each["like"].span, say("and this one")) for each in trees if each != first]
        found = Finding(
            codes.LIKE_ITSELF,
            say("`{id}` is like itself", id=str(first.get("id")))
            if len(trees) == 1
            else say("{names} are like one another in a circle", names=quoted(sorted(names))),
            Label(at, say("leads back here")),
            labels=tuple(labels),
            help=say("write one of them out, without `like`"),
        )
        for each in trees:
            self.known[id(each)] = Likeness(None, findings=(found,) if each is first else ())

    def _made(self, tree: YamlMapping) -> Likeness:
        name = tree.get("like")
        if name is None:
            return Likeness(tree, findings=tuple(_without_base(tree)))
        if not isinstance(name, YamlScalar):
            return Likeness(tree)  # what is wrong with it, its reader says
        base = self.named.get(name)
        if base is None:
            return Likeness(None, findings=self._unknown(name) if self.complete else ())
        whole = self.known[id(base)]
        if whole.tree is None:
            return Likeness(None)
        return _taken_over(tree, whole.tree, str(name))

    def _unknown(self, name: YamlScalar) -> tuple[Finding, ...]:
        help_ = question(did_you_mean(name, self.named))
        message = NO_SUCH[self.code].filled(name=str(name))
        return (Finding(self.code, message, Label(name.span), help=help_),)


def _taken_over(tree: YamlMapping, base: YamlMapping, name: str) -> Likeness:
    """A definition with what it takes over of another, less what it does without."""
    findings: list[Finding] = []
    shared = {key: value for key, value in base.items() if key not in OWN}
    left = laid_over(base, base, shared, base.key_spans)
    for text in _texts(tree.get("without")):
        less, known = left_out(left, str(text))
        if less is None:
            findings.append(_not_there(text, known, name))
        else:
            left = less
    merge = Merge()
    whole = merge.over(left, tree)
    findings += [_same(each, name) for each in merge.same]
    findings += [_within(each, name) for each in merge.inseparable]
    return Likeness(whole, base, tuple(findings))


def _texts(node: YamlNode | None) -> list[YamlScalar]:
    """The entries of a list, which may be written as its one entry."""
    nodes = node if isinstance(node, YamlSequence) else [node]
    return [each for each in nodes if isinstance(each, YamlScalar)]


def _without_base(tree: YamlMapping) -> Iterator[Finding]:
    if "without" in tree:
        yield Finding(
            codes.NOT_TAKEN_OVER,
            say("`without` leaves out what is taken over, and nothing is"),
            Label(tree.key_where("without"), say("needs `like`")),
            help=say("add `like: …`, or delete it"),
        )


def _not_there(text: YamlScalar, known: Iterable[str], name: str) -> Finding:
    return Finding(
        codes.NOT_TAKEN_OVER,
        say("`{base}` has no `{name}` to take over", base=name, name=str(text)),
        Label(text.span, say("not there")),
        help=question(did_you_mean(str(text), [*known]))
        or say("name a field, or what is in it: `memory_mode`, `fit.BAY 0..3`"),
    )


def _same(difference: SaidAgain, name: str) -> Finding:
    return Finding(
        codes.UNUSED,
        say("`{field}` is as in `{base}`", field=difference.field, base=name),
        Label(difference.at, say("changes nothing")),
        labels=(Label(difference.base, say("says it already")),),
        help=say("delete the line"),
    )


def _within(difference: SaidAgain, name: str) -> Finding:
    return Finding(
        codes.NOT_TAKEN_OVER,
        say(
            "{field} is one of several in `{base}` that lie in a row",
            field=difference.field,
            base=name,
        ),
        Label(difference.at, say("not by itself")),
        labels=(Label(difference.base, say("declared together")),),
        help=say("leave all of them out by `without`, and state them here"),
    )
