"""Amounts written with a unit that is probably another: prefixes of memory and drives, bits, bytes.

They ask for fields and traits, never for kinds. Warnings: what is written can be read, and may be
meant.
"""

from collections.abc import Callable, Iterator
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes
from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.model import Stores
from specgen.model.markers import written
from specgen.model.pedigree import FieldPath
from specgen.quantity import DataRate, DataSize, Quantity, plain
from specgen.rules.definitions.records import quantities_of


def _memory(cls: type[Any], name: str) -> bool:
    """Whether a field holds an amount of memory: of a module, of a cache, of what is addressed."""
    if name == "capacity":
        return hasattr(cls, "technology") and not issubclass(cls, Stores)
    return name in ("memory_limit", "cache", "memory")


def _decimal(value: Quantity) -> bool:
    """Whether a size is written with a decimal prefix: GB, not GiB."""
    symbol = value.unit.symbol
    return symbol.endswith("B") and len(symbol) == len("GB")


def _binary(value: Quantity) -> bool:
    return "iB" in value.unit.symbol


def _in_bytes(value: Quantity) -> bool:
    return "B/" in value.unit.symbol


def _in_bits(value: Quantity) -> bool:
    return "bit/" in value.unit.symbol


@frozen
class _Doubt:
    """One row: fields of a dimension, when their unit is doubtful, the unit to take, and why."""

    dimension: type[Quantity]
    meant: Callable[[type[Any], str], bool]
    doubtful: Callable[[Quantity], bool]
    unit: Callable[[str], str]
    why: Message


DOUBTS: Final = (
    _Doubt(
        DataSize,
        _memory,
        _decimal,
        lambda symbol: f"{symbol[:-1]}iB",
        say("memory is counted in powers of two (JEDEC, IEC 80000-13): GiB, not GB"),
    ),
    _Doubt(
        DataSize,
        lambda cls, name: name == "capacity" and issubclass(cls, Stores),
        _binary,
        lambda symbol: symbol.replace("iB", "B"),
        say("drives are sold in powers of ten: GB and TB, not GiB and TiB"),
    ),
    _Doubt(
        DataRate,
        lambda _, name: name in ("speed", "line_rate"),
        _in_bytes,
        lambda symbol: symbol.replace("B/", "bit/"),
        say("the rate of a link is one of bits (IEEE 802.3)"),
    ),
    _Doubt(
        DataRate,
        lambda _, name: name in ("read", "write", "memory_bandwidth"),
        _in_bits,
        lambda symbol: symbol.replace("bit/", "B/"),
        say("what is read and written is counted in bytes"),
    ),
)


def doubtful_units(thing: Any, path: FieldPath, record: Any) -> Iterator[Finding]:
    """SG128 for each amount of a record whose unit is probably another, with the form that is
    right. What is left to do is told as that (SG126), and nobody has chosen its unit."""
    for name, row in _asked(type(record)):
        value = getattr(record, name)
        if value is None or not row.doubtful(value):
            continue
        here = (*path, written(name))
        if not thing.origin.marked(*here):
            at = thing.origin.at(*here)
            yield _finding(value, row, Label(at, say("probably another unit")))


_ASKED: dict[type[Any], tuple[tuple[str, _Doubt], ...]] = {}  # by class, made once


def _asked(cls: type[Any]) -> tuple[tuple[str, _Doubt], ...]:
    """The fields of a class whose unit can be doubtful, each with its row."""
    if cls not in _ASKED:
        _ASKED[cls] = tuple(
            (name, row)
            for name, dimension in quantities_of(cls)
            for row in DOUBTS
            if row.dimension is dimension and row.meant(cls, name)
        )
    return _ASKED[cls]


def _finding(value: Quantity, row: _Doubt, at: Label) -> Finding:
    symbol = value.unit.symbol
    number = plain(value.in_unit(symbol))
    right = f"{number} {row.unit(symbol)}"
    return Finding(
        codes.DOUBTFUL_UNIT,
        say("{given}, where {right} is meant", given=f"{number} {symbol}", right=right),
        at,
        notes=(row.why,),
        help=say("write `{right}`", right=right),
    )
