"""What the supplies can give, how the load is shared, and which other supplies would carry it."""

from collections.abc import Iterator
from decimal import ROUND_CEILING
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import SOME_FAILED, STATES, WITHOUT_FEED, InWorstStates
from specgen.facts.fact import Declared, PartId, Trail
from specgen.facts.fact_inputs import ChosenFact, FactOf
from specgen.facts.inputs import (
    Assumption,
    Condition,
    Fitted,
    Inspected,
    each,
    labelled,
    position_leaf,
)
from specgen.facts.registry import Calculators
from specgen.facts.supply_feeds import feed_trail, supplies_by_feed
from specgen.facts.supply_line import Line
from specgen.fitness import around, candidates
from specgen.fitness.part_fields import output_at
from specgen.messages import NO, YES, Message, say
from specgen.model import PowerSupply, Redundancy, Span, SupplyLine, SupplyOutput
from specgen.quantity import Power, Ratio

fact = Calculators()

SHARING = "N PSUs of which r may fail: each carries L / N, and L / (N - r) after r failures"
LOADS = {
    "idle": "power.idle",
    "typical": "power.typical",
    "maximum": "power.maximum",
    "failure": "power.maximum",
    **dict.fromkeys((*SOME_FAILED, *WITHOUT_FEED), "power.maximum"),
}

fact.count(
    "power.supplies",
    say("Power supplies"),
    Fitted(PowerSupply),
    short=say("PSUs"),
    formula=say("number fitted"),
)


@fact(
    "power.supply_output",
    say("Output of one power supply at the line voltage"),
    short=say("Output at the line voltage"),
    formula=say("min. over the power supplies of what each can give at the line voltage"),
    supplies=each(PowerSupply, "outputs"),
    line=Line(),
)
def supply_output(supplies: tuple[tuple[SupplyOutput, ...], ...], line: SupplyLine) -> Power | None:
    """Output in W that every supply can give; None where one cannot work at this voltage."""
    outputs = [output_at(ranges, line) for ranges in supplies]
    known = [output for output in outputs if output is not None]
    return min(known) if known and len(known) == len(outputs) else None


@fact(
    "power.installed",
    say("Output of all power supplies"),
    formula=say("output of one power supply x power supplies"),
    source=SHARING,
    output="power.supply_output",
    count="power.supplies",
)
def installed(output: Power, count: int) -> Power:
    return (output * count).to("W")


@fact(
    "power.available",
    say("Output after the failures to tolerate"),
    formula=say("output of one power supply x (power supplies less those that may fail)"),
    source=SHARING,
    output="power.supply_output",
    count="power.supplies",
    redundancy=Condition("redundancy"),
)
def available(output: Power, count: int, redundancy: Redundancy) -> Power:
    return (output * max(count - redundancy.spare, 0)).to("W")


fact.stated(
    "power.board_loss_share",
    say("Loss between power supplies and parts"),
    Assumption("board_loss"),
)


@fact(
    "power.board_loss",
    say("Loss between power supplies and parts, maximum"),
    noun="maximum loss between power supplies and parts",
    formula=say("load of the power supplies less the DC load of the parts"),
    load="power.load",
    draw="power.maximum",
)
def board_loss(load: Power, draw: Power) -> Power:
    return load - draw


@fact(
    "power.load",
    say("Load of the power supplies, maximum"),
    noun="maximum load of the power supplies",
    formula=say("DC load, maximum x (1 + loss between power supplies and parts)"),
    assumes=say("where the project declares no such loss, the draw of the parts contains it"),
    draw="power.maximum",
    lost=FactOf("power.board_loss_share", optional=True),
)
def whole_load(draw: Power, lost: Ratio | None) -> Power:
    """W at the supplies' output."""
    return draw if lost is None else draw * (1 + lost.fraction)


@fact(
    "power.headroom",
    say("Headroom after the failures"),
    formula=say("output after the failures to tolerate less the load of the power supplies"),
    available="power.available",
    load="power.load",
)
def headroom(available: Power, load: Power) -> Power:
    return available - load


@fact(
    "power.failures_tolerated",
    say("Power supplies that may fail at maximum load"),
    formula=say(
        "power supplies less the fewest whose output carries the load; none where all do not"
    ),
    source=SHARING,
    count="power.supplies",
    output="power.supply_output",
    load="power.load",
)
def failures_tolerated(count: int, output: Power, load: Power) -> int:
    """How many of the supplies are to spare at this line voltage; one at least must be left."""
    if output.amount <= 0:
        return 0
    needed = (load / output).to_integral_value(ROUND_CEILING)
    return max(count - max(int(needed), 1), 0)


@fact(
    "power.redundancy_kept",
    say("Redundancy kept"),
    formula=say("whether the power supplies left after the failures to tolerate carry the load"),
    source=SHARING,
    available="power.available",
    load="power.load",
)
def redundancy_kept(available: Power, load: Power) -> Message:
    return YES if load <= available else NO


@fact(
    "power.uneven_share",
    say("Max. load of one power supply, % of rated output"),
    noun="share of its rated output that the power supply with the greatest load gives",
    formula=say("max. share x (1 + error of sharing); one that is left alone shares with none"),
    shares=InWorstStates("power.{state}.share"),
    carrying=InWorstStates("power.{state}.supplies"),
    error=Assumption("supply_sharing_error"),
)
def uneven_share(
    shares: tuple[Ratio, ...], carrying: tuple[int, ...], error: Ratio
) -> Ratio | None:
    """Of the output at the line voltage, where power supplies do not share equally."""
    uneven = (
        share * (1 + error.fraction) if count > 1 else share
        for share, count in zip(shares, carrying, strict=True)
    )
    return max(uneven, default=None)


