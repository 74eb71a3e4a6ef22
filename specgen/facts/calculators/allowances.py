"""Idle power: what was measured, and what Regulation (EU) 2019/424 allows, item by item."""

from collections.abc import Iterator
from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly
from specgen.facts.calculators.network import ethernet_ports
from specgen.facts.fact import Basis, Declared, Trail
from specgen.facts.inputs import Condition, FactOf, Fitted, Seen, platform, position_leaf
from specgen.facts.registry import Calculator, figure
from specgen.model import Drive, Measured, NetworkAdapter, Processor, Redundancy, Transceiver
from specgen.quantity import DataRate, DataSize, Power

POINT_2 = "Regulation (EU) 2019/424, annex II, point 2"
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


def measured(assembly: Assembly) -> Measured | None:
    """What was measured on the build."""
    return assembly.build.measured if assembly.build is not None else None


def measured_field(assembly: Assembly, field: str) -> Declared:
    """A field of what was measured, at its line; where nothing was, at the build's."""
    build, found = assembly.build, measured(assembly)
    value = getattr(found, field) if found is not None else None
    origin = build.origin if build is not None else assembly.platform.origin
    label = f"measured: {field.replace('_', ' ')}"
    return Declared(
        label, value, partial(origin.at, "measured", field), found.source if found else None
    )


def _measured(key: str, label: str, field: str, holds: type[Power | Decimal]) -> Calculator:
    def look(assembly: Assembly, _: str) -> tuple[object, Trail]:
        at = measured_field(assembly, field)
        return at.value, (at,)

    return Calculator(
        f"regulation.{key}",
        label,
        "as measured",
        "the report of the measurement; method: EN 303 470:2019",
        None,
        Basis.MEASURED,
        {"value": Seen(look)},
        lambda value: value,
        holds=holds,
    )


def sockets(assembly: Assembly, _: str) -> tuple[int, Trail]:
    """Processor sockets of the platform, filled or not."""
    found = tuple(assembly.taking(Processor.kind))
    return len(found), tuple(position_leaf(place) for place in found)


@figure(
    "regulation.idle_base",
    "Base allowance of idle power",
    formula="25 W with one socket, 38 W with two, 40 W for blades and multi-node servers; none "
    "for other products",
    source=f"{POINT_2}, table 3",
    sockets=Seen(sockets),
    kind=platform("regulated_as"),
)
def base(sockets: int, kind: str) -> Power | None:
    if sockets not in BASE or kind in WITHOUT_LIMIT:
        return None
    return Power.of(BASE[sockets] if kind == "server" else BASE_OF_MANY)


@figure(
    "regulation.idle_performance",
    "Allowance for the processors",
    formula="10 W with one socket, 7 W with two, times the measured performance",
    source=TABLE_4,
    sockets=Seen(sockets),
    performance=FactOf("regulation.performance"),
)
def by_performance(sockets: int, performance: Decimal) -> Power | None:
    """PerfCPU comes from the run of the active state's test, never from cores and clock."""
    factor = BY_PERFORMANCE.get(sockets)
    return None if factor is None else Power.of(factor * performance)


@figure(
    "regulation.idle_supplies",
    "Allowance for redundant supplies",
    formula="10 W for each supply fitted for redundancy",
    source=TABLE_4,
    count=FactOf("power.supplies"),
    redundancy=Condition("redundancy"),
)
def by_supplies(count: int, redundancy: Redundancy) -> Power:
    return Power.of(10 * min(redundancy.spare, max(count - 1, 0)))


@figure(
    "regulation.idle_drives",
    "Allowance for drives",
    formula="5 W for each drive",
    source=TABLE_4,
    drives=Fitted(Drive),
)
def by_drives(drives: tuple[object, ...]) -> Power:
    return Power.of(5 * len(drives))


@figure(
    "regulation.idle_memory",
    "Allowance for memory",
    formula="0.18 W for each gigabyte above 4",
    source=TABLE_4,
    assumes="a gigabyte of memory is 2^30 bytes, as memory is sold",
    capacity=FactOf("memory.capacity"),
)
def by_memory(capacity: DataSize) -> Power:
    above = max((capacity - FREE_MEMORY).in_unit("GiB"), Decimal(0))
    return Power.of(above * Decimal("0.18"))


@figure(
    "regulation.idle_channels",
    "Allowance for memory channels",
    formula="4 W for each channel in use above 8",
    source=TABLE_4,
    assumes="a channel without a module is not counted, which allows no more than is due",
    channels=FactOf("memory.channels_used"),
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
        name = f"{place.name}.{at.label.rpartition(': ')[2]}"
        cage = assembly.places.get(name)
        if cage is not None and Transceiver.kind in cage.position.takes and not cage.filled:
            continue
        part = place.part
        yield port.speed, isinstance(part, NetworkAdapter) and part.form == "board", at


def _ports(assembly: Assembly, _: str) -> tuple[tuple[DataRate, ...], Trail]:
    """Rates of active ports beyond the two free ones: on the board first, the fastest first."""
    found = sorted(
        _active(assembly), key=lambda entry: (entry[0].in_unit("Gbit/s") < 1, not entry[1],
                                              -entry[0].amount, entry[2].label)
    )  # fmt: skip
    beyond = found[FREE_PORTS:]
    return tuple(speed for speed, _, _ in beyond), tuple(at for _, _, at in found)


@figure(
    "regulation.idle_ports",
    "Allowance for network ports",
    formula="for each active port beyond two of at least 1 Gbit/s on the board: 2 W at 1 Gbit/s, "
    "4 W above, 15 W from 10, 20 W from 25, 26 W from 50 Gbit/s",
    source=TABLE_4,
    assumes="every port is active but a cage without a module; the free ports are the fastest on "
    "the board, then the fastest elsewhere, which allows no more than is due",
    speeds=Seen(_ports),
)
def by_ports(speeds: tuple[DataRate, ...]) -> Power:
    return Power.of(sum(port_watts(speed) for speed in speeds))


@figure(
    "regulation.idle_limit",
    "Limit of idle power",
    formula="base and all additional allowances",
    source=POINT_2,
    assumes="expansion accelerators are taken out before the test (annex III, 2)",
    base=FactOf("regulation.idle_base"),
    performance=FactOf("regulation.idle_performance"),
    supplies=FactOf("regulation.idle_supplies"),
    drives=FactOf("regulation.idle_drives"),
    memory=FactOf("regulation.idle_memory"),
    channels=FactOf("regulation.idle_channels"),
    ports=FactOf("regulation.idle_ports"),
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


@figure(
    "regulation.idle_room",
    "Idle power below its limit",
    formula="limit less measured idle power",
    source=POINT_2,
    limit=FactOf("regulation.idle_limit"),
    idle=FactOf("regulation.idle"),
)
def room(limit: Power, idle: Power) -> Power:
    return limit - idle


CALCULATORS: tuple[Calculator, ...] = (
    _measured("idle", "Idle power, measured", "idle", Power),
    _measured(
        "idle_warm", "Idle power at the class's upper temperature, measured", "idle_warm", Power
    ),
    _measured("maximum", "Maximum power, measured", "maximum", Power),
    _measured("performance", "Performance of the processors, measured", "performance", Decimal),
    _measured("efficiency_active", "Active state efficiency, measured", "efficiency", Decimal),
    base,
    by_performance,
    by_supplies,
    by_drives,
    by_memory,
    by_channels,
    by_ports,
    limit,
    room,
)
