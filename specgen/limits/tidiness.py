"""What sets tidy builds apart from others that the checks accept: the same models throughout, a
cord for each power supply, memory alike behind each processor, nothing taken out that can stay.

All are sums for the goals of one run, and their truths are told to that run's model alone, a copy
of the builds' own that must gain none meanwhile: they are wanted few, so that each need only hold
where something is untidy. They say what is preferred, never what is allowed.
"""

from collections.abc import Hashable, Iterable, Iterator, Mapping
from itertools import combinations, pairwise
from typing import Any, Final

from specgen.facts.slots_and_bays import is_bay
from specgen.fitness import field_of
from specgen.limits.build_model import BuildModel, Seat
from specgen.limits.closure import PositionNode
from specgen.limits.sums import BoolVar
from specgen.model import Fill, Part, PowerCord, expand

Fills = Mapping[str, Fill]
NO_FILLS: Final[Fills] = {}

MODEL: Final = 3
"""What another model of part weighs, in parts: that many more of one model are the tidier."""
LACKED: Final = 2 * (MODEL + 1)
"""What a lack weighs: more than the part that fills it, were it the first of its model."""


def untidy(builds: BuildModel, model: Any) -> Any:
    """How untidy a build is that nobody has begun: its parts, their models, and what it lacks."""
    parts = sum(seat.sits for seat in _free(builds))
    lacks = sum((*_uncorded(builds, model, NO_FILLS), *_uneven(builds, model)))
    return parts + MODEL * models(builds, model) + LACKED * lacks


def uniform(builds: BuildModel, model: Any, kinds: tuple[type[Part], ...]) -> None:
    """Tells a run that parts of one kind and form factor are of one model: it then finds quickly
    what wishing for few models takes long to."""
    groups: dict[tuple[str, Any], dict[str, list[BoolVar]]] = {}
    for seat in _free(builds):
        alike = isinstance(seat.part, kinds) and not seat.part.brings.positions
        if alike and field_of(seat.part, "far_form") is None:
            group = groups.setdefault((seat.part.kind, field_of(seat.part, "form")), {})
            group.setdefault(seat.part.id, []).append(seat.sits)
    for group in groups.values():
        model.add_at_most_one(_where_any(model, found) for found in group.values())


def in_order(builds: BuildModel, model: Any) -> None:
    """Tells a run that bays for the same drives are filled from the first on, as a person would."""
    bays: dict[Hashable, list[PositionNode]] = {}
    for node in builds.nodes:
        if is_bay(node.place, node.bringer) and not node.fixed:
            host = None if node.host is None else node.host.index
            drives = tuple(part.id for part in node.parts)
            bays.setdefault((host, node.bringer and node.bringer.id, drives), []).append(node)
    for alike in bays.values():
        for first, second in pairwise(alike):
            earlier, later = (
                [seat.sits for seat in builds.at(node) if not seat.part.closes]
                for node in (first, second)
            )
            for sits in later:
                model.add_bool_or([sits.negated(), *earlier])


def as_filled(builds: BuildModel, model: Any, fills: Fills) -> None:
    """Tells a run that positions are filled, or empty, as they are: with other parts, as may be,
    and with cords where there were none."""
    for name in builds.named:
        seats = [seat for seat in builds.at_name(name) if not seat.node.fixed]
        if name in fills:
            model.add_bool_or([seat.sits for seat in seats])
        else:
            for seat in seats:
                if not isinstance(seat.part, PowerCord):
                    model.add_bool_or([seat.sits.negated()])


def strange(builds: BuildModel, fills: Fills) -> Any:
    """How many parts are of models that the build does not have yet."""
    known = {fill.part for fill in fills.values()}
    return sum(seat.sits for seat in _free(builds) if seat.part.id not in known)


def models(builds: BuildModel, model: Any) -> Any:
    """How many models of parts there are: eight drives of one model rather than of three."""
    seats: dict[str, list[BoolVar]] = {}
    for seat in _free(builds):
        seats.setdefault(seat.part.id, []).append(seat.sits)
    return sum(_where_any(model, found) for found in seats.values())


