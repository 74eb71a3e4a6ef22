"""Whether what sits in a position can be replaced while the system runs."""

from typing import Any

from specgen.assembly.result import Assembly, Place
from specgen.model import Part, PowerSupply
from specgen.model.position import Swap


def swap_of(assembly: Assembly, place: Place, part: Part | None = None) -> Swap | None:
    """The least of what the position, its part and every port on the way to it allow.

    Hot only where position and part both say so and no port on the way serves cold-swap alone:
    somebody may put a hand into a running system on the word of this. A power supply that is not
    there to spare never is. None where neither position nor part says anything. An empty position
    says what itself and its ports allow.
    """
    part = part or place.part
    if part is not None and place.part is part and _alone(assembly, part):
        return "cold"
    said: list[Any] = [place.position.swap]
    if part is not None and not part.closes:
        said.append(getattr(part, "swap", None))
    if not any(said):
        return None
    link = assembly.links.get(place.name)
    ports = (link.owner, link.root) if link is not None else ()
    served = all("hot" in port.port.swap for port in ports if port is not None and port.port.swap)
    return "hot" if served and all(each == "hot" for each in said) else "cold"


def _alone(assembly: Assembly, part: Part) -> bool:
    """Whether the system may stop when this power supply is pulled: none is there to spare."""
    if not isinstance(part, PowerSupply) or assembly.build is None:
        return False
    wanted = assembly.conditions.redundancy
    spare = 0 if wanted is None else wanted.spare
    return spare == 0 or len(assembly.fitted(PowerSupply)) <= spare
