"""The parts of a position beside each other: what each adds, takes away and costs; its picture."""

from dataclasses import replace

from specgen.assembly import Assembly, State, assemble
from specgen.document.blocks.choices import NUMBER, Told
from specgen.document.blocks.options import asks_of, needs_cell, takes_away
from specgen.document.case import Case
from specgen.document.cells.cell_makers import NONE, WEIGHT, part_cell, stated_cell, table_of
from specgen.document.side_by_side import SIDES, side_by_side
from specgen.document.tree import Block, Cell, Figure, Table, literal
from specgen.drawings.lettering import letter
from specgen.grouped import grouped
from specgen.limits.reachable import possible, reachable
from specgen.messages import Words, listed, say
from specgen.model import Build, Fill, Part, expand, natural, places


def alternatives(case: Case, told: Told) -> tuple[Block, ...]:
    """For each position that the platform names: its parts in a figure and a table.

    A kind of which these are all parts that the platform can hold is `told` from then on.
    """
    blocks: list[Block] = []
    held = possible(case.assembly)
    for text in case.platform.alternatives:
        for name in expand(text):
            parts = _parts(case, name)
            if len(parts) > 1:
                blocks += filter(None, (_figure(case, name, parts), _table(case, name, parts)))
            kinds = {part.kind for part in parts}
            of_kinds = {each for each in held if case.definitions.parts[each].kind in kinds}
            if len(parts) > 1 and of_kinds == {part.id for part in parts}:
                told |= kinds
    return tuple(blocks)


def _parts(case: Case, name: str) -> list[Part]:
    found = (node.parts for node in reachable(case.assembly) or () if node.name == name)
    parts = {part.id: part for each in found for part in each if not part.closes}
    return sorted(parts.values(), key=lambda part: natural(part.name))


def _figure(case: Case, name: str, parts: list[Part]) -> Figure | None:
    """The side of the system that the position is on, with each part alone in it."""
    place = case.assembly.places.get(name)
    if place is None or place.position.area not in SIDES:
        return None
    made = side_by_side(
        place.position.area, [(part.name, _with(case, name, part)) for part in parts]
    )
    title = letter(say("{name}: alternatives, to one scale", name=name))
    adds = [letter(say("{part}: {what}", part=part.name, what=_adds(case, part))) for part in parts]
    anchor = f"{_anchor(name)}-alternatives-figure"
    return replace(made, title=title, text="\n".join(adds), anchor=anchor)


def _with(case: Case, name: str, part: Part) -> Assembly:
    """The platform with one part; positions that lack a cable or a processor are drawn empty."""
    platform = case.platform
    build = Build(
        id=platform.id,
        name=platform.name,
        platform=platform.id,
        summary=platform.summary,
        fit={name: Fill(part=part.id)},
    )
    made = assemble(case.definitions, platform, build)
    for place in made.places.values():
        if place.state is State.UNUSABLE:
            place.state = State.EMPTY
    return made


def _table(case: Case, name: str, parts: list[Part]) -> Table | None:
    return table_of(
        ((part,) for part in parts),
        say("{name}: alternatives", name=name),
        f"{_anchor(name)}-alternatives",
        (say("Alternative"), part_cell),
        (NUMBER, lambda part: literal(part.number or "")),
        (say("Adds"), lambda part: _adds(case, part)),
        (say("Takes away"), takes_away),
        (say("Needs"), lambda part: needs_cell(case.definitions, part) or NONE),
        (WEIGHT, lambda part: stated_cell(part, part.mass, "mass", empty=NONE)),
        (say("Draw, max."), _draw),
    )


def _draw(part: Part) -> Cell:
    draw = part.power
    value = None if draw is None else draw.maximum
    return stated_cell(part, value, "power", "maximum", empty=NONE)


def _adds(case: Case, part: Part) -> Words:
    """The positions that a part brings, alike ones together, with what they ask for."""
    found = grouped(
        (asks_of(case, position), name.removeprefix("."))
        for position in part.brings.positions
        for name in expand(position.name)
    )
    added = [
        say("{places} ({what})", places=places(tuple(names)), what=listed(asks))
        if asks
        else places(tuple(names))
        for asks, names in found.items()
    ]
    return listed(added, "semicolon") if added else NONE


def _anchor(name: str) -> str:
    return name.lower().replace(" ", "-")
