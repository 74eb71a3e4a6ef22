"""Files beside hand-written pages that are published with them: pictures, files to hand out.

Only files of these endings are copied, and only where they are what their ending says. What a
browser would run as part of the site is not among them.
"""

from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.document.prose.texts import PAGES
from specgen.files.gate import NotOpened, files, read
from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.shipped import theme_folder
from specgen.source.refusals import refusal

_ZIP: Final = (b"PK\x03\x04",)
BEGINNINGS: Final[dict[str, tuple[bytes, ...]]] = {
    "png": (b"\x89PNG\r\n\x1a\n",),
    "jpg": (b"\xff\xd8\xff",),
    "jpeg": (b"\xff\xd8\xff",),
    "gif": (b"GIF87a", b"GIF89a"),
    "webp": (b"RIFF",),
    "svg": (),
    "pdf": (b"%PDF-",),
    "csv": (),
    "tsv": (),
    "txt": (),
    "json": (),
    "xlsx": _ZIP,
    "ods": _ZIP,
    "docx": _ZIP,
    "odt": _ZIP,
    "zip": _ZIP,
    "step": (b"ISO-10303-21;",),
    "stp": (b"ISO-10303-21;",),
    "stl": (),
    "dxf": (),
}
"""The endings of what is published, and how such a file begins where that can be told.

Source of the beginnings: W3C PNG (3rd edition), ISO/IEC 10918-1, GIF89a, RFC 9649 (WebP),
ISO 32000-1, PKWARE APPNOTE, ISO 10303-21; from memory.
"""


@frozen
class Attachments:
    """The contents to publish by their path from the site's root, and what was found."""

    contents: dict[str, bytes]
    findings: tuple[Finding, ...]


def is_published(name: str) -> bool:
    """Whether a file of this name in `pages/` is published."""
    return _ending(name) in BEGINNINGS


def attachments(project: Path, taken: Collection[str] = ()) -> Attachments:
    """The files beside a project's pages; paths that are `taken` belong to files of the site."""
    contents: dict[str, bytes] = {}
    findings: list[Finding] = []
    theme = theme_folder()
    for path in files(project, PAGES):
        if path.suffix == ".md":
            continue
        place = path.relative_to(project / PAGES).as_posix()
        if place in taken or (theme / place).is_file():
            findings.append(_left_out(place, say("the site has a file of its own of this name")))
            continue
        content, found = _content(project, path, place)
        findings += found
        if content is not None:
            contents[place] = content
    return Attachments(contents, tuple(findings))


def _content(project: Path, path: Path, place: str) -> tuple[bytes | None, tuple[Finding, ...]]:
    ending = _ending(place)
    if ending not in BEGINNINGS:
        kind = f".{ending}" if ending else path.name
        message = say("files such as `{kind}` are not published", kind=kind)
        return None, (_left_out(place, message),)
    try:
        content = read(project, path)
    except NotOpened as refused:
        return None, (refusal(refused),)
    if ending == "svg":
        from specgen.images.svg_cleaner import clean_svg  # reads XML, which few checks need

        cleaned = clean_svg(content, f"{PAGES}/{place}")
        return cleaned.content, cleaned.findings
    begins = BEGINNINGS[ending]
    if begins and not content.startswith(begins):
        message = say("not what its ending `.{ending}` says", ending=ending)
        return None, (_left_out(place, message),)
    return content, ()


def _ending(name: str) -> str:
    last = name.rsplit("/", 1)[-1]
    return last.rpartition(".")[2].lower() if "." in last else ""


def _left_out(place: str, message: Message) -> Finding:
    known = ", ".join(f".{each}" for each in BEGINNINGS)
    return Finding(
        codes.NOT_PUBLISHED,
        message,
        Label(Span(f"{PAGES}/{place}", 1, 1, 1, 1)),
        help=say("published are {endings} beside pages in Markdown", endings=known),
    )


def write_out(made: Attachments, folder: Path) -> Iterator[tuple[str, Path]]:
    """The contents as files in a folder, by their path from the site's root."""
    for place, content in made.contents.items():
        path = folder / "attached" / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        yield place, path
