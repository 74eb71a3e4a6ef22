"""Inlet air: what the class of the platform and the parts allow at the altitude stated."""

from collections.abc import Iterator

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.facts.calculators.cooling import class_limit
from specgen.facts.constants import HIGHEST_ELEVATION
from specgen.fitness import within
from specgen.fitness.table import INLET_LIMIT
from specgen.messages import say
from specgen.model import Part
from specgen.quantity import Length, plain
from specgen.rules.places import condition_at


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
    words = f"class {platform.operating_class} at {plain(altitude)}"
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
                warmest=plain(warmest),
                least=plain(least),
            ),
            Label(at, say("at most {least}", least=plain(least))),
            labels=(declared,) if own is not None else (declared, stated),
            notes=(say("{words}, and the least of what parts allow", words=words),),
        )


def class_allows(assembly: Assembly) -> bool:
    """Whether the class of the platform allows the inlet air that is stated at the altitude."""
    conditions = assembly.conditions
    altitude = conditions.altitude or Length.of(0)
    limit = class_limit(assembly.platform.operating_class, altitude)
    return conditions.inlet is None or not (too_high(altitude) or conditions.inlet > limit)


def too_high(altitude: Length) -> bool:
    """Whether no operating class says what inlet air it allows at an altitude."""
    return altitude.in_unit("m") > HIGHEST_ELEVATION.value


def _too_high(assembly: Assembly, altitude: Length) -> Finding:
    at = condition_at(assembly, "altitude") or assembly.conditions_at["altitude"]
    most = plain(Length.of(HIGHEST_ELEVATION.value, "m"))
    return Finding(
        codes.INLET_TOO_WARM,
        say("no operating class reaches {altitude}", altitude=plain(altitude)),
        Label(at, say("at most {most}", most=most)),
        labels=(Label(assembly.platform.origin.at("operating_class"), say("its class")),),
        notes=(say("above that no inlet limit can be given"),),
    )
