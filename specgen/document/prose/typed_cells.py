"""Values typed into the cells of tables, held against the facts that the heads of their row and
their column name: one says of what, the other which value."""

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from specgen.diagnostics import Finding
from specgen.document.prose.language_words import Typed, vocabulary
from specgen.document.prose.name_finder import NameFinder
from specgen.document.prose.passages import Passage
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.typed import told_in_cell

_COUNT: Final = re.compile(r"\s*(\d{1,4})\s*")


def typed_cells(
    passages: Sequence[Passage], about: str, names: NameFinder, subjects: Subjects, language: str
) -> Iterator[Finding]:
    """What cells with nothing but a typed value say that facts say otherwise, or say too."""
    cells = {each.cell: each for each in passages if each.cell is not None}
    for (table, row, column), cell in cells.items():
        typed = _value(cell, language) if row and column else None
        heads = [cells.get((table, row, 0)), cells.get((table, 0, column))]
        if typed is None or None in heads:
            continue
        for of, label in (heads, heads[::-1]):
            assert of is not None
            assert label is not None
            named = {each.id for each in names.within(of)} or {about}
            subject = named.pop()
            if named or not subjects.kind(subject) or names.within(label):
                continue
            found = told_in_cell(typed, cell, label.flat, subject, subjects, language)
            if found is not None:
                yield found
                break


def _value(cell: Passage, language: str) -> Typed | None:
    """The value that a cell has and nothing beside it."""
    known = vocabulary(language)
    if known is None or not any(map(str.isdigit, cell.flat)):
        return None
    if count := _COUNT.fullmatch(cell.flat):
        return Typed(Decimal(count[1]), (), count.start(1), count.end(1))
    found = known.typed(cell.flat)
    whole = len(found) == 1 and (cell.flat[: found[0].start] + cell.flat[found[0].end :]).strip()
    return found[0] if whole == "" else None