def _fitting(assembly: Assembly, place: Place) -> Iterator[PowerSupply]:
    for part in candidates(place, around(assembly, place)):
        if isinstance(part, PowerSupply):
            yield part


def _candidates(assembly: Assembly, _: str) -> tuple[tuple[PowerSupply, ...] | None, Trail]:
    """Supplies that can be ordered and go into the system's first place for one."""
    place = next(assembly.taking(PowerSupply.kind), None)
    if place is None:
        return None, ()
    found = tuple(_fitting(assembly, place))
    trail = [
        Declared(
            labelled(part, ("outputs",)),
            part.outputs,
            partial(part.origin.place, "outputs"),
            part.source,
        )
        for part in found
    ]
    return found, (position_leaf(place), *trail)


@fact(
    "power.choices",
    say("Suitable power supplies, smallest first"),
    noun="suitable power supplies",
    formula=say(
        "power supplies for this platform that can be ordered and of which those left after "
        "the failures to tolerate carry the load at the line voltage, weakest first"
    ),
    source=SHARING,
    candidates=Inspected(_candidates),
    load="power.load",
    count="power.supplies",
    redundancy=Condition("redundancy"),
    line=Line(),
)
def choices(
    candidates: tuple[PowerSupply, ...],
    load: Power,
    count: int,
    redundancy: Redundancy,
    line: SupplyLine,
) -> tuple[PartId, ...] | None:
    """Ids of supplies, by output at the line voltage; None where none would be left."""
    left = count - redundancy.spare
    if left < 1:
        return None
    enough = [
        (output.amount, part.id)
        for part in candidates
        if (output := output_at(part.outputs, line)) is not None and output * left >= load
    ]
    return tuple(PartId(name) for _, name in sorted(enough))


@fact(
    "power.smallest",
    say("Smallest suitable power supply"),
    formula=say("the first of the suitable power supplies"),
    choices="power.choices",
)
def smallest(choices: tuple[PartId, ...]) -> PartId | None:
    return choices[0] if choices else None


def _lost(assembly: Assembly, state: str) -> tuple[int, Trail]:
    """How many supplies have failed, or lost their feed, in a state of the system."""
    if state in WITHOUT_FEED:
        places = supplies_by_feed(assembly)[WITHOUT_FEED[state]]
        feeds = Declared(
            Condition("feeds").label,
            assembly.conditions.feeds,
            partial(_stated, assembly, "feeds"),
            name="feeds",
        )
        return len(places), (feeds, *feed_trail(assembly, places))
    redundancy = assembly.conditions.redundancy
    if redundancy is None or (state != "failure" and state not in SOME_FAILED):
        return 0, ()
    told = Declared(
        Condition("redundancy").label, redundancy.text, partial(_stated, assembly, "redundancy")
    )
    return SOME_FAILED.get(state, redundancy.spare), (told,)


def _stated(assembly: Assembly, condition: str) -> Span:
    return assembly.conditions_at[condition]


@fact(
    "power.{state}.supplies",
    say("Power supplies that share the load"),
    short=say("PSUs"),
    formula=say("power supplies fitted, less those that have failed or lost their feed"),
    over=STATES,
    count="power.supplies",
    lost=Inspected(_lost),
)
def carrying(count: int, lost: int) -> int:
    return max(count - lost, 0)


@fact(
    "power.{state}.load",
    say("Load of the power supplies"),
    formula=say("DC load of the parts x (1 + loss between power supplies and parts)"),
    over=STATES,
    assumes=say("where the project declares no such loss, the draw of the parts contains it"),
    draw=ChosenFact(LOADS),
    lost=FactOf("power.board_loss_share", optional=True),
)
def load(draw: Power, lost: Ratio | None) -> Power:
    """W at the supplies' output."""
    return whole_load(draw, lost)


@fact(
    "power.sharing",
    say("Load sharing"),
    formula=say("how the power supplies are taken to share the load"),
    source=SHARING,
    count="power.supplies",
)
def sharing(count: int) -> Message | None:
    """One alone shares with none."""
    return say("equally over {count} power supplies", count=count) if count > 1 else None


@fact(
    "power.{state}.load_each",
    say("Load per PSU"),
    formula=say("load / power supplies that share it"),
    source=SHARING,
    over=STATES,
    assumes=say("the power supplies share the load equally"),
    load="power.{state}.load",
    carrying="power.{state}.supplies",
)
def load_each(load: Power, carrying: int) -> Power | None:
    """W; None where no supply is left."""
    return load / carrying if carrying else None


@fact(
    "power.{state}.share",
    say("Load per PSU, % of rated output"),
    noun="load per PSU as a share of its rated output",
    short=say("% of rated output"),
    formula=say("load per PSU / its output at the line voltage"),
    over=STATES,
    load="power.{state}.load_each",
    output="power.supply_output",
)
def share(load: Power, output: Power) -> Ratio | None:
    return Ratio.of_fraction(load / output) if output.amount > 0 else None
