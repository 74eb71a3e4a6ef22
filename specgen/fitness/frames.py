"""Where things lie, to scale: outlines as rectangles in millimetres."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from specgen.model import Outline
from specgen.quantity import Length


class Frame(NamedTuple):
    """A rectangle seen from one side, in millimetres from its upper left corner."""

    x: float
    y: float
    width: float
    height: float
    depth: float = 0.0

    def meets(self, other: "Frame") -> bool:
        """Whether the two have more than an edge in common."""
        slack = 0.01
        return (
            self.x + slack < other.x + other.width
            and other.x + slack < self.x + self.width
            and self.y + slack < other.y + other.height
            and other.y + slack < self.y + self.height
        )

    def holds(self, other: "Frame") -> bool:
        """Whether the other lies within this one."""
        slack = 0.01
        return (
            other.x >= self.x - slack
            and other.y >= self.y - slack
            and other.x + other.width <= self.x + self.width + slack
            and other.y + other.height <= self.y + self.height + slack
        )


def stepped(outline: Outline, at: int) -> Frame:
    """The frame of the position number `at` of a range."""
    return next(_stepped(outline, (at,)))


def _stepped(outline: Outline, numbers: Iterable[int]) -> Iterator[Frame]:
    x, y, step, down = map(mm, (outline.x, outline.y, outline.step, outline.down))
    size = [mm(each) for each in (outline.width, outline.height, outline.depth)]
    for at in numbers:
        columns = outline.columns or (at + 1 if outline.step is not None else 1)
        yield Frame(x + (at % columns) * step, y + (at // columns) * down, *size)


@lru_cache(maxsize=4096)  # outlines of many parts and positions measure the same
def mm(length: Length | None) -> float:
    """A length in millimetres; nothing is nought."""
    return 0.0 if length is None else float(length.in_unit("mm"))


def frames(outline: Outline, names: tuple[str, ...]) -> dict[str, Frame]:
    """The frames of the positions that a range stands for, in their order."""
    return dict(zip(names, _stepped(outline, range(len(names))), strict=True))
