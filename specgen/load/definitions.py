"""All files of a project to everything it defines, and what stands in the way."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.diagnostics.fault import carrying
from specgen.diagnostics.unknown_names import NO_SUCH
from specgen.frozen import frozen, state
from specgen.load.decode import decode
from specgen.load.likeness import Likenesses, likenesses
from specgen.load.one_cause import in_one
from specgen.load.other_kinds import Decoded, of_another_kind
from specgen.load.part_groups import OF_GROUP, joined, overruled, slipped, strangers
from specgen.load.references import unknown_references
from specgen.load.value_files import VALUES, values_of_files, with_values
from specgen.messages import Message, listed, say
from specgen.model import KINDS, Build, Definitions, Illustration, Part, Platform, Project
from specgen.model.kinds.declared_kinds import DeclaredKind, kind_of
from specgen.source import (
    MOST_MISTAKES,
    PICTURES,
    PROJECT_FILE,
    SourceFile,
    Sources,
    YamlMapping,
    YamlNode,
    YamlScalar,
    YamlSequence,
    first_mistakes,
    is_marked,
    too_many_mistakes,
)

MOST_ENTRIES: Final = 2_000
"""Of a list in specgen.yaml: rules, values, roles."""
_FEWER: Final = say("a program has made them; say what they have in common by one of them")


@frozen
class Loaded:
    """What could be read of a project, and every finding on the way.

    `definitions` is None where `specgen.yaml` itself cannot be read.
    """

    definitions: Definitions | None
    findings: tuple[Finding, ...]
    unreadable_builds: tuple[str, ...] = ()
    """Ids of builds whose definition is seen but cannot be read."""
    kinds_missing: bool = False
    """Whether the project declares kinds that cannot be used, or may."""


@state
class _Register:
    """Definitions of one sort; `known` has the ids of the unreadable ones too."""

    twice: Message
    """What is said of a second one of a name."""
    values: dict[str, Any] = field(default_factory=dict)
    known: dict[str, Label] = field(default_factory=dict)

    def claim(self, tree: YamlMapping) -> Finding | None:
        """Takes the id of a definition, or says where it is taken already."""
        written = tree.get("id") or next((tree[key] for key in tree if _id_with_slip(key)), None)
        if not isinstance(written, YamlScalar):
            return None
        first = self.known.get(written)
        if first is None:
            self.known[str(written)] = Label(written.span, say("first definition"))
            return None
        return Finding(
            codes.DUPLICATE_NAME,
            self.twice.filled(name=str(written)),
            Label(written.span, say("second definition")),
            labels=(first,),
            help=say("give one of them another `id`, or delete it"),
        )


def _id_with_slip(key: str) -> bool:
    """Whether a key was meant to be `id`: what refers to it does not miss it as well."""
    return len(key) <= len("id") + 1 and set(key.lower()) <= set("id1l")


@state
class KindRegister:
    """The kinds of part that parts can be of; `claimed` has the project's unusable ones too."""

    classes: Mapping[str, type[Part]]
    claimed: frozenset[str] = frozenset()
    complete: bool = True

    def take(self, shelf: _Register) -> list[Finding]:
        """Adds the kinds of a file that can be used; says of the others why they cannot."""
        findings: list[Finding] = []
        for name, kind in [*shelf.values.items()]:
            if name in self.claimed:
                continue
            words = {cls.collection(): f"`{each}`" for each, cls in self.classes.items()}
            from specgen.load.kind_mistakes import unsound  # few projects declare any

            problems = unsound(kind, words)
            findings += problems
            if problems:
                del shelf.values[name]
            else:
                self.classes = {**self.classes, name: kind_of(kind)}
        self.claimed = frozenset(shelf.known)
        return findings

    def unknown(self, word: YamlNode | None, holder: YamlMapping) -> Iterator[Finding]:
        """That a part is of no kind known; nothing where its kind is told of already."""
        known = say("the kinds are {names}", names=listed(sorted(self.classes)))
        slip = _slip_of("kind", holder) if word is None else None
        if slip is not None:
            yield slipped(slip, holder, ("kind",))
        elif word is None:
            yield Finding(
                codes.MISSING_FIELD,
                say("`kind` is missing"),
                Label(holder.span, say("needs `kind`")),
                help=say("write `kind: drive`, say; {known}", known=known),
            )
        elif not isinstance(word, YamlScalar):
            at = Label(holder.key_where("kind"))
            message = NO_SUCH[codes.UNKNOWN_KIND].filled(name=str(word))
            yield Finding(codes.UNKNOWN_KIND, message, at, help=known)
        elif self.complete and word not in self.claimed:
            yield Finding(
                codes.UNKNOWN_KIND,
                NO_SUCH[codes.UNKNOWN_KIND].filled(name=word),
                Label(word.span),
                help=question(did_you_mean(word, self.classes)) or known,
            )


def load(sources: Sources) -> Loaded:
    """Decodes every file; a file that fails does not stop the others."""
    findings = list(sources.findings)
    with carrying(findings):
        return _load(sources, findings)


