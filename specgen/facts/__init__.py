"""Facts with their pedigree: the ledger, the registry and the calculators."""

from collections.abc import Iterator
from functools import cache
from importlib.metadata import entry_points

from specgen.assembly import Assembly
from specgen.facts.calculators import CALCULATORS
from specgen.facts.fact import Basis, Declared, Fact, Facts, Value
from specgen.facts.ledger import BadRegistry, Ledger
from specgen.facts.registry import AnyCalculator, Calculator, Calculators
from specgen.facts.types import Known

ENTRY_POINTS = "specgen.calculators"
"""Group of entry points; each names the `Calculators` of a module of somebody else's package."""


@cache
def ledger() -> Ledger:
    """The ledger of our own calculators and those that installed packages add.

    Raises `BadRegistry` where what is added cannot be loaded or does not go with the rest.
    """
    return Ledger((*CALCULATORS, *_added()))


def _added() -> Iterator[AnyCalculator]:
    for entry in sorted(entry_points(group=ENTRY_POINTS), key=lambda entry: entry.name):
        try:
            added = tuple(entry.load())
        except Exception as problem:
            raise BadRegistry(f"`{entry.value}` cannot be loaded: {problem}") from problem
        for calculator in added:
            if not isinstance(calculator, Calculator):
                raise BadRegistry(f"`{entry.value}` holds something that is no calculator")
            yield calculator


@cache
def known_facts() -> Known:
    """The facts that expressions may read."""
    return Known(ledger())


def facts_of(assembly: Assembly) -> Facts:
    """Every fact of an assembly."""
    return ledger().calculate(assembly)


__all__ = [
    "CALCULATORS",
    "ENTRY_POINTS",
    "BadRegistry",
    "Basis",
    "Calculator",
    "Calculators",
    "Declared",
    "Fact",
    "Facts",
    "Known",
    "Ledger",
    "Value",
    "facts_of",
    "known_facts",
    "ledger",
]
