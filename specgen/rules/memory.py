"""Memory: what may stand beside what, in which order slots are filled, at which speed it runs."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.fitness import field_of
from specgen.fitness.part_fields import kinds_with
from specgen.messages import AsWritten, Message, Within, message_of, say, say_many
from specgen.model import Part, Population
from specgen.quantity import DataSize, TransferRate
from specgen.rules.constraints import Alike, AtMost, Chain, Enough, Grouping, InOrder, Lack
from specgen.rules.definitions.contradicting.population_orders import unsound_orders
from specgen.rules.places import (
    by_line,
    kept_out,
    names,
    places_for,
    settled,
    unsettled_kinds,
)
from specgen.rules.violations import is_filled, out_of_order, usable_in_order


def _system(_: Place, part: Part) -> str:
    return part.kind


def _processor(place: Place, part: Part) -> tuple[str, str] | None:
    return None if place.of is None else (part.kind, place.of)


def _channel(place: Place, part: Part) -> tuple[str, str, str] | None:
    channel = place.position.channel
    return None if channel is None else (part.kind, place.of or "", channel)


def _size(part: Part) -> DataSize | None:
    return None if field_of(part, "technology") is None else field_of(part, "capacity")


def _alike(field: str, word: Message, group: Grouping, where: Message, within: str = "") -> Alike:
    """Modules alike in a field; `within` is what a platform must say of it, if it need."""
    return Alike(
        code=codes.MIXED_MEMORY,
        statement=say("memory modules that go together are alike in {field}").filled(field=word),
        among="device_width",
        trait=field,
        group=group,
        declared=("memory_alike", field, within) if within else (),
        message=say(
            "modules of different {field} in {where}: `{part}` in {place} and `{other}` in "
            "{other_place}"
        ),
        at=say("{field} {value}"),
        other_label=say("{field} {other_value}"),
        words={"field": word, "where": where},
    )


GROUPS: Final[Mapping[str, tuple[Grouping, Message]]] = {
    "channel": (_channel, say("channel {channel}")),
    "processor": (_processor, say("the slots of one processor")),
    "system": (_system, say("the server")),
}
WORDS: Final[Mapping[str, Message]] = {
    "capacity": say("capacity"),
    "speed": say("speed"),
    "ranks": say("ranks"),
    "device_width": say("device width"),
    "maker": say("maker"),
    "id": say("model"),
}
"""What a platform may demand of its memory, by the field in which modules are then alike."""

# What no system mixes; the technology is the processors' and a requirement.
# common practice, no source
MIXED: Final = Chain(
    (
        _alike("form", say("form"), _system, say("the server")),
        _alike("error_correction", say("error correction"), _system, say("the server")),
        *(
            _alike(field, word, group, where, within)
            for within, (group, where) in GROUPS.items()
            for field, word in WORDS.items()
        ),
    )
)


def _owner_unclear(assembly: Assembly) -> bool:
    """Whether a processor does not go into its socket, which is told: another will stand there."""
    return any(field_of(part, "memory_channels") is not None for _, part in kept_out(assembly))


ADDRESSED: Final = Chain(
    (
        AtMost(
            code=codes.RESOURCE_OVERCOMMITTED,
            statement=say("a processor addresses up to {limit} of memory"),
            amount=_size,
            group=lambda place, _part: place.of,
            limit="memory_limit",
            limits=lambda place, _part: place.name,
            message=say("{total} of memory at {place}, which addresses {limit}"),
            at=say("goes beyond it"),
            other_label=say("the limit"),
            note=say("the memory is in {members}"),
        ),
    ),
    _owner_unclear,
)

CHANNELS: Final = Chain(
    (
        AtMost(
            code=codes.MEMORY_CHANNELS,
            statement=say("a processor has {limit} memory channels"),
            amount=lambda part: None if field_of(part, "technology") is None else 1,
            group=lambda place, _part: place.of,
            distinct=lambda place, _part: place.position.channel or place.name,
            limit="memory_channels",
            limits=lambda place, _part: place.name,
            message=say("{total} memory channels are used at {place}, which has {limit}"),
            at=say("on a channel that the processor does not have"),
            other_label=say("the processor's channels"),
            note=say("the memory is in {members}"),
        ),
    ),
    _owner_unclear,
)


def _without_memory(assembly: Assembly, lacks: tuple[Lack, ...]) -> Iterator[Finding]:
    first: list[Place] = []
    open_ones: list[tuple[Place, list[Place]]] = []
    for lack in lacks:
        slots = [each for each in places_for(assembly, "technology") if each.of == lack.group]
        if any(each.position.must and each.closed_by is None for each in slots):
            continue  # told where a slot must not stay empty
        population = assembly.platform.population
        order = next((each for each in population if each.of == lack.group), None)
        first += usable_in_order(assembly, order)[:1] if order is not None else slots[:1]
        open_ones.append((lack.taken[0][0], slots))
    if not open_ones:
        return
    places, part = [place for place, _ in open_ones], lacks[0].taken[0][1]
    yield Finding(
        codes.MEMORY_MISSING,
        say_many(
            len(places),
            "`{part}` in {place} has no memory module",
            "`{part}` in {place} have no memory module",
            part=part.id,
            place=names(places),
        ),
        Label(
            places[0].at,
            say("no module in {slots}", slots=names(each for _, own in open_ones for each in own)),
        ),
        notes=(say("a processor does not start without memory of its own"),),
        help=say("fit a module in {slots} first", slots=names(first)) if first else "",
    )


PRESENT: Final = Chain(
    (
        Enough(
            code=codes.MEMORY_MISSING,
            statement=say("each processor has memory"),
            taken=lambda place, part: (
                [(place.name, 1)] if field_of(part, "memory_technology") is not None else ()
            ),
            offered=lambda place, part: (
                [(place.of, 1)] if place.of and field_of(part, "technology") is not None else ()
            ),
            standing=lambda _: {},
            places="technology",
            group_of=lambda place: place.of,
            findings=_without_memory,
        ),
    ),
    lambda assembly: (
        not unsettled_kinds(assembly).isdisjoint(kinds_with(assembly.definitions, "technology"))
    ),
)
"""A processor in whose slots nothing stands; of one without slots nothing is known."""


def _missing_modules(assembly: Assembly) -> bool:
    """Whether what an order speaks of is named by the build and reaches no position."""
    ordered = {
        kind
        for entry in assembly.platform.population
        for place in usable_in_order(assembly, entry)
        for kind in place.position.takes
    }
    return not ordered.isdisjoint(unsettled_kinds(assembly))


def _out_of_order(assembly: Assembly, index: int, early: list[Place], due: list[Place]) -> Finding:
    skipped = names(place for place in due if not is_filled(place))
    return Finding(
        codes.POPULATION_ORDER,
        say("{places} is filled before {skipped}", places=names(early), skipped=skipped),
        Label(early[0].at, say("{skipped} comes first", skipped=skipped)),
        labels=(_rule_at(assembly, index, "order"),),
        help=say("use {skipped} instead of {places}", skipped=skipped, places=names(early)),
    )


def _unsound(assembly: Assembly) -> frozenset[int]:
    return assembly.once(unsound_orders, lambda: unsound_orders(assembly.platform))


def _sound_orders(assembly: Assembly) -> tuple[Population, ...]:
    """The orders, those empty that are told to be wrong where they are written."""
    unsound = _unsound(assembly)
    return tuple(
        replace(entry, order=(), balanced=()) if index in unsound else entry
        for index, entry in enumerate(assembly.platform.population)
    )


ORDER: Final = Chain(
    (
        InOrder(
            code=codes.POPULATION_ORDER,
            statement=say("memory is filled in order"),
            orders=_sound_orders,
            finding=_out_of_order,
        ),
    ),
    _missing_modules,
)


def balance(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG323: channels or processors filled unevenly, where what is filled is in order.

    A warning: the system works, so no limit hangs on it.
    """
    if assembly.build is None or _missing_modules(assembly):
        return
    even = True
    counts: list[tuple[Population, int, list[Place]]] = []
    for index, entry in enumerate(assembly.platform.population):
        if index in _unsound(assembly):
            continue
        order = usable_in_order(assembly, entry)
        filled = [place for place in order if is_filled(place)]
        if order:
            counts.append((entry, len(filled), filled))
        found = None
        if out_of_order(assembly, entry)[0]:
            even = False
        elif filled and entry.balanced and len(filled) not in entry.balanced:
            found = _uneven(assembly, index, filled, entry)
        else:
            found = _unequal_channels(filled)
        if found is not None:
            even = False
            yield found
    if even:
        yield from _lopsided(assembly, counts)


