"""From the supplies' load to the line: efficiency, input, current, cords and circuits."""

from decimal import Decimal
from functools import partial
from itertools import pairwise

from specgen.assembly import Assembly
from specgen.facts.calculators.subjects import INLET_SORTS, STATES, at_most
from specgen.facts.constants import CONTINUOUS_SHARE, INLETS
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Condition, FactOf, FactOfSubject, Inspected, each, fit_leaf, leaf
from specgen.facts.registry import Calculators
from specgen.facts.tabled import tabled
from specgen.messages import say
from specgen.model import EfficiencyPoint, PowerCord, PowerSupply, SupplyOutput
from specgen.quantity import ApparentPower, Current, Power, Ratio, Voltage

fact = Calculators()

LINEAR = say(
    "read off the supply's own curve, linear between its points, never beyond its ends, at the "
    "load each really carries"
)
CONVENTION = "convention of the project: no standard says how to read between the points"
POWER_FACTOR = "Regulation (EU) 2019/424, annex I, (14): power factor = real / apparent power"
NEC = CONTINUOUS_SHARE.source + "; a rule of the NEC, IEC knows none like it"
EfficiencyCurve = tuple[tuple[EfficiencyPoint, ...], Power]
"""Points, and the output that their loads are shares of."""

fact.most(
    "power.cord_current",
    say("Highest current in a cord"),
    at_most("power.{state}.current_each"),
    short=say("Highest in a cord"),
    formula=say("the greatest at maximum power, all supplies well or some failed"),
)


@fact(
    "power.inlet_rating",
    say("Rating of the inlets"),
    short=say("Inlet rated"),
    formula=say("least over the supplies of what their inlet may carry"),
    source="IEC 60320-1: C14 10 A, C20 16 A; other values hold in North America",
    inlets=each(PowerSupply, "inlet"),
)
def inlet_rating(inlets: tuple[str, ...]) -> Current | None:
    """A; None where an inlet is not tabled here."""
    if not inlets or any(inlet not in INLETS for inlet in inlets):
        return None
    return Current.of(min(INLETS[inlet].value for inlet in inlets))


fact.least(
    "power.cord_rating",
    say("Rating of the cords"),
    each(PowerCord, "current"),
    short=say("Cord rated"),
    formula=say("least over the cords fitted"),
)


@fact.seen(
    "power.{inlet}.uncorded",
    say("Inlets without a cord in the build"),
    formula=say("power supplies with this inlet that no cord is fitted to"),
    over=INLET_SORTS,
)
def uncorded(assembly: Assembly, inlet: str) -> tuple[int, Trail]:
    corded = {place.of for place, _ in assembly.fitted(PowerCord)}
    alike = [place for place, part in assembly.fitted(PowerSupply) if part.inlet == inlet]
    bare = [place for place in alike if place.name not in corded]
    return len(bare), tuple(fit_leaf(place) for place in alike)


@fact(
    "power.cord_margin",
    say("Current to spare in a cord"),
    formula=say(
        "the lesser of the ratings of inlets and cords, less the highest current in a cord"
    ),
    inlet="power.inlet_rating",
    cord=FactOf("power.cord_rating", optional=True),
    current="power.cord_current",
)
def cord_margin(inlet: Current, cord: Current | None, current: Current) -> Current:
    """A; below nothing where inlet or cord is too weak."""
    return (inlet if cord is None else min(inlet, cord)) - current


fact.stated(
    "power.circuit",
    say("Rating of the branch circuit"),
    Condition("circuit"),
    short=say("Circuit rated"),
)


@fact(
    "power.circuit_allowed",
    say("Continuous current allowed on the branch circuit"),
    short=say("Allowed without pause"),
    formula=say("80 % of the circuit's rating"),
    source=NEC,
    circuit=Condition("circuit"),
)
def circuit_allowed(circuit: Current) -> Current:
    return circuit * CONTINUOUS_SHARE.value


@fact(
    "power.circuit_power",
    say("Continuous power allowed on the branch circuit"),
    formula=say("continuous current allowed x line voltage"),
    source=NEC,
    assumes=say("one phase, power factor 1"),
    allowed="power.circuit_allowed",
    line=Condition("line"),
)
def circuit_power(allowed: Current, line: Voltage) -> Power:
    return Power.of(allowed.amount * line.amount)


@fact(
    "power.circuit_share",
    say("Share of a branch circuit"),
    short=say("Share of one machine"),
    formula=say("highest current in a cord / continuous current allowed on the circuit"),
    source=NEC,
    assumes=say("each cord hangs on a circuit of its own"),
    current="power.cord_current",
    allowed="power.circuit_allowed",
)
def circuit_share(current: Current, allowed: Current) -> Ratio | None:
    """Of what the rule allows, not of the circuit's rating."""
    return Ratio.of_fraction(current / allowed) if allowed.amount > 0 else None


@fact(
    "power.circuit_machines",
    say("Machines on a branch circuit"),
    short=say("Machines on one circuit"),
    formula=say("continuous current allowed / highest current in a cord, whole machines only"),
    source=NEC,
    assumes=say("one cord of each machine hangs on the circuit"),
    current="power.cord_current",
    allowed="power.circuit_allowed",
)
def circuit_systems(current: Current, allowed: Current) -> int | None:
    return int(allowed / current) if current.amount > 0 else None


