"""What a service guide says of a platform: how positions are reached, and what can be ordered."""

from dataclasses import replace
from decimal import Decimal

from specgen.document.blocks.procedures import access, procedures
from specgen.document.blocks.service_tables import covers, spare_parts
from specgen.document.case import Case
from specgen.document.service.sorts import work_on
from specgen.document.service.steps import Procedure, merged, procedure_of
from specgen.document.shared_texts import ANY, texts_of
from specgen.document.tree import Cell, Heading, Table, plain_text
from specgen.document.tree_walks import anchors_of, targets_of
from specgen.messages import Message
from specgen.model import KINDS
from specgen.pipeline import Survey, bare_case
from specgen.quantity import Mass
from specgen.shipped import templates_folder


def bare(demo: Survey, platform: str) -> Case:
    definitions = demo.definitions
    assert definitions is not None
    return bare_case(definitions, definitions.platforms[platform])


def rows(table: Table | None) -> dict[str, list[str]]:
    assert table is not None
    return {cells[0]: cells[1:] for row in table.rows for cells in [[*map(plain_text, row)]]}


def test_each_sort_of_position_says_how_it_is_reached_and_with_which_tools(demo: Survey):
    found = rows(access(bare(demo, "boathouse"), texts_of(templates_folder(), None)))
    part, who, power, first, tools = found["CPU1 to 2"]
    assert (part, who, power) == ("Processor", "qualified personnel", "off")
    order = ["Rear top cover", "MID", "Air baffle", "HS 1 to 2"]
    assert [first.index(each) for each in order] == sorted(first.index(each) for each in order)
    assert "T15" in tools
    assert "T30" in tools
    assert found["FAN 1 to 6"][1:4] == ["qualified personnel", "on", "Rear top cover"]
    assert found["PSU 1 to 2"][1:4] == ["user", "on", "CORD 1 to 2"]


def test_bays_of_one_name_are_told_apart_where_one_is_hot_swap_and_one_is_not(demo: Survey):
    found = rows(access(bare(demo, "lantern"), texts_of(templates_folder(), None)))
    bays = {name: cells[2] for name, cells in found.items() if name.startswith("BAY")}
    assert sorted(bays.values()) == ["off", "on"]
    (cold,) = (name for name, swap in bays.items() if swap == "off")
    assert cold == "BAY 0 to 3 of Lantern front bays, four 3.5-inch, cold-swap"


def test_spare_parts_are_all_that_fits_with_blanks_and_covers_and_nothing_soldered(demo: Survey):
    case, texts = bare(demo, "lantern"), texts_of(templates_folder(), None)
    found = rows(spare_parts(case, texts))
    assert found["Top cover"] == ["Cover", "QW-081-02", "–"]
    assert found["Bay blank, 3.5-inch"] == ["Blank", "QW-071-05", "BAY 0 to 3"]
    assert found["SAS HDD 4 TB, 3.5-inch, 7200 rpm"][2] == "BAY 0 to 3"
    assert not any("On-board" in name for name in found)
    assert rows(covers(case, texts))["Air baffle"][1] == "Processors, Heat sinks, Memory modules"


def made(demo: Survey, platform: str) -> dict[str, Procedure]:
    case = bare(demo, platform)
    work, texts = work_on(case), texts_of(templates_folder(), None)
    found = {}
    for sort in work.sorts:
        bringer = f" of {sort.bringers[0].id}" if sort.bringers else ""
        found[sort.names[0] + bringer] = procedure_of(case, texts, work, sort)
    return found


def said(steps: tuple[Cell, ...]) -> list[str]:
    return [*map(plain_text, steps)]


def test_what_is_hot_swap_and_reached_from_outside_is_for_users_while_the_server_runs(demo: Survey):
    found = made(demo, "lantern")
    hot, cold = (found[f"BAY 0 of lantern-bays-4l{each}"] for each in ("", "-cold"))
    assert (hot.running, hot.who) == (True, "user")
    assert (cold.running, cold.who) == (False, "qualified")
    assert any("supply cord" in step for step in said(cold.removal))
    assert not any("supply cord" in step for step in said(hot.removal))
    assert found["PSU 1"].running


