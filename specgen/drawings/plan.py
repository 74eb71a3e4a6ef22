"""Boxes measured: where each line, cell and outlet stands within its group, before layout.

Lengths are points at natural size, from the top left corner of the group.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from specgen.drawings.diagram import (
    Box,
    BoxPort,
    Diagram,
    GridCell,
    Group,
    Ribbon,
    TextRole,
    UseState,
)
from specgen.drawings.widths import LETTERS, width, wrapped
from specgen.frozen import frozen

LANE: Final = 0.625  # breadth of one lane: sixteen are ten points
NAME_SIZE: Final = 10.0
TEXT_SIZE: Final = LETTERS
PAD: Final = 6.0
INSET: Final = 4.0  # of a box within the frame of its group
GAP: Final = 4.0  # between boxes of a frame
CHANNELS: Final = 12.0  # between memory and processor
ROW: Final = 11.0
NAME_ROW: Final = 13.0
CELL_ROW: Final = 14.0
STUB: Final = 9.0  # how far lanes that nothing is wired to stick out
MEMORY: Final = 90.0
LEAD_IN: Final = 7.0  # straight stretches of ribbons, left and right of a group
LEAD_OUT: Final = 11.0
BARS: Final = 5.0  # kept free at the left of what is unusable


@frozen
class Breadths:
    """How broad boxes are, how far apart their columns (`ranks`) and rows, both in inches.

    A `device` is a frame; boxes in it are narrower by twice the inset.
    """

    device: float = 170.0
    processor: float = 118.0
    ranks: float = 0.36
    rows: float = 0.14


USUAL: Final = Breadths()
OTHERS: Final = (Breadths(128.0, 106.0, 0.22), Breadths(194.0, 106.0, 0.18, 0.06))
"""For pictures that are too broad for a page, and for those that are too high."""


@frozen
class PlacedText:
    """A line of text with its base line; `end` where it is set flush right."""

    x: float
    y: float
    text: str
    weight: TextRole
    part: str = ""
    end: bool = False


@frozen
class PlacedCell:
    """A cell of a memory grid: its upper left corner and its breadth, in points within the group.
    A cell of a memory grid: its upper left corner and its breadth, in points within the group."""

    cell: GridCell
    x: float
    y: float
    width: float


@frozen
class PlacedPort:
    """An outlet's middle at the right edge; `spare` is the middle of its unwired lanes."""

    outlet: BoxPort
    y: float
    spare: float


@frozen
class PlacedBox:
    """A box with all that stands in it: its upper left corner and its size, in points within the
    group."""

    box: Box
    x: float
    y: float
    width: float
    height: float
    words: tuple[PlacedText, ...]
    cells: tuple[PlacedCell, ...]
    ports: tuple[PlacedPort, ...]


@frozen
class RibbonEnd:
    """Where a ribbon meets the left or right side of a group: a stretch in whole points."""

    ribbon: str
    top: int
    bottom: int
    inset: float


@frozen
class PlacedGroup:
    """A group as large as its boxes need, in whole points; ribbons meet it on the left and the
    right."""

    group: Group
    width: int
    height: int
    framed: bool
    boxes: tuple[PlacedBox, ...]
    left: tuple[RibbonEnd, ...]
    right: tuple[RibbonEnd, ...]


@frozen
class _Ends:
    """Ribbons by the outlet they leave and by the box they reach; how broad boxes are."""

    leaving: Mapping[str, list[Ribbon]]
    reaching: Mapping[str, list[Ribbon]]
    breadths: Breadths


def breadth(lanes: int) -> float:
    """Breadth of a ribbon in points."""
    return lanes * LANE


def plan(diagram: Diagram, breadths: Breadths = USUAL) -> tuple[PlacedGroup, ...]:
    """All groups of a figure, measured."""
    leaving: dict[str, list[Ribbon]] = {}
    reaching: dict[str, list[Ribbon]] = {}
    for ribbon in diagram.ribbons:
        leaving.setdefault(ribbon.tail, []).append(ribbon)
        reaching.setdefault(ribbon.head, []).append(ribbon)
    ends = _Ends(leaving, reaching, breadths)
    return tuple(
        _flanked(group, ends) if group.flanked else _stacked(group, ends)
        for group in diagram.groups
    )


def _stacked(group: Group, ends: _Ends) -> PlacedGroup:
    """One box, or boxes below one another, in the frame of a head where there is one."""
    device = ends.breadths.device
    framed = group.head is not None and bool(group.boxes)
    inset = INSET if framed else 0.0
    placed = []
    y = 0.0
    if group.head is not None:
        placed.append(_box(group.head, (0.0, y), device, ends))
        y += placed[-1].height
    for number, box in enumerate(group.boxes):
        y += GAP if number and not framed else 0.0
        placed.append(_box(box, (inset, y), device - 2 * inset, ends))
        y += placed[-1].height + (INSET if framed else 0.0)
    return _group(group, placed, (device, y), framed, ends)


def _flanked(group: Group, ends: _Ends) -> PlacedGroup:
    """A processor with its memory on the left; both as high as the higher one."""
    head = group.head
    assert head is not None  # memory stands beside a processor
    banks = []
    x = y = 0.0
    for box in group.boxes:
        banks.append(_box(box, (0.0, y), _memory_width(box), ends))
        y += banks[-1].height + GAP
        x = max(x, banks[-1].width)
    x += CHANNELS if banks else 0.0
    processor = _box(head, (x, 0.0), ends.breadths.processor, ends, least=y - GAP if banks else 0.0)
    size = (x + processor.width, max(processor.height, y - GAP if banks else 0.0))
    return _group(group, [processor, *banks], size, False, ends)


