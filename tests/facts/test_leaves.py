"""Leaves of pedigrees: a line only where something is written, and the value that was taken."""

import re
from collections.abc import Iterator

import pytest

from specgen.facts import Declared, Fact
from specgen.facts.fact_data import DeclaredInput, fact_record
from specgen.facts.tabled import tabled
from specgen.pipeline import Survey
from specgen.quantity import TransferRate, show

NAMES = ("lantern-office", "boathouse-archive", "capstan-forecast", "pocket-lamp-room")
HEAD = re.compile(r"\s*(?:- )?(?:kind|id):")


def leaves(demo: Survey, name: str) -> Iterator[tuple[Fact, Declared]]:
    for fact in demo.cases[name].facts.values():
        yield from ((fact, each) for each in fact.inputs if isinstance(each, Declared))


@pytest.mark.parametrize("name", NAMES)
def test_a_leaf_without_a_value_has_no_line(demo: Survey, name: str):
    silent = [(fact.key, each) for fact, each in leaves(demo, name) if each.value is None]
    assert silent
    for key, each in silent:
        assert not each.span.file, (key, each.label)


@pytest.mark.parametrize("name", NAMES)
def test_no_leaf_leads_to_the_head_of_a_definition(demo: Survey, name: str):
    """That is where a field would be that nobody wrote."""
    for fact, each in leaves(demo, name):
        if each.span.file:
            lines = demo.sources.texts[each.span.file].splitlines()
            assert not HEAD.match(lines[each.span.line - 1]), (fact.key, each.label)


def test_a_default_has_a_value_and_neither_line_nor_document(demo: Survey):
    fact = demo.cases["lantern-office"].facts["regulation.idle_base"]
    leaf = next(
        each for _, each in leaves(demo, "lantern-office") if "regulated as" in str(each.label)
    )
    assert leaf.value == "server"
    assert not leaf.span.file
    made = [each for each in fact_record(fact).inputs if isinstance(each, DeclaredInput)]
    found = next(each for each in made if "regulated as" in each.label)
    assert (found.file, found.line, found.document) == (None, None, None)


@pytest.mark.parametrize("name", NAMES)
def test_tables_are_printed_with_their_rows(demo: Survey, name: str):
    for fact, each in leaves(demo, name):
        assert "as tabled" not in show(each.value), fact.key
    speeds = [each for _, each in leaves(demo, name) if str(each.label).endswith("memory speed")]
    taken = show(demo.cases[name].facts.value("memory.speed")).partition("\u202f")[0]
    assert any(taken in show(each.value) for each in speeds)


def test_rows_of_a_table_in_words(demo: Survey):
    speeds = {1: TransferRate.of(5600, "MT/s"), 2: TransferRate.of(4400, "MT/s")}
    assert str(tabled(speeds)).replace("\u202f", " ") == "1: 5600 MT/s, 2: 4400 MT/s"
    assert tabled(("a", "b")) == ("a", "b")
    assert tabled(7) == 7
    assert tabled({}) is None  # nothing is declared, which is not an empty text
    assert demo.definitions is not None
    supply = demo.definitions.parts["supply-1000"]
    words = str(tabled(supply.outputs)).replace("\u202f", " ")  # type: ignore[attr-defined]
    assert words.endswith("from 200 V, to 240 V, output 1000 W")
