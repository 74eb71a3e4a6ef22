"""What goes into a platform: its positions, the parts that fit, what those bring."""

from dataclasses import replace

from specgen.assembly import Place
from specgen.document.blocks.cells import NONE, column, head, names_cell, number, spoken, table
from specgen.document.case import Case
from specgen.document.tree import Cell, Figure, Inline, Table, Text, figure, link, words
from specgen.fitness import around, candidates
from specgen.messages import Within
from specgen.model import (
    ANYWHERE,
    Definitions,
    Need,
    Part,
    Position,
    condensed,
    expand,
    natural,
)
from specgen.quantity import show, split

MOST_NAMED = 12  # parts named in one cell; the rest are counted


def positions(case: Case) -> Table | None:
    """The positions the platform itself brings, alike ones together."""
    groups: dict[tuple[str, ...], list[Place]] = {}
    for place in case.assembly.places.values():
        if place.host is not None:
            continue
        position = place.position
        limits = (show(position.tdp), show(position.power))
        asks = _asks(case, position)
        key = (position.area, _takes(case, position), asks, _terms(place), *limits)
        groups.setdefault(key, []).append(place)
    rows: list[tuple[Cell, ...]] = [
        (
            names_cell(tuple(place.name for place in places)),
            words(area),
            words(takes),
            (Figure(str(len(places)), "", f"{case.platform.id}.positions"),),
            _asks_cell(case, places[0].position) or words(NONE),
            words(terms or NONE),
        )
        for (area, takes, _, terms, *_), places in groups.items()
    ]
    columns = (
        head("Positions"),
        column("Where"),
        column("Takes"),
        number("Number"),
        column("What fits"),
        column("Terms"),
    )
    return table("On the board and in the chassis", columns, rows, "positions-table")


def _takes(case: Case, position: Position) -> str:
    titles = case.definitions.titles(position.takes)
    return ", ".join(title if not at else str(Within(title)) for at, title in enumerate(titles))


def _asks(case: Case, position: Position) -> str:
    asks = [
        f"socket {case.definitions.term(position.socket)}" if position.socket else "",
        " or ".join(case.definitions.term(form) for form in position.form),
        {"low": "low profile", "full": "full height"}.get(position.height or "", ""),
        f"{position.length} length" if position.length else "",
        f"x{position.connector} connector" if position.connector else "",
        f"x{position.lanes} lanes" if position.lanes else "",
        " or ".join(spoken(name) for name in position.interface),
        f"{position.swap}-swap" if position.swap else "",
    ]
    return ", ".join(filter(None, asks))


def _asks_cell(case: Case, position: Position) -> Cell:
    """What fits, and the most it may draw or give off."""
    cell: list[Inline] = [*words(_asks(case, position))]
    for limit in (position.tdp, position.power):
        if limit is not None:
            cell.append(Text(", up to " if cell else "up to "))
            cell += figure(*split(limit), f"{case.platform.id}.positions")
    return tuple(cell)


def _terms(place: Place) -> str:
    position = place.position
    terms = [
        f"usable with {place.of}" if place.of else "",
        "built in" if position.fixed else "",
        "must be filled" if position.must else "",
        "closed by a blank when empty" if position.blank else "",
        position.note or "",
    ]
    return "; ".join(filter(None, terms))


def options(case: Case) -> Table | None:
    """For each sort of position, the parts of the catalog that go in."""
    groups: dict[tuple[str, ...], list[str]] = {}
    known = case.definitions.parts
    for place in case.assembly.places.values():
        fitting = [part for part in choosable(case, place) if not part.closes]
        fitting.sort(key=lambda part: natural(part.name))
        if fitting:
            groups.setdefault(tuple(part.id for part in fitting), []).append(place.name)
    rows: list[tuple[Cell, ...]] = [
        (
            names_cell(tuple(names)),
            (Figure(str(len(fitting)), "", f"{case.platform.id}.options"),),
            _part_names(case.platform.id, tuple(known[name] for name in fitting)),
        )
        for fitting, names in groups.items()
    ]
    columns = (head("Positions"), number("Choices"), column("Parts"))
    return table("What can be chosen", columns, rows, "options-table")


