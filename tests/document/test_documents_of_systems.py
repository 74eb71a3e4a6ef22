"""Guides, comparisons, site preparation, information, parts, briefs, reviews: what each holds."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

import pytest

from specgen.assembly import State
from specgen.document.blocks import compared_systems, ordered, review, walk
from specgen.document.blocks.choices import where
from specgen.document.blocks.glossary import glossary
from specgen.document.blocks.supply_choice import supply_choice
from specgen.document.case import Case, FamilyCase, no_systems
from specgen.document.cells.cell_makers import cell_of
from specgen.document.data import parts_list
from specgen.document.document_types import system_document
from specgen.document.figures import callouts, pictures
from specgen.document.maker import AuthorError
from specgen.document.sets import comparison_document, order_document
from specgen.document.several import Compared, Order
from specgen.document.shared_texts import Texts, texts_of
from specgen.document.shelf import templates_of
from specgen.document.side_by_side import SMALL, side_by_side, sides, unlisted
from specgen.document.template import Templates
from specgen.document.tree import (
    Caution,
    Document,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Strong,
    Table,
    Value,
    plain_text,
    words,
)
from specgen.document.tree_image import Image
from specgen.document.used_terms import used_only
from specgen.drawings import LayoutEngine, front, nowhere, rear, written
from specgen.facts import Facts
from specgen.facts.orders import ORDER_FACTS
from specgen.limits.reachable import possible
from specgen.model import Definitions, PowerSupply
from specgen.pipeline import Survey, bare_case, case_of, example_of, systems_of
from specgen.quantity import Power, Ratio
from specgen.shipped import templates_folder
from specgen.write.writer_options import Options
from specgen.write.writers import WRITERS
from tests.document.test_every_value_is_a_fact import (
    declared_texts,
    field_key,
    keys_of,
    loose_numbers,
    pieces,
)

OF_BUILDS = ("site-preparation", "parts-list", "information", "presenters-brief", "review")
BUILDS = ("lantern-office", "boathouse-archive", "capstan-forecast", "pocket-lamp-room")
MADE_KEYS = re.compile(
    r"parts\.|callouts\.|order\.|assumptions\.|[a-z0-9.-]+\.(positions|options|fixtures|builds)$"
    r"|.+\.outputs\.\d+\.carried_\d$|.+\.review\.|[a-z0-9-]+\.(parts|positions|limits)\."
)


@pytest.fixture(scope="module")
def templates(demo: Survey) -> Templates:
    return templates_of(demo.root)


def drawn(case: Case) -> dict[str, object]:
    return pictures(case, LayoutEngine(), nowhere, [])  # type: ignore[return-value]


def document_of(name: str, templates: Templates, case: Case) -> Document:
    document, problems = system_document(name, templates, case, drawn(case), no_systems)  # type: ignore[arg-type]
    assert document is not None, problems
    assert problems == ()
    return document


def guide_of(demo: Survey, templates: Templates, name: str) -> Document:
    definitions = demo.definitions
    assert definitions is not None
    platform = definitions.platforms[name]
    shown = example_of(definitions, platform)
    document, problems = system_document(
        "guide",
        templates,
        bare_case(definitions, platform),
        drawn(shown),  # type: ignore[arg-type]
        systems_of(definitions),
        family_of(definitions),
        shown,
    )
    assert document is not None, problems
    return document


def family_of(definitions: Definitions) -> FamilyCase:
    bare = {name: bare_case(definitions, each) for name, each in definitions.platforms.items()}
    return FamilyCase(definitions, bare, {})


def compared_of(demo: Survey, *names: str, only: bool = False) -> Compared:
    definitions = demo.definitions
    assert definitions is not None
    cases = tuple(
        demo.cases[name]
        if name in demo.cases
        else bare_case(definitions, definitions.platforms[name])
        for name in names
    )
    shown = tuple(case if case.build else example_of(definitions, case.platform) for case in cases)
    return Compared(definitions, cases, only, shown)


def order_of(demo: Survey, **counts: int) -> Order:
    definitions = demo.definitions
    assert definitions is not None
    lines = tuple((demo.cases[name.replace("_", "-")], count) for name, count in counts.items())
    return Order(definitions, lines)


STANDARDS = ("OCP NIC 3.0", "Regulation (EU) 2019/424", "TC 9.9")


def known_texts(*cases: Case) -> list[str]:
    """What the definitions behind the systems say, and names of standards."""
    found = set(STANDARDS)
    for case in cases:
        found |= set(declared_texts(case.definitions, case))
        found |= {(fixture.note or "").rstrip(".") for fixture in case.platform.fixtures}
        found |= {str(fact.label).partition(" from ")[0] for fact in case.facts.values()}
    return sorted(found - {""}, key=len, reverse=True)


def unknown_keys(document: Document, *cases: Case) -> list[str]:
    """Printed values that name neither a fact nor a field of a definition."""
    known = {key for case in cases for key in case.facts}
    known |= {f"{(case.build or case.platform).id}.{key}" for case in cases for key in case.facts}
    for part in cases[0].definitions.parts.values():
        known |= keys_of(part)
    return [
        f"{piece.number} {piece.unit} [{piece.key}]"
        for piece in pieces(document.blocks)
        if isinstance(piece, Value)
        and piece.key not in known
        and not MADE_KEYS.match(piece.key)
        and not field_key(piece.key, cases[0].definitions)
    ]


def tables(document: Document) -> Iterator[Table]:
    yield from (block for block in document.blocks if isinstance(block, Table))


def words_of(table: Table | None) -> list[list[str]]:
    assert table is not None
    return [[plain_text(cell) for cell in row] for row in table.rows]


@pytest.mark.parametrize("name", OF_BUILDS)
@pytest.mark.parametrize("build", BUILDS)
def test_what_is_printed_of_a_build_is_a_fact(
    demo: Survey, templates: Templates, build: str, name: str
) -> None:
    case = demo.cases[build]
    document = document_of(name, templates, case)
    assert unknown_keys(document, case) == []
    assert loose_numbers(document, known_texts(case)) == []
    assert said_twice(document) == []


def said_twice(document: Document) -> list[str]:
    """Captions that repeat the heading right above them."""
    return [
        plain_text(heading.children)
        for heading, below in pairwise(document.blocks)
        if isinstance(heading, Heading) and isinstance(below, Table)
        if plain_text(heading.children) == plain_text(words(below.title))
    ]


@pytest.mark.parametrize("name", ["lantern", "capstan", "pocket"])
def test_what_a_guide_prints_is_a_fact(demo: Survey, templates: Templates, name: str) -> None:
    document = guide_of(demo, templates, name)
    definitions = demo.definitions
    assert definitions is not None
    bare = [bare_case(definitions, platform) for platform in definitions.platforms.values()]
    shown = example_of(definitions, definitions.platforms[name])
    assert loose_numbers(document, known_texts(*bare, shown)) == []
    assert unknown_keys(document, *bare, *demo.cases.values()) == []


@pytest.mark.parametrize(
    "names", [("lantern", "beacon", "boathouse"), ("lantern-office", "boathouse-archive")]
)
def test_what_a_comparison_prints_is_a_fact(
    demo: Survey, templates: Templates, names: tuple[str, ...]
) -> None:
    compared = compared_of(demo, *names)
    document, problems = comparison_document(templates, compared)
    assert document is not None, problems
    assert unknown_keys(document, *compared.cases) == []
    assert loose_numbers(document, known_texts(*compared.cases)) == []


# --- comparison ---


def test_a_comparison_can_leave_out_what_is_alike(demo: Survey) -> None:
    names = ("lantern-office", "boathouse-archive")
    every = words_of(compared_systems.comparison(compared_of(demo, *names), "T", "memory"))
    some = words_of(
        compared_systems.comparison(compared_of(demo, *names, only=True), "T", "memory")
    )
    assert {row[0] for row in some} < {row[0] for row in every}
    assert all(first != second for _, first, second in some)


def test_rows_that_differ_are_strong_among_all_rows(demo: Survey) -> None:
    table = compared_systems.comparison(
        compared_of(demo, "lantern", "beacon"), "T", "memory", "processors"
    )
    assert table is not None
    strong = {plain_text(row[0]): isinstance(row[0][0], Strong) for row in table.rows}
    assert strong == {"Memory slots": True, "Processor sockets": False}


def test_differences_are_reported_in_words_from_the_least_to_the_most(demo: Survey) -> None:
    (listing,) = compared_systems.differences(
        compared_of(demo, "beacon", "lantern", "boathouse"),
        ("memory.slots", "mechanics.rack_units"),
    )
    got = [plain_text(item[0].children) for item in listing.items]  # type: ignore[union-attr]
    assert "Memory slots: 16 in Lantern and Boathouse; 32 in Beacon." in got
    assert not any(line.startswith("Processor sockets") for line in got)


def test_systems_that_are_alike_are_said_to_be(demo: Survey) -> None:
    (only,) = compared_systems.differences(compared_of(demo, "lantern-office", "lantern-office"))
    assert plain_text(only.children) == "The values compared do not differ."  # type: ignore[union-attr]


def test_parts_are_compared_where_their_numbers_differ(demo: Survey) -> None:
    compared = compared_of(demo, "lantern-office", "lantern-relay")
    for _, _, *counts in words_of(compared_systems.parts(compared)):
        assert len(set(counts)) > 1


def test_a_subject_that_nobody_has_is_a_mistake_with_a_hint(demo: Survey) -> None:
    with pytest.raises(AuthorError, match="no subject is named `memry`") as got:
        compared_systems.comparison(
            compared_of(demo, "lantern-office", "boathouse-archive"), "T", "memry"
        )
    assert "memory" in str(got.value.help)


# --- pictures ---


def test_pictures_beside_one_another_have_one_scale(demo: Survey) -> None:
    one, two = (demo.cases[name].assembly for name in ("lantern-office", "boathouse-archive"))
    cut = [front(assembly).bare for assembly in (one, two)]
    heights = [float(each.platform.size.height.in_unit("mm")) for each in (one, two)]
    # outlines: 1.5 points a millimetre, the same for both
    assert cut[0].height / heights[0] == pytest.approx(cut[1].height / heights[1])
    drawn = written(side_by_side("front", [("A", one), ("B", two)]).picture)
    assert drawn.count('class="case"') >= 4
    assert ">A</text>" in drawn
    assert ">B</text>" in drawn


def test_a_small_picture_says_all_that_the_large_ones_say(demo: Survey) -> None:
    assembly = demo.cases["boathouse-archive"].assembly
    sheet = sides(assembly)
    got = " ".join(sheet.text)
    for each in (*front(assembly).callouts, *rear(assembly).callouts):
        assert f"{each.position}: {each.what}." in got
    assert "Numbers" not in got
    assert sheet.width < 2 * front(assembly).width * SMALL + 60
    assert not any(getattr(shape, "pen", "") == "flag" for shape in sheet.shapes)


def test_a_picture_without_its_list_keeps_its_numbers(demo: Survey) -> None:
    assembly = demo.cases["boathouse-archive"].assembly
    drawn = written(unlisted("front", assembly).picture)
    count = len(front(assembly).callouts)
    assert drawn.count("label-flag") == count
    assert "Power</text>" not in drawn


# --- site preparation ---


def test_an_order_is_summed(demo: Survey) -> None:
    order = order_of(demo, lantern_office=3, boathouse_archive=1)
    facts = order.facts
    one, two = (case.facts for case, _ in order.lines)
    summed = [each for each in ORDER_FACTS if each.each]
    for each in summed:
        of = each.of[0]
        assert facts.value(f"order.{each.key}") == one[of].value * 3 + two[of].value  # type: ignore[operator]
    assert len(summed) > 10
    assert facts.value("order.servers") == 4
    limit = facts.value("order.inlet_limit")
    assert limit == min(one["cooling.inlet_limit"].value, two["cooling.inlet_limit"].value)  # type: ignore[type-var]


@pytest.mark.arithmetic("noise", "levels add on the linear scale")
def test_two_systems_alike_are_three_decibels_louder(demo: Survey) -> None:
    one = demo.cases["lantern-office"].facts["noise.sound_power"].value
    facts = order_of(demo, lantern_office=2).facts
    both = facts.value("order.sound_power")
    assert both.amount - one.amount == pytest.approx(Decimal("0.30103"), abs=Decimal("0.0001"))  # type: ignore[union-attr]


def test_currents_of_different_line_voltages_are_not_added(demo: Survey) -> None:
    alike = order_of(demo, lantern_office=3, boathouse_archive=1).facts
    one, two = (demo.cases[name].facts for name in ("lantern-office", "boathouse-archive"))
    total = one["power.current"].value * 3 + two["power.current"].value  # type: ignore[operator]
    assert alike.value("order.current") == total
    apart = order_of(demo, lantern_office=3, lantern_island=1).facts  # 230 V and 120 V
    assert apart.value("order.current") is None
    assert apart.value("order.input") is not None
    assert apart.value("order.current.lantern-island") is not None


def test_a_sum_lacks_what_one_of_its_builds_lacks(demo: Survey) -> None:
    case = demo.cases["lantern-office"]
    gone = {key: fact for key, fact in case.facts.items() if key != "cooling.airflow_needed"}
    poorer = replace(case, facts=Facts.plain(gone.values()))
    order = Order(case.definitions, ((case, 1), (poorer, 1)))
    assert order.facts.value("order.airflow") is None


def test_one_system_has_no_sums(demo: Survey, templates: Templates) -> None:
    alone, problems = order_document(templates, order_of(demo, lantern_office=1))
    assert alone is not None, problems
    titles = {column.title for table in tables(alone) for column in table.columns}
    assert not any(title.endswith(", all") for title in titles)
    assert alone == document_of("site-preparation", templates, demo.cases["lantern-office"])


def test_site_preparation_cautions_where_work_can_hurt(demo: Survey, templates: Templates) -> None:
    document, _ = order_document(templates, order_of(demo, lantern_office=3, boathouse_archive=1))
    assert document is not None
    subjects = [block.subject for block in document.blocks if isinstance(block, Caution)]
    assert {"mains power", "lifting", "laser light"} <= set(subjects)
    assert len(subjects) == len(set(subjects))


def test_what_hurts_at_one_server_is_said_whichever_is_ordered_first(
    demo: Survey, templates: Templates
) -> None:
    """Two cords at the office's server, one at the hut's: all must be pulled before service."""
    for order in (
        order_of(demo, pocket_radio_hut=1, lantern_office=1),
        order_of(demo, lantern_office=1, pocket_radio_hut=1),
    ):
        document, _ = order_document(templates, order)
        assert document is not None
        [mains] = (
            block
            for block in document.blocks
            if isinstance(block, Caution) and block.subject == "mains power"
        )
        said = _said(mains)
        assert said.count("more than one supply cord, disconnect every one before service") == 1
    alone, _ = order_document(templates, order_of(demo, pocket_radio_hut=1))
    assert alone is not None
    every = (block for block in alone.blocks if isinstance(block, Caution))
    assert not any("more than one supply cord" in _said(each) for each in every)


def test_a_guide_warns_of_what_hurts_at_any_build_of_the_platform(
    demo: Survey, templates: Templates
) -> None:
    """Lantern is shown by a build on AC; another one is fed with direct current."""
    guide = guide_of(demo, templates, "lantern")
    cautions = {each.subject: each for each in guide.blocks if isinstance(each, Caution)}
    assert {"mains power", "DC supply"} <= set(cautions)
    assert "Where a server has more than one supply cord" in _said(cautions["mains power"])
    assert "This server" not in " ".join(map(_said, cautions.values()))


def _said(caution: Caution) -> str:
    paragraphs = (each for each in caution.children if isinstance(each, Paragraph))
    return " ".join(plain_text(each.children) for each in paragraphs)


def test_the_load_of_the_power_supplies_is_told_apart_from_that_of_the_parts(
    demo: Survey, templates: Templates
) -> None:
    """Where something is lost between them: of the office's 667.6 W, 4 %."""
    definitions = demo.definitions
    assert definitions is not None
    assumed = definitions.project.assumptions
    assert assumed.board_loss is not None
    lost = replace(assumed, board_loss=replace(assumed.board_loss, value=Ratio.of(4)))
    project = replace(definitions.project, assumptions=lost)
    case = case_of(replace(definitions, project=project), definitions.builds["lantern-office"])
    assert case is not None
    [loads] = (
        each
        for each in tables(document_of("sheet", templates, case))
        if each.anchor == "power-table"
    )
    assert "up to 694 W at the output of the power supplies" in plain_text(loads.note)
    [loads] = (
        each
        for each in tables(document_of("sheet", templates, demo.cases["lantern-office"]))
        if each.anchor == "power-table"
    )
    assert plain_text(loads.note).startswith("At the output of the power supplies;")