def _load(sources: Sources, findings: list[Finding]) -> Loaded:
    shelves = {
        "kinds": _Register(say("two kinds are named `{name}`")),
        "catalog": _Register(say("two parts are named `{name}`")),
        "platforms": _Register(say("two platforms are named `{name}`")),
        "configured": _Register(say("two builds are named `{name}`")),
        PICTURES: _Register(say("two pictures are named `{name}`")),
    }
    project: Project | None = None
    empty = {f.at.span.file for f in sources.findings if f.code is codes.EMPTY_FILE}
    unread: set[str] = set()
    kinds = KindRegister(KINDS)
    likes = likenesses(sources.files)
    for file in sorted(sources.files, key=lambda file: file.folder != "kinds"):
        if file.tree is None:
            if file.name not in empty:
                unread.add(file.folder)
        elif file.name == PROJECT_FILE:
            more, problems = values_of_files(sources.files)
            findings += problems
            project, problems = _project(file.tree, more)
            findings += problems
        elif file.folder == VALUES:
            continue  # they belong to the project
        else:
            shelf = shelves[file.folder]
            found, whole = _read(file, shelf, kinds, likes)
            findings += found
            if not whole:
                unread.add(file.folder)
            if file.folder == "kinds":
                findings += kinds.take(shelf)
        kinds.complete = "kinds" not in unread
    if project is None:
        return Loaded(None, tuple(findings))
    declared, *things = (_sorted(shelf.values) for shelf in shelves.values())
    parts, platforms, builds, pictures = things
    definitions = Definitions(project, parts, platforms, builds, tuple(declared.values()), pictures)
    known = {word: frozenset(shelf.known) for word, shelf in shelves.items()}
    findings += first_mistakes(unknown_references(definitions, known, frozenset(unread)))
    unreadable = tuple(sorted(known["configured"] - set(builds)))
    missing = not kinds.complete or known["kinds"] != declared.keys()
    return Loaded(definitions, tuple(dict.fromkeys(findings)), unreadable, missing)


def _read(
    file: SourceFile, shelf: _Register, kinds: KindRegister, likes: Likenesses
) -> tuple[list[Finding], bool]:
    """Puts what a file defines on its shelf; whether it was whole, as far as can be told."""
    assert file.tree is not None
    findings: list[Finding] = []
    last: tuple[Finding, ...] = ()
    decoded: list[Decoded] = []
    found = _definitions(file.tree, file.folder, kinds)
    for done, (tree, cls, problems) in enumerate(found):
        if len(findings) >= MOST_MISTAKES:
            left = _count(file.tree) - done
            at = file.tree.span if tree is None else tree.span
            findings = [*in_one(findings, *_misplaced(file.tree)), too_many_mistakes(at, left)]
            return findings, False
        likeness = likes.get(id(tree))
        if likeness is not None:
            problems = likeness.findings
            tree, cls = (tree, None) if likeness.tree is None else (likeness.tree, cls)
        findings += problems
        last = problems
        if tree is None or cls is None:
            if tree is not None:
                shelf.claim(tree)
            continue
        taken = shelf.claim(tree)
        if taken is not None:
            findings.append(taken)
            first = shelf.values.get(str(tree.get("id")))
            if first is not None and type(first) is not cls:
                del shelf.values[first.id]  # nobody knows which of the two is meant
            continue
        value, last = decode(cls, tree)
        if likeness is not None:  # what its base lacks is told there
            last = tuple(each for each in last if not likeness.lacks(each))
        findings += last
        if value is not None:
            shelf.values[value.id] = value
        if file.folder not in _CLASSES:
            decoded.append(Decoded(tree, cls, last))
    for gone, instead in of_another_kind(decoded, kinds.classes) if findings else ():
        findings = [instead, *(each for each in findings if each not in gone)]
    findings = list(in_one(findings, *_misplaced(file.tree)))
    # cut off within its last definition: others may have followed
    return findings, not last or file.text.endswith("\n")


def _sorted(values: dict[str, Any]) -> dict[str, Any]:
    return {key: values[key] for key in sorted(values)}


def _project(
    tree: YamlNode, values: Sequence[YamlMapping]
) -> tuple[Project | None, tuple[Finding, ...]]:
    if not isinstance(tree, YamlMapping):
        return None, (_needs_mapping(tree),)
    tree, found = _without_crowds(with_values(tree, values))
    project, problems = decode(Project, tree)
    return project, (*found, *problems)


def _without_crowds(tree: YamlMapping) -> tuple[YamlMapping, list[Finding]]:
    """The tree of a project without lists that nobody has written by hand: each rule and each value
    is asked of each system."""
    found: list[Finding] = []
    for name in [each for each, held in tree.items() if isinstance(held, YamlSequence)]:
        held = tree[name]
        if len(held) > MOST_ENTRIES:
            at = getattr(held[MOST_ENTRIES], "span", held.span)
            message = say("more than {most} entries in `{name}`", most=MOST_ENTRIES, name=name)
            found.append(Finding(codes.TOO_MUCH, message, Label(at), help=_FEWER))
            del held[MOST_ENTRIES:]
    return tree, found


