"""Constraints held against a build: the one place that turns them into findings."""

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator
from itertools import accumulate

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label
from specgen.facts import Facts
from specgen.fitness import field_of
from specgen.fitness.cable_reach import connector_offers, unreached
from specgen.fitness.part_fields import can_state
from specgen.messages import AsWritten, Within, say
from specgen.model import Part, Population, expand
from specgen.quantity import Magnitude
from specgen.rules.constraints import (
    Alike,
    AtMost,
    Chain,
    Constraint,
    Counts,
    Covered,
    Enough,
    Grouping,
    InOrder,
    Lack,
    Member,
    Reached,
    Shortage,
    UnreachedLack,
    written_key,
)
from specgen.rules.places import names, places_for, settled


def violated(chain: Chain, assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    """What is found of the first constraint of a chain that a build breaks."""
    if assembly.build is None or chain.unclear(assembly):
        return
    for constraint in chain.constraints:
        found = list(_findings(constraint, assembly, facts))
        if found:
            yield from found
            return


def _findings(constraint: Constraint, assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    match constraint:
        case Alike():
            if constraint.asked(assembly.platform):
                yield from _odd(constraint, assembly)
        case AtMost():
            yield from _beyond(constraint, assembly)
        case Enough():
            yield from _short(constraint, assembly)
        case Reached():
            yield from _out_of_reach(constraint, assembly)
        case Covered():
            yield from _overloaded(constraint, assembly, facts)
        case InOrder():
            for index, entry in enumerate(constraint.orders(assembly)):
                early, due = out_of_order(assembly, entry)
                if early:
                    yield constraint.finding(assembly, index, early, due)


def _grouped(group: Grouping, members: Iterable[Member]) -> dict[Hashable, list[Member]]:
    groups: dict[Hashable, list[Member]] = {}
    for place, part in members:
        key = group(place, part)
        if key is not None:
            groups.setdefault(key, []).append((place, part))
    return groups


def _odd(constraint: Alike, assembly: Assembly) -> Iterator[Finding]:
    """In the first group that differs, what is unlike the most, with one of these."""
    meant = tuple(settled(assembly, constraint.among))
    fitted = {id(part): part for _, part in meant}  # few, in many places
    if len({field_of(part, constraint.trait) for part in fitted.values()} - {None}) < 2:
        return
    for members in _grouped(constraint.within, meant).values():
        values = [field_of(part, constraint.trait) for _, part in members]
        usual = Counter(values).most_common(1)[0][0]
        if len(set(values)) > 1:
            at = next(at for at, value in enumerate(values) if value != usual)
            (place, part), (like, other) = members[at], members[values.index(usual)]
            known = {
                "part": part.id,
                "title": Within(part.named()),
                "place": place.name,
                "value": AsWritten(values[at]),
                "other": other.id,
                "other_place": like.name,
                "other_value": AsWritten(usual),
                "channel": place.position.channel or "",
            }
            words = {
                **known,
                **{name: word.filled(**known) for name, word in constraint.words.items()},
            }
            yield Finding(
                constraint.code,
                constraint.message.filled(**words),
                Label(place.at, constraint.at.filled(**words)),
                labels=(
                    Label(like.at, constraint.other_label.filled(**words)),
                    *_demand(constraint, assembly),
                ),
                help=constraint.help.filled(**words) if constraint.help is not None else "",
            )
            return


def _demand(constraint: Alike, assembly: Assembly) -> Iterator[Label]:
    """Where the platform demands it."""
    if constraint.declared:
        table, key, _ = constraint.declared
        yield Label(assembly.platform.origin.at(table, written_key(key)), say("the demand"))


def _counts(constraint: AtMost, members: list[Member]) -> list[Member]:
    """Those of a group that count: of what counts once together, the first."""
    if constraint.distinct is None:
        return members
    first: dict[Hashable, Member] = {}
    for place, part in members:
        first.setdefault(constraint.distinct(place, part), (place, part))
    return list(first.values())


def _beyond(constraint: AtMost, assembly: Assembly) -> Iterator[Finding]:
    """At the first part of a group that goes beyond what is allowed."""
    fitted = assembly.fitted(Part)
    kinds = {type(part) for _, part in fitted}
    kinds = {kind for kind in kinds if can_state(kind, constraint.limit)}
    if not kinds:
        return
    counted = (each for each in settled(assembly) if constraint.amount(each[1]) is not None)
    groups = _grouped(constraint.group, counted)
    broken: set[Hashable] = set()
    for place, part in fitted:
        if type(part) not in kinds:
            continue
        limit = field_of(part, constraint.limit)
        group = None if limit is None else constraint.limits(place, part)
        if limit is None or group in broken:
            continue
        members = _counts(constraint, groups.get(group, []))
        sums = list(accumulate(constraint.amount(member) for _, member in members))
        if sums and sums[-1] > limit:
            broken.add(group)
            surplus = next(at for at, total in enumerate(sums) if total > limit)
            words = {
                "total": AsWritten(sums[-1]),
                "limit": AsWritten(limit),
                "part": part.id,
                "place": place.name,
                "members": names(member for member, _ in members),
            }
            yield Finding(
                constraint.code,
                constraint.message.filled(**words),
                Label(members[surplus][0].at, constraint.at.filled(**words)),
                labels=(
                    Label(part.origin.at(constraint.limit), constraint.other_label.filled(**words)),
                ),
                notes=() if constraint.note is None else (constraint.note.filled(**words),),
            )


def _short(constraint: Enough, assembly: Assembly) -> Iterator[Finding]:
    if constraint.places and not places_for(assembly, constraint.places):
        return
    fitted = assembly.fitted(Part)
    taken = _counted(constraint.taken, fitted)
    offered = _counted(constraint.offered, assembly.everything() if constraint.resting else fitted)
    standing = constraint.standing(assembly)
    groups = {*taken, *standing}
    if constraint.group_of is not None:
        groups &= {constraint.group_of(place) for place in places_for(assembly, constraint.places)}
    lacking: dict[Hashable, list[Lack]] = {}
    for group in sorted(groups):
        lack = Lack(
            group,
            tuple(taken.get(group, ())),
            tuple(offered.get(group, ())),
            standing.get(group, 0),
        )
        asked = sum(count for *_, count in lack.taken) + lack.standing
        if asked > sum(count for *_, count in lack.offered):
            line = lack.taken[0][0].at if len(lack.taken) == 1 else group
            lacking.setdefault(line, []).append(lack)
    for lacks in lacking.values():
        yield from constraint.findings(assembly, tuple(lacks))


def _counted(counts: Counts, members: Iterable[Member]) -> dict[str, list[tuple[Place, Part, int]]]:
    groups: dict[str, list[tuple[Place, Part, int]]] = {}
    for place, part in members:
        for group, count in counts(place, part):
            groups.setdefault(group, []).append((place, part, count))
    return groups


def _out_of_reach(constraint: Reached, assembly: Assembly) -> Iterator[Finding]:
    """Of each resource, in a smallest set of positions that too little reaches."""
    wanted = _counted(constraint.taken, assembly.fitted(Part))
    every = [offer for _, offer in connector_offers(assembly)] if wanted else []
    for resource, taken in sorted(wanted.items()):
        offers = [each for each in every if each.resource == resource]
        asked: Counter[str] = Counter()
        for place, _, count in taken:
            asked[place.name] += count
        short = unreached(asked, offers) if offers else ()
        if short:
            here = tuple((place, count) for place, _, count in taken if place.name in short)
            yield from constraint.findings(assembly, resource, UnreachedLack(here))


def _overloaded(constraint: Covered, assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    total, conditions = facts.value(constraint.fact), assembly.conditions
    offers = [
        (place, part, amount)
        for place, part in settled(assembly)
        if (amount := constraint.offered(part, conditions)) is not None
    ]
    if not offers or not isinstance(total, Magnitude):
        return
    members = tuple((place, part) for place, part, _ in offers)
    each = min(amount for _, _, amount in offers)
    for spare in dict.fromkeys((0, constraint.spare(conditions))):
        shortage = Shortage(total, each, members, spare)
        if total > shortage.left:
            yield constraint.finding(assembly, facts, shortage)
            return


def out_of_order(assembly: Assembly, entry: Population) -> tuple[list[Place], list[Place]]:
    """Places that are filled too early, and those that should be filled: both without a mistake
    empty and full of the order."""
    order = usable_in_order(assembly, entry)
    filled = sum(map(is_filled, order))
    return [place for place in order[filled:] if is_filled(place)], order[:filled]


def usable_in_order(assembly: Assembly, entry: Population) -> list[Place]:
    """The places of an order that can be filled, first to last."""
    named = dict.fromkeys(name for text in entry.order for name in expand(text))
    places = (assembly.places.get(name) for name in named)
    usable = (State.FILLED, State.EMPTY, State.UNKNOWN)
    return [place for place in places if place is not None and place.state in usable]


def is_filled(place: Place) -> bool:
    """Whether a part sits in a place, be it one that nothing defines."""
    return place.state in (State.FILLED, State.UNKNOWN)
