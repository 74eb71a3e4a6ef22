"""No input ends in an exception or runs on, and all that is found has its place.

`inputs.py` lists what is tried. A few of each sort are tried in every run, always the same, and
so is the saved corpus; `SPECGEN_FUZZ=10000` tries so many of each, new ones every time, and
`python -m tests.fuzzed` does so at less cost, with the memory of each.
"""

import os
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from specgen.messages.po import read_catalogue
from tests.fuzzed.__main__ import CORPUS, corpus_of, run
from tests.fuzzed.inputs import SORTS, Sort, catalogues, files
from tests.fuzzed.mutations import changed_bytes
from tests.projects import checked, sources
from tests.timing import NO_HANG, stopwatch

WANTED = int(os.environ.get("SPECGEN_FUZZ", "0"))
TRIED: Counter[str] = Counter()


@pytest.fixture(scope="module", autouse=True)
def _counted() -> Iterator[None]:
    yield
    if WANTED:
        print(dict(TRIED))


@contextmanager
def bounded(what: str) -> Iterator[None]:
    """Counts one input; fails where it runs on."""
    used = stopwatch()
    yield
    TRIED[what] += 1
    assert used() < NO_HANG


@pytest.mark.parametrize("name", SORTS)
def test_any_input_ends_in_a_document_or_in_findings(name: str) -> None:
    sort = SORTS[name]
    seeds = sort.seeds()

    @settings(
        max_examples=WANTED or sort.few,
        derandomize=not WANTED,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.data())
    def tried(data: st.DataObject) -> None:
        of = data.draw(st.sampled_from(sorted(seeds)))
        made = changed_bytes(seeds[of], lambda low, high: data.draw(st.integers(low, high)))
        with bounded(name):
            sort.tried(of, made)

    tried()


@pytest.mark.parametrize("name", [each.name for each in sorted(CORPUS.iterdir())])
def test_what_was_found_before_is_well(name: str) -> None:
    """Inputs that have reached code which no other did, or that have failed once."""
    sort, inputs = corpus_of(CORPUS / name)
    assert inputs
    for of, content in inputs:
        with bounded(sort):
            SORTS[sort].tried(of, content)


@pytest.mark.parametrize("plural", ["n", "n != 1);", "", "n n", "(" * 300, "1x"])
def test_a_catalogue_with_a_broken_rule_of_plurals_is_passed_over(plural: str) -> None:
    right, piece = "plural=(n != 1);", catalogues()["de"].decode()
    assert right in piece
    text = piece.replace(right, f"plural={plural}")
    messages, rule = read_catalogue(text.encode(), "de")
    assert (rule is None) == (messages == {})


@pytest.mark.parametrize(
    "charset", ["utf1", "", "hex", "rot13", "idna", "utf-16", "undefined", "x" * 900]
)
def test_a_catalogue_in_letters_that_nobody_knows_is_passed_over(charset: str) -> None:
    text = catalogues()["de"].decode().replace("charset=utf-8", f"charset={charset}")
    assert f"charset={charset}\\n" in text
    messages, _ = read_catalogue(text.encode(), "de")
    assert messages == {} or charset == ""


def test_inputs_are_sound_before_they_are_changed() -> None:
    """What is found comes of the change."""
    assert checked(sources(files())).findings == ()
    for sort in SORTS.values():
        for of, content in sort.seeds().items():
            sort.tried(of, content)


def test_many_are_counted_and_a_fault_is_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run(["SVG", "CSV"], 5, 0, tmp_path / "none") == 0
    said = capsys.readouterr().out.splitlines()
    assert [each.split(", ")[:2] for each in said] == [
        ["SVG: 5 inputs", "0 failed"],
        ["CSV: 5 inputs", "0 failed"],
    ]
    assert not (tmp_path / "none").exists()

    def failing(_: str, content: bytes) -> None:
        assert content == b"x"

    monkeypatch.setitem(SORTS, "broken", Sort(lambda: {"a": b"x"}, failing, 1))
    assert run(["broken"], 3, 0, tmp_path / "some") == 1
    assert "AssertionError" in (tmp_path / "some/broken-0.txt").read_text()
    assert (tmp_path / "some/broken-0").is_file()
