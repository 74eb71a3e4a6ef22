"""How evenly memory is spread over channels and processors, and what to fill next."""

from collections.abc import Iterator
from functools import partial

from specgen.assembly import Assembly, Place, State
from specgen.facts.calculators.memory_channels import on_channels
from specgen.facts.calculators.subjects import PROCESSORS
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Inspected, fit_leaf, labelled, leaf, of_thing, position_leaf
from specgen.facts.registry import Calculators
from specgen.facts.terms import STATE
from specgen.messages import NONE, Message, Words, listed, say, say_many
from specgen.model import MemoryModule, Population, Processor, expand, places
from specgen.quantity import DataSize

fact = Calculators()

BALANCED = say("balanced")
NO_MODULES = say("no modules")
SOURCE = "common practice, no source: addresses spread evenly over channels that hold the same"


def _over_processors(assembly: Assembly, _: str) -> tuple[tuple[tuple[str, DataSize], ...], Trail]:
    sums = {place.name: DataSize.of(0, "GiB") for place, _ in assembly.fitted(Processor)}
    trail: Trail = tuple(fit_leaf(place) for place, _ in assembly.fitted(Processor))
    for place, module in assembly.fitted(MemoryModule):
        if place.of in sums:
            sums[place.of] += module.capacity
            trail = (*trail, leaf(place, module, ("capacity",), module.capacity))
    return tuple(sums.items()), trail


@fact(
    "memory.balance",
    say("Balance over processors"),
    formula=say("whether every processor has the same amount of memory"),
    source="common practice, no source: a processor with less reaches more through another one",
    sums=Inspected(_over_processors),
)
def balance(sums: tuple[tuple[str, DataSize], ...]) -> Message:
    """In words: balanced, or what each processor has."""
    if not any(size.amount for _, size in sums):
        return NO_MODULES
    if len({size.amount for _, size in sums}) == 1:
        return BALANCED
    shares = (say("{processor} has {size}", processor=name, size=size) for name, size in sums)
    return say("uneven: {shares}", shares=listed(shares))


def evenness(count: int, even: tuple[int, ...], channels: dict[str, DataSize]) -> Message:
    """In words whether so many modules on these channels spread evenly, and what does not.

    `even` are the numbers of modules that do; empty where the platform says nothing of it.
    """
    if not count:
        return NO_MODULES
    most = max(channels.values())
    low = tuple(name for name, size in channels.items() if size < most)
    if low:
        return say_many(
            len(low),
            "uneven: channel {channels} holds less than {most}",
            "uneven: channels {channels} hold less than {most}",
            channels=places(low),
            most=most,
        )
    if even and count not in even:
        return say(
            "uneven: {count} modules, and {even} spread evenly", count=count, even=listed(even)
        )
    return BALANCED


def _of(assembly: Assembly, processor: str) -> tuple[Population | None, list[Place], Trail]:
    """A processor's population, its positions in order, and where that is written."""
    for index, entry in enumerate(assembly.platform.population):
        order = [
            place
            for text in entry.order
            for name in expand(text)
            if (place := assembly.places.get(name)) is not None
            and place.of == processor
            and place.state in (State.FILLED, State.EMPTY, State.UNKNOWN)
        ]
        if order:
            platform = assembly.platform
            words = of_thing(platform.name, say("order of memory modules"))
            at = partial(platform.origin.place, "population", index)
            return entry, order, (Declared(words, say("as listed"), at, platform.source),)
    return None, [], ()


def _places(assembly: Assembly, processor: str) -> Iterator[Declared]:
    yield fit_leaf(assembly.places[processor])
    for place in assembly.taking(MemoryModule.kind):
        if place.of == processor:
            yield position_leaf(place, STATE[place.state])


@fact.seen(
    "memory.{processor}.balance",
    say("Balance over channels"),
    short=say("Over channels"),
    formula=say(
        "whether the channels in use hold the same, and the number of modules is an even one "
        "for the board"
    ),
    source=SOURCE,
    over=PROCESSORS,
)
def channel_balance(assembly: Assembly, processor: str) -> tuple[Message, Trail]:
    entry, _, trail = _of(assembly, processor)
    channels = on_channels(assembly, processor)
    count = sum(len(modules) for modules in channels.values())
    sums: dict[str, DataSize] = {}
    for name, modules in channels.items():
        sums[name] = sum((module.capacity for _, module in modules), DataSize.of(0, "GiB"))
        trail += tuple(leaf(place, part, ("capacity",), part.capacity) for place, part in modules)
    if not count:
        trail = tuple(_places(assembly, processor))
    return evenness(count, entry.balanced if entry is not None else (), sums), trail


def next_positions(order: tuple[tuple[str, bool], ...], even: tuple[int, ...]) -> tuple[str, ...]:
    """The positions to fill for the next larger even number of modules; none when there is none.

    `order` names positions first to last and says which are filled; without `even`, the next one.
    """
    filled = sum(taken for _, taken in order)
    larger = [count for count in even if filled < count <= len(order)]
    target = min(larger, default=filled + 1 if not even else 0)
    return tuple(name for name, taken in order[:target] if not taken)


def _next(assembly: Assembly, processor: str) -> tuple[tuple[str, ...] | None, Trail]:
    entry, order, trail = _of(assembly, processor)
    if entry is None:
        board = assembly.platform
        at = partial(board.origin.place, "population")
        return None, (Declared(labelled(board, ("population",)), None, at, board.source),)
    known = tuple((place.name, place.state is not State.EMPTY) for place in order)
    leaves = tuple(position_leaf(place, STATE[place.state]) for place in order)
    return next_positions(known, entry.balanced), (*trail, *leaves)


@fact(
    "memory.{processor}.next",
    say("Positions to populate next"),
    short=say("Populate next"),
    formula=say("the board's order of modules, up to the next number that spreads evenly"),
    over=PROCESSORS,
    positions=Inspected(_next),
)
def next_population(positions: tuple[str, ...]) -> Words:
    return places(positions) if positions else NONE
