"""The pass over a tree: whole messages, open places, texts of a project, what is missing."""

import pytest

from specgen.document.languages import Catalogue, Given, translated
from specgen.document.tree import (
    Caution,
    Column,
    Document,
    FactList,
    Figure,
    Heading,
    Link,
    Paragraph,
    Picture,
    Strong,
    Table,
    Text,
    link,
    literal,
    paragraph,
    plain_text,
    words,
)

GERMAN = Catalogue(
    "de",
    {
        ("", "Memory"): "Arbeitsspeicher",
        ("", "Number"): "Nummer",
        ("column", "Number"): "Anzahl",
        ("", "hot-swap"): "im Betrieb tauschbar",
        ("", "full height"): "volle Höhe",
        ("", "{1} of {2}"): "von {2} {1}",
        ("", "{1} lanes"): "{1} Lanes",
        ("", "See the {1:sheet} of {2}."): "Siehe {2}, {1:Datenblatt}.",
        ("", "Spec sheet, {1}"): "Datenblatt, {1}",
        ("", "broken"): "{7} kaputt",
        ("", "{1} is empty"): "{1} ist leer",
        ("between", "{1} to {2}"): "{1} bis {2}",
        ("unit", "rpm"): "1/min",
        ("svg", "empty"): "leer",
        ("svg", "Hub"): "Verteiler",  # broader, and meant to be
        ("", "riser"): "Riser",
        ("rule", "When {1}, {2}"): "Wenn {1}, gilt: {2}",
        ("rule", "{1} and {2}"): "{1} und {2}",
        ("rule", "{1} is filled"): "{1} belegt ist",
        ("rule", "the airflow must be at least {1}"): "Der Luftstrom muss mindestens {1} betragen",
        ("rule", "“{1}” must be fitted"): "„{1}“ muss eingebaut sein",
    },
)
PROJECT = Given(
    frozenset({"Tall riser", "Memory", "Riser, two lanes", "A text of a writer, in words."}),
    {"Tall": ("Tall riser",), "Riser": ("Riser, two lanes",)},
)


def german(*blocks: object, **more: str) -> Document:
    return translated(Document("t", tuple(blocks), **more), GERMAN, PROJECT)  # type: ignore[arg-type]


def said(*cell: object) -> str:
    (block,) = german(Paragraph(cell)).blocks  # type: ignore[arg-type]
    assert isinstance(block, Paragraph)
    return plain_text(block.children)


def listed(text: str) -> str:
    (block,) = german(FactList("", (("Number", words(text)),))).blocks
    assert isinstance(block, FactList)
    return plain_text(block.entries[0][1])


def test_a_word_has_another_meaning_in_another_place():
    table = Table("Memory", (Column("Number"),), (((Text("hot-swap"),),),))
    made = german(table, FactList("", (("Number", words("x")),))).blocks
    assert isinstance(made[0], Table)
    assert isinstance(made[1], FactList)
    assert made[0].title == "Arbeitsspeicher"
    assert made[0].columns[0].title == "Anzahl"
    assert made[0].rows == (((Text("im Betrieb tauschbar"),),),)
    assert made[1].entries[0][0] == "Nummer"


def test_words_go_round_figures_in_the_order_of_the_language():
    cell = (Figure("1.5", "rpm", "k"), Text(" of "), Figure("12"))
    (block,) = german(Paragraph(cell)).blocks
    figures = (Figure("12"), Text(" "), Figure("1,5", "1/min", "k"))
    assert block == Paragraph((Text("von "), *figures))


def test_a_link_keeps_its_target_and_says_its_words():
    cell = (Text("See the "), Link(words("sheet"), "build:a"), Text(" of "), *literal("X1"))
    (block,) = german(Paragraph((*cell, Text(".")))).blocks
    assert isinstance(block, Paragraph)
    assert plain_text(block.children) == "Siehe X1, Datenblatt."
    assert Link(words("Datenblatt"), "build:a") in block.children


def test_what_a_project_says_is_never_taken_for_a_message():
    assert said(Text("Memory")) == "Memory"
    assert said(*link("Memory", "part:memory")) == "Memory"
    assert said(Strong(words("Memory"))) == "Memory"


def test_a_heading_is_a_templates_unless_it_is_a_value_of_the_project():
    document = Document("t", (Heading(2, words("Memory")),))
    (ours,) = translated(document, GERMAN, PROJECT).blocks
    (theirs,) = translated(document, GERMAN, PROJECT, values=frozenset({"Memory"})).blocks
    assert (ours, theirs) == (Heading(2, words("Arbeitsspeicher")), Heading(2, words("Memory")))


