"""Size, mass, and how systems fit into a rack and onto a floor."""

from specgen.assembly import Assembly
from specgen.facts.constants import LOAD_CONSTANT, REFERENCE_MASS, STANDARD_GRAVITY
from specgen.facts.fact import Trail
from specgen.facts.inputs import (
    Assumption,
    Condition,
    FactOf,
    Inspected,
    each,
    fields_of,
    leaf,
    platform,
)
from specgen.facts.registry import Calculators
from specgen.messages import NO, YES, Message, say
from specgen.model import CableArm, RailKit
from specgen.quantity import Length, Mass, Pressure

fact = Calculators()

fact.stated("mechanics.rack_units", say("Rack units"), platform("rack_units"))
fact.stated("mechanics.width", say("Width"), platform("size", "width"))
fact.stated("mechanics.height", say("Height"), platform("size", "height"))
fact.stated("mechanics.depth", say("Depth"), platform("size", "depth"))


def _masses(assembly: Assembly, _: str) -> tuple[tuple[Mass, ...], Trail]:
    """Masses of everything in the system, fillers and parts that cannot work included."""
    return fields_of((each for each in assembly.everything() if each[1].mass is not None), "mass")


@fact(
    "mechanics.mass",
    say("Mass"),
    formula=say("platform and all parts that declare a mass"),
    parts=Inspected(_masses),
    chassis=platform("mass"),
)
def mass(parts: tuple[Mass, ...], chassis: Mass) -> Mass:
    return sum(parts, chassis)


@fact.seen(
    "mechanics.unweighed", say("Parts without a declared mass"), formula=say("number of such parts")
)
def unweighed(assembly: Assembly, _: str) -> tuple[int, Trail]:
    found = [each for each in assembly.everything() if each[1].mass is None]
    return len(found), fields_of(found, "mass")[1]


@fact(
    "mechanics.lifting",
    say("Lifting thresholds reached"),
    formula=say("published masses that the machine's is not below"),
    source="; ".join(f"{each.source}: {each.value} kg" for each in (LOAD_CONSTANT, REFERENCE_MASS)),
    mass="mechanics.mass",
)
def lifting(mass: Mass) -> tuple[Message, ...]:
    """Each threshold in words with its source; labels for two or three persons are no standard."""
    thresholds = (
        (
            LOAD_CONSTANT,
            say(
                "{mass} (load constant, revised NIOSH lifting equation)",
                mass=Mass.of(LOAD_CONSTANT.value, "kg"),
            ),
        ),
        (
            REFERENCE_MASS,
            say(
                "{mass} (reference mass, ISO 11228-1:2021)",
                mass=Mass.of(REFERENCE_MASS.value, "kg"),
            ),
        ),
    )
    return tuple(words for least, words in thresholds if mass.in_unit("kg") >= least.value)


@fact(
    "mechanics.depth_needed",
    say("Depth needed with cables"),
    short=say("Depth with cables"),
    formula=say(
        "depth of the machine and the greater of the room for cables and what a cable arm adds"
    ),
    assumes=say("cables lie inside the arm where there is one"),
    depth=platform("size", "depth"),
    room=Assumption("cable_space"),
    arms=each(CableArm, "adds_depth"),
)
def depth_needed(depth: Length, room: Length, arms: tuple[Length, ...]) -> Length:
    return depth + max((room, *arms))


@fact(
    "mechanics.depth_spare",
    say("Depth to spare in the rack"),
    short=say("To spare"),
    formula=say("clear depth of the rack less depth needed"),
    rack=Condition("rack_depth"),
    needed="mechanics.depth_needed",
)
def depth_spare(rack: Length, needed: Length) -> Length:
    """Below nothing where the system is too deep."""
    return rack - needed


def _spans(assembly: Assembly, end: str) -> tuple[Length | None, Trail]:
    field = f"rack_depth_{end}"
    for place, part in assembly.fitted(RailKit):
        value = getattr(part, field)
        return value, (leaf(place, part, (field,), value),)
    return None, ()


fact.stated(
    "mechanics.rails_least",
    say("Least distance of rails"),
    Inspected(lambda a, _: _spans(a, "least")),
    short=say("Rails from"),
    holds=Length,
)
fact.stated(
    "mechanics.rails_most",
    say("Greatest distance of rails"),
    Inspected(lambda a, _: _spans(a, "most")),
    short=say("Rails to"),
    holds=Length,
)


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
    formula=say("whether the depth needed is there and, where a rail kit is fitted, it fits"),
    spare="mechanics.depth_spare",
    rails=FactOf("mechanics.rails_fit", optional=True),
)
def fits_rack(spare: Length, rails: Message | None) -> Message:
    return YES if spare.amount >= 0 and rails != NO else NO


@fact(
    "mechanics.rack_units_taken",
    say("Rack units of all machines in a rack"),
    formula=say("machines in a rack x rack units"),
    count=Condition("per_rack"),
    units=platform("rack_units"),
)
def rack_units_taken(count: int, units: int) -> int:
    return count * units


@fact(
    "mechanics.rack_mass",
    say("Mass of all machines in a rack"),
    formula=say("machines in a rack x mass"),
    count=Condition("per_rack"),
    mass="mechanics.mass",
)
def rack_mass(count: int, mass: Mass) -> Mass:
    return mass * count


fact.stated("mechanics.rack_empty", say("Mass of the empty rack"), Condition("rack_mass"))


@fact(
    "mechanics.floor_load",
    say("Load on the floor"),
    formula=say("mass of all machines in a rack and of the rack itself"),
    assumes=say("where the rack's own mass is not stated, it is left out"),
    systems="mechanics.rack_mass",
    rack=FactOf("mechanics.rack_empty", optional=True),
)
def floor_load(systems: Mass, rack: Mass | None) -> Mass:
    return systems if rack is None else systems + rack


@fact(
    "mechanics.floor_pressure",
    say("Load on the floor under the rack"),
    formula=say("load on the floor x 9.80665 m/s² / (width x length of the rack)"),
    source=STANDARD_GRAVITY.source,
    assumes=say("the load spreads evenly over the rack's outline; feet press harder"),
    load="mechanics.floor_load",
    width=Condition("rack_width"),
    length=Condition("rack_length"),
)
def floor_pressure(load: Mass, width: Length, length: Length) -> Pressure | None:
    """kPa, which is kN/m2."""
    area = width.amount * length.amount
    if area <= 0:
        return None
    return Pressure.of(load.amount * STANDARD_GRAVITY.value / area).to("kPa")
