"""Whether one part suits one place: decided here for the checks, the pages and the solver alike.

Every requirement is a row of `table.REQUIREMENTS`; what is known round the place comes along as
`Surroundings`. What several parts demand of one another stands in `specgen.rules`.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any, Final

from specgen.assembly import Assembly, Place
from specgen.fitness.part_fields import can_state, field_of
from specgen.fitness.requirement import Refusal, Requirement, Surroundings
from specgen.fitness.table import KIND, REQUIREMENTS
from specgen.model import Definitions, Part, Position


def within(assembly: Assembly) -> Surroundings:
    """What is known in a build: all of it."""
    build = assembly.build
    return Surroundings(assembly, published=build is None or build.published)


def around(
    assembly: Assembly, place: Place, bringer: Part | None = None, published: bool = True
) -> Surroundings:
    """What is known to somebody who chooses: the system as far as it is filled, and the part that
    brings the place, where it does not sit there yet."""
    known = {} if bringer is None else {place.host or "": bringer}
    return Surroundings(assembly, known, published)


def refusals(place: Place, part: Part, surroundings: Surroundings) -> Iterator[Refusal]:
    """Everything in which a part does not suit a place, in the order of the table."""
    out = False
    for row, has in _asked_of(place.position, part):
        if out and not row.goes_in:
            return
        refusal = row.refusal_of(has, place, part, surroundings)
        if refusal is not None:
            yield refusal
            out |= row.goes_in
            if row.final:
                return


Asked = tuple[tuple[Requirement, Any], ...]
_ROWS: dict[type[Part], tuple[Requirement, ...]] = {}  # by kind
_STATED: dict[int, tuple[Part, Asked]] = {}  # by identity: to hash a part takes long
_ASKED: dict[tuple[int, int], tuple[Position, Part, Asked]] = {}
_MOST_KEPT: Final = 50_000


def _asked_of(position: Position, part: Part) -> Asked:
    """The rows that are still to be asked of a part in places that share a position, each with what
    the part has: the position itself is content with most."""
    kept = _ASKED.get((id(position), id(part)))
    if kept is None or kept[0] is not position or kept[1] is not part:
        if len(_ASKED) >= _MOST_KEPT:
            _ASKED.clear()
        asked = tuple(each for each in _stated_by(part) if not each[0].met_in(position, each[1]))
        kept = _ASKED[id(position), id(part)] = position, part, asked
    return kept[2]


def _stated_by(part: Part) -> Asked:
    """The rows that ask something of a part, a third of them for most, each with what it has."""
    kept = _STATED.get(id(part))
    if kept is None or kept[0] is not part:
        if len(_STATED) >= _MOST_KEPT:
            _STATED.clear()
        stated = ((row, row.has(part)) for row in _rows_of(type(part)))
        kept = _STATED[id(part)] = part, tuple(each for each in stated if each[1] is not None)
    return kept[1]


def _rows_of(kind: type[Part]) -> tuple[Requirement, ...]:
    """The rows of which parts of a kind can state a field: half of them, for most kinds."""
    if kind not in _ROWS:
        _ROWS[kind] = tuple(
            row for row in REQUIREMENTS if any(can_state(kind, path) for path in row.fields)
        )
    return _ROWS[kind]


def accepts(place: Place, part: Part, surroundings: Surroundings) -> bool:
    """Whether a part suits a place in every respect."""
    return all(
        row.refusal_of(has, place, part, surroundings) is None for row, has in _stated_by(part)
    )


def goes_in(place: Place, part: Part, surroundings: Surroundings) -> bool:
    """Whether a part goes into a place at all, whatever it draws, costs or waits for."""
    return all(
        row.refusal_of(has, place, part, surroundings) is None
        for row, has in _stated_by(part)
        if row.goes_in
    )


def candidates(
    place: Place, surroundings: Surroundings, among: Callable[[Part], bool] | None = None
) -> tuple[Part, ...]:
    """All parts that suit a place, by id, or those `among` some; where one is soldered in, that
    one."""
    definitions, fixed = surroundings.assembly.definitions, place.position.fixed
    if fixed is not None:
        return (definitions.parts[fixed],) if fixed in definitions.parts else ()
    suiting: list[Part] = []
    for parts in _by_kind(definitions):
        some = parts[0]  # stands for all of its kind, but for what may be the place's own blank
        if some.closes or KIND.refusal(place, some, surroundings) is None:
            asked = parts if among is None else filter(among, parts)
            suiting += (part for part in asked if accepts(place, part, surroundings))
    return tuple(sorted(suiting, key=lambda part: part.id))


@lru_cache(maxsize=8)
def _by_kind(definitions: Definitions) -> tuple[tuple[Part, ...], ...]:
    kinds: dict[str, list[Part]] = {}
    for part in definitions.parts.values():
        kinds.setdefault(part.kind, []).append(part)
    return tuple(map(tuple, kinds.values()))


def alternatives(place: Place, part: Part, surroundings: Surroundings) -> tuple[Part, ...]:
    """Other parts of the same kind that would suit a place and can be ordered, by id.

    None for what has a far end: whether that goes in somewhere is another question.
    """
    if field_of(part, "far_form") is not None:
        return ()
    known = replace(surroundings, published=True)
    return tuple(
        other
        for other in candidates(place, known)
        if other.kind == part.kind and other.id != part.id
    )


__all__ = [
    "REQUIREMENTS",
    "Refusal",
    "Requirement",
    "Surroundings",
    "accepts",
    "alternatives",
    "around",
    "candidates",
    "field_of",
    "goes_in",
    "refusals",
    "within",
]
