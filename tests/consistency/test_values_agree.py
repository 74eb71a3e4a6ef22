"""No value of any document disagrees: not with its fact, nor with another, in any language."""

import re
from collections import Counter
from collections.abc import Callable, Iterator

import pytest

from tests.consistency.expected import NOTHING, agrees, read_back, values
from tests.consistency.printed import Printed, Project
from tests.consistency.relations import COUNTED, RELATIONS
from tests.document.test_every_value_is_a_fact import declared_texts, loose_numbers

OTHERS = [pytest.param("all", tag, marks=pytest.mark.slow) for tag in ("de", "ja")]
IN = ("project", "tag")
"""Each takes a minute and a half; projects at random are read in German every time."""


def disagreeing(printed: Printed) -> Iterator[str]:
    """Values that are not what the fact of their key is, or that have none."""
    for each, row in values(printed.document.blocks):
        if COUNTED.fullmatch(each.key):
            continue
        fact, shown = printed.lookup.value(each.key, row), f"{each.number} {each.unit}"
        if fact is NOTHING:
            yield f"{printed.name}: {shown} names no fact: `{each.key}`"
        elif not agrees(each, fact, printed.language):
            yield f"{printed.name}: {each.key} is {fact}, printed {shown}"


@pytest.mark.parametrize(
    IN,
    [("some", "en"), pytest.param("all", "en", marks=pytest.mark.slow), *OTHERS],
    indirect=["project"],
)
def test_documents_print_the_facts(project: Project, tag: str):
    assert [line for each in project.documents(tag) for line in disagreeing(each)] == []


@pytest.mark.parametrize(IN, OTHERS, indirect=["project"])
def test_every_word_is_translated(project: Project, tag: str):
    made = (*(each.document for each in project.documents(tag)), *project.guides_of_builds(tag))
    missing = {found: None for document in made for found in document.untranslated}
    assert list(missing) == [], "`.dev/messages.py missing` prints those of the demo"


@pytest.mark.parametrize("find", RELATIONS)
def test_counts_and_sums_are_those_of_their_rows(
    project: Project, find: Callable[[Printed], Iterator[str]]
):
    assert [line for each in project.documents("en") for line in find(each)] == []


@pytest.mark.parametrize(IN, OTHERS, indirect=["project"])
def test_other_languages_print_the_same_values(project: Project, tag: str):
    for one, other in zip(project.documents("en"), project.documents(tag), strict=True):
        assert numbers_of(one) == numbers_of(other), one.name


def numbers_of(printed: Printed) -> Counter[tuple[str, object]]:
    """The keys and numbers of a document, whatever signs and order of words a language has."""
    every = (each for each, _ in values(printed.document.blocks))
    found = ((each.key, read_back(each.number, printed.language)) for each in every)
    return Counter((key, number) for key, number in found if number is not None)


# Labels of Regulation (EU) 2019/424 and of states, clauses, names of standards: no values.
REFERENCES = re.compile(
    r"at \d+ % load|above \d+ GB|channels above 8|from 2023-01-01|table \d|point \d|\d(?:\.\d)+"
    r"|after \d failures?"
    r"|Regulation \(EU\) 2019/424|ASHRAE TC 9\.9|OCP NIC 3\.0|[A-Z]+ \d+ to \d+"
)


def test_no_document_prints_a_number_of_its_own(project: Project):
    known: dict[str, list[str]] = {}
    for each in project.documents("en"):
        about = "" if each.case is None else each.case.thing.id
        if about not in known:
            texts = declared_texts(project.definitions, each.case)
            known[about] = [text.rstrip(".") for text in texts]
        loose = loose_numbers(each.document, known[about])
        assert [t for t in loose if re.search(r"\d", REFERENCES.sub("", t))] == [], each.name
