"""Inlet air: what the class of the platform and the parts allow at the altitude stated."""

from collections.abc import Iterator

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.facts.calculators.cooling import lowest_limit
from specgen.facts.constants import HIGHEST_ELEVATION
from specgen.model import Platform
from specgen.quantity import Length, plain
from specgen.rules.places import condition_at


def inlet(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG335: inlet air warmer than the class, at this altitude, or a part allows."""
    warmest = assembly.conditions.inlet
    if assembly.build is None or warmest is None:
        return
    stated = assembly.conditions_at["inlet"]
    own = condition_at(assembly, "inlet")
    altitude = assembly.conditions.altitude or Length.of(0)
    platform = assembly.platform
    if altitude.in_unit("m") > HIGHEST_ELEVATION.value:
        yield _too_high(assembly, altitude)
        return
    least = lowest_limit(assembly, altitude)
    limit = least.temperature
    at = Label(own or condition_at(assembly, "altitude") or assembly.build.origin.at("platform"))
    declared = Label(platform.origin.at("operating_class"), _class_words(platform, altitude))
    if least.place is not None and least.part is not None:
        at = Label(own or least.place.at)
        where = least.part.origin.at("inlet_limit")
        declared = Label(where, f"{least.part.id} in {least.place.name}")
    if warmest > limit:
        labels = (declared,) if own is not None else (declared, Label(stated, "the inlet"))
        yield Finding(
            codes.INLET_TOO_WARM,
            f"inlet air of {plain(warmest)} is above {plain(limit)}",
            Label(at.span, f"at most {plain(limit)}"),
            labels=labels,
            notes=(
                f"class {platform.operating_class} at {plain(altitude)}, and the least of "
                "what parts allow",
            ),
        )


def _too_high(assembly: Assembly, altitude: Length) -> Finding:
    at = condition_at(assembly, "altitude") or assembly.conditions_at["altitude"]
    most = plain(Length.of(HIGHEST_ELEVATION.value, "m"))
    return Finding(
        codes.INLET_TOO_WARM,
        f"no operating class reaches {plain(altitude)}",
        Label(at, f"at most {most}"),
        labels=(Label(assembly.platform.origin.at("operating_class"), "its class"),),
        notes=("above that no inlet limit can be given",),
    )


def _class_words(platform: Platform, altitude: Length) -> str:
    return f"class {platform.operating_class} at {plain(altitude)}"
