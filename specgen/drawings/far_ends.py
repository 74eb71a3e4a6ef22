"""Who feeds a position: a walk along leads, cables and connectors to the port that gives lanes.

The assembly has traced how many lanes arrive. A figure also needs the name at the far end where
nothing arrives, since it shows what could not be used.
"""

from dataclasses import replace

from specgen.assembly import Assembly, Link, Place
from specgen.assembly.trace import Web, trace
from specgen.frozen import frozen
from specgen.model import CARRIERS, Lead

MOST_STEPS = 32  # a link that runs in a circle has been reported by the assembly
ANY_WIDTH = 1 << 16  # wider than anything; the stages decide


@frozen
class FarEnd:
    """The port at the far end and the position whose part has it, or would have it."""

    port: str
    host: str


def far_end(assembly: Assembly, source: str) -> FarEnd | None:
    """Follows `source` to a port; None where the way ends at a missing cable or nowhere."""
    for _ in range(MOST_STEPS):
        at = assembly.ports.get(source)
        if at is not None:
            return FarEnd(source, at.place.name)
        if source in assembly.platform.leads:
            source = assembly.platform.leads[source].from_
            continue
        host, _dot, label = source.rpartition(".")
        holder = assembly.places.get(host)
        if holder is not None and label in holder.leads:
            source = holder.leads[label].from_
            continue
        place = assembly.places.get(source)
        if place is None:
            return FarEnd(source, host) if holder is not None else None
        if "cable" in place.position.takes:
            if place.part is None or place.to is None:
                return None
            source = place.to
        elif place.lead is None:
            return None
        else:
            source = place.lead.from_
    return None


def link_behind(assembly: Assembly, place: Place, source: str) -> Link:
    """The link that reaches what stands in `place` from `source`, traced as for a position."""
    web = Web(assembly.platform, assembly.places, assembly.ports)
    asked = replace(place, part=None, lead=Lead(from_=source, lanes=ANY_WIDTH))
    link = trace(web, asked)
    assert link is not None  # only a place without a lead has no link
    return link


def wiring(link: Link, place: Place) -> tuple[str, int]:
    """Protocol and highest generation that wiring and owner allow, whatever part is fitted.

    Where a port carries several protocols and no part has decided, the position's `interface`
    decides, or what the ports behind it carry.
    """
    protocol = link.protocol
    carries: dict[str, int] = {}
    if link.owner is not None:
        carries = {str(name): top for name, top in link.owner.port.carries.items()}
    part = place.part
    behind = [port for port in part.brings.ports if port.behind] if part is not None else []
    if part is None:
        wanted = [str(one) for face in place.position.interface for one in CARRIERS[face]]
    else:
        wanted = [str(one) for port in behind for one in port.carries]
    common = [one for one in carries if one in wanted]
    if common and protocol not in wanted:
        protocol = common[0]
    limits = [stage.limits[protocol] for stage in link.stages if protocol in stage.limits]
    if protocol in carries:
        limits.append(carries[protocol])
    return protocol, min(limits, default=0)
