"""Parts of a position beside each other in a guide."""

from specgen.document.blocks.alternatives import alternatives
from specgen.document.blocks.choices import choices
from specgen.document.tree import Figure, Table, plain_text
from specgen.pipeline import Survey, bare_case


def test_each_alternative_says_what_it_adds_and_costs(demo: Survey):
    definitions = demo.definitions
    assert definitions is not None
    case = bare_case(definitions, definitions.platforms["lantern"])
    told: set[str] = set()
    front, bays, rear, slots = alternatives(case, told)
    assert isinstance(bays, Table)
    assert isinstance(slots, Table)
    assert [[plain_text(cell).replace("\u202f", " ") for cell in row] for row in bays.rows] == [
        ["Lantern front bays, eight 2.5-inch, hot-swap", "QW-041-03",
         "J0 (SlimSAS 8i); BAY 0 to 7 (2.5-inch, x1 lanes, SAS or SATA, hot-swap)",
         "0.6 kg", "6 W"],
        ["Lantern front bays, four 3.5-inch, cold-swap", "QW-041-01",
         "J0 (SlimSAS 8i); BAY 0 to 3 (3.5-inch, x1 lanes, SATA, cold-swap)",
         "0.35 kg", "2 W"],
        ["Lantern front bays, four 3.5-inch, hot-swap", "QW-041-02",
         "J0 (SlimSAS 8i); BAY 0 to 3 (3.5-inch, x1 lanes, SAS or SATA, hot-swap)",
         "0.55 kg", "5 W"],
    ]  # fmt: skip
    assert [plain_text(row[0]) for row in slots.rows] == [
        "Lantern riser, one full-height slot", "Lantern riser, two low-profile slots",
    ]  # fmt: skip
    for figure, table in ((front, bays), (rear, slots)):
        assert isinstance(figure, Figure)
        assert figure.picture is not None
        lines = [line.partition(": ")[0] for line in figure.text.splitlines()]
        assert lines == [plain_text(row[0]) for row in table.rows]
    # that was all there is of these kinds, so no other table has them
    assert told == {"backplane", "riser"}
    assert choices(case, told, "riser") is None


def test_a_platform_that_names_no_position_has_none(demo: Survey):
    definitions = demo.definitions
    assert definitions is not None
    assert alternatives(bare_case(definitions, definitions.platforms["pocket"]), set()) == ()
