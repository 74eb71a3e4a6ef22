"""The picture in words, made from the same values as the picture."""

from collections.abc import Iterator

from specgen.drawings.diagram import Box, BoxPort, Diagram, GridCell, Ribbon
from specgen.drawings.lettering import letter
from specgen.messages import Words, listed, say
from specgen.model import places as places_


def in_words(diagram: Diagram) -> tuple[str, ...]:
    """An outline: a position and, a tab deeper, what is in it, what it gives and what reaches it.

    What stands in the frame of another position stands below that.
    """
    into: dict[str, list[Ribbon]] = {}
    for ribbon in diagram.ribbons:
        into.setdefault(ribbon.head, []).append(ribbon)
    made: list[str] = []
    for group in diagram.groups:
        for box in group.all():
            depth = 0 if group.head in (None, box) else 1
            above, *below = _box(box, into.get(box.id, []))
            made += ("\t" * depth + above, *("\t" * (depth + 1) + line for line in below))
    return tuple(made)


def _box(box: Box, ribbons: list[Ribbon]) -> Iterator[str]:
    """The line of a box, then those below it."""
    name, *rest = box.lines
    beside = [line.text for line in rest if line.weight == "aside" or len(rest) == 1]
    under = [line.text for line in rest if line.text not in beside]
    if beside:
        yield letter(say("{name}: {lines}", name=name.text, lines=listed(beside, "semicolon")))
    else:
        yield name.text
    if under:
        yield letter(listed(under, "semicolon"))
    yield from map(letter, (*_cells(box.grid), *map(_outlet, box.ports)))
    yield from (ribbon.words for ribbon in ribbons)


def _outlet(outlet: BoxPort) -> Words:
    if not outlet.spare:
        return outlet.label
    if outlet.spare == outlet.lanes:
        return say("{label}, free", label=outlet.label)
    return say(
        "{label}, {spare} of {lanes} lanes free",
        label=outlet.label,
        spare=outlet.spare,
        lanes=outlet.lanes,
    )


def _cells(grid: tuple[tuple[GridCell, ...], ...]) -> Iterator[Words]:
    """Positions with the same in them, said once."""
    alike: dict[str, list[str]] = {}
    for row in grid:
        for cell in row:
            alike.setdefault(cell.text, []).append(cell.place)
    for text, places in alike.items():
        yield say("{places}: {what}", places=_names(places), what=text)


def _names(names: list[str]) -> Words:
    """Names in short form; folded ones (`DIMM 1A1 to 1H2`) stay as they are."""
    return places_(tuple(names))
