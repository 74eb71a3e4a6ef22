"""The files handed out beside the pages of a system, and the table that offers them.

Made in worker processes only: where a PDF was compiled, no process may be forked any more.
"""

import hashlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Final

from specgen.document.case import Case
from specgen.document.data import build_data, public
from specgen.document.tree import Block, Cell, Column, Document, Heading, Table, Value, link, words
from specgen.files.whole import keep
from specgen.formats import FORMATS
from specgen.frozen import frozen
from specgen.messages import Message, Words, say
from specgen.model import Download, Project
from specgen.shipped import print_folder
from specgen.write import pdf, typst
from specgen.write.data_forms import FORMS
from specgen.write.writer_options import Options
from specgen.write.writers import WRITERS

ANCHOR: Final = "site-files"
TITLE: Final = say("Downloads")

OFFERS: Final[Mapping[Download, tuple[tuple[str, str, Message], ...]]] = {
    "csv": (
        ("parts.csv", "CSV", say("Parts to order, with quantities and positions")),
        ("csv", "CSV", say("Every value, with unit and source")),
    ),
    "xlsx": (("xlsx", "XLSX", say("Parts and values as two sheets of a workbook")),),
    "json": (("json", "JSON", say("Everything: positions, parts, values with their pedigree")),),
    "redfish": (
        ("redfish.json", "JSON", say("The server in Redfish's names, for inventory tools")),
    ),
}
"""What each form of `downloads:` hands out of a build: suffix, format, what it holds."""


@frozen
class Offer:
    """A file that a page offers: its path from the site's root, format, content, size in bytes."""

    path: str
    form: str
    holds: Words
    size: int


def written(form: str, document: Document, options: Options, cache: Path | None) -> bytes:
    """A document in a format; a PDF the same as before, where its source is."""
    if form != "pdf":
        return WRITERS[form].write(document, options)
    source = typst.source(document, options)
    style = [path.read_bytes() for path in sorted(print_folder().glob("*.typ"))]
    return kept(
        cache,
        (source.encode(), *style, options.date.encode()),
        lambda: pdf.compiled(source, options.date),
    )


def formats_of(project: Project) -> tuple[str, ...]:
    """The formats in which the documents of a project are handed out, in the order of `FORMATS`."""
    return tuple(form for form in FORMATS if form in project.downloads)


def offer(path: str, document: Document, size: int) -> Offer:
    """A document as a file, by the format that its path ends in."""
    form = FORMATS[path.rpartition(".")[2]].name
    return Offer(path, form, str(document.subtitle or document.title), size)


def data_files(case: Case, wanted: tuple[Download, ...], cache: Path | None) -> dict[str, bytes]:
    """The data of a build by what follows its id and a point, in the order of the table."""
    suffixes = [offer[0] for form in OFFERS if form in wanted for offer in OFFERS[form]]
    if not suffixes:
        return {}
    data = build_data(case)
    if case.definitions.is_public:
        data = public(data)
    made = {}
    for suffix in suffixes:
        if suffix == "xlsx":  # takes longer than all the others
            project = case.definitions.project
            manner = f"{project.language} {project.date}".encode()
            key = (FORMS["json"](case, data), manner, b"xlsx")
            made[suffix] = kept(cache, key, lambda: FORMS["xlsx"](case, data))
        else:
            made[suffix] = FORMS[suffix](case, data)
    return made


def kept(cache: Path | None, key: tuple[bytes, ...], make: Callable[[], bytes]) -> bytes:
    """What was made of the same key before, else made now; None keeps nothing."""
    if cache is None:
        return make()
    digest = hashlib.sha256()
    for piece in key:
        digest.update(len(piece).to_bytes(8, "big") + piece)
    path = cache / f"file-{digest.hexdigest()[:40]}"
    with suppress(OSError):
        return path.read_bytes()
    content = make()
    keep(path, content)
    return content


def offered(offers: tuple[Offer, ...], behind: str, caption: Words) -> tuple[Block, ...]:
    """The section of a page that offers its files; `behind` refers to the page of facts."""
    rows: list[tuple[Cell, ...]] = [
        (link(offer.holds, f"site:{offer.path}"), words(offer.form), size_cell(offer.size))
        for offer in offers
    ]
    if behind:
        rows.append((link(say("Sources of these values"), behind), words(say("page")), ()))
    if not rows:
        return ()
    columns = (
        Column(say("What it holds"), header=True),
        Column(say("Format"), short=True),
        Column(say("Size"), align="end"),
    )
    table = Table(caption, columns, tuple(rows), f"{ANCHOR}-table")
    return (Heading(2, words(TITLE), ANCHOR), table)


def size_cell(size: int) -> Cell:
    """A number of bytes in the unit that a reader expects of files: kB and MB of 1000."""
    if size < 1_000:
        return (Value(str(size), "B"),)
    if size < 999_500:
        return (Value(str((size + 500) // 1000), "kB"),)
    tenths = (size + 50_000) // 100_000
    return (Value(f"{tenths // 10}.{tenths % 10}", "MB"),)
