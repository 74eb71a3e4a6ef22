"""Definitions that contradict themselves: relations that the fields of one record must keep.

A relation names fields, never kinds: whatever states them is held to it, so that a kind that a
project declares is as well. Those over one or two fields are rows; what a list or a table must keep
within itself is a function of its record. None needs a build.
"""

from collections.abc import Callable, Iterator
from dataclasses import fields
from itertools import pairwise
from typing import Any, Final, get_origin

from specgen.diagnostics import Finding, codes
from specgen.frozen import frozen
from specgen.messages import AsWritten, Message, Words, message_of, say
from specgen.model import Definitions
from specgen.model.markers import written
from specgen.model.pedigree import FieldPath
from specgen.quantity import (
    Current,
    DataRate,
    Frequency,
    Quantity,
    TransferRate,
    Voltage,
    VolumeFlow,
)
from specgen.rules.definitions.contradicting.contradicting_lists import LISTS, Look, looks_at
from specgen.rules.definitions.contradicting.contradicting_parts import PART_LISTS
from specgen.rules.definitions.contradicting.contradiction import Contradiction, finding_of
from specgen.rules.definitions.records import quantities_of

ORDERS: Final[tuple[tuple[tuple[str, ...], Message], ...]] = (
    (("idle", "typical", "maximum"), say("what works harder never draws less")),
    (("idle_warm", "maximum"), say("what works harder never draws less")),
    (("base_clock", "max_clock"), say("the maximum clock is that of a core at its best")),
    (("vector_clock", "max_clock"), say("the maximum clock is that of a core at its best")),
    (("cores", "threads"), say("each core runs one thread or more")),
    (("lanes", "connector"), say("a connector has contacts for its own lanes and no more")),
    (("from_", "to"), say("a range begins at its lower end")),
    (("rail_distance", "rack_length"), say("the rails stand within the rack")),
    (("rack_depth", "rack_length"), say("there is no more room in a rack than it is long")),
)
"""Fields of which none is above the next that is stated, and why."""

PAIRED: Final = (
    *(("least", "most"), ("min", "max"), ("minimum", "maximum"), ("lowest", "highest")),
    *(("from", "to"), ("first", "last")),
)
"""Words of two names that are alike otherwise: the first is not above the second."""

NEVER_ZERO: Final = (DataRate, Frequency, TransferRate, Voltage, Current, VolumeFlow)
"""Of these nothing is declared that is not there at all."""

ABOVE_ZERO: Final = frozenset(
    {
        *("output", "tdp", "tdp_limit", "capacity", "memory_limit", "width", "height", "depth"),
        *("rack_depth_least", "rack_depth_most", "warranty", "mean_time_between_failures"),
    }
)
"""Fields of other dimensions of which the same is true."""

SHARES: Final = frozenset({"read_share", "supply_sharing_error", "board_loss"})
"""Ratios that are part of a whole: 100 % at most."""

ONLY_WITH: Final[tuple[tuple[str, str, Message], ...]] = (
    ("keeps_cache", "cache", say("there is nothing to keep")),
    ("noise_adder", "noise", say("it is added to a level")),
    ("noise_edition", "noise", say("it says how a level was declared")),
    ("vector_width", "vector_units", say("it is the width of vector units")),
)
"""Fields that say nothing without another, and why."""

APART: Final[tuple[tuple[str, str, Message], ...]] = (
    ("management", "shared", say("a port is the management controller's own, or is shared")),
    ("vector_units", "operations_per_cycle", say("operations per cycle follow from the units")),
    ("fixed", "blank", say("what is soldered in never leaves its position empty")),
)
"""Fields of which one is stated at most."""


def contradictions(
    definitions: Definitions, thing: Any, path: FieldPath, record: Any
) -> Iterator[Finding]:
    """SG118 for everything in a record of a definition that cannot be true together."""
    for found in _of_record(record, definitions):
        yield finding_of(codes.CONTRADICTION, thing.origin, path, found)


Row = Callable[[Any], Iterator[Contradiction]]


def _of_record(record: Any, definitions: Definitions) -> Iterator[Contradiction]:
    rows, looks = _asked(type(record))
    held: set[FieldPath] = set()  # a limit that is wrong is told once, whatever lies above it
    for row in rows:
        for found in row(record):
            if not found.other or found.other not in held:
                yield found
            held.add(found.other)
    for look in looks:
        yield from look(record, definitions)
    yield from _twice(record)


ANY_TIMES: Final = frozenset({"order", "drives", "spares", "documents", "downloads", "balanced"})
"""Lists of which another check tells what stands in them twice."""


def _twice(record: Any) -> Iterator[Contradiction]:
    """Words, numbers, splits, ids of a list: each once."""
    for name in _lists(type(record)):
        values = getattr(record, name)
        if len(values) < 2:
            continue
        entries = [_told_by(each) for each in values]
        if None in entries or len(set(entries)) == len(entries):
            continue
        at = next(at for at, each in enumerate(entries) if each in entries[:at])
        yield Contradiction(
            (written(name), at),
            say("`{name}` has `{entry}` twice", name=written(name), entry=_entry(entries[at])),
            say("each is written once; another was probably meant"),
            (written(name), entries.index(entries[at])),
        )


def _told_by(entry: object) -> object:
    """What tells an entry from others: itself, or the id of a record; None where nothing does."""
    return entry if isinstance(entry, str | int | tuple) else getattr(entry, "id", None)


