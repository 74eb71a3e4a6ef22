"""The block of the document tree that holds a photo, or a drawing in a file."""

from typing import TYPE_CHECKING

from specgen.frozen import frozen

if TYPE_CHECKING:
    from specgen.document.tree import Block, Cell
    from specgen.drawings.number_marks import NumberMark
    from specgen.images.prepared import Rendition
    from specgen.messages import Words


@frozen
class Image:
    """A photo or a drawing in files, the numbers on it, and what stands below it.

    `text` is read in its place. `dark` are shown on dark pages instead, where there are any.
    `width` is how broad it is printed, in points. Below it stand the list of what its numbers point
    at and what else is to be known.
    """

    title: "Words"
    text: "Words"
    screen: "tuple[Rendition, ...]"
    paper: "Rendition"
    width: float
    dark: "tuple[Rendition, ...]" = ()
    marks: "tuple[NumberMark, ...]" = ()
    below: "tuple[Block, ...]" = ()
    credit: "Cell" = ()
    anchor: str = ""
    captioned: bool = True
    numbered: bool = False
