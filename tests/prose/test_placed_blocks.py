"""Blocks of templates in texts: placed by the same calls, with the same checks, in both."""

from pathlib import Path

import pytest

from specgen.document.blocks.makers import system_blocks
from specgen.document.maker import FoundElsewhere
from specgen.document.prose.block import blocks_of_prose
from specgen.document.prose.checks import check_prose
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import parsed
from specgen.document.shared_texts import Texts
from specgen.document.tree import Block, Listing, Table, paragraph
from specgen.messages import ENGLISH
from tests.prose.conftest import SUBJECT
from tests.prose.test_pages_of_the_site import ready
from tests.prose.test_texts import put

PIECE = f"prose/{SUBJECT}/introduction.md"


def piece(body: str, subjects: Subjects) -> tuple[Block, ...]:
    text, _ = parsed(body, PIECE)
    case = subjects.system(SUBJECT)
    assert case is not None
    return blocks_of_prose(text, subjects, SUBJECT, makers=system_blocks(case, {}, Texts()))


def found(body: str, file: str, subjects: Subjects, head: str = "") -> list[tuple[str, str, str]]:
    text, _ = parsed((f"---\n{head}\n---\n" if head else "") + body, file)
    return [
        (each.code.id, f"{each.at.span.line}:{each.at.span.column}", ENGLISH.text(each.help))
        for each in check_prose((text,), subjects)
    ]


def test_a_table_stands_where_a_piece_places_it(subjects: Subjects) -> None:
    before, table, after = piece('One.\n\n{{ table("memory") }}\n\nTwo.\n', subjects)
    assert isinstance(table, Table)
    assert table.anchor == "memory-table"
    assert (before, after) == (paragraph("One."), paragraph("Two."))


def test_it_stands_in_a_list_and_over_several_lines(subjects: Subjects) -> None:
    call = (
        'fact_list("Size", [\n    "mechanics.depth",\n    ("Height", "{mechanics.height}"),\n  ])'
    )
    (made,) = piece(f"- One.\n\n  {{{{ {call} }}}}\n\n- Two, {{mechanics.depth}}.\n", subjects)
    assert isinstance(made, Listing)
    assert [type(each).__name__ for each in made.items[0]] == ["Paragraph", "FactList"]
    assert len(made.items) == 2


def test_another_system_is_named_before_the_call(subjects: Subjects) -> None:
    (own,) = piece('{{ fact_list("Depth", ["mechanics.depth"]) }}\n', subjects)
    (named,) = piece(f'{{{{ {SUBJECT}: fact_list("Depth", ["mechanics.depth"]) }}}}\n', subjects)
    assert own == named


def test_a_page_places_a_table_and_a_figure(tmp_path: Path, subjects: Subjects) -> None:
    body = (
        f'---\nsubject: {SUBJECT}\n---\n# One\n\n{{{{ table("memory") }}}}\n\n'
        '{{ figure("front") }}\n\n{{ table("memory") }}\n\n\ue1009\ue101 <svg onload="x">\n'
    )
    put(tmp_path, {"pages/n.md": body})
    html = ready(tmp_path, subjects)["n.html"].html()
    assert html.count('id="memory-table"') == 1
    assert html.count('<figure class="table"') == 2
    assert '<figure class="picture" id="front-figure">' in html
    assert html.count("<svg") == 1
    assert "\ue100" not in html


@pytest.mark.parametrize(
    ("call", "place", "help_"),
    [
        ('{{ tabel("memory") }}', "1:4", "did you mean `table`?"),
        ('{{ table("memry") }}', "1:11", "did you mean `memory`?"),
        ('{{ table("memory", 3) }}', "1:4", "write `table(name)`"),
        ('{{ table(name="memory", of=3) }}', "1:25", "write `table(name)`"),
        ("{{ table(memory) }}", "1:1", "as in a template"),
        ('{{ table("a" + "b") }}', "1:1", "as in a template"),
        ('{{ table("memory")', "1:1", "write `}}` behind it"),
        ('{{ table("memory" }}', "1:1", "as in a template"),
        ('{{ figure("frnt") }}', "1:12", "did you mean `front`?"),
        ('{{ lantern-ful: table("memory") }}', "1:4", "did you mean `lantern-full`?"),
        ('{{ fact_list("Size", [\n  "mechanics.dpth",\n]) }}', "2:4", "`mechanics.depth`"),
        ('One {{ table("memory") }}.', "1:5", "an empty line before it"),
        ("{{ ''.__class__ }}", "1:1", "as in a template"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("file", [PIECE, "pages/n.md"])
def test_a_call_that_cannot_be_made_is_told_at_its_place(
    call: str, place: str, help_: str, file: str, subjects: Subjects
) -> None:
    head = "" if file == PIECE else f"subject: {SUBJECT}"
    line, column = place.split(":")
    place = place if file == PIECE else f"{int(line) + 3}:{column}"
    if call.startswith("{{ ''"):
        assert found(call + "\n", file, subjects, head) == []
        return
    ((code, at, mend),) = found(call + "\n", file, subjects, head)
    assert (code, at) == ("SG520", place)
    assert help_ in mend


def test_a_page_is_for_customers_and_has_no_document_round_it(subjects: Subjects) -> None:
    head = f"subject: {SUBJECT}"
    ((code, _, mend),) = found('{{ table("rules") }}\n', "pages/n.md", subjects, head)
    assert (code, mend[:12]) == ("SG520", "leave it out")
    ((code, _, mend),) = found("{{ reached() }}\n", "pages/n.md", subjects, head)
    assert (code, mend) == ("SG520", "it stands in pieces of documents: `prose/ID/NAME.md`")
    assert found("{{ reached() }}\n", PIECE, subjects) == []


def test_a_block_that_prints_nothing_is_doubted(subjects: Subjects) -> None:
    ((code, at, _),) = found('{{ table("unusable") }}\n', PIECE, subjects)
    assert (code, at) == ("SG525", "1:1")


def test_what_is_wrong_in_a_piece_stops_its_document_at_its_place(subjects: Subjects) -> None:
    with pytest.raises(FoundElsewhere) as raised:
        piece('One.\n\n{{ table("memry") }}\n', subjects)
    assert raised.value.finding.at.span[:3] == (PIECE, 3, 11)
