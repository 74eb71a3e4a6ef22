"""Texts whose blocks are not whole, or written in a dialect that nothing here is made of: each told
at its place, with what to write instead."""

import pytest

from specgen.document.prose.checks import check_prose, errors_of
from specgen.document.prose.dialects import SIGNS
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import parsed
from specgen.messages import ENGLISH

PIECE = "prose/lantern/introduction.md"
PAGE = "pages/note.md"

TOLD = [
    # warnings and notes
    ("::: warnin Mains\nText.\n:::\n", "SG517", (1, 1), "did you mean `warning`?"),
    ("::: danger\nText.\n:::\n", "SG517", (1, 1), "`caution`"),
    ("One.\n\n::: warning\nText.\n", "SG517", (3, 1), "write a line `:::` behind it"),
    (":::: warning\nText.\n", "SG517", (1, 1), "write a line `::::` behind it"),
    ("::: warning\n", "SG517", (1, 1), "write a line `:::`"),
    ("::: warning Mains\n:::\n", "SG517", (1, 1), "write what to know"),
    ("One.\n\n:::\n", "SG517", (3, 1), "open it with a line"),
    ("> - ::: warning\n>   Text.\n", "SG517", (1, 3), "write a line `:::`"),
    # footnotes
    ("One[^lamp], two[^lamps].\n\n[^lamp]: x\n", "SG515", (1, 16), "did you mean `lamp`?"),
    ("One[^note].\n", "SG515", (1, 4), "`[^note]: …`"),
    ("One[^a].\n\n[^a]: x\n\n[^a]: y\n", "SG515", (5, 1), "give it another name"),
    ("## One[^a]\n\n[^a]: x\n", "SG515", (1, 7), "refer to it from the text"),
    ("| a[^a] |\n|---|\n| b |\n\n[^a]: x\n", "SG515", (1, 4), "refer to it from the text"),
    ("::: note A[^a]\nx\n:::\n\n[^a]: x\n", "SG515", (1, 11), "refer to it from the text"),
    ("One[^a][^b].\n\n[^a]: x[^b]\n\n[^b]: y\n", "SG515", (3, 8), "refer to it from the text"),
    ("One.\n\n- [^a]: x\n", "SG516", (1 + 2, 1), "write `[^a]` where it belongs"),
    ("[there[^a]](https://a.example/).\n\n[^a]: x\n", "SG506", (1, 1), "behind the link"),
    ("[a [b](https://a.example/)](https://b.example/)\n", "SG506", (1, 1), "behind the link"),
    # tables
    ("| a | b |\n|---|---|\n| 1 | 2 | 3 |\n", "SG518", (3, 1), "written `\\|`"),
    ("a | b\n--|--\n1 | 2 | 3\n", "SG518", (3, 1), "written `\\|`"),
    ("| a | b |\n|---|---|---|\n| 1 | 2 |\n", "SG518", (2, 1), "as many `---`"),
    # lines of code
    ("One.\n\n```\ncode\n", "SG519", (3, 1), "the same signs behind them"),
    ("~~~~\ncode\n~~~\n", "SG519", (1, 1), "the same signs behind them"),
    # other dialects
    ("One{.wide}\n", "SG519", (1, 4), "take them away"),
    ("## One {.wide}\n", "SG519", (1, 8), "take them away"),
    ("~~one~~\n", "SG519", (1, 1), "take them away"),
    ("A ==b== c\n", "SG519", (1, 3), "`**words**`"),
    ("See [[notes]].\n", "SG519", (1, 5), "`[words](page.md)`"),
    ("One^[two]\n", "SG519", (1, 4), "`[^name]`"),
    ("[TOC]\n", "SG519", (1, 1), "take it away"),
    ("!!! note\n    One.\n", "SG519", (1, 1), "`::: warning …`"),
    ("[!WARNING]\nOne.\n", "SG519", (1, 1), "`::: warning …`"),
    ("> [!WARNING]\n> One.\n", "SG519", (1, 3), "`::: warning …`"),
    ("It is $$x^2$$.\n", "SG519", (1, 7), "in words"),
]  # fmt: skip
OF_PIECES = [
    ("One <b>two</b>\n", "SG519", (1, 5), "write Markdown"),
    ("One <!-- two -->\n", "SG519", (1, 5), "write Markdown"),
    ("One\n===\n", "SG519", (2, 1), "write `#` before the heading"),
]

