"""Gives a tree its outline: heading levels without gaps, and an anchor of its own to each entry."""

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date

from specgen.document.audience import CUSTOMER
from specgen.document.tree import (
    Block,
    Document,
    Figure,
    Heading,
    Paragraph,
    Strong,
    Table,
    plain_text,
)
from specgen.document.tree_image import Image
from specgen.document.tree_walks import changed_within
from specgen.messages import Words

_FIT = re.compile(r"[a-z][a-z0-9._:-]*")
_LONGEST = 60
_CAPTION = "-t"  # what the HTML writer adds for the id of a table's caption


def document(
    title: Words,
    blocks: Iterable[Block],
    *,
    subtitle: Words = "",
    kind: Words = "",
    audience: str = CUSTOMER,
    mark: Words = "",
    language: str = "en",
    meta: Iterable[tuple[Words, Words | date]] = (),
) -> Document:
    """A document with its outline in order; the way to make one without a template."""
    return Document(
        title,
        outlined(blocks),
        subtitle,
        language,
        tuple(meta),
        kind=kind,
        audience=audience,
        mark=mark,
    )


def outlined(blocks: Iterable[Block]) -> tuple[Block, ...]:
    """The blocks with heading levels from 2 without a gap, and unique anchors.

    Headings, titled tables and pictures without an anchor get one made from their words; of two
    equal anchors the later one gets a number. A heading inside a list, a quote or a caution does
    not belong to the outline and becomes a line of strong words.
    """
    return tuple(_outline(blocks))


def anchor_of(text: str) -> str:
    """The words as an anchor: letters and digits in lower case joined by `-`, never empty."""
    folded = unicodedata.normalize("NFKD", text).casefold()
    letters = "".join(each for each in folded if not unicodedata.combining(each))
    joined = "-".join(re.findall(r"[^\W_]+", letters))[:_LONGEST].strip("-")
    return joined or "section"


@dataclass(slots=True)
class _Anchors:
    taken: set[str] = field(default_factory=set)

    def give(self, wanted: str) -> str:
        """The anchor for an anchor or a title, kept as it is where it can be one."""
        if not _FIT.fullmatch(wanted):
            wanted = anchor_of(wanted)
        number, anchor = 1, wanted
        while anchor in self.taken or anchor + _CAPTION in self.taken:
            number += 1
            anchor = f"{wanted}-{number}"
        self.taken.update((anchor, anchor + _CAPTION))
        return anchor


def _outline(blocks: Iterable[Block]) -> Iterator[Block]:
    anchors = _Anchors()
    above: list[int] = []  # the levels, as written, of the headings that the next one may be under
    for block in blocks:
        if isinstance(block, Heading):
            written = max(2, block.level)
            above = [*(level for level in above if level < written), written]
            level = min(len(above) + 1, 6)
            anchor = anchors.give(block.anchor or plain_text(block.children))
            yield replace(block, level=level, anchor=anchor)
        else:
            yield _anchored(block, anchors)


def _anchored(block: Block, anchors: _Anchors) -> Block:
    match block:
        case Table() | Figure() | Image():
            wanted = block.anchor or str(block.title)
            return replace(block, anchor=anchors.give(wanted)) if wanted else block
        case Heading(children=children):
            return Paragraph((Strong(children),))
        case _:
            return changed_within(
                block, lambda inner: tuple(_anchored(each, anchors) for each in inner)
            )
