"""Ceilings of volumes for long reads and writes in sequence, and the stage that sets them."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from specgen.assembly import Assembly, Link, PortAt
from specgen.facts.calculators.links import lane_rate, link_rate, link_trail
from specgen.facts.calculators.members import OfMembers, Setting, drives_of, setting_leaf
from specgen.facts.calculators.storage import data_members
from specgen.facts.calculators.subjects import VOLUMES
from specgen.facts.fact import Declared, Fact, Trail
from specgen.facts.inputs import Inspected, leaf
from specgen.facts.registry import Calculators
from specgen.fitness import field_of
from specgen.frozen import frozen
from specgen.messages import Message, Words, say
from specgen.model import Card, HasLink
from specgen.quantity import DataRate

fact = Calculators()

SHARE_SOURCE = (
    "Chen, Lee, Gibson, Katz, Patterson, ACM Computing Surveys 26(2), 1994: all members serve "
    "reads, those that carry data count for long writes"
)
ALONE = say(
    "all members whole, an even load without gaps; no other traffic on the way; reads come from "
    "all members, parity passed over: HDDs, which turn past it, may reach those that carry data "
    "alone"
)
DRIVES = say("drives")
LINKS = say("drive links")

fact.least(
    "storage.{volume}.member_read",
    say("Sequential read of the slowest member"),
    OfMembers("read"),
    formula=say("min. over members"),
    over=VOLUMES,
)
fact.least(
    "storage.{volume}.member_write",
    say("Sequential write of the slowest member"),
    OfMembers("write"),
    formula=say("min. over members"),
    over=VOLUMES,
)

READ_FORMULA = say(
    "min. of members x the slowest, members x the narrowest of their links, and each port, "
    "uplink and host link that members share"
)


@frozen
class PathSegment:
    """A stretch of the way that `crossing` members share; `host`: it carries the host's bytes.

    Before the controller it carries what the members read and write, copies and parity too.
    """

    name: Message
    rate: DataRate
    crossing: int
    host: bool
    duplex: bool = True
    """Whether it carries both directions at once; Serial ATA carries one at a time."""


def _walk(assembly: Assembly, name: str) -> Iterator[tuple[Message, Link, PortAt | None, bool]]:
    """From a drive's position up: each link with its name, its owner and the side it is on."""
    link, called, host = assembly.links.get(name), LINKS, False
    seen: set[str] = set()
    while link is not None:
        owner = link.owner
        yield called, link, owner, host
        if owner is None:
            return
        host = host or bool(getattr(owner.part, "raid", ()))
        further = owner.port.behind or (owner.place.name if isinstance(owner.part, Card) else "")
        if not further or further in seen:
            return
        seen.add(further)
        link = assembly.links.get(further) or assembly.uplinks.get(further)
        called = (
            say("host link of {position}", position=further)
            if host
            else say("link of {position}", position=further)
        )


def _path_segments(assembly: Assembly, name: str) -> Iterator[PathSegment]:
    """The stretches that one member crosses, from its own link to the processor."""
    for called, link, owner, host in _walk(assembly, name):
        rate = link_rate(link)
        if rate is not None:
            yield PathSegment(called, rate, 1, host, link.speaks != "sata")
        if owner is not None and isinstance(owner.part, Card):
            port = owner.port
            fastest = max(
                (top for name, top in port.carries.items() if name == link.protocol), default=0
            )
            top = lane_rate(link.protocol, fastest, port.lanes)
            if top is not None:
                yield PathSegment(say("port {port}", port=owner.name), top, 1, host)
            own = field_of(owner.part, "throughput")
            if own is not None:
                yield PathSegment(say("controller {place}", place=owner.place.name), own, 1, True)


def _own_limits(assembly: Assembly, link: Link) -> Iterator[Declared]:
    """What the part at the end of a link allows itself."""
    place = assembly.places.get(link.place)
    part = None if place is None else place.part
    if place is not None and isinstance(part, HasLink):
        for field in ("lanes", "generation"):
            value = getattr(part, field)
            if value is not None:
                yield leaf(place, part, (field,), value)


