"""The spec sheet: its first page decides, and holds nothing that is for the house alone."""

import re
from collections.abc import Iterator

import pytest

from specgen.document.audience import AUDIENCES, CUSTOMER
from specgen.document.shelf import templates_of
from specgen.document.tree import Document, FactList, Figure, Heading, plain_text
from specgen.drawings import LayoutEngine, nowhere
from specgen.pipeline import Survey, compose
from specgen.shipped import template_names
from specgen.site.outgoing import audience_of
from specgen.write import pdf

AT_A_GLANCE = {
    "Processors",
    "Memory",
    "Accelerators",
    "Drives",
    "Capacity",
    "Free slots",
    "Network",
    "Input power",
    "Power supplies",
    "Heat and airflow",
    "Maximum inlet temperature",
    "Sound power",
    "Dimensions",
    "Weight",
    "All values at",
}
ALWAYS = AT_A_GLANCE - {"Accelerators", "Drives", "Capacity", "Free slots", "Network"}


OURS = ("sheet", "site-preparation", "parts-list", "engineering", "information")
"""What is sent to others: all but what is internal."""


@pytest.fixture(scope="module")
def sheets(demo: Survey) -> dict[str, Document]:
    templates, engine = templates_of(demo.root), LayoutEngine()
    found = {}
    for name, case in demo.cases.items():
        document, problems = compose("sheet", templates, case, engine, nowhere)
        assert document is not None, problems
        found[name] = document
    return found


def _first_page(document: Document) -> Iterator[object]:
    for block in document.blocks:
        if isinstance(block, Heading):
            return
        yield block


def _glance(document: Document) -> dict[str, str]:
    lists = [each for each in _first_page(document) if isinstance(each, FactList)]
    assert len(lists) == 1
    return {str(label): plain_text(cell) for label, cell in lists[0].entries}


def test_the_first_page_has_both_sides_and_then_what_decides(sheets):
    for name, document in sheets.items():
        sorts = [type(each) for each in _first_page(document)]
        assert sorts.index(Figure) < sorts.index(FactList), name
        rows = _glance(document)
        assert set(rows) >= ALWAYS, name
        assert set(rows) <= AT_A_GLANCE, name


def test_what_decides_is_what_the_facts_say(demo, sheets):
    # Worked out by hand: 12 x 24 + 4 x 12 + 2 x 0.96 TB of the archive's drives.
    rows = _glance(sheets["boathouse-archive"])
    assert rows["Capacity"] == "337.9 TB raw, 241 TB usable, 0 TB unassigned"
    assert rows["Drives"] == "16 of 16 bays filled, 2 on cards and in M.2 slots"
    assert rows["All values at"] == "230 V, 25 °C inlet, 150 m"
    lamp = _glance(sheets["pocket-lamp-room"])
    assert lamp["Drives"] == "1 on cards and in M.2 slots"  # it has no bays
    assert "Free slots" not in lamp
    assert lamp["Capacity"].endswith("raw, in no volume")


def test_the_inlet_is_limited_by_a_reason_and_not_by_a_code(demo, sheets):
    codes = {rule.code for each in demo.definitions.platforms.values() for rule in each.rules}
    assert codes
    found = re.compile("|".join(map(re.escape, codes)))
    for name, document in sheets.items():
        reason = _glance(document)["Maximum inlet temperature"]
        assert not found.search(reason), name
        assert re.fullmatch(r"\d+(\.\d)? °C: .+", reason), name


def test_every_shipped_document_says_whom_it_is_for(demo):
    templates = templates_of(demo.root)
    for name in template_names(demo.root):
        assert audience_of(templates, name) in AUDIENCES, name


@pytest.mark.parametrize("build", ["boathouse-archive", "capstan-learning", "pocket-hill-top"])
def test_what_is_sent_to_others_names_no_finding_no_file_and_no_id(demo, build):
    templates, engine, case = templates_of(demo.root), LayoutEngine(), demo.cases[build]
    ids = {each for each in demo.definitions.parts if "-" in each}
    for name in OURS:
        document, _ = compose(name, templates, case, engine, nowhere)
        assert document is not None
        assert document.audience == audience_of(templates, name)
        said = "\n".join(pdf.texts(document))
        assert not re.search(r"\bSG\d{3}\b|\.yaml\b", said), name
        words = set(re.findall(r"[a-z0-9]+(?:[-.][a-z0-9]+)+", said))
        assert not words & ids, name
        if document.audience == CUSTOMER:
            assert "dated source" not in said, name
            assert not re.search(r"\b(BOAT|CAPSTAN|POCKET|COAST|HOUSE)-\d\d\b", said), name
