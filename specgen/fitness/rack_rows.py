"""What a part must meet in the rack: rails between its posts, room behind the chassis."""

from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import codes
from specgen.fitness.comparisons import at_least, at_most
from specgen.fitness.requirement import Requirement
from specgen.messages import say
from specgen.quantity import Length


def depth_left(assembly: Assembly) -> Length | None:
    """Room behind the chassis in the rack that is stated; below nothing where it is too deep."""
    depth = assembly.conditions.rack_depth
    return None if depth is None else depth - assembly.platform.size.depth


_RAILS: Final = Requirement(
    code=codes.RAILS_LENGTH,
    fields=(),
    wants=lambda _, surroundings: surroundings.assembly.conditions.rail_distance,
    suits=at_least,
    help=say("{others} spans that distance"),
)

RAILS_SHORT: Final = replace(
    _RAILS,
    fields=("adjusts_to",),
    words=say("are too short"),
    message=say("`{part}` in {where}: extends to {has}, and the rack's rails are {wants} apart"),
    at=say("{has} at most"),
    pointers=(
        ("condition.rail_distance", say("the rack")),
        ("part.adjusts_to", say("the rail kit")),
    ),
)

RAILS_LONG: Final = replace(
    _RAILS,
    fields=("adjusts_from",),
    suits=at_most,
    words=say("are too long"),
    message=say("`{part}` in {where}: begins at {has}, and the rack's rails are {wants} apart"),
    at=say("{has} at least"),
    pointers=(
        ("condition.rail_distance", say("the rack")),
        ("part.adjusts_from", say("the rail kit")),
    ),
)

RACK_DEPTH: Final = Requirement(
    code=codes.RACK_TOO_SHALLOW,
    fields=("adds_depth",),
    wants=lambda _, surroundings: depth_left(surroundings.assembly),
    suits=at_most,
    apart=True,
)

RACKS: Final = (RAILS_SHORT, RAILS_LONG, RACK_DEPTH)
