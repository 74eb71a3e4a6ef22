"""What values of one document must be to one another: counts and the rows they count, sums."""

import re
from collections.abc import Iterator
from decimal import Decimal

from specgen.document.tree import Cell, Column, FactList, Table, Value, plain_text
from specgen.messages import ENGLISH
from specgen.model.platform import Fixture
from tests.consistency.expected import read_back, tables, values
from tests.consistency.printed import Printed

COUNTED = re.compile(
    r"callouts\.\w+\.\d+(?:\.count)?|limits\.[a-z-]+\.parts\..+|parts\..+"
    r"|[a-z0-9-]+\.(?:positions|options)|[a-z0-9-]+\.review\..+"
    r"|.+\.outputs\.\d+\.carried_\d+"
)
"""Keys of values that a table counts or adds up by itself: held against its rows here."""

TOTALS = ("Sum", "Total", "All", "DC load")
"""What the last row of a table of summands is called."""

_RUN = re.compile(r"(?P<stem>.*?)(?P<first>\d+) to (?P<last>\d+)")
_GRID = re.compile(r".*(\d)(?P<a>[A-Z])(?P<first>\d+) to \1(?P<z>[A-Z])(?P<last>\d+)")
"""Slots over the channels of a processor: DIMM 1A1 to 1H2."""


def positions_named(text: str) -> int | None:
    """How many positions are named: `BAY 0 to 7, DIMM 1A1 to 1B2` are twelve; None if unclear."""
    count = 0
    for piece in text.replace(" and ", ", ").split(", "):
        run, grid = _RUN.fullmatch(piece), _GRID.fullmatch(piece)
        if grid is not None:
            letters = ord(grid["z"]) - ord(grid["a"]) + 1
            count += letters * (int(grid["last"]) - int(grid["first"]) + 1)
        elif run is not None:
            count += int(run["last"]) - int(run["first"]) + 1
        elif re.fullmatch(r"[A-Z][A-Z0-9.+/_ -]*", piece):
            count += 1
        else:
            return None
    return count


def number(value: Value) -> Decimal:
    found = read_back(value.number, ENGLISH)
    assert found is not None, value
    return found


def _only(cell: Cell | tuple[Cell, ...], key: str) -> Value | None:
    """The value of a key in a cell."""
    return next((each for each, _ in values(cell) if re.fullmatch(key, each.key)), None)


def _column(table: Table, title: str) -> int | None:
    return next((at for at, each in enumerate(table.columns) if each.title == title), None)


def miscounted(printed: Printed) -> Iterator[str]:
    """Numbers beside positions that are not how many of them are named. English documents."""
    for table in (b for b in printed.document.blocks if isinstance(b, Table)):
        for row in table.rows:
            counts = [
                each
                for each, _ in values(row)
                if re.fullmatch(r"callouts\.\w+\.\d+\.count|limits\..+\.parts\..+", each.key)
                or re.fullmatch(r"[a-z0-9-]+\.positions", each.key)
            ]
            fixtures = [f.count for f in _fixtures(printed) if f.name in map(plain_text, row)]
            named = [n for cell in row if (n := positions_named(plain_text(cell))) is not None]
            for count in counts:
                if number(count) not in [*named, *fixtures]:
                    what = plain_text(row[0])
                    yield f"{printed.name}: {count.key} is {count.number} beside {named}: {what}"


def _fixtures(printed: Printed) -> tuple[Fixture, ...]:
    return () if printed.case is None else printed.case.platform.fixtures


def misnumbered(printed: Printed) -> Iterator[str]:
    """Numbers of a drawing that do not run from one upwards."""
    for table in (b for b in printed.document.blocks if isinstance(b, Table)):
        found = [_only(row[0], r"callouts\.\w+\.\d+") for row in table.rows]
        told = [number(each) for each in found if each is not None]
        if told and told != [Decimal(n) for n in range(1, len(told) + 1)]:
            yield f"{printed.name}: {table.title} is numbered {told}"


def misadded(printed: Printed) -> Iterator[str]:
    """A list of parts whose sums are not those of its rows."""
    table = tables(printed.document).get("parts-table")
    totals = {each.key: each for each, _ in values(_lists(printed))}
    if table is None or "parts.lines" not in totals:
        return
    rows = [row for row in table.rows if _only(row, r"parts\.(?!mass_of).+(?<!\.mass)") is not None]
    counts = [_only(row, r"parts\.(?!.*\.mass$).+") for row in rows]
    masses = [_only(row, r"parts\..+\.mass") for row in rows]
    pieces = sum(number(each) for each in counts if each is not None)
    checks = {
        "parts.lines": Decimal(len(rows)),
        "parts.pieces": pieces,
        "parts.lines_without_a_mass": Decimal(sum(each is None for each in masses)),
    }
    last = _only(table.rows[-1], r"parts\.mass")
    if last is not None:
        said = totals["parts.mass_of_what_is_weighed"]
        if (last.number, last.unit) != (said.number, said.unit):
            yield f"{printed.name}: the rows weigh {last.number}, the list {said.number}"
    for key, should in checks.items():
        if number(totals[key]) != should:
            yield f"{printed.name}: {key} is {totals[key].number}, its rows give {should}"


def misreviewed(printed: Printed) -> Iterator[str]:
    """A review whose counts are not those of its tables: with a source, and without."""
    table = tables(printed.document).get("sourced-table")
    found = [each for each, _ in values(_lists(printed)) if ".review.count_" in each.key]
    counts = [number(each) for each in found]
    if len(counts) < 3:
        return
    every, dated, without = counts[:3]
    if every != dated + without or (table is not None and len(table.rows) != dated):
        yield f"{printed.name}: {every} definitions, {dated} with a source and {without} without"


def _lists(printed: Printed) -> tuple[FactList, ...]:
    return tuple(b for b in printed.document.blocks if isinstance(b, FactList))


def mistotalled(printed: Printed) -> Iterator[str]:
    """A last row of totals whose facts are not the sums of those above it, unrounded."""
    for table in (b for b in printed.document.blocks if isinstance(b, Table)):
        if plain_text(table.rows[-1][0]) not in TOTALS:
            continue
        for at, column in enumerate(table.columns):
            yield from _mistotalled(printed, table, at, column)


def _mistotalled(printed: Printed, table: Table, at: int, column: Column) -> Iterator[str]:
    *above, last = ([each for each, _ in values(row[at])] for row in table.rows)
    if len(last) != 1 or any(len(each) > 1 for each in above):
        return
    exact = [_exact(printed, each[0]) for each in above if each]
    total = _exact(printed, last[0])
    if total is None or any(each is None for each in exact):
        return
    found = sum((each for each in exact if each is not None), Decimal(0))
    if abs(found - total) > abs(total) / 10**9:
        yield f"{printed.name}: {table.title}, {column.title} adds up to {found}, not {total}"


def _exact(printed: Printed, value: Value) -> Decimal | None:
    fact = printed.lookup.value(value.key)
    amount = getattr(fact, "amount", fact)
    return Decimal(amount) if isinstance(amount, int | Decimal) else None


RELATIONS = (misadded, miscounted, misnumbered, misreviewed, mistotalled)
"""All of them; each gives what is wrong in a document."""
