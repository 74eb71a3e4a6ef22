"""A resolved build: every position with what fills it or why it is unusable, every link."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any, Literal, TypeVar

from specgen.diagnostics import Finding, Span
from specgen.frozen import frozen
from specgen.messages import Message, Words, say_many
from specgen.model import (
    Build,
    Conditions,
    Definitions,
    Lead,
    Origin,
    Part,
    Platform,
    Port,
    Position,
)
from specgen.model import places as named_in_short
from specgen.model.pedigree import FieldPath

P = TypeVar("P", bound=Part)
T = TypeVar("T")


def is_empty(name: str) -> Message:
    """That a position is empty: the reason why others cannot be used."""
    return say_many(1, "{subject} is empty", "{subject} are empty", subject=name)


def has_no_cable(name: str) -> Message:
    """That a connector has no cable."""
    return say_many(1, "{subject} has no cable", "{subject} have no cable", subject=name)


def of_several(reason: Words, names: tuple[str, ...]) -> Words:
    """One reason that several positions give: `J2 to 3 have no cable`."""
    if not isinstance(reason, Message) or not names:
        return reason
    arguments = {**reason.named, "subject": named_in_short(names)}
    return replace(reason, arguments=tuple(arguments.items()), number=len(names))


class State(StrEnum):
    """What became of a position."""

    FILLED = "filled"
    EMPTY = "empty"
    UNUSABLE = "unusable"
    BLOCKED = "blocked"
    UNKNOWN = "unknown"  # filled by a part that nothing defines; a finding has said so


@dataclass(slots=True, kw_only=True)
class Place:
    """A position of one system. Written while resolving, read ever after.

    `host` is the position whose part brought this one, None where the platform did. References
    (`of`, `cools`, `neighbour`, `source`) hold full names. `reason` and `because_of` say why it
    is unusable or blocked. `how` tells parts the build names from soldered ones and blanks.
    `open_to_all` is set where the position takes a kind that nobody defines, which is told there.
    """

    name: str
    position: Position
    host: str | None
    origin: Origin
    path: FieldPath
    of: str | None = None
    cools: str | None = None
    neighbour: str | None = None
    lead: Lead | None = None
    leads: Mapping[str, Lead]
    state: State = State.EMPTY
    part: Part | None = None
    closed_by: Part | None = None
    how: Literal["build", "fixed", "blank"] = "build"
    to: str | None = None
    filled_at: Span | None = None
    reason: Words = ""
    because_of: Span | None = None
    open_to_all: bool = False

    @property
    def declared_at(self) -> Span:
        """Where the position itself is written."""
        return self.origin.at(*self.path)

    @property
    def filled(self) -> bool:
        return self.state is State.FILLED

    @property
    def at(self) -> Span:
        """The line an author can change: where it is filled, else where it is declared."""
        return self.filled_at or self.declared_at


@frozen
class PortAt:
    """A port of the part in a position: `CPU1.P2`."""

    name: str
    port: Port
    place: Place
    part: Part
    path: FieldPath

    @property
    def declared_at(self) -> Span:
        return self.part.origin.at(*self.path)

    @property
    def form_at(self) -> Span:
        """Where its form is declared, else the port."""
        return self.part.origin.at(*self.path, "form")


@frozen
class Stage:
    """One stretch of a link: its name, lanes, and the highest generation by protocol."""

    name: Words
    lanes: int
    limits: Mapping[str, int]
    span: Span
    cable: str = ""
    """The position of the cable that it is, if it is one."""


@frozen
class Link:
    """Lanes from an owner to a position, stage by stage from the owner on.

    `owner` is the port that gives the lanes; `root` the port at the far end of switches and
    expanders between (the same where there are none). `lanes` and `generation` are the least
    along the way, the fitted part's own included; `wired` is the least without the part.
    `protocol` is that of the wires, `speaks` what travels on them and `generation` counts: SATA
    where a SATA drive sits on a SAS port.
    """

    place: str
    stages: tuple[Stage, ...]
    owner: PortAt | None
    root: PortAt | None
    protocol: str
    wired: int
    lanes: int
    generation: int
    speaks: str
    broken: Words = ""
    broken_at: Span | None = None


@frozen
class Pool:
    """A resource: what is offered and what is taken, each amount with who and where."""

    offered: tuple[tuple[str, int, Span], ...]
    taken: tuple[tuple[str, int, Span], ...]


@frozen
class Absent:
    """A part given to a position that does not exist with this choice."""

    name: str
    part: Part | None
    span: Span
    """The line that fills it."""
    piece: Span
    """The name in that line, or the range, between its commas."""


@frozen
class Assembly:
    """A build resolved. `places` keeps the order in which positions appeared.

    `uplinks` are the links that feed switches and expanders over a cable or a lead.
    """

    build: Build | None
    platform: Platform
    definitions: Definitions
    conditions: Conditions
    conditions_at: Mapping[str, Span]
    places: Mapping[str, Place]
    ports: Mapping[str, PortAt]
    links: Mapping[str, Link]
    uplinks: Mapping[str, Link]
    pools: Mapping[str, Pool]
    absent: tuple[Absent, ...]
    findings: tuple[Finding, ...]
    _once: dict[object, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def once(self, what: object, make: Callable[[], T]) -> T:
        """What follows from the assembly alone, under the name `what`: made once, then kept."""
        if what not in self._once:
            self._once[what] = make()
        made: T = self._once[what]
        return made

    def fitted(self, kind: type[P]) -> tuple[tuple[Place, P], ...]:
        """Parts of a kind in usable positions, in the order of positions."""
        filled: tuple[tuple[Place, Any], ...] = self.once("filled", self._filled)
        return self.once(kind, lambda: tuple(each for each in filled if isinstance(each[1], kind)))

    def _filled(self) -> tuple[tuple[Place, Part], ...]:
        return tuple(
            (place, place.part)
            for place in self.places.values()
            if place.state is State.FILLED and place.part is not None
        )

    def controller(self, name: str) -> PortAt | None:
        """The port that serves a drive's position: of what can join drives, else the last owner."""
        link = self.links.get(name)
        ports = [port for port in (link.owner, link.root) if port is not None] if link else []
        joining = (port for port in ports if hasattr(port.part, "raid"))
        return next(joining, ports[-1] if ports else None)

    def everything(self) -> Iterator[tuple[Place, Part]]:
        """All parts of the system: fitted, soldered, closing, and those that cannot work."""
        for place in self.places.values():
            part = place.part or place.closed_by
            if part is not None:
                yield place, part

    def taking(self, kind: str) -> Iterator[Place]:
        """Positions that take parts of a kind."""
        return (place for place in self.places.values() if kind in place.position.takes)
