"""Trees to model values; names to definitions; schemas for editors."""

from specgen.load.definitions import Loaded, load
from specgen.load.schema import schemas

__all__ = ["Loaded", "load", "schemas"]
