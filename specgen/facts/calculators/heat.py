"""Heat, and the air that carries it away."""

from decimal import Decimal

from specgen.facts.constants import (
    GAS_CONSTANT_OF_AIR,
    HEAT_CAPACITY_OF_AIR,
    SEA_LEVEL_PRESSURE,
    ZERO_CELSIUS,
)
from specgen.facts.fact_inputs import FactOfSubject
from specgen.facts.inputs import Condition
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.quantity import (
    Length,
    Power,
    Pressure,
    Temperature,
    TemperatureDifference,
    VolumeFlow,
)

fact = Calculators()

ISA = "ISO 2533:1975, below 11 km: p = 101325 Pa x (1 - 2.25577e-5 h)^5.25588"
LAPSE = Decimal("2.25577e-5")
EXPONENT = Decimal("5.25588")
TROPOPAUSE = Decimal(11000)
FIRST_LAW = "first law: all that goes in comes out as heat"
BTU = say("heat x 3600 s / 1055.05585262 J")
BTU_SOURCE = "International Table British thermal unit"


@fact(
    "cooling.heat",
    say("Heat, worst case"),
    noun="worst-case heat",
    short=say("Worst case"),
    formula=say("input power, worst case: all of it comes out as heat"),
    source=FIRST_LAW,
    input_power="power.input",
)
def heat(input_power: Power) -> Power:
    return input_power


fact.printed(
    "cooling.heat_btu",
    say("Heat per hour, worst case"),
    "cooling.heat",
    "BTU/h",
    noun="worst-case heat per hour",
    formula=BTU,
    source=BTU_SOURCE,
)


@fact(
    "cooling.heat_typical",
    say("Heat, typical"),
    noun="typical heat",
    short=say("Typical"),
    formula=say("input power, typical"),
    source=FIRST_LAW,
    input_power=FactOfSubject("power.{state}.input", "typical"),
)
def heat_typical(input_power: Power) -> Power:
    return input_power


fact.printed(
    "cooling.heat_typical_btu",
    say("Heat per hour, typical"),
    "cooling.heat_typical",
    "BTU/h",
    noun="typical heat per hour",
    formula=BTU,
    source=BTU_SOURCE,
)


def pressure_at(altitude: Length) -> Decimal | None:
    """Pressure of the standard atmosphere, Pa, at an altitude; None outside -5 km to 11 km."""
    height = altitude.in_unit("m")
    if not -5000 <= height <= TROPOPAUSE:
        return None
    return SEA_LEVEL_PRESSURE.value * (1 - LAPSE * height) ** EXPONENT


@fact(
    "cooling.pressure",
    say("Air pressure at the altitude"),
    formula=say("101325 Pa x (1 - 2.25577e-5 h)^5.25588"),
    source=ISA,
    altitude=Condition("altitude"),
)
def pressure(altitude: Length) -> Pressure | None:
    value = pressure_at(altitude)
    return None if value is None else Pressure.of(value / 100, "hPa")


def density(pressure: Decimal, temperature: Temperature) -> Decimal:
    """Density of dry air, kg/m3, by the ideal gas law: p / (R T). Pressure in Pa."""
    return pressure / (GAS_CONSTANT_OF_AIR.value * (temperature.amount + ZERO_CELSIUS.value))


@fact(
    "cooling.density",
    say("Density of the inlet air, kg/m³"),
    noun="density of the inlet air in kg/m³",
    formula=say("pressure of the standard atmosphere at the altitude / (287.05287 x inlet in K)"),
    source=ISA + "; ideal gas, dry air",
    assumes=say("dry air; humidity of 50 % changes the airflow by about 0.3 %"),
    altitude=Condition("altitude"),
    inlet=Condition("inlet"),
)
def inlet_density(altitude: Length, inlet: Temperature) -> Decimal | None:
    """kg/m3: the inlet temperature is held, not that of the standard atmosphere."""
    value = pressure_at(altitude)
    if value is None or inlet.amount <= -ZERO_CELSIUS.value:
        return None
    return density(value, inlet)


fact.stated(
    "cooling.rise", say("Rise of the air's temperature"), Condition("rise"), short=say("Rise")
)


@fact(
    "cooling.airflow_needed",
    say("Airflow needed"),
    short=say("Airflow"),
    formula=say("heat / (density x 1006 J/(kg K) x rise)"),
    source="steady flow: P = rho x cp x Q x dT; cp of dry air",
    assumes=say("all heat leaves with the air"),
    heat="cooling.heat",
    density="cooling.density",
    rise=Condition("rise"),
)
def flow(heat: Power, density: Decimal, rise: TemperatureDifference) -> VolumeFlow | None:
    """Air that takes up a heat while it warms by a rise: P / (rho x cp x dT), m3/s."""
    if rise.amount <= 0 or density <= 0:
        return None
    carried = density * HEAT_CAPACITY_OF_AIR.value * rise.amount
    return VolumeFlow.of(heat.amount / carried).to("m3/h")


fact.printed(
    "cooling.airflow_needed_cfm",
    say("Airflow needed, cubic feet"),
    "cooling.airflow_needed",
    "CFM",
    noun="airflow needed in cubic feet",
    formula=say("airflow needed; 1 CFM is 0.0004719474432 m³/s"),
    source="international foot of 0.3048 m",
)
