"""Links as truths: which cable goes where, whether a position is reached, what it can speak."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from functools import partial
from typing import Final, NamedTuple

from specgen.assembly.names import full_name
from specgen.diagnostics import Span
from specgen.fitness import field_of
from specgen.frozen import frozen
from specgen.limits.closure import Node
from specgen.limits.machine import Machine, Seat
from specgen.limits.reason import Reason, Sort
from specgen.limits.solver import Literal, Sum
from specgen.messages import Words, say
from specgen.model import CARRIERS, Cable, Lead, Part, Port, expand

MOST_STEPS = 12


@frozen
class Outlet:
    """A port, or a named lead, that may be there, and where it leads on to."""

    there: Literal
    works: Literal
    seat: Seat | None
    port: Port | None
    lead: Lead | None

    @property
    def form(self) -> str | None:
        return self.port.form if self.port is not None else self.lead.form if self.lead else None

    @property
    def lanes(self) -> int:
        return self.port.lanes if self.port is not None else self.lead.lanes if self.lead else 0


@frozen
class Asks:
    """What is asked of the ports on the way: one of these protocols, an exchange of this class."""

    protocols: frozenset[str] = frozenset()
    swap: str = ""

    def met_by(self, port: Port) -> bool:
        if self.protocols and self.protocols.isdisjoint(port.carries):
            return False
        return not (self.swap and port.swap) or self.swap in port.swap


ANYTHING: Final = Asks()


class Stretch(NamedTuple):
    """One step of a way: what must hold, the port passed, where it leads on to, its lanes."""

    literals: list[Literal]
    port: Port | None
    further: str | None
    lanes: int


@dataclass(slots=True)
class Wiring:
    """The links of a machine. `ends` are the far ends of cables, by position and connector."""

    machine: Machine
    outlets: dict[str, list[Outlet]] = field(default_factory=dict)
    ends: dict[tuple[int, str], Literal] = field(default_factory=dict)
    _reached: dict[tuple[str, Asks], Literal] = field(default_factory=dict)
    _least: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        machine, puzzle = self.machine, self.machine.puzzle
        for name, lead in machine.bare.platform.leads.items():
            self._outlet(name, Outlet(puzzle.TRUE, puzzle.TRUE, None, None, lead))
        for node in machine.nodes:
            for label, lead in node.place.leads.items():
                there = machine.exists(node)
                self._outlet(f"{node.name}.{label}", Outlet(there, there, None, None, lead))
        for seat in machine.seats.values():
            for port in seat.part.brings.ports:
                for label in expand(port.name):
                    found = Outlet(seat.sits, seat.works, seat, port, None)
                    self._outlet(f"{seat.node.name}.{label}", found)
        self._plug()

    def _outlet(self, name: str, outlet: Outlet) -> None:
        self.outlets.setdefault(name, []).append(outlet)

    def _plug(self) -> None:
        """Each cable's far end goes to one connector of its form, and each takes one cable."""
        machine, puzzle = self.machine, self.machine.puzzle
        taken: dict[str, list[Literal]] = {}
        for node in machine.nodes:
            cables = [seat for seat in machine.at(node) if isinstance(seat.part, Cable)]
            if not cables or node.fixed:
                continue
            own = []
            for name, outlets in self.outlets.items():
                fits = [self._fitting(cables, outlet) for outlet in outlets]
                if not any(fits):
                    continue
                end = puzzle.free(f"{node.name} to {name}")
                self.ends[node.index, name] = end
                own.append(end)
                taken.setdefault(name, []).append(end)
                host = machine.named.get(name.rpartition(".")[0], [])
                bare = [
                    puzzle.both([machine.exists(each), machine.works(each).negated()])
                    for each in host
                ]
                puzzle.implies(end, *(outlet.there for outlet in outlets), *bare)
                for outlet, fit in zip(outlets, fits, strict=True):
                    if outlet.form is not None:
                        others = (seat.sits.negated() for seat in fit)
                        puzzle.never(end, outlet.there, *others)
            puzzle.at_most_one(own)
            for seat in cables:
                puzzle.implies(seat.sits, *own)
            for end in own:
                puzzle.implies(end, *(seat.sits for seat in cables))
        for ends in taken.values():
            puzzle.at_most_one(ends)

    @staticmethod
    def _fitting(cables: list[Seat], outlet: Outlet) -> list[Seat]:
        return [
            seat
            for seat in cables
            if isinstance(seat.part, Cable) and seat.part.far_form == outlet.form
        ]

    def links(self) -> dict[int, Literal]:
        """By position with lanes, whether an owner gives them."""
        return {
            node.index: self.reached(node.place.lead.from_)
            for node in self.machine.nodes
            if node.place.lead is not None
        }

    def reached(self, source: str, asks: Asks = ANYTHING) -> Literal:
        """Whether lanes that do what is asked come from a source; in a circle this is left open."""
        puzzle = self.machine.puzzle
        if (source, asks) not in self._reached:
            self._reached[source, asks] = puzzle.TRUE
            self._reached[source, asks] = puzzle.either(
                puzzle.both(literals) for literals in self._ways(source, asks)
            )
        return self._reached[source, asks]

    def _ways(self, source: str, asks: Asks) -> Iterator[list[Literal]]:
        for literals, port, further, _ in self._stretches(source):
            if port is None or asks.met_by(port):
                yield literals if further is None else [*literals, self.reached(further, asks)]

    def _stretches(self, source: str) -> Iterator[Stretch]:
        """The ways that lead on from a source, one step each."""
        machine = self.machine
        outlets = self.outlets.get(source, [])
        for outlet in outlets:
            if outlet.lead is not None:
                yield Stretch([outlet.there], None, outlet.lead.from_, outlet.lead.lanes)
            elif outlet.seat is not None and outlet.port is not None:
                behind = self._behind(outlet.seat, outlet.port)
                yield Stretch([outlet.works], outlet.port, behind, outlet.port.lanes)
        for node in () if outlets else machine.named.get(source, ()):
            lead = node.place.lead
            if "cable" in node.place.position.takes:
                lanes = min(part.lanes for part in node.parts if isinstance(part, Cable))
                for name in self._goes(node):
                    yield Stretch([self.ends[node.index, name]], None, name, lanes)
            elif lead is not None:
                yield Stretch([machine.exists(node)], None, lead.from_, lead.lanes)

    def _goes(self, node: Node) -> Iterator[str]:
        return (name for index, name in self.ends if index == node.index)

    def _behind(self, seat: Seat, port: Port) -> str | None:
        """What feeds a switch's or an expander's port."""
        if port.behind is None:
            return None
        behind = full_name(port.behind, seat.node.name, 0)
        for node in self.machine.named.get(behind, ()):
            lead = node.place.lead
            if lead is not None and "cable" not in node.place.position.takes:
                return lead.from_
        return behind

    def least_lanes(self, source: str) -> int:
        """The fewest lanes that any way from a source has; 0 where none leads anywhere."""
        if source not in self._least:
            self._least[source] = 0
            ways = (
                lanes if further is None else min(lanes, self.least_lanes(further))
                for _, _, further, lanes in self._stretches(source)
            )
            self._least[source] = min(ways, default=0)
        return self._least[source]

    def speak(self) -> None:
        """No drive on a port that does not carry its protocol, or cannot serve its exchange."""
        puzzle = self.machine.puzzle
        sorts: dict[tuple[str, str, str], list[Literal]] = {}
        for seat in self.machine.working(Part):
            lead, interface = seat.node.place.lead, field_of(seat.part, "interface")
            if lead is not None and interface is not None:
                key = (lead.from_, interface, field_of(seat.part, "swap") or "")
                sorts.setdefault(key, []).append(seat.works)
        for (source, interface, swap), literals in sorts.items():
            protocols = frozenset(CARRIERS[interface])  # type: ignore[index]
            some = puzzle.either(literals)
            with puzzle.because(Sort.CHECK, partial(self._speech, source, interface, swap)):
                puzzle.implies(some, self.reached(source, Asks(protocols, swap)))
                for seat in self.machine.at_name(source):
                    if isinstance(seat.part, Cable) and not protocols & set(seat.part.carries):
                        puzzle.never(some, seat.sits)

    def _speech(self, source: str, interface: str, swap: str) -> Reason:
        nodes = [node for node in self.machine.nodes if _fed_by(node, source)]
        words = say(
            "a {swap}-swap {interface} drive needs a port behind {source} that serves it",
            swap=swap, interface=interface, source=source,
        )  # fmt: skip
        return Reason(Sort.CHECK, words, nodes[0].place.declared_at)

    def lanes(self) -> None:
        """No more lanes from a port, a lead or a cable than it has, as far as that is plain."""
        loads: dict[str, list[tuple[Decimal, Literal]]] = {}
        for first, lanes, taking in (*self._fitted(), *self._uplinks()):
            source = first
            for _ in range(MOST_STEPS):
                loads.setdefault(source, []).append((Decimal(lanes), taking))
                leads = [each.lead for each in self.outlets.get(source, ()) if each.lead]
                if len(leads) != 1:
                    break
                source = leads[0].from_
        for name, terms in loads.items():
            with self.machine.puzzle.because(Sort.WIDTH, partial(self._width, name)):
                self._bounded(name, terms)

    def _fitted(self) -> Iterator[tuple[str, int, Literal]]:
        """What parts take where their link ends: the source, how many lanes, and when."""
        through = {node.place.lead.from_ for node in self.machine.nodes if node.place.lead}
        for seat in self.machine.seats.values():
            lead = seat.node.place.lead
            if lead is None or seat.part.closes or seat.node.name in through:
                continue
            own = getattr(seat.part, "lanes", None) or lead.lanes
            yield lead.from_, min(lead.lanes, own, self.least_lanes(lead.from_)), seat.works

    def _uplinks(self) -> Iterator[tuple[str, int, Literal]]:
        """What feeds switches and expanders over a cable or a lead takes, likewise.

        Where that comes in at a position with lanes of its own, the part in it takes them.
        """
        for seat in self.machine.seats.values():
            ways = (port.behind for port in seat.part.brings.ports if port.behind is not None)
            for behind in dict.fromkeys(full_name(way, seat.node.name, 0) for way in ways):
                if all(node.place.lead is None for node in self.machine.named.get(behind, ())):
                    taking = self.machine.puzzle.both([seat.works, self.reached(behind)])
                    yield behind, self.least_lanes(behind), taking

    def _width(self, name: str) -> Reason:
        """That a port, a lead or a cable is no broader than it is, said of all on one line."""
        platform, nodes = self.machine.bare.platform, self.machine.named.get(name, ())
        for outlet in self.outlets.get(name, ()):
            if outlet.seat is not None and outlet.port is not None:
                part = outlet.seat.part
                at = part.origin.at("brings", "ports", part.brings.ports.index(outlet.port))
                said = say("{port} of {part}", port=outlet.port.name, part=part.name)
                return _no_broader(said, at)
        if nodes:
            return _no_broader(say("what is in {place}", place=name), nodes[0].place.declared_at)
        for node in self.machine.named.get(name.rpartition(".")[0], ()):
            said = say("each lead of {place}", place=node.name)
            return _no_broader(said, node.place.declared_at)
        step = ("leads", name) if name in platform.leads else ("id",)
        return _no_broader(name, platform.origin.at(*step))

    def _bounded(self, name: str, terms: list[tuple[Decimal, Literal]]) -> None:
        puzzle = self.machine.puzzle
        for outlet in self.outlets.get(name, ()):
            puzzle.at_most(Sum(tuple(terms), Decimal(-outlet.lanes)), outlet.there)
        for node in () if name in self.outlets else self.machine.named.get(name, ()):
            broadest = 0
            for seat in self.machine.at(node):
                if isinstance(seat.part, Cable):
                    broadest = max(broadest, seat.part.lanes)
                    puzzle.at_most(Sum(tuple(terms), Decimal(-seat.part.lanes)), seat.sits)
            for end in self._goes(node):
                for outlet in self.outlets.get(end, ()):
                    if outlet.lanes < broadest:
                        there = (self.ends[node.index, end], outlet.there)
                        puzzle.at_most(Sum(tuple(terms), Decimal(-outlet.lanes)), *there)


def _no_broader(what: Words, at: Span) -> Reason:
    return Reason(Sort.WIDTH, say("{what} gives no more lanes than it has", what=what), at)


def _fed_by(node: Node, source: str) -> bool:
    return node.place.lead is not None and node.place.lead.from_ == source
