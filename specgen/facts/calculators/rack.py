"""How systems fit into a rack and onto a floor: depth, rails, rack units, loads."""

from specgen.assembly import Assembly
from specgen.facts.constants import STANDARD_GRAVITY
from specgen.facts.fact import Rests, Trail
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Assumption, Condition, Inspected, each, fields_of, leaf, platform
from specgen.facts.registry import Calculators
from specgen.messages import NO, YES, Message, say
from specgen.model import CableArm, Part, RailKit
from specgen.quantity import Length, Mass, Pressure

fact = Calculators()

ALONE = say("where nobody states how many stand in a rack, one is meant")


@fact(
    "mechanics.depth_needed",
    say("Depth needed with cables"),
    short=say("Depth with cables"),
    formula=say(
        "depth of the server and the greater of the room for cables and what a cable arm adds"
    ),
    assumes=say(
        "cables lie inside the arm where there is one; where the project takes no room for cables "
        "for granted, there is none"
    ),
    depth=platform("size", "depth"),
    room=Assumption("cable_space", optional=True),
    arms=each(CableArm, "adds_depth"),
)
def depth_needed(depth: Length, room: Length | None, arms: tuple[Length, ...]) -> Length:
    return (depth + max((room or Length.zero(), *arms))).to("mm")


@fact(
    "mechanics.depth_spare",
    say("Depth clearance in the rack"),
    short=say("Clearance"),
    formula=say("clear depth of the rack less depth needed"),
    rack=Condition("rack_depth"),
    needed="mechanics.depth_needed",
)
def depth_spare(rack: Length, needed: Length) -> Length:
    """Below nothing where the system is too deep."""
    return (rack - needed).to("mm")


fact.stated(
    "mechanics.body_width",
    say("Width between the posts of a rack"),
    platform("body_width"),
    short=say("Width behind the front"),
)


@fact(
    "mechanics.width_spare",
    say("Width clearance in the rack"),
    short=say("Width clearance"),
    formula=say("clear width between the posts of the rack less the width of the chassis behind"),
    rack=Condition("rack_opening"),
    width="mechanics.body_width",
)
def width_spare(rack: Length, width: Length) -> Length:
    """Below nothing where the system is too wide."""
    return (rack - width).to("mm")


def _of_rails(assembly: Assembly, field: str) -> tuple[Length | None, Trail]:
    for place, part in assembly.fitted(RailKit):
        value = getattr(part, field)
        return value, (leaf(place, part, (field,), value),)
    return None, ()


fact.stated(
    "mechanics.rails_least",
    say("Min. distance of rails"),
    Inspected(lambda a, _: _of_rails(a, "adjusts_from")),
    short=say("Rails from"),
    holds=Length,
)
fact.stated(
    "mechanics.rails_most",
    say("Max. distance of rails"),
    Inspected(lambda a, _: _of_rails(a, "adjusts_to")),
    short=say("Rails to"),
    holds=Length,
)
fact.stated("mechanics.rail_distance", say("Rail distance of the rack"), Condition("rail_distance"))


@fact(
    "mechanics.rails_fit",
    say("Rails fit the rack"),
    formula=say("whether the distance of the rack's rails lies in the range of the rail kit"),
    least="mechanics.rails_least",
    most="mechanics.rails_most",
    distance=Condition("rail_distance"),
)
def rails_fit(least: Length, most: Length, distance: Length) -> Message:
    return YES if least <= distance <= most else NO


@fact(
    "mechanics.fits_rack",
    say("Fits the rack"),
    formula=say(
        "whether the depth needed is there and, where it is stated, the width, and where a rail "
        "kit is fitted, it fits"
    ),
    spare="mechanics.depth_spare",
    width=FactOf("mechanics.width_spare", optional=True),
    rails=FactOf("mechanics.rails_fit", optional=True),
)
def fits_rack(spare: Length, width: Length | None, rails: Message | None) -> Message:
    narrow = width is not None and width.amount < 0
    return YES if spare.amount >= 0 and not narrow and rails != NO else NO


def on_rails(part: Part) -> bool:
    """Whether a part hangs on the rails, rather than being of them."""
    return not isinstance(part, RailKit)


def _carried(assembly: Assembly, _: str) -> tuple[tuple[Mass, ...], Rests]:
    found = (
        (place, part)
        for place, part in assembly.everything()
        if part.mass is not None and on_rails(part)
    )
    return fields_of(found, "mass")


@fact(
    "mechanics.rails_load",
    say("Weight on the rails"),
    short=say("On the rails"),
    formula=say("platform and all parts that declare a weight, the rail kit left out"),
    parts=Inspected(_carried),
    chassis=platform("mass"),
)
def rails_load(parts: tuple[Mass, ...], chassis: Mass) -> Mass:
    return chassis.with_all(parts).to("kg")


fact.least(
    "mechanics.rails_rating",
    say("Load rating of the rails"),
    each(RailKit, "load_rating"),
    short=say("Rails carry"),
    formula=say("as declared"),
)


