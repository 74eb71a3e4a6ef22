"""Builds resolved: positions filled until nothing new appears, links traced."""

from specgen.assembly.hot_swap import swap_of
from specgen.assembly.resolve import assemble, resolve
from specgen.assembly.result import Absent, Assembly, Link, Place, Pool, PortAt, Stage, State

__all__ = [
    "Absent",
    "Assembly",
    "Link",
    "Place",
    "Pool",
    "PortAt",
    "Stage",
    "State",
    "assemble",
    "resolve",
    "swap_of",
]
