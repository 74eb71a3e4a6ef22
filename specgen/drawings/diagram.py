"""What a figure holds before it is laid out: boxes, ribbons between them, and its words.

Values only: no coordinates, no SVG, no style. Every text here is plain text, as it was defined.
"""

from collections.abc import Iterator
from enum import StrEnum
from typing import Literal

from specgen.frozen import frozen

BoxKind = Literal["processor", "memory", "port", "slot", "adapter", "bay", "riser", "cover"]
TextRole = Literal["name", "aside", "plain", "part", "reason"]


class UseState(StrEnum):
    """Whether something works, could, or cannot."""

    USED = "used"
    FREE = "free"
    UNUSABLE = "unusable"


@frozen
class TextLine:
    """A line of a box; `part` is the id of the part it names, which has an entry of its own.

    An `aside` follows the name on its line where there is room.
    """

    text: str
    weight: TextRole = "plain"
    part: str = ""


@frozen
class BoxPort:
    """What leaves a box on its right: a port that gives lanes, or one that a person plugs into.

    `name` is the full name (`CPU1.P2`), `label` what stands in the box. `spare` counts lanes that
    nothing is wired to; `plug` marks a port at the outside of the system, which has no lanes.
    """

    id: str
    name: str
    label: str
    part: str = ""
    lanes: int = 0
    spare: int = 0
    plug: bool = False
    use: UseState = UseState.USED


@frozen
class GridCell:
    """One memory position in the grid of a memory box: `label` A1, `text` 64 GiB."""

    place: str
    label: str
    text: str
    use: UseState
    part: str = ""


@frozen
class Box:
    """A position, or several alike, with what fills it. `grid` has a row for each memory channel.

    `places` holds the full names of all positions the box stands for.
    """

    id: str
    kind: BoxKind
    use: UseState
    places: tuple[str, ...]
    lines: tuple[TextLine, ...]
    ports: tuple[BoxPort, ...] = ()
    grid: tuple[tuple[GridCell, ...], ...] = ()

    @property
    def name(self) -> str:
        return self.lines[0].text


@frozen
class Group:
    """Boxes that stand together: `boxes` inside the frame of `head`, or left of it (`flanked`)."""

    id: str
    head: Box | None = None
    boxes: tuple[Box, ...] = ()
    flanked: bool = False

    def all(self) -> Iterator[Box]:
        if self.head is not None:
            yield self.head
        yield from self.boxes


@frozen
class Ribbon:
    """Lanes from an outlet (`tail`) to a box (`head`), of which `used` run.

    Ids of outlets and boxes; `lanes` counts what is wired, summed over alike positions.
    """

    id: str
    tail: str
    head: str
    lanes: int
    used: int
    use: UseState
    words: str


@frozen
class Diagram:
    """A picture and its outline (`descriptions`); one without groups has its words only.

    Ribbons of an `ordered` one are no lanes: what they lead to comes after what they come from.
    """

    title: str
    text: tuple[str, ...] = ()
    groups: tuple[Group, ...] = ()
    ribbons: tuple[Ribbon, ...] = ()
    ordered: bool = False

    def boxes(self) -> Iterator[Box]:
        for group in self.groups:
            yield from group.all()
