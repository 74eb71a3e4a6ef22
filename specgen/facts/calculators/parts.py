"""What the system is made of: how many of each part it holds, and what they weigh."""

from specgen.assembly import Assembly
from specgen.facts.calculators.subjects import PARTS
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Inspected, fit_leaf, labelled, leaf
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.model import Part
from specgen.model.labels import label_of_field
from specgen.quantity import Mass

fact = Calculators()


@fact.seen(
    "parts.{part}",
    say("Number fitted"),
    short=say("Number"),
    formula=say("positions that hold it, blanks and what is soldered among them"),
    over=PARTS,
)
def count(assembly: Assembly, part: str) -> tuple[int, Trail]:
    places = tuple(place for place, each in assembly.everything() if each.id == part)
    if places or assembly.build is None:
        return len(places), tuple(fit_leaf(place) for place in places)
    build = assembly.build
    return 1, (Declared(say("platform"), part, lambda: build.origin.place("platform")),)


def _one(assembly: Assembly, part: str) -> tuple[Mass | None, Trail]:
    """The mass of one, at the line that declares it."""
    for place, each in assembly.everything():
        if each.id == part:
            return each.mass, (leaf(place, each, ("mass",), each.mass),)
    platform = assembly.platform
    label, at = labelled(platform, ("mass",)), platform.origin.place
    return platform.mass, (Declared(label, platform.mass, lambda: at("mass"), platform.source),)


@fact(
    "parts.{part}.mass",
    say("Weight of all that are fitted"),
    short=label_of_field(Part, "mass"),
    formula=say("number fitted x weight of one"),
    over=PARTS,
    count="parts.{part}",
    one=Inspected(_one),
)
def mass(count: int, one: Mass) -> Mass:
    return (one * count).to("kg")
