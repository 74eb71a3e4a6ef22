"""From the load of the supplies to the line: efficiency, input power, current."""

from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import AC_STATES, STATES, InWorstStates
from specgen.facts.fact import Declared, Rests, Trail
from specgen.facts.fact_inputs import FactOf, FactOfSubject
from specgen.facts.inputs import Assumption, Condition, Context, Inspected, each, labelled, leaf
from specgen.facts.registry import Calculators
from specgen.facts.supply_line import Line
from specgen.fitness.curves import Curve, curve_of
from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.model import Origin, PowerSupply, SupplyLine, SupplyOutput
from specgen.model.pedigree import FieldPath
from specgen.quantity import ApparentPower, Current, Power, Ratio, Voltage

fact = Calculators()

LINEAR = say(
    "read off the power supply's own curve at the load of each, linear between its points, "
    "never beyond its ends nor above the output at the line voltage"
)
CONVENTION = "convention of the project: no standard says how to read between the points"
POWER_FACTOR = "Regulation (EU) 2019/424, annex I, (14): power factor = real / apparent power"
WORST = say(
    "max. over all power supplies working, each number of failures that the redundancy "
    "must tolerate, and each feed that is lost"
)


def _curve(assembly: Assembly, _: str) -> tuple[Curve | None, Rests]:
    """The curve of the supplies on the line, where they are alike."""
    line, allowed = assembly.conditions.supply_line, _allowed(assembly)
    supplies = assembly.fitted(PowerSupply)
    found = [(place, part, *curve_of(part, line, allowed)) for place, part in supplies]
    alike = bool(found) and all(curve == found[0][2] for _, _, curve, _ in found)
    return (found[0][2] if alike else None), partial(_curve_trail, assembly, found)


def _allowed(assembly: Assembly) -> Ratio | None:
    """How much lower than measured the project takes curves to be on another line."""
    allowed = assembly.definitions.project.assumptions.curve_allowance
    return None if allowed is None else allowed.value


def _curve_trail(
    assembly: Assembly, found: list[tuple[Place, PowerSupply, Curve | None, FieldPath]]
) -> Trail:
    trail: list[Declared] = []
    project = assembly.definitions.project
    allowed = project.assumptions.curve_allowance
    for place, part, curve, path in found:
        shown = None if curve is None else curve.points
        at = partial(part.origin.place, *path)
        trail.append(Declared(labelled(part, ("curve",)), shown, at, part.source, place.name))
        trail.append(leaf(place, part, ("outputs",), part.outputs))
        if part.curve and part.curve_at is not None:
            trail.append(leaf(place, part, ("curve_at",), part.curve_at))
    if allowed is not None and any(curve is not None and curve.lowered for _, _, curve, _ in found):
        at = partial(project.origin.place, "assumptions", "curve_allowance")
        trail.append(
            Declared(
                Assumption("curve_allowance").label, allowed.value, at, allowed.source, assumed=True
            )
        )
    at_line = assembly.conditions_at.get("line")
    if at_line is not None:  # which curve holds depends on it
        trail.append(Declared(Condition("line").label, assembly.conditions.line, lambda: at_line))
    return tuple(trail)


CURVE = Inspected(_curve)


@frozen
class CurveAtLoad:
    """The curve, for the load of each supply in a state of the system: a load that no point of it
    says anything about is told beside it, unless it is more than the supply gives."""

    @property
    def needs(self) -> frozenset[str]:
        return frozenset({"power.{state}.load_each", "power.supply_output"})

    def read(self, context: Context) -> tuple[Curve | None, Rests]:
        curve, rests = CURVE.read(context)
        load = context.facts.value(f"power.{context.subject}.load_each")
        output = context.facts.value("power.supply_output")
        if curve is None or not isinstance(load, Power) or not isinstance(output, Power):
            return curve, rests
        if load > output or curve.efficiency(load) is not None:
            return curve, rests
        at = say("efficiency of the power supplies at {load}", load=load)
        beside = Declared(at, None, Origin().at)
        return curve, lambda: (*(rests() if callable(rests) else rests), beside)


