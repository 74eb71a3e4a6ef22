"""What the lists and tables of one record must keep within themselves, a function for each."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import fields
from itertools import pairwise
from typing import Any, Final

from specgen.facts.calculators.network import cage_rate
from specgen.messages import AsWritten, say, say_many
from specgen.model import (
    FEED_NAMES,
    Assumptions,
    Brings,
    Build,
    Definitions,
    EthernetPort,
    Platform,
    Port,
    Project,
)
from specgen.quantity import DataRate, Duration, Length, TransferRate
from specgen.rules.definitions.contradicting.contradiction import Contradiction, expanded
from specgen.rules.definitions.contradicting.population_orders import population_orders

RACK_UNIT: Final = Length.of("0.04445")
"""Source: EIA/ECA-310-E, a unit of 44.45 mm."""


Look = Callable[[Any, Definitions], Iterator[Contradiction]]


def _curve(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """The points of an efficiency curve: loads rise, and so does what is drawn from the line."""
    points = getattr(record, "curve", ())
    for at, (point, after) in enumerate(pairwise(points), start=1):
        if after.load <= point.load:
            yield Contradiction(
                ("curve", at, "load"),
                say("load {load} stands behind load {before}", load=after.load, before=point.load),
                say("the loads of a curve rise from point to point, each once"),
                ("curve", at - 1, "load"),
                help=say("write the points in the order of their loads"),
            )
        elif after.load / after.efficiency <= point.load / point.efficiency:
            yield Contradiction(
                ("curve", at, "efficiency"),
                say("at load {load} less is drawn than at {before}", load=after.load,
                    before=point.load),
                say("what gives more never draws less: load / efficiency rises along a curve"),
                ("curve", at - 1, "efficiency"),
            )  # fmt: skip


def _outputs(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Ranges of line voltage: none within another, or two outputs would hold at one voltage."""
    ranges = getattr(record, "outputs", ())
    if not isinstance(ranges, tuple):
        return
    for at, second in enumerate(ranges):
        for before, first in enumerate(ranges[:at]):
            (low, high), (least, most) = (
                sorted((first.from_, first.to)),
                sorted((second.from_, second.to)),
            )
            if first.supplied == second.supplied and low < most and least < high:
                yield Contradiction(
                    ("outputs", at, "from"),
                    say(
                        "the ranges {first} to {last} and {from_} to {to} overlap",
                        first=AsWritten(first.from_), last=AsWritten(first.to),
                        from_=AsWritten(second.from_), to=AsWritten(second.to),
                    ),
                    say("at one line voltage a power supply has one rated output"),
                    ("outputs", before, "from"),
                )  # fmt: skip


