"""Links: what each stage of one allows, which stage narrows it, what it carries one way."""

from collections.abc import Iterator, Mapping
from functools import cache, partial
from typing import Any, Final

from specgen.assembly import Assembly, Link, Place, Stage
from specgen.facts.calculators.subjects import ENDS, LINKS
from specgen.facts.constants import LANE_RATES
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.inputs import Inspected, fit_leaf, leaf, of_thing
from specgen.facts.registry import Calculators
from specgen.facts.terms import PROTOCOL
from specgen.messages import Message, Within, Words, listed, say
from specgen.model import HasLink, Part, Span
from specgen.quantity import DataRate

fact = Calculators()

LANE_SOURCE = "PCI Express Base specification: rate x coding / 8 x lanes, one way, before packets"
LINK_SOURCE = (
    "PCI Express Base, Serial ATA and SAS specifications: rate x coding / 8 x lanes, one way, "
    "before packets; at 64 GT/s all 242 of 256 bytes of a FLIT"
)
NOT_NARROWED: Final = say("nothing")
GENERATIONS: Mapping[str, str] = {"pcie": "Gen {}", "sas": "SAS-{}", "sata": "SATA {}"}
"""How the generation of a protocol is said."""


def own_limits(part: Part | None) -> tuple[int | None, int | None]:
    """Lanes and generation of a card or drive; a part without a link of its own has none."""
    return (part.lanes, part.generation) if isinstance(part, HasLink) else (None, None)


def _same(span: Span) -> Span:
    return span


def _carried(limits: Mapping[Any, int]) -> str:
    """Protocols with the highest generation of each."""
    return ", ".join(f"{PROTOCOL.get(name, name)} {number}" for name, number in limits.items())


def link_trail(link: Link) -> Trail:
    """The stages of a link as leaves, the owner first."""
    trail: list[Declared] = []
    if link.owner is not None:
        port = link.owner.port
        trail.append(
            Declared(
                of_thing(link.owner.name, f"x{port.lanes} {_carried(port.carries)}"),
                port.lanes,
                partial(link.owner.part.origin.place, *link.owner.path),
                link.owner.part.source,
            )
        )
    for stage in link.stages:
        limits = _carried(stage.limits)
        words = say(
            "{thing}: {what}",
            thing=stage.name,
            what=f"x{stage.lanes}, {limits}" if limits else f"x{stage.lanes}",
        )
        trail.append(Declared(words, stage.lanes, partial(_same, stage.span)))
    return tuple(trail)


def full_trail(link: Link, place: Place) -> Trail:
    """The stages of a link and what sits at its end, with the limits it declares."""
    part = place.part
    trail: Trail = link_trail(link)
    if part is None or not place.filled:
        return trail
    trail = (*trail, fit_leaf(place))
    for field, limit in zip(("lanes", "generation"), own_limits(part), strict=True):
        if limit is not None:
            trail = (*trail, leaf(place, part, (field,), limit))
    return trail


def _link(assembly: Assembly, name: str) -> tuple[tuple[Link, Place] | None, Rests]:
    link, place = assembly.links.get(name), assembly.places[name]
    if link is None or link.broken or link.owner is None:
        return None, ()
    return (link, place), partial(full_trail, link, place)


def _generation(stage: Stage, protocol: str) -> int | None:
    return stage.limits.get(protocol)


def _offers(link: Link) -> Iterator[tuple[Words, int, int | None]]:
    """Each stage with its lanes and its generation, where it has one; the owner first."""
    if link.owner is not None:
        port = link.owner.port
        yield link.owner.name, port.lanes, port.carries.get(link.protocol)  # type: ignore[call-overload]
    for stage in link.stages:
        yield stage.name, stage.lanes, _generation(stage, link.protocol)


def _rate_words(protocol: str, generation: int) -> str:
    return GENERATIONS.get(protocol, protocol + " {}").format(generation)


def _shown(protocol: str, name: Words, lanes: int | None, generation: int | None) -> Words:
    words = []
    if lanes is not None:
        words.append(f"x{lanes}")
    if generation is not None:
        words.append(_rate_words(protocol, generation))
    return say("{name} {speed}", name=name, speed=" ".join(words)) if words else name


@fact(
    "expansion.{link}.stages",
    say("What each stage allows"),
    formula=say(
        "lanes and generation of port, leads, cables, position and part, from the root port on"
    ),
    over=LINKS,
    end=Inspected(_link),
)
def stages(end: tuple[Link, Place]) -> tuple[Words, ...]:
    link, place = end
    words = [_shown(link.protocol, *offer) for offer in _offers(link)]
    lanes, generation = own_limits(place.part)
    if place.filled and place.part is not None and (lanes or generation):
        words.append(_shown(link.speaks, Within(place.part.named()), lanes, generation))
    return tuple(words)


def narrowest(link: Link, lanes: int | None, generation: int | None) -> Words:
    """The stages that leave less than `lanes` and `generation`, in words; None asks nothing."""
    offers = tuple(_offers(link))
    found: list[Message] = []
    width, at = min(((width, at) for at, (_, width, _) in enumerate(offers)), default=(0, 0))
    if lanes is not None and offers and width < lanes:
        found.append(
            say("{stage}: x{width} of x{lanes}", stage=offers[at][0], width=width, lanes=lanes)
        )
    known = [(top, at) for at, (_, _, top) in enumerate(offers) if top is not None]
    if generation is not None and known and min(known)[0] < generation:
        top, at = min(known)
        less, more = _rate_words(link.protocol, top), _rate_words(link.protocol, generation)
        found.append(
            say("{stage}: {less} instead of {more}", stage=offers[at][0], less=less, more=more)
        )
    return listed(found) if found else NOT_NARROWED


@fact(
    "expansion.{link}.narrowed_by",
    say("Narrowed by"),
    formula=say(
        "the first stage with the fewest lanes, and with the lowest generation, where that is "
        "less than the part has, or in an empty slot than its connector"
    ),
    source="PCI Express Base specification: a link trains to what both ends and the way allow",
    over=LINKS,
    end=Inspected(_link),
)
def narrowed_by(end: tuple[Link, Place]) -> Words:
    link, place = end
    if not place.filled:
        return narrowest(link, place.position.connector, None)
    lanes, generation = own_limits(place.part)
    if link.speaks != link.protocol:
        generation = None
    return narrowest(link, lanes, generation)


@cache
def lane_rate(protocol: str, generation: int, lanes: int) -> DataRate | None:
    """Data rate of a link one way in B/s, before packet overhead; None for what no table has.

    Source: PCI Express Base, Serial ATA and SAS specifications (see `constants.LANE_RATES`).
    """
    rate = LANE_RATES.get((protocol, generation))
    if rate is None:
        return None
    return (DataRate.of(rate.bytes_per_second) * lanes).to("GB/s")


def link_rate(link: Link) -> DataRate | None:
    """What a link carries one way with the part at its end, in B/s; None for a broken one."""
    if link.broken or link.owner is None:
        return None
    return lane_rate(link.speaks, link.generation, link.lanes)


@fact(
    "expansion.{end}.running_bandwidth",
    say("Bandwidth in use, one way"),
    noun="one-way bandwidth in use",
    short=say("In use, each one way"),
    formula=say("rate of a lane x lanes, by what slot and part both can"),
    source=LINK_SOURCE,
    over=ENDS,
    end=Inspected(_link),
)
def running_bandwidth(end: tuple[Link, Place]) -> DataRate | None:
    """B/s one way."""
    return link_rate(end[0])
