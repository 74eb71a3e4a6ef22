"""A drawing for paper: what a class looks like, put in as attributes, and paper left white; a photo
with its numbers."""

import base64
from collections.abc import Mapping
from typing import Final

from specgen.document.tree_image import Image
from specgen.drawings.number_marks import on_paper
from specgen.drawings.picture import ACCENT, INK, PAPER, SOFT, TINT, Element, Picture, written
from specgen.write.typst_text import folded, shows, spelled, string
from specgen.write.writer_options import PICTURE, worded

WHITE: Final = "#ffffff"
RAISED: Final = "#f5f1e8"
HAIR: Final = "#8d8474"
FONTS: Final = "Arimo, Noto Sans JP"

LOOKS: Final[Mapping[str, Mapping[str, str]]] = {
    "box": {"fill": WHITE, "stroke": INK, "stroke-width": "0.8"},
    "box-processor": {"fill": RAISED},
    "box-memory": {"fill": RAISED},
    "box-adapter": {"fill": TINT, "stroke": ACCENT},
    "box-empty": {"fill": WHITE, "stroke": HAIR},
    "box-unusable": {"fill": WHITE, "stroke": HAIR},
    "channel": {"stroke": INK, "stroke-width": "0.8", "fill": "none"},
    "ribbon": {"fill": "none"},
    "ribbon-halo": {"stroke": WHITE, "fill": "none"},
    "ribbon-hollow": {"stroke": TINT, "fill": "none"},
    "ribbon-used": {"stroke": ACCENT},
    "ribbon-free": {"stroke": INK},
    "ribbon-unusable": {"stroke": SOFT},
    "label": {"fill": INK},
    "label-small": {"fill": SOFT},
    "label-reason": {"fill": SOFT},
}
"""What each class is drawn with where the drawing itself does not say; later ones count more."""


def for_print(picture: Picture) -> Picture:
    """The drawing with the colours of paper, in the shipped fonts; the words in it stay."""
    return picture.with_root(_printed(picture.root))


def _printed(element: Element) -> Element:
    own = dict(element.attributes)
    looks: dict[str, str] = {}
    for each in own.pop("class", "").split():
        looks |= LOOKS.get(each, {})
    own = looks | own
    for each in ("fill", "stroke"):
        if own.get(each) == PAPER:
            own[each] = WHITE
    if "font-family" in own:
        own["font-family"] = FONTS
    inner = (
        _spelled(each) if isinstance(each, str) else _printed(each) for each in element.children
    )
    return Element(element.name, own, tuple(inner))


def _spelled(text: str) -> str:
    return "".join(each if each.isascii() else spelled(each) for each in text)


def photo(image: Image, language: str, credit: str) -> str:
    """The call that sets a picture at its size, its numbers on it, and below it who made it."""
    file = image.paper
    size = (image.width, image.width * file.height / file.width)
    data = base64.b64encode(file.content).decode()
    drawing = written(on_paper(file.media, data, size, image.marks)).strip()
    shown = image.captioned and shows(image.title)
    caption = string(folded(image.title).strip()) if shown else "none"
    alt = string(folded(image.text).strip() or worded(PICTURE, language))
    measures = f"({size[0]:.1f}pt, {size[1]:.1f}pt)"
    below = f", credit: {credit}" if credit else ""
    return f"photo({caption}, {alt}, {measures}, {string(drawing)}{below})"
