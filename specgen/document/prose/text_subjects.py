"""What texts can be about: builds, platforms and parts, and orders of builds."""

from collections.abc import Callable, Mapping
from functools import cache, cached_property
from typing import Final

from specgen.assembly import Assembly
from specgen.document.case import Case, Systems, no_systems
from specgen.facts import Fact, Facts
from specgen.facts.declared import OWN, declared_facts
from specgen.facts.orders import ORDER, OrderLine, order_facts
from specgen.model import Brings, Definitions, Part, expand

NOTHING: Final = Facts.plain(())


class Subjects:
    """The definitions by id; `systems` gives the build or the platform that a text asks for.

    `limits` gives, by platform, what it can reach at the most; `tables` those that templates lay
    out, by name.
    """

    def __init__(
        self,
        definitions: Definitions,
        systems: Systems = no_systems,
        limits: Mapping[str, Mapping[str, Fact]] | None = None,
        tables: Callable[[], Mapping[str, Callable[[Case], object]]] = dict,
    ) -> None:
        self.definitions = definitions
        self.limits = limits or {}
        self.tables = cache(tables)
        self._systems = systems
        self.kind = cache(self._kind)
        """`build`, `platform`, `part` or `order`, "" where nothing has that id."""
        self.stated = cache(self._stated)
        """The fields that a part or a platform states, by their path."""
        self.positions = cache(self._positions)
        """The positions a build has, or that a platform has with any part that can go into it."""
        self.unsound = cache(self._unsound)
        """The system that a subject is or names and that has errors, "" where none has."""

    def _kind(self, name: str) -> str:
        d = self.definitions
        if self.strangers(name) == () and is_order(name):
            return ORDER
        for kind, known in (("build", d.builds), ("platform", d.platforms), ("part", d.parts)):
            if name in known:
                return kind
        return ""

    def published(self, name: str) -> bool:
        """Whether a text about it is read by others: about a published build, or about a platform
        or a part of one."""
        return name in self._published

    @cached_property
    def _published(self) -> frozenset[str | None]:
        builds = [build for build in self.definitions.builds.values() if build.published]
        parts = (fill.part for build in builds for fill in build.fit.values())
        return frozenset((*(name for each in builds for name in (each.id, each.platform)), *parts))

    def drafts(self, name: str) -> tuple[str, ...]:
        """The builds that an id, or an order, names and that are not published."""
        names = [build for build, _ in lines_of(name)] if is_order(name) else [name]
        known = self.definitions.builds
        return tuple(each for each in names if each in known and not known[each].published)

    def strangers(self, name: str) -> tuple[str, ...]:
        """The builds that an order names and that nobody has defined."""
        if not is_order(name):
            return ()
        return tuple(build for build, _ in lines_of(name) if build not in self.definitions.builds)

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
        system = self._systems(name)
        return None if system is None else system.assembly

    def system(self, name: str) -> Case | None:
        """A build, or a platform with nothing in it, with all that is known of it."""
        return self._systems(name)

    def facts(self, name: str) -> Facts:
        """Calculated values of a system, else those that a definition states."""
        if is_order(name):
            return self._ordered(name)
        system = self._systems(name)
        return NOTHING if system is None else system.facts

    def _unsound(self, name: str) -> str:
        for each in (build for build, _ in lines_of(name)) if is_order(name) else (name,):
            system = self._systems(each)
            if system is not None and not system.sound:
                return each
        return ""

    def _ordered(self, name: str) -> Facts:
        found = [(build, self._systems(build), count) for build, count in lines_of(name)]
        lines = [
            OrderLine(build, case.facts, count) for build, case, count in found if case is not None
        ]
        return order_facts(lines) if len(lines) == len(found) else NOTHING

    def fact(self, name: str, key: str) -> Fact | None:
        """A fact by its key, or a field of a part or platform: `tdp`, `size.depth`."""
        found = self.facts(name)
        return found[key] if key in found else self.stated(name).get(key)

    def _stated(self, name: str) -> Mapping[str, Fact]:
        d = self.definitions
        thing = None if name in d.builds else d.platforms.get(name) or d.parts.get(name)
        if thing is None:
            return {}
        found = {fact.key.removeprefix(f"{thing.id}."): fact for fact in declared_facts(thing)}
        return found | {key.removeprefix(f"{OWN}."): fact for key, fact in found.items()}

    def _positions(self, name: str) -> frozenset[str]:
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


def is_order(name: str) -> bool:
    """Whether a subject is builds that say how many there are: `gateway=3 archive`."""
    return "=" in name


def lines_of(name: str) -> tuple[tuple[str, int], ...]:
    """The builds of an order, each with how many of it."""
    counts: dict[str, int] = {}
    for word in name.split():
        build, _, count = word.partition("=")
        counts[build] = counts.get(build, 0) + int(count or 1)
    return tuple(counts.items())


def _brought(part: Part) -> list[str]:
    brings: Brings = part.brings
    return [
        name.removeprefix(".") for position in brings.positions for name in expand(position.name)
    ]
