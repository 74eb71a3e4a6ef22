"""Size, mass, and how machines fit into a rack and onto a floor."""

from specgen.assembly import Assembly
from specgen.facts.constants import LIFTING, STANDARD_GRAVITY
from specgen.facts.fact import Trail
from specgen.facts.inputs import Assumption, Condition, FactOf, Seen, each, leaf, platform
from specgen.facts.registry import Calculator, figure, stated
from specgen.model import CableArm, RailKit
from specgen.quantity import Length, Mass, Pressure


def _masses(assembly: Assembly, _: str) -> tuple[tuple[Mass, ...], Trail]:
    """Masses of everything in the machine, fillers and parts that cannot work included."""
    found = [(place, part) for place, part in assembly.everything() if part.mass is not None]
    trail = tuple(leaf(place, part, ("mass",), part.mass) for place, part in found)
    return tuple(part.mass for _, part in found if part.mass is not None), trail


@figure(
    "mechanics.mass",
    "Mass",
    formula="platform and all parts that declare a mass",
    parts=Seen(_masses),
    chassis=platform("mass"),
)
def mass(parts: tuple[Mass, ...], chassis: Mass) -> Mass:
    return sum(parts, chassis)


def _silent(assembly: Assembly, _: str) -> tuple[int, Trail]:
    found = [(place, part) for place, part in assembly.everything() if part.mass is None]
    return len(found), tuple(leaf(place, part, ("mass",), None) for place, part in found)


@figure(
    "mechanics.unweighed",
    "Parts without a declared mass",
    formula="number of such parts",
    silent=Seen(_silent),
)
def unweighed(silent: int) -> int:
    return silent


@figure(
    "mechanics.lifting",
    "Lifting thresholds reached",
    formula="published masses that the machine's is not below",
    source="; ".join(f"{entry.source}: {entry.value} kg" for entry in LIFTING),
    mass=FactOf("mechanics.mass"),
)
def lifting(mass: Mass) -> tuple[str, ...]:
    """Each threshold in words with its source; labels for two or three persons are no standard."""
    reached = [entry for entry in LIFTING if mass.in_unit("kg") >= entry.value]
    return tuple(f"{entry.value} kg ({entry.name.split(',')[0]}, {entry.source})"
                 for entry in reached)  # fmt: skip


@figure(
    "mechanics.depth_needed",
    "Depth needed in a rack",
    formula="depth of the machine and the greater of the room for cables and what a cable arm adds",
    assumes="cables lie inside the arm where there is one",
    depth=platform("size", "depth"),
    room=Assumption("cable_space"),
    arms=each(CableArm, "adds_depth"),
)
def depth_needed(depth: Length, room: Length, arms: tuple[Length, ...]) -> Length:
    return depth + max((room, *arms))


@figure(
    "mechanics.depth_spare",
    "Depth to spare in the rack",
    formula="clear depth of the rack less depth needed",
    rack=Condition("rack_depth"),
    needed=FactOf("mechanics.depth_needed"),
)
def depth_spare(rack: Length, needed: Length) -> Length:
    """Below nothing where the machine is too deep."""
    return rack - needed


rails_least = stated(
    "mechanics.rails_least",
    "Least distance of rails",
    Seen(lambda a, _: _spans(a, "least")),
    holds=Length,
)
rails_most = stated(
    "mechanics.rails_most",
    "Greatest distance of rails",
    Seen(lambda a, _: _spans(a, "most")),
    holds=Length,
)


def _spans(assembly: Assembly, end: str) -> tuple[Length | None, Trail]:
    field = f"rack_depth_{end}"
    for place, part in assembly.fitted(RailKit):
        value = getattr(part, field)
        return value, (leaf(place, part, (field,), value),)
    return None, ()


@figure(
    "mechanics.rails_fit",
    "Rails fit the rack",
    formula="whether the distance of the rack's rails lies in the range of the rail kit",
    least=FactOf("mechanics.rails_least"),
    most=FactOf("mechanics.rails_most"),
    distance=Condition("rail_distance"),
)
def rails_fit(least: Length, most: Length, distance: Length) -> str:
    return "yes" if least <= distance <= most else "no"


@figure(
    "mechanics.fits_rack",
    "Fits the rack",
    formula="whether the depth needed is there and, where a rail kit is fitted, it fits",
    spare=FactOf("mechanics.depth_spare"),
    rails=FactOf("mechanics.rails_fit", optional=True),
)
def fits_rack(spare: Length, rails: str | None) -> str:
    return "yes" if spare.amount >= 0 and rails != "no" else "no"


@figure(
    "mechanics.rack_units_taken",
    "Rack units of all machines in a rack",
    formula="machines in a rack x rack units",
    count=Condition("per_rack"),
    units=platform("rack_units"),
)
def rack_units_taken(count: int, units: int) -> int:
    return count * units


@figure(
    "mechanics.rack_mass",
    "Mass of all machines in a rack",
    formula="machines in a rack x mass",
    count=Condition("per_rack"),
    mass=FactOf("mechanics.mass"),
)
def rack_mass(count: int, mass: Mass) -> Mass:
    return mass * count


@figure(
    "mechanics.floor_load",
    "Load on the floor",
    formula="mass of all machines in a rack and of the rack itself",
    assumes="where the rack's own mass is not stated, it is left out",
    machines=FactOf("mechanics.rack_mass"),
    rack=FactOf("mechanics.rack_empty", optional=True),
)
def floor_load(machines: Mass, rack: Mass | None) -> Mass:
    return machines if rack is None else machines + rack


@figure(
    "mechanics.floor_pressure",
    "Load on the floor under the rack",
    formula="load on the floor x 9.80665 m/s² / (width x length of the rack)",
    source=STANDARD_GRAVITY.source,
    assumes="the load spreads evenly over the rack's outline; feet press harder",
    load=FactOf("mechanics.floor_load"),
    width=Condition("rack_width"),
    length=Condition("rack_length"),
)
def floor_pressure(load: Mass, width: Length, length: Length) -> Pressure | None:
    """kPa, which is kN/m2."""
    area = width.amount * length.amount
    if area <= 0:
        return None
    return Pressure.of(load.amount * STANDARD_GRAVITY.value / area).to("kPa")


CALCULATORS: tuple[Calculator, ...] = (
    stated("mechanics.rack_units", "Rack units", platform("rack_units")),
    stated("mechanics.width", "Width", platform("size", "width")),
    stated("mechanics.height", "Height", platform("size", "height")),
    stated("mechanics.depth", "Depth", platform("size", "depth")),
    mass,
    unweighed,
    lifting,
    depth_needed,
    depth_spare,
    rails_least,
    rails_most,
    rails_fit,
    fits_rack,
    rack_units_taken,
    rack_mass,
    stated("mechanics.rack_empty", "Mass of the empty rack", Condition("rack_mass")),
    floor_load,
    floor_pressure,
)
