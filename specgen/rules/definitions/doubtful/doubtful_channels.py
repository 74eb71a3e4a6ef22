"""Memory slots whose channel, or whose processor, is probably another."""

import re
from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.messages import say
from specgen.model import Definitions, Platform, Position
from specgen.rules.definitions.contradicting.contradiction import expanded

FEWEST: Final = 3
"""So many channels with equal numbers of slots tell what the others have."""
_NUMBERED: Final = re.compile(r"(.*?)(\d+)")


def doubtful_channels(definitions: Definitions) -> Iterator[Finding]:
    """SG224: a slot on a channel that has one more than all others of its processor, or that
    stands apart from their numbers."""
    for platform in definitions.platforms.values():
        strays = strays_of(platform)
        yield from (_stray(platform, name, owner) for name, owner in strays.items())
        owners = dict.fromkeys(each.of for each in platform.positions if each.channel)
        even = {
            sum(c.values()) for o in owners if len(set((c := _counts(platform, o)).values())) == 1
        }
        for owner in owners:
            yield from _of_owner(platform, owner, strays.keys(), even)


def strays_of(platform: Platform) -> Mapping[str, str]:
    """Slots in the order of another owner than theirs, and not in that of theirs, with that owner:
    each the only one there."""
    own = {
        (entry.of, name)
        for entry in platform.population
        for text in entry.order
        for name in expanded(text)
    }
    owners = {name: each.of for each in platform.positions for name in expanded(each.name)}
    found: dict[str, str] = {}
    for entry in platform.population:
        names = [name for text in entry.order for name in expanded(text)]
        others = [
            name
            for name in names
            if (owner := owners.get(name)) not in (entry.of, None) and (owner, name) not in own
        ]
        if entry.of is not None and len(others) == 1 and len(names) > FEWEST:
            found[others[0]] = entry.of
    return found


def _stray(platform: Platform, name: str, owner: str) -> Finding:
    at, position = next(
        (at, each) for at, each in enumerate(platform.positions) if name in expanded(each.name)
    )
    return Finding(
        codes.DOUBTFUL_CHANNEL,
        say("{name} is of {other}, and stands in the order of {owner}",
            name=name, other=position.of or "", owner=owner),
        Label(platform.origin.at("positions", at, "of"), say("probably another processor")),
        notes=(say("an order is one of slots that belong to one owner"),),
        help=say("write `of: {owner}`, or take it out of that order", owner=owner),
        raised=True,
    )  # fmt: skip


def _slots(platform: Platform, owner: str | None) -> list[tuple[int, Position]]:
    return [
        (at, each)
        for at, each in enumerate(platform.positions)
        if each.of == owner and each.channel is not None
    ]


def _counts(platform: Platform, owner: str | None, but: Collection[str] = ()) -> Counter[str]:
    """How many slots there are on each channel of an owner."""
    counts: Counter[str] = Counter()
    for _, each in _slots(platform, owner):
        if each.name not in but:
            counts[each.channel or ""] += len(expanded(each.name))
    return counts


def _of_owner(
    platform: Platform, owner: str | None, strays: Collection[str], even: Collection[int]
) -> Iterator[Finding]:
    """A channel of a processor that is unlike its others; `even` are the numbers of slots that
    others share out evenly."""
    slots = [each for each in _slots(platform, owner) if each[1].name not in strays]
    counts = _counts(platform, owner, strays)
    odd = _fuller(counts) or _apart(counts) or _doubled(counts, even)
    if odd is None:
        return
    at = next(at for at, each in reversed(slots) if each.channel == odd)
    usual = sorted(counts[each] for each in counts if each != odd)[len(counts) // 2 - 1]
    yield Finding(
        codes.DOUBTFUL_CHANNEL,
        say("channel {channel} has {number} slots, and others of {owner} {usual}",
            channel=odd, number=counts[odd], owner=owner or platform.id, usual=usual)
        if counts[odd] != usual
        else say("channel {channel} stands apart from the others of {owner}",
                 channel=odd, owner=owner or platform.id),
        Label(platform.origin.at("positions", at, "channel"), say("probably another channel")),
        notes=(say("channels of a processor have equal numbers of slots, and follow one another"),),
        help=say("the channels are {names}", names=", ".join(sorted(counts, key=_order))),
    )  # fmt: skip


def _fuller(counts: Counter[str]) -> str | None:
    """The one channel that has one slot more than the others, of which one may have one less."""
    (most, full), *rest = counts.most_common()
    equal = Counter(number for _, number in rest)
    usual = max(equal, key=lambda number: (equal[number], number), default=0)
    if full != usual + 1 or equal[usual] < FEWEST or len(rest) - equal[usual] > 1:
        return None
    return most if all(usual - 1 <= number <= usual for number in equal) else None


def _doubled(counts: Counter[str], even: Collection[int]) -> str | None:
    """The one channel that has a slot more, where others of as many slots have no such channel."""
    if len(counts) < FEWEST:
        return None
    (most, full), *rest = counts.most_common()
    usual = {number for _, number in rest}
    return most if sum(counts.values()) in even and usual == {full - 1} else None


def _apart(counts: Counter[str]) -> str | None:
    """The one channel whose number does not follow those of the others."""
    found = {name: _NUMBERED.fullmatch(name) for name in counts}
    if len(found) <= FEWEST or not all(found.values()):
        return None
    for odd in found:
        others = [match for name, match in found.items() if name != odd and match is not None]
        numbers = sorted(int(match[2]) for match in others)
        stems = {match[1] for match in others}
        own = found[odd]
        gaps = numbers[-1] - numbers[0] + 1 - len(numbers)
        if own is None or len(stems) != 1 or len(set(numbers)) != len(numbers) or gaps > 1:
            continue
        beyond = int(own[2]) > numbers[-1] + 2 and len(own[2]) > len(str(numbers[-1]))
        if beyond or own[1] not in stems:
            return odd
    return None


def _order(name: str) -> tuple[str, int]:
    match = _NUMBERED.fullmatch(name)
    return (name, 0) if match is None else (match[1], int(match[2]))
