"""What the Markdown writer promises: it reads back as the tree, and it is made for reviews."""

import re
from itertools import chain
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from markdown_it import MarkdownIt
from markdown_it.token import Token
from mdit_py_plugins.footnote import footnote_plugin
from written_trees import awkward_document, bare, blocks, cells, documents, text

from specgen.cli.cache_folder import kept_folder
from specgen.diagnostics.glyphs import width
from specgen.document.numbering import numbered
from specgen.document.outline import document
from specgen.document.shelf import templates_of
from specgen.document.tree import (
    Break,
    Caution,
    Column,
    Document,
    Emphasis,
    FactList,
    Figure,
    Footnote,
    Heading,
    Hyperlink,
    Listing,
    Literal,
    Paragraph,
    Quote,
    Strong,
    Table,
    TermList,
    Text,
    ThematicBreak,
    Tick,
    Value,
    Verbatim,
    literal,
    paragraph,
    value,
    words,
)
from specgen.document.tree_walks import anchors_of
from specgen.drawings import LayoutEngine, nowhere
from specgen.pipeline import Survey, bare_case, compose, example_of
from specgen.write.markdown import body

PLACE = re.compile(r'<a id="[\w.-]+">|</a>')
EXPECTED = Path(__file__).parent / "expected"
READER = MarkdownIt("commonmark").enable("table").use(footnote_plugin)
"""HTML is on: nothing may turn into it."""


def resolve(target: str) -> str | None:
    return {"part:riser-a": "../parts/riser-a.html", "platform:lantern": "lantern.html"}.get(target)


# What is compared: every letter that is not blank, with the voice that it is said in.
Style = frozenset[str]


def letters(text: str, style: Style) -> list[tuple[str, Style]]:
    return [(each, style) for each in bare(text) if not each.isspace()]


ANCHORS: set[str] = set()
"""Those of the document that is read: what else a link names leads nowhere."""
NOTES: dict[Footnote, int] = {}
"""The footnotes that the document has come to, with their numbers."""


def spoken(inlines: Any, style: Style = frozenset()) -> list[tuple[str, Style]]:
    got: list[tuple[str, Style]] = []
    for each in inlines:
        match each:
            case Text(text):
                got += letters(text, style)
            case Literal(text):
                got += letters(text, style | {"literal"})
            case Value(number, unit):
                got += letters(number + unit, style)
            case Strong(children):
                got += spoken(children, style | {"strong"})
            case Emphasis(children):
                got += spoken(children, style | {"em"})
            case Hyperlink(children, target):
                leads = target.startswith("https:") or resolve(target) is not None
                leads = leads or target.removeprefix("#") in ANCHORS
                got += spoken(children, style | {"link"} if leads else style)
            case Tick(done):
                got += letters("[x]" if done else "[ ]", style)
            case Footnote():
                got.append((f"^{NOTES.setdefault(each, len(NOTES) + 1)}", style))
    return got


def read_inline(token: Token) -> list[tuple[str, Style]]:
    got: list[tuple[str, Style]] = []
    style: list[str] = []
    for each in token.children or []:
        if each.nesting:
            name = {"strong_open": "strong", "em_open": "em", "link_open": "link"}
            if each.nesting > 0:
                style.append(name[each.type])
            else:
                style.pop()
        elif each.type == "code_inline":
            got += letters(each.content, frozenset((*style, "literal")))
        elif each.type == "footnote_ref":
            got.append((f"^{each.meta['id'] + 1}", frozenset(style)))
        elif each.type == "footnote_anchor":
            pass
        elif each.type != "html_inline" or not PLACE.fullmatch(each.content):
            assert each.type in ("text", "softbreak", "hardbreak"), each
            got += letters(each.content, frozenset(style))
    return got


def outline(blocks: Any) -> list[Any]:
    """The tree as the reader of Markdown is to see it."""
    ANCHORS.clear()
    ANCHORS.update(anchors_of(blocks))
    NOTES.clear()
    made = inner_outline(blocks)
    return [*made, *(("note", inner_outline(note.children)) for note in tuple(NOTES))]


def inner_outline(blocks: Any) -> list[Any]:
    lines: list[Any] = []
    for block in blocks:
        match block:
            case Heading(level, children):
                lines.append((f"h{level}", spoken(children)))
            case Paragraph(children):
                lines += prose(children)
            case Table(title, columns, rows, _, note):
                lines += prose((Strong(words(title)),))
                lines.append(grid([words(column.title) for column in columns], rows))
                lines += prose(note)
            case FactList(title, entries):
                rows = [(words(label), got) for label, got in entries]
                lines.append(grid([words(title or "Fact"), words("Value")], rows))
            case Figure(title, _, text):
                lines += prose((Strong(words(f"Figure: {title}" if title else "Figure")),))
                for line in text.split("\n"):
                    lines += prose(words(line))
            case Caution(subject, children):
                name = words(f"Caution: {subject}" if subject else "Caution")
                lines.append(("quote", inner_outline((Paragraph((Strong(name),)), *children))))
            case TermList(entries):
                items = [
                    inner_outline((Paragraph((Strong(term),)), *chain(*meanings)))
                    for term, meanings in entries
                ]
                lines.append(("ul", None, items))
            case Quote(children):
                inner = inner_outline(children)
                lines += [("quote", inner)] if inner else []
            case Listing(items, first):
                inner = [inner_outline(item) for item in items]
                lines.append(("ul" if first is None else "ol", first, inner))
            case Verbatim(text):
                lines.append(("sample", bare(text)))
            case ThematicBreak():
                lines.append(("rule",))
    return lines


