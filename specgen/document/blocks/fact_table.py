"""`fact_table`: a table over a group of subjects and any facts, laid out by a template."""

import re
from collections.abc import Callable
from itertools import compress
from typing import Final

from specgen.diagnostics import quoted, suggested
from specgen.document.budget import charge
from specgen.document.cells.cell_makers import NONE, align_of, part_cell
from specgen.document.cells.compared_rows import names_of, said_once, together, without_void
from specgen.document.cells.fact_cells import ORDERED, FactCells, several, title_of, unknown_fact
from specgen.document.cells.rounded_rows import ROUNDED, adds_up, with_sentence
from specgen.document.maker import AuthorError
from specgen.document.tree import Cell, Column, Strong, Table, link, words
from specgen.facts.registry import AnyCalculator
from specgen.facts.terms import STATE
from specgen.frozen import frozen
from specgen.messages import NOT_DECLARED, Words, say

PART: Final = "part"
"""A column of what sits in the positions that a table is over."""
BUILD: Final = "build"
"""The subjects of an order: `{build}.mechanics.mass`, `order.mass.{build}`."""
_SUBJECT: Final = re.compile(r"\{\w+\}")


@frozen
class _Group:
    """What a table has a row for each of."""

    names: tuple[str, ...]
    label: Words
    cell: Callable[[str], Cell]
    short: bool
    positions: bool = False


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

    A row for each subject that has a value, positions of which the same is said in one; nothing
    where there is none. What no row says is left out, what all say stands below. A column is a key,
    the subject in braces (its head is the fact's short one), `(head, key)`, or `(head, "part")` for
    what sits in the position. `head` is that of the first column. A cell says `missing` where a
    fact has no value, and a dash where a subject has no such fact. A row is left out where the fact
    `when` is not there, or nothing. `total` names a last row, of the facts whose keys are those of
    the columns without the subject. An order of one system has neither sums nor columns of all
    systems. Raises `AuthorError`.
    """
    asked = [_asked(cells, each) for each in several(columns, say("columns"))]
    asked = [each for each in asked if not (cells.alone and each[1].startswith(ORDERED))]
    if when:
        _short(cells, when)
    group = _group(cells, over, [key for _, key in asked])
    silent = words(title_of(missing, say("`missing`")))
    found = {
        name: [_cell(cells, key, name, silent) for _, key in asked]
        for name in group.names
        if _shown(cells, [key for _, key in asked], when, name)
    }
    if not found:
        return None
    rows, joined = _rows(group, found)
    aligned = [align_of([row[at] for row in rows], silent) for at in range(1, len(asked) + 1)]
    noted = cells.sentences(note)
    if total and not (over == BUILD and cells.alone):
        sums = (_sum(cells, key) for _, key in asked)
        rows.append(((Strong(words(title_of(total, say("`total`")))),), *sums))
        if not all(_adds_up(cells, key, group.names) for _, key in asked):
            noted = with_sentence(noted, ROUNDED)
    short = group.short and not joined
    first = Column(title_of(head, say("`head`")) or group.label, header=True, short=short)
    made = (Column(name, align) for (name, _), align in zip(asked, aligned, strict=True))
    caption = title_of(title, say("a title"))
    table = Table(caption, (first, *made), tuple(rows), anchor, noted)
    labels = [first.title, *(_label(cells, head, key) for head, key in asked)]
    kept = without_void(table)
    of_kept = (any(each is column for each in kept.columns) for column in table.columns)
    return said_once(kept, tuple(compress(labels, of_kept)))


def _label(cells: FactCells, head: Words, key: str) -> Words:
    """What a column is about, whatever stands beside it."""
    made: AnyCalculator | None = cells.ledger.by_key.get(key)
    return head if made is None else made.label


def _rows(group: _Group, found: dict[str, list[Cell]]) -> tuple[list[tuple[Cell, ...]], bool]:
    """A row for each subject, and whether positions share one, since the same is said of them."""
    alike = together(found) if group.positions else {(name,): row for name, row in found.items()}
    rows = [
        (group.cell(names[0]) if len(names) == 1 else names_of(names), *row)
        for names, row in alike.items()
    ]
    return rows, len(rows) < len(found)


def _asked(cells: FactCells, column: object) -> tuple[Words, str]:
    """A column's head and key."""
    if isinstance(column, str):
        return _short(cells, column), column
    if isinstance(column, list | tuple) and len(column) == 2 and isinstance(column[1], str):
        if column[1] != PART:
            _short(cells, column[1])
        return title_of(column[0], say("a head")), column[1]
    help_ = say(
        "write {examples}",
        examples=quoted(('"storage.{volume}.raw"', '("Capacity", "storage.{volume}.raw")'), "or"),
    )
    raise AuthorError(say("a column is the key of a fact, or a head with a key"), help_)


def _short(cells: FactCells, key: str) -> Words:
    """The short head of the facts under a key, which is known and is about several subjects."""
    known = cells.ledger.by_key
    made: AnyCalculator | None = known.get(key)
    plain = key.removeprefix(f"{{{BUILD}}}.")
    if made is None and plain != key:
        made = cells.calculator(plain)
    elif made is not None and made.over is None:
        help_ = say("a key of a column says in braces what it is repeated over")
        message = say("`{key}` is one fact, not one of each subject", key=key)
        raise AuthorError(message, help_, word=key)
    if made is not None:
        return made.short
    of_order = cells.of_order().of_all(key)
    if not of_order:
        raise unknown_fact(key, known)
    return of_order[0].short


def _group(cells: FactCells, over: str, keys: list[str]) -> _Group:
    """The subjects of that word; where columns are of some of them only, all of the columns."""
    if cells.order is not None and over == BUILD:
        things = {case.thing.id: case.thing.name for case, _ in cells.order.lines}
        return _Group(
            tuple(things), say("Server"), lambda id_: link(things[id_], f"build:{id_}"), False
        )
    known = cells.ledger.by_key
    every = [each.over for each in known.values() if each.over is not None]
    own = [known[key].over for key in keys if key in known]
    found = [each for each in own if each is not None and each.word == over]
    found = found or [each for each in every if each.word == over][:1]
    if not found or cells.assembly is None:
        names = tuple(dict.fromkeys(each.word for each in every))
        message = say("no facts are repeated over `{name}`", name=over)
        raise AuthorError(message, suggested(over, names), word=over)
    first, assembly = found[0], cells.assembly
    listed = (each.listed(assembly) for each in dict.fromkeys(found))
    subjects = dict.fromkeys(name for names in listed for name in names)
    parts = cells.definitions.parts
    return _Group(
        tuple(subjects),
        first.label or say("Position"),
        lambda name: part_cell(parts[name]) if first.parts else words(first.called(name)),
        not first.parts and not any(" " in str(name) for name in first.names.values()),
        all(name in assembly.places for name in subjects),
    )


def _named(key: str, name: str) -> str:
    return _SUBJECT.sub(lambda _: name, key)


def _shown(cells: FactCells, keys: list[str], when: str, name: str) -> bool:
    charge(len(keys) + 1)
    if when:
        fact = cells.get(_named(when, name))
        return fact is not None and cells.has(fact.key)
    facts = (cells.get(_named(key, name)) for key in keys)
    return any(fact is not None and fact.value not in (None, ()) for fact in facts)


def _cell(cells: FactCells, key: str, name: str, silent: Cell) -> Cell:
    if key == PART:
        place = None if cells.assembly is None else cells.assembly.places.get(name)
        if place is None:
            return words(NONE)
        return part_cell(place.part) if place.part and place.filled else words(STATE[place.state])
    fact = cells.get(_named(key, name))
    return words(NONE) if fact is None else cells.cell_in_table(fact, silent) or ()


def _whole(key: str) -> str:
    """The key of the sum of a column."""
    return _SUBJECT.sub("", key).replace("..", ".").strip(".")


def _sum(cells: FactCells, key: str) -> Cell:
    whole = _whole(key)
    cell = cells.cell(cells.get(whole)) if whole != key else None
    return () if cell is None else (Strong(cell),)


def _adds_up(cells: FactCells, key: str, names: tuple[str, ...]) -> bool:
    """Whether what is printed of a column comes to what is printed below it."""
    whole = _whole(key)
    total = cells.get(whole) if whole != key else None
    if total is None or total.value is None:
        return True
    facts = (cells.get(_named(key, name)) for name in names)
    return adds_up((fact.value for fact in facts if fact is not None), total.value)
