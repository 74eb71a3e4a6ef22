"""What a single failure takes away: what hangs on a part goes with it, what is redundant stays.

What depends on a position is found by its links, as for an empty socket. All else is whole, and one
thing fails at a time.
"""

from collections.abc import Callable, Iterator
from functools import partial
from typing import Any, Final

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.lanes import dependent
from specgen.facts.calculators.members import drives_of, volume_named
from specgen.facts.calculators.network import ethernet_ports
from specgen.facts.calculators.storage import survived, usable
from specgen.facts.calculators.subjects import ADAPTERS, PROCESSORS, VOLUMES
from specgen.facts.fact import Fact, Rests
from specgen.facts.fact_inputs import FactOf, FactsOfAll
from specgen.facts.inputs import Inspected, fields_of, fit_leaves
from specgen.facts.registry import Calculators, SubjectSort
from specgen.facts.supply_feeds import feed_trail, feeds_of, supplies_by_feed
from specgen.frozen import frozen
from specgen.messages import NONE, Message, Words, listed, say
from specgen.model import Cable, Drive, Fan, MemoryModule, MovesAir, PowerSupply, Processor, places
from specgen.model.traits import Stores
from specgen.quantity import DataSize, Power, VolumeFlow

fact = Calculators()

NAMED: Final = {
    "processor": say("Processor {name}"),
    "controller": say("Controller {name}"),
    "adapter": say("Network adapter {name}"),
    "volume": say("One drive of {name}"),
    "feed": say("Feed {name}"),
}
ANY: Final = {
    "supply": say("One power supply"),
    "fan": say("One fan"),
    "drive": say("One drive in no volume"),
}
RUNS: Final = say("keeps running")
STOPS: Final = say("stops until it is replaced")
RESTARTS: Final = say("stops; starts again without it")
LESS: Final = say("keeps running at less than full load")
DARK: Final = say("stops until power is back")
DOWN: Final = (STOPS, DARK)
"""While it is so, nothing is left that could be counted."""
STARTED: Final = say("keeps running, unless it started from there")


def _serving(assembly: Assembly) -> Iterator[str]:
    """What drives are reached through, processors apart: controllers and boot modules.

    Asked of every system that is judged, so it follows no chains: a look at each drive's link.
    """
    through: set[str | None] = set()
    for place, _ in assembly.fitted(Stores):
        link = assembly.links.get(place.name)
        ports = (link.owner, link.root) if link is not None else ()
        through |= {place.host, *(port.place.name for port in ports if port is not None)}
    for name in assembly.links:
        part = assembly.places[name].part if name in through else None
        if part is not None and not isinstance(part, Processor | Stores | Cable):
            yield name


def _unassigned(assembly: Assembly) -> tuple[Place, ...]:
    named = {
        place.name
        for volume in VOLUMES.listed(assembly)
        for field in ("drives", "spares")
        for place, _ in drives_of(assembly, volume, field)
    }
    return tuple(place for place, _ in assembly.fitted(Drive) if place.name not in named)


def _failures(assembly: Assembly) -> tuple[str, ...]:
    """Everything that can fail alone, what is there several times once; of builds only."""
    if assembly.build is None:
        return ()
    found = [f"processor {name}" for name in PROCESSORS.listed(assembly)]
    found += ["supply"] if assembly.fitted(PowerSupply) else []
    feeds = feeds_of(assembly)
    found += [f"feed {name}" for name in feeds if len(feeds) > 1]
    found += ["fan"] if assembly.fitted(Fan) else []
    found += [f"controller {name}" for name in _serving(assembly)]
    found += [f"volume {name}" for name in VOLUMES.listed(assembly)]
    found += ["drive"] if _unassigned(assembly) else []
    found += [f"adapter {name}" for name in ADAPTERS.listed(assembly)]
    return tuple(found)


FAILURES: Final = SubjectSort("failure", _failures, say("What fails"), ANY, sorts=NAMED)


def _going(assembly: Assembly, name: str) -> tuple[Place, ...]:
    """What is fitted and depends on a position; what holds, cools and connects it is no loss."""
    return tuple(
        place
        for place in dependent(assembly, name)
        if place.filled and place.position.cools is None and not isinstance(place.part, Cable)
    )


@frozen
class _Failure:
    """One failure: the positions that are lost, the failed one and its like among them."""

    sort: str
    failed: tuple[Place, ...]
    """What fails; of things alike one of these, whichever."""
    lost: frozenset[str]
    further: tuple[Place, ...]
    """What goes with it."""


