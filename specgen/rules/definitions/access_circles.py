"""Whether what lies over positions can be opened at all."""

from collections.abc import Iterator

from specgen.assembly.access import access_of
from specgen.assembly.fill import Filling, new_places
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import listed, say
from specgen.model import Definitions, Platform, expand


def circles(definitions: Definitions) -> Iterator[Finding]:
    """SG229: covers and positions of a platform each of which waits for the next.

    A platform that says nothing of what lies over what costs nothing.
    """
    for platform in definitions.platforms.values():
        if not platform.covers and not any(each.over for each in platform.positions):
            continue
        work = Filling(definitions, {})
        places = new_places(work, platform.origin, platform.positions, None, 0, ("positions",))
        found = access_of(definitions, platform, ((place, None) for place in places)).circle()
        if found:
            spans = _spans(platform)
            at, *others = [spans[name] for name in found if name in spans]
            yield Finding(
                codes.ACCESS_CIRCLE,
                say("{name} can never be reached", name=found[0]),
                Label(at, say("lies over what lies over it")),
                labels=tuple(Label(each, say("and this is part of the circle")) for each in others),
                notes=(say("each waits for the next: {names}", names=listed((*found, found[0]))),),
                help=say("name under `over` only what cannot be reached before"),
            )


def _spans(platform: Platform) -> dict[str, Span]:
    """Where what lies over something says so, by name."""
    origin = platform.origin
    found = {each.name: origin.at("covers", at, "over") for at, each in enumerate(platform.covers)}
    for at, position in enumerate(platform.positions):
        field = "over" if position.over else "name"
        for name in expand(position.name):
            found.setdefault(name, origin.at("positions", at, field))
    return found
