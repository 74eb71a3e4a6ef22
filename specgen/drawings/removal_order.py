"""What is opened and taken out before what: a picture of the order of access, left to right."""

from collections.abc import Iterator, Mapping

from specgen.assembly import Assembly, Place
from specgen.assembly.access import Access, access_of, alike
from specgen.drawings.descriptions import in_words
from specgen.drawings.diagram import Box, BoxPort, Diagram, Group, Ribbon, TextLine, UseState
from specgen.drawings.lettering import letter, lettered
from specgen.messages import Within, listed, say
from specgen.model import natural

_LANES = 2
"""How broad a line is, in lanes: an order has no width of its own."""


def removal_order(assembly: Assembly) -> Diagram:
    """The covers of a platform and the parts of a system, each led to by what comes before it."""
    title = letter(say("Removal order: {name}", name=(assembly.build or assembly.platform).name))
    known = assembly.places
    filled = {name: place for name, place in known.items() if place.filled or place.closed_by}
    spots = [
        (place, None if place.host is None else known[place.host].part)
        for place in filled.values()
        if place.filled
    ]
    access = access_of(assembly.definitions, assembly.platform, spots)
    found: list[tuple[str, ...]] = [(each.name,) for each in assembly.platform.covers]
    found += [tuple(place.name for place in some) for some in alike(access, filled.values())]
    groups = [names for names in found if _tied(access, names)]
    at = {name: number for number, names in enumerate(groups) for name in names}
    boxes = [_box(filled, number, names) for number, names in enumerate(groups)]
    diagram = Diagram(
        title=title,
        groups=tuple(Group(f"g{number}", box) for number, box in enumerate(boxes)),
        ribbons=tuple(_ribbons(access, groups, at)),
        ordered=True,
    )
    words = (letter(say("From left to right: what is further left is out of the way first.")),)
    return Diagram(title, (*words, *in_words(diagram)), diagram.groups, diagram.ribbons, True)


def _tied(access: Access, names: tuple[str, ...]) -> bool:
    """Whether anything comes before or after them: what stands alone is in no order."""
    return any(access.before[name] for name in names) or any(
        name in first for first in access.before.values() for name in names
    )


def _box(places: Mapping[str, Place], number: int, names: tuple[str, ...]) -> Box:
    place = places.get(names[0])
    lines = [TextLine(lettered(tuple(sorted(names, key=natural))), "name")]
    if place is not None:
        parts = (places[name].part for name in names)
        kinds = dict.fromkeys(
            part.named_many() if len(names) > 1 else part.named() for part in parts if part
        )
        what = letter(listed(map(Within, kinds)))
        lines += [TextLine(what)] if what != lines[0].text else []
    outlet = BoxPort(f"o{number}", names[0], "")
    return Box(
        f"b{number}",
        "cover" if place is None else "slot",
        UseState.USED,
        names,
        tuple(lines),
        (outlet,),
    )


def _ribbons(
    access: Access, groups: list[tuple[str, ...]], at: Mapping[str, int]
) -> Iterator[Ribbon]:
    """A line for each pair of groups of which one is directly before the other."""
    for number, names in enumerate(groups):
        found = dict.fromkeys(at[each] for name in names for each in access.direct(name))
        for first in found:
            if first != number:
                words = letter(say("after {names}", names=lettered(groups[first])))
                id_ = f"r{first}-{number}"
                yield Ribbon(id_, f"o{first}", f"b{number}", _LANES, _LANES, UseState.USED, words)
