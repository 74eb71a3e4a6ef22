"""Figures with their pedigree: the ledger, the registry and the calculators."""

from specgen.assembly import Assembly
from specgen.facts.calculators import CALCULATORS
from specgen.facts.fact import Basis, Declared, Fact, Facts, Value
from specgen.facts.ledger import BadRegistry, Ledger
from specgen.facts.registry import Calculator, figure, stated

LEDGER = Ledger(CALCULATORS)


def facts_of(assembly: Assembly) -> Facts:
    """Every fact of an assembly."""
    return LEDGER.calculate(assembly)


__all__ = [
    "CALCULATORS",
    "LEDGER",
    "BadRegistry",
    "Basis",
    "Calculator",
    "Declared",
    "Fact",
    "Facts",
    "Ledger",
    "Value",
    "facts_of",
    "figure",
    "stated",
]
