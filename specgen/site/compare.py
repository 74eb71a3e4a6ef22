"""Machines side by side: a fixed table of the platforms, and what a reader needs to pick others.

Without script the page shows the platforms. With it, `js/compare.js` loads `compare/start.js`,
which names machines and rows, and one small script for each machine that is picked. Each hands
its data to `specgenCompare`, as the search index does, for the same reasons.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from specgen.document.case import Case
from specgen.document.tree import (
    Cell,
    Column,
    Document,
    Figure,
    Paragraph,
    Table,
    words,
)
from specgen.limits.limit import Limit
from specgen.model import Build, Definitions, Platform
from specgen.quantity import split
from specgen.site.addresses import address
from specgen.site.figures import NAMES
from specgen.site.limits import label_of
from specgen.site.voice import ENGLISH, Voice

FOLDER: Final = "compare"
MOST: Final = 5

OF_PLATFORMS: Final = (
    "mechanics.rack_units",
    "mechanics.width",
    "mechanics.height",
    "mechanics.depth",
    "mechanics.depth_needed",
    "mechanics.mass",
    "processors.sockets",
    "memory.slots",
    "network.management_ports",
    "network.management_speed",
    "cooling.class_limit",
    "conditions.operating_class",
    "conditions.line",
    "conditions.inlet",
    "conditions.altitude",
    "conditions.redundancy",
)
"""Figures that mean something of a platform with nothing in it."""

Shown = tuple[str, str]
"""Number and unit as printed."""
Rows = Mapping[str, str]
"""The rows of a comparison: label by key, in their order."""


@dataclass(frozen=True, slots=True)
class Machine:
    """What the comparison tells of a build or a platform; `figures` by key: label and value."""

    reference: str
    name: str
    about: str
    figures: tuple[tuple[str, str, Shown], ...]


def machine_of(case: Case, limits: Iterable[Limit] = ()) -> Machine:
    """A machine's own figures, without those about one position or part of it."""
    platform, build = case.platform, case.build
    if build is None:
        facts = [case.facts[key] for key in OF_PLATFORMS if key in case.facts]
    else:
        facts = [fact for fact in case.facts.values() if not fact.subject]
    told = [
        (fact.key, str(fact.label), split(fact.value))
        for fact in facts
        if fact.value is not None and fact.value != ()
    ]
    told += [
        (f"limits.{limit.key}", label_of(limit), split(limit.value))
        for limit in limits
        if limit.value is not None
    ]
    texts = [("about.suits", "Suits", ("; ".join((build or platform).suits), ""))]
    if build is not None:
        texts.insert(0, ("about.platform", "Platform", (platform.name, "")))
    figures = tuple(each for each in (*texts, *told) if each[2][0])
    thing: Build | Platform = build or platform
    kind = "build" if build is not None else "platform"
    return Machine(f"{kind}:{thing.id}", thing.name, thing.summary, figures)


def machine_in(machine: Machine, voice: Voice) -> Machine:
    """The machine as the site's language says it; what definitions tell of it stays."""
    if voice.is_source:
        return machine
    figures = tuple(
        (key, voice.fixed(label, "label"), shown if _is_text(key) else voice.figure(*shown))
        for key, label, shown in machine.figures
    )
    return replace(machine, figures=figures)


def _is_text(key: str) -> bool:
    return key.startswith("about.")


def shard(machine: Machine) -> bytes:
    """The script that tells of one machine: what stands in each row, by key."""
    values = {
        key: [number, unit] if unit else [number] for key, _, (number, unit) in machine.figures
    }
    data = {"about": machine.about, "values": values}
    return f"specgenCompare.machine({_json(machine.reference)},{_json(data)});\n".encode("ascii")


def shard_path(reference: str) -> str:
    """Where the script about a machine lies."""
    return f"{FOLDER}/{reference.replace(':', '-')}.js"


def start(
    definitions: Definitions,
    platforms: Iterable[Machine],
    builds: Mapping[str, str],
    labels: Rows,
    voice: Voice = ENGLISH,
) -> bytes:
    """The script that names the machines there are, and the rows in their order.

    `builds` are those that have figures, by id: their names.
    """
    machines = [
        [each.reference, each.name, each.name, address(each.reference)] for each in platforms
    ]
    machines += [
        [f"build:{name}", title, _platform_name(definitions, name), address(f"build:{name}")]
        for name, title in builds.items()
    ]
    groups: dict[str, list[list[str]]] = {}
    for key, label in labels.items():
        groups.setdefault(key.split(".", 1)[0], []).append([key, voice.fixed(label, "label")])
    order = ("about", "limits", "mechanics", *NAMES)
    ranked = sorted(groups, key=lambda g: order.index(g) if g in order else len(order))
    named = [[voice.fixed(_group_name(group), "table"), groups[group]] for group in ranked]
    data = {"most": MOST, "machines": machines, "groups": named}
    return f"specgenCompare.start({_json(data)});\n".encode("ascii")


def _group_name(group: str) -> str:
    return "What it is" if group == "about" else NAMES.get(group, group.capitalize())


def _platform_name(definitions: Definitions, build: str) -> str:
    return definitions.platforms[definitions.builds[build].platform].name


def fixed(definitions: Definitions, platforms: Iterable[Machine]) -> Document:
    """The page as it stands without script: all platforms side by side."""
    machines = list(platforms)
    labels: dict[str, str] = {}
    values: dict[str, dict[str, Shown]] = {}
    for machine in machines:
        for key, label, value in machine.figures:
            labels.setdefault(key, label)
            values.setdefault(key, {})[machine.reference] = value
    rows: list[tuple[Cell, ...]] = []
    for key, label in labels.items():
        cells = (_cell(values[key].get(each.reference), key, each) for each in machines)
        rows.append((words(label), *cells))
    project = definitions.project
    blocks: list[Paragraph | Table] = [
        Paragraph(words("What every platform is before anything is fitted, side by side."))
    ]
    if rows:
        columns = (
            Column("Figure", header=True),
            *(Column(each.name) for each in machines),
        )
        blocks.append(Table("All platforms", columns, tuple(rows), "platforms-side-by-side"))
    return Document("Compare", tuple(blocks), project.title, project.language)


def _cell(value: Shown | None, key: str, machine: Machine) -> Cell:
    if value is None:
        return words("–")
    if _is_text(key):
        return words(value[0])
    own = machine.reference.partition(":")[2]
    return (Figure(value[0], value[1], f"{own}.{key}"),)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
