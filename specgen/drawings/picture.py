"""A drawing as a tree: each element with its attributes and what stands in it. Whoever needs it in
another form takes the tree and gives one back; it becomes letters once, at the end (`written`).

Source: SVG 1.1.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from specgen.drawings.widths import width
from specgen.frozen import frozen

PartLink = Callable[[str], str | None]

PAPER: Final = "#fcfbf7"
INK: Final = "#211e19"
SOFT: Final = "#635c50"
ACCENT: Final = "#7a4514"
TINT: Final = "#f0e2cf"
FACES: Final = "Arimo, Liberation Sans, Arial, Helvetica, sans-serif"
MARGIN: Final = 6.0  # points around what is drawn
_PLAIN: Final = re.compile("[\\w .,#-]*", re.ASCII)
_ILLEGAL: Final = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@frozen
class Element:
    """An element; texts within it are plain, whatever letters they have."""

    name: str
    attributes: Mapping[str, str]
    children: "tuple[Element | str, ...]" = ()


@frozen
class Picture:
    """The whole drawing, an `<svg>` without style and script, and how large it is in points."""

    root: Element
    width: float
    height: float

    def elements(self) -> Iterator[Element]:
        """All that is drawn, in its order."""
        return (each for each in _within(self.root) if isinstance(each, Element))

    def texts(self) -> Iterator[str]:
        """All that can be read in it, what is told of shapes with it."""
        return _texts(self.root)

    def with_root(self, root: Element) -> "Picture":
        """The same picture in another form."""
        return replace(self, root=root)


def read_as(element: Element) -> str:
    """What can be read in an element, in one piece."""
    return "".join(_texts(element))


def _texts(element: Element) -> Iterator[str]:
    return (each for each in _within(element) if isinstance(each, str))


def _within(element: Element) -> "Iterator[Element | str]":
    yield element
    for each in element.children:
        if isinstance(each, str):
            yield each
        else:
            yield from _within(each)


def escape(text: str) -> str:
    """Text for the inside of an element or of an attribute, whatever it holds."""
    if _PLAIN.fullmatch(text):  # most attributes
        return text
    text = _ILLEGAL.sub("\ufffd", text).replace("&", "&amp;").replace("<", "&lt;")
    return text.replace(">", "&gt;").replace('"', "&quot;")


def written(picture: Picture | None) -> str:
    """The picture as one `<svg>`, an element a line but for those within a text or a link; nothing
    where nothing could be drawn."""
    return _written(picture.root) + "\n" if picture else ""


def _written(element: Element) -> str:
    own = "".join([f' {name}="{escape(value)}"' for name, value in element.attributes.items()])
    if not element.children:
        return f"<{element.name}{own}/>"
    line = "\n" if element.name in ("svg", "g") else ""
    inner = [
        escape(each) if isinstance(each, str) else _written(each) + line
        for each in element.children
    ]
    return f"<{element.name}{own}>{line}{''.join(inner)}</{element.name}>"


def framed(
    class_: str,
    prefix: str,
    said: tuple[str, Sequence[str]],
    size: tuple[float, float],
    drawn: Iterable[Element],
    letters: Mapping[str, str],
) -> Picture:
    """What is drawn, with a margin around it. `prefix` begins every id, `said` are the title and
    the lines that say the same; `letters`: attributes that all of its words have.
    """
    children = tuple(drawn)
    wide, high = size[0] + 2 * MARGIN, size[1] + 2 * MARGIN
    # what is inside an image cannot be reached
    role = "group" if _has_links(children) else "img"
    title, lines = said
    root = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "class": class_,
            "role": role,
            "aria-labelledby": f"{prefix}-title",
            "aria-describedby": f"{prefix}-desc",
            "width": f"{point(wide)}pt",
            "height": f"{point(high)}pt",
            "viewBox": f"{point(-MARGIN)} {point(-MARGIN)} {point(wide)} {point(high)}",
            "font-family": FACES,
            **letters,
        },
        (
            Element("title", {"id": f"{prefix}-title"}, (title,)),
            Element("desc", {"id": f"{prefix}-desc"}, ("\n".join(lines),)),
            *children,
        ),
    )
    return Picture(root, wide, high)


def _has_links(drawn: "Sequence[Element | str]") -> bool:
    elements = (each for each in drawn if isinstance(each, Element))
    return any(each.name == "a" or _has_links(each.children) for each in elements)


def hinted(element: Element, hint: str) -> Element:
    """The same with what a pointer that rests on it is told."""
    return replace(element, children=(Element("title", {}, (hint,)),)) if hint else element


def held(text: str, size: float, bold: bool = False) -> dict[str, str]:
    """Attributes that keep a text of a drawing at this width, whatever face a reader has.

    Source: SVG 1.1, 10.5: `textLength`, `lengthAdjust`.
    """
    length = f"{width(text, size, bold):.1f}"
    return {"textLength": length, "lengthAdjust": "spacingAndGlyphs"}


def point(number: float, digits: int = 2) -> str:
    """A coordinate to so many digits of a point, as short as can be."""
    text = f"{number:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text
