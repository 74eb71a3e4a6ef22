"""Inlet air: what the class of the platform and the parts allow at the altitude stated."""

from collections.abc import Iterator
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.facts.calculators.cooling import class_limit
from specgen.facts.constants import HIGHEST_ELEVATION
from specgen.fitness import field_of, within
from specgen.fitness.part_fields import kinds_with
from specgen.fitness.table import INLET_LIMIT
from specgen.messages import AsWritten, Message, Within, listed, say
from specgen.model import Part
from specgen.quantity import Length
from specgen.rules.constraints import Chain, Enough, Lack
from specgen.rules.places import condition_at, names, places_for, unsettled_kinds


def inlet(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG335: inlet air warmer than the class, at this altitude, or a part allows; the least tells.

    What a part allows is a row of the requirements; the class speaks of the whole system.
    """
    warmest = assembly.conditions.inlet
    if assembly.build is None or warmest is None:
        return
    platform, altitude = assembly.platform, assembly.conditions.altitude or Length.of(0)
    if too_high(altitude):
        yield _too_high(assembly, altitude)
        return
    own = condition_at(assembly, "inlet")
    least = class_limit(platform.operating_class, altitude)
    words = say(
        "class {operating_class} at {altitude}",
        operating_class=platform.operating_class,
        altitude=AsWritten(altitude),
    )
    at = own or condition_at(assembly, "altitude") or assembly.build.origin.at("platform")
    declared = Label(platform.origin.at("operating_class"), words)
    surroundings = within(assembly)
    for place, part in assembly.fitted(Part):
        refusal = INLET_LIMIT.refusal(place, part, surroundings)
        if refusal is not None and refusal.has < least:
            least, at = refusal.has, own or place.at
            declared = Label(
                part.origin.at("inlet_limit"),
                say("{part} in {place}", part=part.id, place=place.name),
            )
    if warmest > least:
        stated = Label(assembly.conditions_at["inlet"], say("the inlet"))
        yield Finding(
            codes.INLET_TOO_WARM,
            say(
                "inlet air of {warmest} is above {least}",
                warmest=AsWritten(warmest),
                least=AsWritten(least),
            ),
            Label(at, say("max. {least}", least=AsWritten(least))),
            labels=(declared,) if own is not None else (declared, stated),
            notes=(say("{words}, and the lowest limit of the parts", words=words),),
        )


def class_refusal(assembly: Assembly) -> Message | None:
    """Why the class of the platform does not allow the inlet air that is stated at the altitude."""
    warmest, altitude = assembly.conditions.inlet, assembly.conditions.altitude or Length.of(0)
    if warmest is None:
        return None
    if too_high(altitude):
        return _no_class_reaches(altitude)
    least = class_limit(assembly.platform.operating_class, altitude)
    if warmest <= least:
        return None
    return say(
        "class {operating_class} at {altitude} allows inlet air of up to {least}, and {warmest} "
        "is stated",
        operating_class=assembly.platform.operating_class,
        altitude=AsWritten(altitude),
        least=AsWritten(least),
        warmest=AsWritten(warmest),
    )


def too_high(altitude: Length) -> bool:
    """Whether no operating class says what inlet air it allows at an altitude."""
    return altitude.in_unit("m") > HIGHEST_ELEVATION.value


def _no_class_reaches(altitude: Length) -> Message:
    return say("no operating class reaches {altitude}", altitude=AsWritten(altitude))


def _too_high(assembly: Assembly, altitude: Length) -> Finding:
    at = condition_at(assembly, "altitude") or assembly.conditions_at["altitude"]
    most = AsWritten(Length.of(HIGHEST_ELEVATION.value, "m"))
    return Finding(
        codes.INLET_TOO_WARM,
        _no_class_reaches(altitude),
        Label(at, say("max. {most}", most=most)),
        labels=(Label(assembly.platform.origin.at("operating_class"), say("its class")),),
        notes=(say("above that no inlet limit can be given"),),
    )


def _uncooled(assembly: Assembly, lacks: tuple[Lack, ...]) -> Iterator[Finding]:
    places: list[Place] = []
    coolers: list[Place] = []
    for lack in lacks:
        place = lack.taken[0][0]
        own = [each for each in places_for(assembly, "tdp_limit") if each.cools == place.name]
        if any(each.position.must and each.position.blank is None for each in own):
            continue  # told where a position must not stay empty
        if any(each.of is not None and each.of not in assembly.places for each in own):
            continue  # told where the position is said to belong to nothing
        places.append(place)
        coolers += own
    if not places:
        return
    part = lacks[0].taken[0][1]
    kinds = listed(map(Within, assembly.definitions.titles(coolers[0].position.takes)), "or")
    yield Finding(
        codes.UNCOOLED,
        say("nothing cools `{part}` in {place}", part=part.id, place=names(places)),
        Label(places[0].at, say("{places} is empty", places=names(coolers))),
        labels=tuple(Label(each.declared_at, say("cools it")) for each in coolers[:1]),
        notes=(say("what sits in a socket is sold without what cools it"),),
        help=say("fit a {kinds} in {places}", kinds=kinds, places=names(coolers)),
    )


COOLED: Final = Chain(
    (
        Enough(
            code=codes.UNCOOLED,
            statement=say("what sits in a socket is cooled"),
            taken=lambda place, part: (
                [(place.name, 1)]
                if field_of(part, "socket") is not None and place.position.fixed is None
                else ()
            ),
            offered=lambda place, part: (
                [(place.cools, 1)]
                if place.cools and field_of(part, "tdp_limit") is not None
                else ()
            ),
            standing=lambda _: {},
            places="tdp_limit",
            group_of=lambda place: place.cools,
            findings=_uncooled,
        ),
    ),
    lambda assembly: (
        not unsettled_kinds(assembly).isdisjoint(kinds_with(assembly.definitions, "tdp_limit"))
    ),
)
"""What sits in a socket that a position cools: without such a position nothing is known."""
