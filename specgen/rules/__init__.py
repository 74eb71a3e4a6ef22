"""Checks: what a build must keep to work, each a function from assembly to findings.

Those built in are listed in `CHECKS`; those a project declares stand in `specgen.rules.declared`.
"""

from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, arrange
from specgen.facts import Facts
from specgen.rules.allow import without_allowed
from specgen.rules.cabling import cables
from specgen.rules.check import Check
from specgen.rules.cooling import inlet
from specgen.rules.declared import declared, rule_book
from specgen.rules.fit import fit, soldered
from specgen.rules.life import life
from specgen.rules.links import circles, lanes, narrowed, protocols, splits, swap_of_ports
from specgen.rules.memory import derated, mixed, population, technology
from specgen.rules.needs import cache_without_energy, needs, resources
from specgen.rules.network import transceivers
from specgen.rules.power import slot_power, supplies
from specgen.rules.processors import alike, heat_sinks, socket_power
from specgen.rules.storage import volumes
from specgen.rules.usable import must_be_filled, unusable
from specgen.rules.values import endless

CHECKS: Final[tuple[Check, ...]] = (
    fit,
    soldered,
    unusable,
    must_be_filled,
    needs,
    resources,
    cables,
    protocols,
    swap_of_ports,
    circles,
    lanes,
    splits,
    narrowed,
    alike,
    socket_power,
    heat_sinks,
    inlet,
    technology,
    mixed,
    population,
    derated,
    cache_without_energy,
    volumes,
    transceivers,
    supplies,
    slot_power,
    life,
    endless,
)
"""Every check; none depends on another, so their order changes nothing."""


def judge(assembly: Assembly, facts: Facts) -> tuple[Finding, ...]:
    """What the assembly, all checks and all rules find in a build, less what the build allows."""
    found = [*assembly.findings]
    for check in CHECKS:
        found.extend(check(assembly, facts))
    book = rule_book(assembly.definitions)
    found.extend(declared(assembly, facts, book))
    return arrange(without_allowed(assembly, found, book.all_codes))


__all__ = ["CHECKS", "Check", "Facts", "judge"]
