"""Pictures of a project's own, each told of by a file of YAML in its folder `pictures/`."""

from dataclasses import field
from typing import Annotated, Final, Literal

from specgen.model.fields import Day, Id, NameRange, Point, Ref, Text, record
from specgen.model.labels import Called
from specgen.model.pedigree import Origin, Unwritten
from specgen.quantity import Length

Shown = Literal["production unit", "pre-production sample"]
PRODUCTION: Final[Shown] = "production unit"
SAMPLE: Final[Shown] = "pre-production sample"


@record
class PictureCallout:
    """A number on a picture, and what it points at: a position of the subject, or a part.

    It stands at a point, or at the outline of what it means: two opposite corners of a box, or the
    corners of a polygon. A point is so far from the left and from the top of the picture, in its
    pixels (`412 220`) or in shares of it (`31% 55.5%`).
    """

    position: NameRange | None = None
    part: Ref | None = None
    at: Point | None = None
    outline: tuple[Point, ...] = ()


@record
class SampleDifference:
    """In what a pre-production sample differs from what is delivered: a part, a position, or the
    whole, and what of it stands there as the picture shows it."""

    part: Ref | None = None
    position: NameRange | None = None
    number: Annotated[Text | None, Called(noun="order number")] = None
    """The order number, or another number, that the picture shows."""
    revision: Text | None = None
    label: Text | None = None
    """What is printed on it in the picture."""
    colour: Text | None = None
    note: Text | None = None


@record
class Illustration:
    """A photo or a drawing in a file beside, and what it says."""

    id: Id
    file: Text
    """PNG, JPEG, WebP or SVG, by its path from this file on."""
    alternative: Text
    """What is read in its place by who cannot see it."""
    subject: Ref
    """The build, the platform or the part that it shows."""
    caption: Text | None = None
    credit: Text | None = None
    """Who made it."""
    licence: Text | None = None
    """Under what terms it may be shown."""
    date: Day | None = None
    """When it was taken or drawn."""
    width: Length | None = None
    """How broad it is printed; without it, as broad as its pixels allow."""
    dark: Text | None = None
    """The file that is shown on dark pages in its place."""
    print: Text | None = None
    """The file that is printed in its place."""
    shows: Shown = PRODUCTION
    differs: tuple[SampleDifference, ...] = ()
    """In what a pre-production sample differs."""
    callouts: tuple[PictureCallout, ...] = ()
    """Numbered in this order."""
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)


Place = tuple[float, float]
"""Shares of a picture's width from its left and of its height from its top."""


def place_of(point: str, size: tuple[int, int]) -> Place:
    """A point as shares of a picture of so many pixels; outside of it they are beyond 0 to 1."""
    x, y = (
        float(each.rstrip("%")) / (100 if each.endswith("%") else side)
        for each, side in zip(point.split(), size, strict=True)
    )
    return x, y


def corners_of(callout: PictureCallout, size: tuple[int, int]) -> tuple[Place, ...]:
    """The corners of the outline of a callout; of two, which are opposite ones, all four."""
    corners = tuple(place_of(each, size) for each in callout.outline)
    if len(corners) != 2:
        return corners
    (left, top), (right, low) = corners
    return (left, top), (right, top), (right, low), (left, low)
