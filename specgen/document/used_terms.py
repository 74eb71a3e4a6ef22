"""Cuts the glossary of a document down to the terms that the rest of it uses."""

import re
from dataclasses import fields, is_dataclass, replace
from typing import Final

from specgen.document.tree import INLINES, Block, Document, Figure, Table, plain_text
from specgen.document.tree_image import Image

GLOSSARY: Final = "glossary-table"
"""The anchor of the table of terms."""


def used_only(document: Document) -> Document:
    """The document, its glossary cut down to the terms that stand elsewhere in it.

    A term may be written as alternatives: `hot-swap, cold-swap` is used where either is.
    """
    if not any(_is_glossary(block) for block in document.blocks):
        return document
    others = [block for block in document.blocks if not _is_glossary(block)]
    text = " ".join(_texts((document.title, document.subtitle, tuple(others))))
    blocks = [_cut(block, text) if _is_glossary(block) else block for block in document.blocks]
    return replace(document, blocks=tuple(block for block in blocks if block is not None))


def _is_glossary(block: Block) -> bool:
    return isinstance(block, Table) and block.anchor == GLOSSARY


def _cut(block: Block, text: str) -> Block | None:
    assert isinstance(block, Table)
    rows = tuple(row for row in block.rows if _used("".join(_texts(row[0])), text))
    return replace(block, rows=rows) if rows else None


def _used(term: str, text: str) -> bool:
    return any(
        re.search(rf"(?<!\w){re.escape(word.strip())}s?(?!\w)", text, re.IGNORECASE)
        for word in term.split(",")
    )


def _texts(node: object) -> list[str]:
    """All words of a document; values with their units."""
    if isinstance(node, str):
        return [node]
    if isinstance(node, INLINES):
        return [plain_text((node,))]
    if isinstance(node, Figure):
        return [str(node.title)]
    if isinstance(node, Image):
        return [str(node.title), *_texts(node.below)]
    found: list[str] = []
    if isinstance(node, tuple):
        for each in node:
            found += _texts(each)
    elif is_dataclass(node):
        for field in fields(node):
            found += _texts(getattr(node, field.name))
    return found
