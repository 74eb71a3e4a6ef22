"""How positions are reached, what is opened on the way, and what can be ordered for service."""

from typing import Final

from specgen.assembly.access import SIDES
from specgen.document.blocks.choices import NUMBER, where
from specgen.document.case import Case
from specgen.document.cells.cell_makers import NONE, part_cell, table_of
from specgen.document.service.sorts import Sort, Work, sequence
from specgen.document.shared_texts import Texts
from specgen.document.tree import Cell, Table, literal, words
from specgen.facts.terms import AREA
from specgen.limits.reachable import possible, reachable
from specgen.messages import Words, listed, say
from specgen.model import Definitions, Platform, natural

TOOLS: Final = say("Tools")


def place_words(sort: Sort) -> Words:
    """The positions of a sort, with what brings them where others have the same names."""
    if not sort.bringers:
        return where(sort.names)
    named = listed((part.name for part in sort.bringers), "semicolon")
    return say("{places} of {parts}", places=where(sort.names), parts=named)


def first_words(work: Work, sort: Sort) -> Words:
    """What is out of the way first."""
    ways = work.way(sort)
    return sequence(ways) if ways else NONE


def tools_of(platform: Platform, work: Work, sort: Sort) -> tuple[str, ...]:
    """All tools that it takes, on the way and at the part, by their names in the project."""
    covers = {each.name: each.tool for each in platform.covers}
    positions = {name: each.place.position.tool for each in work.sorts for name in each.names}
    taken = [*work.access.way(*sort.names), *sort.names]
    found = (tool for name in taken for tool in covers.get(name, positions.get(name, ())))
    return tuple(dict.fromkeys(found))


def tools_words(case: Case, tools: tuple[str, ...]) -> Words:
    """Tools as the project calls them."""
    known = case.definitions.project.tools
    return listed((known.get(name, name) for name in tools), "semicolon") if tools else NONE


def covers(case: Case, _texts: Texts) -> Table | None:
    """What is opened on the way: over what it lies, what holds it, with which tool."""
    return table_of(
        ((each,) for each in case.platform.covers),
        say("Covers and baffles"),
        "covers-table",
        (say("Cover"), lambda cover: cover.name),
        (NUMBER, lambda cover: literal(cover.number or "")),
        (
            say("Lies over"),
            lambda cover: listed(_over(case.definitions, each) for each in cover.over),
        ),
        (say("Held by"), lambda cover: cover.fastener or NONE),
        (TOOLS, lambda cover: tools_words(case, cover.tool)),
    )


def _over(definitions: Definitions, word: str) -> Words:
    if word in SIDES:
        return AREA[word]
    kind = definitions.kinds.get(word)
    return word if kind is None else kind.named_many()


def spare_parts(case: Case, _texts: Texts) -> Table | None:
    """The parts that a system of the platform can hold, with what closes and covers it: what
    service orders. Soldered parts are left aside."""
    known, order = case.definitions.parts, tuple(case.definitions.kinds)
    at = possible(case.assembly)
    blank_at: dict[str, list[str]] = {}
    for node in reachable(case.assembly) or ():
        blank_at.setdefault(node.place.position.blank or "", []).append(node.name)
    at = {**{name: tuple(names) for name, names in blank_at.items() if name}, **at}
    held = [known[name] for name in at if name in known]
    held.sort(key=lambda part: (order.index(part.kind), natural(part.name)))
    rows: list[tuple[Cell, Words, str | None, Words]] = [
        (part_cell(part), part.named(), part.number, where(tuple(dict.fromkeys(at[part.id]))))
        for part in held
    ]
    rows += [(words(each.name), say("Cover"), each.number, NONE) for each in case.platform.covers]
    return table_of(
        rows,
        say("Spare parts"),
        "spare-parts-table",
        (say("Part"), lambda part, *_: part),
        (say("Kind"), lambda _part, kind, *_: kind),
        (NUMBER, lambda _part, _kind, number, _: literal(number or "")),
        (say("Goes into"), lambda *row: row[3]),
    )
