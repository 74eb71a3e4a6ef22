"""Drawings of a system: boxes and ribbons laid out by a program, and sheets to scale."""

from specgen.drawings.diagram import (
    Box,
    BoxPort,
    Diagram,
    GridCell,
    Group,
    Ribbon,
    TextLine,
    UseState,
)
from specgen.drawings.draw import Drawing, draw, nowhere
from specgen.drawings.failure_chart import failure_chart
from specgen.drawings.inner import inside
from specgen.drawings.lane_map import lane_map
from specgen.drawings.layout_engine import LayoutEngine, LayoutFailed
from specgen.drawings.mass_rack import mass_rack
from specgen.drawings.memory_map import memory_map
from specgen.drawings.paper import paper
from specgen.drawings.picture import PartLink, Picture, written
from specgen.drawings.power_chart import power_chart
from specgen.drawings.removal_order import removal_order
from specgen.drawings.shapes import Callout, Sheet
from specgen.drawings.sides import front, rear
from specgen.drawings.standalone import standalone
from specgen.drawings.topology import topology

__all__ = [
    "Box",
    "BoxPort",
    "Callout",
    "Diagram",
    "Drawing",
    "GridCell",
    "Group",
    "LayoutEngine",
    "LayoutFailed",
    "PartLink",
    "Picture",
    "Ribbon",
    "Sheet",
    "TextLine",
    "UseState",
    "draw",
    "failure_chart",
    "front",
    "inside",
    "lane_map",
    "mass_rack",
    "memory_map",
    "nowhere",
    "paper",
    "power_chart",
    "rear",
    "removal_order",
    "standalone",
    "topology",
    "written",
]
