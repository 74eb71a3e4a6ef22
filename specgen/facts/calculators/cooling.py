"""Heat, the air that carries it away, the fans that move it, and how warm it may come in."""

from dataclasses import dataclass
from decimal import Decimal

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.fans import CALCULATORS as FANS
from specgen.facts.constants import (
    DERATED_FROM,
    GAS_CONSTANT_OF_AIR,
    HEAT_CAPACITY_OF_AIR,
    HIGHEST_ELEVATION,
    OPERATING_CLASSES,
    SEA_LEVEL_PRESSURE,
    ZERO_CELSIUS,
)
from specgen.facts.fact import Fact, Trail
from specgen.facts.inputs import Along, At, Condition, FactOf, Seen, leaf, platform
from specgen.facts.registry import Calculator, figure, stated
from specgen.facts.rounding import significant
from specgen.model import Part, condensed
from specgen.quantity import (
    Airflow,
    Length,
    Power,
    Pressure,
    Ratio,
    Temperature,
    TemperatureDifference,
    plain,
)

ISA = "ISO 2533:1975, below 11 km: p = 101325 Pa x (1 - 2.25577e-5 h)^5.25588"
LAPSE = Decimal("2.25577e-5")
EXPONENT = Decimal("5.25588")
TROPOPAUSE = Decimal(11000)
CLASS_SOURCE = "ASHRAE TC 9.9, Thermal Guidelines, 5th ed. 2021, table 2.1"


@dataclass(frozen=True, slots=True)
class InletLimit:
    """How warm air may come in, and the part that says so; the platform's class without one."""

    temperature: Temperature
    place: Place | None = None
    part: Part | None = None


def class_limit(operating_class: str, altitude: Length) -> Temperature:
    """The highest inlet temperature a class allows at an altitude.

    Formula: limit - max(0, altitude - 900 m) / slope. Does not hold above 3050 m.
    """
    entry = OPERATING_CLASSES[operating_class]
    above = max(Decimal(0), altitude.in_unit("m") - DERATED_FROM.value)
    return Temperature.of(entry.highest - above / entry.metres_a_degree, "degC")


def part_limits(assembly: Assembly) -> tuple[tuple[Place, Part, Temperature], ...]:
    """What fitted parts themselves allow at the inlet."""
    return tuple(
        (place, part, part.inlet_limit)
        for place, part in assembly.everything()
        if part.inlet_limit is not None and place.filled
    )


def lowest_limit(assembly: Assembly, altitude: Length) -> InletLimit:
    """The least of class and parts; the class where a part allows no less."""
    least = InletLimit(class_limit(assembly.platform.operating_class, altitude))
    for place, part, limit in part_limits(assembly):
        if limit < least.temperature:
            least = InletLimit(limit, place, part)
    return least


def pressure_at(altitude: Length) -> Decimal | None:
    """Pressure of the standard atmosphere, Pa, at an altitude; None outside -5 km to 11 km."""
    height = altitude.in_unit("m")
    if not -5000 <= height <= TROPOPAUSE:
        return None
    return SEA_LEVEL_PRESSURE.value * (1 - LAPSE * height) ** EXPONENT


def density(pressure: Decimal, temperature: Temperature) -> Decimal:
    """Density of dry air, kg/m3, by the ideal gas law: p / (R T). Pressure in Pa."""
    return pressure / (GAS_CONSTANT_OF_AIR.value * (temperature.amount + ZERO_CELSIUS.value))


def flow(heat: Power, density: Decimal, rise: TemperatureDifference) -> Airflow | None:
    """Air that takes up a heat while it warms by a rise: P / (rho x cp x dT), m3/s."""
    if rise.amount <= 0 or density <= 0:
        return None
    carried = density * HEAT_CAPACITY_OF_AIR.value * rise.amount
    return Airflow.of(heat.amount / carried).to("m3/h")


def _at_most(fact: Fact, _: str) -> bool:
    return fact.subject in ("maximum", "failure")


@figure(
    "cooling.heat",
    "Heat at the most",
    formula="input power, not the load of the supplies; the greater of all supplies well and "
    "some failed",
    source="first law: all that goes in comes out as heat",
    inputs=Along("power.{state}.input", when=_at_most, strict=True),
)
def heat(inputs: tuple[Power, ...]) -> Power | None:
    return max(inputs, default=None)


@figure(
    "cooling.heat_typical",
    "Heat at typical work",
    formula="input power at typical work",
    source="first law: all that goes in comes out as heat",
    input_power=At("power.{state}.input", "typical"),
)
def heat_typical(input_power: Power) -> Power:
    return input_power


def in_btu(heat: Power) -> Power:
    """The same, printed in BTU/h: 1 W is 3.412141633 BTU/h (International Table BTU)."""
    return heat.to("BTU/h")


heat_hourly = figure(
    "cooling.heat_btu",
    "Heat at the most, per hour",
    formula="heat x 3600 s / 1055.05585262 J",
    source="International Table British thermal unit",
    heat=FactOf("cooling.heat"),
)(in_btu)
heat_typical_hourly = figure(
    "cooling.heat_typical_btu",
    "Heat at typical work, per hour",
    formula="heat x 3600 s / 1055.05585262 J",
    source="International Table British thermal unit",
    heat=FactOf("cooling.heat_typical"),
)(in_btu)


@figure(
    "cooling.pressure",
    "Air pressure at the altitude",
    formula="101325 Pa x (1 - 2.25577e-5 h)^5.25588",
    source=ISA,
    altitude=Condition("altitude"),
)
def pressure(altitude: Length) -> Pressure | None:
    value = pressure_at(altitude)
    return None if value is None else Pressure.of(significant(value / 100, 5), "hPa")


