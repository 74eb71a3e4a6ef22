"""Whatever stands in files and findings, every form can be written, and harms no terminal."""

import json
import unicodedata

from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.diagnostics.as_json import json_text
from specgen.diagnostics.as_sarif import sarif_text
from specgen.diagnostics.as_text import full, one_line, report
from specgen.diagnostics.glyphs import cells, harmless, lines_of, width
from tests.timing import tries

anything = st.text(st.characters(codec=None), max_size=40)  # lone surrogates too
awkward = st.text(
    st.sampled_from("a \t\n\r\x1b\u0301東\u202e\ufeff\x85\u2028{}[]()`"), max_size=200
)
texts = anything | awkward
files = st.sampled_from(["a.yaml", "b/c d.yaml", "gone.yaml", "\x1b[2J.yaml"]) | anything
numbers = st.integers(-2, 12) | st.integers(-(10**12), 10**12)
spans = st.builds(Span, files, numbers, numbers, numbers, numbers)
labels = st.builds(Label, spans, texts)
findings = st.builds(
    Finding,
    st.sampled_from(list(codes.CODES.values())),
    texts,
    labels,
    st.lists(labels, max_size=3).map(tuple),
    st.lists(texts, max_size=2).map(tuple),
    texts,
)


def steers(text: str) -> bool:
    return any(unicodedata.category(each) in ("Cc", "Cf", "Cs", "Zl", "Zp") for each in text)


@settings(max_examples=tries(300), deadline=None)
@given(findings, texts, texts)
def test_every_finding_can_be_written_in_every_form(found: Finding, one: str, two: str) -> None:
    sources = {"a.yaml": one, "b/c d.yaml": two * 20, found.at.span.file: one + "\n" + two}
    printed = full(found, sources)
    assert not any(steers(row) for row in printed.split("\n"))
    assert printed.isprintable() or "\n" in printed
    assert not steers(one_line(found))
    assert report([found], sources).startswith(printed)
    json.loads(json_text([found]))
    json.loads(sarif_text([found]))
    printed.encode("utf-8")


@settings(deadline=None)
@given(texts, st.integers(1, 60), st.integers(0, 60))
def test_carets_stand_under_the_text_they_speak_of(line: str, column: int, length: int) -> None:
    one = lines_of(line)[0]
    span = Span("a.yaml", 1, column, 1, column + length)
    rows = full(Finding(codes.SYNTAX, "m", Label(span)), {"a.yaml": line}).split("\n")
    shown = cells(one)
    before = width("".join(shown[: column - 1]))
    if width("".join(shown)) <= 100 and len(one) <= 400:
        assert rows[4].removeprefix("  | ").index("^") == before


@settings(deadline=None)
@given(texts)
def test_harmless_text_stays_on_one_line_and_is_left_alone_a_second_time(text: str) -> None:
    once = harmless(text)
    assert not steers(once)
    assert harmless(once) == once
