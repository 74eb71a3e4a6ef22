"""Values that can be read and that hardly go with the rest: two exchanged, a digit too many.

Each row is a function of one record. What it says is common practice without a source, unless one
is named beside it. They ask for fields and traits, never for kinds. Warnings.
"""

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import ceil
from typing import Any, Final

from specgen.diagnostics import Finding, codes
from specgen.fitness.frames import mm
from specgen.messages import AsWritten, say
from specgen.model import Definitions, Part, Platform, Stores
from specgen.model.pedigree import FieldPath
from specgen.quantity import Length, Mass, Power, Quantity
from specgen.rules.definitions.contradicting.contradicting_lists import RACK_UNIT, Look, looks_at
from specgen.rules.definitions.contradicting.contradiction import (
    Contradiction,
    far_from_usual,
    finding_of,
)
from specgen.rules.definitions.doubtful.doubtful_processors import OF_PROCESSORS
from specgen.rules.definitions.doubtful.doubtful_supplies import OF_SUPPLIES
from specgen.rules.definitions.doubtful.doubtful_surroundings import OF_SURROUNDINGS
from specgen.rules.definitions.doubtful.prices import OF_PRICES
from specgen.rules.definitions.doubtful.unusual_values import CHASSIS

FASTER: Final = Fraction(11, 10)
"""Flash reads faster than it writes; so much is left to how it was measured."""
CACHED: Final = Fraction(2)
"""Small writes that a cache takes are more a second than reads, for as long as it has room."""


def _exchanged(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Flash takes longer to write than to read, whatever the block."""
    if not isinstance(record, Stores) or getattr(record, "medium", "ssd") != "ssd":
        return
    pairs = (("read", "write", FASTER), ("random_reads", "random_writes", CACHED))
    for reads, writes, most in pairs:
        slow, fast = getattr(record, reads, None), getattr(record, writes, None)
        if slow is not None and fast is not None and _more(fast, slow) > most:
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
                far_from_usual(name, f"x{lanes}"),
                say("connectors and cables are made for up to 16 lanes"),
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
            far_from_usual("device_width", width),
            say("modules with error correction have devices of 4 or 8 bits, others of 4, 8 or 16"),
            help=say("without error correction, write `error_correction: false`"),
        )
    elif record.ranks not in RANKS:
        yield Contradiction(
            ("ranks",),
            far_from_usual("ranks", record.ranks),
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
                far_from_usual("reach", AsWritten(reach)),
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
        )  # fmt: skip


BROADEST: Final = Length.of(600, "mm")
"""Of what goes into a rack: openings are of 19, 21 or 23 inches (EIA/ECA-310-E, from memory)."""


NARROW: Final = Fraction(1, 2)
"""Of a chassis the ears take up a tenth."""


def _breadth(record: Any, _: Definitions) -> Iterator[Contradiction]:
    body = getattr(record, "body_width", None)
    if body is not None and Fraction(body.amount) < NARROW * Fraction(record.size.width.amount):
        yield Contradiction(
            ("body_width",),
            far_from_usual("body_width", AsWritten(body)),
            say("it is the width without the ears that are screwed to the rack"),
            ("size", "width"),
            help=say("check the number and its unit"),
        )
    if isinstance(record, Platform) and record.size.width > BROADEST:
        yield Contradiction(
            ("size", "width"),
            far_from_usual("width", AsWritten(record.size.width)),
            say("a rack takes chassis of 19, 21 or 23 inches"),
            ("size", "depth"),
            help=say("check which is the width, the height and the depth"),
        )


CHASSIS_DENSITY: Final = (Fraction(1, 10), Fraction(4))
PART_DENSITY: Final = (Fraction(1, 50), Fraction(8))
"""Kilograms a litre: below is foam or an empty duct, above is more than solid steel."""


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
            far_from_usual("mass", AsWritten(mass)),
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
            far_from_usual("maximum", AsWritten(maximum)),
            say("parts draw up to two or three times what is typical"),
            ("power", "typical"),
            help=say("check the number and its unit"),
        )  # fmt: skip


NUMBERS: Final[Mapping[str, tuple[float, int]]] = {
    "writes_per_day": (0.01, 200),
    "operations": (10_000, 10**9),
}
"""Of flash that is written 100 times a day most is spared; a single SSD has 10 000 and more
operations a second."""


def _numbers(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Numbers without a unit: how often a drive may be written, what a controller does a second."""
    for name, (least, most) in NUMBERS.items():
        value = getattr(record, name, None)
        if value is not None and value and not least <= value <= most:
            yield Contradiction(
                (name,),
                far_from_usual(name, str(value)),
                say("usual is {least} to {most}", least=f"{least:g}", most=most),
                help=say("check the number and its unit"),
            )


LOOKS: Final[tuple[tuple[tuple[str, ...], Look], ...]] = (
    (("write", "random_writes"), _exchanged),
    (("mass",), _density),
    (("power",), _peak),
    (("lanes", "connector"), _lanes),
    (("device_width",), _devices),
    (("reach",), _reach),
    (("writes_per_day", "operations"), _numbers),
    (("rack_units",), _rack_units),
    (("rack_units",), _breadth),
    *OF_SURROUNDINGS,
    *OF_PRICES,
    *OF_SUPPLIES,
    *OF_PROCESSORS,
)
"""Each with the fields of which a record has one, where it is asked."""

_ASKED: dict[type[Any], tuple[Look, ...]] = {}  # by class, made once


def _asked(cls: type[Any]) -> tuple[Look, ...]:
    if cls not in _ASKED:
        _ASKED[cls] = looks_at(cls, LOOKS)
    return _ASKED[cls]


def doubtful_values(
    definitions: Definitions, thing: Any, path: FieldPath, record: Any
) -> Iterator[Finding]:
    """SG130 for each value of a record that hardly goes with the rest of it."""
    for look in _asked(type(record)):
        for found in look(record, definitions):
            if not thing.origin.marked(*path, *found.path):
                yield finding_of(codes.DOUBTFUL_VALUE, thing.origin, path, found)
