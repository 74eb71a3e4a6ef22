"""A figure drawn: planned, laid out, written; or what went wrong, with the words left whole."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.drawings.diagram import Diagram
from specgen.drawings.dot import dot
from specgen.drawings.laid_out import laid_out
from specgen.drawings.layout_engine import Layout, LayoutEngine, LayoutFailed
from specgen.drawings.picture import PartLink, Picture
from specgen.drawings.plan import OTHERS, USUAL, PlacedGroup, plan
from specgen.drawings.shapes import Sheet
from specgen.frozen import frozen
from specgen.messages import say

PAGE: Final = (722.0, 996.0)
"""Points that a layout may be broad and high: on a page of A4 its letters are then 6 pt and more.

Room for a picture there: `highest` and the margins of `document.typ`."""


@frozen
class Drawing:
    """`picture` is missing where it could not be made; the words stay in any case."""

    diagram: Diagram | Sheet
    picture: Picture | None
    finding: Finding | None = None


def nowhere(_part: str) -> str | None:
    """No part has an entry to link to."""
    return None


def draw(
    diagram: Diagram, *, at: Span, prefix: str, engine: LayoutEngine, link: PartLink = nowhere
) -> Drawing:
    """Draws a figure. `at` is the line to blame, `prefix` begins all ids, `link` finds entries."""
    if not diagram.groups:
        return Drawing(diagram, None)
    try:
        groups, layout = _for_a_page(diagram, engine)
    except LayoutFailed as problem:
        return Drawing(replace(diagram, groups=(), ribbons=()), None, _failed(diagram, at, problem))
    return Drawing(diagram, laid_out(diagram, groups, layout, prefix, link))


def _for_a_page(diagram: Diagram, engine: LayoutEngine) -> tuple[Sequence[PlacedGroup], Layout]:
    """The first way to lay it out that a page holds, else the one that need be made least small."""
    tried: list[tuple[float, int, Sequence[PlacedGroup], Layout]] = []
    for groups, layout in _ways(diagram, engine):
        over = max(layout.width / PAGE[0], layout.height / PAGE[1])
        if over <= 1:
            return groups, layout
        tried.append((over, len(tried), groups, layout))
    _, _, groups, layout = min(tried, key=lambda one: one[:2])
    return groups, layout


def _ways(diagram: Diagram, engine: LayoutEngine) -> Iterator[tuple[Sequence[PlacedGroup], Layout]]:
    for breadths in (USUAL, *OTHERS):
        groups = plan(diagram, breadths)
        yield groups, engine.lay_out(dot(diagram, groups, breadths))


def _failed(diagram: Diagram, at: Span, problem: LayoutFailed) -> Finding:
    return Finding(
        codes.DRAWING_FAILED,
        say(
            "the drawing `{title}` could not be made: {problem}",
            title=diagram.title,
            problem=problem.message,
        ),
        Label(at, say("its build")),
        notes=(say("the page has the same in words"),),
        help=say("install `graphviz-pure` again") if problem.missing else "",
    )
