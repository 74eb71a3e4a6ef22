"""Rules that a platform settles: named are only those that some system of it can break."""

import pytest

from specgen.facts.arising import can_break
from specgen.facts.rule_book import rule_book
from tests.mutated.breaks import PLATFORM
from tests.projects import edited, project

WARM = 'inlet <= "27 degC"'


@pytest.mark.parametrize(
    ("rule", "can"),
    [
        (f"when: platform.rack_units == 1, require: '{WARM}'", True),
        (f"when: platform.rack_units == 2, require: '{WARM}'", False),
        (f"when: not platform.rack_units == 1, require: '{WARM}'", False),
        (f"when: platform.rack_units == 2 and fans.count > 3, require: '{WARM}'", False),
        (f"when: platform.rack_units == 2 or fans.count > 3, require: '{WARM}'", True),
        (f"when: 'count(f for f in fans) > 3', require: '{WARM}'", True),
        (f"when: 'any(d.capacity > \"1 TB\" for d in drives)', require: '{WARM}'", False),
        (f"when: 'any(f.airflow > \"1 CFM\" for f in fans)', require: '{WARM}'", True),
        (f"when: has(\"duct\"), require: '{WARM}'", False),
        (f"require: 'platform.rack_units == 1 or {WARM}'", False),
        (f"require: 'platform.rack_units == 2 or {WARM}'", True),
        ("forbid: 'platform.rack_units == 2 and inlet > \"27 degC\"'", False),
        ("forbid: 'platform.rack_units == 1 and inlet > \"27 degC\"'", True),
    ],
)
def test_what_the_platform_settles_is_told_from_what_stays_open(rule: str, can: bool):
    files = edited(PLATFORM, "fixtures:\n", f"rules:\n  - {{code: OWN-01, {rule}}}\nfixtures:\n")
    checked = project(files)
    (assembly, *_) = checked.assemblies.values()
    (own,) = (each for each in rule_book(assembly.definitions).rules if each.code.id == "OWN-01")
    kinds = {each.id for each in assembly.definitions.parts.values() if each.kind == "fan"}
    assert can_break(own, assembly, frozenset(kinds)) is can


def test_a_rule_of_a_part_that_does_not_go_in_is_not_named(demo):
    rules = rule_book(demo.definitions).rules
    own = next(each for each in rules if each.code.id == "LAN-02")
    of = {case.platform.id: case.assembly for case in demo.cases.values()}
    parts = frozenset(demo.definitions.parts)
    assert can_break(own, of["lantern"], parts)
    assert not can_break(own, of["lantern"], parts - {own.owner.id})
    assert not can_break(own, of["capstan"], parts)
