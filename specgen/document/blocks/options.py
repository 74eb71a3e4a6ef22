"""What goes into a platform: its positions, the parts that fit, what those bring."""

from specgen.assembly import Place
from specgen.document.case import Case
from specgen.document.cells.cell_makers import (
    ACCEPTS,
    NONE,
    names_cell,
    part_cell,
    table_of,
    term_name,
)
from specgen.document.tree import Cell, Datum, Table, words
from specgen.facts.calculators.slot_power import feed_name
from specgen.facts.terms import AREA, HEIGHT, LENGTH, SWAP
from specgen.grouped import grouped
from specgen.limits.reachable import choosable
from specgen.messages import Message, Within, Words, listed, say
from specgen.model import Definitions, Need, Part, Position, expand, natural, places

MOST_NAMED = 12  # parts named in one cell; the rest are counted


def positions(case: Case) -> Table | None:
    """The positions the platform itself brings, alike ones together."""

    def like(place: Place) -> tuple[object, ...]:
        at = place.position
        return at.area, asks_of(case, at), _terms(place), at.tdp, at.power, at.takes, at.needs

    own = (place for place in case.assembly.places.values() if place.host is None)
    groups = grouped((like(place), place) for place in own)
    key = f"{case.platform.id}.positions"
    return table_of(
        ((found[0], found) for found in groups.values()),
        say("On the board and in the chassis"),
        "positions-table",
        (say("Positions"), lambda _, found: names_cell(tuple(place.name for place in found))),
        (say("Where"), lambda place, _: AREA[place.position.area]),
        (ACCEPTS, lambda place, _: kinds_words(case, place.position)),
        (say("Number"), lambda _, found: (Datum(len(found), key),)),
        (say("What fits"), lambda place, _: _asks_cell(case, place)),
        (say("Terms"), lambda place, _: _terms_cell(case, place)),
    )


def kinds_words(case: Case, position: Position) -> Words:
    """The kinds of part that a position takes."""
    titles = case.definitions.titles(position.takes)
    return listed(title if not at else Within(title) for at, title in enumerate(titles))


def shape_words(case: Case, position: Position) -> list[Words]:
    """What fits mechanically: forms, height, length."""
    forms = [case.definitions.term(form) for form in position.form]
    shape: list[Words] = [listed(forms, "or")] if forms else []
    shape += [HEIGHT[position.height]] if position.height else []
    return shape + ([LENGTH[position.length]] if position.length else [])


def asks_of(case: Case, position: Position) -> tuple[Words, ...]:
    """What a position asks of a part: socket, form, lanes, interface, whether it is hot-swap."""
    asks: list[Words] = []
    if position.socket:
        asks.append(say("socket {socket}", socket=case.definitions.term(position.socket)))
    asks += shape_words(case, position)
    if position.connector:
        asks.append(say("{width} connector", width=f"x{position.connector}"))
    if position.lanes:
        asks.append(say("{width} lanes", width=f"x{position.lanes}"))
    if position.interface:
        asks.append(listed(map(term_name, position.interface), "or"))
    if position.swap:
        asks.append(SWAP[position.swap])
    return tuple(asks)


def _asks_cell(case: Case, place: Place) -> Cell:
    """What fits, and the most it may draw or give off."""
    position = place.position
    asks: list[object] = [*asks_of(case, position)]
    key = ".".join((case.platform.id, *map(str, place.path)))
    for field, limit in (("tdp", position.tdp), ("power", position.power)):
        if limit is not None:
            asks.append(say("up to {limit}", limit=Datum(limit, f"{key}.{field}")))
    return (listed(asks),) if asks else words(NONE)


def _terms_cell(case: Case, place: Place) -> Cell:
    """What holds of a position, with what it needs once it is filled, and why."""
    key = ".".join((case.platform.id, *map(str, place.path), "needs"))
    needs = [
        say(
            "when filled, needs {need}",
            need=reasoned_need(case.definitions, need, f"{key}.{at}.count"),
        )
        for at, need in enumerate(place.position.needs)
    ]
    if not needs:
        return words(_terms(place))
    terms = _terms(place)
    return (listed([*(() if terms == NONE else (terms,)), *needs], "semicolon"),)


def _terms(place: Place) -> Words:
    position = place.position
    terms: tuple[Words, ...] = (
        say("usable with {place}", place=place.of) if place.of else "",
        say("built in") if position.fixed else "",
        say("must be filled") if position.must else "",
        say("closed by a blank when empty") if position.blank else "",
        position.note or "",
    )
    return listed(terms, "semicolon") if any(terms) else NONE


