"""What a part must meet in the rack: rails between its posts, room behind the chassis."""

from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import codes
from specgen.fitness.comparisons import at_least, at_most
from specgen.fitness.part_fields import field_of
from specgen.fitness.requirement import Requirement
from specgen.messages import say
from specgen.model import Part
from specgen.quantity import Length


def depth_left(assembly: Assembly) -> Length | None:
    """Room behind the chassis in the rack that is stated; below nothing where it is too deep."""
    depth = assembly.conditions.rack_depth
    return None if depth is None else depth - assembly.platform.size.depth


def rails_apart(assembly: Assembly) -> Length | None:
    """How far the rack's rails are apart; None where they stand outside it, which is told."""
    apart, length = assembly.conditions.rail_distance, assembly.conditions.rack_length
    return None if apart is None or (length is not None and apart > length) else apart


def _reaches(part: Part) -> bool:
    """Whether a rail kit's range has a lower and an upper end; where not, that is told."""
    least, most = field_of(part, "adjusts_from"), field_of(part, "adjusts_to")
    return least is None or most is None or least <= most


_RAILS: Final = Requirement(
    code=codes.RAILS_LENGTH,
    fields=(),
    wants=lambda _, surroundings: rails_apart(surroundings.assembly),
    suits=at_least,
    applies=lambda _place, part, _: _reaches(part),
    help=say("{others} spans that distance"),
)

RAILS_SHORT: Final = replace(
    _RAILS,
    fields=("adjusts_to",),
    words=say("are too short"),
    message=say("`{part}` in {where}: extends to {has}, and the rack's rails are {wants} apart"),
    at=say("max. {has}"),
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
    at=say("min. {has}"),
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
