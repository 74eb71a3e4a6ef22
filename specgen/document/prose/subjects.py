"""What texts can be about: builds, platforms and parts, resolved when a text asks for them."""

from collections.abc import Mapping
from functools import cached_property

from specgen.assembly import Assembly, assemble, resolve
from specgen.document.case import Case
from specgen.facts import Fact, facts_of
from specgen.facts.declared import declared_facts
from specgen.model import Brings, Definitions, Part, expand

NOTHING: Mapping[str, Fact] = {}


class Subjects:
    """The definitions by id, with the facts of each machine worked out once and only if needed.

    `known` are cases at hand; `limits` gives, by platform, what it can reach at the most.
    """

    def __init__(
        self,
        definitions: Definitions,
        known: Mapping[str, Case] | None = None,
        limits: Mapping[str, Mapping[str, Fact]] | None = None,
    ) -> None:
        self.definitions = definitions
        self.limits = limits or {}
        self._assemblies: dict[str, Assembly | None] = {}
        self._facts: dict[str, Mapping[str, Fact]] = {}
        for name, case in (known or {}).items():
            self._assemblies[name] = case.assembly
            self._facts[name] = case.facts

    def kind(self, name: str) -> str:
        """`build`, `platform` or `part`, "" where nothing has that id."""
        d = self.definitions
        for kind, known in (("build", d.builds), ("platform", d.platforms), ("part", d.parts)):
            if name in known:
                return kind
        return ""

    def name(self, id_: str) -> str:
        """What it is called; the id itself where nothing has it."""
        d = self.definitions
        for known in (d.builds, d.platforms, d.parts):
            if id_ in known:
                return str(known[id_].name)
        return id_

    @cached_property
    def ids(self) -> tuple[str, ...]:
        """Every id."""
        d = self.definitions
        return tuple(dict.fromkeys((*d.builds, *d.platforms, *d.parts)))

    def assembly(self, name: str) -> Assembly | None:
        """A build resolved, or a platform with nothing in it; None for anything else."""
        if name not in self._assemblies:
            d = self.definitions
            made = None
            if name in d.builds:
                made = resolve(d, d.builds[name])
            elif name in d.platforms:
                made = assemble(d, d.platforms[name], None)
            self._assemblies[name] = made
        return self._assemblies[name]

    def facts(self, name: str) -> Mapping[str, Fact]:
        """Calculated figures of a machine, else those that a definition states."""
        if name not in self._facts:
            assembly = self.assembly(name)
            self._facts[name] = NOTHING if assembly is None else facts_of(assembly)
        return self._facts[name]

    def fact(self, name: str, key: str) -> Fact | None:
        """A figure by its key, or a field of a part or platform: `tdp`, `size.depth`."""
        found = self.facts(name)
        return found[key] if key in found else self.stated(name).get(key)

    def stated(self, name: str) -> dict[str, Fact]:
        """The fields that a part or a platform states, by their path."""
        d = self.definitions
        thing = None if name in d.builds else d.platforms.get(name) or d.parts.get(name)
        if thing is None:
            return {}
        return {fact.key.removeprefix(f"{thing.id}."): fact for fact in declared_facts(thing)}

    def positions(self, name: str) -> frozenset[str]:
        """The positions a build has, or that a platform has with any part that can go into it."""
        assembly = self.assembly(name)
        if assembly is None:
            return frozenset()
        names = {place.name for place in assembly.places.values()}
        if name in self.definitions.platforms and name not in self.definitions.builds:
            takes = {kind for place in assembly.places.values() for kind in place.position.takes}
            for part in self.definitions.parts.values():
                if part.kind in takes:
                    names.update(_brought(part))
        return frozenset(names)


def _brought(part: Part) -> list[str]:
    brings: Brings = part.brings
    return [
        name.removeprefix(".") for position in brings.positions for name in expand(position.name)
    ]
