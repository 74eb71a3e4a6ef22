"""The whole project: its platforms side by side, its builds, its catalog."""

from collections import Counter
from dataclasses import replace
from typing import Final

from specgen.document.blocks.fact_list import fact_list
from specgen.document.blocks.fact_makers import system_cells
from specgen.document.blocks.own_kinds import field_columns, stated
from specgen.document.case import Case, FamilyCase
from specgen.document.cells.cell_makers import cell_of, part_cell, stated_cell, table_of
from specgen.document.side_by_side import on_one_scale
from specgen.document.tree import (
    Cell,
    Datum,
    Listing,
    Paragraph,
    Table,
    link,
    literal,
    words,
)
from specgen.facts.terms import STATUS, worded
from specgen.grouped import grouped
from specgen.messages import Words, listed, say
from specgen.model import Build

ERRORS: Final = say("has errors")
LEADING: Final = 4
"""Values beside the picture of a platform."""


def platforms(case: FamilyCase) -> Table | None:
    """A row for each platform; unsound ones without values."""
    builds = Counter(build.platform for build in case.definitions.builds.values())

    def fact(system: Case, key: str) -> Cell:
        return cell_of(system.facts, key) if system.sound else ()

    def units(system: Case) -> Cell:
        platform = system.platform
        return stated_cell(platform, platform.rack_units, "rack_units") if system.sound else ()

    return table_of(
        case.platforms.items(),
        say("Side by side"),
        "platforms-table",
        (say("Platform"), lambda name, system: link(system.platform.name, f"platform:{name}")),
        (say("Rack units"), lambda _, system: units(system)),
        (say("Sockets"), lambda _, system: fact(system, "processors.sockets")),
        (say("Memory slots"), lambda _, system: fact(system, "memory.slots")),
        (say("Depth"), lambda _, system: fact(system, "mechanics.depth")),
        (say("Builds"), lambda name, _: (Datum(builds[name], f"{name}.builds"),)),
        (say("What it is"), lambda _, each: each.platform.summary if each.sound else ERRORS),
    )


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


def builds(case: FamilyCase, platform: str = "") -> Table | None:
    """A row for each build, or for those of one platform; unsound ones without values."""
    known = case.definitions

    def fact(name: str, key: str) -> Cell:
        facts, sound = case.builds[name]
        return cell_of(facts, key) if sound else ()

    def state(build: Build) -> Words:
        if not case.builds[build.id][1]:
            return ERRORS
        return say("published") if build.published else say("draft")

    def home(build: Build) -> Cell:
        return link(known.platforms[build.platform].name, f"platform:{build.platform}")

    title = say("All builds")
    if platform:
        title = say("Builds of {platform}", platform=known.platforms[platform].name)
    named = [(name, known.builds[name]) for name in case.builds]
    named = [(name, build) for name, build in named if platform in ("", build.platform)]
    drafts = not all(build.published and case.builds[name][1] for name, build in named)
    return table_of(
        named,
        title,
        "builds-table",
        (say("Build"), lambda name, build: link(build.name, f"build:{name}")),
        (say("Platform"), lambda _, build: home(build)),
        (say("Cores"), lambda name, _: fact(name, "processors.cores")),
        (say("Memory"), lambda name, _: fact(name, "memory.capacity")),
        (say("Raw capacity"), lambda name, _: fact(name, "storage.raw")),
        (say("Input power, worst case"), lambda name, _: fact(name, "power.input")),
        (say("State"), lambda _, build: state(build)) if drafts else None,
    )


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
