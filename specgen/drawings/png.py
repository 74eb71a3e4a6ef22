"""A drawing as a PNG, set by Typst with the shipped fonts only: the same bytes on every
computer.
"""

from typing import Final

from specgen.drawings.picture import PAPER, Picture, written
from specgen.drawings.typesetter import compiled

DOTS: Final = 192.0  # of an inch: twice what a screen shows of an inline drawing


def png(picture: Picture, dots: float = DOTS) -> bytes:
    """A drawing in its printed colours on paper. `dots`: how many to an inch.

    Raises RuntimeError where the drawing cannot be set: our bug.
    """
    escaped = written(picture).replace("\\", "\\\\").replace('"', '\\"')
    source = (
        f'#set page(width: auto, height: auto, margin: 0pt, fill: rgb("{PAPER}"))\n'
        f'#image(bytes("{escaped}"), format: "svg")\n'
    )
    return compiled(source, "png", ppi=dots)