# --- parts list ---


def test_a_parts_list_holds_what_the_parts_command_lists(demo: Survey) -> None:
    order = order_of(demo, lantern_office=2, boathouse_archive=1)
    lines = parts_list(order.lines).lines
    table = ordered.parts(order)
    assert table is not None
    *rows, total = words_of(table)
    assert [row[0] for row in rows] == [line.name for line in lines]
    assert [row[3] for row in rows] == [str(line.quantity) for line in lines]
    assert total[0] == "Sum"


# --- information sheet ---


def test_the_information_sheet_lists_what_is_missing(demo: Survey, templates: Templates) -> None:
    document = document_of("information", templates, demo.cases["boathouse-archive"])
    lists = [each for each in document.blocks if isinstance(each, Listing)]
    got = [plain_text(item[0].children) for each in lists for item in each.items]  # type: ignore[union-attr]
    assert "(d) year of manufacture" in got
    assert "(c) low-end and high-end configuration of the family" in got
    tables = {each.anchor: each for each in document.blocks if isinstance(each, Table)}
    by_letter = {tuple(row[:2]): row[2] for row in words_of(tables["information-table"])}
    assert by_letter["(d)", "Year of manufacture"] == "not declared"
    assert by_letter["(c)", "Model number"].endswith(", of platform QP4000")
    assert by_letter["(o)", "Chassis that blades go with"] == "does not apply: no blade server"
    assert "Boathouse archive" in by_letter["(p)", "Configurations of the family covered"]


