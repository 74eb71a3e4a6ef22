"""Positions that a platform lacks: one more like those it has, with all that belongs to it.

A model that argues takes back that there are so many positions and no more by letting one more
be filled. What the position brings, and what is usable with it or cools it, comes with it.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from copy import copy
from dataclasses import replace
from typing import Final

from specgen.limits.closure import PositionNode

MARK: Final = "~"
"""Between a position's name and the number of its twin; no name of a definition has it."""
_MARKS: Final = re.compile(rf"{MARK}\d+")


def declared_name(name: str) -> str:
    """The name of the position that a spare one is like."""
    return _MARKS.sub("", name)


def with_spares(nodes: tuple[PositionNode, ...], count: int) -> tuple[PositionNode, ...]:
    """The positions of a platform, and `count` spare ones of each sort."""
    twins = _Twins(nodes)
    for members in _sorts(nodes):
        for node in _last_of_each(members):
            for _ in range(count):
                twins.add(node, members)
    return tuple(twins.nodes)


def _sorts(nodes: Iterable[PositionNode]) -> Iterable[tuple[PositionNode, ...]]:
    """Positions alike: on the board or brought by one model of part, for the same parts."""
    found: dict[object, list[PositionNode]] = {}
    for node in nodes:
        at = node.place.position
        if node.fixed or not node.parts:
            continue
        by = None if node.bringer is None else node.bringer.id
        found.setdefault((by, at.takes, at.height, at.form, at.interface), []).append(node)
    return [tuple(each) for each in found.values()]


def _last_of_each(members: Sequence[PositionNode]) -> Iterable[PositionNode]:
    """One position for each host and each position that they are usable with."""
    return {
        (None if node.host is None else node.host.index, node.place.of): node for node in members
    }.values()


class _Twins:
    """Makes twins of positions, and keeps count of them."""

    def __init__(self, nodes: Sequence[PositionNode]) -> None:
        self.nodes = list(nodes)
        self._made = 0
        self._brought: dict[int, list[PositionNode]] = {}
        self._beside: dict[tuple[int | None, str], list[PositionNode]] = {}
        for node in nodes:
            host = None if node.host is None else node.host.index
            if host is not None:
                self._brought.setdefault(host, []).append(node)
            for name in {node.place.of, node.place.cools} - {None}:
                self._beside.setdefault((host, name or ""), []).append(node)

    def add(self, node: PositionNode, members: tuple[PositionNode, ...]) -> None:
        """A twin of a position and of all that belongs to it."""
        self._made += 1
        belonging = list(self._belonging(node))
        names: dict[str, str] = {}
        for each, _ in belonging:
            of = "" if each.host is None else f"{each.host.name}."
            own = each.name.removeprefix(of) if of else each.name
            known = each.host is not None and each.host.name in names and own != each.name
            names[each.name] = (
                f"{names[of[:-1]]}.{own}" if known else f"{each.name}{MARK}{self._made}"
            )
        hosts = {} if node.host is None else {node.host.index: node.host}
        for each, brought in belonging:
            host = None if each.host is None else hosts.get(each.host.index, each.host)
            place = copy(each.place)
            place.name = names[each.name]
            place.host = None if host is None else host.name
            place.of, place.cools = _renamed(place.of, names), _renamed(place.cools, names)
            place.neighbour = _renamed(place.neighbour, names)
            if place.lead is not None:
                source = _renamed(place.lead.from_, names) or ""
                place.lead = replace(place.lead, from_=source)
            place.leads = {
                label: replace(lead, from_=_renamed(lead.from_, names) or "")
                for label, lead in place.leads.items()
            }
            twin = PositionNode(
                len(self.nodes), place, host, each.bringer, each.parts, each.depth,
                () if brought else members,
            )  # fmt: skip
            hosts[each.index] = twin
            self.nodes.append(twin)

    def _belonging(self, node: PositionNode) -> Iterator[tuple[PositionNode, bool]]:
        """A position, what is usable with it, what they bring (True); hosts first."""
        host = None if node.host is None else node.host.index
        waiting = [(node, False)]
        waiting += [(each, False) for each in self._beside.get((host, node.name), ())]
        while waiting:
            each, brought = waiting.pop(0)
            yield each, brought
            waiting += [(inner, True) for inner in self._brought.get(each.index, ())]


def _renamed(text: str | None, names: dict[str, str]) -> str | None:
    """A position's name, or a port or lead of one, in the twins' names."""
    if text is None or text in names:
        return None if text is None else names[text]
    owner, dot, rest = text.rpartition(".")
    return f"{names[owner]}{dot}{rest}" if owner in names else text
