"""Values are rounded where they are printed and nowhere before."""

import re
from decimal import Decimal
from pathlib import Path

import pytest

from specgen.facts import calculators
from specgen.facts.fact_data import fact_data
from specgen.pipeline import Survey
from specgen.quantity import Energy, Quantity, exact, plain

ROUNDING = re.compile(r"(?<![_a-z])round\(|quantize|to_integral|significant\(|\bprec=(?!40)")
PUBLISHED = {
    # clause that the module names -> how often it rounds by it
    "drives.py": 1,  # SFF-8447: up to a whole GiB
    "supplies.py": 1,  # whole supplies
    "circuits.py": 1,  # whole servers, after what a division left in the last places
}


def test_no_calculator_rounds_but_by_a_rule_that_is_published_or_to_whole_things():
    found = {}
    for path in Path(calculators.__file__).parent.glob("*.py"):
        lines = [line for line in path.read_text().splitlines() if ROUNDING.search(line)]
        if lines:
            found[path.name] = len(lines)
    assert found == PUBLISHED


def test_json_has_the_exact_value_beside_the_printed_one(demo: Survey):
    facts = demo.cases["lantern-office"].facts
    compared = 0
    for key in facts:
        value, data = facts[key].value, fact_data(facts[key])
        if isinstance(value, Quantity):
            number, unit = data["exact"], data["unit"]
            again = type(value).of(Decimal(repr(number)), unit)
            assert float(again.amount) == pytest.approx(float(value.amount), rel=1e-15, abs=1e-15)
            compared += data["value"] != number
        elif not isinstance(value, int | Decimal):
            assert data["exact"] is None
    assert compared  # some are printed with fewer digits


def test_exact_is_in_the_unit_that_is_printed():
    # 1822.08 kWh is printed as 1822 kWh
    energy = Energy.of("1822.08", "kWh")
    assert plain(energy) == "1822 kWh"
    assert exact(energy) == Decimal("1822.08")
