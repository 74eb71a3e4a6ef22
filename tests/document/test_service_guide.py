"""What a service guide says of a platform: how positions are reached, and what can be ordered."""

from specgen.document.blocks.service_tables import access, covers, spare_parts
from specgen.document.tree import Table, plain_text
from specgen.pipeline import Survey, bare_case


def rows(table: Table | None) -> dict[str, list[str]]:
    assert table is not None
    return {cells[0]: cells[1:] for row in table.rows for cells in [[*map(plain_text, row)]]}


def test_each_sort_of_position_says_how_it_is_reached_and_with_which_tools(demo: Survey):
    definitions = demo.definitions
    assert definitions is not None
    found = rows(access(bare_case(definitions, definitions.platforms["boathouse"])))
    part, swap, first, tools = found["CPU1 to 2"]
    assert (part, swap) == ("Processor", "–")
    order = ["Rear top cover", "MID", "Air baffle", "HS 1 to 2"]
    assert [first.index(each) for each in order] == sorted(first.index(each) for each in order)
    assert "T15" in tools
    assert "T30" in tools
    assert found["FAN 1 to 6"][1:3] == ["yes", "Rear top cover"]
    assert found["PSU 1 to 2"][1:3] == ["yes", "CORD 1 to 2"]


def test_bays_of_one_name_are_told_apart_where_one_is_hot_swap_and_one_is_not(demo: Survey):
    definitions = demo.definitions
    assert definitions is not None
    found = rows(access(bare_case(definitions, definitions.platforms["lantern"])))
    bays = {name: cells[1] for name, cells in found.items() if name.startswith("BAY")}
    assert sorted(bays.values()) == ["no", "yes"]
    (cold,) = (name for name, swap in bays.items() if swap == "no")
    assert cold == "BAY 0 to 3 of Lantern front bays, four 3.5-inch, cold-swap"


def test_spare_parts_are_all_that_fits_with_blanks_and_covers_and_nothing_soldered(demo: Survey):
    definitions = demo.definitions
    assert definitions is not None
    case = bare_case(definitions, definitions.platforms["lantern"])
    found = rows(spare_parts(case))
    assert found["Top cover"] == ["Cover", "QW-081-02", "–"]
    assert found["Bay blank, 3.5-inch"] == ["Blank", "QW-071-05", "BAY 0 to 3"]
    assert found["SAS HDD 4 TB, 3.5-inch, 7200 rpm"][2] == "BAY 0 to 3"
    assert not any("On-board" in name for name in found)
    assert rows(covers(case))["Air baffle"][1] == "Processors, Heat sinks, Memory modules"
