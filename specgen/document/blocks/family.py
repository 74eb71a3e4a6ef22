"""The whole project: its platforms side by side, its builds, its catalog."""

from dataclasses import replace
from typing import Final

from specgen.document.blocks.fact_list import fact_list
from specgen.document.blocks.fact_makers import system_cells
from specgen.document.blocks.own_kinds import field_columns, stated
from specgen.document.case import Case, FamilyCase
from specgen.document.cells.cell_makers import part_cell, table_of
from specgen.document.side_by_side import on_one_scale
from specgen.document.tree import (
    Cell,
    Listing,
    Paragraph,
    Table,
    link,
    literal,
    words,
)
from specgen.facts.terms import STATUS, worded
from specgen.grouped import grouped
from specgen.messages import listed, say

LEADING: Final = 4
"""Values beside the picture of a platform."""


def line_up(case: FamilyCase, entries: object) -> Listing | None:
    """`{{ line_up(["limits.cores", …]) }}`: each platform's front to one scale, and four values.

    The lowest first, as they would stand in a rack; of the entries the first four with a value.
    """
    sound = {name: each for name, each in case.platforms.items() if each.sound}
    order = sorted(sound, key=lambda name: (sound[name].platform.rack_units, name))
    shown = {name: case.shown[name].assembly for name in order if name in case.shown}
    drawn = dict(on_one_scale(shown))
    items = []
    for name in order:
        own = fact_list(system_cells(sound[name]), "", entries)
        leading = replace(own, entries=own.entries[:LEADING])
        heading = Paragraph(link(sound[name].platform.name, f"platform:{name}"))
        picture = (drawn[name],) if name in drawn else ()
        items.append((heading, *picture, Paragraph(words(sound[name].platform.summary)), leading))
    return Listing(tuple(items)) if items else None


def configurations(case: Case) -> Cell:
    """The published builds of a platform."""
    found = (
        each
        for each in case.definitions.builds.values()
        if each.platform == case.platform.id and each.published
    )
    named = (
        link(", ".join(filter(None, (each.number, each.name))), f"build:{each.id}")
        for each in found
    )
    return (listed(named, "semicolon"),)


def parts(case: FamilyCase) -> tuple[Table, ...]:
    """A table for each kind of part."""
    known = case.definitions
    kinds = grouped((part.kind, part) for part in known.parts.values())
    made = (
        table_of(
            ((part, stated(part)) for part in kinds.get(kind, ())),
            cls.named_many(),
            f"{kind}-table",
            (say("Part"), lambda part, _: part_cell(part)),
            (say("Order number"), lambda part, _: literal(part.number or "")),
            (say("Maker"), lambda part, _: part.maker or ""),
            *field_columns(known, kinds.get(kind, ())),
            (say("Status"), lambda part, _: worded(STATUS, known.status(part))),
        )
        for kind, cls in known.kinds.items()
    )
    return tuple(filter(None, made))
