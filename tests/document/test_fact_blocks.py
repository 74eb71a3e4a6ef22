"""Lists and tables of facts that templates lay out: what they print, leave out, and refuse."""

from functools import partial

import pytest
from jinja2 import DictLoader

from specgen.document.blocks.fact_makers import fact_makers, order_cells, system_cells
from specgen.document.blocks.fact_table import fact_table
from specgen.document.cells.fact_cells import FactCells
from specgen.document.compose import Composed, compose
from specgen.document.maker import AuthorError
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.several import Order
from specgen.document.template import Templates, plain
from specgen.document.template_calls import tables_in
from specgen.document.tree import Document, FactList, Hyperlink, Strong, Table, Value, plain_text
from specgen.document.wording import Wording
from specgen.messages import Catalogue, Language
from specgen.pipeline import Survey

BUILD = "boathouse-backup"  # one of two processors, two volumes, supplies 1+1


@pytest.fixture(scope="module")
def cells(demo: Survey) -> FactCells:
    return system_cells(demo.cases[BUILD])


def composed(cells: FactCells, source: str) -> Composed:
    templates = Templates(DictLoader({"t.md": f"# T\n\n{source}\n"}), show=plain)
    return compose("t.md", templates, variables={}, functions=fact_makers(cells))


def only(cells: FactCells, source: str) -> object:
    document, findings = composed(cells, source)
    assert findings == ()
    assert isinstance(document, Document)
    (block,) = document.blocks
    return block


def lines(cells: FactCells, entries: str) -> list[tuple[str, str]]:
    made = only(cells, f'{{{{ fact_list("L", {entries}) }}}}')
    assert isinstance(made, FactList)
    return [(str(label), plain_text(cell)) for label, cell in made.entries]


def rows(table: object) -> list[list[str]]:
    assert isinstance(table, Table)
    return [[plain_text(cell) for cell in row] for row in table.rows]


def heads(table: object) -> list[tuple[str, str]]:
    assert isinstance(table, Table)
    return [(str(each.title), each.align) for each in table.columns]


def refused(cells: FactCells, source: str) -> tuple[str, str, int]:
    document, (finding,) = composed(cells, source)
    assert document is None
    assert finding.code.id == "SG401"
    return str(finding.message), str(finding.help), finding.at.span.line


# --- lists ---


def test_an_entry_is_a_key_with_the_label_of_its_fact_or_a_label_with_a_pattern(cells):
    found = lines(
        cells, '["mechanics.depth", ("Cores", "{processors.cores}, {processors.threads} threads")]'
    )
    assert found == [("Depth", "790 mm"), ("Cores", "16, 32 threads")]


def test_the_beginning_of_several_keys_is_all_of_them_with_what_they_are_about(cells):
    found = dict(lines(cells, '["conditions.", "drives."]'))
    assert found["Altitude"] == "150 m"
    assert found["s35-sas-16t: Number"] == "12"


def test_a_line_without_a_value_is_left_out_or_says_so(cells):
    entries = '["regulation.idle", ("Idle", "{regulation.idle} measured"), "mechanics.depth"]'
    assert [label for label, _ in lines(cells, entries)] == ["Depth"]
    found = lines(cells, f'{entries}, missing="not declared"')
    assert found[0] == ("Idle power, measured", "not declared")
    assert found[1] == ("Idle", "not declared")


def test_of_several_patterns_the_first_counts_whose_facts_have_values(cells):
    found = lines(
        cells, '[("Idle", "{regulation.idle} of {regulation.idle_limit}", "{power.idle}")]'
    )
    assert found == [("Idle", "208 W")]


def test_what_is_nothing_at_all_can_be_left_out(cells):
    entries = '["storage.spares", ("Held back", "{memory.held_back}, {memory.mode}")]'
    assert lines(cells, entries)[0] == ("Hot spares, total", "0")
    assert lines(cells, f"{entries}, zeros=false") == []


def test_an_entry_that_is_none_is_no_entry(cells):
    found = lines(
        cells, '["mechanics.depth" if has("power.supplies") else none,'
        ' "mechanics.width" if has("storage.spares", "regulation.idle") else none]'
    )  # fmt: skip
    assert found == [("Depth", "790 mm")]