SOUND = [
    "::: warning Mains power\nText.\n:::\n",
    "> ::: note\n> Text.\n> :::\n",
    "- a\n\n  ::: caution Edges\n  b\n  :::\n\n- c\n",
    ":::: note\n::: warning\nx\n:::\n::::\n",
    "One[^a], two[^a].\n\n[^a]: x\n\n    y\n",
    "| a | b |\n|---|---|\n| 1 \\| 2 | 3 |\n| 1 |\n",
    "- | a | b |\n  |---|---|\n  | 1 | 2 |\n",
    "```\n| a |\n:::\n[^x] <b> {.wide} ~~one~~ ==two==\n```\n",
    "`[^x] <b> {.wide} ~~one~~ ==two== [[three]]`\n",
    "1 == 2 and 3 == 4, x~~y, a ~ b, 2 < 3 > 1, \\<b>, \\{.x}\n",
    "- [ ] one\n- [x] two\n\nHub\n: What drives hang from.\n",
    "## Feet {#feet}\n",
]


def found(body: str, file: str, subjects: Subjects) -> list[tuple[str, tuple[int, int], str]]:
    text, _ = parsed(body, file)
    return [
        (each.code.id, (each.at.span.line, each.at.span.column), ENGLISH.text(each.help))
        for each in check_prose((text,), subjects)
    ]


@pytest.mark.parametrize("file", [PIECE, PAGE])
@pytest.mark.parametrize(("body", "code", "place", "help_"), TOLD)
def test_what_is_not_whole_is_told_at_its_place(
    body: str, code: str, place: tuple[int, int], help_: str, file: str, subjects: Subjects
) -> None:
    ((told, at, mend),) = found(body, file, subjects)
    assert (told, at) == (code, place)
    assert help_ in mend


@pytest.mark.parametrize(("body", "code", "place", "help_"), OF_PIECES)
def test_html_and_underlined_headings_are_told_of_pieces_alone(
    body: str, code: str, place: tuple[int, int], help_: str, subjects: Subjects
) -> None:
    told, at, mend = found(body, PIECE, subjects)[0]
    assert (told, at) == (code, place)
    assert help_ in mend
    assert "SG519" not in {code for code, _, _ in found(body, PAGE, subjects)}


@pytest.mark.parametrize("file", [PIECE, PAGE])
@pytest.mark.parametrize("body", SOUND)
def test_what_is_whole_is_not_told(body: str, file: str, subjects: Subjects) -> None:
    assert found(body, file, subjects) == []


def test_every_sign_of_another_dialect_is_tried() -> None:
    bodies = [body for body, *_ in (*TOLD, *OF_PIECES)]
    assert [sign for sign in SIGNS if not any(map(sign.pattern.search, bodies))] == []


def test_a_document_is_not_written_of_a_text_that_is_not_whole(subjects: Subjects) -> None:
    text, _ = parsed("::: warning\nText.\n", PIECE)
    assert [each.code.id for each in errors_of(text, subjects)] == ["SG517"]
    unused, _ = parsed("One.\n\n[^a]: x\n", PIECE)
    assert errors_of(unused, subjects) == ()


@pytest.mark.parametrize("end", ["", "\n", " ", "   ", "\n \n", "\t", "\n>", "\n:"])
@pytest.mark.parametrize("body", ["::: note\nx", "[^a]: x", "a\n: b", "- [ ] x", "::: note"])
def test_a_text_may_end_anywhere(body: str, end: str, subjects: Subjects) -> None:
    for file in (PIECE, PAGE):
        text, _ = parsed(body + end, file)
        check_prose((text,), subjects)
