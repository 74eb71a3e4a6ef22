"""Raster pictures of a project, read by Pillow alone and written anew: upright, in the colours of
the web, with nothing in them but what shows.

What a camera or a program has written into a file (place, time, owner, a small picture of it) is
never handed out. A file is judged by its head and its end; its pixels are read where it is printed.
"""

import io
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Final

from specgen.frozen import frozen
from specgen.messages import NOTHING, Message, Nothing, say

if TYPE_CHECKING:
    from PIL.Image import Image

FORMATS: Final[Mapping[str, str]] = {"png": "PNG", "jpg": "JPEG", "jpeg": "JPEG", "webp": "WEBP"}
"""The names that Pillow has for what files of an ending hold: it is asked for no other."""
MEDIA: Final[Mapping[str, str]] = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp"}
ENDINGS: Final[Mapping[str, str]] = {"PNG": "png", "JPEG": "jpg", "WEBP": "webp"}
MOST_BYTES: Final = 32 * 1024 * 1024
"""Of one file: a photo of 60 megapixels in a JPEG of high quality takes 30 MB."""
MOST_PIXELS: Final = 80_000_000
"""Fewer than Pillow warns of: 240 MB while they are read."""
LONGEST_SIDE: Final = 16_000
"""What WebP and most browsers show: 16383 in RFC 6386, from memory."""
QUALITY: Final = 85
"""Of JPEG and WebP, where nobody sees a difference; common practice, no source."""


class NoPicture(Exception):
    """A file that is not shown: what is the matter with it, and what would mend it."""

    def __init__(self, message: Message, help_: Message | Nothing = NOTHING) -> None:
        super().__init__(message)
        self.message, self.help = message, help_


@frozen
class Raster:
    """What the head of a file says: its format, as Pillow names it, and its size once upright."""

    form: str
    width: int
    height: int


SAVE_AGAIN: Final = say("save the picture again, as PNG, JPEG or WebP")


def looked_at(content: bytes, ending: str) -> Raster:
    """What a file is, without its pixels: 0.1 ms. Raises `NoPicture`."""
    with _opened(content, ending) as picture:
        turned = _orientation(picture) in _ON_ITS_SIDE
        form = str(picture.format)
        size = picture.size[::-1] if turned else picture.size
        picture.verify()  # the sums of a PNG
    if form == "JPEG" and content.rfind(b"\xff\xd9") < content.rfind(b"\xff\xda"):
        raise NoPicture(say("the file ends before the picture does"), SAVE_AGAIN)
    return Raster(form, *size)


def sized(content: bytes, ending: str, widths: tuple[int, ...], form: str = "") -> dict[int, bytes]:
    """The picture written anew at each width that is not beyond its own, or at its own.

    Raises `NoPicture`. The same bytes for the same file, as long as Pillow is the same.
    """
    with _opened(content, ending) as picture:
        form = form or str(picture.format)
        upright = _plain(picture, form)
    wanted = sorted({min(each, upright.width) for each in widths})
    return {width: _written(upright, width, form) for width in wanted}


def _orientation(picture: "Image") -> object:
    """How a camera was held. In a PNG it is read where it stands before the pixels, which are not
    read for it."""
    if picture.format == "PNG" and "exif" not in picture.info:
        return 1
    return picture.getexif().get(_ORIENTATION, 1)


_ORIENTATION: Final = 0x0112
_ON_ITS_SIDE: Final = (5, 6, 7, 8)
"""Source: EXIF 2.32, tag 274 (from memory)."""


@contextmanager
def _opened(content: bytes, ending: str) -> "Iterator[Image]":
    """A picture whose size is known and bearable. Raises `NoPicture` for whatever goes wrong."""
    from PIL import Image  # 20 ms, which only projects with pictures pay

    wanted = FORMATS[ending]
    if len(content) > MOST_BYTES:
        raise NoPicture(
            say("larger than {size} MiB", size=MOST_BYTES // 1024 // 1024),
            say("save it smaller: no page shows more than 1920 pixels across"),
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            picture = Image.open(io.BytesIO(content), formats=sorted(set(FORMATS.values())))
            with picture:
                _judge(picture, wanted, ending)
                yield picture
    except NoPicture:
        raise
    except Image.DecompressionBombError:
        raise _too_many_pixels() from None
    except Exception as error:  # whatever a decoder makes of a file that is none
        raise NoPicture(say("cannot be read as a picture"), SAVE_AGAIN) from error


def _judge(picture: "Image", wanted: str, ending: str) -> None:
    if picture.format != wanted:
        meant = ENDINGS[str(picture.format)]
        raise NoPicture(
            say("a picture of another format than its ending `.{ending}` says", ending=ending),
            say("rename it to `.{ending}`", ending=meant),
        )
    if picture.width * picture.height > MOST_PIXELS or max(picture.size) > LONGEST_SIDE:
        raise _too_many_pixels()


def _too_many_pixels() -> NoPicture:
    return NoPicture(
        say(
            "more than {most} megapixels, or {side} pixels to a side",
            most=MOST_PIXELS // 1_000_000,
            side=LONGEST_SIDE,
        ),
        say("save it smaller: no page shows more than 1920 pixels across"),
    )


def _plain(picture: "Image", form: str) -> "Image":
    """The picture upright, in sRGB of eight bits, with alpha where the format has room for it."""
    from PIL import Image, ImageOps

    profile = picture.info.get("icc_profile")
    made = picture if _orientation(picture) == 1 else ImageOps.exif_transpose(picture)
    if made.mode.startswith("I"):  # sixteen bits of grey
        made = made.convert("I").point([at // 256 for at in range(65536)], "L")
    alpha = made.has_transparency_data and form != "JPEG"
    if made.has_transparency_data and not alpha:
        made = made.convert("RGBA")
        ground = Image.new("RGBA", made.size, "white")
        made = Image.alpha_composite(ground, made)
    made = _in_srgb(made, profile)
    if made.mode == "L" and not alpha:
        return made
    return made.convert("RGBA" if alpha else "RGB")


def _in_srgb(picture: "Image", profile: object) -> "Image":
    """The picture in the colours of the web, where its own are told of and can be read."""
    if not isinstance(profile, bytes) or picture.mode not in ("RGB", "CMYK"):
        return picture
    from PIL import ImageCms

    try:
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        made = ImageCms.profileToProfile(
            picture, own, ImageCms.createProfile("sRGB"), outputMode="RGB"
        )
    except (ImageCms.PyCMSError, OSError):  # a profile of another sort of colours, or none at all
        return picture
    return picture if made is None else made


def _written(picture: "Image", width: int, form: str) -> bytes:
    from PIL import Image

    if width < picture.width:
        high = max(1, round(picture.height * width / picture.width))
        picture = picture.resize((width, high), Image.Resampling.LANCZOS)
    bare = Image.new(picture.mode, picture.size)
    bare.paste(picture)  # pixels alone
    out = io.BytesIO()
    match form:
        case "PNG":
            bare.save(out, "PNG", optimize=True)
        case "JPEG":
            bare.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
        case _:
            bare.save(out, "WEBP", quality=QUALITY, method=4)
    return out.getvalue()