def test_ids_of_parts_are_names_that_lead_to_them(cells):
    made = only(cells, '{{ fact_list("L", ["noise.silent"]) }}')
    assert isinstance(made, FactList)
    ((_, cell),) = made.entries
    assert isinstance(cell[0], Hyperlink)
    assert cell[0].target == "part:s35-sas-16t"
    assert plain_text(cell) == "SAS HDD 16 TB, 3.5-inch, 7200 rpm"


def test_values_keep_the_keys_that_lead_to_their_pedigree(cells):
    made = only(cells, '{{ fact_list("L", [("Power", "{power.idle} to {power.maximum}")]) }}')
    assert isinstance(made, FactList)
    keys = [each.key for each in made.entries[0][1] if isinstance(each, Value)]
    assert keys == ["power.idle", "power.maximum"]


# --- tables over subjects ---


def test_a_row_for_each_subject_and_the_short_heads_of_facts(cells):
    table = only(
        cells,
        '{{ fact_table("V", over="volume", columns=["storage.{volume}.level",'
        ' "storage.{volume}.usable", ("Drives", "storage.{volume}.members")]) }}',
    )
    assert heads(table) == [
        ("Volume", "start"), ("Level", "start"), ("Usable", "end"), ("Drives", "end"),
    ]  # fmt: skip
    assert rows(table) == [
        ["System", "RAID 1", "0.48 TB", "2"],
        ["Backups", "RAID 60", "128 TB", "12"],
    ]


def test_subjects_that_are_parts_lead_to_them_and_others_have_words_of_their_own(cells):
    table = only(cells, '{{ fact_table("D", over="drive", columns=["drives.{drive}.count"]) }}')
    assert isinstance(table, Table)
    assert isinstance(table.rows[0][0][0], Hyperlink)
    states = only(cells, '{{ fact_table("S", over="state", columns=["power.{state}.supplies"]) }}')
    assert rows(states)[3] == ["Maximum, after failures", "1"]


def test_what_sits_in_a_position_is_a_column(cells):
    table = only(
        cells,
        '{{ fact_table("P", over="processor", head="Socket", columns=[("Model", "part"),'
        ' "processors.{processor}.cores"]) }}',
    )
    assert heads(table)[:2] == [("Socket", "start"), ("Model", "start")]
    assert rows(table) == [["CPU1", "Corvane C16", "16"]]


def test_a_dash_where_a_subject_has_no_such_fact_and_words_where_it_has_no_value(cells):
    table = only(
        cells,
        '{{ fact_table("D", over="drive", columns=["drives.{drive}.count",'
        ' "drives.{drive}.written_per_day"], missing="unknown") }}',
    )
    assert rows(table)[0][2] == "–"  # disks declare no endurance
    slots = only(
        cells,
        '{{ fact_table("S", over="slot", columns=["expansion.{slot}.owner",'
        ' "expansion.{slot}.power_offered"], missing="unknown") }}',
    )
    assert ["BOOT", "CPU1.P6", "unknown"] in rows(slots)


def test_rows_of_nothing_are_left_out_and_sums_are_strong(cells):
    source = (
        '{{{{ fact_table("P", over="subsystem", columns=["power.{{subsystem}}.idle",'
        ' "power.{{subsystem}}.maximum"], total="Sum"{}) }}}}'
    )
    table = only(cells, source.format(', when="power.{subsystem}.maximum"'))
    assert isinstance(table, Table)
    names = [row[0] for row in rows(table)]
    assert "Accelerators" not in names
    assert "Accelerators" in [row[0] for row in rows(only(cells, source.format("")))]
    assert all(isinstance(cell[0], Strong) for cell in table.rows[-1])
    assert rows(table)[-1] == ["Sum", "208 W", "557 W"]


def test_a_note_leaves_out_sentences_that_speak_of_nothing(cells):
    table = only(
        cells,
        '{{ fact_table("V", over="volume", columns=["storage.{volume}.raw"], note=["One.",'
        ' "Reads: {storage.read_share}.", "Unused: {storage.unused}.",'
        ' "No {regulation.idle}."]) }}',
    )
    assert isinstance(table, Table)
    assert plain_text(table.note) == "One. Reads: 70 %."


