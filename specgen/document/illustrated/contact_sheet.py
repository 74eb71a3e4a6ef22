"""Every picture of a project for reviewers: what it shows, where it stands, how old it is."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

from specgen.document.illustrated.earlier_parts import last_change
from specgen.document.illustrated.picture_callouts import shown_parts
from specgen.document.illustrated.picture_files import path_of
from specgen.document.illustrated.picture_uses import Uses, uses_of
from specgen.document.illustrated.placed_picture import image_of
from specgen.document.maker import BlockFunction
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import read_texts
from specgen.document.template_calls import OnDisk
from specgen.document.tree import Block, Cell, FactList, Heading, Paragraph, literal, words
from specgen.messages import Words, listed, say
from specgen.model import SAMPLE, Illustration

THUMB: Final = 227.0
"""Points across on paper, 80 mm: two pictures to a page with what is said of them."""


def contact_sheet(root: Path | None, subjects: Subjects) -> BlockFunction:
    """What prints all pictures of the project in the folder `root`."""

    def sheet() -> tuple[Block, ...]:
        known = subjects.definitions.illustrations
        if root is None or not known:
            return (Paragraph((say("The project has no pictures."),)),)
        uses = uses_of(subjects.definitions, read_texts(root)[0], OnDisk(root))
        return tuple(
            block for each in known.values() for block in _entry(root, each, uses, subjects)
        )

    return sheet


def _entry(
    root: Path, illustration: Illustration, uses: Uses, subjects: Subjects
) -> Iterator[Block]:
    image = image_of(root, illustration, subjects)
    yield Heading(2, literal(illustration.id))
    yield replace(image, width=min(image.width, THUMB), credit=(), captioned=False)
    yield FactList("", tuple(_told(illustration, uses, subjects)))


def _told(
    illustration: Illustration, uses: Uses, subjects: Subjects
) -> Iterator[tuple[Words, Cell]]:
    placed = uses.files.get(illustration.id, [])
    unit = say("pre-production sample") if illustration.shows == SAMPLE else say("production unit")
    subject = subjects.name(illustration.subject) if illustration.subject else ""
    yield say("File"), literal(path_of(illustration))
    yield say("Alternative text"), words(illustration.alternative)
    yield say("Shows"), words(listed((subject, unit)))
    yield say("Placed by"), words(listed(dict.fromkeys(placed)) if placed else say("nothing"))
    yield say("Date"), words(listed((illustration.date,)) if illustration.date else UNKNOWN)
    yield say("Credit"), words(illustration.credit or UNKNOWN)
    yield say("Licence"), words(illustration.licence or UNKNOWN)
    yield say("Changed since"), words(_age(illustration, subjects))


UNKNOWN: Final = say("not declared")


def _age(illustration: Illustration, subjects: Subjects) -> Words:
    """The parts it shows that have changed since, each with the day."""
    if illustration.date is None:
        return UNKNOWN
    parts = subjects.definitions.parts
    shown = [parts[name] for name in shown_parts(illustration, subjects) if name in parts]
    changed = [(part, day) for part in shown if (day := last_change(part)) is not None]
    since = [
        say("{part} on {day}", part=part.name, day=day)
        for part, day in changed
        if day > illustration.date
    ]
    return listed(since) if since else say("none of the {count} parts shown", count=len(shown))
