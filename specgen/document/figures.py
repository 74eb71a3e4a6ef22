"""Drawings as pictures of a document, and what their numbers point at."""

from collections.abc import Callable, Mapping
from functools import partial

from specgen.assembly import Assembly
from specgen.diagnostics import Finding
from specgen.document.case import Case
from specgen.document.side_by_side import sides
from specgen.document.tree import Figure
from specgen.drawings import (
    Callout,
    Diagram,
    Drawing,
    LayoutEngine,
    PartLink,
    Sheet,
    draw,
    failure_chart,
    front,
    inside,
    lane_map,
    mass_rack,
    memory_map,
    nowhere,
    paper,
    power_chart,
    rear,
    removal_order,
    topology,
)

DIAGRAMS: Mapping[str, Callable[[Assembly], Diagram]] = {
    "topology": topology,
    "removal-order": removal_order,
}
"""Boxes and ribbons, laid out by graphviz."""

SHEETS: Mapping[str, Callable[[Case], Sheet]] = {
    "sides": lambda case: sides(case.assembly),
    "front": lambda case: front(case.assembly),
    "rear": lambda case: rear(case.assembly),
    "inside": lambda case: inside(case.assembly),
    "memory-map": lambda case: memory_map(case.assembly),
    "lane-map": lambda case: lane_map(case.assembly),
    "power-chart": lambda case: power_chart(case.assembly, case.facts),
    "failures": lambda case: failure_chart(case.assembly, case.facts),
    "mass-rack": lambda case: mass_rack(case.assembly, case.facts),
}
"""Drawings that lay themselves out, most of them to scale."""

DRAWINGS = (*DIAGRAMS, *SHEETS)


def drawing_of(case: Case, name: str, engine: LayoutEngine, link: PartLink = nowhere) -> Drawing:
    """One drawing of a system, by name."""
    if name in SHEETS:
        sheet = SHEETS[name](case)
        return Drawing(sheet, paper(sheet, name, link))
    holder = case.build or case.platform
    at = holder.origin.at("id")
    return draw(DIAGRAMS[name](case.assembly), at=at, prefix=name, engine=engine, link=link)


def callouts(case: Case, name: str) -> tuple[Callout, ...]:
    """What the numbers of a drawing point at, in their order; none for one without numbers.

    The numbers are those of the picture of the same system.
    """
    return SHEETS[name](case).callouts if name in SHEETS else ()


def pictures(
    case: Case,
    engine: LayoutEngine,
    link: PartLink,
    found: list[Finding],
) -> dict[str, Callable[[], Figure | None]]:
    """Every drawing by name, made when a template asks; what fails is added to `found`.

    Of what the system has no place for there is none.
    """

    def make(name: str) -> Figure | None:
        drawing = drawing_of(case, name, engine, link)
        if drawing.finding is not None:
            found.append(drawing.finding)
        if isinstance(drawing.diagram, Sheet) and drawing.diagram.absent:
            return None
        return Figure(
            drawing.diagram.title,
            drawing.picture,
            "\n".join(drawing.diagram.text),
            f"{name}-figure",
        )

    return {name: partial(make, name) for name in DRAWINGS}