def test_a_system_without_such_subjects_has_no_table(demo: Survey):
    cells = system_cells(demo.cases["pocket-lamp-room"])
    document, findings = composed(
        cells, '{{ fact_table("U", over="uplink", columns=["expansion.{uplink}.uplink"]) }}'
    )
    assert findings == ()
    assert document is not None
    assert document.blocks == () or rows(document.blocks[0])


# --- rows that a template writes ---


def test_a_row_is_a_key_with_label_and_value_and_further_patterns(cells):
    table = only(
        cells,
        '{{ fact_rows("R", ["Item", "Value", "Limit", "Where"], [("mechanics.depth", "", "3.1"),'
        ' ("Power", "{power.idle}", ("{regulation.idle}", "")), "regulation.idle"]) }}',
    )
    assert heads(table)[1] == ("Value", "end")
    assert rows(table) == [
        ["Depth", "790 mm", "", "3.1"],
        ["Power", "208 W", "", ""],
        ["Idle power, measured", "not declared", "", ""],
    ]


def test_a_row_without_a_value_can_be_left_out(cells):
    table = only(
        cells,
        '{{ fact_rows("R", ["A", "B"], ["mechanics.depth", "regulation.idle"], missing=none) }}',
    )
    assert [row[0] for row in rows(table)] == ["Depth"]


# --- mistakes ---


@pytest.mark.parametrize(
    ("source", "message", "help_"),
    [
        ('{{ fact_list("L", ["power.maximun"]) }}', "is named `power.maximun`", "`power.maximum`"),
        ('{{ fact_list("L", [("A", "{power.maximun}")]) }}', "no fact is named", "`power.maximum`"),
        ('{{ fact_list("L", ["powr."]) }}', "no fact is named `powr.`", "`power.`"),
        ('{{ fact_list("L", [("A", "{power.maximum")]) }}', "brace", "in braces"),
        ('{{ fact_list("L", ["A", ("B",)]) }}', "no fact is named `A`", ""),
        ('{{ fact_list("L", [("B",)]) }}', "an entry is the key of a fact", "mechanics.depth"),
        ('{{ fact_list("L", "power.maximum") }}', "entries stand in square brackets", "["),
        ('{{ fact_list("{power.idle}", []) }}', "a title has no room for facts", ""),
        ('{{ fact_table("T", over="volum", columns=[]) }}', "repeated over `volum`", "`volume`"),
        (
            '{{ fact_table("T", over="volume", columns=["storage.{volume}.levle"]) }}',
            "no fact is named `storage.{volume}.levle`", "storage.{volume}.level",
        ),
        (
            '{{ fact_table("T", over="volume", columns=["storage.raw"]) }}',
            "`storage.raw` is one fact, not one of each subject", "in braces",
        ),
        ('{{ fact_table("T", over="volume", columns=[1]) }}', "a column is the key", "write"),
        ('{{ fact_rows("R", ["A"], ["power.idle"]) }}', "2 cells, and there are 1 columns", ""),
        ('{{ fact_bullets("regulation.mising") }}', "no fact is named", "regulation.missing"),
        ('{{ has("power.suplies") }}', "no fact is named", "power.supplies"),
    ],
)  # fmt: skip
def test_a_mistake_is_reported_at_the_line_of_the_template(cells, source, message, help_):
    got, help_told, line = refused(cells, source)
    assert message in got
    assert help_ in help_told
    assert line == 3


def test_a_table_is_charged_to_the_budget_of_the_template(cells):
    source = (
        '{% for a in range(90) %}{% for b in range(90) %}'
        '{{ fact_table("V", over="volume", columns=['
        + '"storage.{volume}.raw",' * 20 + "]) }}{% endfor %}{% endfor %}"
    )  # fmt: skip
    assert "runs on past" in refused(cells, source)[0]


# --- what orders and prose have of it ---


