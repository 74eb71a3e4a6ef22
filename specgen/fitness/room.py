"""Whether a part goes into the room that its position has by its outline."""

from typing import Final

from specgen.assembly import Place
from specgen.fitness.frames import mm
from specgen.fitness.measures import Measures
from specgen.fitness.requirement import Surroundings
from specgen.model import Part

SLACK: Final = 0.5
"""Millimetres that are no matter. common practice, no source"""


def measures_of(part: Part) -> Measures | None:
    """The three measures of a part."""
    size = part.size
    if size is None:
        return None
    return Measures(tuple(sorted(map(mm, (size.width, size.height, size.depth)))))


def room_of(place: Place, _: Surroundings) -> Measures | None:
    """What an outline leaves: two measures, or three where it says how deep it is."""
    outline = place.position.outline
    if outline is None:
        return None
    sides = [mm(outline.width), mm(outline.height)]
    return Measures(tuple(sorted(sides if outline.depth is None else [*sides, mm(outline.depth)])))


def goes_into(room: Measures, part: Measures) -> bool:
    """Whether a part can be turned so that it goes in, as far as the room is measured.

    Where a depth is not declared, the two smaller measures are held against the outline.
    """
    return all(side <= most + SLACK for side, most in zip(part.sides, room.sides, strict=False))
