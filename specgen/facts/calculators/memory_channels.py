"""What stands on the memory channels of a processor."""

from collections.abc import Callable
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.constants import CHANNEL_BITS
from specgen.facts.fact import Declared, Trail
from specgen.facts.inputs import fields_of, leaf, of_thing, position_leaf
from specgen.grouped import grouped
from specgen.messages import say
from specgen.model import MemoryModule


def on_channels(assembly: Assembly, processor: str) -> dict[str, list[tuple[Place, MemoryModule]]]:
    """The modules of a processor by channel, in the order of positions."""
    return grouped(
        (place.position.channel or place.name, (place, module))
        for place, module in assembly.fitted(MemoryModule)
        if place.of == processor
    )


def ranks_on_fullest(assembly: Assembly, processor: str) -> tuple[int, Callable[[], Trail]]:
    """Ranks on the channel that has most of them."""

    def total(modules: list[tuple[Place, MemoryModule]]) -> int:
        return sum(module.ranks for _, module in modules)

    fullest = max(on_channels(assembly, processor).values(), key=total, default=[])
    return total(fullest), fields_of(fullest, "ranks")[1]


def wired_channels(assembly: Assembly, processor: str) -> tuple[int, Trail]:
    """How many channels of a processor have a slot, usable or not, and the slot that tells of each.
    How many channels of a processor have a slot, usable or not, and the slot that tells of each."""
    first: dict[str, Place] = {}
    for place in assembly.taking("memory-module"):
        if place.of == processor:
            first.setdefault(place.position.channel or place.name, place)
    return len(first), tuple(position_leaf(place) for place in first.values())


def channel_width(assembly: Assembly, processor: str) -> tuple[int | None, Trail]:
    """Data bits of a channel by the technology of the modules; None for one nobody describes."""
    place, module = next(
        (member for members in on_channels(assembly, processor).values() for member in members),
        (None, None),
    )
    if place is None or module is None:
        return None, ()
    project = assembly.definitions.project
    trail: Trail = (leaf(place, module, ("technology",), module.technology),)
    own = project.memory_technologies.get(module.technology)
    if own is not None:
        at = partial(project.origin.at, "memory_technologies", module.technology)
        label = of_thing(module.technology, say("width of a channel"))
        trail = (*trail, Declared(label, f"{own} bit", at))
    return own or CHANNEL_BITS.get(module.technology), trail
