"""Rasters of a project: what is shown of them, and what hostile files come to."""

import io
import re
import struct
import zlib

import pytest
from PIL import Image

from specgen.images.prepared import WIDTHS, prepared, size_of
from specgen.images.raster import LONGEST_SIDE, NoPicture, looked_at, sized
from tests.timing import NO_HANG, stopwatch

SECRET = b"59.9 N, 10.7 E, serial 4711"


def picture(form: str, size: tuple[int, int] = (1000, 400), **more: object) -> bytes:
    """A picture whose left half is red and whose right half is blue."""
    made = Image.new("RGB", size, (200, 0, 0))
    made.paste((0, 0, 200), (size[0] // 2, 0, *size))
    out = io.BytesIO()
    made.save(out, form, **more)
    return out.getvalue()


def exif(orientation: int = 1, extra: bytes = SECRET) -> bytes:
    made = Image.Exif()
    made[0x0112] = orientation
    made[0x010E] = extra.decode()
    return made.tobytes()


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))


def chunk(kind: bytes, data: bytes) -> bytes:
    """A chunk of a PNG with its length and its sum. Source: W3C PNG (3rd edition), 5.3."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


ENDINGS = {"PNG": "png", "JPEG": "jpg", "WEBP": "webp"}


@pytest.mark.parametrize(("form", "ending"), ENDINGS.items())
def test_what_a_camera_has_written_is_not_handed_out(form: str, ending: str) -> None:
    content = picture(form, exif=exif())
    assert SECRET in content
    files = prepared(content, f"pictures/x.{ending}")
    for each in (*files.screen, files.paper):
        assert SECRET not in each.content
        made = opened(each.content)
        assert not made.getexif()
        assert not made.info.keys() & {"exif", "comment", "icc_profile", "xmp", "photoshop"}


@pytest.mark.parametrize(
    ("orientation", "size"), [(1, (1000, 400)), (3, (1000, 400)), (6, (400, 1000))]
)
def test_a_picture_stands_upright(orientation: int, size: tuple[int, int]) -> None:
    content = picture("JPEG", exif=exif(orientation))
    assert size_of(content, "x.jpg") == size
    [made] = sized(content, "jpg", (5000,)).values()
    assert opened(made).size == size
    first = opened(made).convert("RGB").getpixel((size[0] // 4, size[1] // 4))
    assert isinstance(first, tuple)
    red = first[0] > first[2]
    assert red == (orientation in (1, 6))  # turned to the right, the left half is above


def test_sizes_for_screens_are_none_beyond_the_picture_itself() -> None:
    small = prepared(picture("PNG", (300, 100)), "x.png")
    assert [each.width for each in small.screen] == [300]
    large = prepared(picture("JPEG", (3000, 1000)), "x.jpg")
    assert [each.width for each in large.screen] == list(WIDTHS)
    assert [each.height for each in large.screen] == [160, 320, 640]
    assert large.paper.width == 2102  # 300 dots to each of 178 / 25.4 inches


def test_the_same_file_comes_to_the_same_bytes_and_another_to_another_name() -> None:
    content = picture("JPEG", (700, 300))
    prepared.cache_clear()
    one = prepared(content, "x.jpg")
    prepared.cache_clear()
    assert prepared(content, "x.jpg") == one
    other = prepared(picture("JPEG", (700, 400)), "x.jpg")
    assert {each.name for each in one.screen}.isdisjoint(each.name for each in other.screen)


def test_what_no_pdf_holds_is_printed_as_what_it_does() -> None:
    files = prepared(picture("WEBP"), "x.webp")
    assert {each.media for each in files.screen} == {"image/webp"}
    assert files.paper.media == "image/png"


def test_transparency_and_sixteen_bits_are_kept_as_far_as_a_page_shows_them() -> None:
    out = io.BytesIO()
    Image.new("RGBA", (40, 40), (0, 0, 0, 0)).save(out, "PNG")
    [made] = sized(out.getvalue(), "png", (40,)).values()
    assert opened(made).mode == "RGBA"
    out = io.BytesIO()
    Image.new("I;16", (40, 40), 65535).save(out, "PNG")
    [made] = sized(out.getvalue(), "png", (40,)).values()
    assert opened(made).getpixel((3, 3)) == 255


def bomb() -> bytes:
    """A PNG of a few hundred bytes that says it has 60000 by 60000 pixels."""
    head = struct.pack(">IIBBBBB", 60_000, 60_000, 8, 0, 0, 0, 0)
    data = zlib.compress(bytes(10_000), 9)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


def long_text() -> bytes:
    """A PNG whose comment grows to 60 MB."""
    text = b"Comment\0\0" + zlib.compress(bytes(60_000_000), 9)
    content = picture("PNG")
    return content[:33] + chunk(b"zTXt", text) + content[33:]


def misplaced() -> bytes:
    content = bytearray(picture("PNG"))
    content[60] ^= 0xFF
    return bytes(content)


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ('pictures/a" onerror="alert(1).png', "a-onerror-alert-1"),
        ("pictures/rear, 2x (new).png", "rear-2x-new"),
        ("pictures/\u56f3.png", "picture"),
        (f"pictures/{'x' * 200}.png", "x" * 60),
    ],
)
def test_no_sign_of_a_name_reaches_an_address(name: str, stem: str) -> None:
    for each in prepared(picture("PNG", (9, 9)), name).screen:
        assert re.fullmatch(rf"{stem}-[0-9a-f]{{10}}-9\.png", each.name)


HOSTILE = {
    "nothing": (b"", "png"),
    "a zero byte": (b"\0", "jpg"),
    "words": (b"<script>alert(1)</script>", "png"),
    "a bomb": (bomb(), "png"),
    "a comment that grows": (long_text(), "png"),
    "cut off, PNG": (picture("PNG")[:-20], "png"),
    "cut off, JPEG": (picture("JPEG")[:-200], "jpg"),
    "head alone, WebP": (picture("WEBP")[:40], "webp"),
    "a wrong sum": (misplaced(), "png"),
    "another ending": (picture("PNG"), "jpg"),
    "a format that is none of ours": (picture("GIF"), "png"),
    "a script in a page behind the signature": (b"\x89PNG\r\n\x1a\n<script>", "png"),
    "too long a side": (picture("PNG", (LONGEST_SIDE + 1, 1)), "png"),
}  # fmt: skip


@pytest.mark.parametrize("case", HOSTILE)
def test_a_hostile_or_broken_file_is_refused_at_once(case: str) -> None:
    content, ending = HOSTILE[case]
    spent = stopwatch()
    with pytest.raises(NoPicture) as found:
        looked_at(content, ending)
    assert found.value.message.text
    assert spent() < NO_HANG


def test_what_hangs_on_behind_a_picture_is_left_out() -> None:
    content = picture("JPEG") + b"PK\x03\x04 and a page: <script>alert(1)</script>"
    files = prepared(content, "x.jpg")
    assert all(b"script" not in each.content for each in (*files.screen, files.paper))


def test_a_huge_block_of_the_camera_is_read_past_and_left_out() -> None:
    content = picture("PNG", exif=exif(extra=b"A" * 5_000_000))
    spent = stopwatch()
    files = prepared(content, "x.png")
    assert sum(len(each.content) for each in files.screen) < 50_000
    assert spent() < NO_HANG


DRAWING = b'<svg xmlns="http://www.w3.org/2000/svg" %s><script>alert(1)</script><rect/></svg>'


@pytest.mark.parametrize(
    ("said", "size"),
    [
        (b'viewBox="0 0 800 600"', (800, 600)),
        (b'viewBox="-1,-1 8 6" width="40"', (400, 300)),
        (b'width="500px" height="20"', (500, 20)),
    ],
)
def test_a_drawing_is_as_large_as_it_says_and_does_nothing(
    said: bytes, size: tuple[int, int]
) -> None:
    files = prepared(DRAWING % said, "x.svg")
    [only] = files.screen
    assert (only.width, only.height) == size
    assert files.paper == only
    assert b"script" not in only.content


@pytest.mark.parametrize(
    "said", [b"", b'width="100%" height="100%"', b'viewBox="0 0 0 0"', b'viewBox="0 0 1e9 1"']
)
def test_a_drawing_of_no_size_is_refused(said: bytes) -> None:
    with pytest.raises(NoPicture):
        prepared(DRAWING % said, "x.svg")
