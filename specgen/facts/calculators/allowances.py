"""What Regulation (EU) 2019/424 takes a server for, and the idle power it allows, item by item."""

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly
from specgen.facts.calculators.network import ethernet_ports, running_speed
from specgen.facts.fact import Basis, Declared, Trail
from specgen.facts.inputs import Condition, Fitted, Inspected, labelled, platform, position_leaf
from specgen.facts.parts_digest import parts_digest
from specgen.facts.registry import Calculators, as_it_is
from specgen.messages import Message, Words, say
from specgen.model import Drive, Measured, NetworkAdapter, Processor, Redundancy, Transceiver
from specgen.model.labels import field_words
from specgen.quantity import DataRate, DataSize, Power

fact = Calculators()

ANNEX = "Regulation (EU) 2019/424, annex II"
POINT_2 = f"{ANNEX}, point 2"
TABLE_4 = f"{POINT_2}, table 4"
WITHOUT_LIMIT = ("resilient", "high-performance", "integrated-accelerator")
FREE_PORTS = 2
FREE_CHANNELS = 8
FREE_MEMORY = DataSize.of(4, "GiB")

# Source: Regulation (EU) 2019/424, annex II, tables 3 and 4, in W
BASE = {1: 25, 2: 38}
BASE_OF_MANY = 40  # blades and multi-node servers
BY_PERFORMANCE = {1: 10, 2: 7}
PORTS: tuple[tuple[Decimal, int], ...] = (
    (Decimal(50), 26),
    (Decimal(25), 20),
    (Decimal(10), 15),
)
"""From which rate in Gbit/s a port gets how much; slower ones see `port_watts`."""


PRODUCT_TYPES: Mapping[str, Callable[[int], Message]] = {
    "server": lambda count: say("{count}-socket server", count=count),
    "blade": lambda count: say("{count}-socket blade server", count=count),
    "multi-node": lambda count: say("{count}-socket multi-node server", count=count),
    "resilient": lambda count: say("{count}-socket resilient server", count=count),
    "high-performance": lambda count: say("{count}-socket high-performance server", count=count),
    "integrated-accelerator": lambda count: say(
        "{count}-socket server with an integrated accelerator", count=count
    ),
}
"""By what a platform is to the regulation and its processor sockets."""


def sockets(assembly: Assembly, _: str) -> tuple[int, Trail]:
    """Processor sockets of the platform, filled or not."""
    found = tuple(assembly.taking(Processor.kind))
    return len(found), tuple(position_leaf(place) for place in found)


@fact.seen(
    "regulation.nature",
    say("What the values are"),
    formula=say("said of every value of this subject"),
    source=ANNEX,
)
def nature(assembly: Assembly, _: str) -> tuple[Message, Trail]:
    platform, field = assembly.platform, "regulated_as"
    at = partial(platform.origin.place, field)
    kind = Declared(labelled(platform, (field,)), platform.regulated_as, at, platform.source)
    return say("a calculation from declared data, not a conformity assessment"), (kind,)


@fact(
    "regulation.product_type",
    say("Product type"),
    formula=say("by processor sockets, and what the platform is to the regulation"),
    source=f"{ANNEX}, table 3",
    sockets=Inspected(sockets),
    kind=platform("regulated_as"),
)
def product_type(sockets: int, kind: str) -> Message:
    if not sockets:
        return say("no server: it has no processor socket")
    words = PRODUCT_TYPES[kind](sockets)
    return words if sockets <= 4 else say("{product}, outside the regulation", product=words)


def measured(assembly: Assembly) -> Measured | None:
    """What was measured on the build; nothing where that was of other parts."""
    found = assembly.build.measured if assembly.build is not None else None
    if found is None or found.of is None:
        return found
    same = found.of == assembly.once(measured, lambda: parts_digest(assembly))
    return found if same else None


def measured_field(assembly: Assembly, field: str) -> Declared:
    """A field of what was measured, at its line; where nothing was, at the build's."""
    build, found = assembly.build, measured(assembly)
    value = getattr(found, field) if found is not None else None
    origin = build.origin if build is not None else assembly.platform.origin
    label = say("measured: {what}", what=field_words(Measured, (field,)))
    return Declared(
        label,
        value,
        partial(origin.place, "measured", field),
        found.source if found else None,
        name=f"measured.{field}",
    )


def _measured(
    key: str, label: Words, noun: str, holds: type[Power | Decimal], field: str = ""
) -> None:
    def look(assembly: Assembly, _: str) -> tuple[object, Trail]:
        at = measured_field(assembly, field or key)
        return at.value, (at,)

    fact(
        f"regulation.{key}",
        label,
        noun=noun,
        formula=say("as measured"),
        source="the report of the measurement; method: EN 303 470:2019",
        basis=Basis.MEASURED,
        holds=holds,
        value=Inspected(look),
    )(as_it_is)


_measured("idle", say("Idle power, measured"), "measured idle power", Power)
_measured(
    "idle_warm",
    say("Idle power at the class's upper temperature, measured"),
    "measured idle power at the class's upper temperature",
    Power,
)
_measured("maximum", say("Maximum power, measured"), "measured maximum power", Power)
_measured(
    "performance",
    say("Performance of the processors, measured"),
    "measured performance of the processors",
    Decimal,
)
_measured(
    "efficiency_active",
    say("Active state efficiency, measured"),
    "measured active state efficiency",
    Decimal,
    "efficiency",
)


@fact(
    "regulation.idle_base",
    say("Base allowance of idle power"),
    short=say("Base allowance"),
    formula=say(
        "25 W with one socket, 38 W with two, 40 W for blades and multi-node servers; none "
        "for other products"
    ),
    source=f"{POINT_2}, table 3",
    sockets=Inspected(sockets),
    kind=platform("regulated_as"),
)
def base(sockets: int, kind: str) -> Power | None:
    if sockets not in BASE or kind in WITHOUT_LIMIT:
        return None
    return Power.of(BASE[sockets] if kind == "server" else BASE_OF_MANY)


