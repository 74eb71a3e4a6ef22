"""`fact_table`: a table over a group of subjects and any facts, laid out by a template."""

from collections.abc import Iterator
from typing import Final

from specgen.diagnostics import did_you_mean, question
from specgen.document.blocks.cells import NONE, part_cell
from specgen.document.blocks.fact_cells import FactCells, several, title_of, unknown_fact
from specgen.document.budget import charge
from specgen.document.maker import AuthorError
from specgen.document.tree import Cell, Column, Strong, Table, words
from specgen.expressions.types import Sort
from specgen.facts import Fact
from specgen.facts.registry import AnyCalculator, Subjects
from specgen.facts.types import types_of
from specgen.frozen import frozen
from specgen.messages import NOT_DECLARED, Words, say

PART: Final = "part"
"""A column of what sits in the positions that a table is over."""
_NUMBERS: Final = (Sort.NUMBER, Sort.QUANTITY)


@frozen
class _Asked:
    """A column as a template asks for it; without a calculator it is that of parts."""

    head: Words
    calculator: AnyCalculator | None


def fact_table(
    cells: FactCells,
    title: object,
    *,
    over: str,
    columns: object,
    head: object = "",
    missing: object = NOT_DECLARED,
    zeros: bool = True,
    total: object = "",
    note: object = (),
    anchor: str = "",
) -> Table | None:
    """`{{ fact_table("Volumes", over="volume", columns=["storage.{volume}.level", …]) }}`.

    A row for each subject that has a value; nothing where there is none. A column is a key with
    the word of `over` in braces (its head is the fact's short one), `(head, key)`, or
    `(head, "part")` for what sits in the position. `head` is that of the first column. A cell says
    `missing` where a fact has no value, and a dash where a subject has no such fact. Without
    `zeros` a row is left out whose amounts are all nothing. `total` names a last row, of the facts
    whose keys are those of the columns without the subject. Raises `AuthorError`.
    """
    if cells.assembly is None:
        raise AuthorError("`fact_table` is about one machine, and this document is not")
    asked = [_asked(cells, over, each) for each in several(columns, "columns")]
    subjects = _subjects(cells, over, asked)
    silent = words(title_of(missing, "`missing`"))
    rows = [
        (_name(cells, subjects, name), *(_cell(cells, each, name, silent) for each in asked))
        for name in _listed(cells, subjects, asked)
        if _shown(cells, asked, name, zeros)
    ]
    if not rows:
        return None
    if total:
        sums = (_sum(cells, each, over) for each in asked)
        rows.append(((Strong(words(title_of(total, "`total`"))),), *sums))
    first = title_of(head, "`head`") or subjects.label or say("Position")
    made = (
        Column(first, header=True, short=_is_short(subjects)),
        *(Column(each.head, "end" if _is_number(cells, each) else "start") for each in asked),
    )
    caption = title_of(title, "a title")
    return Table(caption, made, tuple(rows), anchor, cells.sentences(note))


def _is_short(subjects: Subjects) -> bool:
    """Whether the names of subjects are a word or two: those of positions and volumes are."""
    return not subjects.parts and not any(" " in str(name) for name in subjects.names.values())


def _asked(cells: FactCells, over: str, column: object) -> _Asked:
    if isinstance(column, str):
        calculator = _calculator(cells, over, column)
        return _Asked(calculator.short, calculator)
    if isinstance(column, list | tuple) and len(column) == 2 and isinstance(column[1], str):
        head, key = title_of(column[0], "a head"), column[1]
        return _Asked(head, None if key == PART else _calculator(cells, over, key))
    help_ = 'write `"storage.{volume}.raw"`, or `("Capacity", "storage.{volume}.raw")`'
    raise AuthorError("a column is the key of a fact, or a head with a key", help_)


def _calculator(cells: FactCells, over: str, key: str) -> AnyCalculator:
    found = cells.ledger.by_key.get(key)
    if found is None:
        known = cells.ledger.by_key
        same = [each for each in known if f"{{{over}}}" in each]
        raise unknown_fact(key, same or known)
    if found.over is None or found.over.word != over:
        message = f"`{key}` is not repeated over `{over}`"
        raise AuthorError(message, f"write `{{{over}}}` in the key, as in `over`", word=key)
    return found


def _subjects(cells: FactCells, over: str, asked: list[_Asked]) -> Subjects:
    for each in asked:
        if each.calculator is not None and each.calculator.over is not None:
            return each.calculator.over
    known = [each.over for each in cells.ledger.by_key.values() if each.over is not None]
    found = next((each for each in known if each.word == over), None)
    if found is None:
        names = tuple(dict.fromkeys(each.word for each in known))
        hint = question(did_you_mean(over, names)) or f"there are {', '.join(names)}"
        raise AuthorError(f"no facts are repeated over `{over}`", hint, word=over)
    return found


def _listed(cells: FactCells, subjects: Subjects, asked: list[_Asked]) -> Iterator[str]:
    """The subjects of all columns: one may be of some of them only."""
    assert cells.assembly is not None
    groups = [each.calculator.over for each in asked if each.calculator is not None]
    found: dict[str, None] = {}
    for group in dict.fromkeys((subjects, *groups)):
        if group is not None:
            found.update(dict.fromkeys(group.listed(cells.assembly)))
    return iter(found)


def _fact(cells: FactCells, asked: _Asked, name: str) -> Fact | None:
    return None if asked.calculator is None else cells.facts.get(asked.calculator.named(name))


def _shown(cells: FactCells, asked: list[_Asked], name: str, zeros: bool) -> bool:
    charge(len(asked) + 1)
    facts = [fact for each in asked if (fact := _fact(cells, each, name)) is not None]
    if not any(fact.value not in (None, ()) for fact in facts):
        return False
    return zeros or not cells.nothing(fact.key for fact in facts)


def _name(cells: FactCells, subjects: Subjects, name: str) -> Cell:
    if subjects.parts:
        return part_cell(cells.definitions.parts[name])
    return words(subjects.names.get(name, name))


def _cell(cells: FactCells, asked: _Asked, name: str, silent: Cell) -> Cell:
    if asked.calculator is None:
        assert cells.assembly is not None
        place = cells.assembly.places.get(name)
        return words(NONE) if place is None or place.part is None else part_cell(place.part)
    fact = _fact(cells, asked, name)
    if fact is None:
        return words(NONE)
    return cells.cell_in_table(fact, silent) or ()


def _sum(cells: FactCells, asked: _Asked, over: str) -> Cell:
    if asked.calculator is None:
        return ()
    cell = cells.cell(cells.facts.get(asked.calculator.key.replace(f".{{{over}}}", "")))
    return () if cell is None else (Strong(cell),)


def _is_number(cells: FactCells, asked: _Asked) -> bool:
    if asked.calculator is None:
        return False
    types = types_of(asked.calculator, cells.ledger)
    return bool(types) and all(each.sort in _NUMBERS for each in types)