@fact(
    "mechanics.rails_headroom",
    say("Load headroom of the rails"),
    formula=say("load rating of the rails less weight on them"),
    rating="mechanics.rails_rating",
    load="mechanics.rails_load",
)
def rails_headroom(rating: Mass, load: Mass) -> Mass:
    """Below nothing where the system is too heavy for its rails."""
    return (rating - load).to("kg")


@fact(
    "mechanics.rack_units_taken",
    say("Rack units of all servers in a rack"),
    formula=say("servers in a rack x rack units"),
    count=Condition("per_rack"),
    units=platform("rack_units"),
)
def rack_units_taken(count: int, units: int) -> int:
    return count * units


fact.stated(
    "mechanics.rack_height",
    say("Height of the rack, rack units"),
    Condition("rack_units"),
    noun="height of the rack in rack units",
)


@fact(
    "mechanics.rack_units_wanted",
    say("Rack units needed"),
    formula=say("servers in a rack x rack units"),
    assumes=ALONE,
    count=Condition("per_rack", optional=True),
    units=platform("rack_units"),
)
def rack_units_wanted(count: int | None, units: int) -> int:
    return (count or 1) * units


@fact(
    "mechanics.rack_units_free",
    say("Rack units left free"),
    formula=say("rack units of the rack less those of all servers in it"),
    rack=Condition("rack_units"),
    wanted="mechanics.rack_units_wanted",
)
def rack_units_free(rack: int, wanted: int) -> int:
    """Below nothing where they do not go in."""
    return rack - wanted


@fact(
    "mechanics.rack_mass",
    say("Weight of all servers in a rack"),
    formula=say("servers in a rack x weight"),
    count=Condition("per_rack"),
    mass="mechanics.mass",
)
def rack_mass(count: int, mass: Mass) -> Mass:
    return mass * count


fact.stated("mechanics.rack_rating", say("Load rating of the rack"), Condition("rack_load_rating"))


@fact(
    "mechanics.rack_load",
    say("Load on the rack"),
    formula=say("servers in a rack x weight"),
    assumes=ALONE,
    count=Condition("per_rack", optional=True),
    mass="mechanics.mass",
)
def rack_load(count: int | None, mass: Mass) -> Mass:
    return mass * (count or 1)


@fact(
    "mechanics.rack_headroom",
    say("Load headroom of the rack"),
    formula=say("load rating of the rack less load on it"),
    rating=Condition("rack_load_rating"),
    load="mechanics.rack_load",
)
def rack_headroom(rating: Mass, load: Mass) -> Mass:
    """Below nothing where they are too heavy for the rack."""
    return (rating - load).to("kg")


fact.stated("mechanics.rack_empty", say("Weight of the empty rack"), Condition("rack_mass"))


@fact(
    "mechanics.floor_load",
    say("Load on the floor"),
    formula=say("weight of all servers in a rack and of the rack itself"),
    assumes=say("where the rack's own weight is not stated, it is left out"),
    systems="mechanics.rack_mass",
    rack=FactOf("mechanics.rack_empty", optional=True),
)
def floor_load(systems: Mass, rack: Mass | None) -> Mass:
    return systems if rack is None else (systems + rack).to("kg")


def pressure_on_floor(load: Mass, width: Length, length: Length) -> Pressure | None:
    """kN/m2; None without a floor."""
    area = width.amount * length.amount
    if area <= 0:
        return None
    return Pressure.of(load.amount * STANDARD_GRAVITY.value / area).to("kN/m2")


EVENLY = say("the load spreads evenly over the rack's outline; feet press harder")


@fact(
    "mechanics.floor_pressure",
    say("Load on the floor under the rack"),
    formula=say("load on the floor x 9.80665 m/s² / (width x length of the rack)"),
    source=STANDARD_GRAVITY.source,
    assumes=EVENLY,
    load="mechanics.floor_load",
    width=Condition("rack_width"),
    length=Condition("rack_length"),
)
def floor_pressure(load: Mass, width: Length, length: Length) -> Pressure | None:
    return pressure_on_floor(load, width, length)


fact.stated(
    "mechanics.floor_rating", say("Load rating of the floor"), Condition("floor_load_rating")
)


@fact(
    "mechanics.floor_wanted",
    say("Floor load needed"),
    formula=say("(load on the rack + its own mass) x 9.80665 m/s² / (width x length of the rack)"),
    source=STANDARD_GRAVITY.source,
    assumes=EVENLY,
    load="mechanics.rack_load",
    rack=FactOf("mechanics.rack_empty", optional=True),
    width=Condition("rack_width"),
    length=Condition("rack_length"),
)
def floor_wanted(load: Mass, rack: Mass | None, width: Length, length: Length) -> Pressure | None:
    return pressure_on_floor(load + (rack or Mass.zero()), width, length)


@fact(
    "mechanics.floor_headroom",
    say("Load headroom of the floor"),
    formula=say("load rating of the floor less load that it is to bear"),
    rating=Condition("floor_load_rating"),
    load="mechanics.floor_wanted",
)
def floor_headroom(rating: Pressure, load: Pressure) -> Pressure:
    """Below nothing where the floor does not bear them."""
    return rating.to("kN/m2") - load
