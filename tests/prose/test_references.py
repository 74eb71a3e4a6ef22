"""References are read, printed with unit, rounding and plural, and lead somewhere."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.document.prose.passages import GAP, passages
from specgen.document.prose.reference import (
    BadReference,
    Reference,
    read_reference,
)
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.tree import Datum, Hyperlink, Literal, plain_text
from specgen.load.definitions import load
from specgen.quantity import Power
from tests.projects import base, sources
from tests.prose.conftest import Check, page


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("power.maximum", Reference("fact", "power.maximum")),
        (" shore-a :  power.maximum ", Reference("fact", "power.maximum", "shore-a")),
        (
            "storage.drives, drive, drives",
            Reference("fact", "storage.drives", "", ("drive", "drives")),
        ),
        ("part tall-riser", Reference("part", "tall-riser")),
        (
            "part tall-riser, the tall\nriser",
            Reference("part", "tall-riser", "", ("the tall riser",)),
        ),
        ("number tall-riser", Reference("number", "tall-riser")),
        ("shore-a: position BAY 0..3", Reference("position", "BAY 0..3", "shore-a")),
        ("a=3  b: order.mass", Reference("fact", "order.mass", "a=3 b")),
        ("network.25 Gbit/s sfp28.count", Reference("fact", "network.25 Gbit/s sfp28.count")),
    ],
)
def test_the_forms_of_a_reference(written: str, read: Reference):
    assert read_reference(written) == read


@pytest.mark.parametrize(
    "written",
    [
        "a,",
        "number",
        "number x, y",
        "x: number y",
        "part x: tdp",
        "shore-a: part x",
        "a, b, c, d",
        "part",
    ],
)
def test_what_follows_no_form_is_reported(written: str):
    with pytest.raises(BadReference):
        read_reference(written)


WORDS = st.from_regex(r"[a-z][a-z0-9.]{0,8}", fullmatch=True)


@given(WORDS, st.sampled_from(["", "shore-a"]), st.lists(WORDS, max_size=2))
def test_a_reference_reads_back_as_it_is_written(name: str, subject: str, words: list[str]):
    try:
        made = Reference("fact", name, subject, tuple(words))
        assert read_reference(str(made)[1:-1]) == made
    except BadReference:
        assert name in (
            "part",
            "platform",
            "build",
            "position",
            "figure",
            "table",
            "limit",
            "number",
        )


@pytest.mark.parametrize(
    ("written", "text", "target"),
    [
        ("lantern-full: power.maximum", "825 W", "build:lantern-full"),
        ("lantern-full: storage.raw", "15.04 TB", "build:lantern-full"),
        ("lantern-full=2 lantern-small: order.servers", "3", ""),
        ("lantern-full=2: order.parts.supply-1300, supply, supplies", "4\u00a0supplies", ""),
        ("lantern-full=2: lantern-full.power.maximum", "825 W", ""),
        ("lantern-full: storage.drives, drive, drives", "6\u00a0drives", "build:lantern-full"),
        ("lantern-full: storage.spares, spare, spares", "1\u00a0spare", "build:lantern-full"),
        ("lantern: size.depth", None, "platform:lantern"),
        ("corvane-c32: tdp", None, "part:corvane-c32"),
        ("part supply-800", "Supply 800 W", "part:supply-800"),
        ("part supply-800, the small one", "the small one", "part:supply-800"),
        ("build lantern-full", "Lantern, full", "build:lantern-full"),
        ("lantern-full: position BAY 0..3", "BAY 0 to 3", "build:lantern-full"),
        ("lantern: position SLOT 1", "SLOT 1", "platform:lantern"),
        ("lantern-full: table memory", "Memory", "build:lantern-full#memory-table"),
        ("lantern-full: figure topology", "topology", "build:lantern-full#topology-figure"),
    ],
)
def test_each_is_printed_and_leads_to_its_page(
    subjects: Subjects, written: str, text: str | None, target: str
):
    made = printed(written, "", subjects)
    assert (made.message, made.target) == ("", target)
    assert text is None or plain_text(made.cell) == text


def test_an_order_number_is_read_letter_by_letter_and_leads_to_what_has_it():
    files = base()
    (name,) = (name for name, text in files.items() if "{id: supply-800," in text)
    numbered = files[name].replace("{id: supply-800,", "{id: supply-800, number: Q-0800 *x*,")
    definitions = load(sources({**files, name: numbered})).definitions
    assert definitions is not None
    made = printed("number supply-800", "", Subjects(definitions))
    assert made.linked == (Hyperlink((Literal("Q-0800 *x*"),), "part:supply-800"),)


def test_in_its_own_document_a_value_keeps_its_key_and_needs_no_link(subjects: Subjects):
    made = printed("power.maximum", "lantern-full", subjects, "lantern-full")
    assert made.linked == (Datum(Power.of(825), "power.maximum"),)
    elsewhere = printed("power.maximum", "lantern-full", subjects, "lantern")
    assert isinstance(elsewhere.linked[0], Hyperlink)


@pytest.mark.parametrize(
    ("written", "code", "help_"),
    [
        ("power.maximun", "SG501", "`power.maximum`"),
        ("lantern-ful: power.maximum", "SG501", "`lantern-full`"),
        ("lantern-full=2 lantern-smal: order.mass", "SG501", "`lantern-small`"),
        ("lantern-full=2: order.mas", "SG501", "`order.mass`"),
        ("lantern-full=2: position BAY 0", "SG501", ""),
        ("lantern-full=2: table memory", "SG501", ""),
        ("part supply-80", "SG501", ""),
        ("platform lanten", "SG501", "`lantern`"),
        ("number supply-80", "SG501", "`supply-800`"),
        ("number supply-800", "SG508", "declare its `number`"),
        ("position SLOT 99", "SG501", ""),
        ("table memroy", "SG501", "`memory`"),
        ("figure topolgy", "SG501", "`topology`"),
        ("limit storage.drives", "SG501", ""),
        ("position BAY 3..1", "SG502", ""),
        ("power.maximum, watt, watts", "SG502", "{power.maximum}"),
        ("power.idle", "SG508", "specgen explain lantern-full power.idle"),
    ],
)
def test_what_is_not_there_is_reported_with_what_was_meant(
    check: Check, written: str, code: str, help_: str
):
    (found,) = check(f"See {{{written}}} here.\n")
    assert found.code.id == code
    assert help_ in str(found.help)
    span = found.at.span
    assert (span.line, span.column, span.end_column) == (4, 5, 7 + len(written))


def test_a_text_about_nothing_needs_to_say_of_what(check: Check):
    (found,) = check("It draws {power.maximum}.\n", head="title: x")
    assert found.code.id == "SG501"
    assert "subject: ID" in str(found.help)


def test_code_escapes_and_other_braces_are_left_alone(check: Check):
    body = "`{nonsense}` \\{nonsense} {1, 2} {{\n\n```\n{nonsense}\n```\n\n    {nonsense}\n"
    assert check(body) == ()


PLACES = """\
> quoted {aa}
> and {bb}

