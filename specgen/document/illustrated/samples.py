"""What is said below the picture of a pre-production sample, until one of production takes over."""

from collections.abc import Iterator

from specgen.document.tree import Block, Caution, Listing, Paragraph, words
from specgen.messages import Words, say
from specgen.model import SAMPLE, Definitions, Illustration, SampleDifference, expand, places


def sample_note(illustration: Illustration, definitions: Definitions) -> tuple[Block, ...]:
    """The note, with each difference in a line; nothing for a picture of what is delivered."""
    if illustration.shows != SAMPLE:
        return ()
    items = tuple(
        (Paragraph(words(each)),)
        for difference in illustration.differs
        for each in _said(difference, definitions)
    )
    lead = say("What is delivered may differ from it.")
    if items:
        lead = say("What is delivered differs from it. The figure shows:")
    listed = (Listing(items),) if items else ()
    return (Caution(say("pre-production sample"), (Paragraph((lead,)), *listed), "note"),)


def _said(difference: SampleDifference, definitions: Definitions) -> Iterator[Words]:
    part = definitions.parts.get(difference.part or "")
    if part is not None and difference.number and part.number:
        yield say(
            "{part}: order number {number}, now {now}",
            part=part.name,
            number=difference.number,
            now=part.number,
        )
    elif difference.number:
        yield _of(difference, say("number {number}", number=difference.number), definitions)
    if difference.revision:
        yield _of(difference, say("revision {revision}", revision=difference.revision), definitions)
    if difference.label:
        yield _of(difference, say("label {label}", label=difference.label), definitions)
    if difference.colour:
        yield _of(difference, say("colour {colour}", colour=difference.colour), definitions)
    if difference.note:
        yield _of(difference, difference.note, definitions)


def _of(difference: SampleDifference, words: Words, definitions: Definitions) -> Words:
    """What is said of a part or a position, or of the whole."""
    part = definitions.parts.get(difference.part or "")
    about: Words = "" if part is None else part.name
    if difference.position:
        about = places(tuple(expand(difference.position)))
    return say("{part}: {what}", part=about, what=words) if about else words
