"""Facts with their pedigree: the ledger, the registry and the calculators."""

from collections.abc import Iterator
from functools import cache, lru_cache
from typing import Final

from specgen.assembly import Assembly
from specgen.expressions.vocabulary import FactNames
from specgen.extended import anyone_extends
from specgen.facts.calculators import CALCULATORS
from specgen.facts.fact import Basis, Declared, Fact, Facts, PartId, Value
from specgen.facts.fact_types import FactTypes
from specgen.facts.kind_facts import of_own_kinds
from specgen.facts.ledger import BadRegistry, Ledger
from specgen.facts.own_values import OwnValues, own_values
from specgen.facts.registry import AnyCalculator, Calculator, Calculators
from specgen.model import Definitions

ENTRY_POINTS = "specgen.calculators"
"""Group of entry points; each names the `Calculators` of a module of somebody else's package."""


@cache
def ledger() -> Ledger:
    """The ledger of our own calculators and those that installed packages add.

    Raises `BadRegistry` where what is added cannot be loaded or does not go with the rest.
    """
    return Ledger((*CALCULATORS, *_added()))


def _added() -> Iterator[AnyCalculator]:
    if not anyone_extends(ENTRY_POINTS):
        return
    from importlib.metadata import entry_points

    for entry in sorted(entry_points(group=ENTRY_POINTS), key=lambda entry: entry.name):
        try:
            added = tuple(entry.load())
        except Exception as problem:
            raise BadRegistry(f"`{entry.value}` cannot be loaded: {problem}") from problem
        for calculator in added:
            if not isinstance(calculator, Calculator):
                raise BadRegistry(f"`{entry.value}` holds something that is no calculator")
            yield calculator


PROJECTS: Final = 8
"""Sets of definitions whose ledgers are kept: a run has one, a preview the last two, tests some."""


@lru_cache(maxsize=PROJECTS)
def _with_kinds(definitions: Definitions) -> Ledger:
    """The ledger of the program, with what it says of the project's own kinds of part."""
    own = tuple(of_own_kinds(definitions))
    return Ledger(own, ledger()) if own else ledger()


@lru_cache(maxsize=PROJECTS)
def values_of(definitions: Definitions) -> OwnValues:
    """The values that a project declares, read once for each set of definitions."""
    return own_values(definitions, _with_kinds(definitions))


@lru_cache(maxsize=PROJECTS)
def ledger_of(definitions: Definitions) -> Ledger:
    """The ledger of a project: that of the program, and the values that the project declares."""
    own = values_of(definitions).calculators
    shipped = _with_kinds(definitions)
    return Ledger(own, shipped) if own else shipped


@lru_cache(maxsize=PROJECTS)
def known_facts(definitions: Definitions) -> FactNames:
    """The facts that the expressions of a project may read."""
    return values_of(definitions).names


def facts_of(assembly: Assembly) -> Facts:
    """Every fact of an assembly."""
    return ledger_of(assembly.definitions).calculate(assembly)


__all__ = [
    "CALCULATORS",
    "ENTRY_POINTS",
    "BadRegistry",
    "Basis",
    "Calculator",
    "Calculators",
    "Declared",
    "Fact",
    "FactTypes",
    "Facts",
    "Ledger",
    "OwnValues",
    "PartId",
    "Value",
    "facts_of",
    "known_facts",
    "ledger",
    "ledger_of",
    "values_of",
]
