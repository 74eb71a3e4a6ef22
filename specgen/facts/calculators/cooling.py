"""How warm the air may come in: by the class, the altitude, the parts, the air and the rules."""

from decimal import Decimal
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.facts.constants import (
    DERATED_FROM,
    HIGHEST_ELEVATION,
    OPERATING_CLASSES,
    ZERO_CELSIUS,
)
from specgen.facts.fact import Trail
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Condition, Inspected, leaf, platform
from specgen.facts.registry import Calculators
from specgen.facts.rule_limits import HeldByRules, RuleLimit
from specgen.grouped import grouped
from specgen.messages import Words, say
from specgen.model import Part, places
from specgen.quantity import (
    Length,
    Temperature,
    TemperatureDifference,
    VolumeFlow,
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
    say("Maximum inlet temperature of the operating class"),
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
    "cooling.inlet_of_parts",
    say("Maximum inlet temperature of class and parts"),
    formula=say("min. of the class at this altitude and what fitted parts allow"),
    source=CLASS_SOURCE,
    of_class="cooling.class_limit",
    of_parts=Inspected(_limits),
)
def inlet_of_parts(of_class: Temperature, of_parts: tuple[Temperature, ...]) -> Temperature:
    return min((of_class, *of_parts))


@fact(
    "cooling.inlet_of_air",
    say("Maximum inlet temperature of the airflow"),
    formula=say(
        "inlet temperature in K x airflow there is / airflow needed, in degC: the warmer air is, "
        "the less heat it carries; the airflow is that after a fan has failed where there are "
        "several; none where the class allows less"
    ),
    source="ideal gas, dry air",
    of_class="cooling.class_limit",
    inlet=Condition("inlet"),
    needed="cooling.airflow_needed",
    room="cooling.airflow_headroom",
    left=FactOf("cooling.airflow_headroom_left", optional=True),
)
def inlet_of_air(
    of_class: Temperature,
    inlet: Temperature,
    needed: VolumeFlow,
    room: VolumeFlow,
    left: VolumeFlow | None,
) -> Temperature | None:
    if needed.amount <= 0:
        return None
    there_is = needed + min((room, left or room))
    kelvin = (inlet.amount + ZERO_CELSIUS.value) * (there_is / needed)
    found = Temperature.of(kelvin - ZERO_CELSIUS.value, "degC")
    return found if found < of_class else None


RULES: Final = HeldByRules("cooling.inlet_of_parts")


@fact(
    "cooling.inlet_limit",
    say("Maximum inlet temperature"),
    short=say("Max. inlet"),
    formula=say(
        "min. of the class at this altitude, what fitted parts allow, what the airflow allows "
        "and what declared rules allow"
    ),
    source=CLASS_SOURCE,
    assumes=say(
        "rules that reckon with the inlet temperature are asked at every tenth of a degree"
    ),
    of_parts="cooling.inlet_of_parts",
    of_air=FactOf("cooling.inlet_of_air", optional=True),
    of_rules=RULES,
)
def inlet_limit(
    of_parts: Temperature, of_air: Temperature | None, of_rules: tuple[RuleLimit, ...]
) -> Temperature | None:
    """None where rules allow no inlet temperature at all."""
    if any(each.limit is None for each in of_rules):
        return None
    allowed = [of_parts, *(each.limit for each in of_rules if each.limit is not None)]
    return min(allowed if of_air is None else [*allowed, of_air])


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
    say("Maximum inlet temperature set by"),
    short=say("Set by"),
    formula=say("the parts, the rules, the airflow with the lowest limit, or the class"),
    limit="cooling.class_limit",
    parts=Inspected(_named),
    air=FactOf("cooling.inlet_of_air", optional=True),
    rules=RULES,
    operating_class=platform("operating_class"),
    altitude=Condition("altitude"),
)
def inlet_limit_by(
    limit: Temperature,
    parts: tuple[tuple[Temperature, Words], ...],
    air: Temperature | None,
    rules: tuple[RuleLimit, ...],
    operating_class: str,
    altitude: Length,
) -> tuple[Words, ...]:
    of_class = say("class {name} at {altitude}", name=operating_class, altitude=altitude)
    never = tuple(dict.fromkeys(each.reason for each in rules if each.limit is None))
    if never:
        return never
    of_rules = tuple((each.limit, each.reason) for each in rules if each.limit is not None)
    of_air = () if air is None else ((air, say("the airflow of the fans")),)
    found: tuple[tuple[Temperature, Words], ...]
    found = ((limit, of_class), *parts, *of_air, *of_rules)
    least = min(allowed for allowed, _ in found)
    if least == limit:
        return (of_class,)
    return tuple(dict.fromkeys(words for allowed, words in found if allowed == least))


@fact(
    "cooling.inlet_margin",
    say("Inlet temperature headroom"),
    formula=say("maximum inlet temperature less inlet temperature"),
    limit="cooling.inlet_limit",
    inlet=Condition("inlet"),
)
def inlet_margin(limit: Temperature, inlet: Temperature) -> TemperatureDifference:
    return limit - inlet
