"""Values a thousand times off: a prefix, a digit or a unit is probably another.

Ranges are far wider than what is built (common practice, no source), so that nothing that anybody
makes is doubted. They ask for fields and traits, never for kinds. Warnings.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes
from specgen.facts.calculators.network import cage_rate
from specgen.messages import AsWritten, say
from specgen.model import Part, Platform, Stores
from specgen.model.markers import written
from specgen.model.pedigree import FieldPath
from specgen.quantity import (
    Current,
    DataRate,
    DataSize,
    Duration,
    Frequency,
    Length,
    Mass,
    Power,
    Quantity,
    SoundPower,
    Temperature,
    TransferRate,
    VolumeFlow,
)
from specgen.rules.definitions.records import quantities_of

Range = tuple[Quantity, Quantity]

_CLOCK: Final = (Frequency.of(100, "MHz"), Frequency.of(20, "GHz"))
_HEAT: Final = (Power.of("0.5"), Power.of(2, "kW"))
_CURRENT: Final = (Current.of("0.1"), Current.of(1000))
_RATE: Final = (DataRate.of(1, "MB/s"), DataRate.of(100, "TB/s"))
"""Above, what an interface carries is told as a contradiction."""

USUAL: Final[Mapping[str, Range]] = {
    "base_clock": _CLOCK,
    "max_clock": _CLOCK,
    "vector_clock": _CLOCK,
    "tdp": _HEAT,
    "tdp_limit": _HEAT,
    "maximum": (Power.of(0), Power.of(50, "kW")),
    "output": (Power.of(5), Power.of(100, "kW")),
    "input_current": _CURRENT,
    "current": _CURRENT,
    "cache": (DataSize.of(16, "KiB"), DataSize.of(1, "TiB")),
    "memory_limit": (DataSize.of(256, "MiB"), DataSize.of(4096, "TiB")),
    "memory": (DataSize.of(64, "MiB"), DataSize.of(64, "TiB")),
    "memory_bandwidth": (DataRate.of(1, "GB/s"), DataRate.of(1000, "TB/s")),
    "read": _RATE,
    "write": _RATE,
    "throughput": (DataRate.of(100, "MB/s"), DataRate.of(10, "TB/s")),
    "random_block": (DataSize.of(512, "B"), DataSize.of(1, "MiB")),
    "noise": (SoundPower.of(1), SoundPower.of(12)),
    "noise_adder": (SoundPower.of(0), SoundPower.of(2)),
    "inlet_limit": (Temperature.of(10), Temperature.of(80)),
    "mean_time_between_failures": (Duration.of(1000, "h"), Duration.of(1_000_000_000, "h")),
    "warranty": (Duration.of(14, "d"), Duration.of(30, "y")),
    "reach": (Length.of("0.1"), Length.of(500, "km")),
    "length": (Length.of("0.01"), Length.of(200)),
    "adjusts_from": (Length.of("0.05"), Length.of(3)),
    "adjusts_to": (Length.of("0.05"), Length.of(3)),
    "load_rating": (Mass.of("0.5"), Mass.of(10_000)),
    "airflow": (VolumeFlow.of("0.5", "m3/h"), VolumeFlow.of(5000, "m3/h")),
    "power": (Power.of(0), Power.of(5, "kW")),
    "adds_depth": (Length.of(0), Length.of("0.5")),
}
"""Fields of one meaning wherever they stand."""

DRIVES_LAST: Final = (Duration.of(100_000, "h"), USUAL["mean_time_between_failures"][1])
STORED: Final = (DataSize.of(100, "MB"), DataSize.of(10, "PB"))
REMEMBERED: Final = (DataSize.of(16, "MiB"), DataSize.of(16, "TiB"))
TRANSFERRED: Final = (TransferRate.of(100, "MT/s"), TransferRate.of(100, "GT/s"))
CABLED: Final = (Length.of("0.01"), Length.of(20))
"""Of a cable between two parts of one system."""
TWINAX: Final = (Length.of("0.1"), Length.of(150))
"""Of copper: twisted pairs reach 100 m (ISO/IEC 11801)."""
CHASSIS: Final[Mapping[str, Range]] = {
    "width": (Length.of("0.05"), Length.of("1.2")),
    "height": (Length.of("0.01"), Length.of(3)),
    "depth": (Length.of("0.1"), Length.of(2)),
}
WEIGHTS: Final[Mapping[str, Range]] = {
    "memory-module": (Mass.of("0.002"), Mass.of("0.25")),
    "transceiver": (Mass.of("0.002"), Mass.of(3)),
    "tpm": (Mass.of("0.0005"), Mass.of("0.5")),
    "processor": (Mass.of("0.003"), Mass.of("0.3")),
    "drive": (Mass.of("0.002"), Mass.of(5)),
    "fan": (Mass.of("0.003"), Mass.of(8)),
    "power-supply": (Mass.of("0.05"), Mass.of(30)),
}
"""By kind; of others, and of what a project declares, only what nobody carries is doubted."""
OTHER_WEIGHT: Final = (Mass.of("0.0002"), Mass.of(200))
CHASSIS_WEIGHT: Final = (Mass.of("0.2"), Mass.of(800))
DRAWS: Final[Mapping[str, Power]] = {
    "memory-module": Power.of(150),
    "transceiver": Power.of(45),
    "tpm": Power.of(10),
    "drive": Power.of(150),
    "fan": Power.of(800),
}
"""What a part of a kind draws at most."""
CAGE_DRAWS: Final[Mapping[str, Power]] = {
    **dict.fromkeys(("sfp", "sfp+", "sfp28"), Power.of(5)),
    **dict.fromkeys(("qsfp", "qsfp+", "qsfp28", "sfp56", "sfp112"), Power.of(10)),
    "qsfp56": Power.of(20),
}
"""What a transceiver of a form draws at most: 1 W to 3 W of SFP+, up to 6 W of QSFP28."""
BOARD_DRAWS: Final = Power.of(3, "kW")
"""What a chassis draws at most with nothing in it."""
LEAST_RATES: Final = {"ddr4": TransferRate.of(1600, "MT/s"), "ddr5": TransferRate.of(3200, "MT/s")}
"""Least rates of JESD79-4 and JESD79-5 (from memory)."""
SLOWEST_SHARE: Final = 100
"""Of what its form carries, a module runs at a hundredth at least: 100 Mbit/s in a cage of 10."""


def unusual_values(thing: Any, path: FieldPath, record: Any) -> Iterator[Finding]:
    """SG128 for each amount of a record that is far from what is usual. Those of one table of
    draws have one unit that is wrong, and are told once."""
    found = [*_unusual(thing, path, record)]
    if path == ("power",) and len(found) > 1:
        *others, last = found
        yield replace(last, labels=tuple(replace(each.at, text=say("and here")) for each in others))
    else:
        yield from found


def _unusual(thing: Any, path: FieldPath, record: Any) -> Iterator[Finding]:
    for name in _asked(type(record)):
        value = getattr(record, name)
        if not isinstance(value, Quantity) or not value.amount:
            continue  # what is not there at all is told as that
        least, most = _usual(thing, path, record, name)
        if (least is None or least <= value) and (most is None or value <= most):
            continue
        here = (*path, written(name))
        if thing.origin.marked(*here):
            continue
        yield Finding(
            codes.DOUBTFUL_UNIT,
            say(
                "`{name}` is {value}, far from what is usual",
                name=written(name),
                value=AsWritten(value),
            ),
            Label(thing.origin.at(*here), say("a prefix, a digit or the unit is probably another")),
            notes=_range(least, most),
            help=say("check the number and its unit"),
        )


_ASKED: dict[type[Any], tuple[str, ...]] = {}  # by class, made once
RANGED: Final = frozenset({*USUAL, *CHASSIS, "capacity", "speed", "mass", "idle", "typical"})


def _asked(cls: type[Any]) -> tuple[str, ...]:
    if cls not in _ASKED:
        _ASKED[cls] = tuple(name for name, _ in quantities_of(cls) if name in RANGED)
    return _ASKED[cls]


def _range(least: Quantity | None, most: Quantity | None) -> tuple[Any, ...]:
    if least is None or most is None:
        return ()
    return (say("usual is {least} to {most}", least=AsWritten(least), most=AsWritten(most)),)


def _weight(thing: Any) -> tuple[Quantity | None, Quantity | None]:
    if isinstance(thing, Platform):
        return CHASSIS_WEIGHT
    return WEIGHTS.get(thing.kind, OTHER_WEIGHT) if isinstance(thing, Part) else (None, None)


def _usual(
    thing: Any, path: FieldPath, record: Any, name: str
) -> tuple[Quantity | None, Quantity | None]:
    value = getattr(record, name)
    found: tuple[Quantity | None, Quantity | None] = USUAL.get(name, (None, None))
    if name in CHASSIS and isinstance(thing, Platform) and path == ("size",):
        found = CHASSIS[name]
    elif name == "mass" and path == ():
        found = _weight(thing)
    elif path == ("power",) and name in ("idle", "typical", "maximum"):
        most = DRAWS.get(getattr(thing, "kind", ""), USUAL["maximum"][1])
        if isinstance(thing, Part) and thing.kind == "transceiver":
            most = CAGE_DRAWS.get(str(getattr(thing, "form", "")), most)
        found = (USUAL["power"][0], BOARD_DRAWS if isinstance(thing, Platform) else most)
    elif name == "capacity" and isinstance(value, DataSize):
        found = STORED if isinstance(record, Stores) else REMEMBERED
    elif name == "mean_time_between_failures" and isinstance(record, Stores):
        found = DRIVES_LAST
    elif name == "length" and hasattr(record, "far_form"):
        found = CABLED
    elif name == "reach" and getattr(record, "medium", None) == "copper":
        found = TWINAX
    elif isinstance(value, TransferRate):
        found = (LEAST_RATES.get(getattr(record, "technology", ""), TRANSFERRED[0]), TRANSFERRED[1])
    elif isinstance(value, DataRate) and name == "speed":
        form = getattr(record, "form", None)
        carried = cage_rate(form) if isinstance(form, str) else None
        found = (None if carried is None else carried / SLOWEST_SHARE, None)
    return found if found[0] is None or isinstance(value, type(found[0])) else (None, None)
