"""What positions name themselves: what closes them while empty, and what is soldered in."""

from collections.abc import Iterator, Sequence
from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.messages import listed, say, say_many
from specgen.model import Definitions, Origin, Part, Position
from specgen.model.pedigree import FieldPath
from specgen.rules.definitions.contradicting.contradiction import Contradiction, finding_of

MOST_NAMED: Final = 3


@frozen
class _Naming:
    """A position that names a part, and what keeps the part from it."""

    origin: Origin
    path: FieldPath
    part: Part
    problem: Contradiction | None


def closing(definitions: Definitions) -> Iterator[Finding]:
    """SG118: what keeps a position closed only closes it; what is soldered in is what it takes.

    Where no position that names a part can have it, it is the part that is told of, once.
    """
    forms = frozenset(form for _, _, each in _positions(definitions) for form in each.form)
    named = grouped(((each.part.id, each.path[-1]), each) for each in _named(definitions, forms))
    for namings in named.values():
        broken = [each for each in namings if each.problem is not None]
        if len(broken) > 1 and len(broken) == len(namings):
            yield _at_part(broken)
        else:
            yield from (
                finding_of(codes.CONTRADICTION, each.origin, each.path[:-1], each.problem)
                for each in broken
                if each.problem is not None
            )


def _positions(definitions: Definitions) -> Iterator[tuple[Origin, FieldPath, Position]]:
    for platform in definitions.platforms.values():
        for at, each in enumerate(platform.positions):
            yield platform.origin, ("positions", at), each
    for part in definitions.parts.values():
        for at, each in enumerate(part.brings.positions):
            yield part.origin, ("brings", "positions", at), each


def _named(definitions: Definitions, forms: frozenset[str]) -> Iterator[_Naming]:
    for origin, path, position in _positions(definitions):
        blank = definitions.parts.get(position.blank or "")
        if blank is not None:
            problem = _not_closing(position, blank, forms)
            yield _Naming(origin, (*path, "blank"), blank, problem)
        fixed = definitions.parts.get(position.fixed or "")
        if fixed is not None:
            yield _Naming(origin, (*path, "fixed"), fixed, _not_taken(position, fixed))


def _not_closing(position: Position, blank: Part, forms: frozenset[str]) -> Contradiction | None:
    """A blank may name a form that no position takes: one of its own, for places of several."""
    form = getattr(blank, "form", None)
    if not blank.closes:
        return Contradiction(
            ("blank",),
            say("`{part}` is of kind {kind}, which closes nothing", part=blank.id, kind=blank.kind),
            say("what closes an empty position is a blank or an air baffle"),
        )
    if position.fixed is None and position.form and form in forms - {*position.form}:
        return Contradiction(
            ("blank",),
            say("`{part}` has the form {has}, and the position {form}",
                part=blank.id, has=form, form=listed(position.form)),
            say("what closes a position has its form"),
            ("form",),
            say("the form of the position"),
        )  # fmt: skip
    return None


def _not_taken(position: Position, fixed: Part) -> Contradiction | None:
    if fixed.closes or fixed.kind in position.takes:
        return None
    return Contradiction(
        ("fixed",),
        say("`{part}` is of kind {kind}, which the position does not take",
            part=fixed.id, kind=fixed.kind),
        say("what is soldered in is of a kind that the position takes"),
        ("takes",),
    )  # fmt: skip


def _at_part(broken: Sequence[_Naming]) -> Finding:
    """Several positions that name a part which none of them can have: it is the part."""
    first = broken[0]
    assert first.problem is not None
    of_form = first.problem.other == ("form",)
    place = first.part.origin.at("form") if of_form else first.part.origin.kind
    return Finding(
        codes.CONTRADICTION,
        first.problem.message,
        Label(place, say("no position that names it can have it")),
        labels=tuple(
            Label(each.origin.at(*each.path), say("named here")) for each in broken[:MOST_NAMED]
        ),
        notes=(
            say_many(len(broken), "{number} position names it", "{number} positions name it"),
            first.problem.why,
        ),
    )