def emptied(builds: BuildModel, fills: Fills) -> Any:
    """How many positions that the build fills are left empty."""
    filled = sum(seat.sits for seat in _free(builds) if seat.node.name in fills)
    free = {seat.node.name for seat in _free(builds)}
    return sum(name in free for name in fills) - filled


def lacking(builds: BuildModel, model: Any, fills: Fills) -> Any:
    """How many positions a buyer would miss something in, beside what the build fills: a power
    supply's cord, where the build has cords, and a processor's memory, where another has some."""
    parts = builds.bare.definitions.parts
    corded = any(isinstance(parts.get(fill.part), PowerCord) for fill in fills.values())
    cords = _uncorded(builds, model, fills) if corded else ()
    return sum((*cords, *_unlike(builds, model, fills)))


def _free(builds: BuildModel) -> Iterator[Seat]:
    return (seat for seat in builds.seats.values() if not seat.node.fixed)


def _where_any(model: Any, literals: Iterable[BoolVar]) -> BoolVar:
    """A truth that holds at least where any of these does."""
    some = model.new_bool_var("")
    for each in literals:
        model.add_implication(each, some)
    return some


def _there(builds: BuildModel, model: Any, name: str) -> BoolVar:
    """A truth that holds at least where a part works in a position."""
    return _where_any(model, (seat.works for seat in builds.at_name(name)))


def _unless(model: Any, *where: BoolVar, then: Iterable[BoolVar] = ()) -> BoolVar:
    """A truth that holds at least where all these do and none of the others."""
    found = model.new_bool_var("")
    model.add_bool_or([found, *(each.negated() for each in where), *then])
    return found


def _uncorded(builds: BuildModel, model: Any, fills: Fills) -> Iterator[BoolVar]:
    """Power supplies beside those of the build that are fitted without a cord."""
    for node in builds.nodes:
        of = node.place.of
        if of is not None and of not in fills and PowerCord.kind in node.place.position.takes:
            cords = [seat.works for seat in builds.at(node)]
            if cords:
                yield _unless(model, _there(builds, model, of), then=cords)


def _orders(builds: BuildModel) -> Mapping[str, tuple[str, ...]]:
    """The memory slots of each processor in the order in which they are filled."""
    return {
        entry.of: tuple(name for text in entry.order for name in expand(text))
        for entry in builds.bare.platform.population
        if entry.of is not None
    }


def _uneven(builds: BuildModel, model: Any) -> Iterator[BoolVar]:
    """Memory slots that are filled behind one processor of two and not behind the other."""
    for (one, ones), (two, twos) in combinations(_orders(builds).items(), 2):
        if len(ones) != len(twos):
            continue
        there = [_there(builds, model, each) for each in (one, two)]
        for name, other in zip(ones, twos, strict=True):
            for full, void in ((name, other), (other, name)):
                filled = _where_any(model, _sits(builds, full))
                yield _unless(model, *there, filled, then=_sits(builds, void))


def _unlike(builds: BuildModel, model: Any, fills: Fills) -> Iterator[BoolVar]:
    """Memory slots of a processor that the build does not have, filled otherwise than the slot of
    the same rank in the order of a processor that it has."""
    orders = _orders(builds)
    for of, names in orders.items():
        like = next((each for owner, each in orders.items() if owner in fills), ())
        if of in fills or len(like) != len(names):
            continue
        there = _there(builds, model, of)
        for name, other in zip(names, like, strict=True):
            unlike = model.new_bool_var("")
            for full, void in ((name, other), (other, name)):
                for seat in builds.at_name(full):
                    same = _sits(builds, void, seat.part.id)
                    model.add_bool_or([unlike, there.negated(), seat.sits.negated(), *same])
            yield unlike


def _sits(builds: BuildModel, name: str, part: str = "") -> Iterator[BoolVar]:
    """That a part, or any, sits in a position."""
    seats: Iterator[Seat] = builds.at_name(name)
    return (seat.sits for seat in seats if not part or seat.part.id == part)