def _entry(value: object) -> str:
    return "+".join(map(str, value)) if isinstance(value, tuple) else str(value)


_LISTS: dict[type[Any], tuple[str, ...]] = {}  # by class, worked out once


def _lists(cls: type[Any]) -> tuple[str, ...]:
    if cls not in _LISTS:
        _LISTS[cls] = tuple(
            each.name
            for each in fields(cls)
            if each.name not in ANY_TIMES
            and tuple in (get_origin(each.type), get_origin(getattr(each.type, "__origin__", None)))
        )
    return _LISTS[cls]


_ASKED: dict[type[Any], tuple[tuple[Row, ...], tuple[Look, ...]]] = {}  # by class, made once


def _asked(cls: type[Any]) -> tuple[tuple[Row, ...], tuple[Look, ...]]:
    """The relations that records of a class can break."""
    if cls not in _ASKED:
        _ASKED[cls] = tuple(_relations(cls)), looks_at(cls, (*LISTS, *PART_LISTS))
    return _ASKED[cls]


def _relations(cls: type[Any]) -> Iterator[Row]:
    names = [each.name for each in fields(cls)]
    for chain, why in (*ORDERS, *((pair, PLAIN) for pair in _pairs(names))):
        stated = [name for name in chain if name in names]
        if len(stated) > 1:
            yield _Order(tuple(stated), why)
    known = dict(quantities_of(cls))
    lowest = {low for low, _ in PAIRED}  # of a range, which may begin at nothing
    positive = [
        name
        for name in known
        if name in ABOVE_ZERO or (known[name] in NEVER_ZERO and lowest.isdisjoint(name.split("_")))
    ]
    if positive:
        yield _Positive(tuple(positive))
    shares = [name for name in names if name in SHARES]
    if shares:
        yield _Share(tuple(shares))
    yield from (_OnlyWith(*row) for row in ONLY_WITH if {row[0], row[1]} <= set(names))
    yield from (_Apart(*row) for row in APART if {row[0], row[1]} <= set(names))


PLAIN: Final = say("a range begins at its lower end")


def _pairs(names: list[str]) -> Iterator[tuple[str, str]]:
    for low, high in PAIRED:
        for name in names:
            words = name.split("_")
            if low in words:
                other = "_".join(high if word == low else word for word in words)
                if other in names:
                    yield name, other


def _value(value: object) -> Words:
    return AsWritten(value)


@frozen
class _Order:
    """Values none of which is above the next."""

    names: tuple[str, ...]
    why: Message

    def __call__(self, record: Any) -> Iterator[Contradiction]:
        known = [(name, getattr(record, name)) for name in self.names]
        stated = [(name, value) for name, value in known if _comparable(value)]
        broken = False  # what stands in the wrong order throughout is told once
        for (low, less), (high, more) in pairwise(stated):
            before, broken = broken, type(less) is type(more) and bool(less > more)
            if broken and not before and not _negative(more):
                yield Contradiction(
                    (written(low),),
                    say(
                        "`{low}` is {less}, above `{high}`, which is {more}",
                        low=written(low), less=_value(less), high=written(high), more=_value(more),
                    ),
                    self.why,
                    (written(high),),
                    message_of(_value(more)),
                )  # fmt: skip


def _negative(value: object) -> bool:
    """Whether it is a voltage of the other polarity, whose ranges are written either way."""
    return isinstance(value, Voltage) and value.amount < 0


def _comparable(value: object) -> bool:
    return isinstance(value, Quantity | int) and not isinstance(value, bool)


@frozen
class _Positive:
    """Values that are above zero."""

    names: tuple[str, ...]

    def __call__(self, record: Any) -> Iterator[Contradiction]:
        for name in self.names:
            value = getattr(record, name)
            if isinstance(value, Quantity) and not value.amount:
                yield Contradiction(
                    (written(name),),
                    say("`{name}` is {value}", name=written(name), value=_value(value)),
                    say("a value of zero says that there is none at all"),
                    help=say("write the value, or leave the line out"),
                )


@frozen
class _Share:
    """Values that are part of a whole."""

    names: tuple[str, ...]

    def __call__(self, record: Any) -> Iterator[Contradiction]:
        for name in self.names:
            assumed = getattr(record, name)
            share = getattr(assumed, "value", None)
            if share is not None and share.fraction > 1:
                yield Contradiction(
                    (written(name), "value"),
                    say("`{name}` is {value}", name=written(name), value=_value(share)),
                    say("a share is 100 % or less"),
                )


@frozen
class _OnlyWith:
    """A field that says nothing without another."""

    name: str
    other: str
    why: Message

    def __call__(self, record: Any) -> Iterator[Contradiction]:
        if getattr(record, self.name) is not None and getattr(record, self.other) is None:
            yield Contradiction(
                (written(self.name),),
                say(
                    "`{name}` is stated, and no `{other}`",
                    name=written(self.name), other=written(self.other),
                ),
                self.why,
            )  # fmt: skip


@frozen
class _Apart:
    """Two fields of which one is stated at most."""

    name: str
    other: str
    why: Message

    def __call__(self, record: Any) -> Iterator[Contradiction]:
        if getattr(record, self.name) and getattr(record, self.other):
            yield Contradiction(
                (written(self.name),),
                say(
                    "`{name}` and `{other}` are both stated",
                    name=written(self.name), other=written(self.other),
                ),
                self.why,
                (written(self.other),),
            )  # fmt: skip
