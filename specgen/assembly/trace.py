"""Follows links from a position to the port that owns the lanes, and says what remains."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field

from specgen.assembly.result import Link, Place, PortAt, Stage, State, has_no_cable, is_empty
from specgen.diagnostics import Finding, Label, Span, codes, meant
from specgen.frozen import state
from specgen.messages import Words, listed, say
from specgen.model import CARRIERS, Cable, HasLink, Lead, Part, Platform, Port, Stores, expand

MOST_STAGES = 32
MOST_LABELS = 6


@state
class Web:
    """All that links are traced through."""

    platform: Platform
    places: Mapping[str, Place]
    ports: Mapping[str, PortAt]
    absent: Mapping[str, Span] = field(default_factory=dict)
    parts: Mapping[str, Part] = field(default_factory=dict)
    """The catalog, which tells whose ports there could be."""
    portless: dict[tuple[str, Span], dict[str, Span]] = field(default_factory=dict)
    """Ports that links come from and that the part fitted has not got, by part and its line."""
    findings: list[Finding] = field(default_factory=list)
    reported: set[tuple[str, Span]] = field(default_factory=set)

    def stage(self, name: str, lead: Lead, span: Span) -> Stage:
        limits = {} if lead.generation is None else {"pcie": lead.generation}
        return Stage(name, lead.lanes, limits, span)

    def lead_named(self, name: str) -> tuple[Lead, Span] | None:
        """A named lead: a connector on the board, or one of a position."""
        if name in self.platform.leads:
            return self.platform.leads[name], self.platform.origin.at("leads", name)
        host, _, label = name.rpartition(".")
        place = self.places.get(host)
        if place is not None and label in place.leads:
            return place.leads[label], place.origin.at(*place.path, "leads", label)
        return None

    def loose(self, place: Place, span: Span) -> None:
        """Tells of a cable without a far end."""
        if (place.name, span) not in self.reported:
            self.reported.add((place.name, span))
            self.findings.append(
                Finding(
                    codes.UNKNOWN_ENDPOINT,
                    say("the cable in {place} goes nowhere", place=place.name),
                    Label(span, say("no far end")),
                    help=say("write `{{part: …, to: …}}` with the connector at its far end"),
                )
            )

    def unknown(self, name: str, span: Span) -> None:
        if (name, span) in self.reported:
            return
        self.reported.add((name, span))
        names = [*self.ports, *self.places, *self.platform.leads]
        self.findings.append(
            Finding(
                codes.UNKNOWN_ENDPOINT,
                say(
                    "a link comes from `{name}`, which is neither a port nor a position", name=name
                ),
                Label(span, say("nothing has this name")),
                help=meant(name, names),
            )
        )

    def lacks(self, place: Place, port: str, span: Span) -> bool:
        """Whether what sits in a place, rather than the link, is to blame for a missing port."""
        part, takes = place.part, place.position.takes
        if part is None:
            return False
        if part.kind not in takes and not place.open_to_all:
            return True  # which is told where it is fitted
        socket = place.position.socket
        if socket is not None and getattr(part, "socket", socket) != socket:
            return True  # likewise
        if not any(
            port in expand(each.name)
            for other in self.parts.values()
            if other.kind in takes
            for each in other.brings.ports
        ):
            return False
        self.portless.setdefault((part.id, place.at), {})[port] = span
        return True

    def missing_ports(self) -> Iterator[Finding]:
        """One finding for each part that lacks ports which links come from."""
        for (part, at), ports in self.portless.items():
            yield Finding(
                codes.UNKNOWN_ENDPOINT,
                say(
                    "`{part}` has no port {ports}, from which links are wired",
                    part=part,
                    ports=listed(ports, "or"),
                ),
                Label(at, say("lacks {ports}", ports=listed(ports))),
                labels=tuple(
                    Label(span, say("comes from {port}", port=port))
                    for port, span in list(ports.items())[:MOST_LABELS]
                ),
                help=say("fit a part that brings them, or bring them in its `ports`"),
            )


@state
class _Walk:
    """One walk from a position towards the owner."""

    stages: list[Stage] = field(default_factory=list)
    owner: PortAt | None = None
    broken: Words = ""
    broken_at: Span | None = None

    def stop(self, why: Words, at: Span | None) -> "_Walk":
        self.broken, self.broken_at = why, at
        return self


def trace(web: Web, place: Place) -> Link | None:
    """The link that reaches a position, None where none is wired to it."""
    if place.lead is None:
        return None
    span = place.origin.at(*place.path, "from")
    walk = _walk(web, place.lead.from_, span, [web.stage(place.name, place.lead, span)])
    root = _root(web, walk)
    protocol = _protocol(place.part, walk.owner)
    wired = min((stage.lanes for stage in walk.stages), default=0)
    if walk.owner is not None:
        wired = min(wired, walk.owner.port.lanes)
    lanes, generation, speaks = _fitted(place.part, walk, wired, protocol)
    return Link(
        place.name,
        tuple(reversed(walk.stages)),
        walk.owner,
        root,
        protocol,
        wired,
        lanes,
        generation,
        speaks,
        walk.broken,
        walk.broken_at,
    )


def _walk(web: Web, source: str, span: Span, stages: list[Stage]) -> _Walk:
    walk = _Walk(stages)
    while len(stages) <= MOST_STAGES:
        if source in web.ports:
            walk.owner = web.ports[source]
            owner = walk.owner.place
            return walk if owner.state is State.FILLED else _unusable(walk, owner)
        named = web.lead_named(source)
        if named is not None:
            lead, span = named
            stages.append(web.stage(source, lead, span))
            source = lead.from_
            continue
        place = web.places.get(source)
        if place is None:
            return _nowhere(web, walk, source, span)
        if "cable" in place.position.takes:
            if place.state is not State.FILLED and place.state is not State.EMPTY:
                return _unusable(walk, place)
            if not isinstance(place.part, Cable):
                return walk.stop(has_no_cable(place.name), place.at)
            cable = place.part
            at = place.filled_at or place.declared_at
            stages.append(
                Stage(
                    say("{place} cable", place=place.name),
                    cable.lanes,
                    {str(key): value for key, value in cable.carries.items()},
                    at,
                    place.name,
                )
            )
            if place.to is None:
                web.loose(place, at)
                return walk.stop(say("the cable in {place} goes nowhere", place=place.name), at)
            source, span = place.to, at
        elif place.lead is None:
            return walk.stop(
                say("no lanes are wired to {place}", place=place.name), place.declared_at
            )
        else:
            span = place.origin.at(*place.path, "from")
            stages.append(web.stage(place.name, place.lead, span))
            source = place.lead.from_
    web.findings.append(
        Finding(
            codes.LINK_CYCLE,
            say("a link runs in a circle"),
            Label(span),
            help=say("follow `from` and `to` from here; one of them leads back"),
        )
    )
    return walk.stop(say("its link runs in a circle"), span)


def _nowhere(web: Web, walk: _Walk, source: str, span: Span) -> _Walk:
    """A source that is no port, lead or position: an absent part's, or a slip."""
    host, _, port = source.rpartition(".")
    for name in (host, source):
        if name in web.absent:
            return walk.stop(say("there is no {name}", name=name), web.absent[name])
    place = web.places.get(host)
    if place is not None and place.state is not State.FILLED:
        return _unusable(walk, place)
    if place is not None and web.lacks(place, port, span):
        return walk.stop(say("{place} has no port {port}", place=host, port=port), place.at)
    web.unknown(source, span)
    return walk.stop(say("nothing is named {name}", name=source), span)


