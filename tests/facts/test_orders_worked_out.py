"""Totals of an order of several servers, added up here from the values of one of each."""

import math
from decimal import Decimal
from typing import Any

import pytest

from specgen.facts import Basis, Fact, Facts
from specgen.facts.orders import ORDER_FACTS, OrderLine, order_facts
from specgen.pipeline import Survey
from specgen.quantity import ApparentPower, Current, Voltage

pytestmark = [pytest.mark.arithmetic("orders", "sums over servers, each counted one by one")]

# Three builds, of which two stand several times; the quietest first, so that the first is no answer
NUMBERS = {"pocket-lamp-room": 2, "lantern-office": 3, "boathouse-archive": 1}
SUMS = {
    "rack_units": ("mechanics.rack_units", ""),
    "mass": ("mechanics.mass", "kg"),
    "input_idle": ("power.idle.input", "W"),
    "input_typical": ("power.typical.input", "W"),
    "input": ("power.input", "W"),
    "apparent": ("power.apparent", "VA"),
    "current": ("power.current", "A"),
    "heat_typical": ("cooling.heat_typical", "W"),
    "heat_typical_btu": ("cooling.heat_typical_btu", "BTU/h"),
    "heat": ("cooling.heat", "W"),
    "heat_btu": ("cooling.heat_btu", "BTU/h"),
    "airflow": ("cooling.airflow_needed", "m3/h"),
    "airflow_cfm": ("cooling.airflow_needed_cfm", "CFM"),
    "energy": ("energy.year", "kWh"),
    "energy_emissions": ("energy.emissions", "kg"),
}
EXTREMES = {
    "inlet_limit": ("cooling.inlet_limit", "degC", min),
    "depth_needed": ("mechanics.depth_needed", "mm", max),
    "cord_current": ("power.cord_current", "A", max),
}
APART = {"sound_power", "upper_limit", "rack_and_servers", "energy_cost", "energy_currency"}


def order(demo: Survey, numbers: dict[str, int]) -> Facts:
    return order_facts(
        tuple(OrderLine(name, demo.cases[name].facts, count) for name, count in numbers.items())
    )


def plain(value: Any, unit: str) -> float:
    return float(value.in_unit(unit)) if unit else float(value)


def each(demo: Survey, key: str, unit: str) -> list[float]:
    """The value of every server, those that stand several times as often."""
    return [
        plain(demo.cases[name].facts.value(key), unit)
        for name, count in NUMBERS.items()
        for _ in range(count)
    ]


def test_every_fact_of_an_order_is_worked_out_here():
    assert {fact.key for fact in ORDER_FACTS} == {*SUMS, *EXTREMES, *APART}


@pytest.mark.parametrize("name", SUMS)
def test_a_total_is_the_sum_over_every_server(demo: Survey, name: str):
    key, unit = SUMS[name]
    facts = order(demo, NUMBERS)
    whole = plain(facts.value(f"order.{name}"), unit)
    assert whole == pytest.approx(sum(each(demo, key, unit)), rel=1e-9)
    for build, count in NUMBERS.items():
        one = plain(demo.cases[build].facts.value(key), unit)
        own = plain(facts.value(f"order.{name}.{build}"), unit)
        assert own == pytest.approx(count * one, rel=1e-9)


def test_of_a_sum_there_is_one_value_a_build_and_of_an_extreme_none(demo: Survey):
    facts = order(demo, NUMBERS)
    for name in SUMS:
        assert f"order.{name}.lantern-office" in facts, name
    for name in (*EXTREMES, *APART):
        assert f"order.{name}" in facts, name
        assert f"order.{name}.lantern-office" not in facts, name


@pytest.mark.parametrize("name", EXTREMES)
def test_the_worst_server_speaks_for_all(demo: Survey, name: str):
    key, unit, best = EXTREMES[name]
    values = each(demo, key, unit)
    assert len(set(values)) > 1
    assert plain(order(demo, NUMBERS).value(f"order.{name}"), unit) == pytest.approx(best(values))


def test_servers_are_counted_and_so_are_their_parts(demo: Survey):
    facts = order(demo, NUMBERS)
    assert facts.value("order.servers") == 6
    assert facts.value("order.servers.lantern-office") == 3
    parts = {
        fact.subject: sum(
            count * (demo.cases[name].facts.value(f"parts.{fact.subject}") or 0)
            for name, count in NUMBERS.items()
            if f"parts.{fact.subject}" in demo.cases[name].facts
        )
        for name in NUMBERS
        for fact in demo.cases[name].facts.of_all("parts.{part}")
    }
    assert {part: facts.value(f"order.parts.{part}") for part in parts} == parts
    assert len(parts) > 20


