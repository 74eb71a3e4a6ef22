"""What power supplies give, worked out from their definition alone: to choose by."""

from specgen.facts.declared import declared_fact
from specgen.facts.derived import derived
from specgen.facts.fact import Fact
from specgen.fitness.curves import declared_curves
from specgen.messages import say
from specgen.model import PowerSupply, SupplyOutput
from specgen.quantity import Ratio


def load_carried(part: PowerSupply, at: int, places: int, lost: int) -> Fact:
    """What those left of so many carry after some have failed, in a range of line voltage."""
    output = part.outputs[at].output
    return derived(
        f"{part.id}.outputs.{at}.carried_{lost}",
        say("Load carried, {lost} of {places} failed", lost=lost, places=places),
        output * (places - lost),
        say("output of one supply x (power supplies less those that failed)"),
        declared_fact(part, ("outputs", at, "output"), output),
    )


def best_efficiency(part: PowerSupply, entry: SupplyOutput) -> Fact | None:
    """The best point of the curve that was measured in a range of line voltage."""
    found = [
        (point.efficiency, (*path, at, "efficiency"))
        for points, path, home in declared_curves(part)
        if home is entry
        for at, point in enumerate(points)
    ]
    if not found:
        return None
    efficiency, path = max(found, key=lambda each: each[0])
    return declared_fact(part, path, Ratio.of_fraction(efficiency))