@figure(
    "cooling.density",
    "Density of the inlet air, kg/m³",
    formula="pressure of the standard atmosphere at the altitude / (287.05287 x inlet in K)",
    source=ISA + "; ideal gas, dry air",
    assumes="dry air; humidity of 50 % changes the airflow by about 0.3 %",
    altitude=Condition("altitude"),
    inlet=Condition("inlet"),
)
def inlet_density(altitude: Length, inlet: Temperature) -> Decimal | None:
    """kg/m3 to 4 digits: the inlet temperature is held, not that of the standard atmosphere."""
    value = pressure_at(altitude)
    if value is None or inlet.amount <= -ZERO_CELSIUS.value:
        return None
    return significant(density(value, inlet), 4)


@figure(
    "cooling.airflow_needed",
    "Airflow needed",
    formula="heat / (density x 1006 J/(kg K) x rise)",
    source="steady flow: P = rho x cp x Q x dT; cp of dry air",
    assumes="all heat leaves with the air",
    heat=FactOf("cooling.heat"),
    density=FactOf("cooling.density"),
    rise=Condition("rise"),
)
def airflow_needed(heat: Power, density: Decimal, rise: TemperatureDifference) -> Airflow | None:
    return flow(heat, density, rise)


@figure(
    "cooling.airflow_needed_cfm",
    "Airflow needed, cubic feet",
    formula="airflow needed; 1 CFM is 0.0004719474432 m³/s",
    source="international foot of 0.3048 m",
    needed=FactOf("cooling.airflow_needed"),
)
def airflow_needed_cfm(needed: Airflow) -> Airflow:
    return needed.to("CFM")


@figure(
    "cooling.airflow_share",
    "Share of the fans' airflow that is needed",
    formula="airflow needed / airflow of the fans left after one has failed",
    assumes="fans move in the machine what was declared for them",
    needed=FactOf("cooling.airflow_needed"),
    left=FactOf("cooling.airflow_left"),
)
def airflow_share(needed: Airflow, left: Airflow) -> Ratio | None:
    return Ratio.of_fraction(needed / left) if left.amount > 0 else None


@figure(
    "cooling.class_limit",
    "Inlet limit of the operating class",
    formula="upper limit - max(0, altitude - 900 m) / slope; 300 m a degree for A1 and A2, 175 m "
    "for A3, 125 m for A4; nothing above 3050 m",
    source=CLASS_SOURCE,
    operating_class=platform("operating_class"),
    altitude=Condition("altitude"),
)
def derated(operating_class: str, altitude: Length) -> Temperature | None:
    """degC; the recommended range knows no derating."""
    if altitude.in_unit("m") > HIGHEST_ELEVATION.value:
        return None
    return class_limit(operating_class, altitude)


def _limits(assembly: Assembly, _: str) -> tuple[tuple[Temperature, ...], Trail]:
    found = part_limits(assembly)
    trail = tuple(leaf(place, part, ("inlet_limit",), limit) for place, part, limit in found)
    return tuple(limit for _, _, limit in found), trail


@figure(
    "cooling.inlet_limit",
    "Inlet limit of class and parts",
    formula="least of the class at this altitude and what fitted parts allow",
    source=CLASS_SOURCE,
    assumes="declared rules do not allow less; a check tells where they do",
    of_class=FactOf("cooling.class_limit"),
    of_parts=Seen(_limits),
)
def inlet_limit(of_class: Temperature, of_parts: tuple[Temperature, ...]) -> Temperature:
    return min((of_class, *of_parts))


def _named(assembly: Assembly, _: str) -> tuple[tuple[tuple[Temperature, str], ...], Trail]:
    groups: dict[tuple[Temperature, str], list[str]] = {}
    trail = []
    for place, part, limit in part_limits(assembly):
        groups.setdefault((limit, part.name), []).append(place.name)
        trail.append(leaf(place, part, ("inlet_limit",), limit))
    return (
        tuple(
            (limit, f"{name} in {condensed(tuple(places))}")
            for (limit, name), places in groups.items()
        ),
        tuple(trail),
    )


@figure(
    "cooling.inlet_limit_by",
    "What sets the inlet limit",
    formula="the parts that allow least, or the class where none allows less",
    limit=FactOf("cooling.class_limit"),
    parts=Seen(_named),
    operating_class=platform("operating_class"),
    altitude=Condition("altitude"),
)
def inlet_limit_by(
    limit: Temperature,
    parts: tuple[tuple[Temperature, str], ...],
    operating_class: str,
    altitude: Length,
) -> tuple[str, ...]:
    least = min((limit, *(allowed for allowed, _ in parts)))
    if least == limit:
        return (f"class {operating_class} at {plain(altitude)}",)
    return tuple(words for allowed, words in parts if allowed == least)


@figure(
    "cooling.inlet_margin",
    "Inlet temperature to spare",
    formula="inlet limit less inlet temperature",
    limit=FactOf("cooling.inlet_limit"),
    inlet=Condition("inlet"),
)
def inlet_margin(limit: Temperature, inlet: Temperature) -> TemperatureDifference:
    return limit - inlet


CALCULATORS: tuple[Calculator, ...] = (
    heat,
    heat_hourly,
    heat_typical,
    heat_typical_hourly,
    pressure,
    inlet_density,
    stated("cooling.rise", "Rise of the air's temperature", Condition("rise")),
    airflow_needed,
    airflow_needed_cfm,
    *FANS,
    airflow_share,
    derated,
    inlet_limit,
    inlet_limit_by,
    inlet_margin,
)