def options(case: Case) -> Table | None:
    """For each sort of position, the parts of the catalog that go in."""
    groups: dict[tuple[str, ...], list[str]] = {}
    known, platform = case.definitions.parts, case.platform.id
    for place in case.assembly.places.values():
        fitting = [part for part in choosable(case.assembly, place) if not part.closes]
        fitting.sort(key=lambda part: natural(part.name))
        if fitting:
            groups.setdefault(tuple(part.id for part in fitting), []).append(place.name)
    return table_of(
        groups.items(),
        say("What can be chosen"),
        "options-table",
        (say("Positions"), lambda _, names: names_cell(tuple(names))),
        (say("Choices"), lambda fitting, _: (Datum(len(fitting), f"{platform}.options"),)),
        (say("Parts"), lambda fitting, _: _part_names(platform, [known[id_] for id_ in fitting])),
    )


def _part_names(platform: str, parts: list[Part]) -> Cell:
    named = listed([part_cell(part) for part in parts[:MOST_NAMED]], "semicolon")
    left = len(parts) - MOST_NAMED
    if left <= 0:
        return (named,)
    return (say("{parts} and {count} more", parts=named, count=Datum(left, f"{platform}.options")),)


def consequences(case: Case) -> Table | None:
    """What each option of this platform brings, takes away and needs."""
    known = case.definitions
    telling = {
        part.id: part
        for part in known.parts.values()
        if (_brings(known, part) or part.blocks or part.needs) and part.kind != "network-adapter"
    }
    choices = [
        (
            place.name,
            {each.id for each in choosable(case.assembly, place, lambda part: part.id in telling)},
        )
        for place in case.assembly.places.values()
    ]
    parts = (
        (part, tuple(name for name, held in choices if id_ in held))
        for id_, part in telling.items()
    )
    return table_of(
        ((part, holders) for part, holders in parts if holders),
        say("What depends on what"),
        "consequences-table",
        (say("Option"), lambda part, _: part_cell(part)),
        (say("Goes into"), lambda _, holders: names_cell(holders)),
        (say("Brings"), lambda part, _: _brings(known, part) or NONE),
        (say("Takes away"), lambda part, _: takes_away(part)),
        (say("Needs"), lambda part, _: needs_cell(known, part) or NONE),
    )


def _brings(definitions: Definitions, part: Part) -> Cell:
    names = [name for entry in part.brings.positions for name in expand(entry.name)]
    brought: list[object] = []
    if names:
        brought.append(places(tuple(name.removeprefix(".") for name in names)))
    for name, count in part.brings.resources.items():
        key = f"{part.id}.brings.resources.{name}"
        brought.append(_times(Datum(count, key), feed_name(definitions, name)))
    for at, each in enumerate(part.brings.connectors):
        datum = Datum(each.count, f"{part.id}.brings.connectors.{at}.count")
        what: object = _times(datum, feed_name(definitions, each.resource))
        if each.reaches:
            reached = tuple(name for text in each.reaches for name in expand(text))
            what = say("{what} for {places}", what=what, places=places(reached))
        brought.append(what)
    return (listed(brought, "semicolon"),) if brought else ()


def _times(count: Datum, what: object) -> Message:
    return say("{count} × {what}", count=count, what=what)


def takes_away(part: Part) -> Words:
    """The positions that a part leaves no room for."""
    names = tuple(name for text in part.blocks for name in expand(text))
    return places(names) if names else NONE


def needs_cell(definitions: Definitions, part: Part) -> Cell:
    """What a part needs, the parts among it leading to their entries."""
    needs = [
        reasoned_need(definitions, need, f"{part.id}.needs.{at}.count")
        for at, need in enumerate(part.needs)
    ]
    return (listed(needs, "semicolon"),) if needs else ()


def reasoned_need(definitions: Definitions, need: Need, key: str) -> Cell:
    """A need with the reason that is declared for it."""
    cell = need_cell(definitions, need, key)
    if not need.because:
        return cell
    return (say("{need} ({because})", need=cell, because=need.because),)


def need_cell(definitions: Definitions, need: Need, key: str) -> Cell:
    """A need as a reader says it; `key` is where its number is declared."""
    if need.position is not None:
        return (say("{places} filled", places=places(expand(need.position))),)
    count = Datum(need.count, key)
    if need.kind is not None and need.kind in definitions.kinds:
        kind = definitions.kinds[need.kind]
        title = Within(kind.named() if need.count == 1 else kind.named_many())
        return (say("{count} {parts}", count=count, parts=title),)
    if need.part:
        known = definitions.parts
        named = listed(
            [part_cell(known[each]) if each in known else each for each in need.part], "or"
        )
        return (_times(count, named),) if need.count > 1 else (named,)
    return (_times(count, feed_name(definitions, need.resource or "")),)
