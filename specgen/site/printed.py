"""What a document prints letter by letter, for the search: values with units, codes, numbers."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

from specgen.document.tree import Document, Literal, Value


def printed_in(document: Document) -> tuple[str, ...]:
    """Every value with its unit and every literal of a document, each once, in their order."""
    return tuple(dict.fromkeys(_texts(document.blocks)))


def _texts(node: object) -> Iterator[str]:
    if isinstance(node, Value):
        yield f"{node.number} {node.unit}".strip()
    elif isinstance(node, Literal):
        yield node.text
    elif isinstance(node, tuple):
        for each in node:
            yield from _texts(each)
    elif is_dataclass(node):
        for each in fields(node):
            yield from _texts(getattr(node, each.name))
