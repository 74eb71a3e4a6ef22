"""Sides of systems beside one another, small and to one scale: outlines without numbers."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly
from specgen.document.tree import Figure
from specgen.drawings import Sheet, front, inside, nowhere, paper, rear
from specgen.drawings.flags import scale_bar
from specgen.drawings.lettering import letter
from specgen.drawings.panel import moved
from specgen.drawings.paper import HANDS
from specgen.drawings.shapes import Bezier, Rect, Ring, Shape, Stroke, TextShape
from specgen.drawings.sides import SCALE
from specgen.drawings.sizes import RACK_UNIT
from specgen.drawings.widths import width
from specgen.messages import say

TO_ONE_SCALE: Final = {
    "front": say("Front, to one scale"),
    "rear": say("Rear, to one scale"),
    "inside": say("Inside, to one scale"),
}
SIDES: Final = {"front": front, "rear": rear, "inside": inside}
SMALL: Final = 0.5  # of the scale of a drawing by itself
ACROSS: Final = 720.0  # points; what does not fit beside goes below
LETTERS: Final = "head"  # in print the whole is two thirds as large
GAP: Final = 24.0
CAPTION: Final = 14.0  # room for the line above each
BAR_WORDS: Final = 50.0  # room for what the bar says
BELOW: Final = 22.0  # room for the bar that gives the scale
RULE: Final = 15.0  # points left of a front, for a rule of rack units


def smaller(shape: Shape, factor: float) -> Shape:
    """The same shape at another size; pens and letters keep theirs."""
    match shape:
        case Rect(x, y, width, height):
            return replace(
                shape,
                x=x * factor,
                y=y * factor,
                width=width * factor,
                height=height * factor,
                round=shape.round * factor,
            )
        case Stroke(points):
            return replace(shape, points=tuple((x * factor, y * factor) for x, y in points))
        case Ring(x, y, radius):
            return replace(shape, x=x * factor, y=y * factor, radius=radius * factor)
        case TextShape(x, y):
            return replace(shape, x=x * factor, y=y * factor)
        case Bezier((x, y), (to_x, to_y)):
            return replace(
                shape, start=(x * factor, y * factor), end=(to_x * factor, to_y * factor)
            )
    return shape


def together(title: str, named: Sequence[tuple[str, Sheet]]) -> Sheet:
    """Sheets under their captions, in rows as broad as a page, all to one scale."""
    shapes: list[Shape] = []
    x = top = low = broadest = named_to = 0.0
    for caption, sheet in named:
        cut = sheet.bare
        if cut is None:
            continue
        wide, high = cut.width * SMALL, cut.height * SMALL
        if x and x + wide > ACROSS:
            x, top = 0.0, low + GAP
        shapes.append(TextShape(x, top + 9, caption, LETTERS))
        named_to = x + width(caption, HANDS[LETTERS].size, bold=True)
        shapes += [moved(smaller(each, SMALL), x, top + CAPTION) for each in cut.shapes]
        broadest = max(broadest, x + wide)
        low = max(low, top + CAPTION + high)
        x += wide + GAP
    text = tuple(line for _, sheet in named for line in (sheet.bare or sheet).text)
    if not shapes:
        return Sheet(title, text)
    long = 100 * SCALE * SMALL + BAR_WORDS
    if not top and named_to + GAP + long <= broadest:  # beside the captions there is room for it
        shapes += scale_bar(broadest - long, 9, SCALE * SMALL, pen=LETTERS)
        return Sheet(title, text, broadest, low + 4, tuple(shapes))
    shapes += scale_bar(0, low + BELOW, SCALE * SMALL, pen=LETTERS)
    return Sheet(title, text, max(broadest, 200.0), low + BELOW + 4, tuple(shapes))


def sides(assembly: Assembly) -> Sheet:
    """Front and rear of one system, beside each other where they go."""
    named = [
        (letter(say("Front")), front(assembly)),
        (letter(say("Rear")), rear(assembly)),
    ]
    return together(letter(say("Front and rear, to one scale")), named)


def side_by_side(name: str, systems: Sequence[tuple[str, Assembly]]) -> Figure:
    """One side of several systems. `name` is a key of `SIDES`."""
    sheets = [(caption, SIDES[name](assembly)) for caption, assembly in systems]
    sheet = together(letter(TO_ONE_SCALE[name]), sheets)
    drawn = paper(sheet, f"{name}-beside", nowhere)
    return Figure(sheet.title, drawn, "\n".join(sheet.text), f"{name}-figure")


def on_one_scale(systems: Mapping[str, Assembly]) -> Iterator[tuple[str, Figure]]:
    """The front of each system beside a rule of rack units, all on canvases of one breadth.

    Shown equally broad, they are to one scale.
    """
    sheets = {name: front(assembly) for name, assembly in systems.items()}
    fronts = {name: sheet.bare or sheet for name, sheet in sheets.items()}
    broadest = max((sheet.width for sheet in fronts.values()), default=0.0) + RULE
    for name, sheet in fronts.items():
        units = systems[name].platform.rack_units
        rule = list(_unit_rule(units))
        high = units * RACK_UNIT * SCALE
        down = (high - sheet.height) / 2
        shapes = (*rule, *(moved(shape, RULE, down) for shape in sheet.shapes))
        made = Sheet(sheet.title, sheet.text, broadest, high, shapes)
        drawn = paper(made, f"front-{name}", nowhere)
        yield name, Figure(sheet.title, drawn, "\n".join(sheet.text), f"front-{name}")


def _unit_rule(units: int) -> Iterator[Shape]:
    """A rule beside a rack, a stroke at each rack unit."""
    one = RACK_UNIT * SCALE
    yield Stroke(((RULE / 3, 0.0), (RULE / 3, units * one)), "scale")
    for at in range(units + 1):
        yield Stroke(((0.0, at * one), (RULE / 3, at * one)), "scale")


def unlisted(name: str, assembly: Assembly) -> Figure:
    """A side with its numbers but without the list of them. `name` is a key of `SIDES`."""
    whole = SIDES[name](assembly)
    sheet = whole.unlisted or whole
    drawn = paper(sheet, name, nowhere)
    return Figure(sheet.title, drawn, "\n".join(sheet.text), f"{name}-figure")
