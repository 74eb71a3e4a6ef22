"""Size and mass."""

from specgen.assembly import Assembly
from specgen.facts.inputs import Seen, Trail, leaf, platform
from specgen.facts.registry import Calculator, figure, stated
from specgen.quantity import Mass


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


CALCULATORS: tuple[Calculator, ...] = (
    stated("mechanics.rack_units", "Rack units", platform("rack_units")),
    stated("mechanics.width", "Width", platform("size", "width")),
    stated("mechanics.height", "Height", platform("size", "height")),
    stated("mechanics.depth", "Depth", platform("size", "depth")),
    mass,
    unweighed,
)
