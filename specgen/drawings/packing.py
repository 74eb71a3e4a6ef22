"""Lays out what no definition measures: blocks of alike faces, on what room is left of a panel."""

from collections.abc import Iterator, Sequence
from typing import Final

from specgen.fitness.frames import Frame
from specgen.frozen import frozen

SHRINKING: Final = 0.9
MOST_TRIES: Final = 24


@frozen
class FaceBlock:
    """So many alike faces that lie beside one another; `turned` lists ways to lay them."""

    count: int
    sizes: tuple[tuple[float, float], ...]
    depth: float = 0.0
    gap: float = 1.5


def packed(
    blocks: Sequence[FaceBlock], room: Frame, taken: Sequence[Frame]
) -> tuple[list[list[Frame]], float]:
    """A frame for each face of each block, and by how much all had to shrink (1: not at all).

    Frames overlap nothing and lie within `room`; where even the smallest would not fit, they lie
    in a row across the room, as small as they must be.
    """
    factor = 1.0
    for _ in range(MOST_TRIES):
        made = _all(blocks, room, taken, factor)
        if made is not None:
            return made, factor
        factor *= SHRINKING
    return _row(blocks, room), 0.0


def _all(
    blocks: Sequence[FaceBlock], room: Frame, taken: Sequence[Frame], factor: float
) -> list[list[Frame]] | None:
    busy = list(taken)
    made: list[list[Frame]] = [[] for _ in blocks]
    by_size = sorted(range(len(blocks)), key=lambda at: (-_area(blocks[at]), at))
    for at in by_size:
        frames = _one(blocks[at], room, busy, factor)
        if frames is None:
            return None
        made[at] = frames
        busy.append(_bounds(frames))
    return made


def _area(block: FaceBlock) -> float:
    wide, high = block.sizes[0]
    return wide * high * block.count


def _one(block: FaceBlock, room: Frame, busy: Sequence[Frame], factor: float) -> list[Frame] | None:
    for wide, high, columns in _arrangements(block, room, factor):
        rows = -(-block.count // columns)
        whole = (
            columns * wide + (columns - 1) * block.gap,
            rows * high + (rows - 1) * block.gap,
        )
        corner = _corner(whole, room, busy, block.gap)
        if corner is not None:
            x, y = corner
            return [
                Frame(
                    x + (at % columns) * (wide + block.gap),
                    y + (at // columns) * (high + block.gap),
                    wide,
                    high,
                    block.depth,
                )
                for at in range(block.count)
            ]
    return None


def _arrangements(
    block: FaceBlock, room: Frame, factor: float
) -> Iterator[tuple[float, float, int]]:
    """Ways to lay a block: as flat as the room is high, then narrower."""
    for wide, high in block.sizes:
        wide, high = wide * factor, high * factor
        most = int((room.height + block.gap + 0.01) // (high + block.gap))
        tried = set()
        for rows in range(max(1, min(most, block.count)), 0, -1):
            columns = -(-block.count // rows)
            if columns not in tried:
                tried.add(columns)
                yield wide, high, columns


def _corner(
    whole: tuple[float, float], room: Frame, busy: Sequence[Frame], gap: float
) -> tuple[float, float] | None:
    """The leftmost free corner, the uppermost of those."""
    xs = sorted({room.x, *(one.x + one.width + gap for one in busy)})
    ys = sorted({room.y, *(one.y + one.height + gap for one in busy)})
    for x in xs:
        for y in ys:
            frame = Frame(x, y, *whole)
            if room.holds(frame) and not any(frame.meets(one) for one in busy):
                return x, y
    return None


def _bounds(frames: Sequence[Frame]) -> Frame:
    left = min(frame.x for frame in frames)
    top = min(frame.y for frame in frames)
    right = max(frame.x + frame.width for frame in frames)
    low = max(frame.y + frame.height for frame in frames)
    return Frame(left, top, right - left, low - top)


def _row(blocks: Sequence[FaceBlock], room: Frame) -> list[list[Frame]]:
    total = sum(block.count for block in blocks)
    wide = room.width / max(1, total)
    made: list[list[Frame]] = []
    x = room.x
    for block in blocks:
        made.append([])
        for _ in range(block.count):
            made[-1].append(Frame(x, room.y, wide * 0.9, room.height, block.depth))
            x += wide
    return made
