"""Size, mass, and how many people lift a system."""

from math import ceil
from typing import Final

from specgen.assembly import Assembly
from specgen.facts.constants import (
    LOAD_CONSTANT,
    MOST_LIFTERS,
    REFERENCE_MASS,
    REFERENCE_MASS_WOMEN,
    TEAM_MULTIPLIER,
)
from specgen.facts.fact import Rests
from specgen.facts.inputs import (
    Inspected,
    fields_of,
    platform,
)
from specgen.facts.registry import Calculators
from specgen.messages import Message, say
from specgen.model.labels import label_of_field
from specgen.model.part import Size
from specgen.quantity import Mass

fact = Calculators()

fact.stated("mechanics.rack_units", say("Rack units"), platform("rack_units"))
fact.stated("mechanics.width", label_of_field(Size, "width"), platform("size", "width"))
fact.stated("mechanics.height", label_of_field(Size, "height"), platform("size", "height"))
fact.stated("mechanics.depth", label_of_field(Size, "depth"), platform("size", "depth"))


def _masses(assembly: Assembly, _: str) -> tuple[tuple[Mass, ...], Rests]:
    """Masses of everything in the system, blanks and parts that cannot work included."""
    return fields_of((each for each in assembly.everything() if each[1].mass is not None), "mass")


@fact(
    "mechanics.mass",
    say("Weight"),
    formula=say(
        "platform and all parts that declare a weight, blanks of empty positions among them"
    ),
    parts=Inspected(_masses),
    chassis=platform("mass"),
)
def mass(parts: tuple[Mass, ...], chassis: Mass) -> Mass:
    return chassis.with_all(parts).to("kg")


fact.stated("mechanics.chassis_mass", say("Weight of the empty chassis"), platform("mass"))


@fact.seen(
    "mechanics.unweighed",
    say("Parts without a declared weight"),
    formula=say("number of such parts"),
)
def unweighed(assembly: Assembly, _: str) -> tuple[int, Rests]:
    found = [each for each in assembly.everything() if each[1].mass is None]
    return len(found), fields_of(found, "mass")[1]


THRESHOLDS: Final = (
    (REFERENCE_MASS_WOMEN, say("{mass} (reference mass for women, ISO 11228-1:2021)")),
    (LOAD_CONSTANT, say("{mass} (load constant, revised NIOSH lifting equation)")),
    (REFERENCE_MASS, say("{mass} (reference mass for men, ISO 11228-1:2021)")),
)
"""Published masses that one person should not lift more than."""


@fact(
    "mechanics.lifting_reached",
    say("Lifting thresholds reached"),
    formula=say("published weights that the server's is not below"),
    source="; ".join(f"{each.source}: {each.value} kg" for each, _ in THRESHOLDS),
    mass="mechanics.mass",
)
def lifting_reached(mass: Mass) -> tuple[Message, ...]:
    """Each threshold in words with its source; labels for two or three persons are no standard."""
    return tuple(
        words.filled(mass=Mass.of(least.value, "kg"))
        for least, words in THRESHOLDS
        if mass.in_unit("kg") >= least.value
    )


@fact(
    "mechanics.lifting_persons",
    say("People needed to lift it"),
    formula=say(
        "one up to 20 kg, the reference mass that holds for all adults; of several, each up to "
        "0.85 x 20 kg"
    ),
    source=TEAM_MULTIPLIER.source,
    assumes=say("lifted seldom, close to the body, from hip height, with a good grip"),
    mass="mechanics.mass",
)
def lifting_persons(mass: Mass) -> int:
    kilograms, alone = mass.in_unit("kg"), REFERENCE_MASS_WOMEN.value
    return 1 if kilograms <= alone else ceil(kilograms / (alone * TEAM_MULTIPLIER.value))


@fact(
    "mechanics.lifting",
    say("Lifting"),
    formula=say("so many people, up to three; a mechanical lift beyond that"),
    source=f"{TEAM_MULTIPLIER.source}; up to three people: {MOST_LIFTERS.source}",
    persons="mechanics.lifting_persons",
)
def lifting(persons: int) -> Message:
    """Who or what lifts it, as the object of a sentence."""
    if persons > MOST_LIFTERS.value:
        return say("a mechanical lift")
    words = {
        1: say("one person"),
        2: say("two people or a mechanical lift"),
    }
    return words.get(persons, say("three people or a mechanical lift"))
