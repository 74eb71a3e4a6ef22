"""Amounts several times those of all parts alike: a point lost, a digit or a prefix too many.

Parts of one kind, form, medium and interface have much in common. Where at least four of them are
close to one another in a field, one that is far from all of them is doubted; where they differ
among themselves, nothing is said. The numbers are common practice, without a source.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any, Final, NamedTuple

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.fitness import field_of
from specgen.fitness.part_fields import can_state
from specgen.messages import AsWritten, say
from specgen.model import Definitions, Part
from specgen.quantity import Quantity

ALIKE: Final = ("form", "medium", "interface", "technology", "socket")
"""Fields that parts are alike by, beside their kind."""
HELD: Final = (
    *("mass", "power.idle", "power.typical", "power.maximum", "read", "write", "noise"),
    *("airflow", "input_current", "mean_time_between_failures", "size.width", "size.height"),
    *("size.depth", "tdp_limit", "load_rating", "adjusts_from", "adjusts_to", "adds_depth"),
)
"""Fields that are alike in parts alike."""
ENOUGH: Final = 4
"""So many others tell what is usual."""
CLOSE: Final = 3
"""They are close where the greatest is less than so many times the least."""
FAR: Final = 5
"""And so many times above the greatest, or below the least, is far."""
TIGHT, FAR_OF_TIGHT = Fraction(4, 3), Fraction(5, 2)
"""Of weights that are within a third of one another, this is far: that of a box of two."""


PROPORTIONAL: Final = (
    ("airflow", "power.maximum"),
    ("mass", "length"),
    ("mass", "tdp_limit"),
    ("cache", "cores"),
    ("power.maximum", "tdp"),
    ("load_rating", "mass"),
    ("memory_bandwidth", "memory"),
    ("mass", "output"),
    ("random_reads", "read"),
    ("random_writes", "write"),
)
"""Fields of which the first grows with the second, from the smallest part of a kind to the
largest: a longer cable weighs more, a fan that moves more air draws more."""
ENOUGH_PROPORTIONS: Final = 3
"""So many others of one proportion tell what is usual."""

BEYOND: Final = Decimal("4.5")
"""So many times the heaviest of its kind, or lighter than the lightest, nothing is by design."""


class _Stated(NamedTuple):
    part: Part
    value: Quantity
    name: str

    @property
    def at(self) -> Span:
        return _at(self.part, self.name)


def unlike_siblings(definitions: Definitions) -> Iterator[Finding]:
    """SG128 for each amount that is far from those of all parts alike."""
    told: set[Span] = set()
    for group in groups(definitions).values():
        if len(group) <= ENOUGH:
            continue
        for name in HELD:
            for each in _far(name, _values(group, name)):
                told.add(each.at.span)
                yield each
    for group in groups(definitions, ()).values():
        for each in _out_of_all(_values(group, "mass")):
            if each.at.span not in told:
                told.add(each.at.span)
                yield each
    for by in (ALIKE, ("medium",)):
        for group in groups(definitions, by).values():
            for each in _out_of_proportion(group):
                spans = {each.at.span, *(label.span for label in each.labels[:1])}
                if not told & spans:
                    told |= spans
                    yield each
    yield from _other_way_round(definitions)


@lru_cache(maxsize=8)  # asked for by each sort of comparison
def groups(
    definitions: Definitions, alike: tuple[str, ...] = ALIKE
) -> Mapping[tuple[Any, ...], list[Part]]:
    """Parts of one kind that are alike in the fields named."""
    found: dict[tuple[Any, ...], list[Part]] = {}
    for part in definitions.parts.values():
        key = (part.kind, *(getattr(part, name, None) for name in alike))
        found.setdefault(key, []).append(part)
    return found


def _values(group: list[Part], name: str) -> list[_Stated]:
    if not can_state(type(group[0]), name):
        return []
    known = ((part, field_of(part, name)) for part in group)
    return [
        _Stated(part, value, name)
        for part, value in known
        if isinstance(value, Quantity) and value.amount > 0
    ]


def _at(part: Part, name: str) -> Span:
    return part.origin.at(*name.split("."))


def _out_of_all(stated: list[_Stated]) -> Iterator[Finding]:
    """A weight far out of those of all parts of a kind, however these differ among themselves."""
    once = {each.at: each for each in stated}  # what a group has in common is one value
    ranked = sorted(once.values(), key=lambda each: each.value.amount)
    if len(ranked) > ENOUGH:
        for odd, others in ((ranked[0], ranked[1:]), (ranked[-1], ranked[:-1])):
            least, most = others[0].value, others[-1].value
            if _of_its_own(odd.part, [each.part for each in others]):
                continue
            if most.amount * BEYOND < odd.value.amount or odd.value.amount * BEYOND < least.amount:
                yield _odd("mass", odd, others)


def _of_its_own(part: Part, others: list[Part]) -> bool:
    """Whether no other has its form factor: an M.2 drive weighs a tenth of one in a bay."""
    form = getattr(part, "form", None)
    return form is not None and all(getattr(each, "form", None) != form for each in others)


def _far(name: str, stated: list[_Stated]) -> Iterator[Finding]:
    if len(stated) <= ENOUGH:
        return
    ranked = sorted(stated, key=lambda each: each.value.amount)
    for odd, others in ((ranked[0], ranked[1:]), (ranked[-1], ranked[:-1])):
        least, most = others[0].value, others[-1].value
        if most.amount >= CLOSE * least.amount:
            continue
        size, low, high = (Fraction(each.amount) for each in (odd.value, least, most))
        far = FAR_OF_TIGHT if name == "mass" and high <= TIGHT * low else FAR
        if high * far >= size and size * far >= low:
            continue
        places = {each.at for each in others}  # what a group has in common is one value
        if len(places) >= ENOUGH and odd.at not in places:
            yield _odd(name, odd, others)


def _odd(name: str, odd: _Stated, others: list[_Stated]) -> Finding:
    return Finding(
        codes.DOUBTFUL_UNIT,
        say("`{name}` is {value}, far from what is usual",
            name=name.rpartition(".")[2], value=AsWritten(odd.value)),
        Label(odd.at, say("a prefix, a digit or the unit is probably another")),
        labels=(Label(others[0].at, say("one of them")),),
        notes=(say("parts alike have {least} to {most}",
                   least=AsWritten(others[0].value), most=AsWritten(others[-1].value)),),
        help=say("check the number and its unit"),
    )  # fmt: skip


def _number(part: Part, name: str) -> Fraction | None:
    value = field_of(part, name)
    if value is None:  # two of three
        return None
    amount = value.amount if isinstance(value, Quantity) else value
    is_number = isinstance(amount, int | Decimal | Fraction) and not isinstance(amount, bool)
    return Fraction(amount) if is_number and amount > 0 else None


def _out_of_proportion(group: list[Part]) -> Iterator[Finding]:
    """SG128 for a value that does not go with another of its part as it does in all parts alike."""
    for first, second in PROPORTIONAL:
        if not all(can_state(type(group[0]), each) for each in (first, second)):
            continue
        found = [
            (one / other, part)
            for part in group
            for one, other in ((_number(part, first), _number(part, second)),)
            if one is not None and other is not None
        ]
        ranked = sorted(found, key=lambda each: each[0])
        if len(ranked) <= ENOUGH_PROPORTIONS:
            continue
        for (odd, part), others in ((ranked[0], ranked[1:]), (ranked[-1], ranked[:-1])):
            least, most = others[0][0], others[-1][0]
            if most < CLOSE * least and (most * FAR < odd or odd * FAR < least):
                rest = [each for _, each in others]
                names = first, second
                if _away(part, second, rest) > _away(part, first, rest):
                    names = second, first
                yield _disproportion(part, *names, others[0][1])


def _away(part: Part, name: str, others: list[Part]) -> Fraction:
    """How many times a value is that in the middle of the others, or that is it."""
    own = _number(part, name)
    known = sorted(filter(None, (_number(each, name) for each in others)))
    if own is None or not known:
        return Fraction(0)
    middle = known[len(known) // 2]
    return max(own / middle, middle / own)


def _disproportion(part: Part, first: str, second: str, other: Part) -> Finding:
    name = first.rpartition(".")[2]
    return Finding(
        codes.DOUBTFUL_UNIT,
        say("`{name}` is {value}, far from what is usual",
            name=name, value=AsWritten(field_of(part, first))),
        Label(_at(part, first), say("a prefix, a digit or the unit is probably another")),
        labels=(
            Label(_at(part, second), say("beside this")),
            Label(_at(other, first), say("one of the others")),
        ),
        notes=(
            say("`{other}` has {one} beside {two}", other=other.id,
                one=AsWritten(field_of(other, first)), two=AsWritten(field_of(other, second))),
            say("the two grow with one another in all parts alike"),
        ),
        help=say("check the number and its unit"),
    )  # fmt: skip


def _other_way_round(definitions: Definitions) -> Iterator[Finding]:
    """SG130 for measures that a part alike has in another order: width for height."""
    for group in groups(definitions, ("form",)).values():
        sizes: dict[Span, tuple[Part, tuple[Any, ...]]] = {}
        for part in group:
            if part.size is not None and field_of(part, "form"):
                measures = (part.size.width, part.size.height, part.size.depth)
                sizes.setdefault(part.origin.at("size"), (part, measures))
        for part, measures in sizes.values():
            same = [at for at, (_, each) in sizes.items() if each == measures]
            turned = [
                (at, other)
                for at, (other, each) in sizes.items()
                if each != measures and sorted(each) == sorted(measures)
            ]
            even = len(turned) == len(same)  # then the one that stands is doubted
            if len(turned) > len(same) or (even and measures[1] > measures[0]):
                (at, other), *_ = turned
                yield Finding(
                    codes.DOUBTFUL_VALUE,
                    say("`{part}` has the measures of `{other}` in another order",
                        part=part.id, other=other.id),
                    Label(part.origin.at("size"), say("width, height, depth")),
                    labels=(Label(at, say("the other")),),
                    notes=(say("parts of one form have their measures in one order"),),
                    help=say("check which is the width, the height and the depth"),
                )  # fmt: skip
