"""Slots and lanes: what each slot is mechanically and electrically, who owns it, what is left."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from specgen.assembly import Assembly, Link, Place, PortAt
from specgen.assembly.trace import Web, trace
from specgen.facts.calculators.subjects import PROCESSORS, SLOTS
from specgen.facts.constants import LANE_RATES
from specgen.facts.fact import Declared, Fact
from specgen.facts.inputs import FactOf, Seen, Trail, fit_leaf, position_leaf
from specgen.facts.registry import Calculator, figure
from specgen.model import Lead, Span
from specgen.quantity import DataRate

ANY_WIDTH = 1 << 16  # lanes; wider than any port, so that the stages after it decide
LANE_SOURCE = "PCI Express Base specification: rate x coding / 8 x lanes, one way, before packets"


def lane_rate(protocol: str, generation: int, lanes: int) -> DataRate | None:
    """Data rate of a link one way in B/s, before packet overhead; None for what no table has.

    Source: PCI Express Base, Serial ATA and SAS specifications (see `constants.LANE_RATES`).
    """
    rate = LANE_RATES.get((protocol, generation))
    if rate is None:
        return None
    return DataRate.of(rate.bytes_per_second * lanes).to("GB/s")


def _same(span: Span) -> Span:
    return span


def link_trail(link: Link) -> Trail:
    """The stages of a link as leaves, the owner first."""
    trail: list[Declared] = []
    if link.owner is not None:
        port = link.owner.port
        trail.append(
            Declared(
                f"{link.owner.name}: x{port.lanes} "
                + ", ".join(f"{name} {number}" for name, number in port.carries.items()),
                port.lanes,
                partial(link.owner.part.origin.at, *link.owner.path),
                link.owner.part.source,
            )
        )
    for stage in link.stages:
        limits = "".join(f", {name} {number}" for name, number in stage.limits.items())
        trail.append(
            Declared(
                f"{stage.name}: x{stage.lanes}{limits}", stage.lanes, partial(_same, stage.span)
            )
        )
    return tuple(trail)


def _place(assembly: Assembly, name: str) -> tuple[Place, Trail]:
    place = assembly.places[name]
    return place, (position_leaf(place),)


def _link(assembly: Assembly, name: str) -> tuple[Link | None, Trail]:
    link = assembly.links.get(name)
    place = assembly.places[name]
    if link is None:
        return None, ()
    trail = link_trail(link)
    return link, (*trail, fit_leaf(place)) if place.part is not None else trail


@figure(
    "expansion.{slot}.mechanical",
    "Mechanical width",
    formula="as declared",
    over=SLOTS,
    place=Seen(_place),
)
def mechanical(place: Place) -> str | None:
    lanes = place.position.connector
    return None if lanes is None else f"x{lanes}"


@figure(
    "expansion.{slot}.electrical",
    "Electrical width",
    formula="least number of lanes along the link",
    over=SLOTS,
    link=Seen(_link),
)
def electrical(link: Link) -> str:
    return f"x{link.wired}"


@figure(
    "expansion.{slot}.generation",
    "PCIe generation",
    formula="least along the link, the wiring and the owner",
    over=SLOTS,
    link=Seen(_link),
)
def generation(link: Link) -> int | None:
    """Generation the slot offers; the fitted card's own limit is not part of it."""
    return slot_generation(link)


def slot_generation(link: Link) -> int | None:
    limits = [stage.limits["pcie"] for stage in link.stages if "pcie" in stage.limits]
    if link.owner is not None and "pcie" in link.owner.port.carries:
        limits.append(link.owner.port.carries["pcie"])
    return min(limits, default=None)


@figure(
    "expansion.{slot}.owner",
    "Owner",
    formula="where the lanes come from",
    over=SLOTS,
    link=Seen(_link),
)
def owner(link: Link) -> str | None:
    return None if link.owner is None else link.owner.name


@figure(
    "expansion.{slot}.bandwidth",
    "Bandwidth one way",
    formula="rate of a lane x lanes, by the slot's generation and electrical width",
    source=LANE_SOURCE,
    over=SLOTS,
    link=Seen(_link),
    generation=FactOf("expansion.{slot}.generation"),
)
def bandwidth(link: Link, generation: int) -> DataRate | None:
    return lane_rate("pcie", generation, link.wired)


@figure(
    "expansion.{slot}.fitted",
    "Fitted",
    formula="what sits in it, or its state",
    over=SLOTS,
    place=Seen(_place),
)
def fitted(place: Place) -> str:
    if place.part is not None and place.filled:
        return place.part.name
    return f"{place.state}: {place.reason}" if place.reason else str(place.state)


