"""What stands between a supply and the panel: inlets, cords, outlets, branch circuits, feeds."""

from decimal import Context as DecimalContext
from decimal import Decimal
from functools import partial
from typing import Any, Final

from specgen.assembly import Assembly
from specgen.facts.calculators.electrical import CURVE, at_lowest
from specgen.facts.calculators.subjects import FEEDS, INLET_SORTS, InWorstStates
from specgen.facts.constants import CONTINUOUS_SHARE
from specgen.facts.fact import Rests, Trail
from specgen.facts.fact_inputs import FactOf, FactOfSubject
from specgen.facts.inputs import Condition, Context, Inspected, Optionally, each, fit_leaf
from specgen.facts.registry import Calculators
from specgen.facts.supply_feeds import feed_trail, supplies_by_feed
from specgen.facts.supply_line import Line
from specgen.fitness.couplers import connector_of, inlet_of, outlet_of, plug_of
from specgen.fitness.curves import Curve
from specgen.frozen import frozen
from specgen.messages import NO, YES, Message, say
from specgen.model import CircuitRule, PowerCord, PowerSupply, SupplyLine
from specgen.quantity import Current, Power, Ratio, Voltage

fact = Calculators()

CURRENT_EACH = "power.{state}.current_each"
SUPPLIES_LEFT = "power.{state}.supplies"

NEC = f"{CONTINUOUS_SHARE.source}, where the project says that the NEC applies"
PRACTICE = f"{NEC}; else IEC 60364-4-43, 433.1 (from memory): no more than the rating"
COUPLERS = "IEC 60320-1: C14 10 A, C20 16 A; in North America 15 A and 20 A, where the NEC applies"
ROUNDS_OF_SHARING = (
    "as build or platform says; else, common practice, no source: shared out over feeds in turn"
)


def _least(found: list[Current]) -> Current | None:
    return min(found, default=None)


@fact(
    "power.inlet_rating",
    say("Rating of the inlets"),
    short=say("Inlet rating"),
    formula=say("min. over the power supplies of what their inlet is rated for"),
    source=COUPLERS,
    inlets=each(PowerSupply, "inlet"),
    rule=Optionally(Condition("circuit_rule")),
)
def inlet_rating(inlets: tuple[str, ...], rule: CircuitRule | None) -> Current | None:
    """A; None where an inlet is of no table here."""
    known = [inlet_of(inlet) for inlet in inlets]
    ratings = [found.carries(rule == "nec") for found in known if found is not None]
    return _least(ratings) if len(ratings) == len(inlets) else None


fact.least(
    "power.supply_rating",
    say("Rated input current of the power supplies"),
    each(PowerSupply, "input_current"),
    short=say("PSU rating"),
    formula=say("min. over the power supplies"),
)


@fact(
    "power.cord_rating",
    say("Rating of the cords"),
    short=say("Cord rating"),
    formula=say("min. over the cords fitted of what cord, plug and connector are rated for"),
    source=COUPLERS,
    currents=each(PowerCord, "current"),
    plugs=each(PowerCord, "plug"),
    connectors=each(PowerCord, "form"),
    rule=Optionally(Condition("circuit_rule")),
)
def cord_rating(
    currents: tuple[Current, ...],
    plugs: tuple[str, ...],
    connectors: tuple[str, ...],
    rule: CircuitRule | None,
) -> Current | None:
    """A; a plug or a connector of no table counts as the cord does."""
    ends = (*map(plug_of, plugs), *map(connector_of, connectors))
    return _least([*currents, *(end.carries(rule == "nec") for end in ends if end is not None)])


@fact(
    "power.outlet_rating",
    say("Rating of the outlets"),
    short=say("Outlet rating"),
    formula=say("what an outlet of this pattern is rated for"),
    source=COUPLERS,
    outlet=Condition("outlet", optional=True),
    rule=Optionally(Condition("circuit_rule")),
)
def outlet_rating(outlet: str | None, rule: CircuitRule | None) -> Current | None:
    found = None if outlet is None else outlet_of(outlet)
    return None if found is None else found.carries(rule == "nec")


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


RATINGS: Final[dict[str, Any]] = {
    "inlet": FactOf("power.inlet_rating", optional=True),
    "supply": FactOf("power.supply_rating", optional=True),
    "cord": FactOf("power.cord_rating", optional=True),
    "outlet": FactOf("power.outlet_rating", optional=True),
}