def _rule_at(assembly: Assembly, index: int, field: str) -> Label:
    words = say("the order") if field == "order" else say("the even numbers")
    return Label(assembly.platform.origin.at("population", index, field), words)


def _uneven(assembly: Assembly, index: int, filled: list[Place], entry: Population) -> Finding:
    even = ", ".join(str(count) for count in entry.balanced)
    return Finding(
        codes.UNBALANCED_MEMORY,
        say_many(
            len(filled),
            "{number} module cannot spread evenly over the channels",
            "{number} modules cannot spread evenly over the channels",
        ),
        Label(
            by_line(filled)[-1][0].at,
            say("{count} modules in total: {places}", count=len(filled), places=names(filled)),
        ),
        labels=(_rule_at(assembly, index, "balanced"),),
        notes=(say("channels with fewer modules serve some addresses more slowly"),),
        help=say("use one of {even} modules", even=even),
    )


def _unequal_channels(filled: list[Place]) -> Finding | None:
    sums: dict[str, DataSize] = {}
    first: dict[str, Place] = {}
    for place in filled:
        channel = place.position.channel
        size = None if place.part is None else field_of(place.part, "capacity")
        if channel is not None and size is not None:
            sums[channel] = sums.get(channel, DataSize.zero()) + size
            first.setdefault(channel, place)
    if len(set(sums.values())) < 2:
        return None
    size = Counter(sums.values()).most_common(1)[0][0]
    odd = next(channel for channel, total in sums.items() if total != size)
    return Finding(
        codes.UNBALANCED_MEMORY,
        say(
            "channel {odd} carries {less}, and others {size}",
            odd=odd,
            less=AsWritten(sums[odd]),
            size=AsWritten(size),
        ),
        Label(first[odd].at, say("{sums} on channel {odd}", sums=AsWritten(sums[odd]), odd=odd)),
        notes=(say("what goes beyond the smallest channel is served by fewer channels"),),
    )


