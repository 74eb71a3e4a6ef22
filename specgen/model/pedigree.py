"""Where a definition came from: the lines it was written on and the document behind it."""

from collections.abc import Iterator
from typing import Annotated

from specgen.diagnostics import Span
from specgen.messages import Words, listed, say
from specgen.model.fields import Day, Text, record
from specgen.model.markers import NotWritten
from specgen.source import YamlMapping, YamlScalar, YamlSequence, is_marked, node_at, span_at

FieldPath = tuple[str | int, ...]
"""The keys and indices that lead from a definition to one of its fields."""

NOWHERE = Span("", 0, 0, 0, 0)


def _places(node: object) -> Iterator[Span]:
    if isinstance(node, YamlScalar | YamlMapping | YamlSequence):
        yield node.span
    if isinstance(node, YamlMapping):
        yield from node.key_spans.values()
    if isinstance(node, dict | list):
        for each in node.values() if isinstance(node, dict) else node:
            yield from _places(each)


def _fields(node: object) -> Iterator[tuple[Span, object]]:
    """What a definition holds, each with the place that tells of it: its key, or its own."""
    if isinstance(node, YamlMapping):
        for key, each in node.items():
            yield node.key_spans[key], each
            yield from _fields(each)
    elif isinstance(node, YamlSequence):
        for each in node:
            if isinstance(each, YamlMapping | YamlSequence):
                yield each.span, each
            yield from _fields(each)


class Origin:
    """The tree a definition was read from; never part of what the definition is."""

    __slots__ = ("tree",)

    def __init__(self, tree: YamlMapping | None = None) -> None:
        self.tree = tree

    def at(self, *path: str | int) -> Span:
        """The place of the value at `path`, else of what is nearest to it."""
        return span_at(self.tree, path) if self.tree is not None else NOWHERE

    def everywhere(self) -> Iterator[Span]:
        """The places of everything in the definition."""
        yield from _places(self.tree)

    @property
    def files(self) -> frozenset[str]:
        """The files that it is written in: its own, and that of what it is like."""
        if self.tree is None or "like" not in self.tree:
            return frozenset((self.at().file,))
        return frozenset(span.file for span in self.everywhere())

    def inside(self, span: Span) -> frozenset[Span]:
        """The places of what the fields that stand at a place hold."""
        return frozenset(
            inner for at, node in _fields(self.tree) if at == span for inner in _places(node)
        )

    def place(self, *path: str | int) -> Span:
        """The place of the value at `path`, `NOWHERE` where the file is silent about it."""
        return NOWHERE if node_at(self.tree, path) is None else self.at(*path)

    def key(self, *path: str | int) -> Span:
        """The place of the last key of `path` rather than of its value."""
        node, last = node_at(self.tree, path[:-1]), path[-1]
        if isinstance(node, YamlMapping) and isinstance(last, str) and last in node:
            return node.key_where(last)
        return self.at(*path)

    @property
    def kind(self) -> Span:
        """Where it says of which kind a part is: with its fields, or with those of its group."""
        return self.tree.key_where("kind") if self.tree is not None else NOWHERE

    def written(self, *path: str | int) -> str | None:
        """The text at `path` as written, None where the file is silent."""
        node = node_at(self.tree, path)
        return str(node) if isinstance(node, str) else None

    def entry(self, at: int, *path: str | int) -> Span:
        """The place of an entry of the list at `path`, which may be written as its one entry."""
        return self.at(*path) if self.written(*path) is not None else self.at(*path, at)

    def marked(self, *path: str | int) -> bool:
        """Whether what stands at `path` says that it is not finished."""
        return is_marked(node_at(self.tree, path))

    def doubled(self, *path: str | int) -> bool:
        """Whether a key stands twice in what stands at `path`."""
        return bool(getattr(node_at(self.tree, path), "doubled", False))

    def __repr__(self) -> str:
        place = self.at()
        return place.shown


Unwritten = Annotated[Origin, NotWritten()]
"""The origin as a field: kept with a definition, never written in it."""


@record
class Source:
    """The document a value was taken from."""

    document: Text
    page: Text | None = None
    date: Day | None = None

    @property
    def words(self) -> Words:
        """Document, page and date, as a reader finds it."""
        page = say("page {page}", page=self.page) if self.page else ""
        return listed((self.document, page, self.date or ""))

    def __str__(self) -> str:
        return str(self.words)


@record
class Revision:
    """What changed in a definition, and when; the youngest stands first or last, as one likes."""

    revision: Text
    date: Day
    note: Text