def test_fans_that_turn_under_an_open_cover_are_warned_of_and_are_for_qualified_personnel(
    demo: Survey,
):
    fans = made(demo, "beacon")["FAN 1"]
    assert fans.running
    assert fans.who == "qualified"
    assert "moving-parts" in [caution.id for caution in fans.cautions]


def test_refitting_is_removal_backwards(demo: Survey):
    found = made(demo, "boathouse")["CPU1"]
    out, back = said(found.removal), said(found.installation)
    covers = ("Rear top cover", "Air baffle")
    opened = [name for step in out for name in covers if step.startswith(name)]
    closed = [name for step in back for name in covers if step.startswith(name)]
    assert opened == [*covers]
    assert closed == [*reversed(covers)]
    assert back[-1] == "Connect the supply cords and switch on."
    taken = [step for step in out if step.startswith("Take out what sits in")]
    refitted = [step for step in back if step.startswith("Refit what sat in")]
    where = [step.split(" in ", 1)[1].split(",")[0].rstrip(".") for step in taken]
    assert where
    assert where == [step.split(" in ", 1)[1].rstrip(".") for step in reversed(refitted)]


def test_cautions_are_those_that_a_part_gives_cause_for(demo: Survey):
    found = made(demo, "lantern")
    assert [each.id for each in found["PACK 1"].cautions] == ["batteries"]
    assert [each.id for each in found["OCP.PORT 1"].cautions] == ["laser-light"]
    capacitors = tuple(x for x in found["PACK 1"].sort.parts if "capacitor" in x.name)
    assert capacitors
    case, texts = bare(demo, "lantern"), texts_of(templates_folder(), None)
    only = replace(found["PACK 1"].sort, parts=capacitors)
    assert procedure_of(case, texts, work_on(case), only).cautions == ()


def test_a_part_too_heavy_for_one_is_told_with_what_it_weighs(demo: Survey):
    # Source: ISO 11228-1:2021, 20 kg for all adults; the threshold is `mechanics.lifting_persons`
    case, texts = bare(demo, "lantern"), texts_of(templates_folder(), None)
    sort = made(demo, "lantern")["FRONT"].sort
    for mass, told in (("20 kg", 0), ("20.1 kg", 1)):
        amount, unit = mass.split()
        heavy = replace(sort.parts[0], mass=Mass.of(Decimal(amount), unit))
        found = procedure_of(case, texts, work_on(case), replace(sort, parts=(heavy,)))
        assert len(found.heavy) == told


def test_steps_of_several_kinds_are_one_order_with_alike_ones_once():
    assert merged((("a", "b", "c"), ("x", "b", "c"), ("b", "y"))) == ("a", "x", "b", "y", "c")
    assert merged((("a",), ("b",))) == ("a", "b")
    assert merged((("a",), ())) == ("a",)


def test_every_shipped_kind_that_goes_into_a_position_has_steps_of_its_own_or_those_of_any():
    texts = texts_of(templates_folder(), None)
    assert not {*texts.service} - {*KINDS, ANY}
    for kind in KINDS:
        found = texts.service_of(kind)
        assert found.remove, kind
        assert found.install, kind
    known = {caution.id for caution in texts.cautions}
    assert {id_ for each in texts.service.values() for id_ in each.cautions} <= known


def test_each_procedure_has_a_heading_and_all_ways_within_the_guide_lead_somewhere(demo: Survey):
    case, texts = bare(demo, "boathouse"), texts_of(templates_folder(), None)
    blocks = procedures(case, texts)
    headings = [block.anchor for block in blocks if isinstance(block, Heading)]
    assert len({*headings}) == len(headings) == len(work_on(case).sorts)
    steps = [step for each in made(demo, "boathouse").values() for step in each.removal]
    messages = [inline for step in steps for inline in step if isinstance(inline, Message)]
    cells = [value for each in messages for value in each.named.values()]
    found = [target for cell in cells if isinstance(cell, tuple) for target in targets_of(cell)]
    led = {target.removeprefix("#") for target in found}
    assert led
    assert led <= {*anchors_of(blocks)}
