"""The block `{{ picture("ID") }}`: a picture of the project's own, as part of a document."""

from dataclasses import replace
from itertools import chain
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, Severity, codes, suggested
from specgen.document.blocks.makers import NO_BLOCK
from specgen.document.illustrated.picture_callouts import callout_findings, legend
from specgen.document.illustrated.picture_files import (
    Field,
    content_of,
    file_findings,
    path_of,
    size_in,
)
from specgen.document.illustrated.picture_marks import marks_of
from specgen.document.illustrated.samples import sample_note
from specgen.document.maker import AuthorError, BlockFunction, FoundElsewhere
from specgen.document.prose.text_subjects import Subjects
from specgen.document.tree import Cell
from specgen.document.tree_image import Image
from specgen.images.prepared import BROADEST, COARSE, SVG_MEDIA, Prepared, Rendition, prepared
from specgen.images.raster import NoPicture
from specgen.messages import listed
from specgen.model import Illustration

POINTS: Final = 72 / 25.4
"""Of a millimetre. Source: an inch has 72 points in PDF (ISO 32000-1, 8.3.2.3)."""


def picture_block(root: Path | None, subjects: Subjects) -> BlockFunction:
    """What places a picture of the project in the folder `root` by its id."""

    def picture(name: str, *, caption: bool = True) -> Image | None:
        known = subjects.definitions.illustrations
        if name not in known:
            raise AuthorError(
                NO_BLOCK["picture"].filled(name=name), suggested(name, known), word=name
            )
        if root is None:
            return None
        made = image_of(root, known[name], subjects)
        return made if caption else replace(made, captioned=False)

    return picture


def image_of(
    root: Path,
    illustration: Illustration,
    subjects: Subjects,
    alternative: str = "",
    caption: str = "",
) -> Image:
    """A picture as a block; words at its place go before its own.

    Raises `FoundElsewhere` for one that cannot be shown.
    """
    size, _ = size_in(root, illustration)
    found = file_findings(root, illustration), callout_findings(illustration, size, subjects)
    for each in chain(*found):
        if each.severity is Severity.ERROR:
            raise FoundElsewhere(each)
    light = _prepared(root, illustration, "file")
    dark = _prepared(root, illustration, "dark")
    paper = _prepared(root, illustration, "print") or light
    assert light is not None
    assert paper is not None
    return Image(
        caption or illustration.caption or "",
        alternative or illustration.alternative,
        light.screen,
        paper.paper,
        _width(illustration, paper.paper),
        dark.screen if dark else (),
        marks_of(illustration, size),
        (*legend(illustration, subjects), *sample_note(illustration, subjects.definitions)),
        _credit(illustration),
        f"picture-{illustration.id}",
    )


def _prepared(root: Path, illustration: Illustration, field: Field) -> Prepared | None:
    path = path_of(illustration, field)
    if not path:
        return None
    content, problem = content_of(root, illustration, field)
    if problem is not None:
        raise FoundElsewhere(problem)
    try:
        return prepared(content, path)
    except NoPicture as found:
        at = Label(illustration.origin.at(field))
        raise FoundElsewhere(
            Finding(codes.PICTURE_UNREADABLE, found.message, at, help=found.help)
        ) from None


def _width(illustration: Illustration, paper: Rendition) -> float:
    """How broad it is printed, in points: as it says, else as broad as its pixels allow."""
    if illustration.width is not None:
        return float(illustration.width.in_unit("mm")) * POINTS
    if paper.media == SVG_MEDIA:
        return BROADEST * POINTS
    return min(BROADEST * POINTS, paper.width / COARSE * 72)


def _credit(illustration: Illustration) -> Cell:
    """Who made it and when, and its terms."""
    if not (illustration.credit or illustration.licence):
        return ()
    return (
        listed((illustration.credit or "", illustration.date or "", illustration.licence or "")),
    )