# --- presenter's brief ---


def test_a_brief_follows_the_numbers_and_says_nothing_twice(demo: Survey) -> None:
    case, texts = demo.cases["boathouse-archive"], texts_of(templates_folder(), None)
    got: set[str] = set()
    spoken: list[str] = []
    for side in walk.SIDES:
        rows = words_of(walk.briefing(case, texts, side, got))
        assert [row[0] for row in rows] == [str(each.number) for each in callouts(case, side)]
        spoken += [row[2] for row in rows]
    raw = plain_text(cell_of(case.facts, "storage.raw"))
    assert sum(raw in line for line in spoken) == 1


def test_a_brief_warns_of_mains_and_fans(demo: Survey) -> None:
    case, texts = demo.cases["boathouse-archive"], texts_of(templates_folder(), None)
    warnings = {
        row[1]: row[3] if len(row) > 3 else "–"  # a side without warnings has no column of them
        for side in walk.SIDES
        for row in words_of(walk.briefing(case, texts, side, set()))
    }
    assert "Hazardous voltage" in warnings["PSU 1 to 2"]
    assert "while it turns" in warnings["FAN 1 to 6"]
    assert warnings["Power"] == "–"


# --- review sheet ---


def test_ages_are_counted_to_the_documents_date(demo: Survey) -> None:
    case = demo.cases["lantern-office"]
    build = case.build
    assert build is not None
    later = replace(build, date=date(2027, 5, 20))  # a year after
    moved = replace(case, assembly=replace(case.assembly, build=later))
    for before, after in zip(
        words_of(review.sourced(case)), words_of(review.sourced(moved)), strict=True
    ):
        assert int(after[4].split()[0]) == int(before[4].split()[0]) + 365


