"""Which values of systems are put side by side."""

from collections.abc import Iterable
from typing import Final

from specgen.assembly import Assembly
from specgen.facts import ledger, values_of
from specgen.facts.derived import derived
from specgen.facts.fact import Fact, Facts
from specgen.messages import Within, say
from specgen.model import Definitions, Part

PLATFORM_KEYS: Final = frozenset(
    {
        *("processors.sockets", "memory.slots", "network.management_ports"),
        *("mechanics.rack_units", "mechanics.width", "mechanics.height", "mechanics.depth"),
        *("mechanics.chassis_mass", "mechanics.depth_needed"),
        *("cooling.fans_needed", "cooling.class_limit"),
        *("conditions.operating_class", "conditions.redundancy", "regulation.product_type"),
        *("regulation.inlet_lowest", "regulation.inlet_highest", "regulation.dew_point"),
    }
)
"""Values that a platform has with nothing fitted."""
LEFT_OUT: Final = frozenset(
    {
        *("regulation.nature", "energy.currency", "noise.silent"),
        *("power.choices", "power.smallest", "power.undeclared", "power.sharing"),
        *("mechanics.rack_units_wanted", "mechanics.rack_load", "mechanics.floor_wanted"),
        *("mechanics.lifting_persons", "mechanics.lifting_reached", "mechanics.rails_load"),
        *("cooling.inlet_of_parts", "cooling.inlet_of_air"),
    }
)
"""Values that are words about others, that name parts by their ids, or that others come from."""
LIMITS: Final = "limits"
OWN: Final = "own"
"""Stands for the subjects that only the values of a project have."""


def compared_keys(systems: Iterable[Facts], *, bare: bool) -> tuple[str, ...]:
    """Keys of all systems in the order of the registry; values about one thing of many not. Of
    `bare` platforms, what one has with nothing fitted, and its limits."""
    found: dict[str, None] = {}
    for facts in systems:
        for key in facts:
            limit = key.startswith(f"{LIMITS}.")
            shown = limit or ((not bare or key in PLATFORM_KEYS) and not facts[key].subject)
            if shown and key not in LEFT_OUT:
                found.setdefault(key)
    return tuple(found)


def own_subjects(definitions: Definitions) -> tuple[str, ...]:
    """The subjects that only the values of a project have."""
    shipped = {key.split(".", 1)[0] for key in ledger().by_key}
    own = (each.key.split(".", 1)[0] for each in values_of(definitions).calculators)
    return tuple(dict.fromkeys(each for each in own if each not in shipped))


def positions_for(assembly: Assembly, kind: type[Part]) -> Fact:
    """How many positions a platform itself has for parts of a kind, soldered ones left out."""
    own = (p for p in assembly.taking(kind.kind) if p.host is None and p.position.fixed is None)
    return derived(
        f"positions.{kind.kind}",
        say("Places for {parts}", parts=Within(kind.named_many())),
        sum(1 for _ in own),
        say("positions of the platform that take: {part}", part=Within(kind.named())),
    )