def _group(
    group: Group, boxes: Sequence[PlacedBox], size: tuple[float, float], framed: bool, ends: _Ends
) -> PlacedGroup:
    total, height = math.ceil(size[0]), math.ceil(size[1])
    left = [anchor for box in boxes for anchor in _arrivals(box, ends)]
    right = [anchor for box in boxes for anchor in _departures(box, total, ends)]
    return PlacedGroup(
        group, total, height, framed, tuple(boxes), _in_whole_points(left), _in_whole_points(right)
    )


def _arrivals(box: PlacedBox, ends: _Ends) -> Iterable[RibbonEnd]:
    ribbons = ends.reaching.get(box.box.id, [])
    y = box.y + (box.height - sum(_room(ribbon.lanes) for ribbon in ribbons)) / 2
    for ribbon in ribbons:
        yield RibbonEnd(ribbon.id, round(y), round(y) + _room(ribbon.lanes), box.x)
        y += _room(ribbon.lanes)


def _departures(box: PlacedBox, total: int, ends: _Ends) -> Iterable[RibbonEnd]:
    for at in box.ports:
        ribbons = ends.leaving.get(at.outlet.id, [])
        room = sum(_room(ribbon.lanes) for ribbon in ribbons)
        room += _room(at.outlet.spare) if at.outlet.spare else 0
        y = at.y - room / 2
        for ribbon in ribbons:
            inset = total - box.x - box.width
            yield RibbonEnd(ribbon.id, round(y), round(y) + _room(ribbon.lanes), inset)
            y += _room(ribbon.lanes)


def _in_whole_points(anchors: Iterable[RibbonEnd]) -> tuple[RibbonEnd, ...]:
    """Stretches in order, each beginning no sooner than the one before it ends."""
    made: list[RibbonEnd] = []
    bottom = 0
    for anchor in sorted(anchors, key=lambda one: (one.top, one.ribbon)):
        top = max(anchor.top, bottom)
        bottom = top + anchor.bottom - anchor.top
        made.append(RibbonEnd(anchor.ribbon, top, bottom, anchor.inset))
    return tuple(made)


def _room(lanes: int) -> int:
    """Whole points that a ribbon takes up along the side of a box."""
    return max(2, math.ceil(breadth(lanes) + 0.4))


def _memory_width(box: Box) -> float:
    columns = max((len(row) for row in box.grid), default=1)
    return max(MEMORY, columns * _cell_width(box) + 2 * INSET)


def _cell_width(box: Box) -> float:
    texts = [f"{cell.label}  {cell.text}" for row in box.grid for cell in row]
    widest = max((width(text, TEXT_SIZE) for text in texts), default=0.0)
    return math.ceil(widest) + 10.0


def _box(
    box: Box, at: tuple[float, float], wide: float, ends: _Ends, least: float = 0.0
) -> PlacedBox:
    x, y = at
    words, bottom = _lines(box, x, y, wide)
    cells, bottom = _cells(box, x, bottom, wide)
    outlets, more, bottom = _outlets(box, (x + wide, bottom), wide, ends)
    needed = sum(_room(ribbon.lanes) for ribbon in ends.reaching.get(box.id, [])) + 4.0
    height = max(bottom + 5.0 - y, least, needed)
    return PlacedBox(box, x, y, wide, height, (*words, *more), cells, outlets)


def _lines(box: Box, x: float, y: float, wide: float) -> tuple[list[PlacedText], float]:
    made: list[PlacedText] = []
    y += 1.5
    bars = BARS if box.use is UseState.UNUSABLE else 0.0
    x, wide = x + bars, wide - bars
    for line in box.lines:
        name = line.weight == "name"
        size = NAME_SIZE if name else TEXT_SIZE
        if line.weight == "aside" and len(made) == 1:
            after = width(made[0].text, NAME_SIZE, bold=True) + PAD
            if after + width(line.text, TEXT_SIZE) <= wide - 2 * PAD:
                made.append(PlacedText(x + PAD + after, y, line.text, "plain", line.part))
                continue
        for piece in wrapped(line.text, wide - 2 * PAD, size, name):
            y += NAME_ROW if name else ROW
            made.append(PlacedText(x + PAD, y, piece, line.weight, line.part))
    return made, y


def _cells(box: Box, x: float, y: float, wide: float) -> tuple[tuple[PlacedCell, ...], float]:
    made = []
    if box.grid:
        y += 5.0
    for row in box.grid:
        each = (wide - 2 * INSET) / len(row)
        made += [PlacedCell(cell, x + INSET + each * n, y, each) for n, cell in enumerate(row)]
        y += CELL_ROW
    return tuple(made), y


def _outlets(
    box: Box, corner: tuple[float, float], wide: float, ends: _Ends
) -> tuple[tuple[PlacedPort, ...], list[PlacedText], float]:
    """Outlets below one another at the right side, each as high as its words and its ribbons."""
    made, words = [], []
    right, y = corner
    y += 3.0 if box.ports else 0.0
    for outlet in box.ports:
        pieces = wrapped(outlet.label, wide - 2 * PAD, TEXT_SIZE) if outlet.label else []
        ribbons = sum(_room(ribbon.lanes) for ribbon in ends.leaving.get(outlet.id, []))
        spare = _room(outlet.spare) if outlet.spare else 0
        high = max(len(pieces) * ROW + 1.5, ribbons + spare + 2.0)
        middle = y + high / 2
        made.append(PlacedPort(outlet, middle, middle + (ribbons + spare) / 2 - spare / 2))
        base = middle - len(pieces) * ROW / 2 + 8.7
        for piece in pieces:
            words.append(PlacedText(right - PAD, base, piece, "plain", outlet.part, end=True))
            base += ROW
        y += high
    return tuple(made), words, y
