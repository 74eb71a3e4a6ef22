"""What carries a system: rails, rack and floor, each rated for so much weight.

Rails are parts, so what they carry is a constraint; rack and floor are conditions: what comes to
lie below zero is judged in `judged`, and the solver is told the weight that they allow.
"""

from collections.abc import Callable
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Label, codes
from specgen.facts import Facts
from specgen.facts.constants import STANDARD_GRAVITY
from specgen.fitness import alternatives, field_of, within
from specgen.messages import AsWritten, Message, listed, say
from specgen.model import Conditions, Part, RailKit
from specgen.quantity import Mass
from specgen.rules.constraints import Chain, Covered, Shortage
from specgen.rules.places import unsettled_kinds


def _rating(part: Part) -> Mass | None:
    found = field_of(part, "load_rating")
    return found if isinstance(found, Mass) else None


def _too_heavy(assembly: Assembly, _facts: Facts, shortage: Shortage) -> Finding:
    place, rails = shortage.members[0]
    total, rated = AsWritten(shortage.total), AsWritten(shortage.each)
    stronger = sorted(
        (rating.amount, other.id)
        for other in alternatives(place, rails, within(assembly))
        if (rating := _rating(other)) is not None and rating >= shortage.total
    )
    return Finding(
        codes.RAILS_OVERLOADED,
        say("the system weighs {total}, and its rails carry {rated}", total=total, rated=rated),
        Label(place.at, say("max. {rated}", rated=rated)),
        labels=(Label(rails.origin.at("load_rating"), say("the rail kit")),),
        notes=(say("with everything that is fitted, the rail kit itself left out"),),
        help=say("{others} carries it", others=listed((f"`{stronger[0][1]}`",), "or"))
        if stronger
        else "",
    )


def _unclear(assembly: Assembly) -> bool:
    return RailKit.kind in unsettled_kinds(assembly)


RAILS: Final = Chain(
    (
        Covered(
            code=codes.RAILS_OVERLOADED,
            statement=say("rails carry the system that they hold"),
            fact="mechanics.rails_load",
            offered=lambda part, _: _rating(part),
            spare=lambda _: 0,
            finding=_too_heavy,
        ),
    ),
    _unclear,
)


CHASSIS_GOES_IN: Final = {
    "mechanics.depth_spare": ("size", "depth"),
    "mechanics.width_spare": ("body_width",),
    "mechanics.rack_units_free": ("rack_units",),
}
"""Facts of the chassis alone that no choice of parts makes better, each judged, and the field of
the platform that they rest on."""


def _by_rack(at: Conditions) -> Mass | None:
    rating = at.rack_load_rating
    return None if rating is None else rating / (at.per_rack or 1)


def _by_floor(at: Conditions) -> Mass | None:
    """The inverse of `floor_headroom`."""
    if at.floor_load_rating is None or at.rack_width is None or at.rack_length is None:
        return None
    area = at.rack_width.amount * at.rack_length.amount
    borne = Mass.of(at.floor_load_rating.amount * area / STANDARD_GRAVITY.value)
    return (borne - (at.rack_mass or Mass.zero())) / (at.per_rack or 1)


WEIGHT_ALLOWED: Final[tuple[tuple[Code, Message, Callable[[Conditions], Mass | None]], ...]] = (
    (
        codes.RACK_OVERLOADED,
        say("the rack carries all systems in it: up to {most} each"),
        _by_rack,
    ),
    (
        codes.FLOOR_OVERLOADED,
        say("the floor bears the rack and all systems in it: up to {most} each"),
        _by_floor,
    ),
)
"""What one system may weigh at most (`most`) by the conditions; None where nothing is stated."""