def test_sound_adds_on_the_linear_scale_and_only_within_one_edition(demo: Survey):
    numbers = {"lantern-office": 3, "boathouse-archive": 2}
    for name, key in (("sound_power", "noise.sound_power"), ("upper_limit", "noise.upper_limit")):
        levels = [
            plain(demo.cases[build].facts.value(key), "B")
            for build, count in numbers.items()
            for _ in range(count)
        ]
        expected = math.log10(sum(10**level for level in levels))
        assert plain(order(demo, numbers).value(f"order.{name}"), "B") == pytest.approx(expected)
    # The lamp room's fans are declared by the edition of 1988
    assert order(demo, NUMBERS).value("order.sound_power") is None


def test_one_rack_bears_all_where_the_builds_agree_on_it(demo: Survey):
    numbers = {"lantern-office": 3, "boathouse-archive": 1}
    servers = sum(
        count * plain(demo.cases[build].facts.value("mechanics.mass"), "kg")
        for build, count in numbers.items()
    )
    found = order(demo, numbers).value("order.rack_and_servers")
    assert plain(found, "kg") == pytest.approx(servers + 118)
    assert order(demo, NUMBERS).value("order.rack_and_servers") is None  # a wall cabinet of 31 kg


def test_costs_add_in_one_currency(demo: Survey):
    costs = sum(each(demo, "energy.cost", ""))
    facts = order(demo, NUMBERS)
    assert plain(facts.value("order.energy_cost"), "") == pytest.approx(costs)
    assert facts.value("order.energy_currency") == "euro"


def _paid(build: str, count: int, cost: str, currency: str) -> OrderLine:
    values = {"energy.cost": Decimal(cost), "energy.currency": currency}
    facts = Facts.plain(
        Fact(key, key, key, value, Basis.CALCULATED, "", "") for key, value in values.items()
    )
    return OrderLine(build, facts, count)


def test_costs_in_two_currencies_make_no_sum():
    """By hand: two servers of 500 and three of 40 a year."""
    alike = order_facts((_paid("one", 2, "500", "euro"), _paid("two", 3, "40", "euro")))
    assert alike.value("order.energy_cost") == 1120
    mixed = order_facts((_paid("one", 2, "500", "euro"), _paid("two", 3, "40", "krone")))
    assert mixed.value("order.energy_cost") is None
    assert mixed.value("order.energy_currency") is None


def test_currents_of_different_lines_make_no_sum(demo: Survey):
    facts = order(demo, {"lantern-office": 1, "lantern-island": 1})
    assert facts.value("order.current") is None
    assert facts.value("order.input") is not None


def _fed(build: str, count: int, apparent: str | None) -> OrderLine:
    value = None if apparent is None else ApparentPower.of(Decimal(apparent))
    line = None if apparent else "DC"
    facts = Facts.plain(
        Fact(key, key, key, value, Basis.CALCULATED, "", "")
        for key, value in {"power.apparent": value, "conditions.line_type": line}.items()
    )
    return OrderLine(build, facts, count)


def test_apparent_power_is_that_of_the_servers_on_ac():
    """By hand: two of 500 VA and three of 200 VA; a server on DC has none, and took it from all."""
    mixed = order_facts((_fed("one", 2, "500"), _fed("plant", 4, None), _fed("two", 3, "200")))
    assert plain(mixed.value("order.apparent"), "VA") == pytest.approx(1600)
    assert mixed.value("order.servers_on_ac") == 5
    assert mixed.value("order.servers_on_dc") == 4
    assert mixed.value("order.apparent.plant") is None
    assert plain(mixed.value("order.apparent.two"), "VA") == pytest.approx(600)
    alike = order_facts((_fed("one", 2, "500"), _fed("two", 3, "200")))
    assert plain(alike.value("order.apparent"), "VA") == pytest.approx(1600)
    assert alike.value("order.servers_on_ac") is None
    assert alike.value("order.servers_on_dc") is None
    plant = order_facts((_fed("plant", 4, None),))
    assert plant.value("order.apparent") is None
    assert plant.value("order.servers_on_ac") is None
    assert plant.value("order.servers_on_dc") == 4


def _of_dc(build: str, count: int, lowest: str, current: str) -> OrderLine:
    values = {
        "power.current": Current.of(Decimal(current)),
        "power.line_lowest": Voltage.of(Decimal(lowest)),
        "conditions.line": Voltage.of(Decimal(-48)),
    }
    facts = Facts.plain(
        Fact(key, key, key, value, Basis.CALCULATED, "", "") for key, value in values.items()
    )
    return OrderLine(build, facts, count)


def test_direct_currents_add_at_the_lowest_voltage_that_any_works_at():
    """By hand: 10 A at -40 V is 400 W; 8 A at -44 V is 352 W, and 8.8 A at -40 V."""
    facts = order_facts((_of_dc("one", 2, "-40", "10"), _of_dc("two", 1, "-44", "8")))
    assert plain(facts.value("order.current"), "A") == pytest.approx(2 * 10 + 8.8)
    assert plain(facts.value("order.current.one"), "A") == pytest.approx(20)
    assert plain(facts.value("order.current.two"), "A") == pytest.approx(8.8)
    alone = order_facts((_of_dc("two", 3, "-44", "8"),))
    assert plain(alone.value("order.current"), "A") == pytest.approx(24)