- item
  *with {cc}* [in {dd}](x "{ee}")

| a | b |
| - | - |
| x \\| {ff} | {ff} |

## Title {gg} ##
"""


def test_places_are_exact_whatever_the_markup_round_them():
    text = page(PLACES)
    lines = text.text.split("\n")
    found = [
        (each.inner, passage.span(each.start, each.end), each.linked)
        for passage in passages(text)
        for each in passage.mentions
    ]
    assert [inner for inner, _, _ in found] == ["aa", "bb", "cc", "dd", "ff", "ff", "gg"]
    for inner, span, linked in found:
        assert lines[span.line - 1][span.column - 1 : span.end_column - 1] == f"{{{inner}}}"
        assert linked is (inner == "dd")
    assert found[4][1] != found[5][1]


@given(st.text(alphabet="ab {}[]()`*_|\\<>#->!&;1W\n", max_size=60))
def test_any_markdown_has_its_places(text: str):
    prose = page(text)
    for passage in passages(prose):
        assert len(passage.places) == len(passage.content) + 1
        assert len(passage.flat) == len(passage.content)
        for mention in passage.mentions:
            start, end = passage.offsets(mention.start, mention.end)
            assert prose.text[start] == "{"
            assert prose.text[end - 1] == "}"
            assert set(passage.flat[mention.start : mention.end]) == {GAP}
