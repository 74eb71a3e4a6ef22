"""What the checks demand, told the solver: the one translation of requirements and constraints.

The values stand in `specgen.fitness` and `specgen.rules`. What has no form there (volumes, splits,
drives by port, all that only warns) is left to the checks, which judge every answer.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from contextlib import AbstractContextManager
from decimal import ROUND_CEILING, Decimal
from functools import partial
from itertools import pairwise
from typing import Any, Final

from specgen.diagnostics import Code, Span, codes
from specgen.facts import facts_of
from specgen.fitness import REQUIREMENTS, Requirement, Surroundings, field_of, refusals
from specgen.fitness.cable_reach import CableOffer, offers_of
from specgen.fitness.part_fields import kinds_with
from specgen.limits.build_model import BuildModel, Seat
from specgen.limits.closure import PositionNode
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.solver import Logic
from specgen.limits.spare_positions import declared_name
from specgen.limits.sums import ONE, BoolVar, Sum
from specgen.limits.totals import TOTALS
from specgen.messages import AsWritten, Message, say
from specgen.model import Part, Population, expand
from specgen.quantity import Mass, Quantity
from specgen.rules import CONSTRAINTS
from specgen.rules.constraints import (
    Alike,
    AtMost,
    Constraint,
    Counts,
    Covered,
    Enough,
    InOrder,
    Reached,
)
from specgen.rules.cooling import class_refusal
from specgen.rules.judged import breaches
from specgen.rules.rack import CHASSIS_GOES_IN, WEIGHT_ALLOWED

Terms = list[tuple[Decimal, BoolVar]]
GRAM: Final = Decimal("0.001")


def translate(builds: BuildModel) -> None:
    """Tells the solver everything that parts must meet in their places and demand of one another.

    The domain of each place holds only what suits it already, so that of the requirements those
    are left that hang on what is chosen elsewhere, and those of soldered parts.
    """
    for row in REQUIREMENTS:
        if row.relation:
            with _because(builds, row.code, row.statement):
                _related(builds, row)
    _soldered(builds)
    for chain in CONSTRAINTS:
        for constraint in chain.constraints:
            _TRANSLATIONS[type(constraint)](builds, constraint)
    refusal = class_refusal(builds.bare)
    if refusal is not None:
        at = builds.bare.platform.origin.at("operating_class")
        with _because(builds, codes.INLET_TOO_WARM, refusal, at):
            builds.logic.never()
    _racked(builds)


def _racked(builds: BuildModel) -> None:
    """The rack and the floor that conditions state: room for the chassis, and weight."""
    bare, logic = builds.bare, builds.logic
    facts = facts_of(bare)
    for breach in breaches(facts):
        field = CHASSIS_GOES_IN.get(breach.row.fact)
        if field is not None:
            words, at = breach.words(bare, facts), bare.platform.origin.at(*field)
            with _because(builds, breach.row.code, words, at):
                logic.never()
    for code, statement, allowed in WEIGHT_ALLOWED:
        most = allowed(bare.conditions)
        if most is not None:
            # up to a whole gram, so that sums stay whole; the checks judge to the last digit
            whole = most.amount.quantize(GRAM, ROUND_CEILING)
            with _because(builds, code, statement.filled(most=AsWritten(Mass.of(whole)))):
                logic.at_most(TOTALS["mechanics.mass"](builds).plus(Sum((), -whole)))


def _because(
    builds: BuildModel, code: Code, statement: Message, at: Span | None = None
) -> AbstractContextManager[None]:
    at = at or builds.bare.platform.origin.at("id")
    return builds.logic.because(
        ReasonKind.CHECK, partial(Reason, ReasonKind.CHECK, statement, at, code.id)
    )


def _filled(statement: Message, **values: object) -> Message:
    """A statement with those values that its pattern names, so that what reads alike is one."""
    named = {name: value for name, value in values.items() if f"{{{name}}}" in statement.text}
    return statement.filled(**named) if named else statement


def _related(builds: BuildModel, row: Requirement) -> None:
    """Parts of one value never work with a part of another in the position related to theirs."""
    logic = builds.logic
    seats: dict[tuple[str, Any], list[Seat]] = {}
    for seat in builds.working(Part):
        name, has = getattr(seat.node.place, row.relation), row.has(seat.part)
        if name is not None and has is not None:
            seats.setdefault((name, has), []).append(seat)
    for (name, _), alike in seats.items():
        place, part = alike[0].node.place, alike[0].part
        for other in builds.at_name(name):
            around = Surroundings(builds.bare, {name: other.part})
            if row.refusal(place, part, around) is not None:
                logic.never(other.works, logic.either(seat.works for seat in alike))


def _soldered(builds: BuildModel) -> None:
    """What is soldered in and does not suit its place never works."""
    for node in builds.nodes:
        around = Surroundings(builds.bare, _bringers(builds, node.index))
        for seat in builds.at(node) if node.fixed else ():
            for refusal in refusals(node.place, seat.part, around):
                if not refusal.requirement.relation:
                    words = say("{part} suits {place}", part=seat.part.name, place=node.name)
                    with _because(builds, refusal.code, words):
                        builds.logic.never(seat.works)


def _bringers(builds: BuildModel, index: int) -> dict[str, Part]:
    node = builds.nodes[index]
    return {} if node.host is None or node.bringer is None else {node.host.name: node.bringer}


def _by(
    seats: Iterable[Seat], value: Callable[[Seat], Hashable | None]
) -> dict[Hashable, list[Seat]]:
    found: dict[Hashable, list[Seat]] = {}
    for seat in seats:
        key = value(seat)
        if key is not None:
            found.setdefault(key, []).append(seat)
    return found


def _in_group(constraint: Alike, seat: Seat) -> Hashable | None:
    return constraint.within(seat.node.place, seat.part)


def _alike(builds: BuildModel, constraint: Alike) -> None:
    logic = builds.logic
    if not constraint.asked(builds.bare.platform):
        return
    with _because(builds, constraint.code, constraint.statement):
        for seats in _by(builds.working(Part), partial(_in_group, constraint)).values():
            values: dict[Hashable, list[BoolVar]] = {}
            for models in _by(seats, lambda seat: seat.part.id).values():
                some = logic.either(seat.works for seat in models)
                values.setdefault(field_of(models[0].part, constraint.trait), []).append(some)
            logic.at_most_one(logic.either(group) for group in values.values())


def _at_most(builds: BuildModel, constraint: AtMost) -> None:
    def group(seat: Seat) -> Hashable | None:
        counts = constraint.amount(seat.part) is not None
        return constraint.group(seat.node.place, seat.part) if counts else None

    logic, everything = builds.logic, list(builds.working(Part))
    members = _by(everything, group)
    setting = _by(everything, lambda seat: _limited(constraint, seat))
    for setters in setting.values():
        place, part = setters[0].node.place, setters[0].part
        limit = field_of(part, constraint.limit)
        counted = members.get(constraint.limits(place, part), [])
        terms = _amounts(builds, constraint, counted)
        total = Sum(tuple(terms), -_number(limit))
        words = _filled(constraint.statement, limit=AsWritten(limit))
        with _because(builds, constraint.code, words):
            if {id(seat) for seat in counted} <= {id(seat) for seat in setters}:
                logic.at_most(total)
            else:
                logic.at_most(total, logic.either(seat.works for seat in setters))


def _amounts(builds: BuildModel, constraint: AtMost, counted: list[Seat]) -> Terms:
    """What each counts, when it works; what counts once together, when any of it does."""
    distinct = constraint.distinct
    if distinct is None:
        return [(_number(constraint.amount(seat.part)), seat.works) for seat in counted]
    shared = _by(counted, lambda seat: distinct(seat.node.place, seat.part))
    return [
        (_number(constraint.amount(seats[0].part)), builds.logic.either(s.works for s in seats))
        for seats in shared.values()
    ]


def _limited(constraint: AtMost, seat: Seat) -> Hashable | None:
    """The group that a part sets a limit for, with the limit."""
    group, limit = (
        constraint.limits(seat.node.place, seat.part),
        field_of(seat.part, constraint.limit),
    )
    return None if group is None or limit is None else (group, limit)


def _number(amount: int | Quantity | None) -> Decimal:
    return amount.amount if isinstance(amount, Quantity) else Decimal(amount or 0)


def _enough(builds: BuildModel, constraint: Enough) -> None:
    bare, logic, where = builds.bare, builds.logic, []
    working = list(builds.working(Part))
    taken = _terms(constraint.taken, ((seat, seat.works) for seat in working))
    if constraint.resting:
        offered = _terms(constraint.offered, ((s, s.sits) for s in builds.seats.values()))
    else:
        offered = _terms(constraint.offered, ((seat, seat.works) for seat in working))
    standing = constraint.standing(bare)
    asking: dict[str | None, list[BoolVar]] = {}
    if constraint.places:
        kinds, named = kinds_with(bare.definitions, constraint.places), constraint.group_of
        for node in builds.nodes:
            if kinds.intersection(node.place.position.takes):
                of = None if named is None else named(node.place)
                asking.setdefault(of, []).append(builds.exists(node))
    for group in sorted({*taken, *standing}):
        if constraint.places:
            where = [logic.either(asking.get(None if constraint.group_of is None else group, ()))]
        less = [(-count, literal) for count, literal in offered.get(group, ())]
        words = _filled(
            constraint.statement, group=bare.definitions.term(group), count=standing.get(group, 0)
        )
        declared = group in bare.platform.resources
        at = bare.platform.origin.at("resources", group) if declared else None
        with _because(builds, constraint.code, words, at):
            total = Sum((*taken.get(group, ()), *less), Decimal(standing.get(group, 0)))
            logic.at_most(total, *where)


def _terms(counts: Counts, seats: Iterable[tuple[Seat, BoolVar]]) -> Mapping[str, Terms]:
    found: dict[str, Terms] = {}
    for seat, literal in seats:
        for group, count in counts(seat.node.place, seat.part):
            found.setdefault(group, []).append((Decimal(count), literal))
    return found


def _reached(builds: BuildModel, constraint: Reached) -> None:
    """As many connectors are handed to positions as are taken there, each to one that it reaches.

    Positions that the same connectors reach share what is handed to any of them.
    """
    logic, platform = builds.logic, builds.bare.platform
    offered: dict[str, dict[frozenset[str] | None, Sum]] = {}

    def offers(found: Iterable[tuple[CableOffer, frozenset[str] | None]], there: Any) -> None:
        for offer, reach in found:
            by_reach = offered.setdefault(offer.resource, {})
            amount = Decimal(offer.count)
            more = Sum((), amount) if there is None else Sum(((amount, there),))
            by_reach[reach] = by_reach.get(reach, Sum()).plus(more)

    offers(_reaches(builds, offers_of(platform, None, 0), None), None)
    taken: dict[str, list[tuple[str, Decimal, BoolVar]]] = {}
    for seat in builds.working(Part):
        own = offers_of(seat.part.brings, seat.node.name, seat.node.place.position.offset)
        offers(_reaches(builds, own, seat), seat.works)
        for resource, count in constraint.taken(seat.node.place, seat.part):
            taken.setdefault(resource, []).append((seat.node.name, Decimal(count), seat.works))
    for resource, takers in taken.items():
        by_reach = offered.get(resource, {})
        if by_reach and set(by_reach) != {None}:
            words = _filled(constraint.statement, group=builds.bare.definitions.term(resource))
            with _because(builds, constraint.code, words):
                _handed(logic, takers, by_reach)


def _reaches(
    builds: BuildModel, offers: Iterable[CableOffer], seat: Seat | None
) -> Iterator[tuple[CableOffer, frozenset[str] | None]]:
    """What is offered, with the positions that it reaches: spare ones like those that are named,
    but not those of a spare of the part that offers it."""
    for offer in offers:
        reach = offer.reach
        yield (
            offer,
            reach
            if reach is None
            else frozenset(
                node.name
                for node in builds.nodes
                if declared_name(node.name) in reach and not _of_its_twin(node, seat)
            ),
        )


def _of_its_twin(node: PositionNode, seat: Seat | None) -> bool:
    if node.host is None or seat is None or node.host is seat.node:
        return False
    return declared_name(node.host.name) == declared_name(seat.node.name)


def _handed(
    logic: Logic,
    takers: Iterable[tuple[str, Decimal, BoolVar]],
    offered: Mapping[frozenset[str] | None, Sum],
) -> None:
    """As many go from what is offered to each group of takers as it takes, and no more than are."""
    groups: dict[tuple[bool, ...], Terms] = {}
    for name, count, works in takers:
        reached = tuple(reach is None or name in reach for reach in offered)
        groups.setdefault(reached, []).append((count, works))
    handed: list[Terms] = [[] for _ in offered]
    for reached, terms in groups.items():
        got: Terms = []
        for to, (_, total), serves in zip(handed, offered.items(), reached, strict=True):
            if serves:
                number = logic.number(sum((count for count, _ in total.terms), total.constant))
                to.append((ONE, number))
                got.append((-ONE, number))
        logic.at_most(Sum((*terms, *got)))
    for to, total in zip(handed, offered.values(), strict=True):
        logic.at_most(Sum(tuple(to)).plus(total, -1))


def _within(builds: BuildModel, constraint: Covered) -> None:
    """Whichever of those that offer anything are lost: the greatest that is there, say."""
    logic, conditions = builds.logic, builds.bare.conditions
    offers: dict[Decimal, list[BoolVar]] = {}
    for seat in builds.working(Part):
        amount = constraint.offered(seat.part, conditions)
        if amount is not None:
            offers.setdefault(amount.amount, []).append(seat.works)
    everything = tuple((-amount, each) for amount, found in offers.items() for each in found)
    total = TOTALS[constraint.fact](builds).plus(Sum(everything))
    with _because(builds, constraint.code, constraint.statement):
        for each, found in offers.items():
            lost = Sum((), each * constraint.spare(conditions))
            logic.at_most(total.plus(lost), logic.either(found))


def _in_order(builds: BuildModel, constraint: InOrder) -> None:
    with _because(builds, constraint.code, constraint.statement):
        for entry in constraint.orders(builds.bare):
            for later, earlier in _steps(builds, entry):
                builds.logic.implies(later, earlier)


def _steps(builds: BuildModel, entry: Population) -> Iterator[tuple[BoolVar, BoolVar]]:
    """Places of an order that are filled one after the other.

    Only neighbours in the order whose owner is the same, which are usable together.
    """
    blocked = builds.blocked()
    names = [name for text in entry.order for name in expand(text)]
    for first, second in pairwise(names):
        one, two = builds.named.get(first, []), builds.named.get(second, [])
        if len(one) != 1 or len(two) != 1:
            continue
        alike = one[0].host is two[0].host and one[0].place.of == two[0].place.of
        bound = any(node.place.lead is not None for node in (*one, *two))
        if alike and not bound and one[0].index not in blocked:
            yield builds.works(two[0]), builds.works(one[0])


_TRANSLATIONS: Mapping[type[Constraint], Callable[[BuildModel, Any], None]] = {
    Alike: _alike,
    AtMost: _at_most,
    Enough: _enough,
    Reached: _reached,
    Covered: _within,
    InOrder: _in_order,
}
