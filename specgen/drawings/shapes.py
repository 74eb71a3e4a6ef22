"""A drawing that needs no layout program: shapes on a sheet of known size, callouts, words.

Values only. Coordinates are points from the top left corner; a shape names its pen, and the pens
(`paper.PENS`) say how it looks.
"""

from dataclasses import field
from typing import Literal

from specgen.drawings.diagram import UseState
from specgen.drawings.lettering import letter
from specgen.frozen import frozen
from specgen.messages import say

TextAnchor = Literal["start", "middle", "end"]


@frozen
class Rect:
    """A rectangle; `hint` is what a pointer that rests on it is told."""

    x: float
    y: float
    width: float
    height: float
    pen: str
    hint: str = ""
    round: float = 0


@frozen
class Stroke:
    """A line through points, or a closed outline; `breadth` overrules that of the pen."""

    points: tuple[tuple[float, float], ...]
    pen: str
    closed: bool = False
    hint: str = ""
    breadth: float = 0


@frozen
class Bezier:
    """A ribbon from one side to the other, level at both ends."""

    start: tuple[float, float]
    end: tuple[float, float]
    pen: str
    breadth: float
    hint: str = ""


@frozen
class Ring:
    """A circle."""

    x: float
    y: float
    radius: float
    pen: str


@frozen
class TextShape:
    """One line of text; `part` is the id of the part that it names.

    What is `continued` after it is read on with it, as a value with its label: one piece of text
    for whoever copies or searches. It comes after what begins at its left.
    """

    x: float
    y: float
    text: str
    pen: str = "label"
    anchor: TextAnchor = "start"
    part: str = ""
    continued: "tuple[TextShape, ...]" = ()


Shape = Rect | Stroke | Bezier | Ring | TextShape


@frozen
class Callout:
    """A number on a drawing, the positions or fixtures it points at, and what is there."""

    number: int
    position: str
    what: str
    use: UseState = UseState.USED
    part: str = ""
    count: int = 1
    alone: str = ""
    """What is there, without how many."""
    places: tuple[str, ...] = ()
    """The positions that it points at; none for what is built in."""

    @property
    def unnumbered(self) -> str:
        """The callout in words, for a picture that shows no numbers."""
        return letter(say("{position}: {what}.", position=self.position, what=self.what))

    @property
    def words(self) -> str:
        return f"{self.number}: {self.unnumbered}"


@frozen
class Sheet:
    """A drawing and the same in words. Without shapes the words say what is missing."""

    title: str
    text: tuple[str, ...]
    width: float = 0
    height: float = 0
    shapes: tuple[Shape, ...] = field(default=(), repr=False)
    callouts: tuple[Callout, ...] = ()
    bare: "Sheet | None" = field(default=None, repr=False)
    """The system itself, cut to its outline: no names, no numbers, no list."""
    unlisted: "Sheet | None" = field(default=None, repr=False)
    """The drawing with its numbers, but without the list that names them."""
    absent: bool = False
    """There is no such thing in the system, so a document does not speak of it."""


def nothing(title: str, *missing: str, absent: bool = False) -> Sheet:
    """A sheet on which nothing can be drawn, and why."""
    return Sheet(title, missing, absent=absent)
