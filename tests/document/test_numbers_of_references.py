"""What texts say of tables and figures that their document numbers: `Figure 3`, leading there."""

from specgen.document.numbering import numbered
from specgen.document.outline import document
from specgen.document.tree import (
    Block,
    Caution,
    Cell,
    Column,
    FactList,
    Figure,
    Footnote,
    Heading,
    Hyperlink,
    Listing,
    Paragraph,
    Strong,
    Table,
    TermList,
    Text,
    plain_text,
    words,
)
from specgen.document.tree_walks import cells_of
from specgen.document.wording import Wording
from specgen.messages.catalogue import language_of

TABLE = Table("Slots", (Column("Slot"),), ((words("1"),),), "slots-table")
REAR = Figure("Rear", None, "", "rear-figure")


def refers(anchor: str, numbered: bool = True) -> Cell:
    return (Text("See "), Hyperlink(words("it"), f"#{anchor}", numbered), Text("."))


def said(*blocks: Block, tag: str = "en") -> list[str]:
    """The runs of words of a numbered document, before its first table or figure."""
    made = Wording(language_of(tag)).document(numbered(document("T", (*blocks, REAR, TABLE, REAR))))
    return [plain_text(cell) for cell in cells_of(made.blocks)]


def test_a_reference_prints_the_number_of_what_it_leads_to() -> None:
    assert said(Paragraph(refers("slots-table")))[0] == "See Table 1."
    assert said(Paragraph(refers("rear-figure-2")))[0] == "See Figure 2."
    assert said(Paragraph(refers("rear-figure")), tag="de")[0] == "See Abbildung 1."
    assert said(Paragraph(refers("slots-table")), tag="ja")[0] == "See 表1."


def test_other_words_stay_and_so_do_references_to_what_has_no_number() -> None:
    assert said(Paragraph(refers("slots-table", numbered=False)))[0] == "See it."
    assert said(Paragraph(refers("nothing")))[0] == "See it."


def test_numbers_stand_wherever_a_reference_does() -> None:
    cell = refers("slots-table")
    note = Footnote((Paragraph(cell),))
    blocks: tuple[Block, ...] = (
        Heading(2, cell),
        Listing(((Paragraph(cell),),)),
        Caution("x", (Paragraph((Strong(cell),)),)),
        FactList("", (("x", cell),)),
        TermList(((cell, ((Paragraph(cell),),)),)),
        Table("", (Column("x"),), ((cell,),), note=cell),
        Paragraph((Text("x"), note)),
    )
    told = [each for each in said(*blocks) if each.startswith("See")]
    assert told == ["See Table 1."] * 9


def test_it_leads_to_what_it_names() -> None:
    (made, *_) = numbered(document("T", (Paragraph(refers("rear-figure")), REAR))).blocks
    assert isinstance(made, Paragraph)
    (_, link, _) = made.children
    assert isinstance(link, Hyperlink)
    assert link.target == "#rear-figure"
