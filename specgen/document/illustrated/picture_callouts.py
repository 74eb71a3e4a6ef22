"""What the numbers on a picture point at: names from the definitions, and what is wrong."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes, meant
from specgen.diagnostics.unknown_names import NO_SUCH
from specgen.document.prose.text_subjects import Subjects
from specgen.document.tree import Block, Cell, Hyperlink, Listing, Paragraph, Strong, words
from specgen.messages import listed, say
from specgen.model import BadRange, Illustration, Part, PictureCallout, expand, places
from specgen.model.illustration import corners_of, place_of

NEAR: Final = 0.025
"""Of a picture's width: numbers that are nearer to one another cover each other on a phone."""


def number_place(callout: PictureCallout, size: tuple[int, int]) -> tuple[float, float]:
    """Where the number of a callout stands, as shares of the picture's width and height."""
    return corners_of(callout, size)[0] if callout.at is None else place_of(callout.at, size)


def legend(illustration: Illustration, subjects: Subjects) -> tuple[Block, ...]:
    """The list below a picture: what each number points at."""
    items = ((Paragraph(_named(each, illustration, subjects)),) for each in illustration.callouts)
    return (Listing(tuple(items), 1),) if illustration.callouts else ()


def _named(callout: PictureCallout, illustration: Illustration, subjects: Subjects) -> Cell:
    parts = subjects.definitions.parts
    if callout.position is None:
        return _linked(parts[str(callout.part)])
    names = expand(callout.position)
    position = Strong(words(places(names)))
    what = _there(names, illustration.subject or "", subjects)
    return (say("{position}: {what}", position=position, what=what),) if what else (position,)


def _there(names: tuple[str, ...], subject: str, subjects: Subjects) -> Cell:
    """What is in positions of the subject, else what goes into them."""
    assembly = subjects.assembly(subject)
    found = {} if assembly is None else {each.name: each for each in assembly.places.values()}
    there = [found[name] for name in names if name in found]
    fitted = list({each.part.id: each.part for each in there if each.part is not None}.values())
    if len(fitted) == 1:
        return _linked(fitted[0])
    if fitted:
        return (listed([_linked(each) for each in fitted]),)
    kinds = {kind: None for each in there for kind in each.position.takes}
    part = subjects.definitions.parts.get(subject)
    for each in () if part is None else part.brings.positions:
        if set(names) & {name.removeprefix(".") for name in expand(each.name)}:
            kinds |= dict.fromkeys(each.takes)
    titles = subjects.definitions.titles(kinds)
    return words(listed(titles)) if titles else ()


def _linked(part: Part) -> Cell:
    return (Hyperlink(words(part.name), f"part:{part.id}"),)


def shown_parts(illustration: Illustration, subjects: Subjects) -> tuple[str, ...]:
    """The ids of the parts that a picture shows: its subject, and what its numbers point at."""
    subject = illustration.subject or ""
    assembly = subjects.assembly(subject)
    found = {subject: None} if subject in subjects.definitions.parts else {}
    found |= {each.part: None for each in illustration.callouts if each.part}
    found |= {each.part: None for each in illustration.differs if each.part}
    named = {name for each in illustration.callouts for name in _names(each)}
    for place in () if assembly is None else assembly.places.values():
        if place.part is not None and place.name in named:
            found[place.part.id] = None
    return tuple(found)


def _names(callout: PictureCallout) -> tuple[str, ...]:
    try:
        return tuple(expand(callout.position)) if callout.position else ()
    except BadRange:
        return ()


def callout_findings(
    illustration: Illustration, size: tuple[int, int], subjects: Subjects
) -> Iterator[Finding]:
    """What is wrong with the callouts of a picture of so many pixels, (0, 0) where nobody knows."""
    sound: list[tuple[int, float, float]] = []
    for at, each in enumerate(illustration.callouts):
        told = [*_pointing(illustration, at, each), *_lost(illustration, at, each, subjects)]
        yield from told
        if told or not all(size):
            continue
        outside = [*_outside(illustration, at, each, size)]
        yield from outside
        if not outside:
            x, y = number_place(each, size)
            sound.append((at, x, y * size[1] / size[0]))
    for (one, x, y), (other, x2, y2) in combinations(sound[:_MOST], 2):
        if abs(x - x2) < NEAR and abs(y - y2) < NEAR:
            yield Finding(
                codes.CALLOUTS_MEET,
                say("the numbers {one} and {other} cover each other", one=one + 1, other=other + 1),
                Label(_where(illustration, other)),
                labels=(Label(_where(illustration, one), say("the other")),),
                help=say("move one of them, or let it have an outline"),
            )


_MOST: Final = 200
"""Callouts that are held against one another; a picture has twenty."""


def _where(illustration: Illustration, at: int) -> Span:
    field = "at" if illustration.callouts[at].at is not None else "outline"
    return illustration.origin.at("callouts", at, field)


def _pointing(illustration: Illustration, at: int, callout: PictureCallout) -> Iterator[Finding]:
    """SG534: a callout that names nothing or two things, or has no place or two."""
    here = Label(illustration.origin.at("callouts", at))
    if (callout.position is None) == (callout.part is None):
        yield Finding(
            codes.CALLOUT_UNCLEAR,
            say("a callout names a position or a part, one of the two"),
            here,
            help=say("write `position: PSU 1`, say, or `part: ID`"),
        )
    if (callout.at is None) == (not callout.outline) or len(callout.outline) == 1:
        yield Finding(
            codes.CALLOUT_UNCLEAR,
            say("a callout has a point or an outline of two corners or more"),
            here,
            help=say("write `at: 31% 55%`, say, or `outline: [10% 20%, 30% 40%]`"),
        )


def _lost(
    illustration: Illustration, at: int, callout: PictureCallout, subjects: Subjects
) -> Iterator[Finding]:
    """SG203: positions that the subject does not have, or not any more."""
    if callout.position is None:
        return
    here = Label(illustration.origin.at("callouts", at, "position"))
    subject = illustration.subject or ""
    if not subjects.kind(subject):
        if not subject:
            message = say("a callout at a position, in a picture that does not say of what")
            help_ = say("write `subject: ID` of a build, a platform or a part")
            yield Finding(codes.CALLOUT_UNCLEAR, message, here, help=help_)
        return
    part = subjects.definitions.parts.get(subject)
    known = subjects.positions(subject)
    if part is not None:
        known = frozenset(
            name.removeprefix(".") for each in part.brings.positions for name in expand(each.name)
        )
    for name in _names(callout):
        if name not in known:
            yield Finding(
                codes.UNKNOWN_POSITION,
                NO_SUCH[codes.UNKNOWN_POSITION].filled(name=name),
                here,
                help=meant(name, known),
            )
            return


def _outside(
    illustration: Illustration, at: int, callout: PictureCallout, size: tuple[int, int]
) -> Iterator[Finding]:
    """SG535: a point that is not within the picture."""
    points: list[tuple[tuple[str | int, ...], str]] = []
    points += [(("at",), each) for each in (callout.at,) if each is not None]
    points += [(("outline", corner), each) for corner, each in enumerate(callout.outline)]
    for field, point in points:
        x, y = place_of(point, size)
        if not (0 <= x <= 1 and 0 <= y <= 1):
            yield Finding(
                codes.CALLOUT_OUTSIDE,
                say(
                    "`{point}` lies outside of a picture of {width} × {height} pixels",
                    point=point,
                    width=size[0],
                    height=size[1],
                ),
                Label(illustration.origin.at("callouts", at, *field)),
                help=say("write pixels from its left and its top, or shares up to `100%`"),
            )
            return
