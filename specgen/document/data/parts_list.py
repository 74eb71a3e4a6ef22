"""What to order for builds: their platforms and parts, counted."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final

from specgen.document.case import Case
from specgen.document.data.plain_values import (
    FORM,
    LineData,
    OrderedBuild,
    PartsList,
    StatedValue,
    UseData,
    stated,
    total,
)
from specgen.facts.declared import declared_facts
from specgen.messages import say
from specgen.model import LifeStatus, Part, Platform, condensed
from specgen.quantity import Mass, show

SOLDERED: Final = say("Soldered on, not ordered")
"""The row of what stands in no line and is weighed all the same."""


@dataclass(slots=True)
class _PartsLine:
    thing: Part | Platform
    status: LifeStatus = "active"
    uses: dict[str, list[str]] = field(default_factory=dict)


def parts_list(orders: Sequence[tuple[Case, int]]) -> PartsList:
    """The parts of builds, each so many times: platforms first, then parts by kind and id.

    Parts soldered on are not listed: they come with what carries them.
    """
    counts: dict[str, int] = {}
    names: dict[str, str] = {}
    lines: dict[tuple[str, str], _PartsLine] = {}
    for case, count in orders:
        build = case.build
        assert build is not None, "a platform alone is no order"
        fresh = build.id not in counts
        counts[build.id] = counts.get(build.id, 0) + count
        names[build.id] = build.name
        if fresh:
            _note(lines, case, build.id)
    order = tuple(OrderedBuild(build=id_, name=names[id_], count=counts[id_]) for id_ in counts)
    soldered = total(tuple(_soldered(case) * count for case, count in orders))
    made = tuple(_made(lines[key], counts) for key in sorted(lines))
    mass = total((*(line.kilograms for line in made), soldered))
    return PartsList(
        form=FORM,
        builds=order,
        lines=made,
        kilograms=mass,
        shown=show(Mass.of(mass)),
        kilograms_soldered=soldered,
        without_mass=sum(line.kilograms is None for line in made),
    )


def _note(lines: dict[tuple[str, str], _PartsLine], case: Case, build: str) -> None:
    platform, status = case.platform, case.definitions.status
    lines.setdefault(("", platform.id), _PartsLine(platform)).uses[build] = [""]
    for place, part in case.assembly.everything():
        if place.how != "fixed":
            line = lines.setdefault((part.title, part.id), _PartsLine(part, status(part)))
            line.uses.setdefault(build, []).append(place.name)


def _soldered(case: Case) -> Decimal:
    """What the parts weigh that come with what carries them, kg."""
    fixed = (part for place, part in case.assembly.everything() if place.how == "fixed")
    return total(tuple(part.mass.in_unit("kg") for part in fixed if part.mass is not None))


def _made(line: _PartsLine, counts: dict[str, int]) -> LineData:
    thing = line.thing
    quantity = sum(counts[build] * len(names) for build, names in line.uses.items())
    each = thing.mass.in_unit("kg") if thing.mass is not None else None
    return LineData(
        quantity=quantity,
        number=thing.number,
        id=thing.id,
        name=thing.name,
        kind=thing.title if isinstance(thing, Part) else "Platform",
        status=line.status,
        replaced_by=thing.life.replaced_by if isinstance(thing, Part) else None,
        kilograms_each=each,
        kilograms=None if each is None else each * quantity,
        shown="" if each is None else show(Mass.of(each * quantity)),
        details=_details(thing) if isinstance(thing, Part) else {},
        uses=tuple(_use(build, tuple(names)) for build, names in line.uses.items()),
    )


def _details(part: Part) -> dict[str, StatedValue]:
    """The fields that the part's kind names for parts lists, where the part declares them."""
    known = {fact.key: fact for fact in declared_facts(part)} if part.listed_with else {}
    found = ((name, known.get(f"{part.id}.{name}")) for name in part.listed_with)
    return {name: stated(fact) for name, fact in found if fact is not None}


def _use(build: str, names: tuple[str, ...]) -> UseData:
    positions = tuple(name for name in names if name)  # the platform itself is in none
    return UseData(build=build, each=len(names), positions=positions, shown=condensed(positions))