def _rates(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Memory never runs faster with more modules, or ranks, on a channel."""
    for name in ("memory_speed", "memory_speed_by_ranks"):
        table = getattr(record, name, None)
        if not isinstance(table, Mapping):
            continue
        rows = sorted(table.items())
        for (fewer, first), (more, second) in pairwise(rows):
            if isinstance(second, TransferRate) and second > first:
                yield Contradiction(
                    (name, str(more)),
                    say(
                        "`{name}` is {second} at {more}, and {first} at {fewer}",
                        name=name, second=AsWritten(second), more=more,
                        first=AsWritten(first), fewer=fewer,
                    ),
                    say("more load on a channel never makes it faster"),
                    (name, str(fewer)),
                )  # fmt: skip


def _first_rate(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A table of rates begins at one module on a channel, which every system may have."""
    table = getattr(record, "memory_speed", None)
    if isinstance(table, Mapping) and table and 1 not in table:
        yield Contradiction(
            ("memory_speed",),
            say("`memory_speed` has no entry for 1 module on a channel"),
            say("most systems have one module on each channel, and their rate is not declared"),
            help=say("write `1:` with the rate of one module, beside the others"),
        )


def _body(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """The chassis between its ears is no wider than with them."""
    body = getattr(record, "body_width", None)
    size = getattr(record, "size", None)
    if body is not None and size is not None and body > size.width:
        yield Contradiction(
            ("body_width",),
            say("`body_width` is {body}, above the width of {width}",
                body=AsWritten(body), width=AsWritten(size.width)),
            say("it is the width without the ears that are screwed to the rack"),
            ("size", "width"),
        )  # fmt: skip


def _splits(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Each way to divide a port gives out all of its lanes and no more."""
    if not isinstance(record, Port):
        return
    for at, split in enumerate(record.splits):
        if sum(split) != record.lanes:
            yield Contradiction(
                ("splits", at),
                say(
                    "{split} adds up to {sum}, and the port has {lanes} lanes",
                    split="+".join(map(str, split)), sum=sum(split), lanes=record.lanes,
                ),
                say("a port is divided into all of its lanes"),
                ("lanes",),
            )  # fmt: skip


def _feeds(record: Any, definitions: Definitions) -> Iterator[Contradiction]:
    """A power supply is on one feed, and of the feeds that a build names there are so many."""
    if not isinstance(record, Platform | Build):
        return
    on: dict[str, str] = {}
    for feed, texts in record.feeds.items():
        for name in (name for text in texts for name in expanded(text)):
            if name in on:
                yield Contradiction(
                    ("feeds", feed),
                    say("{name} is on feed {feed} as well as on {other}",
                        name=name, feed=feed, other=on[name]),
                    say("a power supply has one inlet, and that is connected to one feed"),
                    ("feeds", on[name]),
                )  # fmt: skip
            on.setdefault(name, feed)
    platform = definitions.platforms.get(record.platform) if isinstance(record, Build) else None
    if platform is None:
        return
    holders = (record, platform, definitions.project)
    count = next((each.conditions.feeds for each in holders if each.conditions.feeds), 0)
    for feed in record.feeds:
        if feed not in FEED_NAMES[:count]:
            yield Contradiction(
                ("feeds", feed),
                say("there is no feed {feed}", feed=feed),
                say("conditions state how many feeds there are, from A on: {count}", count=count),
                help=say("state so many `feeds` under `conditions`"),
            )


def _height(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A chassis is no higher than the rack units that it takes."""
    if not isinstance(record, Platform):
        return
    most = RACK_UNIT * record.rack_units
    if record.size.height > most:
        yield Contradiction(
            ("size", "height"),
            say(
                "the chassis is {height} high, and {units} rack units are {most}",
                height=AsWritten(record.size.height), units=record.rack_units,
                most=AsWritten(most.to("mm")),
            ),
            say("a rack unit is 44.45 mm (EIA/ECA-310-E)"),
            ("rack_units",),
        )  # fmt: skip


RELATIONS: Final = ("of", "cools", "neighbour")


def _ranges(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """A range of positions hangs on one other, or on as many; told once of a range."""
    if not isinstance(record, Platform | Brings):
        return
    for index, position in enumerate(record.positions):
        count = len(expanded(position.name))
        numbers = {each: len(expanded(getattr(position, each) or "")) for each in RELATIONS}
        field = next((each for each in RELATIONS if numbers[each] not in (0, 1, count)), None)
        if field is not None:
            yield Contradiction(
                ("positions", index, field),
                say_many(count, "{name} is {number} position, and `{field}` names {named}",
                         "{name} are {number} positions, and `{field}` names {named}",
                         name=position.name, field=field, named=numbers[field]),
                say("each of a range has one of its own, or all have one"),
            )  # fmt: skip


def _positions(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """No position hangs on itself, be it by way of others."""
    if not isinstance(record, Platform | Brings):
        return
    for field in RELATIONS:
        leads: dict[str, tuple[str, int]] = {}
        for index, position in enumerate(record.positions):
            target = getattr(position, field)
            for name, other in _joined(position.name, target) if target else ():
                leads[name] = (other, index)
        told: set[str] = set()
        for name, (other, index) in leads.items():
            way = [name]
            while other in leads and other not in way:
                way.append(other)
                other = leads[other][0]
            circle = other == name and (field == "of" or len(way) == 1)
            if circle and not told.intersection(way):
                told.update(way)
                message = say("{name} is `{field}` itself", name=name, field=field)
                if len(way) > 1:
                    message = say(
                        "{name} is `{field}` itself, by way of {way}",
                        name=name, field=field, way=", ".join(way[1:]),
                    )  # fmt: skip
                why = say("a position that waits for itself is never usable")
                path = ("positions", index, field)
                if len(way) == 1:
                    yield Contradiction(path, message, why)
                else:
                    by_way = ("positions", leads[way[1]][1], field)
                    yield Contradiction(path, message, why, by_way, say("{name}", name=way[1]))


def _joined(name: str, target: str) -> Iterator[tuple[str, str]]:
    """Each position of a range with the one that it names: one for all, or one for each."""
    names, targets = expanded(name), expanded(target)
    if len(targets) == len(names):
        return zip(names, targets, strict=True)
    return iter((each, target) for each in names)


def _port(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """The connector of an Ethernet port carries its medium and its speed."""
    if not isinstance(record, EthernetPort):
        return
    if (record.connector == "rj45") != (record.medium == "copper") and record.connector == "rj45":
        yield Contradiction(
            ("medium",),
            say("an RJ45 port has no medium `{medium}`", medium=record.medium),
            say("twisted pairs are copper; a cage takes a transceiver or a cable"),
            ("connector",),
        )
    most = cage_rate(record.connector)
    if most is not None and record.speed > most:
        yield Contradiction(
            ("speed",),
            say(
                "the port runs at {speed}, and its connector carries {most}",
                speed=AsWritten(record.speed), most=AsWritten(most),
            ),
            say("a connector carries so much on each of its lanes"),
            ("connector",),
        )  # fmt: skip


def _documents(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Each document of a build is published once."""
    if not isinstance(record, Project):
        return
    for name in ("documents", "downloads"):
        listed_ = getattr(record, name)
        for at, each in enumerate(listed_):
            if each in listed_[:at]:
                yield Contradiction(
                    (name, at),
                    say("`{name}` is named twice", name=each),
                    say("each document is published once"),
                    (name, listed_.index(each)),
                    help=say("delete one of the two"),
                )


HOURS_OF_A_YEAR: Final = (Duration.of(365 * 24, "h"), Duration.of(366 * 24, "h"))


def _assumed(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """What is taken for granted of rates and spans is above zero, and a year has its hours."""
    if not isinstance(record, Assumptions):
        return
    for each in fields(Assumptions):
        value = getattr(getattr(record, each.name), "value", None)
        path = (each.name, "value")
        if isinstance(value, DataRate | Duration) and not value.amount:
            yield Contradiction(
                path,
                say("`{name}` is {value}", name=each.name, value=AsWritten(value)),
                say("a value of zero says that there is none at all"),
                help=say("write the value, or leave the line out"),
            )
        elif each.name == "year" and isinstance(value, Duration):
            least, most = HOURS_OF_A_YEAR
            if not least <= value <= most:
                yield Contradiction(
                    path,
                    say("a year of {value}", value=AsWritten(value)),
                    say(
                        "a year has {least} to {most}", least=AsWritten(least), most=AsWritten(most)
                    ),
                )


LISTS: Final[tuple[tuple[tuple[str, ...], Look], ...]] = (
    (("curve",), _curve),
    (("outputs",), _outputs),
    (("memory_speed", "memory_speed_by_ranks"), _rates),
    (("memory_speed",), _first_rate),
    (("body_width",), _body),
    (("splits",), _splits),
    (("population",), population_orders),
    (("feeds",), _feeds),
    (("rack_units",), _height),
    (("positions",), _ranges),
    (("positions",), _positions),
    (("medium",), _port),
    (("documents",), _documents),
    (("rebuild_rate",), _assumed),
)
"""Each with the fields of which a record has one, where it is asked."""


def looks_at(cls: type[Any], table: Iterable[tuple[tuple[str, ...], Look]]) -> tuple[Look, ...]:
    """Those of a table that ask for a field of a class."""
    names = {each.name for each in fields(cls)}
    return tuple(look for wanted, look in table if names.intersection(wanted))
