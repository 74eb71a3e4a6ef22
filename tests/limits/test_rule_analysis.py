"""Rules about rules."""

import pytest

from specgen.limits.rule_analysis import doubts
from tests.limits.small import HEAD, PROJECT, defined

PARTS = """
- {kind: fan, id: fan-slow, name: Slow fan, form: fan-40, airflow: 20 CFM, mass: 1 kg,
   source: {document: table}}
- {kind: fan, id: fan-fast, name: Fast fan, form: fan-40, airflow: 40 CFM, mass: 1 kg,
   source: {document: table}}
"""
POSITIONS = "positions: [{name: FAN 1..2, takes: fan, must: true}, {name: FAN 3, takes: fan}]\n"


def findings_of(*rules: str) -> list[tuple[str, str]]:
    coded = "".join(f"  - {{code: QW-{n}, {rule}}}\n" for n, rule in enumerate(rules, 1))
    definitions = defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD + POSITIONS + ("rules:\n" + coded if rules else ""),
            "catalog/parts.yaml": PARTS,
        }
    )
    return [(finding.code.id, str(finding.message)) for finding in doubts(definitions)]


def test_rules_that_mean_something_are_left_alone():
    assert findings_of("when: 'has(\"fan-slow\")', require: 'empty(\"FAN 3\")'") == []


def test_a_case_that_never_arises():
    assert findings_of("when: 'fans.count > 3', require: 'filled(\"FAN 1\")'") == [
        ("SG371", "the case of `QW-1` never arises")
    ]


def test_a_case_that_another_rule_rules_out():
    found = findings_of(
        "require: 'fans.count <= 2'", "when: 'fans.count == 3', require: 'has(\"fan-fast\")'"
    )
    assert ("SG372", "the case of `QW-2` is ruled out by `QW-1`") in found


def test_a_rule_that_asks_for_what_cannot_be():
    found = findings_of("when: 'has(\"fan-fast\")', require: 'fans.count < 1'")
    assert ("SG372", "`QW-1` asks in its own case for what cannot be") in found


@pytest.mark.parametrize(
    ("rules", "by"),
    [
        (["require: 'fans.count >= 2'"], "what positions, needs and built-in checks demand"),
        (["require: 'fans.count <= 2'", "forbid: 'filled(\"FAN 3\")'"], "`QW-1`"),
    ],
)
def test_a_rule_that_repeats_what_holds_anyway(rules, by):
    assert ("SG373", f"`QW-{len(rules)}` repeats {by}") in findings_of(*rules)


def test_a_part_that_rules_put_out_of_reach():
    found = findings_of("require: 'all(f.airflow >= \"30 CFM\" for f in fans)'")
    assert ("SG374", "rules leave `fan-slow` in no build of any platform") in found


def test_a_position_that_rules_put_out_of_reach():
    found = findings_of("require: 'empty(\"FAN 3\")'")
    assert ("SG374", "rules leave FAN 3 empty in every build of `small`") in found


def test_a_warning_whose_case_never_arises():
    found = findings_of("severity: warning, when: 'fans.count > 3', require: 'filled(\"FAN 1\")'")
    assert found == [("SG371", "the case of `QW-1` never arises")]


def test_a_warning_whose_case_an_error_rules_out():
    found = findings_of(
        "require: 'fans.count <= 2'",
        "severity: warning, when: 'fans.count == 3', require: 'has(\"fan-fast\")'",
    )
    assert ("SG372", "the case of `QW-2` is ruled out by `QW-1`") in found


def test_a_warning_that_asks_for_what_cannot_be():
    found = findings_of("severity: warning, when: 'has(\"fan-fast\")', require: 'fans.count < 1'")
    assert found == [("SG372", "`QW-1` asks in its own case for what cannot be")]


def test_a_warning_that_is_never_broken():
    found = findings_of("severity: warning, require: 'fans.count >= 2'")
    assert found == [("SG373", "`QW-1` repeats what positions, needs and built-in checks demand")]


def test_a_warning_that_means_something_is_left_alone():
    assert findings_of("severity: warning, require: 'fans.count >= 3'") == []


def test_a_rule_that_reads_a_condition_where_it_asks_is_judged_by_its_case():
    never = "when: 'fans.count > 3', require: 'inlet <= \"30 degC\"'"
    assert findings_of(never) == [("SG371", "the case of `QW-1` never arises")]
    assert findings_of("when: 'fans.count == 3', require: 'inlet <= \"30 degC\"'") == []
    assert findings_of("when: 'inlet > \"30 degC\"', require: 'fans.count == 3'") == []