@fact(
    "regulation.idle_performance",
    say("Allowance for the processors"),
    short=say("For processors"),
    formula=say("10 W with one socket, 7 W with two, times the measured performance"),
    source=TABLE_4,
    sockets=Inspected(sockets),
    performance="regulation.performance",
)
def by_performance(sockets: int, performance: Decimal) -> Power | None:
    """PerfCPU comes from the run of the active state's test, never from cores and clock."""
    factor = BY_PERFORMANCE.get(sockets)
    return None if factor is None else Power.of(factor * performance)


@fact(
    "regulation.idle_supplies",
    say("Allowance for redundant power supplies"),
    short=say("For redundant power supplies"),
    formula=say("10 W for each power supply fitted for redundancy"),
    source=TABLE_4,
    count="power.supplies",
    redundancy=Condition("redundancy"),
)
def by_supplies(count: int, redundancy: Redundancy) -> Power:
    return Power.of(10 * min(redundancy.spare, max(count - 1, 0)))


@fact(
    "regulation.idle_drives",
    say("Allowance for drives"),
    short=say("For drives"),
    formula=say("5 W for each drive"),
    source=TABLE_4,
    drives=Fitted(Drive),
)
def by_drives(drives: tuple[object, ...]) -> Power:
    return Power.of(5 * len(drives))


@fact(
    "regulation.idle_memory",
    say("Allowance for memory above 4 GB"),
    short=say("For memory"),
    formula=say("0.18 W for each gigabyte above 4"),
    source=TABLE_4,
    assumes=say("a gigabyte of memory is 2^30 bytes, as memory is sold"),
    capacity="memory.capacity",
)
def by_memory(capacity: DataSize) -> Power:
    above = max((capacity - FREE_MEMORY).in_unit("GiB"), Decimal(0))
    return Power.of(above * Decimal("0.18"))


@fact(
    "regulation.idle_channels",
    say("Allowance for memory channels above 8"),
    short=say("For memory channels"),
    formula=say("4 W for each channel in use above 8"),
    source=TABLE_4,
    assumes=say("a channel without a module is not counted, which allows no more than is due"),
    channels="memory.channels_used",
)
def by_channels(channels: int) -> Power:
    return Power.of(4 * max(channels - FREE_CHANNELS, 0))


def port_watts(speed: DataRate) -> int:
    """The allowance of one active port, W."""
    rate = speed.in_unit("Gbit/s")
    for least, watts in PORTS:
        if rate >= least:
            return watts
    return 0 if rate < 1 else 2 if rate == 1 else 4


def _active(assembly: Assembly) -> Iterator[tuple[DataRate, bool, Declared]]:
    """Ports that can be in use: rate, whether it is on the board, line. Empty cages are not."""
    for place, port, at in ethernet_ports(assembly):
        if port.management:
            continue
        name = f"{place.name}.{at.name}"
        cage = assembly.places.get(name)
        if cage is not None and Transceiver.kind in cage.position.takes and not cage.filled:
            continue
        part = place.part
        on_board = isinstance(part, NetworkAdapter) and part.form == "board"
        yield running_speed(port, cage) if cage is not None else port.speed, on_board, at


def _ports(assembly: Assembly, _: str) -> tuple[tuple[DataRate, ...], Trail]:
    """Rates of active ports beyond the two free ones: on the board first, the fastest first, those
    alike in the order of the system."""
    found = sorted(
        _active(assembly),
        key=lambda entry: (entry[0].in_unit("Gbit/s") < 1, not entry[1], -entry[0].amount),
    )
    beyond = found[FREE_PORTS:]
    return tuple(speed for speed, _, _ in beyond), tuple(at for _, _, at in found)


@fact(
    "regulation.idle_ports",
    say("Allowance for network ports beyond two"),
    short=say("For network ports"),
    formula=say(
        "for each active port beyond two of 1 Gbit/s or more on the board: 2 W at 1 Gbit/s, "
        "4 W above, 15 W from 10, 20 W from 25, 26 W from 50 Gbit/s"
    ),
    source=TABLE_4,
    assumes=say(
        "every port is active but a cage without a module, and at the rate of the module in it; "
        "the free ports are the fastest on the board, then the fastest elsewhere, which allows no "
        "more than is due"
    ),
    speeds=Inspected(_ports),
)
def by_ports(speeds: tuple[DataRate, ...]) -> Power:
    return Power.of(sum(port_watts(speed) for speed in speeds))


@fact(
    "regulation.idle_limit",
    say("Limit of idle power"),
    formula=say("base and all additional allowances"),
    source=POINT_2,
    assumes=say("expansion accelerators are taken out before the test (annex III, 2)"),
    base="regulation.idle_base",
    performance="regulation.idle_performance",
    supplies="regulation.idle_supplies",
    drives="regulation.idle_drives",
    memory="regulation.idle_memory",
    channels="regulation.idle_channels",
    ports="regulation.idle_ports",
)
def limit(
    base: Power,
    performance: Power,
    supplies: Power,
    drives: Power,
    memory: Power,
    channels: Power,
    ports: Power,
) -> Power:
    """W at the cords."""
    return sum((performance, supplies, drives, memory, channels, ports), base)


@fact(
    "regulation.idle_room",
    say("Idle power below its limit"),
    formula=say("limit less measured idle power"),
    source=POINT_2,
    limit="regulation.idle_limit",
    idle="regulation.idle",
)
def room(limit: Power, idle: Power) -> Power:
    return limit - idle
