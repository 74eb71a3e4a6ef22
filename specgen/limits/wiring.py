"""Links as truths: which cable goes where, whether a position is reached, what it can speak."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import partial
from typing import Final, NamedTuple

from specgen.assembly.full_names import full_name
from specgen.diagnostics import Span
from specgen.facts.terms import PROTOCOL, SWAP
from specgen.fitness import field_of
from specgen.frozen import frozen
from specgen.limits.build_model import BuildModel, Seat
from specgen.limits.closure import PositionNode
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.spare_positions import declared_name
from specgen.limits.sums import BoolVar, Sum
from specgen.messages import Words, say
from specgen.model import CARRIERS, Cable, Lead, Part, Port, expand, places

MOST_STEPS = 12


@frozen
class LaneSource:
    """A port, or a named lead, that may be there, and where it leads on to."""

    there: BoolVar
    works: BoolVar
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
    """What is asked of the ports on the way: one of these protocols, an exchange of this class, and
    that the first part on it that joins drives does so at a RAID level."""

    protocols: frozenset[str] = frozenset()
    swap: str = ""
    raid: int | None = None

    def met_by(self, port: Port) -> bool:
        if self.protocols and self.protocols.isdisjoint(port.carries):
            return False
        return not (self.swap and port.swap) or self.swap in port.swap

    def beyond(self, part: Part | None) -> "Asks | None":
        """What is left to ask once a part is passed; None where it refuses."""
        levels: tuple[int, ...] | None = getattr(part, "raid", None)
        if self.raid is None or levels is None:
            return self
        return replace(self, raid=None) if self.raid in levels else None


ANYTHING: Final = Asks()


class RouteStep(NamedTuple):
    """One step of a way: what must hold, the port passed and whose it is, where it leads on to,
    its lanes."""

    literals: list[BoolVar]
    port: Port | None
    part: Part | None
    further: str | None
    lanes: int


@dataclass(slots=True)
class Wiring:
    """The links of a system. `ends` are the far ends of cables, by position and connector."""

    builds: BuildModel
    sources: dict[str, list[LaneSource]] = field(default_factory=dict)
    ends: dict[tuple[int, str], BoolVar] = field(default_factory=dict)
    _reached: dict[tuple[str, Asks], BoolVar] = field(default_factory=dict)
    _least: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        builds, logic = self.builds, self.builds.logic
        for name, lead in builds.bare.platform.leads.items():
            self._source(name, LaneSource(logic.TRUE, logic.TRUE, None, None, lead))
        for node in builds.nodes:
            for label, lead in node.place.leads.items():
                there = builds.exists(node)
                self._source(f"{node.name}.{label}", LaneSource(there, there, None, None, lead))
        for seat in builds.seats.values():
            for port in seat.part.brings.ports:
                for label in expand(port.name):
                    found = LaneSource(seat.sits, seat.works, seat, port, None)
                    self._source(f"{seat.node.name}.{label}", found)
        self._plug()

    def _source(self, name: str, start: LaneSource) -> None:
        self.sources.setdefault(name, []).append(start)

    def _plug(self) -> None:
        """Each cable's far end goes to one connector of its form, and each takes one cable."""
        builds, logic = self.builds, self.builds.logic
        taken: dict[str, list[BoolVar]] = {}
        there = {name: self._there(name) for name in self.sources}
        for node in builds.nodes:
            cables = [seat for seat in builds.at(node) if isinstance(seat.part, Cable)]
            if not cables or node.fixed:
                continue
            own = []
            for name, sources in self.sources.items():
                fits = [self._fitting(cables, start) for start in sources]
                if not any(fits):
                    continue
                end = logic.free(f"{node.name} to {name}")
                self.ends[node.index, name] = end
                own.append(end)
                taken.setdefault(name, []).append(end)
                logic.implies(end, *there[name])
                for start, fit in zip(sources, fits, strict=True):
                    if start.form is not None:
                        others = (seat.sits.negated() for seat in fit)
                        logic.never(end, start.there, *others)
            logic.at_most_one(own)
            for seat in cables:
                logic.implies(seat.sits, *own)
            for end in own:
                logic.implies(end, *(seat.sits for seat in cables))
        for ends in taken.values():
            logic.at_most_one(ends)

    def _there(self, name: str) -> list[BoolVar]:
        """A connector is there, or may yet come with what is fitted into a position with none."""
        builds, starts = self.builds, [start.there for start in self.sources[name]]
        hosts = builds.named.get(name.rpartition(".")[0], [])
        bare = (
            builds.logic.both([builds.exists(each), builds.works(each).negated()]) for each in hosts
        )
        return [*starts, *bare]

    @staticmethod
    def _fitting(cables: list[Seat], start: LaneSource) -> list[Seat]:
        return [
            seat
            for seat in cables
            if isinstance(seat.part, Cable) and seat.part.far_form == start.form
        ]

    def links(self) -> dict[int, BoolVar]:
        """By position with lanes, whether an owner gives them."""
        return {
            node.index: self.reached(node.place.lead.from_)
            for node in self.builds.nodes
            if node.place.lead is not None
        }

    def reached(self, source: str, asks: Asks = ANYTHING) -> BoolVar:
        """Whether lanes that do what is asked come from a source; in a circle this is left open."""
        logic = self.builds.logic
        if (source, asks) not in self._reached:
            self._reached[source, asks] = logic.TRUE
            self._reached[source, asks] = logic.either(
                logic.both(literals) for literals in self._routes(source, asks)
            )
        return self._reached[source, asks]

    def _routes(self, source: str, asks: Asks) -> Iterator[list[BoolVar]]:
        for literals, port, part, further, _ in self._route_steps(source):
            rest = asks.beyond(part)
            if rest is None or not (port is None or asks.met_by(port)):
                continue
            if further is not None:
                yield [*literals, self.reached(further, rest)]
            elif rest.raid is None:
                yield literals

    def _route_steps(self, source: str) -> Iterator[RouteStep]:
        """The ways that lead on from a source, one step each."""
        builds = self.builds
        sources = self.sources.get(source, [])
        for start in sources:
            if start.lead is not None:
                yield RouteStep([start.there], None, None, start.lead.from_, start.lead.lanes)
            elif start.seat is not None and start.port is not None:
                behind = self._behind(start.seat, start.port)
                yield RouteStep(
                    [start.works], start.port, start.seat.part, behind, start.port.lanes
                )
        for node in () if sources else builds.named.get(source, ()):
            lead = node.place.lead
            if "cable" in node.place.position.takes:
                lanes = min(part.lanes for part in node.parts if isinstance(part, Cable))
                for name in self._goes(node):
                    yield RouteStep([self.ends[node.index, name]], None, None, name, lanes)
            elif lead is not None:
                yield RouteStep([builds.exists(node)], None, None, lead.from_, lead.lanes)

    def _goes(self, node: PositionNode) -> Iterator[str]:
        return (name for index, name in self.ends if index == node.index)

    def _behind(self, seat: Seat, port: Port) -> str | None:
        """What feeds a switch's or an expander's port."""
        if port.behind is None:
            return None
        behind = full_name(port.behind, seat.node.name, 0)
        for node in self.builds.named.get(behind, ()):
            lead = node.place.lead
            if lead is not None and "cable" not in node.place.position.takes:
                return lead.from_
        return behind

    def least_lanes(self, source: str) -> int:
        """The fewest lanes that any way from a source has; 0 where none leads anywhere."""
        if source not in self._least:
            self._least[source] = 0
            lanes = (
                lanes if further is None else min(lanes, self.least_lanes(further))
                for *_, further, lanes in self._route_steps(source)
            )
            self._least[source] = min(lanes, default=0)
        return self._least[source]

    def speak(self) -> None:
        """No drive on a port that does not carry its protocol, or cannot serve its exchange."""
        logic = self.builds.logic
        sorts: dict[tuple[str, str, str], list[BoolVar]] = {}
        for seat in self.builds.working(Part):
            lead, interface = seat.node.place.lead, field_of(seat.part, "interface")
            if lead is not None and interface is not None:
                key = (lead.from_, interface, field_of(seat.part, "swap") or "")
                sorts.setdefault(key, []).append(seat.works)
        for (source, interface, swap), literals in sorts.items():
            protocols = frozenset(CARRIERS[interface])  # type: ignore[index]
            some = logic.either(literals)
            with logic.because(ReasonKind.CHECK, partial(self._speech, source, interface, swap)):
                logic.implies(some, self.reached(source, Asks(protocols, swap)))
                for seat in self.builds.at_name(source):
                    if isinstance(seat.part, Cable) and not protocols & set(seat.part.carries):
                        logic.never(some, seat.sits)

    def _speech(self, source: str, interface: str, swap: str) -> Reason:
        """That drives need ports that serve them, said of all positions on one line."""
        source = declared_name(source)
        node = next(node for node in self.builds.nodes if _fed_by(node, source))
        words = say(
            "{drives} need a port behind {source} that serves them",
            drives=_drives(interface, swap), source=places(self.builds.sources_beside(node)),
        )  # fmt: skip
        return Reason(ReasonKind.CHECK, words, node.place.declared_at)

    def lanes(self) -> None:
        """No more lanes from a port, a lead or a cable than it has, as far as that is plain."""
        loads: dict[str, list[tuple[Decimal, BoolVar]]] = {}
        for first, lanes, taking in (*self._fitted(), *self._uplinks()):
            source = first
            for _ in range(MOST_STEPS):
                loads.setdefault(source, []).append((Decimal(lanes), taking))
                leads = [each.lead for each in self.sources.get(source, ()) if each.lead]
                if len(leads) != 1:
                    break
                source = leads[0].from_
        for name, terms in loads.items():
            with self.builds.logic.because(ReasonKind.WIDTH, partial(self._width, name)):
                self._bounded(name, terms)

    def _fitted(self) -> Iterator[tuple[str, int, BoolVar]]:
        """What parts take where their link ends: the source, how many lanes, and when."""
        through = {node.place.lead.from_ for node in self.builds.nodes if node.place.lead}
        for seat in self.builds.seats.values():
            lead = seat.node.place.lead
            if lead is None or seat.part.closes or seat.node.name in through:
                continue
            own = getattr(seat.part, "lanes", None) or lead.lanes
            yield lead.from_, min(lead.lanes, own, self.least_lanes(lead.from_)), seat.works

    def _uplinks(self) -> Iterator[tuple[str, int, BoolVar]]:
        """What feeds switches and expanders over a cable or a lead takes, likewise.

        Where that comes in at a position with lanes of its own, the part in it takes them.
        """
        for seat in self.builds.seats.values():
            labels = (port.behind for port in seat.part.brings.ports if port.behind is not None)
            for behind in dict.fromkeys(full_name(label, seat.node.name, 0) for label in labels):
                if all(node.place.lead is None for node in self.builds.named.get(behind, ())):
                    taking = self.builds.logic.both([seat.works, self.reached(behind)])
                    yield behind, self.least_lanes(behind), taking

    def _width(self, name: str) -> Reason:
        """That a port, a lead or a cable is no broader than it is, said of all on one line."""
        name = declared_name(name)
        platform, nodes = self.builds.bare.platform, self.builds.named.get(name, ())
        for start in self.sources.get(name, ()):
            if start.seat is not None and start.port is not None:
                part = start.seat.part
                at = part.origin.at("brings", "ports", part.brings.ports.index(start.port))
                names = tuple(expand(start.port.name))
                if len(names) == 1:
                    message = say("{port} of {part}", port=start.port.name, part=part.name)
                    return _no_more(message, start.lanes, at)
                message = say("{ports} of {part}", ports=places(names), part=part.name)
                return _no_more(message, start.lanes, at, each=True)
        if nodes:
            takes_cables = "cable" in nodes[0].place.position.takes
            what = say("the cable in {place}", place=name) if takes_cables else name
            words = say("{what} has no lanes left", what=what)
            return Reason(ReasonKind.WIDTH, words, nodes[0].place.declared_at)
        for node in self.builds.named.get(name.rpartition(".")[0], ()):
            return _no_more(
                name, node.place.leads[name.rpartition(".")[2]].lanes, node.place.declared_at
            )
        step = ("leads", name) if name in platform.leads else ("id",)
        return _no_more(name, platform.leads[name].lanes, platform.origin.at(*step))

    def _bounded(self, name: str, terms: list[tuple[Decimal, BoolVar]]) -> None:
        logic = self.builds.logic
        for start in self.sources.get(name, ()):
            logic.at_most(Sum(tuple(terms), Decimal(-start.lanes)), start.there)
        for node in () if name in self.sources else self.builds.named.get(name, ()):
            broadest = 0
            for seat in self.builds.at(node):
                if isinstance(seat.part, Cable):
                    broadest = max(broadest, seat.part.lanes)
                    logic.at_most(Sum(tuple(terms), Decimal(-seat.part.lanes)), seat.sits)
            for end in self._goes(node):
                for start in self.sources.get(end, ()):
                    if start.lanes < broadest:
                        there = (self.ends[node.index, end], start.there)
                        logic.at_most(Sum(tuple(terms), Decimal(-start.lanes)), *there)


def _drives(interface: str, swap: str) -> Words:
    """Drives of an interface, and of a type of swap where they say so."""
    name = PROTOCOL.get(interface, interface)
    if swap not in SWAP:
        return say("{interface} drives", interface=name)
    return say("{interface} drives, {swap}", interface=name, swap=SWAP[swap])


def _no_more(what: Words, lanes: int, at: Span, each: bool = False) -> Reason:
    """That what hands on lanes has so many; of several, `each`."""
    words = (
        say("{what} have {lanes} lanes each, and no more", what=what, lanes=lanes)
        if each
        else say("{what} has {lanes} lanes, and no more", what=what, lanes=lanes)
    )
    return Reason(ReasonKind.WIDTH, words, at)


def _fed_by(node: PositionNode, source: str) -> bool:
    return node.place.lead is not None and node.place.lead.from_ == source
