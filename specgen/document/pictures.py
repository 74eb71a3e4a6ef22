"""Drawings as pictures of a document, and what their numbers point at."""

from collections.abc import Callable, Mapping
from functools import partial

from specgen.assembly import Assembly
from specgen.diagnostics import Finding
from specgen.document.beside import sides
from specgen.document.case import Case
from specgen.document.tree import Picture
from specgen.drawings import (
    Callout,
    Drawing,
    Engine,
    Figure,
    Links,
    Sheet,
    draw,
    front,
    inside,
    lane_map,
    mass_rack,
    memory_map,
    nowhere,
    paper,
    power_chart,
    rear,
    topology,
)
from specgen.drawings.lettering import lettered_in
from specgen.messages import ENGLISH, Language

FIGURES: Mapping[str, Callable[[Assembly], Figure]] = {"topology": topology}
"""Boxes and ribbons, laid out by graphviz."""

SHEETS: Mapping[str, Callable[[Case], Sheet]] = {
    "sides": lambda case: sides(case.assembly),
    "front": lambda case: front(case.assembly),
    "rear": lambda case: rear(case.assembly),
    "inside": lambda case: inside(case.assembly),
    "memory-map": lambda case: memory_map(case.assembly),
    "lane-map": lambda case: lane_map(case.assembly),
    "power-chart": lambda case: power_chart(case.assembly, case.facts),
    "mass-rack": lambda case: mass_rack(case.assembly, case.facts),
}
"""Drawings that lay themselves out, most of them to scale."""

DRAWINGS = (*FIGURES, *SHEETS)


def drawing_of(
    case: Case,
    name: str,
    engine: Engine,
    link: Links = nowhere,
    language: Language = ENGLISH,
) -> Drawing:
    """One drawing of a machine, by name, lettered in a language."""
    with lettered_in(language):
        return _drawing_of(case, name, engine, link)


def _drawing_of(case: Case, name: str, engine: Engine, link: Links) -> Drawing:
    if name in SHEETS:
        sheet = SHEETS[name](case)
        return Drawing(sheet, paper(sheet, name, link))
    holder = case.build or case.platform
    at = holder.origin.at("id")
    return draw(FIGURES[name](case.assembly), at=at, prefix=name, engine=engine, link=link)


def callouts(case: Case, name: str) -> tuple[Callout, ...]:
    """What the numbers of a drawing point at, in their order; none for one without numbers.

    The numbers are those of the picture of the same machine.
    """
    return SHEETS[name](case).callouts if name in SHEETS else ()


def pictures(
    case: Case, engine: Engine, link: Links, found: list[Finding], language: Language = ENGLISH
) -> dict[str, Callable[[], Picture]]:
    """Every drawing by name, made when a template asks; what fails is added to `found`."""

    def make(name: str) -> Picture:
        drawing = drawing_of(case, name, engine, link, language)
        if drawing.finding is not None:
            found.append(drawing.finding)
        return Picture(
            drawing.figure.title, drawing.svg, "\n".join(drawing.figure.text), f"{name}-figure"
        )

    return {name: partial(make, name) for name in DRAWINGS}
