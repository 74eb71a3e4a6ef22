"""The picture in words, made from the same values as the picture."""

from collections.abc import Iterator

from specgen.drawings.diagram import Box, BoxPort, Diagram, GridCell, Ribbon
from specgen.drawings.lettering import letter
from specgen.messages import Words, listed, say
from specgen.model import places as places_


def in_words(diagram: Diagram) -> tuple[str, ...]:
    """A paragraph for each group: what stands there, what it gives out, what reaches it."""
    into: dict[str, list[Ribbon]] = {}
    for ribbon in diagram.ribbons:
        into.setdefault(ribbon.head, []).append(ribbon)
    return tuple(
        letter(listed([_box(box, into.get(box.id, [])) for box in group.all()], "sentence"))
        for group in diagram.groups
    )


def _box(box: Box, ribbons: list[Ribbon]) -> Words:
    head, *rest = [line.text for line in box.lines]
    named: Words = head
    if rest:
        named = say("{name}: {lines}", name=head, lines=listed(rest, "semicolon"))
    pieces = [named, *_cells(box.grid), *map(_outlet, box.ports)]
    if ribbons:
        words = listed((ribbon.words for ribbon in ribbons), "semicolon")
        pieces.append(say("Lanes: {ribbons}", ribbons=words))
    return listed([say("{sentence}.", sentence=piece) for piece in pieces], "sentence")


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
