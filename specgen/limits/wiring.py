"""Links as truths: which cable goes where, whether a position is reached, what it can speak."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from specgen.assembly.names import full_name
from specgen.limits.closure import Node
from specgen.limits.machine import Machine, Seat
from specgen.limits.solver import Literal, Sum
from specgen.model import CARRIERS, Cable, Drive, Lead, Port, expand

MOST_STEPS = 12


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Path:
    """One way from a source to its owner: what must hold, the ports passed, the least lanes."""

    literals: tuple[Literal, ...]
    ports: tuple[Port, ...]
    lanes: int


@dataclass(slots=True)
class Wiring:
    """The links of a machine. `ends` are the far ends of cables, by position and connector."""

    machine: Machine
    outlets: dict[str, list[Outlet]] = field(default_factory=dict)
    ends: dict[tuple[int, str], Literal] = field(default_factory=dict)
    _reached: dict[str, Literal] = field(default_factory=dict)
    _paths: dict[str, tuple[Path, ...]] = field(default_factory=dict)

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
                    for seat in cables:
                        if seat not in fit and outlet.form is not None:
                            puzzle.never(end, seat.sits, outlet.there)
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

    def reached(self, source: str) -> Literal:
        """Whether lanes come from a source; in a circle this is left open."""
        puzzle = self.machine.puzzle
        if source not in self._reached:
            self._reached[source] = puzzle.TRUE
            self._reached[source] = puzzle.either(
                puzzle.both(literals) for literals in self._ways(source)
            )
        return self._reached[source]

    def _ways(self, source: str) -> Iterator[list[Literal]]:
        machine = self.machine
        outlets = self.outlets.get(source, [])
        for outlet in outlets:
            if outlet.lead is not None:
                yield [outlet.there, self.reached(outlet.lead.from_)]
            elif outlet.seat is not None and outlet.port is not None:
                behind = self._behind(outlet.seat, outlet.port)
                further = [] if behind is None else [self.reached(behind)]
                yield [outlet.works, *further]
        for node in () if outlets else machine.named.get(source, ()):
            if "cable" in node.place.position.takes:
                for name in self._goes(node):
                    yield [self.ends[node.index, name], self.reached(name)]
            elif node.place.lead is not None:
                yield [machine.exists(node), self.reached(node.place.lead.from_)]

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

    def paths(self, source: str, steps: int = 0) -> tuple[Path, ...]:
        """Every way from a source to an owner; those too long to follow are left open."""
        if source not in self._paths:
            if steps > MOST_STEPS:
                return ()
            self._paths[source] = ()
            self._paths[source] = tuple(self._walk(source, steps))
        return self._paths[source]

    def _walk(self, source: str, steps: int) -> Iterator[Path]:
        outlets = self.outlets.get(source, [])
        for outlet in outlets:
            if outlet.lead is not None:
                stretch = Path((outlet.there,), (), outlet.lead.lanes)
                yield from self._on(stretch, outlet.lead.from_, steps)
            elif outlet.seat is not None and outlet.port is not None:
                stretch = Path((outlet.works,), (outlet.port,), outlet.port.lanes)
                behind = self._behind(outlet.seat, outlet.port)
                if behind is None:
                    yield stretch
                else:
                    yield from self._on(stretch, behind, steps)
        for node in () if outlets else self.machine.named.get(source, ()):
            if "cable" in node.place.position.takes:
                lanes = [part.lanes for part in node.parts if isinstance(part, Cable)]
                for name in self._goes(node):
                    end = self.ends[node.index, name]
                    yield from self._on(Path((end,), (), min(lanes)), name, steps)
            elif node.place.lead is not None:
                stretch = Path((self.machine.exists(node),), (), node.place.lead.lanes)
                yield from self._on(stretch, node.place.lead.from_, steps)

    def _on(self, first: Path, source: str, steps: int) -> Iterator[Path]:
        for path in self.paths(source, steps + 1):
            yield Path(
                (*first.literals, *path.literals),
                (*first.ports, *path.ports),
                min(first.lanes, path.lanes),
            )

    def speak(self) -> None:
        """No drive on a port that does not carry its protocol, or cannot serve its exchange."""
        puzzle = self.machine.puzzle
        sorts: dict[tuple[str, str, str], list[Literal]] = {}
        for seat in self.machine.working(Drive):
            lead, drive = seat.node.place.lead, seat.part
            if lead is not None and isinstance(drive, Drive):
                key = (lead.from_, drive.interface, drive.swap)
                sorts.setdefault(key, []).append(seat.works)
        for (source, interface, swap), literals in sorts.items():
            protocols = set(CARRIERS[interface])  # type: ignore[index]
            some = puzzle.either(literals)
            for path in self.paths(source):
                if any(
                    not protocols & set(port.carries) or (port.swap and swap not in port.swap)
                    for port in path.ports
                ):
                    puzzle.never(some, *path.literals)
            for seat in self.machine.at_name(source):
                if isinstance(seat.part, Cable) and not protocols & set(seat.part.carries):
                    puzzle.never(some, seat.sits)

    def lanes(self) -> None:
        """No more lanes from a port, a lead or a cable than it has, as far as that is plain."""
        loads: dict[str, list[tuple[Decimal, Literal]]] = {}
        through = {node.place.lead.from_ for node in self.machine.nodes if node.place.lead}
        for seat in self.machine.seats.values():
            lead = seat.node.place.lead
            part_lanes = getattr(seat.part, "lanes", None)
            if lead is None or seat.part.closes or seat.node.name in through:
                continue
            taken = min(lead.lanes, part_lanes or lead.lanes)
            least = min((path.lanes for path in self.paths(lead.from_)), default=0)
            term = (Decimal(min(taken, least)), seat.works)
            source = lead.from_
            for _ in range(MOST_STEPS):
                loads.setdefault(source, []).append(term)
                leads = [each.lead for each in self.outlets.get(source, ()) if each.lead]
                if len(leads) != 1:
                    break
                source = leads[0].from_
        for name, terms in loads.items():
            self._bounded(name, terms)

    def _bounded(self, name: str, terms: list[tuple[Decimal, Literal]]) -> None:
        puzzle = self.machine.puzzle
        for outlet in self.outlets.get(name, ()):
            most = outlet.port.lanes if outlet.port else outlet.lead.lanes if outlet.lead else 0
            puzzle.at_most(Sum(tuple(terms), Decimal(-most)), outlet.there)
        for node in () if name in self.outlets else self.machine.named.get(name, ()):
            for seat in self.machine.at(node):
                if isinstance(seat.part, Cable):
                    puzzle.at_most(Sum(tuple(terms), Decimal(-seat.part.lanes)), seat.sits)
