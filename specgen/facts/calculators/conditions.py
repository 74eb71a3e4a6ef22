"""The circumstances that values hold for, as facts of their own."""

from specgen.facts.inputs import Condition, platform
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.model import Redundancy

fact = Calculators()

fact.stated("conditions.line", say("Line voltage"), Condition("line"), short=say("Line"))
fact.stated(
    "conditions.inlet", say("Inlet temperature"), Condition("inlet"), short=say("Inlet planned")
)
fact.stated("conditions.altitude", say("Altitude"), Condition("altitude"))


@fact(
    "conditions.redundancy",
    say("Supply redundancy"),
    short=say("Redundancy"),
    formula=say("as declared"),
    wanted=Condition("redundancy"),
)
def redundancy(wanted: Redundancy) -> str:
    return wanted.text


fact.stated("conditions.operating_class", say("Operating class"), platform("operating_class"))
