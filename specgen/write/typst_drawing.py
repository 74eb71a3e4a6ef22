"""A drawing for paper: what a class looks like, put in as attributes, and paper left white."""

import re
from collections.abc import Mapping
from typing import Final

from specgen.drawings.svg import ACCENT, INK, PAPER, SOFT, TINT
from specgen.write.typst_text import spelled

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

_TAG: Final = re.compile(r'<([a-z][A-Za-z]*)((?:\s+[A-Za-z_:][\w:.-]*="[^"]*")*)\s*(/?)>')
_ATTRIBUTE: Final = re.compile(r'([A-Za-z_:][\w:.-]*)="([^"]*)"')
_TEXT: Final = re.compile(r"[^\x00-\x7f]")
_SIZE: Final = re.compile(r"([0-9.]+)(?:pt|px)?")


def for_print(svg: str) -> str:
    """The drawing with the colours of paper, in the shipped fonts; the words in it stay."""
    return _TEXT.sub(lambda found: spelled(found[0]), _TAG.sub(_tag, svg))


def _tag(found: re.Match[str]) -> str:
    name, rest, end = found.groups()
    own = dict(_ATTRIBUTE.findall(rest))
    looks: dict[str, str] = {}
    for each in own.pop("class", "").split():
        looks |= LOOKS.get(each, {})
    if name in (
        "rect",
        "path",
        "circle",
        "ellipse",
        "line",
        "polygon",
        "polyline",
        "text",
        "tspan",
    ):
        own = looks | own
    for each in ("fill", "stroke"):
        if own.get(each) == PAPER:
            own[each] = WHITE
    if "font-family" in own or name == "svg":
        own["font-family"] = FONTS
    written = "".join(f' {key}="{value}"' for key, value in own.items())
    return f"<{name}{written}{end}>"


def size_of(svg: str) -> tuple[float, float]:
    """Width and height in points as the drawing says them, (0, 0) where it does not."""
    head = _TAG.search(svg)
    own = dict(_ATTRIBUTE.findall(head[2])) if head and head[1] == "svg" else {}
    wide, high = (_points(own.get(each, "")) for each in ("width", "height"))
    if not (wide and high):
        box = own.get("viewBox", "").split()
        wide, high = (_points(box[2]), _points(box[3])) if len(box) == 4 else (0.0, 0.0)
    return (wide, high) if wide and high else (0.0, 0.0)


def _points(text: str) -> float:
    found = _SIZE.fullmatch(text)
    if not found:
        return 0.0
    return float(found[1]) * (1.0 if text.endswith("pt") else 0.75)
