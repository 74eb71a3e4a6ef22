"""Trees for the writers' tests: any tree that hypothesis can think of, and one awkward document."""

import unicodedata

from hypothesis import strategies as st

from specgen.document.outline import document
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
    link,
    literal,
    paragraph,
    value,
    words,
)
from specgen.drawings.picture import Element, Picture

MARKS = "|*_`#<>&;[]()!\\-+=~:.$@{}%'\"1ab \n\t日é\u00a0"

text = st.text(st.one_of(st.sampled_from(MARKS), st.characters(codec="utf-8")), max_size=12)
number = st.one_of(text, st.sampled_from(("750", "1.5")))
targets = st.sampled_from(
    (
        "part:riser-a",
        "platform:x",
        "https://example.org/a?b=1&copy;=(2)|*_x_",
        "#power",
        "../a.html",
    )
)

leaves = st.one_of(
    st.builds(Text, text),
    st.builds(Literal, text),
    st.builds(Value, number, text, text),
    st.builds(Break),
)
inlines = st.recursive(
    leaves,
    lambda inner: st.one_of(
        st.builds(Strong, st.lists(inner, max_size=3).map(tuple)),
        st.builds(Emphasis, st.lists(inner, max_size=3).map(tuple)),
        st.builds(Hyperlink, st.lists(inner, max_size=3).map(tuple), targets),
    ),
    max_leaves=6,
)
cells = st.lists(inlines, max_size=4).map(tuple)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    columns = draw(
        st.lists(
            st.builds(Column, text, st.sampled_from(("start", "end")), st.booleans()),
            min_size=1,
            max_size=3,
        )
    )
    row = st.tuples(*[cells] * len(columns))
    rows = draw(st.lists(row, max_size=3))
    return Table(draw(text), tuple(columns), tuple(rows), note=draw(cells))


def drawing(width: float, height: float, *drawn: Element) -> Picture:
    """A drawing of so many points, with what is drawn in it."""
    size = {"width": f"{width}pt", "height": f"{height}pt"}
    root = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", **size}, drawn)
    return Picture(root, width, height)


def lettered(words: str) -> Picture:
    """A drawing that says words and is told as the same."""
    told = Element("title", {}, (words,))
    return drawing(
        90, 45, told, Element("text", {"x": "1", "y": "9", "aria-label": words}, (words,))
    )


drawings = st.one_of(st.none(), st.builds(lettered, text))
pictures = st.builds(Figure, text, drawings, text)
fact_lists = st.builds(FactList, text, st.lists(st.tuples(text, cells), max_size=3).map(tuple))
simple = st.one_of(
    st.builds(Paragraph, cells),
    tables(),
    fact_lists,
    pictures,
    st.builds(Verbatim, text, text),
    st.builds(ThematicBreak),
)
blocks = st.recursive(
    simple,
    lambda inner: st.one_of(
        st.builds(
            Listing,
            st.lists(st.lists(inner, max_size=2).map(tuple), min_size=1, max_size=3).map(tuple),
            st.one_of(st.none(), st.integers(0, 999)),
        ),
        st.builds(Quote, st.lists(inner, max_size=2).map(tuple)),
        st.builds(Caution, text, st.lists(inner, max_size=2).map(tuple)),
    ),
    max_leaves=5,
)
documents = st.builds(
    document,
    text,
    st.lists(st.one_of(blocks, st.builds(Heading, st.integers(1, 7), cells)), max_size=4),
    subtitle=text,
    meta=st.lists(st.tuples(text, text), max_size=2),
)


def bare(text: str) -> str:
    """The text as a reader sees it: blanks folded, nothing that cannot be printed."""
    kept = (
        each
        for each in text
        if each.isspace()
        or (
            not (unicodedata.category(each) in ("Cc", "Cs") or ord(each) & 0xFFFE == 0xFFFE)
            and not 0xFDD0 <= ord(each) <= 0xFDEF
        )
    )
    return " ".join("".join(kept).split())


AWKWARD = (
    "a|b *c* _d_ #e $f$ @g <script>alert(1)</script> &amp; {{ x }} {% y %} `z` [q](w) \\ 日本語"
)


_NOTE = Footnote((Paragraph(words(f"[^1]: {AWKWARD}")), Listing(((paragraph("- so"),),), 1)))


def awkward_document() -> Document:
    """Every block once, with everything in it that a format could stumble over."""
    columns = (
        Column("Position", header=True),
        Column(AWKWARD),
        Column("Draw | 消費", align="end"),
    )
    rows = (
        (words("SLOT 1"), link(AWKWARD, "part:riser-a"), value("12.5", "W", "slot 1.power")),
        (words("SLOT 2"), words("1. no list"), value("1\u202f250", "W", 'odd "key" & <tag>')),
        (literal("DIMM|A1`"), (), words("– none –")),
    )
    return document(
        f"Sheet of {AWKWARD}",
        [
            Heading(2, words("# 1. Power")),
            paragraph("- no list item"),
            paragraph("1) nor this\n# nor a heading\n> nor a quote"),
            Paragraph(
                (
                    Text("pre"),
                    Strong((Text("*strong*"), Emphasis((Text("both"),)))),
                    Text("fix, draws "),
                    Value("750", "W", "power.maximum"),
                    Text("; see "),
                    Hyperlink((Text("the platform"),), "platform:lantern"),
                    Text(", "),
                    Hyperlink((Text("nowhere"),), "build:unknown"),
                    Text(", "),
                    Hyperlink((Text("a trap"),), "javascript:alert(1)"),
                    Break(),
                    Literal("order|no `LN-114`"),
                )
            ),
            Table("Slots | <all>", columns, rows, note=words("* as declared")),
            Heading(4, words("Two levels down, so said")),
            FactList(
                "Power",
                (("Maximum", value("750", "W", "power.maximum")), ("At <idle>", words("*n/a*"))),
            ),
            Caution("mains power", (paragraph("+ Unplug & wait."), paragraph(AWKWARD))),
            Figure("Lanes & links", lettered("x < y & z"), "CPU1 | 16 lanes\n# SLOT 1"),
            Listing(
                (
                    (paragraph("one"), Listing(((paragraph("under one"),),))),
                    (paragraph("- two"),),
                ),
                first=1,
            ),
            Listing(((paragraph("first"), paragraph("second")), (Quote((paragraph(">"),)),))),
            Listing(((paragraph("another list"),),)),
            Listing(((Paragraph((Tick(False), Text("* open"))),), (Paragraph((Tick(True),)),))),
            TermList(
                (
                    (words("Hub: #1"), ((paragraph(": drives & <b>"),), (paragraph("~ a wheel"),))),
                    ((Strong(words("Riser")),), ((paragraph("> cards"), paragraph("upright")),)),
                )
            ),
            Paragraph((Text("Noted"), _NOTE, Text(" and [^2]"), _NOTE, Footnote(()))),
            Verbatim("fans: # ```\n  - <b>&amp;\n", "yaml"),
            ThematicBreak(),
            paragraph("Rindfleischetikettierungsüberwachungsaufgabenübertragungsgesetz" * 2),
        ],
        subtitle="For *review* & <print>",
        meta=(("Edition", "3 | 2026"), ("Prepared by", "Quillmere *Works*")),
    )