def test_a_row_for_each_build_and_sums_of_what_is_ordered(demo: Survey):
    lines = tuple((demo.cases[name], count) for name, count in ((BUILD, 2), ("lantern-office", 1)))
    assert demo.definitions is not None
    order = Order(demo.definitions, lines)
    columns = [
        "order.servers.{build}",
        "{build}.mechanics.rack_units",
        "order.rack_units.{build}",
        ("Typical", "{build}.power.typical.input"),
    ]

    def made(cells: FactCells, columns: list[object] = columns) -> object:
        return fact_table(cells, "Servers", over="build", columns=columns, total="All")

    table = made(order_cells(order))
    assert isinstance(table, Table)
    assert [str(each.title) for each in table.columns] == [
        "Server", "Number", "Rack units", "Rack units, all", "Typical",
    ]  # fmt: skip
    assert [row[:4] for row in rows(table)] == [
        ["Boathouse for backups", "2", "2", "4"],
        ["Lantern for a harbour office", "1", "1", "1"],
        ["All", "3", "", "5"],
    ]
    alone = made(system_cells(demo.cases["lantern-office"]))
    assert isinstance(alone, Table)
    assert [str(each.title) for each in alone.columns] == ["Server", "Rack units", "Typical"]
    assert len(alone.rows) == 1
    for wrong in ("order.mas.{build}", "{build}.mechanics.dept"):
        with pytest.raises(AuthorError, match="no fact is named"):
            made(order_cells(order), [wrong])


def test_prose_refers_to_tables_that_templates_lay_out(demo: Survey):
    assert demo.definitions is not None
    subjects = Subjects(
        demo.definitions, demo.cases.get, tables=partial(tables_in, demo.root)
    )  # fmt: skip
    made = printed("table volumes", BUILD, subjects, BUILD)
    assert (made.target, plain_text(made.cell)) == ("#volumes-table", "Volumes")
    empty = printed("table volumes", "pocket-hill-top", subjects)
    assert "is empty and not printed" in str(empty.message)
    unknown = printed("table volums", BUILD, subjects)
    assert "`volumes`" in str(unknown.help)


# --- languages ---


def test_every_word_of_a_list_and_a_table_is_a_message(cells):
    """In a language that puts every pattern in brackets nothing stands outside them but data."""

    asked = {
        ("", text): (f"[{text}]",)
        for text in (
            "Values", "Cores", "{processors.cores}, {processors.threads} threads",
            "Depth", "Volumes", "Volume",
            "Level", "Set by", "drives", "host link of {position}", "One.", "none",
        )
    }  # fmt: skip
    made = fact_makers(cells)
    listed = made["fact_list"](
        "Values", ["mechanics.depth", ("Cores", "{processors.cores}, {processors.threads} threads")]
    )
    table = made["fact_table"](
        "Volumes", over="volume",
        columns=["storage.{volume}.level", "storage.{volume}.read_limit"],
        note="One.",
    )  # fmt: skip
    wording = Wording(Language("xx", Catalogue(asked)))
    got, shown = wording.block(listed), wording.block(table)
    assert isinstance(got, FactList)
    assert got.title == "[Values]"
    assert [(label, plain_text(cell)) for label, cell in got.entries] == [
        ("[Depth]", "790 mm"), ("[Cores]", "[16, 32 threads]"),
    ]  # fmt: skip
    assert [head for head, _ in heads(shown)] == ["[Volume]", "[Level]", "[Set by]"]
    assert rows(shown) == [
        ["System", "RAID 1", "[host link of BOOT]"], ["Backups", "RAID 60", "[drives]"],
    ]  # fmt: skip
    assert wording.untranslated == {}


def test_words_for_what_is_missing_do_not_turn_a_column_of_numbers_round(cells):
    template = '{{ fact_rows("T", ["What", "Value"], [%s], missing="none measured") }}'
    silent = '"mechanics.depth", "regulation.idle", "regulation.maximum"'
    made = only(cells, template % silent)
    assert [row[1] for row in rows(made)] == ["790 mm", "none measured", "none measured"]
    assert heads(made) == [("What", "start"), ("Value", "end")]
    wordy = '"mechanics.depth", "conditions.operating_class", "power.curve"'
    assert heads(only(cells, template % wordy))[1] == ("Value", "start")