@figure(
    "expansion.{slot}.running",
    "Link in use",
    formula="least of the slot and the card, width and generation",
    over=SLOTS,
    place=Seen(_place),
    link=Seen(_link),
)
def running(place: Place, link: Link) -> str | None:
    if not place.filled:
        return None
    return f"x{link.lanes} Gen {link.generation}"


def _slots(assembly: Assembly, _: str) -> tuple[tuple[Place, ...], Trail]:
    """Positions for cards with a bracket; a mezzanine or a boot module's place has no height."""
    named = (assembly.places[name] for name in SLOTS.listed(assembly))
    places = tuple(place for place in named if place.position.height is not None)
    return places, tuple(position_leaf(place, str(place.state)) for place in places)


@figure(
    "expansion.slots",
    "Card slots",
    formula="positions for cards that this choice of parts brings",
    places=Seen(_slots),
)
def slots(places: tuple[Place, ...]) -> int:
    return len(places)


@figure("expansion.slots_used", "Slots in use", formula="slots with a card", places=Seen(_slots))
def slots_used(places: tuple[Place, ...]) -> int:
    return sum(place.filled for place in places)


@figure(
    "expansion.slots_free",
    "Free slots",
    formula="slots that are empty and usable",
    places=Seen(_slots),
)
def slots_free(places: tuple[Place, ...]) -> int:
    return sum(str(place.state) == "empty" for place in places)


@figure(
    "expansion.slots_unusable",
    "Unusable slots",
    formula="slots that are unusable or blocked",
    places=Seen(_slots),
)
def slots_unusable(places: tuple[Place, ...]) -> int:
    return sum(str(place.state) in ("unusable", "blocked") for place in places)


def _gives_pcie(port: PortAt, processor: str) -> bool:
    return port.place.name == processor and "pcie" in port.port.carries


def _owned(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    ports = [port for port in assembly.ports.values() if _gives_pcie(port, processor)]
    trail = tuple(
        Declared(
            f"{port.name}: x{port.port.lanes}",
            port.port.lanes,
            partial(port.part.origin.at, *port.path),
            port.part.source,
        )
        for port in ports
    )
    return sum(port.port.lanes for port in ports), trail


def _uplinks(assembly: Assembly) -> Iterator[tuple[Place, Link]]:
    """Links that feed a switch through a cable's connector or a lead, each once.

    A switch on a card is fed through the link of its slot, which is among the links already.
    """
    web = Web(assembly.platform, assembly.places, assembly.ports)
    seen: set[str] = set()
    for port in assembly.ports.values():
        behind = port.port.behind
        if behind is None or behind in seen or not port.place.filled:
            continue
        seen.add(behind)
        if behind not in assembly.links:
            lead = Lead(from_=behind, lanes=ANY_WIDTH)
            link = trace(web, replace(port.place, part=None, lead=lead))
            if link is not None and not link.broken:
                yield port.place, link


def _ends(assembly: Assembly) -> Iterator[tuple[Place, Link]]:
    """Links to filled positions that lead on to no other, and those of switches."""
    passed = {
        stage.name
        for link in assembly.links.values()
        for stage in link.stages
        if stage.name != link.place
    }
    for name, link in assembly.links.items():
        if name not in passed and assembly.places[name].filled:
            yield assembly.places[name], link
    yield from _uplinks(assembly)


def _used(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    """Lanes that reach what is fitted and that this processor owns."""
    total = 0
    trail: list[Fact | Declared] = []
    for place, link in _ends(assembly):
        if link.owner is None or not _gives_pcie(link.owner, processor):
            continue
        total += link.wired
        trail.append(fit_leaf(place))
        trail += (leaf for leaf in link_trail(link) if leaf.value != ANY_WIDTH)
    return total, tuple(trail)


@figure(
    "expansion.{processor}.lanes",
    "PCIe lanes owned",
    formula="sum over the processor's ports",
    over=PROCESSORS,
    owned=Seen(_owned),
)
def lanes(owned: int) -> int:
    return owned


@figure(
    "expansion.{processor}.lanes_used",
    "PCIe lanes in use",
    formula="lanes wired to positions that are filled, and to switches",
    over=PROCESSORS,
    used=Seen(_used),
)
def lanes_used(used: int) -> int:
    return used


@figure(
    "expansion.{processor}.lanes_free",
    "PCIe lanes free",
    formula="owned less in use",
    over=PROCESSORS,
    owned=FactOf("expansion.{processor}.lanes"),
    used=FactOf("expansion.{processor}.lanes_used"),
)
def lanes_free(owned: int, used: int) -> int:
    return owned - used


CALCULATORS: tuple[Calculator, ...] = (
    slots,
    slots_used,
    slots_free,
    slots_unusable,
    lanes,
    lanes_used,
    lanes_free,
    fitted,
    mechanical,
    electrical,
    generation,
    owner,
    bandwidth,
    running,
)
