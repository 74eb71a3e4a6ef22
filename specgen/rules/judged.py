"""The values of a system that can be impossible, a row each, and the check that judges them.

Whoever adds such a fact (a margin, a share, a part of something that has a whole, an answer to
whether it fits) adds its row here. A test goes through all facts and asks of each that is a number
or an answer for its row, or for the reason why it needs none.
"""

from collections.abc import Hashable, Iterator
from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, codes
from specgen.facts import Facts
from specgen.messages import say
from specgen.rules.judgement import (
    MUST_BE_EMPTY,
    MUST_BE_YES,
    NOT_ABOVE_ONE,
    NOT_BELOW_ZERO,
    Breach,
    Judgement,
    Lines,
    at_most,
)
from specgen.rules.places import unsettled_kinds

MEMORY: Final = (
    Judgement(
        fact="memory.{processor}.unprotected",
        must=MUST_BE_EMPTY,
        code=codes.VALUE_DOUBTFUL,
        statement=say("the memory mode protects each channel"),
        message=say("{subjects}: the memory mode cannot protect channel {value}"),
        why=say("what stands on it stays unused"),
        at=("memory_mode",),
        solved=False,
    ),
)

NETWORK: Final = (
    Judgement(
        fact="network.{adapter}.load",
        must=NOT_ABOVE_ONE,
        code=codes.VALUE_DOUBTFUL,
        statement=say("the link of an adapter carries its ports"),
        message=say("the ports of {subjects} are faster than its link: {line} against {host}"),
        why=say("all of its ports at once wait for the link to the processor"),
        shown={
            "line": "network.{adapter}.line_rate",
            "host": ("network.{adapter}.host_bandwidth", "Gbit/s"),
        },
        at=("fitted",),
    ),
)

STORAGE: Final = (
    Judgement(
        fact="storage.{controller}.host_load",
        must=NOT_ABOVE_ONE,
        code=codes.VALUE_DOUBTFUL,
        statement=say("the link of a storage controller carries its drives"),
        message=say(
            "the drives behind {subjects} are faster than its link to the host: {rate} against "
            "{host}, one way"
        ),
        why=say("all of its drives at once wait for the link to the processor"),
        help=say("fit it where more lanes or a later generation are wired, or fewer drives"),
        shown={
            "rate": "storage.{controller}.drive_rate",
            "host": "storage.{controller}.host_bandwidth",
        },
        at=("fitted",),
        solved=False,
    ),
    Judgement(
        fact="storage.{controller}.throughput",
        must=at_most("storage.{controller}.host_bandwidth"),
        code=codes.VALUE_DOUBTFUL,
        statement=say("the link of a storage controller carries its throughput"),
        message=say("{subjects} moves up to {value}, and its link to the host carries {other}"),
        why=say("in this place it never reaches the throughput that it is sold with"),
        help=say("fit it where more lanes or a later generation are wired"),
        at=("fitted",),
        superseded_by=("storage.{controller}.host_load", NOT_ABOVE_ONE),
        solved=False,
    ),
)

ELECTRICAL: Final = (
    Judgement(
        fact="power.cord_margin",
        must=NOT_BELOW_ZERO,
        code=codes.INPUT_CURRENT,
        statement=say("inlets, power supplies, cords and outlets carry the current"),
        message=say("a cord carries {current}, and {limit} is rated for {rating}"),
        why=say(
            "what carries more than its rating grows hot; the worst of normal operation and "
            "after the failures that the redundancy must tolerate counts"
        ),
        help=say(
            "take a lighter load, a higher line voltage, more power supplies, or what is rated "
            "for more"
        ),
        shown={
            "current": "power.cord_current",
            "limit": "power.path_limited_by",
            "rating": "power.path_rating",
        },
        at=("input_current", "current", "plug", "form", "inlet", "outlet"),
        among=("outputs", "current", "plug"),
        grows_with="power.maximum",
        least_of=(
            "power.inlet_rating",
            "power.supply_rating",
            "power.cord_rating",
            "power.outlet_rating",
        ),
    ),
    Judgement(
        fact="power.circuit_share",
        must=NOT_ABOVE_ONE,
        code=codes.INPUT_CURRENT,
        statement=say("the branch circuit carries the current of a cord"),
        message=say(
            "a cord carries {current}, and the continuous rating of the branch circuit is "
            "{allowed}: {rule}"
        ),
        why=say(
            "the breaker of the circuit trips, in normal operation or after the failures that "
            "the redundancy must tolerate"
        ),
        shown={
            "current": "power.cord_current",
            "allowed": "power.circuit_allowed",
            "rule": "power.circuit_rule",
        },
        at=("circuit",),
        among=("outputs",),
        grows_with="power.maximum",
    ),
    Judgement(
        fact="power.uneven_share",
        must=NOT_ABOVE_ONE,
        code=codes.VALUE_IMPOSSIBLE,
        statement=say("no power supply is overloaded where they share the load unevenly"),
        message=say("the power supply that carries most gives {value} of its rated output"),
        why=say(
            "power supplies never share a load quite equally; one above its rating switches off"
        ),
        superseded_by=("power.headroom", NOT_BELOW_ZERO),
        among=("outputs",),
        grows_with="power.maximum",
    ),
)

