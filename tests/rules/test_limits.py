"""Each limit holds exactly: at it a build is sound, a step beyond it is not."""

import pytest

from specgen.facts.calculators.cooling import class_limit
from specgen.facts.calculators.storage import LEVELS
from specgen.quantity import Length, Temperature
from tests.projects import edited, project

FULL, SMALL = "configured/lantern-full.yaml", "configured/lantern-small.yaml"
PLATFORM, HOUSE, CARDS = "platforms/lantern.yaml", "catalog/house.yaml", "catalog/cards.yaml"
PROCESSORS = "catalog/processors.yaml"


def codes(file, old, new):
    return project(edited(file, old, new)).codes


def draw(build):
    """What a build of the base project draws at most, in W, added up by hand from its texts."""
    return {
        # board 40, processors 2 x 205, memory 4 x 6, fans 6 x 15, drives 4 x 12 and 2 x 20,
        # controller 20, accelerator 110, adapter 25, mezzanine 18
        "full": 40 + 2 * 205 + 4 * 6 + 6 * 15 + 4 * 12 + 2 * 20 + 20 + 110 + 25 + 18,
        # board 40, memory 3 x 6, fans 4 x 15; the processor and the disks state nothing
        "small": 40 + 3 * 6 + 4 * 15,
    }[build]


@pytest.mark.parametrize(("beyond", "found"), [(0, []), (1, []), (-1, ["SG354"])])
def test_one_supply_may_carry_exactly_the_whole_load(beyond, found):
    output, named = draw("full") + beyond, "name: Supply 1300 W, outputs: [{from: 100 V, to: 127 V"
    old = f"{named}, output: 700 W}}, {{from: 200 V, to: 240 V, output: 1300 W"
    assert (
        codes(HOUSE, old, old.replace("Supply 1300 W", "A").replace("1300", f"{output}")) == found
    )


@pytest.mark.parametrize(("beyond", "found"), [(0, []), (-1, ["SG351"])])
def test_all_supplies_may_carry_exactly_the_whole_load(beyond, found):
    output = draw("small") + beyond
    old = "name: Supply 300 W, outputs: [{from: 100 V, to: 240 V, output: 300 W}"
    assert codes(HOUSE, old, old.replace("Supply 300 W", "A").replace("300", f"{output}")) == found


@pytest.mark.parametrize(
    ("line", "found"), [("240 V", []), ("241 V", ["SG355"]), ("200 V", []), ("199 V", ["SG355"])]
)
def test_a_range_of_line_voltage_holds_to_its_ends(line, found):
    assert codes(FULL, "{inlet: 30 degC, ", f"{{inlet: 30 degC, line: {line}, ") == found


@pytest.mark.parametrize(("tdp", "found"), [(205, []), (204, ["SG331"])])
def test_a_processor_may_reach_the_power_of_its_socket(tdp, found):
    old = "CPU1, takes: processor, socket: tern-a, tdp: 350 W"
    assert codes(PLATFORM, old, old.replace("350", str(tdp))) == found


@pytest.mark.parametrize(("tdp", "found"), [(205, []), (204, ["SG332"])])
def test_a_processor_may_reach_the_power_of_its_heat_sink(tdp, found):
    assert codes(HOUSE, "tdp_limit: 270 W", f"tdp_limit: {tdp} W") == found


@pytest.mark.parametrize(("drives", "found"), [(4, []), (3, ["SG314"])])
def test_a_controller_may_serve_as_many_drives_as_it_says(drives, found):
    assert codes(CARDS, "drives: 8\n", f"drives: {drives}\n") == found


@pytest.mark.parametrize(("limit", "found"), [(96, []), (95, ["SG314"])])
def test_a_processor_may_address_as_much_memory_as_it_says(limit, found):
    assert codes(PROCESSORS, "memory_limit: 256 GiB", f"memory_limit: {limit} GiB") == found


@pytest.mark.parametrize(("power", "found"), [(75, []), (76, ["SG356"])])
def test_a_card_may_draw_what_its_slot_gives(power, found):
    assert codes(CARDS, "power: {maximum: 20 W}", f"power: {{maximum: {power} W}}") == found


@pytest.mark.parametrize(("lanes", "found"), [("x8", []), ("x4", ["SG315"])])
def test_links_may_take_all_lanes_of_a_connector(lanes, found):
    assert (
        codes(
            PLATFORM,
            "EDGE 1: {from: CPU1.P2, lanes: x8",
            f"EDGE 1: {{from: CPU1.P2, lanes: {lanes}",
        )
        == found
    )


@pytest.mark.parametrize(
    ("splits", "found"),
    [
        ("[8+8, 4+4+4+4]", []),
        ("[8+4+4, 4+4+4+4]", ["SG316"]),
        ("[4+4+8, 8+8]", []),
        ("[]", ["SG316", "SG316"]),
    ],
)
def test_a_port_splits_into_the_widths_it_lists(splits, found):
    assert codes(PROCESSORS, "splits: [8+8, 4+4+4+4]", f"splits: {splits}") == found


@pytest.mark.parametrize(("inlet", "found"), [("35 degC", []), ("35.1 degC", ["SG335"])])
def test_inlet_air_may_be_as_warm_as_the_class_allows(inlet, found):
    assert codes(FULL, "inlet: 30 degC", f"inlet: {inlet}") == found


# Source: ASHRAE TC 9.9, Thermal Guidelines, 5th ed. 2021, table 2.1; derating from memory.
ALTITUDES = {
    "A1": {0: "32", 900: "32", 1500: "30", 1800: "29", 2000: "28.333", 3000: "25", 3050: "24.833"},
    "A2": {0: "35", 900: "35", 1500: "33", 1800: "32", 2000: "31.333", 3000: "28", 3050: "27.833"},
    "A3": {900: "40", 1500: "36.571", 1800: "34.857", 2000: "33.714", 3000: "28", 3050: "27.714"},
    "A4": {900: "45", 1500: "40.2", 1800: "37.8", 2000: "36.2", 3000: "28.2", 3050: "27.8"},
}


@pytest.mark.parametrize("name", sorted(ALTITUDES))
def test_a_class_allows_less_the_higher_it_is(name):
    for altitude, limit in ALTITUDES[name].items():
        found = class_limit(name, Length.of(altitude)).in_unit("degC")
        assert (
            abs(found - Temperature.parse(f"{limit} degC").in_unit("degC"))
            < Temperature.parse("0.01 degC").amount
        )


# Source: DMTF Volume.json, RAIDType descriptions, which follow SNIA DDF; two groups at 50 and 60.
MEMBERS = {0: 2, 1: 2, 5: 3, 6: 4, 10: 4, 50: 6, 60: 8}


def test_the_least_number_of_members_is_the_published_one():
    groups = {50: 2, 60: 2}
    least = {level: max(2, kind.least) for level, kind in LEVELS.items()}
    assert {level: count * groups.get(level, 1) for level, count in least.items()} == MEMBERS


@pytest.mark.parametrize("level", [0, 1, 5, 6, 10])
def test_a_volume_may_have_just_enough_drives(level):
    for count in range(1, 5):
        volume = f"{{name: Data, level: {level}, drives: BAY 0..{count - 1}}}"
        files = edited(FULL, "{name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}", volume)
        wanted = [] if count >= MEMBERS[level] and (level != 10 or count % 2 == 0) else ["SG343"]
        assert project(files).codes == wanted
