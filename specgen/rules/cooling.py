"""Inlet air: what the class of the platform and the parts allow at the altitude stated."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.model import Platform
from specgen.quantity import Length, Temperature, plain
from specgen.rules.places import condition_at

# Source: ASHRAE TC 9.9, Thermal Guidelines for Data Processing Environments, 5th ed. 2021,
# table 2.1: highest allowable dry-bulb temperature in degC. The derating above 900 m, in metres
# for one degree, is from memory.
CLASSES: Final[Mapping[str, tuple[int, int]]] = MappingProxyType(
    {"A1": (32, 300), "A2": (35, 300), "A3": (40, 175), "A4": (45, 125)}
)
DERATED_FROM: Final = Decimal(900)


def class_limit(operating_class: str, altitude: Length) -> Temperature:
    """The highest inlet temperature a class allows at an altitude.

    Formula: limit - max(0, altitude - 900 m) / slope. Does not hold above 3050 m.
    """
    limit, slope = CLASSES[operating_class]
    above = max(Decimal(0), altitude.in_unit("m") - DERATED_FROM)
    return Temperature.of(limit - above / slope, "degC")


def inlet(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG335: inlet air warmer than the class, at this altitude, or a part allows."""
    warmest = assembly.conditions.inlet
    if assembly.build is None or warmest is None:
        return
    stated = assembly.conditions_at["inlet"]
    own = condition_at(assembly, "inlet")
    altitude = assembly.conditions.altitude or Length.of(0)
    platform = assembly.platform
    limit = class_limit(platform.operating_class, altitude)
    at = Label(own or condition_at(assembly, "altitude") or assembly.build.origin.at("platform"))
    declared = Label(platform.origin.at("operating_class"), _class_words(platform, altitude))
    for place, part in assembly.everything():
        if part.inlet_limit is not None and part.inlet_limit < limit and place.filled:
            limit = part.inlet_limit
            at = Label(own or place.at)
            declared = Label(part.origin.at("inlet_limit"), f"{part.id} in {place.name}")
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


def _class_words(platform: Platform, altitude: Length) -> str:
    return f"class {platform.operating_class} at {plain(altitude)}"