def test_what_lacks_a_source_comes_first_and_only_there(demo: Survey, templates: Templates) -> None:
    document = document_of("review", templates, demo.cases["lantern-office"])
    first, second = [table for table in tables(document) if "Values" in table.columns[-1].title
                     or table.anchor in ("open-table", "sourced-table")]  # fmt: skip
    assert (first.anchor, second.anchor) == ("open-table", "sourced-table")
    lacking = {row[0] for row in words_of(first) if row[1] != "no value"}
    assert "Assumption: rebuild rate" in lacking
    assert lacking.isdisjoint(row[0] for row in words_of(second))
    ages = [int(row[4].split()[0]) for row in words_of(second)]
    assert ages == sorted(ages, reverse=True)


def test_a_review_says_where_a_missing_value_belongs(demo: Survey) -> None:
    case = demo.cases["lantern-office"]
    rows = {row[0]: row for row in words_of(review.open_points(case))}
    board = case.assembly.places["BMC"].part
    assert board is not None
    at = board.origin.at("id")
    assert rows[f"BMC: {board.name}: weight"][3] == f"{at.file}:{at.line}"
    assert rows["measured: sound power"][3] == "–"  # of no part
    assert not [row for row in rows.values() if row[3].endswith(":0")]


def test_a_review_takes_no_default_for_a_declaration(demo: Survey) -> None:
    values = {row[0]: row[1] for row in words_of(review.sourced(demo.cases["lantern-office"]))}
    assert "Several outputs" not in values["Power supply 1000 W, 60 mm"]
    assert "Efficiency at 50 %: 96.2 %" in values["Power supply 1000 W, 60 mm"].replace(
        "\u202f", " "
    )