@fact(
    "power.path_rating",
    say("Min. rating between the outlet and the power supply"),
    short=say("Min. rating"),
    formula=say("min. of the ratings of inlets, power supplies, cords and outlets"),
    **RATINGS,
)
def path_rating(
    inlet: Current | None, supply: Current | None, cord: Current | None, outlet: Current | None
) -> Current | None:
    """A; what is not rated does not count."""
    return _least([each for each in (inlet, supply, cord, outlet) if each is not None])


@fact(
    "power.path_limited_by",
    say("Current limited by"),
    formula=say("what has the lowest of these ratings"),
    **RATINGS,
)
def path_limited_by(
    inlet: Current | None, supply: Current | None, cord: Current | None, outlet: Current | None
) -> Message | None:
    found = (
        (say("the inlet"), inlet),
        (say("the power supply"), supply),
        (say("the cord"), cord),
        (say("the outlet"), outlet),
    )
    known = [(rating, words) for words, rating in found if rating is not None]
    return min(known, key=lambda each: each[0])[1] if known else None


@fact(
    "power.cord_margin",
    say("Headroom per cord"),
    formula=say(
        "min. of the ratings of inlets, power supplies, cords and outlets, less the input "
        "current per cord, worst case"
    ),
    rating="power.path_rating",
    current="power.cord_current",
)
def cord_margin(rating: Current, current: Current) -> Current:
    """A; below nothing where one of them is too weak."""
    return (rating - current).to("A")


fact.stated(
    "power.circuit",
    say("Rating of the branch circuit"),
    Condition("circuit"),
    short=say("Circuit rating"),
)


@fact(
    "power.circuit_rule",
    say("Rule for branch circuits"),
    formula=say("that of the NEC where the project says so, else IEC practice"),
    source=PRACTICE,
    circuit="power.circuit",
    allowed="power.circuit_allowed",
)
def circuit_rule(circuit: Current, allowed: Current) -> Message:
    if allowed < circuit:
        return say("80 % of the rating in continuous duty, NEC (NFPA 70), 210.20(A)")
    return say("full rating, IEC practice (IEC 60364-4-43, 433.1)")


@fact(
    "power.circuit_allowed",
    say("Continuous rating of the branch circuit"),
    short=say("Continuous rating"),
    formula=say("the circuit's rating; 80 % of it where the NEC applies"),
    source=PRACTICE,
    circuit=Condition("circuit"),
    rule=Optionally(Condition("circuit_rule")),
)
def circuit_allowed(circuit: Current, rule: CircuitRule | None) -> Current:
    return (circuit * CONTINUOUS_SHARE.value).to("A") if rule == "nec" else circuit


@fact(
    "power.circuit_power",
    say("Continuous power rating of the branch circuit"),
    formula=say("continuous rating x line voltage; on DC the lowest"),
    source=PRACTICE,
    assumes=say("one phase, power factor 1"),
    allowed="power.circuit_allowed",
    lowest="power.line_lowest",
)
def circuit_power(allowed: Current, lowest: Voltage) -> Power:
    return Power.of(allowed.amount * abs(lowest.amount))


@fact(
    "power.circuit_share",
    say("Share of a branch circuit"),
    short=say("Share of one server"),
    formula=say("input current per cord, worst case / continuous rating of the circuit"),
    source=PRACTICE,
    assumes=say("each cord is connected to a circuit of its own"),
    current="power.cord_current",
    allowed="power.circuit_allowed",
)
def circuit_share(current: Current, allowed: Current) -> Ratio | None:
    """Of what the rule allows."""
    return Ratio.of_fraction(current / allowed) if allowed.amount > 0 else None


CARRIED: Final = DecimalContext(prec=25)
"""Fewer digits than currents are worked out with."""


def whole_times(times: Decimal) -> int:
    """How often one goes into another; what a division left in the last places does not count."""
    return int(CARRIED.plus(times))


@fact(
    "power.circuit_servers",
    say("Servers on a branch circuit"),
    short=say("Servers per circuit"),
    formula=say("continuous rating / input current per cord, worst case; whole servers only"),
    source=PRACTICE,
    assumes=say("one cord of each server is connected to the circuit"),
    current="power.cord_current",
    allowed="power.circuit_allowed",
)
def circuit_systems(current: Current, allowed: Current) -> int | None:
    return whole_times(allowed / current) if current.amount > 0 else None


