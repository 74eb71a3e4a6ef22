"""Whether the population order of a platform speaks of all slots of their owner, each once."""

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from specgen.diagnostics import did_you_mean
from specgen.messages import say
from specgen.model import Definitions, Platform, Population, Position, places
from specgen.rules.definitions.contradicting.contradiction import Contradiction, expanded
from specgen.rules.definitions.doubtful.doubtful_channels import strays_of


def population_orders(record: Any, definitions: Definitions) -> Iterator[Contradiction]:
    """What is wrong with each order, the first thing alone: the rest follows from it."""
    if not isinstance(record, Platform):
        return
    slots = _slots(record)
    strays = strays_of(record)
    if not all(kind in definitions.kinds for each in slots.values() for kind in each.takes):
        return  # that is told
    for index, entry in enumerate(record.population):
        found = next(_of_entry(record, slots, index, entry), None)
        if found is not None and not strays:  # that a slot has another owner is told
            yield found


def unsound_orders(platform: Platform) -> frozenset[int]:
    """The orders, by number, that no check of a build can go by: they are not of their owner's
    slots."""
    slots = _slots(platform)
    return frozenset(
        index
        for index, entry in enumerate(platform.population)
        if next(_of_owner(platform, slots, index, entry), None) is not None
    )


def _slots(platform: Platform) -> Mapping[str, Position]:
    return {name: position for position in platform.positions for name in expanded(position.name)}


def _of_entry(
    platform: Platform, slots: Mapping[str, Position], index: int, entry: Population
) -> Iterator[Contradiction]:
    yield from _twice(platform, index)
    slip = any(did_you_mean(x, slots) for t in entry.order for x in expanded(t) if x not in slots)
    for found in _of_owner(platform, slots, index, entry):
        if not slip or found.path != ("population", index, "order"):  # a slip is told as that
            yield found
    names = sum(len(expanded(text)) for text in entry.order)
    for at, count in enumerate(entry.balanced):
        if count > names:
            yield Contradiction(
                ("population", index, "balanced", at),
                say("{count} modules would be even, and there are {names} slots",
                    count=count, names=names),
                say("no more modules are fitted than there are slots"),
                ("population", index, "order"),
            )  # fmt: skip


def _twice(platform: Platform, index: int) -> Iterator[Contradiction]:
    seen: dict[str, tuple[int, int]] = {}
    for number, entry in enumerate(platform.population[: index + 1]):
        for at, text in enumerate(entry.order):
            for name in expanded(text):
                if name in seen and number == index:
                    yield Contradiction(
                        ("population", index, "order", at),
                        say("{name} stands twice in the population order", name=name),
                        say("a slot is populated once"),
                        ("population", seen[name][0], "order", seen[name][1]),
                    )
                seen.setdefault(name, (number, at))


def _of_owner(
    platform: Platform, slots: Mapping[str, Position], index: int, entry: Population
) -> Iterator[Contradiction]:
    """An owner has one order, of alike slots of its own, and it leaves none of them out."""
    if entry.of is None:
        return
    first = {other.of: at for at, other in reversed([*enumerate(platform.population)])}
    if first[entry.of] != index:
        yield Contradiction(
            ("population", index, "of"),
            say("{owner} has two population orders", owner=entry.of),
            say("the slots of a processor are populated in one order"),
            ("population", first[entry.of], "of"),
        )
    named = {name: at for at, text in enumerate(entry.order) for name in expanded(text)}
    kinds = Counter(slots[name].takes for name in named if name in slots)
    takes = next((each for each, _ in kinds.most_common(1)), ())
    for name, at in named.items():
        position = slots.get(name)  # what a part brings is not among them
        if position is not None and (position.of, position.takes) != (entry.of, takes):
            number = next(i for i, each in enumerate(platform.positions) if each is position)
            yield Contradiction(
                ("population", index, "order", at),
                say("{name} is no such slot of {owner}", name=name, owner=entry.of),
                say("an order is one of alike slots that belong to one owner"),
                ("positions", number, "of" if position.of != entry.of else "takes"),
                say("the slot"),
            )
    own = (each for each, at in slots.items() if (at.of, at.takes) == (entry.of, takes))
    left = tuple(name for name in own if name not in named)
    if left:
        yield Contradiction(
            ("population", index, "order"),
            say("the population order leaves {names} out", names=places(left)),
            say("nobody knows when to populate a slot that stands in no order"),
            help=say("write it where it belongs in the order"),
        )
