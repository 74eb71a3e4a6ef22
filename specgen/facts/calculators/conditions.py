"""The circumstances that figures hold for, as facts of their own."""

from specgen.facts.inputs import Condition, platform
from specgen.facts.registry import Calculator, figure, stated
from specgen.model import Redundancy


@figure(
    "conditions.redundancy",
    "Supply redundancy",
    formula="as declared",
    wanted=Condition("redundancy"),
)
def redundancy(wanted: Redundancy) -> str:
    return wanted.text


CALCULATORS: tuple[Calculator, ...] = (
    stated("conditions.line", "Line voltage", Condition("line")),
    stated("conditions.inlet", "Inlet temperature", Condition("inlet")),
    stated("conditions.altitude", "Altitude", Condition("altitude")),
    redundancy,
    stated("conditions.operating_class", "Operating class", platform("operating_class")),
)