# --- guide ---


def test_supplies_carry_what_is_left_after_failures(demo: Survey) -> None:
    definitions = demo.definitions
    assert definitions is not None
    case = bare_case(definitions, definitions.platforms["capstan"])
    table = supply_choice(case)
    assert table is not None
    titles = [str(column.title) for column in table.columns]
    assert titles[5:9] == ["All carry", "After one failed", "After two failed",
                           "After three failed"]  # fmt: skip
    for row in words_of(table):
        part = next(each for each in definitions.parts.values() if each.name == row[0])
        assert isinstance(part, PowerSupply)
        loads = [Power.parse(text.replace("\u202f", "")) for text in row[5:9]]
        one = Power.parse(row[4].replace("\u202f", ""))
        assert loads == [one * 4, one * 3, one * 2, one]


LISTING = ("supply-choice-table", "further-parts-table")


def test_a_guide_offers_what_goes_in_once_and_nothing_withdrawn(
    demo: Survey, templates: Templates
) -> None:
    definitions = demo.definitions
    assert definitions is not None
    found = possible(bare_case(definitions, definitions.platforms["lantern"]).assembly)
    assert not any(definitions.parts[name].life.status == "discontinued" for name in found)
    document = guide_of(demo, templates, "lantern")
    chosen = [
        name
        for table in tables(document)
        if table.anchor.endswith(("-choices", "-alternatives")) or table.anchor in LISTING
        for name in dict.fromkeys(
            plain_text(row[0]).split(", last-time buy")[0] for row in table.rows
        )
    ]
    assert sorted(chosen) == sorted(definitions.parts[name].name for name in found)