def test_names_positions_and_numbers_are_left_open():
    assert said(Text("Spec sheet, Tall riser")) == "Datenblatt, Tall riser"
    assert said(Text("BAY 0 to 7, SLOT 2 is empty")) == "BAY 0 bis 7, SLOT 2 ist leer"
    assert said(Text("BAY 0 to 7")) == "BAY 0 bis 7"
    assert said(Text("x16 lanes")) == "x16 Lanes"


def test_a_list_says_each_entry_and_takes_no_name_apart():
    assert listed("full height, hot-swap; Riser, two lanes") == (
        "volle Höhe, im Betrieb tauschbar; Riser, two lanes"
    )


def test_a_rule_is_said_clause_by_clause():
    assert said(
        Text("When BAY 0 is filled and SLOT 2 is filled, “Tall riser” must be fitted.")
    ) == ("Wenn BAY 0 belegt ist und SLOT 2 belegt ist, gilt: „Tall riser“ muss eingebaut sein.")
    assert said(Text("The airflow must be at least 1.5 W.")) == (
        "Der Luftstrom muss mindestens 1,5 W betragen."
    )


def test_a_rule_with_a_clause_that_nobody_has_translated_stays_whole():
    text = "When SLOT 2 is filled, the night must be dark."
    assert said(Text(text)) == text


def test_what_nobody_has_translated_stays_is_counted_and_has_its_language():
    made = german(paragraph("Nobody has said this yet."), FactList("", (("Odd", words("Odd")),)))
    assert made.blocks[0] == paragraph("Nobody has said this yet.")
    assert dict(made.foreign)["Nobody has said this yet."] == "en"
    assert dict(made.foreign)["Odd"] == "en"
    assert set(made.untranslated) >= {("text", "Nobody has said this yet."), ("label", "Odd")}


def test_a_sentence_of_a_project_has_its_language_and_is_not_missing():
    made = german(paragraph("A text of a writer, in words."))
    assert made.foreign == (("A text of a writer, in words.", "en"),)
    assert ("text", "A text of a writer, in words.") not in made.untranslated


def test_prose_stays_whatever_stands_in_it():
    text = "The machine draws up to "
    document = Document("t", (Paragraph((Text(text), Figure("1.5", "W"), Text(" of "))),))
    (block,) = translated(document, GERMAN, own=frozenset({text, " of "})).blocks
    assert block == Paragraph((Text(text), Figure("1,5", "W"), Text(" of ")))


def test_a_translation_with_wrong_numbers_counts_as_none():
    assert said(Text("broken")) == "broken"


def test_anchors_and_keys_stay():
    made = german(Heading(2, words("Memory"), "memory"), Table("Memory", (Column(""),), (), "m"))
    assert [getattr(each, "anchor", "") for each in made.blocks] == ["memory", "m"]


def test_dates_in_the_head_are_long():
    made = german(meta=(("Number", "2026-06-08"),))
    assert made.meta == (("Nummer", "8. Juni 2026"),)


@pytest.mark.parametrize(
    ("svg", "expected"),
    [
        ("<text x='1'>empty</text>", "<text x='1'>leer</text>"),
        ("<text>Hub</text>", "<text>Verteiler</text>"),
        ("<title>hot-swap</title>", "<title>im Betrieb tauschbar</title>"),
        ("<text>hot-swap</text>", "<text>hot-swap</text>"),  # no room
        ("<text>Riser,</text><text>two lanes</text>", "<text>Riser,</text><text>two lanes</text>"),
        (
            "<text>2 × Tall</text><text>riser</text>",
            "<text>2 × Tall</text><text>riser</text>",
        ),
        ("<text>&lt;b&gt; is empty</text>", "<text>&lt;b&gt; is empty</text>"),
    ],
)
def test_words_of_a_drawing_where_they_have_room(svg: str, expected: str):
    (block,) = german(Picture("Memory", f"<svg>{svg}</svg>", "hot-swap")).blocks
    assert block == Picture("Arbeitsspeicher", f"<svg>{expected}</svg>", "im Betrieb tauschbar")


def test_cautions_and_lists_are_gone_through_too():
    (block,) = german(Caution("Memory", (paragraph("hot-swap"),))).blocks
    assert block == Caution("Arbeitsspeicher", (paragraph("im Betrieb tauschbar"),))
