"""Drawings as pictures of a document."""

from collections.abc import Callable
from functools import partial

from specgen.diagnostics import Finding
from specgen.document.case import Case
from specgen.document.tree import Picture
from specgen.drawings import Drawing, Engine, Links, draw, nowhere, topology

DRAWINGS = {"topology": topology}


def drawing_of(case: Case, name: str, engine: Engine, link: Links = nowhere) -> Drawing:
    """One drawing of a machine, by name."""
    holder = case.build or case.platform
    at = holder.origin.at("id")
    return draw(DRAWINGS[name](case.assembly), at=at, prefix=name, engine=engine, link=link)


def pictures(
    case: Case, engine: Engine, link: Links, found: list[Finding]
) -> dict[str, Callable[[], Picture]]:
    """Every drawing by name, made when a template asks; what fails is added to `found`."""

    def make(name: str) -> Picture:
        drawing = drawing_of(case, name, engine, link)
        if drawing.finding is not None:
            found.append(drawing.finding)
        return Picture(
            drawing.figure.title, drawing.svg, "\n".join(drawing.figure.text), f"{name}-figure"
        )

    return {name: partial(make, name) for name in DRAWINGS}
