"""Power supplies without a cord where the platform takes cords for them."""

from collections.abc import Iterator

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label, codes
from specgen.facts import Facts
from specgen.fitness import candidates, within
from specgen.fitness.couplers import mate
from specgen.messages import listed, say, say_many
from specgen.model import PowerCord, PowerSupply
from specgen.rules.places import by_line, names


def uncorded(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG350: inlets that no cord is fitted to."""
    supplies = {place.name: (place, part) for place, part in assembly.fitted(PowerSupply)}
    bare: list[Place] = []
    takers = [
        place
        for place in assembly.taking(PowerCord.kind)
        if place.of in supplies and place.part is None and place.filled_at is None
    ]
    for taker in takers:
        place, supply = supplies[taker.of or ""]
        forms = taker.position.form
        if not forms or any(mate(form, supply.inlet) for form in forms):
            bare.append(place)
    if assembly.build is None or not bare:
        return
    for places in by_line(bare):
        first = next(taker for taker in takers if taker.of == places[0].name)
        suitable = sorted(part.id for part in candidates(first, within(assembly)))
        yield Finding(
            codes.INLET_UNCORDED,
            say_many(
                len(places),
                "{places} has no power cord",
                "{places} have no power cord",
                places=names(places),
            ),
            Label(places[0].at, say("inlet {inlet}", inlet=supplies[places[0].name][1].inlet)),
            labels=(Label(first.declared_at, say("takes power cords")),),
            help=say("{cords} would go in", cords=listed((f"`{id_}`" for id_ in suitable), "or"))
            if suitable
            else "",
        )
