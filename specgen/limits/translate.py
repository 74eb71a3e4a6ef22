"""What the checks demand, told the solver: the one translation of requirements and constraints.

The values stand in `specgen.fitness` and `specgen.rules`. What has no form there (volumes, splits,
drives by port, all that only warns) is left to the checks, which judge every answer.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from contextlib import AbstractContextManager
from decimal import Decimal
from functools import partial
from itertools import pairwise
from typing import Any

from specgen.diagnostics import Code, Span, codes
from specgen.fitness import REQUIREMENTS, Requirement, Surroundings, field_of, refusals
from specgen.fitness.part_fields import kinds_with
from specgen.limits.machine import Machine, Seat
from specgen.limits.reason import Reason, Sort
from specgen.limits.solver import Literal, Sum
from specgen.limits.totals import TOTALS
from specgen.messages import Message, say
from specgen.model import Part, Population, expand
from specgen.quantity import Quantity
from specgen.rules import CONSTRAINTS
from specgen.rules.constraints import Alike, AtMost, Constraint, Counts, Covered, Enough, InOrder
from specgen.rules.cooling import class_allows

Terms = list[tuple[Decimal, Literal]]


def translate(machine: Machine) -> None:
    """Tells the solver everything that parts must meet in their places and demand of one another.

    The domain of each place holds only what suits it already, so that of the requirements those
    are left that hang on what is chosen elsewhere, and those of soldered parts.
    """
    for row in REQUIREMENTS:
        if row.relation:
            with _because(machine, row.code, row.statement):
                _related(machine, row)
    _soldered(machine)
    for chain in CONSTRAINTS:
        for constraint in chain.constraints:
            _TRANSLATIONS[type(constraint)](machine, constraint)
    if not class_allows(machine.bare):
        with _because(machine, codes.INLET_TOO_WARM, say("the class allows the inlet air")):
            machine.puzzle.never()


def _because(
    machine: Machine, code: Code, statement: Message, at: Span | None = None
) -> AbstractContextManager[None]:
    at = at or machine.bare.platform.origin.at("id")
    return machine.puzzle.because(Sort.CHECK, partial(Reason, Sort.CHECK, statement, at, code.id))


def _related(machine: Machine, row: Requirement) -> None:
    """Parts of one value never work with a part of another in the position related to theirs."""
    puzzle = machine.puzzle
    seats: dict[tuple[str, Any], list[Seat]] = {}
    for seat in machine.working(Part):
        name, has = getattr(seat.node.place, row.relation), row.has(seat.part)
        if name is not None and has is not None:
            seats.setdefault((name, has), []).append(seat)
    for (name, _), alike in seats.items():
        place, part = alike[0].node.place, alike[0].part
        for other in machine.at_name(name):
            around = Surroundings(machine.bare, {name: other.part})
            if row.refusal(place, part, around) is not None:
                puzzle.never(other.works, puzzle.either(seat.works for seat in alike))


def _soldered(machine: Machine) -> None:
    """What is soldered in and does not suit its place never works."""
    for node in machine.nodes:
        around = Surroundings(machine.bare, _bringers(machine, node.index))
        for seat in machine.at(node) if node.fixed else ():
            for refusal in refusals(node.place, seat.part, around):
                if not refusal.requirement.relation:
                    said = say("{part} suits {place}", part=seat.part.name, place=node.name)
                    with _because(machine, refusal.code, said):
                        machine.puzzle.never(seat.works)


def _bringers(machine: Machine, index: int) -> dict[str, Part]:
    node = machine.nodes[index]
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


def _alike(machine: Machine, constraint: Alike) -> None:
    puzzle = machine.puzzle
    with _because(machine, constraint.code, constraint.statement):
        for seats in _by(machine.working(Part), partial(_in_group, constraint)).values():
            values: dict[Hashable, list[Literal]] = {}
            for models in _by(seats, lambda seat: seat.part.id).values():
                some = puzzle.either(seat.works for seat in models)
                values.setdefault(field_of(models[0].part, constraint.trait), []).append(some)
            puzzle.at_most_one(puzzle.either(group) for group in values.values())


def _at_most(machine: Machine, constraint: AtMost) -> None:
    def group(seat: Seat) -> Hashable | None:
        counts = constraint.amount(seat.part) is not None
        return constraint.group(seat.node.place, seat.part) if counts else None

    puzzle, everything = machine.puzzle, list(machine.working(Part))
    members = _by(everything, group)
    setting = _by(everything, lambda seat: _limited(constraint, seat))
    with _because(machine, constraint.code, constraint.statement):
        for setters in setting.values():
            place, part = setters[0].node.place, setters[0].part
            counted = members.get(constraint.limits(place, part), [])
            terms = [(_number(constraint.amount(seat.part)), seat.works) for seat in counted]
            total = Sum(tuple(terms), -_number(field_of(part, constraint.limit)))
            if {id(seat) for seat in counted} <= {id(seat) for seat in setters}:
                puzzle.at_most(total)
            else:
                puzzle.at_most(total, puzzle.either(seat.works for seat in setters))


def _limited(constraint: AtMost, seat: Seat) -> Hashable | None:
    """The group that a part sets a limit for, with the limit."""
    group, limit = (
        constraint.limits(seat.node.place, seat.part),
        field_of(seat.part, constraint.limit),
    )
    return None if group is None or limit is None else (group, limit)


def _number(amount: int | Quantity | None) -> Decimal:
    return amount.amount if isinstance(amount, Quantity) else Decimal(amount or 0)


def _enough(machine: Machine, constraint: Enough) -> None:
    bare, puzzle, where = machine.bare, machine.puzzle, []
    working = list(machine.working(Part))
    taken = _terms(constraint.taken, ((seat, seat.works) for seat in working))
    if constraint.resting:
        offered = _terms(constraint.offered, ((s, s.sits) for s in machine.seats.values()))
    else:
        offered = _terms(constraint.offered, ((seat, seat.works) for seat in working))
    standing = constraint.standing(bare)
    if constraint.places:
        kinds = kinds_with(bare.definitions, constraint.places)
        taking = (node for node in machine.nodes if kinds.intersection(node.place.position.takes))
        where = [puzzle.either(machine.exists(node) for node in taking)]
    for group in sorted({*taken, *standing}):
        less = [(-count, literal) for count, literal in offered.get(group, ())]
        words = constraint.statement.filled(group=bare.definitions.term(group))
        declared = group in bare.platform.resources
        at = bare.platform.origin.at("resources", group) if declared else None
        with _because(machine, constraint.code, words, at):
            total = Sum((*taken.get(group, ()), *less), Decimal(standing.get(group, 0)))
            puzzle.at_most(total, *where)


def _terms(counts: Counts, seats: Iterable[tuple[Seat, Literal]]) -> Mapping[str, Terms]:
    found: dict[str, Terms] = {}
    for seat, literal in seats:
        for group, count in counts(seat.node.place, seat.part):
            found.setdefault(group, []).append((Decimal(count), literal))
    return found


def _within(machine: Machine, constraint: Covered) -> None:
    """Whichever of those that offer anything are lost: the greatest that is there, say."""
    puzzle, conditions = machine.puzzle, machine.bare.conditions
    offers: dict[Decimal, list[Literal]] = {}
    for seat in machine.working(Part):
        amount = constraint.offered(seat.part, conditions)
        if amount is not None:
            offers.setdefault(amount.amount, []).append(seat.works)
    everything = tuple((-amount, each) for amount, found in offers.items() for each in found)
    total = TOTALS[constraint.fact](machine).plus(Sum(everything))
    with _because(machine, constraint.code, constraint.statement):
        for each, found in offers.items():
            lost = Sum((), each * constraint.spare(conditions))
            puzzle.at_most(total.plus(lost), puzzle.either(found))


def _in_order(machine: Machine, constraint: InOrder) -> None:
    with _because(machine, constraint.code, constraint.statement):
        for entry in constraint.orders(machine.bare):
            for later, earlier in _steps(machine, entry):
                machine.puzzle.implies(later, earlier)


def _steps(machine: Machine, entry: Population) -> Iterator[tuple[Literal, Literal]]:
    """Places of an order that are filled one after the other.

    Only neighbours in the order whose owner is the same, which are usable together.
    """
    blocked = machine.blocked()
    names = [name for text in entry.order for name in expand(text)]
    for first, second in pairwise(names):
        one, two = machine.named.get(first, []), machine.named.get(second, [])
        if len(one) != 1 or len(two) != 1:
            continue
        alike = one[0].host is two[0].host and one[0].place.of == two[0].place.of
        bound = any(node.place.lead is not None for node in (*one, *two))
        if alike and not bound and one[0].index not in blocked:
            yield machine.works(two[0]), machine.works(one[0])


_TRANSLATIONS: Mapping[type[Constraint], Callable[[Machine, Any], None]] = {
    Alike: _alike,
    AtMost: _at_most,
    Enough: _enough,
    Covered: _within,
    InOrder: _in_order,
}
