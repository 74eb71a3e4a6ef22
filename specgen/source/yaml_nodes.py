"""What a tree of YAML is made of: text, mappings and lists that know where they were written.

They behave as `str`, `dict` and `list`. Text stays text: what `no`, `010` or `12:30` means is
decided by the field that reads it, which gives the YAML 1.2 meaning and keeps `1.10` apart from
`1.1`.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from specgen.diagnostics import Span


class YamlScalar(str):
    """A scalar as written; `plain` when it stood without quotes.

    `lines` are the lines of the file that it stands in, whole, where these are several; `marked`
    says that it is unfinished, by itself or by a comment.
    """

    __slots__ = ("lines", "marked", "plain", "span")
    span: Span
    plain: bool
    marked: bool
    lines: tuple[str, ...]

    @classmethod
    def at(cls, text: str, span: Span, plain: bool = True) -> "YamlScalar":
        written = cls(text)
        written.span = span
        written.plain = plain
        written.marked = False
        written.lines = ()
        return written


class YamlSequence(list[Any]):
    """A list and its place; `marked` where something in it says that it is unfinished."""

    __slots__ = ("marked", "span")
    span: Span
    marked: bool


class YamlMapping(dict[str, Any]):
    """A mapping, its place and the places of its keys; `marked` as with a list.

    `doubled` says that a key stands there twice, perhaps in place of another.
    """

    __slots__ = ("doubled", "key_spans", "marked", "span")
    doubled: bool
    span: Span
    marked: bool
    key_spans: dict[str, Span]

    def where(self, *path: str | int) -> Span:
        """The place of the value at `path`, or of the deepest part of the path that exists."""
        return span_at(self, path)

    def key_where(self, key: str) -> Span:
        """The place of a key, or of the mapping where it has no such key."""
        return self.key_spans.get(key, self.span)


def is_marked(node: object) -> bool:
    """Whether something in a node says that it is unfinished."""
    return bool(getattr(node, "marked", False))


YamlNode = YamlScalar | YamlSequence | YamlMapping


def span_at(node: YamlNode, path: tuple[str | int, ...]) -> Span:
    """The place of a scalar at `path`, of a longer value's key, or of the deepest known step."""
    place = node.span
    for step in path:
        within = type(node) is YamlMapping
        inner = node.get(step) if within else _inner(node, step)  # type: ignore[union-attr, arg-type]
        if inner is None:
            return place
        place = inner.span
        if within and type(inner) is not YamlScalar:
            place = node.key_where(str(step))  # type: ignore[union-attr]
        node = inner
    return place


def node_at(node: Any, path: Sequence[str | int]) -> Any:
    """What stands at `path` of a tree, None where nothing does."""
    for step in path:
        node = _inner(node, step)
    return node


def _inner(node: Any, step: str | int) -> Any:
    if isinstance(node, dict):
        return node.get(step)
    if isinstance(node, list) and isinstance(step, int) and step < len(node):
        return node[step]
    return None


def plain_value(node: YamlNode) -> object:
    """The tree as ordinary `str`, `dict` and `list`."""
    if isinstance(node, Mapping):
        return {str(key): plain_value(value) for key, value in node.items()}
    if isinstance(node, list):
        return [plain_value(value) for value in node]
    return str(node)