def test_tables_and_figures_of_a_guide_have_running_numbers(
    demo: Survey, templates: Templates
) -> None:
    document = guide_of(demo, templates, "lantern")
    for sort, word in ((Table, "Table"), ((Figure, Image), "Figure")):
        titles = [str(each.title) for each in document.blocks if isinstance(each, sort)]  # type: ignore[arg-type]
        assert len(titles) > 4
        for number, title in enumerate(titles, start=1):
            assert title.startswith(f"{word} {number}. ")


def test_a_guide_tells_what_differs_once_and_marks_its_own_column(
    demo: Survey, templates: Templates
) -> None:
    beside = next(each for each in tables(guide_of(demo, templates, "beacon"))
                  if str(each.title).endswith("Side by side"))  # fmt: skip
    assert [str(each.title) for each in beside.columns if each.own] == ["Beacon"]
    assert all(len(set(row[1:])) > 1 for row in words_of(beside))


def test_a_guide_tells_what_a_failure_costs_the_build_that_it_shows(
    demo: Survey, templates: Templates
) -> None:
    assert demo.definitions is not None
    shown = example_of(demo.definitions, demo.definitions.platforms["boathouse"])
    document = guide_of(demo, templates, "boathouse")
    table = next(each for each in tables(document) if each.anchor == "failures-table")
    assert [row[0] for row in words_of(table)][:2] == ["Processor CPU1", "Processor CPU2"]
    keys = {cell.key for row in table.rows for each in row for cell in each
            if isinstance(cell, Value) and cell.key}  # fmt: skip
    assert keys
    assert all(key.startswith(f"{shown.thing.id}.failures.") for key in keys)