CURVE_AT_LOAD = CurveAtLoad()


@fact(
    "power.curve",
    say("Efficiency curve used"),
    short=say("Curve used"),
    formula=say(
        "the curve of the range of supply voltage that the line lies in; another one only with "
        "the allowance that the project declares"
    ),
    source=CONVENTION,
    curve=CURVE,
    line=Line(),
)
def curve_used(curve: Curve, line: SupplyLine) -> Message:
    """Which curve it is, in words."""
    known = {
        "least": curve.home.from_,
        "most": curve.home.to,
        "voltage": curve.measured,
        "line": line.voltage,
        "points": curve.lowered and curve.lowered.to("%").amount,
    }
    if curve.lowered is not None:
        return say(
            "that of {least} to {most}, read at {line} less {points} percentage points", **known
        )
    if curve.measured is not None:
        return say("measured at {voltage}, for {least} to {most}", **known)
    return say("that of {least} to {most}", **known)


@fact(
    "power.{state}.efficiency",
    say("Efficiency of the power supplies"),
    short=say("Efficiency"),
    formula=LINEAR,
    source=CONVENTION,
    over=STATES,
    assumes=say("the power supplies are alike"),
    load="power.{state}.load_each",
    output="power.supply_output",
    curve=CURVE_AT_LOAD,
)
def efficiency(load: Power, output: Power, curve: Curve) -> Ratio | None:
    """Output / input."""
    value = curve.efficiency(load) if load <= output else None
    return None if value is None else Ratio.of_fraction(value)


@fact(
    "power.{state}.power_factor",
    say("Power factor"),
    formula=LINEAR,
    source=CONVENTION,
    over=AC_STATES,
    load="power.{state}.load_each",
    output="power.supply_output",
    curve=CURVE_AT_LOAD,
)
def power_factor(load: Power, output: Power, curve: Curve) -> Decimal | None:
    """Real power / apparent power."""
    return curve.power_factor(load) if load <= output else None


@fact(
    "power.{state}.input",
    say("Input power"),
    formula=say("load of the power supplies / efficiency"),
    over=STATES,
    load="power.{state}.load",
    efficiency="power.{state}.efficiency",
)
def input_power(load: Power, efficiency: Ratio) -> Power:
    """W at the inlets, all of them together."""
    return load / efficiency.fraction


@fact(
    "power.{state}.input_each",
    say("Input power per cord"),
    short=say("Input per cord"),
    formula=say("input power / power supplies that share the load"),
    over=STATES,
    assumes=say("a cord for each power supply"),
    input_power="power.{state}.input",
    carrying="power.{state}.supplies",
)
def input_each(input_power: Power, carrying: int) -> Power | None:
    return input_power / carrying if carrying else None


fact.most(
    "power.input",
    say("Input power, worst case"),
    InWorstStates("power.{state}.input"),
    noun="worst-case input power",
    short=say("Input power"),
    formula=WORST,
)
fact.most(
    "power.cord_input",
    say("Input power per cord, worst case"),
    InWorstStates("power.{state}.input_each"),
    noun="worst-case input power per cord",
    short=say("Per cord"),
    formula=WORST,
)
fact.most(
    "power.apparent",
    say("Apparent power, worst case"),
    InWorstStates("power.{state}.apparent"),
    noun="worst-case apparent power",
    short=say("Apparent power"),
    formula=WORST,
)


@fact(
    "power.line_lowest",
    say("Voltage at the max. current"),
    formula=say(
        "on DC, the end of the power supplies' input range that is nearest to zero; on AC the "
        "line voltage"
    ),
    source="common practice, no source: batteries run down, and a power supply then draws more",
    ranges=each(PowerSupply, "outputs"),
    line=Line(),
)
def line_lowest(ranges: tuple[tuple[SupplyOutput, ...], ...], line: SupplyLine) -> Voltage:
    """V at which most current flows; that of AC is kept up by whoever supplies it."""
    held = (entry for outputs in ranges for entry in outputs if entry.holds(line))
    ends = [end for entry in held for end in (entry.from_, entry.to) if end.amount]
    if line.supplied != "dc" or not ends:
        return line.voltage
    return min(ends, key=lambda end: abs(end.amount))


