"""Fans: how many the system needs, has, and has left when one fails; the air they move."""

from functools import partial

from specgen.assembly import Assembly, Place, State
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import Fitted, every, labelled, of_thing, position_leaf
from specgen.facts.registry import Calculators
from specgen.messages import say
from specgen.model import Fan, MovesAir, Need, expand
from specgen.model.labels import field_words
from specgen.quantity import Ratio, VolumeFlow

fact = Calculators()

fact.count("cooling.fans", say("Fans"), Fitted(Fan), formula=say("number fitted"))


def _need_words(need: Need) -> str:
    what = need.position or need.kind or " or ".join(need.part) or need.resource or ""
    return what if need.count == 1 else f"{need.count} x {what}"


def _needs(assembly: Assembly) -> list[tuple[Need, str | None, Declared]]:
    """What filled positions and the parts in them need, with the line that says so."""
    found: list[tuple[Need, str | None, Declared]] = []
    for place in assembly.places.values():
        part = place.part
        if part is None or not place.filled:
            continue
        for index, need in enumerate(part.needs):
            at = partial(part.origin.place, "needs", index)
            label = labelled(part, ("needs",))
            found.append((need, place.name, Declared(label, _need_words(need), at, part.source)))
        for index, need in enumerate(place.position.needs):
            at = partial(place.origin.place, *place.path, "needs", index)
            found.append(
                (
                    need,
                    place.host,
                    Declared(
                        of_thing(place.name, field_words(type(part), ("needs",))),
                        _need_words(need),
                        at,
                    ),
                )
            )
    return found


@fact.seen(
    "cooling.fans_needed",
    say("Fans needed"),
    formula=say(
        "positions of fans that must be filled or that fitted parts need, or the number "
        "parts need where it is greater"
    ),
)
def fans_needed(assembly: Assembly, _: str) -> tuple[int, Trail]:
    """Positions for fans that must be filled or that something fitted needs; or a greater count."""
    kinds = {name: part.kind for name, part in assembly.definitions.parts.items()}
    names: set[str] = set()
    trail: list[Declared] = []
    for place in assembly.taking(Fan.kind):
        usable = place.state not in (State.UNUSABLE, State.BLOCKED)
        if usable and (place.position.must or place.how == "fixed"):
            names.add(place.name)
            trail.append(position_leaf(place))
    count = 0
    for need, host, at in _needs(assembly):
        of_fans = need.kind == Fan.kind or any(kinds.get(name) == Fan.kind for name in need.part)
        wanted = set()
        for text in expand(need.position) if need.position else ():
            name = f"{host}{text}" if text.startswith(".") else text
            if name in assembly.places and Fan.kind in assembly.places[name].position.takes:
                wanted.add(name)
        if wanted or of_fans:
            names |= wanted
            count = max(count, need.count if of_fans else 0)
            trail.append(at)
    return max(len(names), count), tuple(trail)


@fact(
    "cooling.fans_left",
    say("Fans left after one failure"),
    formula=say("fans less one"),
    count="cooling.fans",
)
def fans_left(count: int) -> int:
    return max(count - 1, 0)


fact.total(
    "cooling.airflow",
    say("Airflow of the fans"),
    every(MovesAir, "airflow"),
    VolumeFlow,
    "m3/h",
    needs_some=True,
    formula=say("sum of the declared airflow"),
    assumes=say("fans side by side, each moving what was declared for it"),
)


@fact(
    "cooling.airflow_left",
    say("Airflow after one failure"),
    formula=say("sum of the declared airflow less the greatest"),
    assumes=say("the fans left turn as before, and no air flows back through the one that failed"),
    flows=every(MovesAir, "airflow"),
)
def airflow_left(flows: tuple[VolumeFlow, ...]) -> VolumeFlow | None:
    return (VolumeFlow.zero().with_all(flows) - max(flows)).to("m3/h") if flows else None


@fact(
    "cooling.airflow_headroom",
    say("Airflow headroom"),
    formula=say("airflow of the fans less airflow needed"),
    assumes=say("fans move in the server what was declared for them"),
    airflow="cooling.airflow",
    needed="cooling.airflow_needed",
)
def airflow_headroom(airflow: VolumeFlow, needed: VolumeFlow) -> VolumeFlow:
    """Below nothing where the air warms up by more than stated."""
    return airflow - needed


@fact(
    "cooling.airflow_headroom_left",
    say("Airflow headroom after one failure"),
    formula=say("airflow of the fans left after one has failed less airflow needed"),
    assumes=say("fans move in the server what was declared for them; one fan alone has no spare"),
    movers=Fitted(MovesAir),
    left="cooling.airflow_left",
    needed="cooling.airflow_needed",
    room="cooling.airflow_headroom",
)
def airflow_headroom_left(
    movers: tuple[Place, ...], left: VolumeFlow, needed: VolumeFlow, room: VolumeFlow
) -> VolumeFlow | None:
    """None where a single fan does all: nobody takes over from it, and nothing says one shall; and
    where even all of them move too little."""
    return left - needed if len(movers) > 1 and room.amount >= 0 else None


@fact(
    "cooling.airflow_share",
    say("Share of the airflow after one failure that is needed"),
    formula=say("airflow needed / airflow of the fans left after one has failed"),
    assumes=say("fans move in the server what was declared for them"),
    needed="cooling.airflow_needed",
    left="cooling.airflow_left",
)
def airflow_share(needed: VolumeFlow, left: VolumeFlow) -> Ratio | None:
    return Ratio.of_fraction(needed / left) if left.amount > 0 else None
