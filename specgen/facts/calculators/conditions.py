"""The circumstances that values hold for, as facts of their own."""

from specgen.assembly import Assembly
from specgen.facts.fact import Declared, Rests
from specgen.facts.inputs import Condition, platform
from specgen.facts.registry import Calculators
from specgen.messages import NONE, Words, say
from specgen.model import Redundancy

fact = Calculators()

fact.stated("conditions.line", say("Line voltage"), Condition("line"), short=say("Line"))


@fact.seen(
    "conditions.line_type",
    say("Type of line"),
    formula=say("as declared; a negative voltage is DC, any other AC"),
)
def line_type(assembly: Assembly, _: str) -> tuple[str | None, Rests]:
    """Said of DC alone: a line is AC unless something says otherwise."""
    line = assembly.conditions.supply_line
    name = "line" if assembly.conditions.line_type is None else "line_type"
    if line is None or line.supplied == "ac" or name not in assembly.conditions_at:
        return None, ()
    at = assembly.conditions_at[name]
    return "DC", (Declared(Condition("line_type").label, "DC", lambda: at),)


fact.stated(
    "conditions.inlet", say("Inlet temperature"), Condition("inlet"), short=say("Inlet planned")
)
fact.stated("conditions.altitude", say("Altitude"), Condition("altitude"))


@fact(
    "conditions.redundancy",
    say("PSU redundancy"),
    short=say("Redundancy"),
    formula=say("as declared"),
    holds=str,
    wanted=Condition("redundancy"),
)
def redundancy(wanted: Redundancy) -> Words:
    return wanted.text if wanted.spare else NONE


fact.stated("conditions.operating_class", say("Operating class"), platform("operating_class"))
