"""The files of a project's pictures: where they lie, what is in them, what is wrong with them."""

from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import ceil
from pathlib import Path
from posixpath import dirname, join, normpath
from typing import Final, Literal

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.files.gate import NotOpened, WhyNotOpened, files, read
from specgen.images.prepared import COARSE, KINDS, ending_of, size_of
from specgen.images.raster import MOST_BYTES, NoPicture
from specgen.messages import listed, say
from specgen.model import Definitions, Illustration
from specgen.source import PICTURES
from specgen.source.refusals import refusal

Field = Literal["file", "dark", "print"]
FIELDS: Final[tuple[Field, ...]] = ("file", "dark", "print")
SLACK: Final = 0.01
"""Of a side, by which a variant may be cut otherwise."""
INCH: Final = 25.4
"""Millimetres. Source: international yard and pound agreement of 1959, from memory."""


def path_of(illustration: Illustration, field: Field = "file") -> str:
    """The path of a file of a picture, from the project on; "" where it has none of the sort."""
    name = getattr(illustration, field)
    folder = dirname(illustration.origin.at().file) or PICTURES
    return normpath(join(folder, name)) if name else ""


@lru_cache(maxsize=4)
def by_file(definitions: Definitions) -> Mapping[str, Illustration]:
    """The pictures by the paths of their files."""
    return {path_of(each): each for each in definitions.illustrations.values()}


def content_of(
    root: Path, illustration: Illustration, field: Field = "file"
) -> tuple[bytes, Finding | None]:
    """What a file of a picture holds, or why that is not known."""
    path = path_of(illustration, field)
    at = Label(illustration.origin.at(field))
    if ending_of(path) not in KINDS or not path.startswith(f"{PICTURES}/"):
        kinds = listed([f".{each}" for each in KINDS])
        message = say("`{file}` is no picture in `{folder}/`", file=path, folder=PICTURES)
        help_ = say("a picture ends in one of {kinds}", kinds=kinds)
        return b"", Finding(codes.PICTURE_MISSING, message, at, help=help_)
    try:
        return read(root, root / path, MOST_BYTES), None
    except NotOpened as refused:
        if refused.reason is WhyNotOpened.NOWHERE and not (root / path).is_symlink():
            names = [each.relative_to(root).as_posix() for each in files(root, PICTURES)]
            close = did_you_mean(path, [each for each in names if ending_of(each) in KINDS])
            message = say("no file `{file}` lies there", file=path)
            return b"", Finding(codes.PICTURE_MISSING, message, at, help=question(close))
        if refused.reason is WhyNotOpened.LARGE:
            message = say("larger than {size} MiB", size=MOST_BYTES // 1024 // 1024)
            return b"", Finding(codes.PICTURE_UNREADABLE, message, at)
        return b"", refusal(refused)


def size_in(
    root: Path, illustration: Illustration, field: Field = "file"
) -> tuple[tuple[int, int], Finding | None]:
    """How large a picture is in pixels, or why that is not known."""
    content, problem = content_of(root, illustration, field)
    if problem is not None:
        return (0, 0), problem
    try:
        return size_of(content, path_of(illustration, field)), None
    except NoPicture as found:
        at = Label(illustration.origin.at(field), say("what this file is"))
        return (0, 0), Finding(codes.PICTURE_UNREADABLE, found.message, at, help=found.help)


def file_findings(root: Path, illustration: Illustration) -> Iterator[Finding]:
    """What is wrong with the files of a picture."""
    whole: tuple[int, int] | None = None
    for field in FIELDS:
        if not path_of(illustration, field):
            continue
        size, problem = size_in(root, illustration, field)
        wide, whole = size[0], whole or size
        if problem is not None:
            yield problem
        elif ending_of(path_of(illustration, field)) == "svg":
            yield from _cleaned_findings(root, illustration, field)
        elif field == "file" and illustration.width is not None:
            yield from _coarse(illustration, wide)
        if problem is None and illustration.callouts and all(whole):
            yield from _reshaped(illustration, field, size, whole)


def _reshaped(
    illustration: Illustration, field: Field, size: tuple[int, int], whole: tuple[int, int]
) -> Iterator[Finding]:
    """SG534: a variant of another shape, on which the numbers point at something else."""
    if abs(size[0] * whole[1] - size[1] * whole[0]) > SLACK * size[0] * whole[1]:
        yield Finding(
            codes.CALLOUT_UNCLEAR,
            say(
                "a variant of {width} × {height} pixels, on which the numbers point elsewhere",
                width=size[0],
                height=size[1],
            ),
            Label(illustration.origin.at(field)),
            help=say(
                "cut it as the picture itself, {width} × {height}", width=whole[0], height=whole[1]
            ),
        )


def _cleaned_findings(root: Path, illustration: Illustration, field: Field) -> Iterator[Finding]:
    from specgen.images.svg_cleaner import clean_svg  # reads XML, which few projects need

    path = path_of(illustration, field)
    content, _ = content_of(root, illustration, field)
    yield from clean_svg(content, path).findings


def _coarse(illustration: Illustration, wide: int) -> Iterator[Finding]:
    """SG533: fewer dots to an inch of paper than it takes."""
    assert illustration.width is not None
    millimetres = float(illustration.width.in_unit("mm"))
    dots = round(wide / millimetres * INCH)
    if dots < COARSE and not path_of(illustration, "print"):
        needed = ceil(millimetres / INCH * COARSE)
        yield Finding(
            codes.PICTURE_COARSE,
            say(
                "{pixels} pixels over {width} are {dots} to an inch",
                pixels=wide,
                width=illustration.width,
                dots=dots,
            ),
            Label(illustration.origin.at("width")),
            help=say("a picture of {pixels} pixels has {dots}", pixels=needed, dots=COARSE),
        )
