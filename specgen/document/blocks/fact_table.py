"""`fact_table`: a table over a group of subjects and any facts, laid out by a template."""

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
from specgen.facts.terms import STATE
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
    when: str = "",
    missing: object = NOT_DECLARED,
    total: object = "",
    note: object = (),
    anchor: str = "",
) -> Table | None:
    """`{{ fact_table("Volumes", over="volume", columns=["storage.{volume}.level", …]) }}`.

    A row for each subject that has a value; nothing where there is none. A column is a key with
    the word of its subjects in braces (its head is the fact's short one), `(head, key)`, or
    `(head, "part")` for what sits in the position. `head` is that of the first column. A cell says
    `missing` where a fact has no value, and a dash where a subject has no such fact. A row is left
    out where the fact `when` is not there, or nothing. `total` names a last row, of the facts whose
    keys are those of the columns without the subject. Raises `AuthorError`.
    """
    if cells.assembly is None:
        raise AuthorError("`fact_table` is about one machine, and this document is not")
    asked = [_asked(cells, each) for each in several(columns, "columns")]
    told_by = _calculator(cells, when) if when else None
    groups = _groups(cells, over, asked)
    silent = words(title_of(missing, "`missing`"))
    names = dict.fromkeys(name for group in groups for name in group.listed(cells.assembly))
    rows = [
        (_name(cells, groups[0], name), *(_cell(cells, each, name, silent) for each in asked))
        for name in names
        if _shown(cells, asked, told_by, name)
    ]
    if not rows:
        return None
    if total:
        sums = (_sum(cells, each) for each in asked)
        rows.append(((Strong(words(title_of(total, "`total`"))),), *sums))
    first = title_of(head, "`head`") or groups[0].label or say("Position")
    made = (
        Column(first, header=True, short=_is_short(groups[0])),
        *(Column(each.head, "end" if _is_number(cells, each) else "start") for each in asked),
    )
    caption = title_of(title, "a title")
    return Table(caption, made, tuple(rows), anchor, cells.sentences(note))


def _is_short(subjects: Subjects) -> bool:
    """Whether the names of subjects are a word or two: those of positions and volumes are."""
    return not subjects.parts and not any(" " in str(name) for name in subjects.names.values())


def _asked(cells: FactCells, column: object) -> _Asked:
    if isinstance(column, str):
        calculator = _calculator(cells, column)
        return _Asked(calculator.short, calculator)
    if isinstance(column, list | tuple) and len(column) == 2 and isinstance(column[1], str):
        head, key = title_of(column[0], "a head"), column[1]
        return _Asked(head, None if key == PART else _calculator(cells, key))
    help_ = 'write `"storage.{volume}.raw"`, or `("Capacity", "storage.{volume}.raw")`'
    raise AuthorError("a column is the key of a fact, or a head with a key", help_)


def _calculator(cells: FactCells, key: str) -> AnyCalculator:
    found = cells.ledger.by_key.get(key)
    if found is None:
        raise unknown_fact(key, cells.ledger.by_key)
    if found.over is None:
        help_ = "a key of a column says in braces what it is repeated over"
        raise AuthorError(f"`{key}` is one fact, not one of each subject", help_, word=key)
    return found


def _groups(cells: FactCells, over: str, asked: list[_Asked]) -> tuple[Subjects, ...]:
    """The subjects of that word, those of the columns first: one fact may be of some of them."""
    own = [each.calculator.over for each in asked if each.calculator is not None]
    known = [each.over for each in cells.ledger.by_key.values() if each.over is not None]
    named = dict.fromkeys(each for each in own if each is not None and each.word == over)
    found = tuple(named) or tuple(each for each in known if each.word == over)[:1]
    if not found:
        words_ = tuple(dict.fromkeys(each.word for each in known))
        hint = question(did_you_mean(over, words_)) or f"there are {', '.join(words_)}"
        raise AuthorError(f"no facts are repeated over `{over}`", hint, word=over)
    return found


def _fact(cells: FactCells, calculator: AnyCalculator | None, name: str) -> Fact | None:
    return None if calculator is None else cells.facts.get(calculator.named(name))


def _shown(cells: FactCells, asked: list[_Asked], told_by: AnyCalculator | None, name: str) -> bool:
    charge(len(asked) + 1)
    if told_by is not None:
        fact = _fact(cells, told_by, name)
        return fact is not None and cells.has(fact.key)
    facts = (_fact(cells, each.calculator, name) for each in asked)
    return any(fact is not None and fact.value not in (None, ()) for fact in facts)


def _name(cells: FactCells, subjects: Subjects, name: str) -> Cell:
    if subjects.parts:
        return part_cell(cells.definitions.parts[name])
    return words(subjects.names.get(name, name))


def _cell(cells: FactCells, asked: _Asked, name: str, silent: Cell) -> Cell:
    fact = _fact(cells, asked.calculator, name)
    if fact is not None:
        return cells.cell_in_table(fact, silent) or ()
    assert cells.assembly is not None
    place = cells.assembly.places.get(name)
    if asked.calculator is not None or place is None:
        return words(NONE)
    return part_cell(place.part) if place.part and place.filled else words(STATE[place.state])


def _sum(cells: FactCells, asked: _Asked) -> Cell:
    if asked.calculator is None or asked.calculator.over is None:
        return ()
    key = asked.calculator.key.replace(f".{{{asked.calculator.over.word}}}", "")
    cell = cells.cell(cells.facts.get(key))
    return () if cell is None else (Strong(cell),)


def _is_number(cells: FactCells, asked: _Asked) -> bool:
    if asked.calculator is None:
        return False
    types = types_of(asked.calculator, cells.ledger)
    return bool(types) and all(each.sort in _NUMBERS for each in types)
