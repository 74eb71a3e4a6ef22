"""What becomes of positions and links when parts are fitted, left out or moved."""

import pytest

from specgen.assembly import State, assemble
from tests.projects import base, edited, project

FULL, SMALL = "configured/lantern-full.yaml", "configured/lantern-small.yaml"
PLATFORM, HOUSE, CARDS = "platforms/lantern.yaml", "catalog/house.yaml", "catalog/cards.yaml"


def full(name=FULL, old="", new=""):
    files = edited(name, old, new) if old else base()
    return project(files).assemblies["lantern-full"]


def small(name=SMALL, old="", new=""):
    files = edited(name, old, new) if old else base()
    return project(files).assemblies["lantern-small"]


def test_a_riser_brings_its_slots():
    assert {"SLOT 1", "SLOT 2"} <= full().places.keys()
    assert full().places["SLOT 1"].host == "RISER 1"
    assert not {"SLOT 1", "SLOT 2"} & small().places.keys()


def test_an_offset_raises_the_numbers_of_what_a_part_brings():
    assert full().places["SLOT 3"].host == "RISER 2"


def test_without_the_second_processor_what_belongs_to_it_cannot_be_used():
    places = small().places
    for name in ("HS 2", "DIMM B1", "RISER 2"):
        assert places[name].state is State.UNUSABLE
        assert str(places[name].reason) == "CPU2 is empty"
    assert places["DIMM A4"].state is State.EMPTY


def test_a_place_that_cannot_be_used_takes_what_its_part_brings_with_it():
    places = full(FULL, "CPU1..CPU2: corvane-c32", "CPU1: corvane-c32").places
    assert places["RISER 2"].state is State.UNUSABLE
    assert places["SLOT 3"].state is State.UNUSABLE
    assert str(places["SLOT 3"].reason) == "CPU2 is empty"


def test_a_place_whose_owner_does_not_exist_cannot_be_used():
    places = full(PLATFORM, "{name: PACK 1..2, takes", "{name: PACK 1..2, of: SLOT 9, takes").places
    assert places["PACK 1"].state is State.UNUSABLE
    assert str(places["PACK 1"].reason) == "there is no SLOT 9"


def test_the_part_of_a_blank_leaves_the_place_empty():
    place = small().places["CPU2"]
    assert place.state is State.EMPTY
    assert place.closed_by is not None
    assert place.closed_by.id == "duct"


def test_a_soldered_part_is_there_without_being_asked_for():
    place = full().places["HUB"]
    assert (place.state, place.how) == (State.FILLED, "fixed")
    assert "HUB.S0" in full().ports


def test_a_card_two_places_wide_blocks_its_neighbour():
    places = full(
        CARDS, "keeps_cache: cache-protection", "keeps_cache: cache-protection\n      places: 2"
    ).places
    assert places["SLOT 2"].state is State.BLOCKED
    assert "SLOT 1" in str(places["SLOT 2"].reason)


ROW = """
id: row
name: Row
family: coast
source: {document: drawing}
summary: Slots in a row
rack_units: 4
size: {width: 482 mm, height: 177 mm, depth: 712 mm}
mass: 20 kg
operating_class: A2
positions:
  - {name: SLOT 1, takes: accelerator, form: card, neighbour: SLOT 2}
  - {name: SLOT 2, takes: accelerator, form: card, neighbour: SLOT 3}
  - {name: SLOT 3..4, takes: accelerator, form: card}
"""


@pytest.mark.parametrize(
    ("width", "blocked", "wrong"),
    [(1, [], ()), (2, ["SLOT 2"], ()), (3, ["SLOT 2", "SLOT 3"], ()),
     (4, ["SLOT 2", "SLOT 3"], ("SG310",))],
)  # fmt: skip
def test_a_wide_card_covers_all_slots_that_lie_side_by_side(width, blocked, wrong):
    files = base() | {
        "platforms/row.yaml": ROW,
        "catalog/wide.yaml": (
            "- {kind: accelerator, id: wide, name: Wide, source: {document: w}, connector: x16, "
            f"lanes: x16, places: {width}}}\n"
        ),
        "configured/row.yaml": (
            "id: row-one\nname: Row\nplatform: row\nsummary: One\npublished: false\n"
            "fit: {SLOT 1: wide}\n"
        ),
    }
    found = project(files)
    places = found.assemblies["row-one"].places
    assert [name for name, place in places.items() if place.state is State.BLOCKED] == blocked
    assert {code for code in found.codes if code == "SG310"} == set(wrong)