def _own_rates(owner: PortAt) -> Iterator[Declared]:
    """What a controller allows itself."""
    for field in ("throughput", "operations"):
        value = field_of(owner.part, field)
        if value is not None:
            yield leaf(owner.place, owner.part, (field,), value)


def segments_of(assembly: Assembly, volume: str) -> tuple[tuple[PathSegment, ...], Trail]:
    """The stretches of all members, those that several cross counted once; the lines behind."""
    shared: dict[Message, PathSegment] = {}
    trail: dict[object, Fact | Declared] = {}
    for place, _ in drives_of(assembly, volume, "drives"):
        for segment in _path_segments(assembly, place.name):
            known = shared.get(segment.name)
            if known is None:
                shared[segment.name] = segment
            elif segment.name == LINKS:
                shared[LINKS] = min(known, segment, key=lambda each: each.rate)
            else:
                shared[segment.name] = replace(known, crossing=known.crossing + 1)
        for _, link, owner, _ in _walk(assembly, place.name):
            own = () if owner is None else tuple(_own_rates(owner))
            for entry in (*link_trail(link), *_own_limits(assembly, link), *own):
                trail.setdefault((entry.label, entry.value), entry)
    return tuple(shared.values()), (setting_leaf(assembly, volume, "drives"), *trail.values())


@frozen
class Ceiling:
    """What a volume can move at most, and the stage that sets it."""

    rate: DataRate
    stage: Message


def least_stage(
    each: DataRate, segments: tuple[PathSegment, ...], members: int, data: int, writing: bool
) -> Ceiling:
    """The least of drives and stretches, the first of equals.

    Members share the load evenly: of the host's bytes each reads 1 / members, and writes
    1 / members that carry data.
    """
    share = data if writing else members
    best = Ceiling(each * share, DRIVES)
    for segment in segments:
        parts = members if segment.host else share
        rate = segment.rate * parts / segment.crossing
        if rate < best.rate:
            best = Ceiling(rate, segment.name)
    return Ceiling(best.rate.to("GB/s"), best.stage)


def _ceiling(
    each: DataRate,
    segments: tuple[PathSegment, ...],
    members: int,
    level: int,
    groups: int,
    writing: bool,
) -> Ceiling | None:
    data = data_members(level, members, groups)
    return None if data is None else least_stage(each, segments, members, data, writing)


def _sequential(
    key: str, label: Words, short: Words, formula: Words, shown: Literal["rate", "stage"]
) -> None:
    """A value read off the ceiling of reads or writes: its rate, or the stage that sets it."""
    direction = "write" if key.startswith("write") else "read"

    def take(
        each: DataRate, segments: tuple[PathSegment, ...], members: int, level: int, groups: int
    ) -> DataRate | Message | None:
        found = _ceiling(each, segments, members, level, groups, direction == "write")
        return None if found is None else getattr(found, shown)

    fact(
        f"storage.{{volume}}.{key}",
        label,
        noun=f"maximum sequential {direction}" if shown == "rate" else "",
        short=short,
        formula=formula,
        source=SHARE_SOURCE,
        over=VOLUMES,
        assumes=ALONE,
        holds=DataRate if shown == "rate" else Message,
        each=f"storage.{{volume}}.member_{direction}",
        segments=Inspected(segments_of),
        members="storage.{volume}.members",
        level=Setting("level"),
        groups=Setting("groups"),
    )(take)


_sequential("read", say("Sequential read, max."), say("Read"), READ_FORMULA, "rate")

LEAST_STAGE = say("the slowest stage")

_sequential("read_limit", say("Sequential read limited by"), say("Set by"), LEAST_STAGE, "stage")

WRITE_FORMULA = say(
    "as for reads, but only members that carry data count before the controller: copies and "
    "parity cross the ports and links as well"
)

_sequential("write", say("Sequential write, max."), say("Write"), WRITE_FORMULA, "rate")
_sequential("write_limit", say("Sequential write limited by"), say("Set by"), LEAST_STAGE, "stage")
