"""Printed sheets can be read, and waste no paper: the smallest letters, pages, what is blank.

`python -m tests.bench.paper` measures all of the demo.
"""

import re

import pytest

from specgen.document.shelf import templates_of
from specgen.drawings import LayoutEngine, nowhere
from specgen.pipeline import compose
from specgen.shipped import print_folder
from tests.bench.paper import paper_of

LEAST = 6.0
"""Points; nothing in print is smaller."""
PAGES = {
    "boathouse-archive": 3,
    "boathouse-log": 3,  # the broadest of all topologies
    "lantern-office": 3,
    "beacon-ledger": 3,
    "capstan-forecast": 4,
    "capstan-learning": 4,  # the highest
    "pocket-hill-top": 2,
}


@pytest.mark.parametrize("build", PAGES)
def test_a_sheet_is_short_and_full_and_can_be_read(demo, build):
    document, _ = compose(
        "sheet", templates_of(demo.root), demo.cases[build], LayoutEngine(), nowhere
    )
    assert document is not None
    paper = paper_of(document)
    assert paper.pages <= PAGES[build]
    assert paper.smallest >= LEAST
    assert all(blank < 0.5 for blank in paper.blank[:-1]), paper.blank


@pytest.mark.parametrize(
    ("build", "name", "pages"),
    [
        ("beacon-readings", "presenters-brief", 3),  # pictures that do not fit flow round a page
        ("beacon-ledger", "engineering", 4),
        ("capstan-rehearsal", "sheet", 3),  # a caution more in a row, and the last have a page
    ],
)
def test_pictures_that_do_not_fit_leave_no_page_half_empty(demo, build: str, name: str, pages: int):
    document, _ = compose(name, templates_of(demo.root), demo.cases[build], LayoutEngine(), nowhere)
    assert document is not None
    paper = paper_of(document)
    assert paper.pages <= pages
    assert paper.smallest >= LEAST
    assert all(blank < 0.3 for blank in paper.blank[:-1]), paper.blank


@pytest.mark.parametrize("language", ["de", "ja"])
def test_the_highest_topology_can_be_read_in_other_languages(demo, language):
    document, _ = compose(
        "sheet",
        templates_of(demo.root, language),
        demo.cases["capstan-learning"],
        LayoutEngine(),
        nowhere,
    )
    assert document is not None
    assert document.language == language
    assert paper_of(document).smallest >= LEAST


def test_letters_of_words_and_of_heads_are_large_enough():
    style = (print_folder() / "document.typ").read_text(encoding="utf-8")
    sizes = {name: float(size) for name, size in re.findall(r"#let ([\w-]+) = ([\d.]+)pt", style)}
    assert sizes["body-size"] >= 8.5
    assert sizes["head-size"] >= 7.5
    assert sizes["small"] >= LEAST