FEEDS: Final = (
    Judgement(
        fact="power.feed_kept",
        must=MUST_BE_YES,
        code=codes.VALUE_DOUBTFUL,
        statement=say("the loss of one feed is tolerated"),
        message=say("the power supplies on the other feeds do not carry the load when one is lost"),
        why=say("feeds are stated so that the server goes on without one of them"),
        at=("feeds",),
        among=("outputs",),
        grows_with="power.maximum",
    ),
)

_AIR: Final = Judgement(
    fact="cooling.airflow_headroom",
    must=NOT_BELOW_ZERO,
    code=codes.AIRFLOW_SHORT,
    statement=say("the fans move enough air"),
    message=say("{needed} of air are needed, and the fans move {moved}"),
    why=say("the air warms up by more than the conditions allow, and parts overheat"),
    shown={"needed": "cooling.airflow_needed", "moved": "cooling.airflow"},
    at=("rise",),
    among=("airflow", "outputs"),
    grows_with="power.maximum",
)
COOLING: Final = (
    _AIR,
    replace(
        _AIR,
        fact="cooling.airflow_headroom_left",
        statement=say("the fans move enough air once one has failed"),
        message=say("{needed} of air are needed, and the fans move {left} after one has failed"),
        shown={"needed": "cooling.airflow_needed", "left": "cooling.airflow_left"},
    ),
    Judgement(
        fact="regulation.inlet_lowest",
        must=at_most("conditions.inlet"),
        code=codes.VALUE_DOUBTFUL,
        statement=say("the inlet air is no colder than the operating class allows"),
        message=say("inlet air of {other} is colder than the {value} of the operating class"),
        why=say("outside of its operating class no server is promised to start or to run"),
        help=say("state the coldest air that the system meets, or heat the room"),
        at=("inlet",),
    ),
)

NOISE: Final = (
    Judgement(
        fact="noise.loudest",
        must=at_most("noise.declared"),
        code=codes.VALUE_DOUBTFUL,
        statement=say("the system is no quieter than its loudest part"),
        message=say("{other} is declared for the system, and one of its parts alone has {value}"),
        why=say("a system is as loud as all of its parts together, less what its casing keeps in"),
        help=say("check the report, and whether bels and decibels are exchanged"),
        at=("measured.noise",),
        solved=False,
    ),
)

RACK: Final = (
    Judgement(
        fact="mechanics.depth_spare",
        must=NOT_BELOW_ZERO,
        code=codes.RACK_TOO_SHALLOW,
        statement=say("the rack is deep enough"),
        message=say("{needed} of depth are needed, and the rack has {depth}"),
        why=say("the rack's door does not close"),
        help=say("ask for a deeper rack, or leave the cable arm out"),
        shown={"needed": "mechanics.depth_needed", "depth": "conditions.rack_depth"},
        at=("rack_depth",),
        among=("adds_depth",),
        more_is_worse=True,
    ),
    Judgement(
        fact="mechanics.width_spare",
        must=NOT_BELOW_ZERO,
        code=codes.RACK_TOO_NARROW,
        statement=say("the rack is wide enough"),
        message=say("the system is {width} wide, and the rack is open for {opening}"),
        why=say("the system does not go between the posts of the rack"),
        help=say("ask for a rack with a wider opening"),
        shown={
            "width": "mechanics.body_width",
            "opening": "conditions.rack_opening",
        },
        at=("rack_opening",),
    ),
    Judgement(
        fact="mechanics.rack_units_free",
        must=NOT_BELOW_ZERO,
        code=codes.RACK_FULL,
        statement=say("the rack has units enough"),
        message=say("the systems in a rack take {taken} rack units, and it has {units}"),
        why=say("{value} rack units are left, so some of them do not go in"),
        help=say("plan fewer systems a rack, or a taller rack"),
        shown={"taken": "mechanics.rack_units_wanted", "units": "conditions.rack_units"},
        at=("per_rack", "rack_units"),
    ),
    Judgement(
        fact="mechanics.rack_headroom",
        must=NOT_BELOW_ZERO,
        code=codes.RACK_OVERLOADED,
        statement=say("the rack carries all systems in it"),
        message=say("the systems in a rack weigh {load}, and it carries {rated}"),
        why=say("a rack above its load rating can give way or tip over"),
        help=say("plan fewer systems a rack, or a stronger rack"),
        shown={"load": "mechanics.rack_load", "rated": "conditions.rack_load_rating"},
        at=("per_rack", "rack_load_rating"),
        among=("mass",),
        grows_with="mechanics.mass",
    ),
    Judgement(
        fact="mechanics.floor_headroom",
        must=NOT_BELOW_ZERO,
        code=codes.FLOOR_OVERLOADED,
        statement=say("the floor bears the rack and all systems in it"),
        message=say("rack and systems press on the floor with {load}, and it bears {rated}"),
        why=say("a floor above its load rating can give way"),
        help=say("plan fewer systems a rack, or spread the load"),
        shown={"load": "mechanics.floor_wanted", "rated": "conditions.floor_load_rating"},
        at=("per_rack", "floor_load_rating"),
        among=("mass",),
        grows_with="mechanics.mass",
    ),
)

