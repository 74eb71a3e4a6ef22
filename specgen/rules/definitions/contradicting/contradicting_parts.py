"""What the fields of one part, one port or one cord must keep together, a function for each.

They ask for fields and traits, never for kinds.
"""

from collections.abc import Iterator, Sequence
from typing import Any, Final

from specgen.facts.calculators.network import cage_rate
from specgen.facts.constants import LANE_RATES
from specgen.fitness import field_of
from specgen.fitness.couplers import appliance, connector_of, inlet_of, plug_of
from specgen.fitness.form_sizes import FORMS
from specgen.fitness.frames import mm
from specgen.fitness.part_fields import kinds_with
from specgen.messages import AsWritten, listed, say
from specgen.model import (
    CARRIERS,
    Brings,
    Definitions,
    HasEthernet,
    HasLink,
    Port,
    Stores,
    places,
)
from specgen.quantity import DataRate
from specgen.rules.definitions.contradicting.contradicting_lists import Look
from specgen.rules.definitions.contradicting.contradiction import Contradiction, expanded


def _curve_voltage(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A curve was measured at a voltage that the supply works at."""
    at, ranges = getattr(record, "curve_at", None), getattr(record, "outputs", None)
    if at is None or not ranges or any(each.spans(at) for each in ranges):
        return
    yield Contradiction(
        ("curve_at",),
        say(
            "the curve was measured at {voltage}, and no output is rated there",
            voltage=AsWritten(at),
        ),
        say("efficiency is measured within a range of input voltage"),
        ("outputs",),
    )


def _own_rates(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """What stores data, or serves what does, moves it no faster than its own link carries."""
    if not isinstance(record, HasLink):
        return
    if isinstance(record, Stores):
        protocols, lanes = CARRIERS[record.interface][:1], record.lanes or 1
    elif record.lanes:
        protocols, lanes = ("pcie",), record.lanes
    else:  # of a card that does not say how many it uses nobody knows what it can move
        return
    for protocol in protocols:
        lane = LANE_RATES.get((protocol, record.generation or 0))
        if lane is None:
            continue
        most = DataRate.of(lane.bytes_per_second, "B/s") * lanes
        for name in ("read", "write", "throughput"):
            rate = getattr(record, name, None)
            if rate is not None and rate > most:
                yield Contradiction(
                    (name,),
                    say(
                        "`{name}` is {rate}, and its interface carries {most}",
                        name=name, rate=AsWritten(rate), most=AsWritten(most),
                    ),
                    say("nothing is read or written faster than the interface transfers it"),
                    ("generation",),
                )  # fmt: skip


def _form_rate(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A module for a cage is no faster than the cage's lanes."""
    form, speed = getattr(record, "form", None), getattr(record, "speed", None)
    if not isinstance(form, str) or not isinstance(speed, DataRate):
        return
    most = cage_rate(form)
    if most is not None and speed > most:
        yield Contradiction(
            ("speed",),
            say("the module runs at {speed}, and its form carries {most}",
                speed=AsWritten(speed), most=AsWritten(most)),
            say("a connector carries so much on each of its lanes"),
            ("form",),
        )  # fmt: skip


def _twice(records: Sequence[Any], field: str) -> Iterator[Contradiction]:
    """Records of a list of which two share a name."""
    first: dict[str, int] = {}
    for at, each in enumerate(records):
        for name in expanded(each.name):
            if first.setdefault(name, at) != at:
                yield Contradiction(
                    (field, at, "name"),
                    say("there are two ports named {name}", name=name),
                    say("cables and positions are told apart by the name of their port"),
                    (field, first[name], "name"),
                )
                break


def _port_names(record: Any, _: Definitions) -> Iterator[Contradiction]:
    if isinstance(record, Brings):
        yield from _twice(record.ports, "ports")
    elif isinstance(record, HasEthernet):
        yield from _twice(record.ethernet, "ethernet")


def _cages(record: Any, definitions: Definitions) -> Iterator[Contradiction]:
    """Where an adapter brings positions for transceivers, each cage has its own."""
    if not isinstance(record, HasEthernet):
        return
    kinds = kinds_with(definitions, "laser_class")
    there = {
        name.removeprefix(".")
        for position in record.brings.positions
        if kinds.intersection(position.takes)
        for name in expanded(position.name)
    }
    if not there:
        return
    for at, port in enumerate(record.ethernet):
        without = [each for each in expanded(port.name) if each not in there]
        if port.medium == "pluggable" and without:
            yield Contradiction(
                ("ethernet", at, "name"),
                say("no position takes the transceiver of {ports}",
                    ports=places(tuple(without))),
                say("positions for transceivers are named as the ports are: `.PORT 1`"),
                ("brings", "positions"),
            )  # fmt: skip
        elif port.medium != "pluggable" and there.intersection(expanded(port.name)):
            yield Contradiction(
                ("ethernet", at, "medium"),
                say("the medium is {medium}, and a position takes a transceiver there",
                    medium=port.medium),
                say("what is `pluggable` has the medium of its transceiver"),
                ("brings", "positions"),
            )  # fmt: skip
    ports = {each for port in record.ethernet for each in expanded(port.name)}
    for at, position in enumerate(record.brings.positions):
        beyond = [
            each
            for name in expanded(position.name)
            for each in (name.removeprefix("."),)
            if kinds.intersection(position.takes) and each not in ports
        ]
        if beyond and ports:
            yield Contradiction(
                ("brings", "positions", at, "name"),
                say("{positions} takes a transceiver, and no port has that name",
                    positions=places(tuple(beyond))),
                say("positions for transceivers are named as the ports are: `.PORT 1`"),
                ("ethernet",),
            )  # fmt: skip


def _inlet(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """An inlet is no connector of a cord."""
    inlet = getattr(record, "inlet", None)
    if not isinstance(inlet, str):
        return
    if appliance(inlet) and inlet_of(inlet) is None and connector_of(inlet) is not None:
        yield Contradiction(
            ("inlet",),
            say("{inlet} is the connector of a cord, no inlet", inlet=inlet),
            say("an inlet has pins, a connector has holes (IEC 60320): C14 with C13, C20 with C19"),
        )


def _cord(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A cord is rated for no more than its plug, by the greater of what the regions allow."""
    plug, current = getattr(record, "plug", None), getattr(record, "current", None)
    coupler = plug_of(plug) if isinstance(plug, str) else None
    if coupler is None or current is None:
        return
    most = max(coupler.carries(nec=False), coupler.carries(nec=True))
    if current > most:
        yield Contradiction(
            ("current",),
            say("the cord is rated for {current}, and a plug {plug} for {most}",
                current=AsWritten(current), plug=plug, most=AsWritten(most)),
            say("a cord carries what the weakest of its parts carries"),
            ("plug",),
        )  # fmt: skip


def _generation(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """The generation of a link is one of which it is known what a lane carries."""
    for path, protocol, generation in _generations(record):
        known = sorted(number for name, number in LANE_RATES if name == protocol)
        if known and generation not in known:
            yield Contradiction(
                path,
                say("there is no {protocol} of generation {number}",
                    protocol=protocol.upper() if protocol != "pcie" else "PCIe", number=generation),
                say("it is not known what a lane of it carries; known are {known}",
                    known=listed(map(str, known))),
                ("interface",) if path == ("generation",) and hasattr(record, "interface") else (),
                say("the interface"),
            )  # fmt: skip


def _generations(record: Any) -> Iterator[tuple[tuple[str, ...], str, int]]:
    if isinstance(record, Port):
        for protocol, number in record.carries.items():
            yield ("carries", protocol), protocol, number
        return
    generation = getattr(record, "generation", None)
    if generation is not None and hasattr(record, "lanes"):
        interface = getattr(record, "interface", None)
        own = isinstance(record, Stores) and isinstance(interface, str)
        yield ("generation",), CARRIERS[record.interface][0] if own else "pcie", generation


def _design_power(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """What a part is designed to give off, it draws at its most."""
    tdp, most = getattr(record, "tdp", None), field_of(record, "power.maximum")
    if hasattr(record, "power") and tdp is not None and most is not None and most < tdp:
        yield Contradiction(
            ("power", "maximum"),
            say("it draws up to {most}, and its thermal design power is {tdp}",
                most=AsWritten(most), tdp=AsWritten(tdp)),
            say("heat that is given off has been drawn"),
            ("tdp",),
        )  # fmt: skip


def _widths(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Vectors and memory devices are as wide as a power of two."""
    for name in ("vector_width", "device_width"):
        width = getattr(record, name, None)
        if isinstance(width, int) and width & (width - 1):
            yield Contradiction(
                (name,),
                say("`{name}` is {width}, no power of two", name=name, width=width),
                say("so many bits are handled at once: 4, 8 and 16 of a memory device, 128, 256 "
                    "or 512 of a vector unit, say"),
            )  # fmt: skip


def _no_boost(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Without a maximum clock nothing runs above the base clock, vector units neither."""
    base, vector = getattr(record, "base_clock", None), record.vector_clock
    if record.max_clock is None and None not in (base, vector) and vector > base:
        yield Contradiction(
            ("vector_clock",),
            say("`vector_clock` is {vector}, above `base_clock`, which is {base}, and no "
                "`max_clock` is declared", vector=AsWritten(vector), base=AsWritten(base)),
            say("a processor without a maximum clock has no boost"),
            ("base_clock",),
        )  # fmt: skip


BROADER: Final = 1.0
"""Millimetres that a face may be above its standard's. common practice, no source"""


def _form_size(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A part is no broader than its form factor; thickness and depth differ within one."""
    size, form = getattr(record, "size", None), getattr(record, "form", None)
    standard = FORMS.get(form) if isinstance(form, str) else None
    if size is None or standard is None:
        return
    broad = max(size.width, size.height)
    if mm(broad) > standard.long + BROADER:
        yield Contradiction(
            ("size",),
            say("the part is {broad} broad, and its form `{form}` {most} mm",
                broad=AsWritten(broad), form=form, most=f"{standard.long:g}"),
            say("a form factor is a standard's: what is broader does not go in"),
            ("form",),
        )  # fmt: skip


PART_LISTS: Final[tuple[tuple[tuple[str, ...], Look], ...]] = (
    (("curve_at",), _curve_voltage),
    (("read", "throughput"), _own_rates),
    (("speed",), _form_rate),
    (("ports", "ethernet"), _port_names),
    (("ethernet",), _cages),
    (("inlet",), _inlet),
    (("plug",), _cord),
    (("carries", "generation"), _generation),
    (("tdp",), _design_power),
    (("max_clock",), _no_boost),
    (("size",), _form_size),
    (("vector_width", "device_width"), _widths),
)
"""Each with the fields of which a record has one, where it is asked."""
