"""Systems side by side: a fixed table of the platforms, and what a reader needs to pick others.

Without script the page shows the platforms. With it, `js/compare.js` loads `compare/start.js`,
which names systems and rows, and one small script for each system that is picked. Each hands
its data to `specgenCompare`, as the search index does, for the same reasons.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Final

from specgen.document.case import Case
from specgen.document.tree import (
    Cell,
    Column,
    Datum,
    Document,
    Paragraph,
    Table,
    words,
)
from specgen.facts import ledger_of
from specgen.frozen import frozen
from specgen.limits.limit import Limit
from specgen.messages import ENGLISH, Language, Listed, Words, listed, say
from specgen.model import Build, Definitions, Platform
from specgen.site.addresses import address
from specgen.site.fact_pages import NAMES
from specgen.site.limit_pages import Limits

FOLDER: Final = "compare"
MOST: Final = 5

OF_PLATFORMS: Final = (
    "mechanics.rack_units",
    "mechanics.width",
    "mechanics.height",
    "mechanics.depth",
    "mechanics.depth_needed",
    "mechanics.chassis_mass",
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
"""Values that mean something of a platform with nothing in it."""

LEADING: Final = (
    *("processors.models", "processors.cores", "memory.capacity", "memory.speed"),
    *("accelerators.models", "accelerators.memory", "storage.drives", "storage.raw"),
    *("storage.usable", "expansion.slots_free", "network.ports", "network.line_rate"),
    *("power.input", "power.supplies", "conditions.redundancy", "cooling.heat"),
    *("cooling.inlet_limit", "noise.sound_power", "mechanics.rack_units", "mechanics.mass"),
    *("limits.cores", "limits.memory", "limits.accelerators", "limits.accelerator-memory"),
    *("limits.drives", "limits.raw", "limits.slots", "limits.ports", "limits.line-rate"),
    *("limits.power", "limits.mass-least", "limits.mass", "processors.sockets", "memory.slots"),
    *("mechanics.depth", "mechanics.depth_needed", "conditions.inlet", "about.suitable_for"),
)
"""Rows that a comparison shows first, where its systems have a value: of builds, of platforms."""

Rows = Mapping[str, Words]
"""The rows of a comparison: label by key, in their order."""


@frozen
class ComparedSystem:
    """What the comparison tells of a build or a platform; `figures` by key: label and value."""

    reference: str
    name: str
    about: str
    values: tuple[tuple[str, Words, object], ...]


def compared_system(case: Case, limits: Iterable[Limit] = ()) -> ComparedSystem:
    """A system's own values, without those about one position or part of it."""
    platform, build = case.platform, case.build
    if build is None:
        facts = [case.facts[key] for key in OF_PLATFORMS if key in case.facts]
    else:
        facts = [fact for fact in case.facts.values() if not fact.subject]
    printed = [
        (fact.key, fact.label, fact.value)
        for fact in facts
        if fact.value is not None and fact.value != ()
    ]
    reached = [
        (f"limits.{limit.key}", limit.bounded, limit.value)
        for limit in limits
        if limit.value is not None
    ]
    texts: list[tuple[str, Words, object]] = []
    if build is not None:
        texts.append(("about.platform", say("Platform"), platform.name))
    if (build or platform).suitable_for:
        suits = listed((build or platform).suitable_for, "semicolon")
        texts.append(("about.suitable_for", say("Suitable for"), suits))
    values = (*texts, *printed, *reached)
    thing: Build | Platform = build or platform
    kind = "build" if build is not None else "platform"
    return ComparedSystem(f"{kind}:{thing.id}", thing.name, thing.summary, values)


def rows_of(definitions: Definitions, limits: Limits) -> Rows:
    """Everything that a system may tell of itself, in the order of its groups."""
    labels: dict[str, Words] = {
        "about.platform": say("Platform"),
        "about.suitable_for": say("Suitable for"),
    }
    known = ledger_of(definitions).by_key.items()
    labels.update((key, each.label) for key, each in known if not each.over)
    every = (limit for each in limits.values() for limit in each)
    labels.update((f"limits.{limit.key}", limit.bounded) for limit in every)
    return labels


def shard(system: ComparedSystem, language: Language) -> bytes:
    """The script that tells of one system in a language: what stands in each row, by key."""
    values = {
        key: [piece for piece in language.number(value) if piece] for key, _, value in system.values
    }
    data = {"about": system.about, "values": values}
    return f"specgenCompare.machine({_json(system.reference)},{_json(data)});\n".encode("ascii")


def shard_path(reference: str) -> str:
    """Where the script about a system lies."""
    return f"{FOLDER}/{reference.replace(':', '-')}.js"


def start(
    definitions: Definitions,
    platforms: Iterable[ComparedSystem],
    builds: Mapping[str, str],
    labels: Rows,
    language: Language = ENGLISH,
) -> bytes:
    """The script that names the systems there are, and the rows in their order.

    `builds` are those that have values, by id: their names.
    """
    systems = [
        [each.reference, each.name, each.name, address(each.reference)] for each in platforms
    ]
    systems += [
        [f"build:{name}", title, _platform_name(definitions, name), address(f"build:{name}")]
        for name, title in builds.items()
    ]
    groups: dict[str, list[list[str]]] = {}
    for key, label in labels.items():
        groups.setdefault(key.split(".", 1)[0], []).append([key, language.text(label)])
    order = ("about", "limits", "mechanics", *NAMES)
    ranked = sorted(groups, key=lambda g: order.index(g) if g in order else len(order))
    named = [[language.text(_group_name(group)), groups[group]] for group in ranked]
    data = {
        "most": MOST,
        "machines": systems,
        "groups": named,
        "leading": LEADING,
        "system": shard_path("{kind}:{name}").removesuffix(".js"),
    }
    return f"specgenCompare.start({_json(data)});\n".encode("ascii")


def _group_name(group: str) -> Words:
    return say("What it is") if group == "about" else NAMES.get(group, group.capitalize())


def _platform_name(definitions: Definitions, build: str) -> str:
    return definitions.platforms[definitions.builds[build].platform].name


def fixed(definitions: Definitions, platforms: Iterable[ComparedSystem]) -> Document:
    """The page as it stands without script: all platforms side by side."""
    systems = list(platforms)
    labels: dict[str, Words] = {}
    values: dict[str, dict[str, object]] = {}
    for system in systems:
        for key, label, value in system.values:
            labels.setdefault(key, label)
            values.setdefault(key, {})[system.reference] = value
    rows: list[tuple[Cell, ...]] = []
    for key, label in labels.items():
        cells = (_cell(values[key].get(each.reference), key, each) for each in systems)
        rows.append((words(label), *cells))
    project = definitions.project
    blocks: list[Paragraph | Table] = [
        Paragraph(words(say("What every platform is before anything is fitted, side by side.")))
    ]
    if rows:
        columns = (
            Column(say("Parameter"), header=True),
            *(Column(each.name) for each in systems),
        )
        blocks.append(Table(say("All platforms"), columns, tuple(rows), "platforms-side-by-side"))
    return Document(say("Compare"), tuple(blocks), project.title, project.language)


def _cell(value: object, key: str, system: ComparedSystem) -> Cell:
    if value is None:
        return words("–")
    if isinstance(value, str | Listed) and key.startswith("about."):
        return words(value)
    own = system.reference.partition(":")[2]
    return (Datum(value, f"{own}.{key}"),)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=True, separators=(",", ":"))
