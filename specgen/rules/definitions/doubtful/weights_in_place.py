"""Weights held against what else goes into the place: a blank against the parts that it stands for,
a bezel or rails against the rack units that they are for.

Of these there are few alike, so that one beside the others tells nothing. Common practice, without
a source.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Final, NamedTuple

from specgen.diagnostics import Finding, Label, codes
from specgen.fitness import field_of
from specgen.messages import AsWritten, Message, say
from specgen.model import Definitions, Part
from specgen.rules.definitions.doubtful.unlike_siblings import CLOSE, ENOUGH, FAR

LIGHTEST: Final = 40
"""A blank weighs a fortieth at least of what it stands for: plastic for a hard drive."""
FEW: Final = 2
"""So many parts tell what a blank stands for."""


def weights_in_place(definitions: Definitions) -> Iterator[Finding]:
    """SG128 for weights that hardly go with the place."""
    yield from _blanks(definitions)
    yield from _frames(definitions)


def _blanks(definitions: Definitions) -> Iterator[Finding]:
    """A blank is lighter than most of what it stands for."""
    weights: dict[str, list[Part]] = {}
    for part in definitions.parts.values():
        if part.mass is not None and part.mass.amount and not part.closes:
            for word in {part.kind, *_words(field_of(part, "form"))}:
                weights.setdefault(word, []).append(part)
    for part in definitions.parts.values():
        form = field_of(part, "form")
        if part.kind != "blank" or part.mass is None or not part.mass.amount:
            continue
        there = sorted((each for word in _words(form) for each in weights.get(word, ())), key=_mass)
        if len({each.origin.at("mass") for each in there}) < FEW:
            continue
        middle = there[len(there) // 2]
        if part.mass.amount > _mass(middle) or part.mass.amount * LIGHTEST < _mass(middle):
            yield _finding(
                part, middle,
                say("it stands for `{other}` and the like, of {mass}",
                    other=middle.id, mass=AsWritten(middle.mass)),
            )  # fmt: skip


def _mass(part: Part) -> Any:
    return part.mass.amount if part.mass is not None else 0


def _words(value: object) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    return tuple(value) if isinstance(value, tuple) else ()


class _Share(NamedTuple):
    """A part and its weight for each rack unit of what it is for."""

    part: Part
    weight: Fraction


def _frames(definitions: Definitions) -> Iterator[Finding]:
    """Of one kind, what is for more rack units is heavier."""
    units: dict[tuple[str, str], set[int]] = {}
    for platform in definitions.platforms.values():
        for position in platform.positions:
            for kind in position.takes:
                for key in position.key:
                    units.setdefault((kind, key), set()).add(platform.rack_units)
    shares: dict[str, list[_Share]] = {}
    for part in definitions.parts.values():
        high = {each for key in part.key for each in units.get((part.kind, key), ())}
        if part.mass is not None and part.mass.amount and len(high) == 1:
            share = Fraction(part.mass.amount) / next(iter(high))
            shares.setdefault(part.kind, []).append(_Share(part, share))
    for group in shares.values():
        ranked = sorted(group, key=lambda each: each.weight)
        if len({each.part.origin.at("mass") for each in ranked}) <= ENOUGH:
            continue
        for odd, others in ((ranked[0], ranked[1:]), (ranked[-1], ranked[:-1])):
            least, most = others[0].weight, others[-1].weight
            if most < CLOSE * least and (most * FAR < odd.weight or odd.weight * FAR < least):
                other = others[len(others) // 2].part
                yield _finding(
                    odd.part, other,
                    say("weight for each rack unit is alike in all others; `{other}` weighs {mass}",
                        other=other.id, mass=AsWritten(other.mass)),
                )  # fmt: skip


def _finding(part: Part, other: Part, why: Message) -> Finding:
    return Finding(
        codes.DOUBTFUL_UNIT,
        say("`{name}` is {value}, far from what is usual", name="mass", value=AsWritten(part.mass)),
        Label(part.origin.at("mass"), say("a prefix, a digit or the unit is probably another")),
        labels=(Label(other.origin.at("mass"), say("one of them")),),
        notes=(why,),
        help=say("check the number and its unit"),
    )