REGULATION: Final = (
    Judgement(
        fact="regulation.idle_room",
        must=NOT_BELOW_ZERO,
        code=codes.VALUE_DOUBTFUL,
        statement=say("the idle power measured is within its limit"),
        message=say("the idle power measured is above the limit of {limit}"),
        why=say("what is above the limit may not be placed on the market of the European Union"),
        shown={"limit": "regulation.idle_limit"},
        at=("measured.idle",),
        solved=False,
    ),
    Judgement(
        fact="regulation.maximum",
        must=at_most("power.input"),
        code=codes.VALUE_DOUBTFUL,
        statement=say("no more was measured than is calculated"),
        message=say("{value} were measured, and up to {other} are calculated"),
        why=say("cords, circuits and cooling are planned for what is calculated"),
        help=say(
            "check the report, and the power that parts declare; where parts were exchanged since, "
            "`of` says which were measured"
        ),
        at=("measured.maximum",),
        superseded_by=("power.undeclared", MUST_BE_EMPTY),  # the sum is not all that is drawn
        solved=False,
    ),
    Judgement(
        fact="power.typical",
        must=at_most("regulation.maximum"),
        code=codes.VALUE_DOUBTFUL,
        statement=say("the measured maximum is no less than parts draw at typical work"),
        message=say("the measured maximum is {other}, and the parts draw {value} at typical work"),
        why=say("a page would state both: the one or the other is of another system"),
        help=say("check the report, and the power that parts declare"),
        at=("measured.maximum",),
        solved=False,
    ),
    Judgement(
        fact="regulation.idle",
        must=at_most("regulation.idle_warm"),
        code=codes.VALUE_DOUBTFUL,
        statement=say("no less is measured at idle in warm air"),
        message=say(
            "{value} were measured at idle, and {other} at the upper temperature of the class"
        ),
        why=say("in warm air fans turn faster and processors draw more, not less"),
        help=say("check whether the two values are exchanged"),
        at=("measured.idle_warm",),
        solved=False,
    ),
    Judgement(
        fact="regulation.supplies_reach_least",
        must=MUST_BE_YES,
        code=codes.VALUE_DOUBTFUL,
        statement=say("the power supplies are as efficient as the regulation requires"),
        message=say("the power supplies do not reach the efficiency that the regulation requires"),
        why=say("what is below it may not be placed on the market of the European Union"),
        solved=False,
    ),
)

JUDGEMENTS: Final[tuple[Judgement, ...]] = (
    *MEMORY,
    *NETWORK,
    *STORAGE,
    *ELECTRICAL,
    *FEEDS,
    *COOLING,
    *NOISE,
    *RACK,
    *REGULATION,
)
"""Every judgement; the order changes nothing."""


def breaches(facts: Facts) -> Iterator[Breach]:
    """Every value of a system that cannot be."""
    for row in JUDGEMENTS:
        yield from row.broken(facts)


def judged(assembly: Assembly, facts: Facts) -> Iterator[Finding]:
    """A finding for each value that cannot be; what is alike of several subjects is one."""
    if assembly.build is None or unsettled_kinds(assembly):
        return  # what is not known is missing in what is worked out
    groups: dict[Hashable, tuple[Lines, list[Breach]]] = {}
    for breach in breaches(facts):
        other = None if breach.other is None else breach.other.value
        lines = breach.lines(assembly)
        sort = breach.row.fact, breach.fact.value, other, lines[0].span
        groups.setdefault(sort, (lines, []))[1].append(breach)
    for lines, alike in groups.values():
        yield alike[0].finding(assembly, facts, lines, tuple(alike))
