"""Builds and parts lists as plain values, for writers of files that programs read."""

from specgen.document.data.build import build_data
from specgen.document.data.parts import parts_list
from specgen.document.data.public import public
from specgen.document.data.values import (
    BuildData,
    LineData,
    OutputData,
    PartData,
    PartsList,
    PositionData,
)

__all__ = [
    "BuildData",
    "LineData",
    "OutputData",
    "PartData",
    "PartsList",
    "PositionData",
    "build_data",
    "parts_list",
    "public",
]
