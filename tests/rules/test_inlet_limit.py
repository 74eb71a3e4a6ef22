"""The maximum inlet temperature holds: the checks pass at it, and find an error a tenth above."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.facts import facts_of
from specgen.model import Conditions
from specgen.pipeline import case_of
from specgen.quantity import Temperature, plain
from tests.declared.ruled import one, ruled
from tests.facts.english import in_english
from tests.timing import tries

TENTH = 1


def _at(demo, name: str, tenths: int):
    inlet = Temperature.of(Decimal(tenths) / 10, "degC")
    return case_of(demo.definitions, demo.definitions.builds[name], Conditions(inlet=inlet))


def _errors(case) -> list[str]:
    return [each.code.id for each in case.findings if each.severity == "error"]


def test_what_is_printed_passes_and_a_tenth_more_does_not(demo):
    for name, case in demo.cases.items():
        limit = case.facts.value("cooling.inlet_limit")
        tenths = int(limit.amount * 10)
        assert plain(limit) == plain(Temperature.of(Decimal(tenths) / 10, "degC")), name
        assert _errors(_at(demo, name, tenths)) == [], name
        assert _errors(_at(demo, name, tenths + TENTH)), name


def _limit(*rules: str, on: str = "platform", inlet: str = "30"):
    found = ruled(*rules, on=on)
    assembly = found.assemblies["lantern-full"]
    at = replace(assembly.conditions, inlet=Temperature.parse(f"{inlet} degC"))
    facts = facts_of(replace(assembly, conditions=at))
    return facts.value("cooling.inlet_limit"), in_english(facts.value("cooling.inlet_limit_by"))


@pytest.mark.parametrize(
    ("fields", "limit"),
    [
        ({"require": "inlet <= '32 degC'"}, "32"),
        ({"require": "inlet < '32 degC'"}, "31.9"),
        ({"forbid": "inlet > '31.5 degC'"}, "31.5"),
        ({"when": "inlet > '33 degC'", "forbid": "drives.count > 2"}, "33"),
        ({"when": "drives.count > 2", "require": "inlet <= '31.25 degC'"}, "31.25"),
        # a window narrower than a degree, and one narrower than a tenth
        ({"forbid": "inlet > '30.2 degC' and inlet < '30.8 degC'"}, "30.2"),
        ({"forbid": "'30.51 degC' < inlet < '30.54 degC'"}, "30.51"),
        ({"forbid": "inlet == '31.3 degC'"}, "31.2"),
        ({"forbid": "inlet in ('32.4 degC', '34 degC')"}, "32.3"),
        ({"require": "all(inlet <= '33.33 degC' for f in fans)"}, "33.33"),
        ({"require": "inlet + '1.55 K' <= '33 degC'"}, "31.4"),
        # between two degrees both asked about, by a fact: 1.16 > density > 1.159 at 100 m
        ({"forbid": "1.1405 < fact('cooling.density') < 1.1415"}, None),
        ({"require": "inlet <= '32 degC' or fans.count > 20"}, "32"),
        ({"require": "fact('cooling.density') > 1.147"}, None),
    ],
)
def test_a_rule_that_reads_the_inlet_is_among_what_sets_it(fields, limit):
    value, by = _limit(one(**fields))
    assert by == ("a rule of Lantern",)
    if limit is not None:
        assert value == Temperature.parse(f"{limit} degC")


def test_a_limit_is_exact_and_printed_down_once():
    value, _ = _limit(one(require="inlet <= '31.27 degC'"))
    assert value == Temperature.of(Decimal("31.27"), "degC")
    assert plain(value) == "31.2 degC"
    assert plain(Temperature.of(Decimal("-5.02"), "degC")) == "-5.1 degC"
    assert plain(Temperature.of(36) - Temperature.of(Decimal("0.001"))) == "35.9 K"


@settings(max_examples=tries(40), deadline=None)
@given(st.integers(3000, 3480), st.integers(1, 80), st.sampled_from(["<", "<="]))
def test_a_window_is_found_however_narrow(first, width, sign):
    low, high = (f"{Decimal(at) / 100} degC" for at in (first, first + width))
    value, by = _limit(one(forbid=f"'{low}' {sign} inlet and inlet {sign} '{high}'"))
    if sign == "<":
        assert value == Temperature.parse(low)
    else:
        assert Temperature.parse(low).amount - Decimal("0.1") <= value.amount
        assert value < Temperature.parse(low) or first == 3000
    assert by == ("a rule of Lantern",)


def test_a_rule_of_a_part_counts_where_the_part_works():
    assert _limit(one(require="inlet <= '31 degC'"), on="tpm")[1] == ("a rule of TPM",)
    assert _limit(one(require="inlet <= '31 degC'"), on="tpm-old")[1] == ("class A2 at 100 m",)


@pytest.mark.parametrize(
    "fields",
    [
        {"require": "inlet <= '32 degC'", "severity": "warning"},
        {"require": "inlet <= '32 degC'", "until": "2020-01-01"},
        {"when": "drives.count > 200", "require": "inlet <= '32 degC'"},
        {"require": "inlet >= '5 degC'"},
        {"require": "fact('cooling.inlet_margin') >= '2 K'"},
    ],
)
def test_a_rule_that_does_not_bind_is_not_named(fields):
    assert _limit(one(**fields)) == (Temperature.parse("35 degC"), ("class A2 at 100 m",))


def test_the_reason_is_the_sentence_of_the_rule_and_never_its_code():
    because = "Warm air stays under the lid."
    value, by = _limit(one(require="inlet <= '32 degC'", because=because))
    assert value == Temperature.parse("32 degC")
    assert by == ("Warm air stays under the lid",)


def test_rules_that_allow_no_temperature_leave_no_limit():
    value, by = _limit(one(require="inlet <= '32 degC' and inlet >= '40 degC'"))
    assert value is None
    assert by == ("a rule of Lantern",)


def test_a_build_that_is_too_warm_has_the_limit_below_it():
    value, _ = _limit(one(require="inlet <= '32 degC'"), inlet="34")
    assert value == Temperature.parse("32 degC")
