"""A picture in the files that documents carry: several sizes for screens, one for paper."""

import re
from functools import lru_cache
from typing import Final

from specgen.frozen import frozen
from specgen.images.raster import ENDINGS, FORMATS, MEDIA, NoPicture, Raster, looked_at, sized
from specgen.images.svg_cleaner import clean_svg
from specgen.messages import say

SVG: Final = "svg"
SVG_MEDIA: Final = "image/svg+xml"
KINDS: Final = (*FORMATS, SVG)
"""The endings of what can be a picture."""
WIDTHS: Final = (480, 960, 1920)
"""Pixels across, for phones, for columns of text, and for both on screens of fine dots."""
FINE: Final = 300
"""Dots to an inch of paper where nobody sees them; common practice, no source."""
COARSE: Final = 150
"""Fewer show on paper; common practice, no source."""
BROADEST: Final = 178.0
"""Millimetres of text across a page of A4, as `site/print/document.typ` sets it."""
_ROOT: Final = re.compile(r"<svg\b[^>]*>")
_BOX: Final = re.compile(
    r'\bviewBox="\s*[-+.\deE]+[\s,]+[-+.\deE]+[\s,]+([.\deE]+)[\s,]+([.\deE]+)\s*"'
)
_SIDE: Final = r'\s{name}="\s*([.\d]+)(?:px)?\s*"'
_STRANGE: Final = re.compile(r"[^A-Za-z0-9]+")
"""What no name of a published file has: it stands in addresses and in lists of them."""
_LONGEST: Final = 60
_SPARE: Final = 10
"""Letters of a digest in a name: enough that no two pictures of a site share one."""


@frozen
class Rendition:
    """One file of a picture: the name that it is published under, and its size in pixels.

    The name comes from the file that it is made of: another version of Pillow changes no link.
    """

    name: str
    media: str
    width: int
    height: int
    content: bytes


@frozen
class Prepared:
    """The files of a picture, the narrowest first, and the one for paper."""

    screen: tuple[Rendition, ...]
    paper: Rendition

    @property
    def whole(self) -> Rendition:
        """The broadest for screens."""
        return self.screen[-1]


def ending_of(name: str) -> str:
    """The ending of a file's name in small letters, "" for none."""
    return name.rpartition(".")[2].lower() if "." in name else ""


def size_of(content: bytes, name: str) -> tuple[int, int]:
    """How broad and how high a picture is, in pixels once it is upright. Raises `NoPicture`."""
    ending = ending_of(name)
    if ending == SVG:
        return _svg_size(_cleaned(content, name))
    raster: Raster = looked_at(content, ending)
    return raster.width, raster.height


@lru_cache(maxsize=16)  # the same pictures stand in documents of several systems
def prepared(content: bytes, name: str) -> Prepared:
    """What is made of a picture's file. Raises `NoPicture`."""
    ending = ending_of(name)
    stem = _STRANGE.sub("-", name.rsplit("/", 1)[-1].rpartition(".")[0])[:_LONGEST].strip("-")
    import hashlib  # a check names no files

    named = f"{stem or 'picture'}-{hashlib.sha256(content).hexdigest()[:_SPARE]}"
    if ending == SVG:
        made = _cleaned(content, name)
        only = Rendition(f"{named}.{SVG}", SVG_MEDIA, *_svg_size(made), made)
        return Prepared((only,), only)
    raster = looked_at(content, ending)
    fine = round(BROADEST / 25.4 * FINE)
    printed = "PNG" if raster.form == "WEBP" else raster.form  # which no PDF holds
    screen = sized(content, ending, WIDTHS)
    paper = sized(content, ending, (fine,), printed)
    files = [_of(named, each, width, raster.form, raster) for width, each in screen.items()]
    [(width, each)] = paper.items()
    return Prepared(tuple(files), _of(named, each, width, printed, raster))


def _of(named: str, content: bytes, width: int, form: str, raster: Raster) -> Rendition:
    high = max(1, round(raster.height * width / raster.width))
    return Rendition(f"{named}-{width}.{ENDINGS[form]}", MEDIA[form], width, high, content)


def _cleaned(content: bytes, name: str) -> bytes:
    made = clean_svg(content, name)
    if made.content is None:
        raise NoPicture(made.findings[-1].message)
    return made.content


def _svg_size(content: bytes) -> tuple[int, int]:
    """By its box, else by its width and height. Source: SVG 1.1, 7.2 and 7.7."""
    root = _ROOT.search(content.decode())
    said = "" if root is None else root[0]
    box = _BOX.search(said)
    sides = box.groups() if box else [_side(said, each) for each in ("width", "height")]
    try:
        width, height = (float(each) for each in sides)
    except ValueError:
        width = height = 0.0
    if not (0 < width < 1e6 and 0 < height < 1e6):
        raise NoPicture(
            say("a drawing that does not say how large it is"),
            say('write `viewBox="0 0 800 600"` into its first element'),
        )
    scale = max(1.0, 400 / width)  # so that a drawing of a few units has a shape in whole pixels
    return max(1, round(width * scale)), max(1, round(height * scale))


def _side(root: str, name: str) -> str:
    found = re.search(_SIDE.format(name=name), root)
    return found[1] if found else ""
