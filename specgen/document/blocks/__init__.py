"""Blocks that templates call by name. A new block is a function and a line in a table here."""

from collections.abc import Callable, Mapping
from functools import partial

from specgen.diagnostics import did_you_mean, question
from specgen.document.blocks import (
    compute,
    expansion,
    family,
    machine,
    options,
    part,
    power,
    regulation,
    rules,
    storage,
    surroundings,
)
from specgen.document.blocks.cautions import cautions
from specgen.document.blocks.cells import cell_of
from specgen.document.case import Case, FamilyCase, PartCase
from specgen.document.sandbox import AuthorError
from specgen.document.template import Maker
from specgen.document.tree import Cell

OfCase = Callable[[Case], object]
OfPart = Callable[[PartCase], object]

MACHINE_TABLES: Mapping[str, OfCase] = {
    "processors": compute.processors,
    "vectors": compute.vectors,
    "memory": compute.memory,
    "memory-use": compute.memory_use,
    "slots": expansion.slots,
    "lanes": expansion.lanes,
    "links": expansion.links,
    "uplinks": expansion.uplinks,
    "locality": expansion.locality,
    "slot-power": expansion.slot_power,
    "ports": expansion.ports,
    "adapters": expansion.adapters,
    "unusable": expansion.unusable,
    "drives": storage.drives,
    "bays": storage.bays,
    "volumes": storage.volumes,
    "volume-rates": storage.volume_rates,
    "volume-care": storage.volume_care,
    "drive-care": storage.drive_care,
    "power": power.power,
    "supplies": power.supplies,
    "electrical": power.electrical,
    "regulation": regulation.regulation,
    "parts": machine.parts,
    "fixtures": machine.fixtures,
    "notes": machine.notes,
    "positions": options.positions,
    "options": options.options,
    "consequences": options.consequences,
    "rules": rules.rules_of_platform,
}
MACHINE_LISTS: Mapping[str, OfCase] = {
    "glance": machine.glance,
    "size": machine.size,
    "conditions": machine.conditions,
    "platform": machine.platform_figures,
    "supply-figures": power.supply_figures,
    "surroundings": surroundings.surroundings,
    "rack": surroundings.rack,
}
PART_TABLES: Mapping[str, OfPart] = {
    "brings": part.brings,
    "needs": part.needs,
    "tables": part.tables,
    "used": part.used,
    "rules": rules.rules_of_part,
}
PART_LISTS: Mapping[str, OfPart] = {"identity": part.identity, "data": part.data}


def _named(
    word: str, entries: Mapping[str, Callable[..., object]], name: str
) -> Callable[..., object]:
    if name not in entries:
        hint = question(did_you_mean(name, entries))
        help_ = hint or f"there are {', '.join(entries)}"
        raise AuthorError(f"no {word} is named `{name}`", help_, word=name)
    return entries[name]


def machine_makers(case: Case, figures: Mapping[str, Callable[[], object]]) -> dict[str, Maker]:
    """What a template about a machine may call; `figures` draws its pictures by name."""

    def facts(*names: str) -> object:
        if len(names) == 1 and names[0] in MACHINE_LISTS:
            return MACHINE_LISTS[names[0]](case)
        return machine.figures(case, *names)

    def fact(key: str) -> Cell:
        if key not in case.facts:
            hint = question(did_you_mean(key, tuple(case.facts)))
            raise AuthorError(f"no figure is named `{key}`", hint, word=key)
        return cell_of(case.facts, key)

    return {
        "table": lambda name: _named("table", MACHINE_TABLES, name)(case),
        "facts": facts,
        "fact": fact,
        "figure": lambda name: _named("figure", figures, name)(),
        "cautions": lambda: cautions(case),
    }


def part_makers(case: PartCase) -> dict[str, Maker]:
    """What a template about a part may call."""
    return {
        "table": lambda name: _named("table", PART_TABLES, name)(case),
        "facts": lambda name: _named("list", PART_LISTS, name)(case),
    }


def family_makers(case: FamilyCase, platform: str = "") -> dict[str, Maker]:
    """What a template about the project may call; `platform` narrows the builds to its own."""
    entries: dict[str, Callable[[], object]] = {
        "platforms": partial(family.platforms, case),
        "builds": partial(family.builds, case, platform),
        "parts": partial(family.parts, case),
    }
    return {"table": lambda name: _named("table", entries, name)()}


__all__ = ["family_makers", "machine_makers", "part_makers"]
