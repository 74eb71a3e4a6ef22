"""A figure drawn: planned, laid out, written; or what went wrong, with the words left whole."""

from dataclasses import replace

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.drawings.dot import dot
from specgen.drawings.engine import Engine, LayoutFailed
from specgen.drawings.figure import Figure
from specgen.drawings.plan import plan
from specgen.drawings.sheet import Sheet
from specgen.drawings.svg import Links, render
from specgen.frozen import frozen
from specgen.messages import say


@frozen
class Drawing:
    """`svg` is one inline `<svg>`, empty where it could not be made; the words stay in any case."""

    figure: Figure | Sheet
    svg: str
    finding: Finding | None = None


def nowhere(_part: str) -> str | None:
    """No part has an entry to link to."""
    return None


def draw(
    figure: Figure, *, at: Span, prefix: str, engine: Engine, link: Links = nowhere
) -> Drawing:
    """Draws a figure. `at` is the line to blame, `prefix` begins all ids, `link` finds entries."""
    groups = plan(figure)
    if not groups:
        return Drawing(figure, "")
    try:
        layout = engine.lay_out(dot(figure, groups))
    except LayoutFailed as problem:
        return Drawing(replace(figure, groups=(), ribbons=()), "", _failed(figure, at, problem))
    return Drawing(figure, render(figure, groups, layout, prefix, link))


def _failed(figure: Figure, at: Span, problem: LayoutFailed) -> Finding:
    return Finding(
        codes.DRAWING_FAILED,
        say(
            "the drawing `{title}` could not be made: {args}",
            title=figure.title,
            args=problem.args[0],
        ),
        Label(at, say("its build")),
        notes=(say("the page has the same in words"),),
        help=say("install `graphviz-pure` again") if "not found" in str(problem.args[0]) else "",
    )
