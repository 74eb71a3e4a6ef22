"""Headings and anchors of a document, and what the tree refuses."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.document.link_targets import safe_target
from specgen.document.outline import anchor_of, document, outlined
from specgen.document.tree import (
    Caution,
    Column,
    Figure,
    Heading,
    Listing,
    Paragraph,
    Quote,
    Strong,
    Table,
    Text,
    Value,
    plain_text,
    words,
)


def levels(*wanted: int) -> list[int]:
    made = outlined([Heading(level, words("x")) for level in wanted])
    return [each.level for each in made if isinstance(each, Heading)]


def test_headings_start_at_two_and_leave_no_level_out() -> None:
    assert levels(1, 4, 4, 2, 6, 3) == [2, 3, 3, 2, 3, 3]


def anchors(*blocks: object) -> list[str]:
    return [each.anchor for each in outlined(blocks)]  # type: ignore[arg-type, union-attr]


def test_anchors_come_from_the_words_and_are_unique() -> None:
    heading = Heading(2, words("Power & Größe: 750 W"))
    assert anchors(heading, heading, heading) == [
        "power-grosse-750-w",
        "power-grosse-750-w-2",
        "power-grosse-750-w-3",
    ]


def test_an_anchor_that_is_given_stays() -> None:
    assert anchors(Heading(2, words("Power"), "power.maximum")) == ["power.maximum"]


def test_an_anchor_leaves_the_id_of_a_table_s_caption_free() -> None:
    table = Table("A", (Column("x"),), ())
    assert anchors(Heading(2, words("a t")), table) == ["a-t", "a-2"]


def test_tables_and_pictures_have_anchors_wherever_they_stand() -> None:
    table = Table("Same", (Column("x"),), ())
    made = outlined(
        [Quote((table,)), Caution("x", (table,)), Listing(((table,),)), Figure("Same", None, "")]
    )
    assert made[0] == Quote((Table("Same", (Column("x"),), (), "same"),))
    assert isinstance(made[3], Figure)
    assert made[3].anchor == "same-4"


def test_a_heading_within_a_quote_is_a_strong_line() -> None:
    (made,) = outlined([Quote((Heading(2, words("x")),))])
    assert made == Quote((Paragraph((Strong(words("x")),)),))


@given(st.text())
def test_any_words_make_an_anchor_without_blanks(text: str) -> None:
    anchor = anchor_of(text)
    assert anchor
    assert not any(each.isspace() for each in anchor)
    assert len(anchor) <= 60


@given(st.lists(st.text(max_size=3)))
def test_no_two_anchors_are_alike(titles: list[str]) -> None:
    made = anchors(*[Heading(2, words(title)) for title in titles])
    assert len(set(made)) == len(made)


def test_a_row_must_have_a_cell_for_every_column() -> None:
    with pytest.raises(ValueError, match="row 2: 1 cells for 2 columns"):
        Table("T", (Column("a"), Column("b")), (((), ()), ((),)))
    with pytest.raises(ValueError, match="no columns"):
        Table("T", (), ())


def test_plain_text_is_what_is_read_aloud() -> None:
    assert plain_text((Text("a "), Strong((Value("750", "W"),)), Value("2"))) == "a 750 W2"


@pytest.mark.parametrize(
    ("target", "safe"),
    [
        ("https://example.org", True),
        ("mailto:a@example.org", True),
        ("#power", True),
        ("#a:b", True),
        ("part:riser-a", True),
        ("../parts/a.html", True),
        ("a/b:c", True),
        ("", False),
        ("javascript:x", False),
        ("JavaScript:x", False),
        ("1:x", False),
        ("//host/x", False),
        ("/x", False),
        ("a b", False),
        ("\\\\host", False),
    ],
)
def test_links_lead_only_where_they_may(target: str, safe: bool) -> None:
    assert safe_target(target) is safe


def test_a_document_made_by_hand_has_its_outline_too() -> None:
    made = document("T", [Heading(5, words("A"))], subtitle="s", meta=[("a", "b")])
    assert made.blocks == (Heading(2, words("A"), "a"),)
    assert (made.subtitle, made.language, made.meta) == ("s", "en", (("a", "b"),))