def _read(assembly: Assembly, subject: str) -> tuple[_Failure, Rests]:
    sort, _, name = subject.partition(" ")
    if sort in ("processor", "controller", "adapter"):
        place, further = assembly.places[name], _going(assembly, name)
        lost = frozenset(each.name for each in (place, *further))
        return _Failure(sort, (place,), lost, further), partial(fit_leaves, (place, *further))
    if sort == "feed":
        on = supplies_by_feed(assembly)[name]
        lost = frozenset(each.name for each in on)
        return _Failure(sort, on, lost, on), partial(feed_trail, assembly, on)
    alike: dict[str, Callable[[], tuple[Place, ...]]] = {
        "supply": lambda: _places(assembly, PowerSupply),
        "fan": lambda: _places(assembly, Fan),
        "drive": lambda: _unassigned(assembly),
        "volume": lambda: tuple(place for place, _ in drives_of(assembly, name, "drives")),
    }
    found = alike[sort]()
    lost = frozenset(each.name for each in found[-1:])
    return _Failure(sort, found, lost, ()), partial(fit_leaves, found)


def _places(assembly: Assembly, kind: Any) -> tuple[Place, ...]:
    return tuple(place for place, _ in assembly.fitted(kind))


def _seen(assembly: Assembly, subject: str) -> tuple[_Failure, Rests]:
    return assembly.once((_read, subject), lambda: _read(assembly, subject))


@frozen
class _Volume:
    """A volume after a failure: members gone, how many may be, and what it offers while it is."""

    name: str
    gone: int
    tolerated: int
    usable: DataSize

    @property
    def whole(self) -> bool:
        return self.gone <= self.tolerated


def _volumes(assembly: Assembly, subject: str) -> tuple[tuple[_Volume, ...], Rests]:
    failure, rests = _seen(assembly, subject)
    found, trail = [], [rests]
    for name in VOLUMES.listed(assembly):
        members = list(drives_of(assembly, name, "drives"))
        sizes, leaves = fields_of(members, "capacity")
        _, volume = volume_named(assembly, name)
        tolerated = survived(volume.level, len(members), volume.groups)
        size = usable(sizes, volume.level, volume.groups)
        if tolerated is not None and size is not None:
            gone = sum(place.name in failure.lost for place, _ in members)
            found.append(_Volume(name, gone, tolerated, size))
            trail.append(leaves)
    return tuple(found), _all(trail)


def _all(trails: list[Rests]) -> Rests:
    return lambda: tuple(
        each for trail in trails for each in (trail() if callable(trail) else trail)
    )


def _left(kind: Any, field: str) -> Inspected:
    """A field of all parts of a kind that a failure leaves."""

    def look(assembly: Assembly, subject: str) -> tuple[tuple[Any, ...], Rests]:
        failure, rests = _seen(assembly, subject)
        kept = [each for each in assembly.fitted(kind) if each[0].name not in failure.lost]
        values, leaves = fields_of(kept, field)
        return values, _all([rests, leaves])

    return Inspected(look)


def _alone(assembly: Assembly, subject: str) -> tuple[bool, Rests]:
    """Whether nothing stands in for what fails."""
    failure, rests = _seen(assembly, subject)
    kinds: dict[str, Any] = {"processor": Processor, "fan": MovesAir}
    others = _places(assembly, kinds[failure.sort]) if failure.sort in kinds else ()
    must = any(each.position.must or each.how == "fixed" for each in failure.failed)
    return len(others) < 2 or (failure.sort == "processor" and must), rests


def _supplies_left(assembly: Assembly, subject: str) -> tuple[int, Rests]:
    failure, rests = _seen(assembly, subject)
    left = [place for place in _places(assembly, PowerSupply) if place.name not in failure.lost]
    return len(left), _all([rests, fit_leaves(left)])


@fact(
    "failures.{failure}.server",
    say("Server after the failure"),
    short=say("Server"),
    formula=say(
        "stops without a processor that must be there or is the only one, and without output for "
        "its load; keeps running on what is redundant"
    ),
    source=say("common practice, no source"),
    assumes=say(
        "a processor that fails stops the server, and firmware leaves it out when it starts again"
    ),
    over=FAILURES,
    failure=Inspected(_seen),
    alone=Inspected(_alone),
    supplies=Inspected(_supplies_left),
    volumes=Inspected(_volumes),
    output=FactOf("power.supply_output", optional=True),
    load=FactOf("power.load", optional=True),
    air=FactOf("cooling.airflow_headroom_left", optional=True),
)
def server(
    failure: _Failure,
    alone: bool,
    supplies: int,
    volumes: tuple[_Volume, ...],
    output: Power | None,
    load: Power | None,
    air: VolumeFlow | None,
) -> Message | None:
    """None where it rests on what nobody declares."""
    match failure.sort:
        case "processor":
            return STOPS if alone else RESTARTS
        case "supply" | "feed":
            if not supplies:
                return DARK if failure.sort == "feed" else STOPS
            if output is None or load is None:
                return None
            if load <= output * supplies:
                return RUNS
            return DARK if failure.sort == "feed" else STOPS
        case "fan":
            if alone:
                return STOPS
            return None if air is None else RUNS if air.amount >= 0 else LESS
        case "drive":
            return STARTED
        case "adapter":
            return RUNS
    kept = sum(volume.gone for volume in volumes if volume.whole)
    whole = all(volume.whole for volume in volumes)
    drives = [each for each in failure.further if isinstance(each.part, Stores)]
    return RUNS if whole and kept >= len(drives) else STARTED


