"""Calculators by subject: pure functions, no files, no clock, no printing."""

from specgen.facts.calculators import (
    conditions,
    expansion,
    mechanics,
    memory,
    network,
    power,
    processors,
    storage,
)
from specgen.facts.registry import Calculator

CALCULATORS: tuple[Calculator, ...] = (
    *processors.CALCULATORS,
    *memory.CALCULATORS,
    *expansion.CALCULATORS,
    *storage.CALCULATORS,
    *network.CALCULATORS,
    *power.CALCULATORS,
    *mechanics.CALCULATORS,
    *conditions.CALCULATORS,
)

__all__ = ["CALCULATORS"]
