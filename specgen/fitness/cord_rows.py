"""What a power cord must meet: the inlet, the outlet and the line that it is for."""

from typing import Any, Final

from specgen.assembly import Place
from specgen.diagnostics import codes
from specgen.fitness.couplers import made_for, mate, plugs_in, rated_for
from specgen.fitness.part_fields import field_of, output_at
from specgen.fitness.requirement import Requirement, Surroundings, related
from specgen.messages import say


def _line(place: Place, surroundings: Surroundings) -> Any:
    """The line that a cord is for; None where its supply does not work on it, which is told."""
    line, supply = surroundings.assembly.conditions.supply_line, surroundings.part_at(place.of)
    ranges = None if supply is None else field_of(supply, "outputs")
    return None if ranges and output_at(ranges, line) is None else line


CORD_INLET: Final = Requirement(
    code=codes.CORD_MISMATCH,
    fields=("form",),
    relation="of",
    wants=related("of", "inlet"),
    suits=lambda inlet, connector: mate(connector, inlet),
    message=say("`{part}` in {where} has a connector {has}, and `{other}` an inlet {wants}"),
    at=say("a connector {has}"),
    pointers=(
        ("part.form", say("the connector")),
        ("other.inlet", say("the inlet")),
    ),
    help=say("{others} would go in"),
    statement=say("a power cord mates with the inlet of its power supply"),
)

CORD_OUTLET: Final = Requirement(
    code=codes.CORD_MISMATCH,
    fields=("plug",),
    wants=lambda _, surroundings: surroundings.assembly.conditions.outlet,
    suits=lambda outlet, plug: plugs_in(plug, outlet),
    message=say("`{part}` in {where} has a plug {has}, and the outlet is {wants}"),
    at=say("a plug {has}"),
    pointers=(("part.plug", say("the plug")),),
    help=say("{others} would go in"),
)

CORD_LINE: Final = Requirement(
    code=codes.CORD_VOLTAGE,
    fields=("plug",),
    wants=_line,
    suits=made_for,
    message=say("`{part}` in {where}: a plug {has} is not made for {wants}"),
    at=say("a plug {has}"),
    pointers=(("part.plug", say("the plug")),),
    help=say("{others} would go in"),
)

CORD_VOLTAGE: Final = Requirement(
    code=codes.CORD_VOLTAGE,
    fields=("rated_voltage",),
    wants=_line,
    suits=rated_for,
    message=say("`{part}` in {where} is rated for {has}, and the line is {wants}"),
    pointers=(("part.rated_voltage", say("the cord")),),
    help=say("{others} would go in"),
)

CORDS: Final = (CORD_INLET, CORD_OUTLET, CORD_LINE, CORD_VOLTAGE)
