"""All files of a project to everything it defines, and what stands in the way."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from specgen.diagnostics import Finding, Label, codes, did_you_mean
from specgen.load.decode import decode
from specgen.load.references import unknown_references
from specgen.model import KINDS, Build, Definitions, Platform, Project
from specgen.source import PROJECT_FILE, Fields, Items, Node, Sources, Written


@dataclass(frozen=True, slots=True)
class Loaded:
    """What could be read of a project, and every finding on the way.

    `definitions` is None where `specgen.yaml` itself cannot be read.
    """

    definitions: Definitions | None
    findings: tuple[Finding, ...]
    unreadable_builds: tuple[str, ...] = ()
    """Ids of builds whose definition is seen but cannot be read."""


@dataclass(slots=True)
class _Shelf:
    """Definitions of one sort; `known` has the ids of the unreadable ones too."""

    word: str
    values: dict[str, Any] = field(default_factory=dict)
    known: dict[str, Label] = field(default_factory=dict)

    def claim(self, tree: Fields) -> Finding | None:
        """Takes the id of a definition, or says where it is taken already."""
        written = tree.get("id")
        if not isinstance(written, Written):
            return None
        first = self.known.get(written)
        label = Label(written.span, "second definition")
        if first is None:
            self.known[str(written)] = Label(written.span, "first definition")
            return None
        return Finding(
            codes.DUPLICATE_NAME,
            f"two {self.word}s are named `{written}`",
            label,
            labels=(first,),
            help="give one of them another `id`, or delete it",
        )


def load(sources: Sources) -> Loaded:
    """Decodes every file; a file that fails does not stop the others."""
    findings = list(sources.findings)
    shelves = {
        "catalog": _Shelf("part"),
        "platforms": _Shelf("platform"),
        "configured": _Shelf("build"),
    }
    project: Project | None = None
    empty = {f.at.span.file for f in sources.findings if f.code is codes.EMPTY_FILE}
    unread: set[str] = set()
    for file in sources.files:
        if file.tree is None:
            if file.name not in empty:
                unread.add(file.folder)
            continue
        if file.name == PROJECT_FILE:
            project, problems = _project(file.tree)
            findings += problems
            continue
        shelf = shelves[file.folder]
        last: tuple[Finding, ...] = ()
        for tree, kind, problems in _definitions(file.tree, file.folder):
            findings += problems
            if tree is None or kind is None:
                if tree is not None:
                    shelf.claim(tree)
                continue
            taken = shelf.claim(tree)
            if taken is not None:
                findings.append(taken)
                continue
            value, problems = decode(kind, tree)
            findings += problems
            last = problems
            if value is not None:
                shelf.values[value.id] = value
        if last and not file.text.endswith("\n"):
            unread.add(file.folder)  # cut off within its last definition: others may have followed
    if project is None:
        return Loaded(None, tuple(findings))
    parts, platforms, builds = (shelf.values for shelf in shelves.values())
    definitions = Definitions(project, _sorted(parts), _sorted(platforms), _sorted(builds))
    known = {word: frozenset(shelf.known) for word, shelf in shelves.items()}
    findings += unknown_references(definitions, known, frozenset(unread))
    unreadable = tuple(sorted(known["configured"] - set(builds)))
    return Loaded(definitions, tuple(findings), unreadable)


def _sorted(values: dict[str, Any]) -> dict[str, Any]:
    return {key: values[key] for key in sorted(values)}


def _project(tree: Node) -> tuple[Project | None, tuple[Finding, ...]]:
    if not isinstance(tree, Fields):
        return None, (_needs_mapping(tree),)
    return decode(Project, tree)


def _needs_mapping(node: Node) -> Finding:
    return Finding(
        codes.WRONG_TYPE,
        "a definition needs a mapping of fields",
        Label(node.span, "no `field: value` here"),
        help="write `id: …` and the other fields, each on a line of its own",
    )


Entry = tuple[Fields | None, type[Any] | None, tuple[Finding, ...]]


def _definitions(tree: Node, folder: str) -> Iterator[Entry]:
    """Each definition of a file with its class: one mapping, a list, or parts with a `common`."""
    if isinstance(tree, Items):
        if not tree:
            yield None, None, (_needs_mapping(tree),)
        for item in tree:
            if isinstance(item, Items):
                yield None, None, (_needs_mapping(item),)
            else:
                yield from _definitions(item, folder)
    elif not isinstance(tree, Fields):
        yield None, None, (_needs_mapping(tree),)
    elif folder == "platforms":
        yield tree, Platform, ()
    elif folder == "configured":
        yield tree, Build, ()
    elif "parts" in tree:
        yield from _group(tree)
    else:
        yield _part(tree, tree)


def _group(tree: Fields) -> Iterator[Entry]:
    parts, common = tree["parts"], tree.get("common", Fields())
    for key in tree:
        if key not in ("kind", "common", "parts"):
            close = did_you_mean(key, ("kind", "common", "parts"))
            help_ = f"did you mean `{close[0]}`?" if close else "move it into `common` or a part"
            at = Label(tree.key_where(key), "not a field here")
            yield (
                None,
                None,
                (Finding(codes.UNKNOWN_FIELD, f"no field is named `{key}`", at, help=help_),),
            )
    if not isinstance(parts, Items):
        at = Label(tree.key_where("parts"))
        yield (
            None,
            None,
            (
                Finding(
                    codes.WRONG_TYPE,
                    "`parts` needs a list",
                    at,
                    help="start each part with `- id: …`",
                ),
            ),
        )
        return
    if not isinstance(common, Fields):
        at = Label(tree.key_where("common"))
        yield None, None, (Finding(codes.WRONG_TYPE, "`common` needs a mapping of fields", at),)
        return
    for item in parts:
        if isinstance(item, Fields):
            yield _part(_joined(common, item), tree)
        else:
            yield None, None, (_needs_mapping(item),)


def _joined(common: Fields, own: Fields) -> Fields:
    """A part's fields over those it shares with the others of its file."""
    fields = Fields({**common, **own})
    fields.span = own.span
    fields.key_spans = {**getattr(common, "key_spans", {}), **own.key_spans}
    return fields


def _part(tree: Fields, holder: Fields) -> Entry:
    word = tree.get("kind", holder.get("kind"))
    bare = Fields({key: value for key, value in tree.items() if key != "kind"})
    bare.span, bare.key_spans = tree.span, tree.key_spans
    if word is None:
        return (
            bare,
            None,
            (
                Finding(
                    codes.MISSING_FIELD,
                    "`kind` is missing",
                    Label(holder.span, "needs `kind`"),
                    help="write `kind: drive`, say; the kinds are " + ", ".join(sorted(KINDS)),
                ),
            ),
        )
    if not isinstance(word, Written) or word not in KINDS:
        at = word.span if isinstance(word, Written) else holder.key_where("kind")
        close = did_you_mean(str(word), KINDS) if isinstance(word, Written) else ()
        help_ = (
            f"did you mean `{close[0]}`?" if close else "the kinds are " + ", ".join(sorted(KINDS))
        )
        return (
            bare,
            None,
            (
                Finding(
                    codes.UNKNOWN_KIND, f"no kind of part is named `{word}`", Label(at), help=help_
                ),
            ),
        )
    return bare, KINDS[word], ()
