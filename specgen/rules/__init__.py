"""Checks: what a build must keep to work.

What one part must meet in its place is a row in `specgen.fitness`; what parts demand of one another
is a constraint in `CONSTRAINTS`, which the solver is told as well; the rest are functions from an
assembly to findings, in `CHECKS`. Those a project declares stand in `specgen.rules.declared`.
"""

from collections.abc import Iterator
from functools import partial
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, arrange
from specgen.diagnostics.fault import carrying
from specgen.facts import Facts
from specgen.rules.allow import without_allowed
from specgen.rules.cabling import cables
from specgen.rules.check_type import Check
from specgen.rules.constraints import Chain
from specgen.rules.cooling import COOLED, inlet
from specgen.rules.cords import uncorded
from specgen.rules.declared import declared, rule_book
from specgen.rules.definitions.unfinished import unfinished
from specgen.rules.fit import fit
from specgen.rules.judged import judged
from specgen.rules.life import life
from specgen.rules.links import circles, lanes, narrowed, protocols, splits, swap_of_ports
from specgen.rules.measured import of_other_parts
from specgen.rules.memory import (
    ADDRESSED,
    CHANNELS,
    MIXED,
    ORDER,
    PRESENT,
    balance,
    derated,
)
from specgen.rules.needs import PACKS, RESOURCES, drives, needs
from specgen.rules.power import SUPPLIES, unrated
from specgen.rules.processors import PROCESSORS, SOCKETS
from specgen.rules.rack import RAILS
from specgen.rules.slow_values import endless
from specgen.rules.storage import volumes
from specgen.rules.usable import must_be_filled, unusable
from specgen.rules.violations import violated

CONSTRAINTS: Final[tuple[Chain, ...]] = (
    PROCESSORS,
    MIXED,
    PRESENT,
    ADDRESSED,
    CHANNELS,
    ORDER,
    COOLED,
    SUPPLIES,
    PACKS,
    RESOURCES,
    RAILS,
    SOCKETS,
)
"""What parts demand of one another: evaluated here, translated in `specgen.limits`."""

CHECKS: Final[tuple[Check, ...]] = (
    *(partial(violated, chain) for chain in CONSTRAINTS),
    fit,
    life,
    inlet,
    unrated,
    # values that are worked out: the solver learns from what this refuses
    judged,
    # positions and links, which the solver has as the structure of the system
    unusable,
    must_be_filled,
    needs,
    cables,
    protocols,
    swap_of_ports,
    lanes,
    # of links that are there, which hang on cables: what the solver proposes is judged by these
    circles,
    splits,
    drives,
    # of what the build says beside its parts, which the solver does not choose
    volumes,
    endless,
    unfinished,
    # warnings and notes: no limit hangs on them
    balance,
    derated,
    narrowed,
    uncorded,
    of_other_parts,
)
"""Every check; none depends on another, so their order changes nothing."""


def findings(
    assembly: Assembly, facts: Facts, checks: tuple[Check, ...] | None = None
) -> Iterator[Finding]:
    """What the assembly, the checks and all rules find in a build, one after the other."""
    yield from assembly.findings
    for check in CHECKS if checks is None else checks:
        yield from check(assembly, facts)
    yield from declared(assembly, facts, rule_book(assembly.definitions))


def judge(assembly: Assembly, facts: Facts) -> tuple[Finding, ...]:
    """Everything found in a build, less what the build allows."""
    found: list[Finding] = []
    with carrying(found):
        for each in findings(assembly, facts):
            found.append(each)  # noqa: PERF402  # one by one, lest a fault takes others along
    codes = rule_book(assembly.definitions).all_codes
    return arrange(without_allowed(assembly, found, codes))


__all__ = ["CHECKS", "Check", "Facts", "findings", "judge"]