def prose(children: Any) -> list[Any]:
    got = spoken(children)
    return [("p", got)] if got else []


def grid(titles: Any, rows: Any) -> Any:
    return ("table", [[spoken(cell) for cell in row] for row in (titles, *rows)])


def read(markdown: str) -> list[Any]:
    tokens = iter(READER.parse(markdown))
    return list(read_blocks(tokens, ""))


def read_blocks(tokens: Any, end: str) -> list[Any]:
    lines: list[Any] = []
    for token in tokens:
        if token.type == end:
            break
        match token.type:
            case "heading_open":
                lines.append((token.tag, read_inline(next(tokens))))
                next(tokens)
            case "paragraph_open":
                lines.append(("p", read_inline(next(tokens))))
                next(tokens)
            case "bullet_list_open" | "ordered_list_open":
                close = token.type.replace("open", "close")
                items = []
                while next(tokens).type != close:
                    items.append(read_blocks(tokens, "list_item_close"))
                first = token.attrGet("start")
                first = 1 if token.tag == "ol" and first is None else first
                lines.append((token.tag, first, items))
            case "blockquote_open":
                lines.append(("quote", read_blocks(tokens, "blockquote_close")))
            case "table_open":
                rows: list[Any] = []
                while (inner := next(tokens)).type != "table_close":
                    if inner.type == "tr_open":
                        rows.append([])
                    elif inner.type == "inline":
                        rows[-1].append(read_inline(inner))
                lines.append(("table", rows))
            case "fence":
                lines.append(("sample", bare(token.content)))
            case "hr":
                lines.append(("rule",))
            case "footnote_block_open":
                while next(tokens).type == "footnote_open":
                    lines.append(("note", read_blocks(tokens, "footnote_close")))
            case "footnote_anchor":
                pass
            case _:
                raise AssertionError(token)
    return lines


def head(document: Document) -> list[Any]:
    lines: list[Any] = [("h1", spoken(words(document.title)))]
    lines += prose((Emphasis(words(document.subtitle)),))
    if document.meta:
        items = [
            [*prose((Strong(words(f"{label}:")), *words(text)))] for label, text in document.meta
        ]
        lines.append(("ul", None, items))
    return lines


def test_the_awkward_document_is_written_as_approved() -> None:
    written = body(awkward_document(), resolve)
    assert written == (EXPECTED / "awkward.md").read_text(encoding="utf-8")


def test_the_awkward_document_reads_back() -> None:
    made = awkward_document()
    assert read(body(made, resolve)) == [*head(made), *outline(made.blocks)]


@given(cells)
@example((Strong(words(")")), Text("y")))
@example((Text("a"), Emphasis(words("b")), Text("c")))
@example((Text("wow!"), Hyperlink(words("x"), "#x")))
@example((Literal("`"), Literal("`a"), Text("`")))
@example((Text("a | b"), Break(), Text(":-:")))
def test_any_paragraph_heading_and_cell_reads_back_letter_by_letter(cell: Any) -> None:
    made = document(
        "T",
        [
            Heading(2, cell),
            Paragraph(cell),
            Table("", (Column("a"), Column("b", "end")), ((cell, cell),)),
        ],
    )
    assert read(body(made, resolve))[1:] == outline(made.blocks)


@given(text)
def test_any_word_reads_back_wherever_it_stands(word: str) -> None:
    made = document(
        word,
        [
            Heading(2, words(word)),
            paragraph(word),
            Listing(((paragraph(word or "x"),), (paragraph("b"), paragraph(word)))),
            Caution(word, (paragraph(word),)),
            FactList(word, ((word, words(word)),)),
            Table(word, (Column(word), Column(word, "end")), ((words(word), literal(word)),)),
            Verbatim(word),
        ],
        subtitle=word,
        meta=[(word, word)],
    )
    assert read(body(made)) == [*head(made), *outline(made.blocks)]


@given(documents)
@example(document("T", [Listing(((paragraph("0"), Listing(((paragraph("1"),),), 3)),))]))
@example(document("T", [Listing(((paragraph("0"), Listing(((),))),))]))
@example(document("T", [Listing(((Listing(((Listing(((),)),),)),),))]))
def test_any_document_reads_back_as_the_same_headings_tables_and_text(made: Document) -> None:
    assert read(body(made, resolve)) == [*head(made), *outline(made.blocks)]


@given(blocks)
def test_there_is_one_blank_line_between_blocks_and_none_at_the_ends(block: Any) -> None:
    written = body(document("T", [block, ThematicBreak()]))
    if "```" not in written:
        assert "\n\n\n" not in written
    assert written.startswith("# T\n\n")
    assert written.endswith("\n\n---\n")
    assert "\r" not in written


