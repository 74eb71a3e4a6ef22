"""The circumstances that figures hold for, as facts of their own."""

from specgen.facts.inputs import Condition, platform
from specgen.facts.registry import Calculators
from specgen.model import Redundancy

fact = Calculators()

fact.stated("conditions.line", "Line voltage", Condition("line"), short="Line")
fact.stated("conditions.inlet", "Inlet temperature", Condition("inlet"), short="Inlet planned")
fact.stated("conditions.altitude", "Altitude", Condition("altitude"))


@fact(
    "conditions.redundancy",
    "Supply redundancy",
    short="Redundancy",
    formula="as declared",
    wanted=Condition("redundancy"),
)
def redundancy(wanted: Redundancy) -> str:
    return wanted.text


fact.stated("conditions.operating_class", "Operating class", platform("operating_class"))