def test_a_link_runs_along_a_cable_to_the_port_it_is_plugged_into():
    link = full().links["BAY 0"]
    assert link.owner is not None
    assert link.owner.name == "SLOT 1.C0"
    assert [str(stage.name) for stage in link.stages] == ["FRONT.J0 cable", "BAY 0"]
    assert (link.protocol, link.lanes) == ("sas", 1)


def test_a_link_runs_through_a_connector_of_the_board():
    link = full().links["BAY 4"]
    assert link.owner is not None
    assert link.owner.name == "CPU1.P2"
    assert [str(stage.name) for stage in link.stages] == ["EDGE 1", "FRONT.J1 cable", "BAY 4"]
    assert (link.wired, link.lanes, link.generation) == (4, 4, 5)


def test_a_bay_without_a_cable_cannot_be_used():
    place = full(FULL, "  FRONT.J1: {part: cable-pcie, to: EDGE 1}\n", "").places["BAY 4"]
    assert place.state is State.UNUSABLE
    assert str(place.reason) == "FRONT.J1 has no cable"


def test_a_port_behind_another_leads_to_its_root():
    link = full().links["BOOT.SSD 1"]
    assert link.owner is not None
    assert link.root is not None
    assert (link.owner.name, link.root.name) == ("BOOT.P0", "CPU1.P4")


def test_lanes_are_the_least_along_the_way():
    link = full(HOUSE, "from: .A, lanes: x16, power", "from: .A, lanes: x4, power").links["SLOT 3"]
    assert (link.wired, link.lanes) == (4, 4)


def test_a_part_takes_no_more_lanes_than_it_has():
    link = full(
        HOUSE,
        "from: .A, lanes: x16, power: 75 W}\n    - id: riser-narrow",
        "from: .A, lanes: x16, power: 75 W}\n    - id: riser-slim",
    ).links["SLOT 1"]
    assert link.lanes <= 8


@pytest.mark.parametrize("generation", [3, 4, 5])
def test_the_generation_is_the_least_along_the_way(generation):
    link = full(
        PLATFORM, "EDGE 1: {from: CPU1.P2,", f"EDGE 1: {{from: CPU1.P2, generation: {generation},"
    ).links["BAY 4"]
    assert link.generation == generation


def test_links_in_a_circle_are_found_and_end():
    found = project(edited(PLATFORM, "EDGE 1: {from: CPU1.P2", "EDGE 1: {from: EDGE 1"))
    assert found.codes == ["SG210"]


def test_a_part_nobody_defines_is_reported_once_and_nothing_behind_it():
    found = project(edited(SMALL, "CPU1: corvane-c16s", "CPU1: corvane-c17s"))
    assert found.codes == ["SG201"]
    assert found.assemblies["lantern-small"].places["CPU1"].state is State.UNKNOWN


def test_a_range_that_cannot_be_read_names_no_place():
    found = project(edited(FULL, "to: EDGE 1}", "to: EDGE 1..9999}"))
    assert found.codes == ["SG204"]


def test_resources_are_offered_and_taken():
    pool = full().pools["pcie-8-pin"]
    assert [(who, amount) for who, amount, _ in pool.offered] == [("Lantern", 1)]
    assert [(who, amount) for who, amount, _ in pool.taken] == [("SLOT 2", 1)]


def test_conditions_come_from_the_build_then_the_platform_then_the_project():
    system = full()
    assert str(system.conditions.redundancy) == "1+1"
    assert system.conditions_at["inlet"].file == FULL
    assert system.conditions_at["line"].file == "specgen.yaml"


def test_a_bare_platform_resolves_without_a_build():
    loaded = project(base()).loaded
    assert loaded.definitions is not None
    system = assemble(loaded.definitions, loaded.definitions.platforms["lantern"], None)
    assert system.places["CPU1"].state is State.EMPTY
    assert system.places["DIMM A1"].state is State.UNUSABLE
    assert system.findings == ()


def test_a_part_that_brings_itself_is_found_and_ends():
    again = "brings: {positions: [{name: .X, takes: cache-protection, fixed: pack}]}"
    old = "- {kind: cache-protection, id: pack,"
    found = project(edited(HOUSE, old, f"{old} {again},"))
    assert found.codes == ["SG210"]
    assert len(found.assemblies["lantern-full"].places) < 100
