"""A figure drawn: planned, laid out, written; or what went wrong, with the words left whole."""

from dataclasses import replace

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.drawings.diagram import Diagram
from specgen.drawings.dot import dot
from specgen.drawings.layout_engine import LayoutEngine, LayoutFailed
from specgen.drawings.plan import plan
from specgen.drawings.shapes import Sheet
from specgen.drawings.svg import PartLink, render
from specgen.frozen import frozen
from specgen.messages import say


@frozen
class Drawing:
    """`svg` is one inline `<svg>`, empty where it could not be made; the words stay in any case."""

    diagram: Diagram | Sheet
    svg: str
    finding: Finding | None = None


def nowhere(_part: str) -> str | None:
    """No part has an entry to link to."""
    return None


def draw(
    diagram: Diagram, *, at: Span, prefix: str, engine: LayoutEngine, link: PartLink = nowhere
) -> Drawing:
    """Draws a figure. `at` is the line to blame, `prefix` begins all ids, `link` finds entries."""
    groups = plan(diagram)
    if not groups:
        return Drawing(diagram, "")
    try:
        layout = engine.lay_out(dot(diagram, groups))
    except LayoutFailed as problem:
        return Drawing(replace(diagram, groups=(), ribbons=()), "", _failed(diagram, at, problem))
    return Drawing(diagram, render(diagram, groups, layout, prefix, link))


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