def rows_of(*numbers: str) -> list[str]:
    columns = (Column("Fan", header=True), Column("Draw", "end"))
    rows = tuple((words(f"FAN {at}"), value(each, "W")) for at, each in enumerate(numbers, 1))
    return body(document("T", [Table("", columns, rows)])).splitlines()[2:]


def test_numbers_stand_to_the_right_and_columns_line_up() -> None:
    assert rows_of("5", "12.5") == [
        "| Fan      |     Draw |",
        "| -------- | -------: |",
        "| FAN 1    |      5 W |",
        "| FAN 2    |   12.5 W |",
    ]


def test_a_changed_cell_changes_one_line() -> None:
    before, after = rows_of("5", "12.5", "7"), rows_of("5", "1012.5", "7")
    assert [a != b for a, b in zip(before, after, strict=True)] == [
        False,
        False,
        False,
        True,
        False,
    ]


def test_wide_letters_take_two_columns() -> None:
    table = Table("", (Column("名前"), Column("b")), ((words("日本語"), words("x")),))
    lines = body(document("T", [table])).splitlines()[2:]
    assert len({width(line) for line in lines}) == 1


def test_names_and_sums_are_not_littered_with_backslashes() -> None:
    got = "memory_slots: 8 x 64 GiB = 512 GiB (50 %), R&D - 5 > 3, #2!"
    assert f"\n{got}\n" in body(document("T", [paragraph(got)]))


def test_a_picture_is_its_words() -> None:
    written = body(document("T", [Figure("Lanes", None, "CPU1 owns 16 lanes.\nSLOT 1.")]))
    assert written == "# T\n\n**Figure: Lanes**\n\nCPU1 owns 16 lanes.\n\nSLOT 1.\n"


def test_a_figure_with_a_running_number_is_not_called_one_twice() -> None:
    made = document("T", [Figure("Lanes", None, "SLOT 1.")])
    assert body(numbered(made)) == "# T\n\n**Figure 1. Lanes**\n\nSLOT 1.\n"


def test_a_figure_whose_title_begins_with_that_word_is_called_one_all_the_same() -> None:
    written = body(document("T", [Figure("Figure of merit", None, "SLOT 1.")]))
    assert written == "# T\n\n**Figure: Figure of merit**\n\nSLOT 1.\n"


def test_a_caution_is_a_quote_with_a_bold_title() -> None:
    written = body(document("T", [Caution("mains power", (paragraph("Unplug."),))]))
    assert written == "# T\n\n> **Caution: mains power**\n>\n> Unplug.\n"


def test_links_within_a_document_lead_to_a_place_and_dead_ones_are_words() -> None:
    there, gone, row = (Hyperlink(words(to), f"#{to}") for to in ("power", "gone", "fan-2"))
    rows = ((words("FAN 1"),), (words("FAN 2"),))
    made = document(
        "T",
        [
            Paragraph((there, Text(" "), gone, Text(" "), row)),
            Heading(2, words("Power"), "power"),
            Heading(2, words("Unasked"), "unasked"),
            Table("Fans", (Column("Fan"),), rows, "fans", anchors=("fan-1", "fan-2")),
        ],
    )
    written = body(made)
    assert "[power](#power) gone [fan-2](#fan-2)" in written
    assert '## <a id="power"></a>Power\n' in written
    assert '<a id="fan-2"></a>FAN 2' in written
    assert "unasked" not in written
    assert "fan-1" not in written


@pytest.mark.parametrize("platform", ["lantern", "pocket"])
def test_every_anchor_of_the_guides_is_there(demo: Survey, platform: str) -> None:
    definitions = demo.definitions
    assert definitions is not None
    case = bare_case(definitions, definitions.platforms[platform])
    shown = example_of(definitions, definitions.platforms[platform])
    templates = templates_of(demo.root, "")
    made, _ = compose(
        "guide", templates, case, LayoutEngine(), nowhere, shown=shown, kept=kept_folder()
    )
    assert made is not None
    written = body(made)
    wanted = set(re.findall(r"\]\(#([^)]+)\)", written))
    assert wanted == set(re.findall(r'<a id="([^"]+)"></a>', written))


def test_a_changed_word_of_a_long_description_changes_one_line() -> None:
    clauses = [
        f"CPU{n} gives PORT {n} to SLOT {n}, x16 of PCIe 5.0, by its riser" for n in range(9)
    ]
    before = document("T", [Figure("Topology", None, "; ".join(clauses) + ". All is wired.")])
    clauses[4] = clauses[4].replace("by its riser", "by a cable that somebody has to plug in")
    after = document("T", [Figure("Topology", None, "; ".join(clauses) + ". All is wired.")])
    one, two = body(before).splitlines(), body(after).splitlines()
    assert len(one) == len(two)
    assert sum(a != b for a, b in zip(one, two, strict=True)) == 1
    assert max(map(len, one)) <= 100
    assert read(body(before)) == [*head(before), *outline(before.blocks)]