def _unusable(walk: _Walk, place: Place) -> _Walk:
    """Stops at a place that cannot feed anything, with the cause that lies furthest back."""
    if place.state is State.UNKNOWN:
        return walk.stop(say("the part in {place} is not known", place=place.name), place.at)
    if place.state is State.EMPTY:
        return walk.stop(is_empty(place.name), place.at)
    return walk.stop(place.reason, place.because_of)


def _upstream(web: Web, port: PortAt) -> _Walk:
    """From a switch's or an expander's port one step on, to the port that feeds it."""
    behind, span = port.port.behind or "", port.declared_at
    place = web.places.get(behind)
    if place is not None and place.lead is not None and "cable" not in place.position.takes:
        behind, span = place.lead.from_, place.origin.at(*place.path, "from")
    return _walk(web, behind, span, [])


def _root(web: Web, walk: _Walk) -> PortAt | None:
    """The port behind switches and expanders; what is not fed itself breaks the walk."""
    seen: set[str] = set()
    owner = walk.owner
    while owner is not None and owner.port.behind and owner.name not in seen:
        seen.add(owner.name)
        further = _upstream(web, owner)
        if further.broken:
            walk.stop(further.broken, further.broken_at)
            return None
        owner = further.owner
    return owner


def uplinks(web: Web) -> dict[str, Link]:
    """What feeds switches and expanders over a cable or a lead, by the name it comes in at.

    Where it comes in at a position with lanes of its own, that position has a link like any other.
    """
    found: dict[str, Link] = {}
    for port in web.ports.values():
        behind = port.port.behind
        place = web.places.get(behind or "")
        wired = place is not None and place.lead is not None
        if behind is None or behind in found or wired or port.place.state is not State.FILLED:
            continue
        walk = _upstream(web, port)
        carried = walk.owner.port.carries if walk.owner is not None else {}
        protocol = next((name for name in port.port.carries if name in carried), "pcie")
        lanes = min((stage.lanes for stage in walk.stages), default=0)
        if walk.owner is not None:
            lanes = min(lanes, walk.owner.port.lanes) if walk.stages else walk.owner.port.lanes
        own = _own_end(web, port, lanes, protocol)
        walk.stages[:0] = own
        _, generation, speaks = _fitted(None, walk, lanes, protocol)
        found[behind] = Link(
            place.name if place is not None else port.place.name,
            tuple(reversed(walk.stages)),
            walk.owner,
            walk.owner,
            protocol,
            lanes,
            lanes,
            generation,
            speaks,
            walk.broken,
            walk.broken_at,
        )
    return found