def _supplies_on(assembly: Assembly, feed: str) -> tuple[tuple[str, ...], Trail]:
    found = supplies_by_feed(assembly)[feed]
    return tuple(place.name for place in found), feed_trail(assembly, found)


fact.seen(
    "power.{feed}.psus",
    say("Power supplies on the feed"),
    short=say("Power supplies"),
    formula=say(
        "as build or platform says; the others in their order, each to the feed with the fewest"
    ),
    source=ROUNDS_OF_SHARING,
    over=FEEDS,
)(_supplies_on)


@fact(
    "power.{feed}.feed_current",
    say("Current of the feed, normal operation"),
    noun="current of the feed in normal operation",
    short=say("Current, normal operation"),
    formula=say("input current per power supply x power supplies on the feed"),
    over=FEEDS,
    current=FactOfSubject("power.{state}.current_each", "maximum"),
    psus="power.{feed}.psus",
)
def feed_current(current: Current, psus: tuple[str, ...]) -> Current:
    return current * len(psus)


@fact(
    "power.{feed}.feed_alone",
    say("Current of the feed with all others lost"),
    noun="current of the feed with all others lost",
    short=say("Current, others lost"),
    formula=say(
        "current of the power supplies on the feed when they carry the whole load; on DC at the "
        "lowest line voltage"
    ),
    over=FEEDS,
    load="power.load",
    output="power.supply_output",
    psus="power.{feed}.psus",
    curve=CURVE,
    line=Line(),
    lowest="power.line_lowest",
)
def feed_alone(
    load: Power,
    output: Power,
    psus: tuple[str, ...],
    curve: Curve,
    line: SupplyLine,
    lowest: Voltage,
) -> Current | None:
    """A; None where those on the feed do not carry the load."""
    if not psus or load / len(psus) > output:
        return None
    each = curve.current(load / len(psus), line)
    return None if each is None else at_lowest(each, line.voltage, lowest) * len(psus)


@frozen
class _Feed:
    """A feed's current in each state in which most is drawn, its own loss apart."""

    def read(self, context: Context) -> tuple[tuple[Current, ...] | None, Rests]:
        on = len(supplies_by_feed(context.assembly)[context.subject])
        drawn, rests = InWorstStates(CURRENT_EACH, context.subject).read(context)
        shared, left = InWorstStates(SUPPLIES_LEFT, context.subject).read(context)
        if drawn is None or shared is None:
            return None, (*rests, *left)
        return tuple(map(partial(_of_feed, on), drawn, shared)), (*rests, *left)

    @property
    def needs(self) -> frozenset[str]:
        return InWorstStates(CURRENT_EACH).needs | InWorstStates(SUPPLIES_LEFT).needs


def _of_feed(on: int, each: Current, left: int) -> Current:
    """Of those left, as many as there are on the feed: the failures are on the others."""
    return each * min(on, left)


@fact(
    "power.{feed}.feed_worst",
    say("Current of the feed, worst case"),
    noun="worst-case current of the feed",
    short=say("Current, worst case"),
    formula=say(
        "max. over all power supplies working, each number of failures that the "
        "redundancy must tolerate, first of those on other feeds, and each feed that is lost; on "
        "DC at the lowest line voltage"
    ),
    over=FEEDS,
    currents=_Feed(),
    alone=FactOf("power.{feed}.feed_alone", optional=True),
    line=Line(),
    lowest="power.line_lowest",
)
def feed_worst(
    currents: tuple[Current, ...],
    alone: Current | None,
    line: SupplyLine,
    lowest: Voltage,
) -> Current | None:
    found = [at_lowest(each, line.voltage, lowest) for each in currents]
    return max(found if alone is None else [*found, alone], default=None)


def _fewest(assembly: Assembly, _: str) -> tuple[int | None, Trail]:
    """The fewest power supplies that are left when one feed is lost."""
    on = [len(places) for places in supplies_by_feed(assembly).values()]
    places = tuple(place for place, _ in assembly.fitted(PowerSupply)) if on else ()
    return (sum(on) - max(on) if on else None), feed_trail(assembly, places)


@fact(
    "power.feed_kept",
    say("Loss of one feed tolerated"),
    formula=say("whether the power supplies on the other feeds carry the load"),
    source=ROUNDS_OF_SHARING,
    left=Inspected(_fewest),
    output="power.supply_output",
    load="power.load",
)
def feed_kept(left: int, output: Power, load: Power) -> Message:
    return YES if load <= output * left else NO
