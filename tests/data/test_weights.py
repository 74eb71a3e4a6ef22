"""One weight of a build, whoever prints it; and no chassis taken for a server."""

import json
from decimal import Decimal

import pytest

from specgen.document.data import build_data, parts_list
from specgen.facts.empty_chassis import OF_ANY
from specgen.pipeline import bare_case
from specgen.quantity import Mass
from specgen.write import redfish
from tests.projects import SHARES


@pytest.mark.parametrize("share", SHARES)
def test_every_format_prints_one_weight(demo, share):
    for name, case in share(demo).items():
        weight = case.facts.value("mechanics.mass").in_unit("kg")
        listed = parts_list(((case, 1),))
        assert listed.kilograms == weight, name
        lines = sum((line.kilograms or Decimal(0) for line in listed.lines), Decimal(0))
        assert lines + listed.kilograms_soldered == weight, name
        data = build_data(case)
        (fact,) = (fact for fact in data.facts if fact.key == "mechanics.mass")
        assert fact.exact == weight, name
        chassis = json.loads(redfish.text(data))[f"/redfish/v1/Chassis/{name}"]
        assert Decimal(str(chassis["WeightKg"])) == fact.value, name


def test_two_of_a_build_weigh_twice_as_much_soldered_parts_too(demo):
    case = demo.cases["pocket-tide-gauge"]
    one, two = (parts_list(((case, count),)) for count in (1, 2))
    assert one.kilograms_soldered > 0
    assert (two.kilograms, two.kilograms_soldered) == (
        2 * one.kilograms,
        2 * one.kilograms_soldered,
    )


def test_a_bare_platform_has_no_value_of_a_server(demo):
    """What is summed over what is fitted has none; what the chassis declares has one."""
    for platform in demo.definitions.platforms.values():
        facts = bare_case(demo.definitions, platform).facts
        for key in (
            *("mechanics.mass", "mechanics.lifting", "mechanics.rack_mass", "power.maximum"),
            *("power.board.maximum", "processors.count", "memory.capacity", "storage.drives"),
            *("cooling.inlet_limit", "noise.sound_power", "network.ports", "cooling.fans"),
        ):
            assert facts.value(key) is None, (platform.id, key)
        assert facts.value("mechanics.chassis_mass") == platform.mass
        assert facts.value("mechanics.depth") == platform.size.depth
        assert facts.value("cooling.class_limit") is not None
        known = [key for key in OF_ANY if key in facts and facts.value(key) is not None]
        assert known, platform.id
        assert isinstance(facts.value("mechanics.chassis_mass"), Mass)
