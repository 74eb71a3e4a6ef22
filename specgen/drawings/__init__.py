"""Drawings of a machine as SVG: boxes and ribbons laid out by a program, and sheets to scale."""

from specgen.drawings.draw import Drawing, draw, nowhere
from specgen.drawings.engine import Engine, LayoutFailed
from specgen.drawings.figure import Box, Cell, Figure, Group, Line, Outlet, Ribbon, Use
from specgen.drawings.inner import inside
from specgen.drawings.lane_map import lane_map
from specgen.drawings.mass_rack import mass_rack
from specgen.drawings.memory_map import memory_map
from specgen.drawings.paper import paper
from specgen.drawings.power_chart import power_chart
from specgen.drawings.sheet import Callout, Sheet
from specgen.drawings.sides import front, rear
from specgen.drawings.standalone import standalone
from specgen.drawings.svg import Links
from specgen.drawings.topology import topology

__all__ = [
    "Box",
    "Callout",
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
    "Sheet",
    "Use",
    "draw",
    "front",
    "inside",
    "lane_map",
    "mass_rack",
    "memory_map",
    "nowhere",
    "paper",
    "power_chart",
    "rear",
    "standalone",
    "topology",
]