def at_lowest(current: Current, at: Voltage, lowest: Voltage) -> Current:
    """The current for the same power at the lowest voltage of the line, from that at another."""
    if lowest == at or not lowest.amount:
        return current
    return Current.of(current.amount * abs(at.amount) / abs(lowest.amount))


WORST_CURRENT = say("{worst}; on DC at the lowest line voltage", worst=WORST)


@fact(
    "power.current",
    say("Input current, worst case"),
    noun="worst-case input current",
    short=say("Input current"),
    formula=WORST_CURRENT,
    currents=InWorstStates("power.{state}.current"),
    line=Line(),
    lowest="power.line_lowest",
)
def worst_current(
    currents: tuple[Current, ...], line: SupplyLine, lowest: Voltage
) -> Current | None:
    """A in all cords together."""
    return max((at_lowest(each, line.voltage, lowest) for each in currents), default=None)


fact(
    "power.cord_current",
    say("Input current per cord, worst case"),
    noun="worst-case input current per cord",
    short=say("Current per cord"),
    formula=WORST_CURRENT,
    currents=InWorstStates("power.{state}.current_each"),
    line=Line(),
    lowest="power.line_lowest",
)(worst_current)


@fact(
    "power.{state}.loss",
    say("Loss in the power supplies"),
    formula=say("input power less the load of the power supplies"),
    over=STATES,
    input_power="power.{state}.input",
    load="power.{state}.load",
)
def loss(input_power: Power, load: Power) -> Power:
    return input_power - load


@fact(
    "power.{state}.apparent",
    say("Apparent power"),
    formula=say("input power / power factor"),
    source=POWER_FACTOR,
    over=AC_STATES,
    input_power="power.{state}.input",
    power_factor="power.{state}.power_factor",
)
def apparent(input_power: Power, power_factor: Decimal) -> ApparentPower:
    """VA at the inlets, all of them together."""
    return ApparentPower.of(input_power.amount / power_factor)


@fact(
    "power.{state}.current",
    say("Input current"),
    formula=say("apparent power / line voltage; on DC, input power / voltage"),
    over=STATES,
    assumes=say("one phase"),
    input_power="power.{state}.input",
    apparent=FactOf("power.{state}.apparent", optional=True),
    line=Line(),
)
def current(input_power: Power, apparent: ApparentPower | None, line: SupplyLine) -> Current | None:
    """A in all cords together."""
    volts = abs(line.voltage.amount)
    drawn = input_power.amount if line.supplied == "dc" else None
    if line.supplied == "ac" and apparent is not None:
        drawn = apparent.amount
    return None if drawn is None or not volts else Current.of(drawn / volts)


@fact(
    "power.{state}.current_each",
    say("Input current per cord"),
    short=say("Current per cord"),
    formula=say("input current / power supplies that share the load"),
    over=STATES,
    assumes=say("a cord for each power supply"),
    current="power.{state}.current",
    carrying="power.{state}.supplies",
)
def current_each(current: Current, carrying: int) -> Current | None:
    return current / carrying if carrying else None


@fact(
    "power.rack_input",
    say("Input power of the rack, worst case"),
    noun="worst-case input power of the rack",
    short=say("Per rack"),
    formula=say("servers in a rack x input power, worst case"),
    count=Condition("per_rack"),
    input_power="power.input",
)
def rack_input(count: int, input_power: Power) -> Power:
    return input_power * count


@fact(
    "power.rack_typical",
    say("Input power of the rack, typical"),
    noun="typical input power of the rack",
    formula=say("servers in a rack x input power, typical"),
    count=Condition("per_rack"),
    input_power=FactOfSubject("power.{state}.input", "typical"),
)
def rack_typical(count: int, input_power: Power) -> Power:
    return input_power * count
