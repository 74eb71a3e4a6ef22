"""Size, mass, and how systems fit into a rack and onto a floor."""

from specgen.assembly import Assembly
from specgen.facts.constants import LOAD_CONSTANT, REFERENCE_MASS
from specgen.facts.fact import Trail
from specgen.facts.inputs import (
    Inspected,
    fields_of,
    platform,
)
from specgen.facts.registry import Calculators
from specgen.messages import Message, say
from specgen.quantity import Mass

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
