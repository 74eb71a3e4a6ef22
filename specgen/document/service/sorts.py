"""Positions of a platform by what is done to replace what sits in them."""

from functools import reduce

from specgen.assembly import Place
from specgen.assembly.access import Access, access_of, alike
from specgen.document.case import Case
from specgen.frozen import frozen
from specgen.limits.reachable import reachable
from specgen.messages import Words, listed, say
from specgen.model import Part, natural, places
from specgen.model.position import Swap


@frozen
class Sort:
    """Positions that the same procedure is for, whatever parts a system of the platform has.

    `bringers` are the parts that bring them, where others bring positions of these names that
    another procedure is for.
    """

    names: tuple[str, ...]
    place: Place
    parts: tuple[Part, ...]
    bringers: tuple[Part, ...] = ()

    @property
    def swap(self) -> Swap | None:
        """Hot where the position and every part that goes in say so: on the word of this somebody
        puts a hand into a running system. None where neither says anything."""
        said = {getattr(part, "swap", None) for part in self.parts} | {self.place.position.swap}
        return "hot" if said == {"hot"} else None if said == {None} else "cold"


@frozen
class Work:
    """All service work on a platform: its sorts, and the order in which they are reached."""

    access: Access
    sorts: tuple[Sort, ...]

    def way(self, sort: Sort) -> tuple[tuple[str, ...], ...]:
        """What is out of the way before a sort is reached, alike positions together."""
        of: dict[str, tuple[str, ...]] = {}
        for each in self.sorts:
            for name in each.names:
                of.setdefault(name, each.names)
        found: dict[tuple[str, ...], list[str]] = {}
        for name in self.access.way(*sort.names):
            found.setdefault(of.get(name, (name,)), []).append(name)
        return tuple(map(tuple, found.values()))


def work_on(case: Case) -> Work:
    """The service work on the platform of a case, with any parts; worked out once for a system."""
    return case.assembly.once(work_on, lambda: _work_on(case))


def _work_on(case: Case) -> Work:
    nodes = [each for each in reachable(case.assembly) or () if not each.fixed]
    spots = [(node.place, node.bringer) for node in nodes]
    access = access_of(case.definitions, case.platform, spots)
    of = {id(node.place): node for node in nodes}
    groups = alike(access, (place for place, _ in spots))
    held: dict[str, int] = {}
    for group in groups:
        for name in {place.name for place in group}:
            held[name] = held.get(name, 0) + 1
    sorts = []
    for group in groups:
        own = [of[id(place)] for place in group]
        parts = {part.id: part for node in own for part in node.parts if not part.closes}
        by = {node.bringer.id: node.bringer for node in own if node.bringer is not None}
        shared = any(held[place.name] > 1 for place in group)
        names = tuple(dict.fromkeys(place.name for place in group))
        if parts:
            in_order = sorted(parts.values(), key=lambda part: natural(part.name))
            sorts.append(
                Sort(names, group[0], tuple(in_order), tuple(by.values()) if shared else ())
            )
    return Work(access, tuple(sorts))


def sequence(ways: tuple[tuple[str, ...], ...]) -> Words:
    """What is out of the way, in order: `Top cover, then Air baffle, then HS 1 to 2`."""
    named: list[Words] = [places(names) for names in ways]
    return reduce(lambda first, then: say("{first}, then {next}", first=first, next=then), named)


def kinds_of(sort: Sort) -> Words:
    """The kinds of part that go in."""
    kinds = dict.fromkeys(part.named() for part in sort.parts)
    return listed(kinds, "or") if kinds else ""