def _needs_mapping(node: YamlNode) -> Finding:
    return Finding(
        codes.WRONG_TYPE,
        say("a definition needs a mapping of fields"),
        Label(node.span, say("no `field: value` here")),
        help=say("write `id: …` and the other fields, each on a line of its own"),
    )


_CLASSES: Final[Mapping[str, type[Any]]] = {
    "kinds": DeclaredKind,
    "platforms": Platform,
    "configured": Build,
    PICTURES: Illustration,
}
ReadDefinition = tuple[YamlMapping | None, type[Any] | None, tuple[Finding, ...]]


def _definitions(tree: YamlNode, folder: str, kinds: KindRegister) -> Iterator[ReadDefinition]:
    """Each definition of a file with its class: one mapping, a list, or parts with a `common`."""
    if isinstance(tree, YamlSequence):
        if not tree:
            yield None, None, (_needs_mapping(tree),)
        for item in tree:
            if isinstance(item, YamlSequence):
                yield None, None, (_needs_mapping(item),)
            else:
                yield from _definitions(item, folder, kinds)
    elif not isinstance(tree, YamlMapping):
        yield None, None, (_needs_mapping(tree),)
    elif folder in _CLASSES:
        yield tree, _CLASSES[folder], ()
    elif (listed := _list_of_parts(tree)) is not None:
        yield from _group(tree, listed, kinds)
    else:
        yield _part(tree, tree, kinds)


def _count(tree: YamlNode) -> int:
    """How many definitions a file holds, without a look at them."""
    if isinstance(tree, YamlMapping):
        tree = tree.get("parts", tree)
    return sum(map(_count, tree)) if isinstance(tree, YamlSequence) else 1


def _list_of_parts(tree: YamlMapping) -> str | None:
    """The key that a file's list of parts stands under, or a slip of it."""
    if "parts" in tree:
        return "parts"
    slip = None if "id" in tree else _slip_of("parts", tree)
    return slip if slip is not None and isinstance(tree[slip], YamlSequence) else None


def _slip_of(name: str, tree: YamlMapping) -> str | None:
    """The key that was probably meant to be another."""
    return next((key for key in tree if did_you_mean(key, OF_GROUP)[:1] == (name,)), None)


def _group(tree: YamlMapping, listed: str, kinds: KindRegister) -> Iterator[ReadDefinition]:
    parts, common = tree[listed], tree.get("common", YamlMapping())
    if found := tuple(strangers(tree)):
        yield None, None, found
    if not isinstance(parts, YamlSequence):
        at = Label(tree.key_where("parts"))
        yield (
            None,
            None,
            (
                Finding(
                    codes.WRONG_TYPE,
                    say("`parts` needs a list"),
                    at,
                    help=say("start each part with `- id: …`"),
                ),
            ),
        )
        return
    if not isinstance(common, YamlMapping) and found and not common:
        common = YamlMapping()  # its fields stand beside it, which has been told
    if not isinstance(common, YamlMapping):
        at = Label(tree.key_where("common"))
        yield (
            None,
            None,
            (Finding(codes.WRONG_TYPE, say("`common` needs a mapping of fields"), at),),
        )
        return
    if found := tuple(overruled(common, parts)):
        yield None, None, found
    for item in parts:
        if isinstance(item, YamlMapping):
            yield _part(joined(common, item), tree, kinds)
        else:
            yield None, None, (_needs_mapping(item),)


def _misplaced(tree: YamlNode) -> tuple[frozenset[str], bool]:
    """Fields that stand beside the parts of a file, or in a slip of `common`; and whether the file
    has a list of parts."""
    found: set[str] = set()
    groups = [
        each
        for each in (tree if isinstance(tree, YamlSequence) else [tree])
        if isinstance(each, YamlMapping) and _list_of_parts(each) is not None
    ]
    for group in groups:
        listed = (*OF_GROUP, _list_of_parts(group))
        for key in (each for each in group if each not in listed):
            inner = group[key]
            found.update((str(key), *(inner if isinstance(inner, YamlMapping) else ())))
    return frozenset(found), bool(groups)


def _part(tree: YamlMapping, holder: YamlMapping, kinds: KindRegister) -> ReadDefinition:
    word = tree.get("kind", holder.get("kind"))
    bare = YamlMapping({key: value for key, value in tree.items() if key != "kind"})
    bare.span, bare.key_spans, bare.marked = tree.span, tree.key_spans, is_marked(tree)
    bare.doubled = getattr(tree, "doubled", False)
    if isinstance(word, YamlScalar):
        bare.key_spans = {**tree.key_spans, "kind": word.span}
    if isinstance(word, YamlScalar) and word in kinds.classes:
        return bare, kinds.classes[word], ()
    return bare, None, tuple(kinds.unknown(word, holder))
