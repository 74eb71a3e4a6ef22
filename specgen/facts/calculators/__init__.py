"""Calculators by subject: pure functions, no files, no clock, no printing."""

from typing import Final

from specgen.facts.calculators import (
    accelerators,
    acoustics,
    adapters,
    allowances,
    bays,
    circuits,
    conditions,
    controllers,
    cooling,
    drives,
    electrical,
    energy,
    expansion,
    failures,
    fans,
    heat,
    lanes,
    links,
    mechanics,
    memory,
    memory_modes,
    network,
    parts,
    population,
    power,
    processors,
    rack,
    rates,
    regulation,
    reliability,
    sequential,
    slot_power,
    storage,
    supplies,
    uplinks,
    vectors,
)
from specgen.facts.registry import AnyCalculator

MODULES: Final = (
    *(processors, vectors, memory, memory_modes, population, accelerators),
    *(expansion, links, uplinks, slot_power, lanes),
    *(bays, storage, rates, sequential, reliability, drives, controllers),
    *(network, adapters),
    *(power, supplies, electrical, circuits, energy),
    *(heat, fans, cooling, acoustics),
    *(mechanics, rack, allowances, regulation, conditions, failures, parts),
)
"""In the order in which their facts are listed."""

CALCULATORS: Final[tuple[AnyCalculator, ...]] = tuple(
    calculator for module in MODULES for calculator in module.fact
)

__all__ = ["CALCULATORS"]
