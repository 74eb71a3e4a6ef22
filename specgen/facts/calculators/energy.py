"""Energy, its cost and its emissions in a year of usual work."""

from decimal import Decimal

from specgen.facts.fact_inputs import FactOfSubject
from specgen.facts.inputs import Assumption, Condition
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.quantity import Duration, Energy, Mass, Power

fact = Calculators()

USUAL = say("the server works as its typical power says all year; cooling of the room comes on top")


@fact(
    "energy.year",
    say("Energy in a year, typical work"),
    noun="energy of a year at typical work",
    formula=say("input power, typical x hours of a year"),
    assumes=USUAL,
    input_power=FactOfSubject("power.{state}.input", "typical"),
    year=Assumption("year"),
)
def energy_of_a_year(input_power: Power, year: Duration) -> Energy:
    return Energy.of(input_power.in_unit("kW") * year.in_unit("h"), "kWh")


@fact(
    "energy.cost",
    say("Cost of the energy in a year"),
    formula=say("energy in a year x price of a kilowatt-hour, in the currency of the price"),
    assumes=USUAL,
    energy="energy.year",
    price=Condition("energy_price"),
)
def cost(energy: Energy, price: Decimal) -> Decimal:
    """In the project's currency."""
    return energy.in_unit("kWh") * price


fact.stated("energy.currency", say("Currency"), Condition("currency"))


@fact(
    "energy.emissions",
    say("Emissions of the energy in a year, CO₂ equivalent"),
    noun="emissions of the energy of a year in CO₂ equivalent",
    formula=say("energy in a year x emissions of the grid, CO2 equivalent"),
    assumes=USUAL,
    energy="energy.year",
    factor=Condition("grid_factor"),
)
def emissions(energy: Energy, factor: Decimal) -> Mass:
    """kg of CO2 equivalent; the making of the system is not in it."""
    return Mass.of(energy.in_unit("kWh") * factor, "kg")
