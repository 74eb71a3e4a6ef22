"""The picture in words, made from the same values as the picture."""

from collections.abc import Iterator

from specgen.drawings.figure import Box, Cell, Figure, Outlet, Ribbon
from specgen.model import condensed


def in_words(figure: Figure) -> tuple[str, ...]:
    """A paragraph for each group: what stands there, what it gives out, what reaches it."""
    into: dict[str, list[Ribbon]] = {}
    for ribbon in figure.ribbons:
        into.setdefault(ribbon.head, []).append(ribbon)
    return tuple(
        " ".join(_box(box, into.get(box.id, [])) for box in group.all()) for group in figure.groups
    )


def _box(box: Box, ribbons: list[Ribbon]) -> str:
    head, *rest = [line.text for line in box.lines]
    pieces = [f"{head}: {'; '.join(rest)}." if rest else f"{head}."]
    pieces += [f"{text}." for text in _cells(box.grid)]
    pieces += [f"{_outlet(outlet)}." for outlet in box.outlets]
    if ribbons:
        pieces.append("Lanes: " + "; ".join(ribbon.words for ribbon in ribbons) + ".")
    return " ".join(pieces)


def _outlet(outlet: Outlet) -> str:
    if not outlet.spare:
        return outlet.label
    if outlet.spare == outlet.lanes:
        return f"{outlet.label}, free"
    return f"{outlet.label}, {outlet.spare} of {outlet.lanes} lanes free"


def _cells(grid: tuple[tuple[Cell, ...], ...]) -> Iterator[str]:
    """Positions with the same in them, said once."""
    alike: dict[str, list[str]] = {}
    for row in grid:
        for cell in row:
            alike.setdefault(cell.text, []).append(cell.place)
    for text, places in alike.items():
        yield f"{_names(places)}: {text}"


def _names(places: list[str]) -> str:
    """Names in short form; folded ones (`DIMM A1 to 9`) stay as they are."""
    return condensed(tuple(places))