@fact(
    "failures.{failure}.lost",
    say("Lost with it"),
    formula=say(
        "what is fitted and belongs to it, whose lanes come from it, or that such parts bring; "
        "of a feed the power supplies on it"
    ),
    over=FAILURES,
    failure=Inspected(_seen),
)
def lost(failure: _Failure) -> Words:
    return places(tuple(place.name for place in failure.further)) if failure.further else NONE


@fact(
    "failures.{failure}.volumes",
    say("Volumes after the failure"),
    short=say("Volumes"),
    formula=say(
        "lost where more members go than may fail, whichever they are; degraded where some go"
    ),
    over=FAILURES,
    volumes=Inspected(_volumes),
)
def volumes(volumes: tuple[_Volume, ...]) -> Words | None:
    if not volumes:
        return None
    gone = tuple(each.name for each in volumes if not each.whole)
    hurt = tuple(each.name for each in volumes if each.whole and each.gone)
    told: list[Words] = [say("{names} lost", names=listed(gone))] if gone else []
    told += [say("{names} degraded", names=listed(hurt))] if hurt else []
    return listed(told, "semicolon") if told else say("all whole")


SERVER: Final = "failures.{failure}.server"


@fact(
    "failures.{failure}.cores",
    say("Cores left after the failure"),
    short=say("Cores left"),
    formula=say("sum over the processors that are left; none where the server stands still"),
    over=FAILURES,
    server=SERVER,
    cores=_left(Processor, "cores"),
)
def cores_left(server: Message, cores: tuple[int, ...]) -> int | None:
    return None if server in DOWN else sum(cores)


@fact(
    "failures.{failure}.memory",
    say("Memory left after the failure"),
    short=say("Memory left"),
    formula=say("sum over the memory modules that are left; none where the server stands still"),
    over=FAILURES,
    server=SERVER,
    sizes=_left(MemoryModule, "capacity"),
)
def memory_left(server: Message, sizes: tuple[DataSize, ...]) -> DataSize | None:
    return None if server in DOWN or not sizes else sum(sizes, DataSize.zero()).to("GiB")


@fact(
    "failures.{failure}.drives",
    say("Drives left after the failure"),
    short=say("Drives left"),
    formula=say("drives that can still be reached; none where the server stands still"),
    over=FAILURES,
    server=SERVER,
    sizes=_left(Drive, "capacity"),
)
def drives_left(server: Message, sizes: tuple[DataSize, ...]) -> int | None:
    return None if server in DOWN else len(sizes)


@fact(
    "failures.{failure}.usable",
    say("Usable capacity left after the failure"),
    short=say("Usable capacity left"),
    formula=say("sum over the volumes that are not lost; none where the server stands still"),
    over=FAILURES,
    server=SERVER,
    volumes=Inspected(_volumes),
)
def usable_left(server: Message, volumes: tuple[_Volume, ...]) -> DataSize | None:
    kept = (volume.usable for volume in volumes if volume.whole)
    return sum(kept, DataSize.zero()).to("TB") if volumes and server not in DOWN else None


def _ports(assembly: Assembly, subject: str) -> tuple[tuple[Place, ...], Rests]:
    failure, rests = _seen(assembly, subject)
    every = ethernet_ports(assembly)
    found = [(p, at) for p, port, at in every if not port.management and p.name not in failure.lost]
    return tuple(place for place, _ in found), _all([rests, tuple(at for _, at in found)])


@fact(
    "failures.{failure}.ports",
    say("Ethernet ports left after the failure"),
    short=say("Ethernet ports left"),
    formula=say(
        "ports of the adapters that are left, management ports apart; none where the server "
        "stands still"
    ),
    over=FAILURES,
    server=SERVER,
    ports=Inspected(_ports),
)
def ports_left(server: Message, ports: tuple[Place, ...]) -> int | None:
    return None if server in DOWN else len(ports)


def _of_processor(fact: Fact, _: str) -> bool:
    return fact.subject.startswith("processor ")


@fact(
    "failures.processors",
    say("If a processor fails"),
    formula=say("how the server goes on without each processor, and what is lost with it"),
    processors=Inspected(lambda assembly, _: (PROCESSORS.listed(assembly), ())),
    servers=FactsOfAll("failures.{failure}.server", when=_of_processor),
    lost=FactsOfAll("failures.{failure}.lost", when=_of_processor),
)
def if_a_processor_fails(
    processors: tuple[str, ...], servers: tuple[Message, ...], lost: tuple[Words, ...]
) -> Words | None:
    told = [
        say("{name}: the server {server}", name=name, server=server)
        if server in DOWN
        else say("{name}: {lost} lost", name=name, lost=gone)
        for name, server, gone in zip(processors, servers, lost, strict=True)
    ]
    return listed(told, "semicolon") if told else None