def test_positions_of_parts_are_reported_by_their_hosts() -> None:
    names = ("BAY 0", "BAY 1", "OCP.PORT 1", "OCP.PORT 2", "SLOT 1.PORT 1", "SLOT 1.PORT 2")
    assert str(where(names)) == "BAY 0 to 1; PORT 1 to 2 in OCP, SLOT 1"


def test_a_guide_is_shown_by_a_build_without_errors(demo: Survey) -> None:
    definitions = demo.definitions
    assert definitions is not None
    for platform in definitions.platforms.values():
        shown = example_of(definitions, platform)
        assert shown.sound
        assert shown.platform == platform
        assert all(place.state is not State.UNKNOWN for place in shown.assembly.places.values())


def test_a_glossary_keeps_the_terms_in_use() -> None:
    terms = glossary(Texts(), {"riser": "a", "PSU, supply": "b", "slot": "c"})
    assert terms is not None
    text = Paragraph(words("Two risers, one supply, and no slotted screw."))
    document = used_only(Document("T", (text, terms)))
    (_, kept) = document.blocks
    assert isinstance(kept, Table)
    assert [row[0] for row in words_of(kept)] == ["PSU, supply", "riser"]


def test_a_glossary_nobody_needs_is_left_out() -> None:
    terms = glossary(Texts(), {"riser": "a"})
    assert terms is not None
    text = Paragraph(words("Nothing of the sort."))
    assert used_only(Document("T", (text, terms))).blocks == (text,)


@pytest.mark.parametrize(
    ("call", "told"),
    [
        ('numbers("frnt")', "a system has no side named `frnt`"),
        ('choices("proccessor")', "no kind of part is named `proccessor`"),
        ('site("heet")', "no block of a site is named `heet`"),
        ("glossary(3)", "a glossary is made of terms and their meanings"),
    ],
)
def test_a_writers_slip_is_a_finding_at_its_line(
    demo: Survey, tmp_path: Path, call: str, told: str
) -> None:
    (tmp_path / "templates").mkdir()
    text = f"# T\n\n{{{{ {call} }}}}\n"
    (tmp_path / "templates" / "own.md").write_text(text, encoding="utf-8")
    own = templates_of(tmp_path)
    document, (finding,) = system_document("own", own, demo.cases["lantern-office"], {}, no_systems)
    assert document is None
    assert str(finding.message) == told
    assert finding.at.span.line == 3


def test_site_preparation_of_servers_on_dc_speaks_of_no_outlets(
    demo: Survey, templates: Templates
) -> None:
    for counts, outlets, apparent in (
        ({"lantern_exchange": 2}, False, False),
        ({"lantern_exchange": 2, "lantern_office": 3}, True, True),  # the three on AC alone
        ({"lantern_office": 3}, True, True),
    ):
        document, _ = order_document(templates, order_of(demo, **counts))
        assert document is not None
        text = WRITERS["md"].write(document, Options()).decode()
        assert ("earthed outlets" in text) is outlets, counts
        assert (" VA" in text.replace("\u202f", " ")) is apparent, counts
