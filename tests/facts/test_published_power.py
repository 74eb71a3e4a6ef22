"""Supplies: output at the line voltage and after failures, against worked examples."""

import pytest

from specgen.facts.calculators import supplies
from specgen.quantity import Power, Voltage
from tests.facts.systems import calculated

# Source: N supplies of which r may fail carry (N - r) x their output at the actual line voltage;
# common practice, no source. Layout, supplies, output W at 115 V, at 230 V, load W, room W.
LAYOUTS = (
    ("1+1", 2, 1000, 1000, 900, 230, 100),
    ("2+1", 3, 800, 800, 1500, 230, 100),
    ("2+2", 4, 800, 800, 1500, 230, 100),
    ("1+1", 2, 850, 1100, 1000, 230, 100),
    ("1+1", 2, 850, 1100, 1000, 115, -150),
    ("none", 2, 850, 1100, 1000, 115, 700),
)


def powered(layout: str, count: int, low: int, high: int, load: int, line: int):
    return calculated(
        f"  - {{name: CPU1, takes: processor}}\n  - {{name: PSU 1..{count}, takes: power-supply}}\n"
        "  - {name: LOAD, takes: fan}\n",
        f"  CPU1: processor\n  PSU 1..{count}: supply\n  LOAD: load",
        catalog=f"""
- kind: power-supply
  id: supply
  name: Supply
  source: {{document: supplies}}
  form: m-crps-60
  inlet: C14
  outputs:
    - {{from: 100 V, to: 127 V, output: {low} W}}
    - {{from: 200 V, to: 240 V, output: {high} W}}
- {{kind: fan, id: load, name: Load, form: fan-40, source: {{document: l}}, power: {{maximum: {load} W}}}}
""",  # noqa: E501
        conditions=f"{{line: {line} V, redundancy: {layout}}}",
    )


@pytest.mark.practice("power supplies", "N less r supplies carry the load")
@pytest.mark.parametrize(("layout", "count", "low", "high", "load", "line", "room"), LAYOUTS)
def test_headroom_is_what_is_left_after_the_failures(layout, count, low, high, load, line, room):
    facts = powered(layout, count, low, high, load, line)
    assert facts.value("power.maximum") == Power.of(load, "W")
    assert facts.value("power.headroom") == Power.of(room, "W")


def test_a_supply_outside_its_ranges_gives_no_value():
    facts = powered("1+1", 2, 850, 1100, 500, 150)
    assert facts.value("power.supply_output") is None
    assert facts.value("power.available") is None
    assert facts.value("power.headroom") is None


@pytest.mark.published("power supplies", "DMTF mock-up public-rackmount1, InputRanges")
@pytest.mark.parametrize(("line", "expected"), [("120", 350), ("230", 400), ("200", 400)])
def test_output_depends_on_the_line(line, expected):
    # Source: DMTF mockup public-rackmount1, Bay1 InputRanges: 400 W at 200-240 V, 350 W at 120 V
    facts = powered("none", 1, 350, 400, 100, int(line))
    assert facts.value("power.supply_output") == Power.of(expected, "W")


def test_the_weakest_supply_counts_where_they_differ():
    assert supplies.supply_output((), Voltage.of(230)) is None
