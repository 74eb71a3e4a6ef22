"""Figures of a machine: boxes and ribbons made from an assembly, laid out, written as SVG."""

from specgen.drawings.draw import Drawing, draw, nowhere
from specgen.drawings.engine import Engine, LayoutFailed
from specgen.drawings.figure import Box, Cell, Figure, Group, Line, Outlet, Ribbon, Use
from specgen.drawings.standalone import standalone
from specgen.drawings.svg import Links
from specgen.drawings.topology import topology

__all__ = [
    "Box",
    "Cell",
    "Drawing",
    "Engine",
    "Figure",
    "Group",
    "LayoutFailed",
    "Line",
    "Links",
    "Outlet",
    "Ribbon",
    "Use",
    "draw",
    "nowhere",
    "standalone",
    "topology",
]
