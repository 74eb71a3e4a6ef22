"""No value stands under the name of another fact, in any document."""

import re
from collections.abc import Iterator

from specgen.document.tree import Cell, Document, FactList, Table, Value, plain_text
from specgen.facts.orders import OrderLine, order_facts
from specgen.messages import Language
from tests.consistency.expected import values
from tests.consistency.printed import Printed, Project

ORDERED = re.compile(r"order\.\w+")
"""A fact of a whole order."""
Names = dict[str, str]
"""The key of the one fact of a whole system, or of an order, that is called so."""


def _names(project: Project, language: Language) -> Names:
    """The full labels of facts of systems and of orders that no other fact has."""
    found: dict[str, set[str]] = {}
    for case in project.cases.values():
        for key, fact in case.facts.items():
            if not fact.subject:
                found.setdefault(language.text(fact.label), set()).add(key)
        for key, fact in order_facts((OrderLine(case.thing.id, case.facts, 1),)).items():
            if ORDERED.fullmatch(key):
                found.setdefault(language.text(fact.label), set()).add(key)
    return {label: keys.pop() for label, keys in found.items() if len(keys) == 1}


def _headed(document: Document, language: Language) -> Iterator[tuple[str, Cell]]:
    """Cells, each under the head that names it: a column's, or that of the entry of a list."""
    for block in document.blocks:
        if isinstance(block, FactList):
            yield from ((language.text(label), cell) for label, cell in block.entries)
        elif isinstance(block, Table):
            heads = [language.text(column.title) for column in block.columns]
            for row in block.rows:
                yield from zip(heads, row, strict=True)


def misnamed(names: Names, printed: Printed) -> Iterator[str]:
    """Values alone in their cell, whose head is the label of another fact."""
    language = printed.language
    for head, cell in _headed(printed.document, language):
        found = [value for value, _ in values(cell) if value.key]
        meant = names.get(head)
        if meant is None or len(found) != 1 or not _alone(found[0], cell):
            continue
        told = _plain(printed, found[0].key)
        if told is not None and told != meant:
            yield f"{printed.name}: `{head}` is {meant}, and {told} stands there"


def _alone(value: Value, cell: Cell) -> bool:
    return "".join(plain_text(cell).split()) == "".join(f"{value.number}{value.unit}".split())


def _plain(printed: Printed, key: str) -> str | None:
    """The key of a fact of a whole system, whichever system it is of, or of an order."""
    lookup = printed.lookup
    first, _, rest = key.partition(".")
    named = rest if first in lookup.systems else key
    for facts in (lookup.here, *(case.facts for case in lookup.systems.values())):
        if named in facts:
            return named if not facts[named].subject else None
    return key if ORDERED.fullmatch(key) else None


def test_no_value_stands_under_the_name_of_another(project: Project):
    documents = list(project.documents("en"))
    names = _names(project, documents[0].language)
    found = (line for each in documents for line in misnamed(names, each))
    assert list(dict.fromkeys(found)) == []