def choosable(case: Case, place: Place) -> tuple[Part, ...]:
    """The parts that a build may put into a place, by id, at a line voltage and an inlet
    temperature of its own."""
    if place.position.fixed is not None:
        return ()
    return candidates(place, around(replace(case.assembly, conditions=ANYWHERE), place))


def _part_names(platform: str, parts: tuple[Part, ...]) -> Cell:
    cell: list[Inline] = []
    for part in parts[:MOST_NAMED]:
        if cell:
            cell.append(Text("; "))
        cell += link(part.name, f"part:{part.id}")
    left = len(parts) - MOST_NAMED
    if left > 0:
        cell += (Text(" and "), *figure(str(left), "", f"{platform}.options"), Text(" more"))
    return tuple(cell)


def consequences(case: Case) -> Table | None:
    """What each option of this platform brings, takes away and needs."""
    rows: list[tuple[Cell, ...]] = []
    choices = [(place, choosable(case, place)) for place in case.assembly.places.values()]
    for part in case.definitions.parts.values():
        if not (part.brings.positions or part.blocks or part.needs):
            continue
        holders = tuple(place.name for place, parts in choices if part in parts)
        if not holders or part.kind == "network-adapter":
            continue
        rows.append(
            (
                link(part.name, f"part:{part.id}"),
                names_cell(holders),
                _brings(case.definitions, part) or words(NONE),
                words(_takes_away(part) or NONE),
                needs_cell(case.definitions, part) or words(NONE),
            )
        )
    columns = (
        head("Option"),
        column("Goes into"),
        column("Brings"),
        column("Takes away"),
        column("Needs"),
    )
    return table("What depends on what", columns, rows, "consequences-table")


def _brings(definitions: Definitions, part: Part) -> Cell:
    names = [name for entry in part.brings.positions for name in expand(entry.name)]
    cell = [*words(condensed(tuple(names)).replace(".", ""))]
    for name, count in part.brings.resources.items():
        if cell:
            cell.append(Text("; "))
        cell += figure(str(count), "", f"{part.id}.brings.resources")
        cell.append(Text(f" × {definitions.term(name)}"))
    return tuple(cell)


def _takes_away(part: Part) -> str:
    return condensed(tuple(name for text in part.blocks for name in expand(text)))


def needs_cell(definitions: Definitions, part: Part) -> Cell:
    """What a part needs, the parts among it leading to their entries."""
    cell: list[Inline] = []
    for need in part.needs:
        if cell:
            cell.append(Text("; "))
        cell += need_cell(definitions, need, f"{part.id}.needs")
    return tuple(cell)


def need_cell(definitions: Definitions, need: Need, key: str) -> Cell:
    """A need as a reader says it; `key` is where its number is declared."""
    if need.position is not None:
        return words(f"{condensed(expand(need.position))} filled")
    count = figure(str(need.count), "", key)
    if need.kind is not None and need.kind in definitions.kinds:
        kind = definitions.kinds[need.kind]
        return (*count, Text(f" {(kind.title if need.count == 1 else kind.plural).lower()}"))
    if need.part:
        named = _any_of(definitions, need)
        return (*count, Text(" × "), *named) if need.count > 1 else named
    return (*count, Text(f" × {definitions.term(need.resource or '')}"))


def _any_of(definitions: Definitions, need: Need) -> Cell:
    cell: list[Inline] = []
    for index, name in enumerate(need.part):
        if index:
            cell.append(Text(" or "))
        part = definitions.parts.get(name)
        cell += words(name) if part is None else link(part.name, f"part:{name}")
    return tuple(cell)
