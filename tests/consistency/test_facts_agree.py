"""What facts of one system must be to one another, in every build of the demo."""

from collections.abc import Callable
from decimal import Decimal

import pytest

from specgen.document.case import Case
from specgen.facts import Facts
from specgen.pipeline import Survey
from specgen.quantity import Quantity

NEAR = Decimal("1e-9")
BTU_PER_WATT_HOUR = Decimal(3600) / Decimal("1055.05585262")
"""Source: ISO 31-4 on the international table British thermal unit, 1055.05585262 J."""


def amount(facts: Facts, key: str) -> Decimal | None:
    """A value as a number in the unit that its quantity keeps; None where there is none."""
    value = facts.value(key)
    if isinstance(value, Quantity):
        return value.amount
    return Decimal(value) if isinstance(value, int | Decimal) else None


# greater, smaller: the first is never below the second
NEVER_BELOW = (
    ("power.input", "cooling.heat"),
    ("power.input", "power.load"),
    ("power.typical.input", "power.typical"),
    ("power.maximum", "power.typical"),
    ("power.typical", "power.idle"),
    ("cooling.heat", "cooling.heat_typical"),
    ("cooling.airflow", "cooling.airflow_left"),
    ("storage.bays", "storage.bays_usable"),
    ("storage.bays_usable", "storage.bays_filled"),
    ("storage.raw", "storage.usable"),
    ("memory.slots", "memory.slots_usable"),
    ("memory.slots_usable", "memory.modules"),
    ("memory.capacity", "memory.visible"),
    ("memory.channels", "memory.channels_used"),
    ("expansion.slots", "expansion.slots_used"),
    ("network.line_rate", "network.line_rate_connected"),
    ("processors.threads", "processors.cores"),
    ("mechanics.mass", "mechanics.chassis_mass"),
    ("mechanics.rails_most", "mechanics.rails_least"),
)
# sum, and its summands; one with a minus sign is taken away
SUMS = (
    (
        "expansion.slots",
        "expansion.slots_used",
        "expansion.slots_free",
        "expansion.slots_unusable",
    ),
    ("memory.capacity", "memory.visible", "memory.held_back"),
    ("power.headroom", "power.available", "-power.load"),
    ("cooling.heat", "power.input"),
    ("cooling.heat_typical", "power.typical.input"),
)


@pytest.fixture(scope="module")
def cases(demo: Survey) -> list[Case]:
    return [case for case in demo.cases.values() if case.sound]


@pytest.mark.parametrize(("greater", "smaller"), NEVER_BELOW)
def test_a_part_is_never_more_than_the_whole(cases: list[Case], greater: str, smaller: str):
    seen = 0
    for case in cases:
        whole, part = amount(case.facts, greater), amount(case.facts, smaller)
        if whole is not None and part is not None:
            seen += 1
            assert whole >= part - abs(part) * NEAR, case.thing.id
    assert seen, f"no build has both {greater} and {smaller}"


@pytest.mark.parametrize("keys", SUMS, ids=lambda k: k[0])
def test_sums_are_those_of_their_summands(cases: list[Case], keys: tuple[str, ...]):
    total, *summands = keys
    seen = 0
    for case in cases:
        whole = amount(case.facts, total)
        parts = [signed(case.facts, each) for each in summands]
        if whole is not None and None not in parts:
            seen += 1
            added = sum((each for each in parts if each is not None), Decimal(0))
            assert abs(whole - added) <= abs(whole) * NEAR + NEAR, case.thing.id
    assert seen, f"no build has all of {keys}"


def signed(facts: Facts, key: str) -> Decimal | None:
    found = amount(facts, key.removeprefix("-"))
    return None if found is None else -found if key.startswith("-") else found


def _heat(facts: Facts) -> tuple[Decimal | None, Decimal | None]:
    watts, btu = facts.value("cooling.heat"), facts.value("cooling.heat_btu")
    if not isinstance(watts, Quantity) or not isinstance(btu, Quantity):
        return None, None
    return watts.in_unit("W") * BTU_PER_WATT_HOUR, btu.in_unit("BTU/h")


def _subsystems(facts: Facts) -> tuple[Decimal | None, Decimal | None]:
    parts = [f for f in facts.values() if f.template == "power.{subsystem}.maximum"]
    found = [f.value.amount for f in parts if isinstance(f.value, Quantity)]
    return amount(facts, "power.maximum"), sum(found, Decimal(0))


def _volumes(facts: Facts) -> tuple[Decimal | None, Decimal | None]:
    parts = [f for f in facts.values() if f.template == "storage.{volume}.usable"]
    found = [f.value.amount for f in parts if isinstance(f.value, Quantity)]
    return (amount(facts, "storage.usable"), sum(found, Decimal(0))) if found else (None, None)


def _circuit(facts: Facts) -> tuple[Decimal | None, Decimal | None]:
    share, allowed = facts.value("power.circuit_share"), facts.value("power.circuit_allowed")
    if not isinstance(share, Quantity) or not isinstance(allowed, Quantity):
        return None, None
    return share.in_unit("%") / 100 * allowed.in_unit("A"), amount(facts, "power.cord_current")


WAYS = (_heat, _subsystems, _volumes, _circuit)


@pytest.mark.parametrize("both", WAYS)
def test_two_ways_to_one_value_meet(
    cases: list[Case], both: Callable[[Facts], tuple[Decimal | None, Decimal | None]]
):
    seen = 0
    for case in cases:
        one, other = both(case.facts)
        if one is not None and other is not None:
            seen += 1
            assert abs(one - other) <= abs(one) * NEAR + NEAR, case.thing.id
    assert seen
