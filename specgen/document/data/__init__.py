"""Builds and parts lists as plain values, for writers of files that programs read."""

from specgen.document.data.build_data import build_data
from specgen.document.data.parts_list import parts_list
from specgen.document.data.plain_values import (
    BuildData,
    LineData,
    OutputData,
    PartData,
    PartsList,
    PositionData,
)
from specgen.document.data.public import public

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