@fact(
    "power.rack_input",
    say("Input power of all machines in a rack"),
    formula=say("machines in a rack x input power at the most"),
    count=Condition("per_rack"),
    input_power=FactOfSubject("power.{state}.input", "maximum"),
)
def rack_input(count: int, input_power: Power) -> Power:
    return input_power * count


def _curve_of(
    supply: PowerSupply, line: Voltage | None
) -> tuple[EfficiencyCurve, tuple[str | int, ...]]:
    """The curve that holds at a line voltage, and where in the definition it stands."""
    best: tuple[SupplyOutput, int] | None = None
    for index, entry in enumerate(supply.outputs):
        within = line is not None and entry.from_ <= line <= entry.to
        if within and (best is None or entry.output > best[0].output):
            best = entry, index
    if best is not None and best[0].curve:
        return (best[0].curve, best[0].output), ("outputs", best[1], "curve")
    rated = max((entry.output for entry in supply.outputs), default=Power.zero())
    return (supply.curve, rated), ("curve",)


def _curve(assembly: Assembly, _: str) -> tuple[EfficiencyCurve | None, Trail]:
    """The curve of the supplies at the line voltage, where they are alike."""
    found: list[EfficiencyCurve] = []
    trail: list[Declared] = []
    for place, part in assembly.fitted(PowerSupply):
        curve, path = _curve_of(part, assembly.conditions.line)
        found.append(curve)
        shown = tabled(curve[0]) if curve[0] else None
        at = partial(part.origin.place, *path)
        trail.append(Declared(f"{part.name}: curve", shown, at, part.source, place.name))
        trail.append(leaf(place, part, ("outputs",), part.outputs))
    own = any(entry.curve for _, part in assembly.fitted(PowerSupply) for entry in part.outputs)
    line = assembly.conditions_at.get("line")
    if own and line is not None:  # which curve holds depends on it
        trail.append(Declared("line voltage", assembly.conditions.line, lambda: line))
    alike = bool(found) and all(curve == found[0] for curve in found)
    return (found[0] if alike else None), tuple(trail)


def read_curve(points: tuple[EfficiencyPoint, ...], share: Decimal, field: str) -> Decimal | None:
    """`efficiency` or `power_factor` at a share of the load, linear between declared points.

    None beyond the ends of the curve: nothing is extrapolated.
    """
    known: list[tuple[Decimal, Decimal]] = sorted(
        (point.load, value) for point in points if (value := getattr(point, field)) is not None
    )
    for load, value in known:
        if load == share:
            return value
    for (low, at_low), (high, at_high) in pairwise(known):
        if low < share < high:
            return at_low + (at_high - at_low) * (share - low) / (high - low)
    return None


def _read(load: Power, curve: EfficiencyCurve, field: str) -> Decimal | None:
    points, rated = curve
    return read_curve(points, load / rated, field) if rated.amount > 0 else None


@fact(
    "power.{state}.efficiency",
    say("Efficiency of the supplies"),
    short=say("Efficiency"),
    formula=LINEAR,
    source=CONVENTION,
    over=STATES,
    assumes=say(
        "the supplies are alike; without a curve of its own, a range of the line voltage "
        "has that of the rated output"
    ),
    load="power.{state}.load_each",
    curve=Inspected(_curve),
)
def efficiency(load: Power, curve: EfficiencyCurve) -> Ratio | None:
    """Output / input."""
    value = _read(load, curve, "efficiency")
    return None if value is None else Ratio.of_fraction(value)


@fact(
    "power.{state}.power_factor",
    say("Power factor"),
    formula=LINEAR,
    source=CONVENTION,
    over=STATES,
    load="power.{state}.load_each",
    curve=Inspected(_curve),
)
def power_factor(load: Power, curve: EfficiencyCurve) -> Decimal | None:
    """Real power / apparent power."""
    return _read(load, curve, "power_factor")


@fact(
    "power.{state}.input",
    say("Input power"),
    short=say("Input in all"),
    formula=say("load of the supplies / efficiency"),
    over=STATES,
    load="power.{state}.load",
    efficiency="power.{state}.efficiency",
)
def input_power(load: Power, efficiency: Ratio) -> Power:
    """W at the cords, all of them together."""
    return load / efficiency.fraction


@fact(
    "power.{state}.loss",
    say("Lost in the supplies"),
    formula=say("input power less the load of the supplies"),
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
    over=STATES,
    input_power="power.{state}.input",
    power_factor="power.{state}.power_factor",
)
def apparent(input_power: Power, power_factor: Decimal) -> ApparentPower:
    """VA at the cords, all of them together."""
    return ApparentPower.of(input_power.amount / power_factor)


@fact(
    "power.{state}.current",
    say("Input current"),
    formula=say("apparent power / line voltage"),
    over=STATES,
    assumes=say("one phase"),
    apparent="power.{state}.apparent",
    line=Condition("line"),
)
def current(apparent: ApparentPower, line: Voltage) -> Current | None:
    """A in all cords together."""
    return Current.of(apparent.amount / line.amount) if line.amount > 0 else None


@fact(
    "power.{state}.current_each",
    say("Current per cord"),
    formula=say("input current / supplies that share the load"),
    over=STATES,
    assumes=say("a cord for each supply"),
    current="power.{state}.current",
    carrying="power.{state}.supplies",
)
def current_each(current: Current, carrying: int) -> Current | None:
    return current / carrying if carrying else None
