"""The whole project: its platforms side by side, its builds, its catalog."""

from typing import Final

from specgen.document.blocks.cells import cell_of, heads, table, value_cell
from specgen.document.case import Case, FamilyCase
from specgen.document.tree import Cell, Datum, Table, link, literal, words
from specgen.facts.declared import declared_fact
from specgen.facts.terms import STATUS, worded
from specgen.messages import listed, say

_OF_PLATFORMS: Final = ("processors.sockets", "memory.slots", "mechanics.depth")


def platforms(case: FamilyCase) -> Table | None:
    """A row for each platform; unsound ones without values."""
    rows: list[tuple[Cell, ...]] = []
    for name, system in case.platforms.items():
        platform, facts = system.platform, system.facts
        builds = sum(build.platform == name for build in case.definitions.builds.values())
        units = value_cell(declared_fact(platform, ("rack_units",), platform.rack_units))
        values = [cell_of(facts, key) for key in _OF_PLATFORMS]
        if not system.sound:
            units, *values = [words("") for _ in (units, *values)]
        rows.append(
            (
                link(platform.name, f"platform:{name}"),
                units,
                *values,
                (Datum(builds, f"{name}.builds"),),
                words(platform.summary if system.sound else say("has errors")),
            )
        )
    columns = heads(
        say("Platform"),
        say("Rack units"),
        say("Sockets"),
        say("Memory slots"),
        say("Depth"),
        say("Builds"),
        say("What it is"),
    )
    return table(say("Side by side"), columns, rows, "platforms-table")


def builds(case: FamilyCase, platform: str = "") -> Table | None:
    """A row for each build, or for those of one platform; unsound ones without values."""
    rows: list[tuple[Cell, ...]] = []
    for name, (facts, sound) in case.builds.items():
        build = case.definitions.builds[name]
        if platform and build.platform != platform:
            continue
        keys = ("processors.cores", "memory.capacity", "storage.raw", "power.input")
        values = tuple(cell_of(facts, key) if sound else words("") for key in keys)
        home = case.definitions.platforms[build.platform]
        state = say("published") if build.published else say("draft")
        rows.append(
            (
                link(build.name, f"build:{name}"),
                link(home.name, f"platform:{home.id}"),
                *values,
                words(state if sound else say("has errors")),
            )
        )
    columns = heads(
        say("Build"),
        say("Platform"),
        say("Cores"),
        say("Memory"),
        say("Raw capacity"),
        say("Maximum power"),
        say("State"),
    )
    title = say("All builds")
    if platform:
        title = say("Builds of {platform}", platform=case.definitions.platforms[platform].name)
    return table(title, columns, rows, "builds-table")


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
    made = []
    for kind, cls in case.definitions.kinds.items():
        rows: list[tuple[Cell, ...]] = [
            (
                link(part.name, f"part:{part.id}"),
                literal(part.number or ""),
                words(part.maker or ""),
                words(part.summary or ""),
                words(worded(STATUS, case.definitions.status(part))),
            )
            for part in case.definitions.parts.values()
            if part.kind == kind
        ]
        columns = heads(
            say("Part"), say("Order number"), say("Maker"), say("What it is"), say("Status")
        )
        found = table(cls.named_many(), columns, rows, f"{kind}-table")
        if found is not None:
            made.append(found)
    return tuple(made)
