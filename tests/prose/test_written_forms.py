"""What writers know of Markdown, in pieces of documents and on pages: the same forms, alike."""

import re
from pathlib import Path

import pytest

from specgen.document.prose.block import blocks_of_prose
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import parsed
from specgen.document.tree import (
    Block,
    Caution,
    Datum,
    Footnote,
    Heading,
    Listing,
    Paragraph,
    TermList,
    Text,
    Tick,
    paragraph,
    plain_text,
)
from tests.prose.conftest import SUBJECT
from tests.prose.test_pages_of_the_site import ready
from tests.prose.test_texts import put


def piece(body: str, subjects: Subjects) -> tuple[Block, ...]:
    text, _ = parsed(body, f"prose/{SUBJECT}/introduction.md")
    return blocks_of_prose(text, subjects, SUBJECT)


def page(body: str, tmp_path: Path, subjects: Subjects, language: str = "") -> str:
    head = f"---\nsubject: {SUBJECT}\n" + (f"language: {language}\n" if language else "") + "---\n"
    put(tmp_path, {"pages/n.md": head + body})
    return ready(tmp_path, subjects)["n.html"].html()


WARNED = "::: warning Mains power\nUnplug it.\n\n1. Both.\n:::\n"


def test_a_warning_is_a_caution_of_its_signal(subjects: Subjects) -> None:
    (made,) = piece(WARNED, subjects)
    assert made == Caution(
        "Mains power",
        (paragraph("Unplug it."), Listing(((paragraph("Both."),),), 1)),
        "warning",
    )


@pytest.mark.parametrize("kind", ["warning", "caution", "notice", "note"])
def test_a_warning_of_a_page_looks_as_in_documents(
    kind: str, tmp_path: Path, subjects: Subjects
) -> None:
    made = page(f"::: {kind}\nUnplug it.\n:::\n", tmp_path, subjects)
    title = kind.capitalize()
    assert f'<aside class="caution {kind}-sign" role="note" aria-label="{title}">' in made
    assert f'<p class="caution-title">{title}</p>' in made
    assert "<p>Unplug it.</p>\n</aside>" in made


def test_the_subject_of_a_warning_prints_its_references(tmp_path: Path, subjects: Subjects) -> None:
    body = "::: caution Mass of {mechanics.rack_units, unit, units} & *all*\nLift.\n:::\n"
    (made,) = piece(body, subjects)
    assert isinstance(made, Caution)
    assert not isinstance(made.subject, str)
    assert plain_text((made.subject,)) == "Mass of 1\u00a0unit & all"
    assert 'aria-label="Caution: Mass of 1\u00a0unit &amp; all">' in page(body, tmp_path, subjects)


def test_the_signal_word_is_in_the_language_of_the_text(tmp_path: Path, subjects: Subjects) -> None:
    assert "Warnung: Mains power" in page(WARNED, tmp_path, subjects, "de")


NOTED = "One[^a], two[^b], three[^a].\n\n[^a]: {power.input}.\n[^b]: More.\n\n    - x\n"


def test_footnotes_stand_where_the_text_refers_to_them(subjects: Subjects) -> None:
    (made,) = piece(NOTED, subjects)
    assert isinstance(made, Paragraph)
    notes = [each for each in made.children if isinstance(each, Footnote)]
    assert notes[0] == notes[2]
    (first,) = notes[0].children
    assert isinstance(first, Paragraph)
    assert isinstance(first.children[0], Datum)
    assert notes[1].children == (paragraph("More."), Listing(((paragraph("x"),),)))


def test_footnotes_of_a_page_are_numbered_and_lead_both_ways(
    tmp_path: Path, subjects: Subjects
) -> None:
    made = page(NOTED, tmp_path, subjects)
    marks = re.findall(r'<sup class="mark"><a(?: id="mark.\d")? href="#note.(\d)"', made)
    assert marks == ["1", "2", "1"]
    assert made.count('id="mark.1"') == made.count('id="note.1"') == 1
    assert made.count('href="#mark.1"') == 1
    assert '<section class="notes" role="doc-endnotes" aria-label="Footnotes">' in made


def test_boxes_are_open_or_ticked(tmp_path: Path, subjects: Subjects) -> None:
    body = "- [ ] rails\n- [x] server\n- [y] neither\n"
    (made,) = piece(body, subjects)
    assert made == Listing(
        (
            (Paragraph((Tick(False), Text("rails"))),),
            (Paragraph((Tick(True), Text("server"))),),
            (paragraph("[y] neither"),),
        )
    )
    html = page(body, tmp_path, subjects)
    assert html.count('<li class="task"><span class="tick" role="img"') == 2
    assert 'aria-label="Open">☐</span> rails' in html
    assert 'aria-label="Done">☑</span> server' in html


def test_terms_have_one_meaning_or_more(tmp_path: Path, subjects: Subjects) -> None:
    body = "Hub\n: Drives hang from it.\n: A middle.\n\nRiser\n: Brings slots.\n\n  Upright.\n"
    (made,) = piece(body, subjects)
    hub, riser = (Text("Hub"),), (Text("Riser"),)
    assert made == TermList(
        (
            (hub, ((paragraph("Drives hang from it."),), (paragraph("A middle."),))),
            (riser, ((paragraph("Brings slots."), paragraph("Upright.")),)),
        )
    )
    html = page(body, tmp_path, subjects)
    assert '<dl class="terms">' in html
    assert html.count("<dt>") == 2
    assert html.count("<dd>") == 3


def test_numbers_go_on_through_a_warning(subjects: Subjects) -> None:
    body = f"1. One.\n2. Two.\n\n{WARNED}\n3. Three.\n"
    lists = [each.first for each in piece(body, subjects) if isinstance(each, Listing)]
    assert lists == [1, 3]


def test_a_heading_gives_itself_an_anchor(subjects: Subjects) -> None:
    assert piece("## The feet {#feet}\n", subjects) == (Heading(2, (Text("The feet"),), "feet"),)