def _own_end(web: Web, port: PortAt, lanes: int, protocol: str) -> list[Stage]:
    """The near end of an uplink: a switch or an expander is no faster than its fastest port.

    Source: common practice: all ports of one chip are of its generation.
    """
    beside = (each.port for each in web.ports.values() if each.port.behind == port.port.behind)
    tops = _fastest(beside, protocol)
    return [Stage(port.place.name, lanes, {protocol: top}, port.declared_at) for top in tops]


def _fastest(ports: Iterable[Port], protocol: str) -> list[int]:
    """The greatest generation of a protocol that one of the ports has; nothing where none has."""
    tops = [top for port in ports for name, top in port.carries.items() if name == protocol]
    return [max(tops)] if tops else []


def _protocol(part: Part | None, owner: PortAt | None) -> str:
    carries = owner.port.carries if owner is not None else {}
    if isinstance(part, Stores):
        for protocol in CARRIERS[part.interface]:
            if protocol in carries:
                return protocol
        return CARRIERS[part.interface][0]
    if "pcie" in carries or not carries:
        return "pcie"
    return next(iter(carries))


def sata_on_sas(generation: int) -> int:
    """The generation at which a SAS port runs a SATA drive: at the same 3 or 6 Gbit/s, no more.

    Source: SAS-2 and SAS-3 (INCITS 519), STP at 1.5, 3 and 6 Gbit/s (from memory).
    """
    return min(generation + 1, 3)


def _fitted(part: Part | None, walk: _Walk, wired: int, protocol: str) -> tuple[int, int, str]:
    """Lanes and generation that remain with the fitted part's own limits, and what it speaks."""
    limits = [stage.limits[protocol] for stage in walk.stages if protocol in stage.limits]
    if walk.owner is not None:
        limits += [top for name, top in walk.owner.port.carries.items() if name == protocol]
    lanes, speaks = wired, protocol
    if isinstance(part, Stores) and part.interface == "sata" and protocol == "sas":
        limits, speaks = [sata_on_sas(limit) for limit in limits], "sata"
    if isinstance(part, HasLink):
        if part.lanes is not None:
            lanes = min(lanes, part.lanes)
        if part.generation is not None:
            limits.append(part.generation)
    if part is not None and getattr(part, "generation", None) is None:
        limits += _fastest((port for port in part.brings.ports if port.behind == "."), protocol)
    return lanes, min(limits, default=0), speaks