def _lopsided(
    assembly: Assembly, counts: list[tuple[Population, int, list[Place]]]
) -> Iterator[Finding]:
    """Processors with different numbers of modules."""
    build = assembly.build
    counts = [each for each in counts if each[1]]  # none at all is an error of its own
    numbers = {count for _, count, _ in counts}
    if build is None or len(numbers) < 2:
        return
    least = min(counts, key=lambda entry: entry[1])
    most = max(counts, key=lambda entry: entry[1])
    places = least[2] or most[2]
    yield Finding(
        codes.UNBALANCED_MEMORY,
        say(
            "{fewer} has {least}, and {other} has {most}",
            fewer=_whose(least[0]),
            least=say_many(least[1], "{number} memory module", "{number} memory modules"),
            other=_whose(most[0]),
            most=most[1],
        ),
        Label(places[0].at, message_of(names(places))),
        notes=(
            say("a processor with fewer modules reaches more of its data through the other one"),
        ),
    )


def _whose(population: Population) -> str:
    """Whose modules they are: the processor named, else the positions themselves."""
    return population.of or ", ".join(population.order)


def derated(assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    """SG324: memory that runs slower than its modules, whatever slows it down."""
    speed = facts.value("memory.speed")
    if not isinstance(speed, TransferRate):
        return
    modules = [
        (place, part.speed)
        for place, part in settled(assembly, "speed")
        if isinstance(part.speed, TransferRate)
    ]
    slowed = [place for place, own in modules if own > speed]
    if not slowed:
        return
    modules_on = [fact.value for fact in facts.of_all("memory.{processor}.modules_per_channel")]
    counted = [number for number in modules_on if isinstance(number, int)]
    limits = [
        Label(at.at, say("module of {own}", own=AsWritten(own)))
        for at, own in modules
        if own == speed
    ][:1]
    tables = [
        (part.origin, part.memory_speed, say("the {title}", title=Within(part.named())))
        for _, part in settled(assembly, "memory_speed")
    ][:1]
    tables.append((assembly.platform.origin, assembly.platform.memory_speed, say("the board")))
    for origin, table, what in tables:
        if speed in table.values():
            limits.append(Label(origin.key("memory_speed"), what))
    yield Finding(
        codes.MEMORY_DERATED,
        say("memory runs at {speed}, below what its modules can do", speed=AsWritten(speed)),
        Label(slowed[0].at, message_of(names(slowed))),
        labels=tuple(limits),
        notes=tuple(
            say_many(
                number,
                "{number} module on the fullest channel",
                "{number} modules on the fullest channel",
            )
            for number in ([max(counted)] if counted else ())
        ),
    )
