"""Values that can be read and that hardly go with the rest: two exchanged, a digit too many.

Each row is a function of one record. What it says is common practice without a source, unless one
is named beside it. They ask for fields and traits, never for kinds. Warnings.
"""

import re
from collections.abc import Iterator
from dataclasses import fields
from fractions import Fraction
from math import ceil
from typing import Any, Final

from specgen.diagnostics import Finding, codes
from specgen.fitness.frames import mm
from specgen.messages import AsWritten, say
from specgen.model import Assumptions, Definitions, Part, Platform, Stores
from specgen.model.pedigree import FieldPath
from specgen.quantity import DataRate, Duration, Length, Mass, Power, Quantity, Ratio
from specgen.rules.definitions.contradicting_lists import RACK_UNIT, Look
from specgen.rules.definitions.contradiction import Contradiction, finding_of
from specgen.rules.definitions.unusual_values import CHASSIS

FASTER: Final = Fraction(11, 10)
"""Flash reads faster than it writes; so much is left to how it was measured."""


def _exchanged(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Flash takes longer to write than to read, whatever the block."""
    if not isinstance(record, Stores) or getattr(record, "medium", "ssd") != "ssd":
        return
    for reads, writes in (("read", "write"), ("random_reads", "random_writes")):
        slow, fast = getattr(record, reads, None), getattr(record, writes, None)
        if slow is not None and fast is not None and _more(fast, slow) > FASTER:
            yield Contradiction(
                (writes,),
                say("`{writes}` is {fast}, above `{reads}`, which is {slow}",
                    writes=writes, fast=AsWritten(fast), reads=reads, slow=AsWritten(slow)),
                say("flash is written slower than it is read"),
                (reads,),
                help=say("check whether the two were exchanged"),
            )  # fmt: skip


def _more(value: Any, other: Any) -> Fraction:
    """How many times the other a value is."""
    pair = [each.amount if isinstance(each, Quantity) else each for each in (value, other)]
    return Fraction(pair[0]) / Fraction(pair[1]) if pair[1] else Fraction(0)


MOST_THREADS: Final = 8
MOST_CORES: Final = 1024


def _threads(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Each core of a processor runs as many threads as the others."""
    cores, threads = getattr(record, "cores", None), getattr(record, "threads", None)
    if not isinstance(cores, int) or not isinstance(threads, int) or threads < cores:
        return
    if threads % cores or threads > MOST_THREADS * cores:
        yield Contradiction(
            ("threads",),
            say("{threads} threads of {cores} cores", threads=threads, cores=cores),
            say("each core runs one thread or two, all of them alike"),
            ("cores",),
            help=say("{one} or {two} threads are usual", one=cores, two=2 * cores),
        )
    elif cores > MOST_CORES:
        yield Contradiction(
            ("cores",),
            say("`cores` is {cores}, far from what is usual", cores=cores),
            say("a processor has some hundred cores at most"),
        )


MOST_CHANNELS: Final = 16
"""Of memory modules. Channels of soldered memory are narrower, and there are more of them."""
MOST_NARROW: Final = 128
MOST_ODD: Final = 3
"""Of odd numbers of channels one and three are built."""


def _channels(record: Any, _: Definitions) -> Iterator[Contradiction]:
    channels, technology = (
        getattr(record, name, None) for name in ("memory_channels", "memory_technology")
    )
    if not isinstance(channels, int) or not isinstance(technology, str):
        return
    most = MOST_CHANNELS if technology.startswith("ddr") else MOST_NARROW
    if channels > most or (channels > MOST_ODD and channels % 2):
        yield Contradiction(
            ("memory_channels",),
            say("`memory_channels` is {channels}, far from what is usual", channels=channels),
            say("a processor has an even number of channels, {most} at most", most=most),
        )


TOGETHER: Final = (1, 2, 3, 4, 6, 8, 16)
"""Processors that work in one system."""


def _together(record: Any, _: Definitions) -> Iterator[Contradiction]:
    if record.together not in TOGETHER:
        yield Contradiction(
            ("together",),
            say("`together` is {number}, far from what is usual", number=record.together),
            say("one, two, four or eight processors work in one system"),
        )


def _operations(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Vector units work on pairs, and multiply and add at once."""
    operations = record.operations_per_cycle
    if isinstance(operations, int) and operations > 1 and operations % 2:
        yield Contradiction(
            ("operations_per_cycle",),
            say("`operations_per_cycle` is {number}, an odd number", number=operations),
            say("vector units multiply and add at once: each lane counts two"),
        )


RATINGS: Final = frozenset(
    {
        *(6, 8, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500),
        *(15, 30, 35, 45, 60, 70, 90, 110, 150, 175, 225, 300, 350, 450, 600, 700, 800, 1000),
    }
)
"""Of circuit breakers. Sources: IEC 60898-1, IEC 60059 and NEC 240.6(A) (from memory)."""
SMALLEST: Final = 6
"""Amperes from which on ratings are standard; below, plants have what they need."""


def _circuit(record: Any, _: Definitions) -> Iterator[Contradiction]:
    rating = record.circuit
    if rating is None or rating.amount < SMALLEST or rating.amount in RATINGS:
        return
    near = sorted(RATINGS, key=lambda each: abs(each - rating.amount))[:2]
    yield Contradiction(
        ("circuit",),
        say("`circuit` is {rating}, no rating of a circuit breaker", rating=AsWritten(rating)),
        say("ratings are those of IEC 60898-1 or NEC 240.6(A)"),
        help=say("nearest are {one} A and {two} A", one=min(near), two=max(near)),
    )


DIRTIEST: Final = 2
"""Kilograms of CO2 a kilowatt-hour; a plant that burns lignite emits a little above one."""


def _grid(record: Any, _: Definitions) -> Iterator[Contradiction]:
    factor = record.grid_factor
    if factor is not None and factor > DIRTIEST:
        yield Contradiction(
            ("grid_factor",),
            say("`grid_factor` is {factor}, far from what is usual", factor=str(factor)),
            say("it is in kilograms a kilowatt-hour: 0 to {most}", most=DIRTIEST),
            help=say("from grams, divide by 1000"),
        )


EDGES: Final = (1, 2, 4, 8, 16)
"""Widths that connectors and cables are made for. Source: PCI Express Card Electromechanical
Specification (from memory); the base specification had x32 until revision 5.0."""


def _lanes(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """No connector or cable is wider than sixteen lanes."""
    for name in ("lanes", "connector"):
        lanes = getattr(record, name, None)
        if isinstance(lanes, int) and not isinstance(lanes, bool) and lanes > EDGES[-1]:
            yield Contradiction(
                (name,),
                say("`{name}` is x{lanes}", name=name, lanes=lanes),
                say("connectors and cables are made for 16 lanes at most"),
                help=say("write `{right}`", right=f"x{EDGES[-1]}"),
            )


DEVICE_WIDTHS: Final = (4, 8, 16)
"""Of DDR4 and DDR5. Source: JESD79-4, JESD79-5 (from memory)."""
CORRECTING: Final = (4, 8)
"""Of these a channel with its bits for correction can be made up: 72 or 2 x 40."""
RANKS: Final = (1, 2, 4, 8)
DENSITIES: Final = (Fraction(1), Fraction(512))
"""Gbit in one package, of one die or a stack of them."""


def _devices(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Memory modules are made of devices of a few widths, in one rank or several."""
    technology, width = (getattr(record, name, None) for name in ("technology", "device_width"))
    if not isinstance(width, int) or not str(technology).startswith("ddr"):
        return
    known = CORRECTING if record.error_correction else DEVICE_WIDTHS
    if width not in known and not width & (width - 1):  # what is no power of two is told
        yield Contradiction(
            ("device_width",),
            say("`device_width` is {width}", width=width),
            say("modules with error correction have devices of 4 or 8 bits, others of 4, 8 or 16"),
            help=say("without error correction, write `error_correction: false`"),
        )
    elif record.ranks not in RANKS:
        yield Contradiction(
            ("ranks",),
            say("`ranks` is {ranks}, far from what is usual", ranks=record.ranks),
            say("a module has 1, 2, 4 or 8 ranks"),
        )
    elif not width & (width - 1) and not _made_of_dies(record):
        yield Contradiction(
            ("capacity",),
            say("{capacity} cannot be made up of {ranks} x {width} devices",
                capacity=AsWritten(record.capacity), ranks=record.ranks, width=f"x{width}"),
            say("a die holds a power of two of bits, or three halves of one (JESD79-5)"),
            ("ranks",),
            help=say("capacity = ranks x 64 bits / device width x bits of a device"),
        )  # fmt: skip


def _made_of_dies(module: Any) -> bool:
    """Whether a device would hold 2^n or 3 x 2^n bits, as dies do."""
    devices = module.ranks * Fraction(64, module.device_width)
    if "iB" not in module.capacity.unit.symbol or not module.capacity.amount:
        return True  # that is told
    gbits = Fraction(module.capacity.amount) * 8 / 2**30 / devices
    least, most = DENSITIES
    whole = gbits * 1024
    if whole.denominator != 1:
        return False
    bits = whole.numerator
    while bits % 2 == 0:
        bits //= 2
    return bits in (1, 3) and least <= gbits <= most


REACHES: Final = (
    (
        re.compile(r"multi-?mode|\bOM[1-5]\b|BASE-(?:SR|SX)", re.IGNORECASE),
        (Length.of(1), Length.of(2, "km")),
        say("over multimode fibre light goes some hundred metres"),
    ),
    (
        re.compile(r"single-?mode|\bOS[12]\b|BASE-(?:LR|LX|ER|ZR|DR|FR)", re.IGNORECASE),
        (Length.of(50), Length.of(200, "km")),
        say("over single-mode fibre light goes hundreds of metres and more"),
    ),
)
"""By the fibre that a part's name or its attributes speak of."""


def _reach(record: Any, _: Definitions) -> Iterator[Contradiction]:
    reach = getattr(record, "reach", None)
    if not isinstance(record, Part) or not isinstance(reach, Length):
        return
    words = " ".join((str(record.name), *map(str, record.attributes.values())))
    kinds = [(reaches, why) for pattern, reaches, why in REACHES if pattern.search(words)]
    if len(kinds) == 1:
        (least, most), why = kinds[0]
        if not least <= reach <= most:
            yield Contradiction(
                ("reach",),
                say("`reach` is {reach}, far from what its fibre allows", reach=AsWritten(reach)),
                why,
            )


SLACK: Final = 1.0
"""Millimetres that a height may be above whole units, by a screw's head. common practice"""


def _rack_units(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A chassis takes no rack unit that it does not reach into."""
    if not isinstance(record, Platform):
        return
    height, units = record.size.height, record.rack_units
    fits = ceil((mm(height) - SLACK) / mm(RACK_UNIT))
    if units > 1 and fits < units:
        yield Contradiction(
            ("rack_units",),
            say("the chassis is {height} high, and takes {units} rack units",
                height=AsWritten(height), units=units),
            say("a rack unit is 44.45 mm (EIA/ECA-310-E)"),
            ("size", "height"),
            help=say("{fits} would hold it", fits=fits),
        )  # fmt: skip


CHASSIS_DENSITY: Final = (Fraction(1, 10), Fraction(4))
PART_DENSITY: Final = (Fraction(1, 5), Fraction(8))
"""Kilograms a litre: below is foam, above is more than solid steel."""


def _density(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Weight and size of one thing go together."""
    size, mass = getattr(record, "size", None), getattr(record, "mass", None)
    if size is None or not isinstance(mass, Mass) or not mass.amount:
        return
    if isinstance(record, Platform) and not all(
        low <= getattr(size, name) <= high for name, (low, high) in CHASSIS.items()
    ):
        return  # a size that cannot be is told as that
    litres = Fraction(1000)
    for side in (size.width, size.height, size.depth):
        litres *= Fraction(side.amount) if isinstance(side, Length) else 0
    least, most = CHASSIS_DENSITY if isinstance(record, Platform) else PART_DENSITY
    if litres and not least <= Fraction(mass.amount) / litres <= most:
        yield Contradiction(
            ("mass",),
            say("`{name}` is {value}, which does not go with the size",
                name="mass", value=AsWritten(mass)),
            say("that would be {density} kg a litre; steel has 7.9",
                density=f"{float(Fraction(mass.amount) / litres):.2g}"),
            ("size",),
            help=say("check the number and its unit"),
        )  # fmt: skip


SMALL: Final = Power.of(10)
"""Below, what charges at times draws many times what is typical."""
PEAK: Final = 8
"""So many times its typical draw a part may draw; a fan more, by the cube of its speed."""


def _peak(record: Any, _: Definitions) -> Iterator[Contradiction]:
    power = getattr(record, "power", None)
    typical, maximum = getattr(power, "typical", None), getattr(power, "maximum", None)
    if not typical or not maximum or hasattr(record, "airflow") or not typical.amount:
        return
    if maximum > SMALL and maximum.amount > PEAK * typical.amount:
        yield Contradiction(
            ("power", "maximum"),
            say("`{name}` is {value}, far above what is typical",
                name="maximum", value=AsWritten(maximum)),
            say("parts draw two or three times what is typical, at most"),
            ("power", "typical"),
            help=say("check the number and its unit"),
        )  # fmt: skip


TAKEN: Final[dict[str, tuple[Quantity, Quantity]]] = {
    "rebuild_rate": (DataRate.of(1, "MB/s"), DataRate.of(20, "GB/s")),
    "replacement_time": (Duration.of(1, "min"), Duration.of(60, "d")),
    "endurance_span": (Duration.of(1, "y"), Duration.of(20, "y")),
    "read_share": (Ratio.of(1), Ratio.of(100)),
    "supply_sharing_error": (Ratio.of("0.1"), Ratio.of(30)),
    "board_loss": (Ratio.of("0.1"), Ratio.of(25)),
    "curve_allowance": (Ratio.of("0.01"), Ratio.of(10)),
    "cable_space": (Length.of(10, "mm"), Length.of(600, "mm")),
}
"""What a project takes for granted, where it takes anything."""


def _taken(record: Any, _: Definitions) -> Iterator[Contradiction]:
    if not isinstance(record, Assumptions):
        return
    for name, (least, most) in TAKEN.items():
        value = getattr(getattr(record, name), "value", None)
        whole = isinstance(value, Ratio) and value.fraction > 1  # no part of it: that is told
        if value is not None and value.amount and not whole and not least <= value <= most:
            yield Contradiction(
                (name, "value"),
                say("`{name}` is {value}, far from what is usual",
                    name=name, value=AsWritten(value)),
                say("usual is {least} to {most}", least=AsWritten(least), most=AsWritten(most)),
                help=say("check the number and its unit"),
            )  # fmt: skip


LOOKS: Final[tuple[tuple[tuple[str, ...], Look], ...]] = (
    (("write", "random_writes"), _exchanged),
    (("threads",), _threads),
    (("memory_channels",), _channels),
    (("mass",), _density),
    (("power",), _peak),
    (("together",), _together),
    (("operations_per_cycle",), _operations),
    (("circuit",), _circuit),
    (("grid_factor",), _grid),
    (("lanes", "connector"), _lanes),
    (("device_width",), _devices),
    (("reach",), _reach),
    (("rack_units",), _rack_units),
    (("rebuild_rate",), _taken),
)
"""Each with the fields of which a record has one, where it is asked."""

_ASKED: dict[type[Any], tuple[Look, ...]] = {}  # by class, made once


def _asked(cls: type[Any]) -> tuple[Look, ...]:
    if cls not in _ASKED:
        names = {each.name for each in fields(cls)}
        _ASKED[cls] = tuple(look for wanted, look in LOOKS if names.intersection(wanted))
    return _ASKED[cls]


def doubtful_values(
    definitions: Definitions, thing: Any, path: FieldPath, record: Any
) -> Iterator[Finding]:
    """SG130 for each value of a record that hardly goes with the rest of it."""
    for look in _asked(type(record)):
        for found in look(record, definitions):
            if not thing.origin.marked(*path, *found.path):
                yield finding_of(codes.DOUBTFUL_VALUE, thing.origin, path, found)
