"""How warm the air may come in: by the operating class, the parts, and the altitude."""

from decimal import Decimal

from specgen.assembly import Assembly, Place
from specgen.facts.constants import (
    DERATED_FROM,
    HIGHEST_ELEVATION,
    OPERATING_CLASSES,
)
from specgen.facts.fact import Trail
from specgen.facts.inputs import Condition, Inspected, leaf, platform
from specgen.facts.registry import Calculators
from specgen.grouped import grouped
from specgen.messages import Words, say
from specgen.model import Part, places
from specgen.quantity import (
    Length,
    Temperature,
    TemperatureDifference,
)

fact = Calculators()

CLASS_SOURCE = "ASHRAE TC 9.9, Thermal Guidelines, 5th ed. 2021, table 2.1"


def class_limit(operating_class: str, altitude: Length) -> Temperature:
    """The highest inlet temperature a class allows at an altitude.

    Formula: limit - max(0, altitude - 900 m) / slope. Does not hold above 3050 m.
    """
    entry = OPERATING_CLASSES[operating_class]
    above = max(Decimal(0), altitude.in_unit("m") - DERATED_FROM.value)
    return Temperature.of(entry.highest - above / entry.metres_a_degree, "degC")


@fact(
    "cooling.class_limit",
    say("Inlet limit of the operating class"),
    formula=say(
        "upper limit - max(0, altitude - 900 m) / slope; 300 m a degree for A1 and A2, 175 m "
        "for A3, 125 m for A4; nothing above 3050 m"
    ),
    source=CLASS_SOURCE,
    operating_class=platform("operating_class"),
    altitude=Condition("altitude"),
)
def derated(operating_class: str, altitude: Length) -> Temperature | None:
    """degC; the recommended range knows no derating."""
    if altitude.in_unit("m") > HIGHEST_ELEVATION.value:
        return None
    return class_limit(operating_class, altitude)


def part_limits(assembly: Assembly) -> tuple[tuple[Place, Part, Temperature], ...]:
    """What fitted parts themselves allow at the inlet."""
    return tuple(
        (place, part, part.inlet_limit)
        for place, part in assembly.everything()
        if part.inlet_limit is not None and place.filled
    )


def _limits(assembly: Assembly, _: str) -> tuple[tuple[Temperature, ...], Trail]:
    found = part_limits(assembly)
    trail = tuple(leaf(place, part, ("inlet_limit",), limit) for place, part, limit in found)
    return tuple(limit for _, _, limit in found), trail


@fact(
    "cooling.inlet_limit",
    say("Inlet limit of class and parts, before rules"),
    short=say("Inlet limit"),
    formula=say("least of the class at this altitude and what fitted parts allow"),
    source=CLASS_SOURCE,
    assumes=say("declared rules do not allow less; a check tells where they do"),
    of_class="cooling.class_limit",
    of_parts=Inspected(_limits),
)
def inlet_limit(of_class: Temperature, of_parts: tuple[Temperature, ...]) -> Temperature:
    return min((of_class, *of_parts))


def _named(assembly: Assembly, _: str) -> tuple[tuple[tuple[Temperature, Words], ...], Trail]:
    found = part_limits(assembly)
    seats = grouped(((limit, part.name), place.name) for place, part, limit in found)
    words = tuple(
        (limit, say("{part} in {positions}", part=name, positions=places(tuple(positions))))
        for (limit, name), positions in seats.items()
    )
    return words, _limits(assembly, "")[1]


@fact(
    "cooling.inlet_limit_by",
    say("Inlet limit set by"),
    formula=say("the parts that allow least, or the class where none allows less"),
    limit="cooling.class_limit",
    parts=Inspected(_named),
    operating_class=platform("operating_class"),
    altitude=Condition("altitude"),
)
def inlet_limit_by(
    limit: Temperature,
    parts: tuple[tuple[Temperature, Words], ...],
    operating_class: str,
    altitude: Length,
) -> tuple[Words, ...]:
    least = min((limit, *(allowed for allowed, _ in parts)))
    if least == limit:
        return (say("class {name} at {altitude}", name=operating_class, altitude=altitude),)
    return tuple(words for allowed, words in parts if allowed == least)


@fact(
    "cooling.inlet_margin",
    say("Inlet temperature to spare"),
    formula=say("inlet limit less inlet temperature"),
    limit="cooling.inlet_limit",
    inlet=Condition("inlet"),
)
def inlet_margin(limit: Temperature, inlet: Temperature) -> TemperatureDifference:
    return limit - inlet
