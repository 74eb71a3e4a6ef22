"""Tables as a reader compares them: nothing void, nothing twice, one unit, point above point."""

from specgen.document.blocks import reached_limits
from specgen.document.blocks.compared_systems import reached, siblings
from specgen.document.blocks.reached_limits import ALL_PROVED
from specgen.document.case import Case
from specgen.document.cells.compared_rows import said_once, together, without_void
from specgen.document.tree import Column, Datum, Strong, Table, Value, plain_text, words
from specgen.document.wording import Wording
from specgen.limits.limit import Limit, Status
from specgen.limits.objectives import printed
from specgen.limits.reach import Reach
from specgen.messages import ENGLISH, Catalogue, Language, say
from specgen.pipeline import Survey, bare_case
from specgen.quantity import DataSize, Power


def table(*rows, columns=("Slot", "Width", "Speed", "Part"), note=()):
    heads = (Column(columns[0], header=True), *(Column(each) for each in columns[1:]))
    return Table("T", heads, tuple(tuple(map(words, row)) for row in rows), "", note)


def titles(made):
    return [each.title for each in made.columns]


def said(made, language=ENGLISH):
    worded = Wording(language).table(made)
    return [[plain_text(cell) for cell in row] for row in worded.rows]


def test_a_column_that_says_nothing_is_left_out():
    made = without_void(table(("A", "–", "1", ""), ("B", "–", "2", "")))
    assert titles(made) == ["Slot", "Speed"]
    assert titles(without_void(table(("A", "–", "1", "x"), ("B", "4", "2", "")))) == [
        "Slot", "Width", "Speed", "Part",
    ]  # fmt: skip


def test_what_every_row_says_stands_once_below():
    rows = [(name, "x16", str(at), f"p{at}") for at, name in enumerate("ABC")]
    made = said_once(table(*rows, note=words("So it is.")))
    assert titles(made) == ["Slot", "Speed", "Part"]
    assert plain_text(Wording(ENGLISH).table(made).note) == "So it is. Width: x16."


def test_a_head_that_two_columns_have_says_below_of_what_it_is():
    """`Set by: drives.` below stood against a row that the host link sets, in the other column."""
    rows = [("A", "5", "drives", "3", "drives"), ("B", "4", "link", "2", "drives")]
    heads = ("Volume", "Read", "Set by", "Write", "Set by")
    labels = ("Volume", "Read", "Reads limited by", "Write", "Writes limited by")
    made = said_once(table(*rows, ("C", "3", "link", "1", "drives"), columns=heads), labels)
    assert titles(made) == ["Volume", "Read", "Set by", "Write"]
    assert plain_text(Wording(ENGLISH).table(made).note) == "Writes limited by: drives."


def test_two_rows_are_compared_as_they_are_and_something_is_left_to_compare():
    two = table(("A", "x16", "1", "p"), ("B", "x16", "2", "q"))
    assert said_once(two) is two
    alike = table(*((name, "x16", "1", name) for name in "ABC"))
    assert said_once(alike) is alike  # a name and one column are no table


def test_positions_of_which_the_same_is_said_share_a_row():
    cell = {name: [(Datum(Power.of(75), f"power.{name}"),)] for name in ("S1", "S2", "S3")}
    cell["S2"] = [(Datum(Power.of(25), "power.S2"),)]
    assert list(together(cell)) == [("S1", "S3"), ("S2",)]


def numbers(*quantities, total=None):
    rows = [(words(str(at)), (Datum(each),)) for at, each in enumerate(quantities)]
    if total is not None:
        rows.append((words("all"), (Strong((Datum(total),)),)))
    return Table("T", (Column("A", header=True), Column("B", "end")), tuple(rows))


def rooms(made):
    cells = [row[1][0] for row in made.rows]
    values = [each.children[0] if isinstance(each, Strong) else each for each in cells]
    assert all(isinstance(each, Value) for each in values)
    return [(each.number, each.room) for each in values]


def test_numbers_of_a_column_stand_point_above_point():
    made = numbers(Power.of("33.6"), Power.of(134), total=Power.of("89.2"))
    assert rooms(Wording(ENGLISH).table(made)) == [("33.6", ""), ("134", ".0"), ("89.2", "")]
    german = Wording(Language("de", Catalogue())).table(made)
    assert rooms(german) == [("33,6", ""), ("134", ",0"), ("89,2", "")]


def test_values_of_two_units_are_not_set_to_one_point():
    made = numbers(Power.of("33.6"), DataSize.of(134, "GiB"))
    assert rooms(Wording(ENGLISH).table(made)) == [("33.6", ""), ("134", "")]


def test_a_column_has_one_unit_and_one_point():
    made = numbers(DataSize.parse("960 GB"), DataSize.parse("20 TB"))
    assert said(made) == [["0", "0.96 TB"], ["1", "20 TB"]]
    assert rooms(Wording(ENGLISH).table(made)) == [("0.96", ""), ("20", ".00")]


def reaching(demo: Survey, platform: str, status: Status, none_of: str = "") -> Case:
    """A platform of which every limit is three, or none, found by nobody."""
    definitions = demo.definitions
    assert definitions is not None
    thing = definitions.platforms[platform]

    def solve(*_: object) -> tuple[Limit, ...]:
        keys = printed(definitions, thing)
        reached_ = {key: 0 if key == none_of else 3 for key in keys}
        return tuple(
            Limit(key, say(key), say(key), True, value, value, status, None, "", 1)
            for key, value in reached_.items()
        )

    return bare_case(definitions, thing, Reach(definitions, thing, solve))


def test_a_guide_has_the_limits_once_beside_those_of_the_family(demo: Survey):
    lantern, beacon = (reaching(demo, each, Status.PROVED) for each in ("lantern", "beacon"))
    limits, beside = reached(lantern, (beacon,)), siblings(lantern, (beacon,))
    assert limits is not None
    assert beside is not None
    assert [str(column.title) for column in limits.columns] == ["Parameter", "Lantern", "Beacon"]
    assert plain_text(limits.note) == str(ALL_PROVED)
    told = {plain_text(row[0]) for row in limits.rows}
    assert told
    assert not told & {plain_text(row[0]) for row in beside.rows}


def test_limits_that_are_not_all_proved_say_so_each_and_stand_alone(demo: Survey):
    lantern, beacon = (
        reaching(demo, "lantern", Status.PROVED),
        reaching(demo, "beacon", Status.FOUND),
    )
    limits = reached(lantern, (beacon,))
    assert limits is not None
    assert [str(column.title) for column in limits.columns] == ["Parameter", "Reached"]


def test_what_a_platform_has_none_of_has_no_row(demo: Survey):
    limits = reached_limits.limits(reaching(demo, "lantern", Status.PROVED, none_of="accelerators"))
    assert limits is not None
    said_ = {plain_text(row[0]) for row in limits.rows}
    assert "accelerators, max." not in said_
    assert len(said_) == len(printed(demo.definitions, demo.definitions.platforms["lantern"])) - 1
