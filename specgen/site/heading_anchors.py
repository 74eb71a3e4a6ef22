"""Where links to the headings of a page lead."""

import re
import unicodedata
from collections.abc import Sequence
from typing import Final

from specgen.document.prose.parser import OWN_ID
from specgen.document.prose.passages import passages
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.document.tree import plain_text

_LINK_TARGET: Final = re.compile(r"\]\([^)]*\)")


def heading_anchors(text: Prose, subjects: Subjects) -> tuple[str, ...]:
    """The anchors of the headings of a page, in their order."""
    made: list[str] = []
    for passage in passages(text):
        if passage.kind != "heading":
            continue
        own = OWN_ID.search(passage.content)
        whole = passage.content
        for mention in reversed(passage.mentions):
            value = printed(mention.inner, text.subject, subjects)
            whole = whole[: mention.start] + plain_text(value.cell) + whole[mention.end :]
        made.append(own[1] if own else _unused(_slug(_LINK_TARGET.sub("", whole)), made))
    return tuple(made)


def _slug(title: str) -> str:
    """A heading as an anchor: its letters and digits of ASCII, small, hyphens for blanks."""
    ascii_only = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode()
    return re.sub(r"[-\s]+", "-", re.sub(r"[^\w\s-]", "", ascii_only).strip().lower())


def _unused(slug: str, taken: Sequence[str]) -> str:
    """The same with a number, where it is taken already."""
    number, made = 0, slug
    while made in taken or not made:
        number += 1
        made = f"{slug}_{number}"
    return made
