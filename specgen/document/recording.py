"""Makes the record of a document that is finished."""

from collections.abc import Iterator
from dataclasses import replace

from specgen.assembly.resolve import is_asked
from specgen.diagnostics.span import ASKED
from specgen.document.case import Case
from specgen.document.record import Record, digest_of, one_line
from specgen.document.tree import Document, Value
from specgen.document.tree_walks import cells_of, leaves


def recorded(document: Document, name: str, case: Case) -> Document:
    """A document that has its words, of the template `name`, with its record."""
    project, build = case.definitions.project, case.build
    date = (build.date if build is not None else None) or project.date
    values = tuple(_stated(document))
    record = Record(
        of=case.thing.id,
        document=name,
        language=document.language,
        at=asked_of(case),
        number=case.thing.number or "",
        date=date.isoformat() if date else "",
        edition=project.edition or "",
        values=values,
        digest=digest_of(values),
    )
    return replace(document, record=record)


def asked_of(case: Case) -> tuple[str, ...]:
    """The conditions that were asked for instead of written, as `--at` reads them."""
    spans = case.assembly.conditions_at.values()
    return tuple(sorted(span.file.removeprefix(ASKED) for span in spans if is_asked(span)))


def _stated(document: Document) -> Iterator[tuple[str, str]]:
    for cell in cells_of(document.blocks):
        for inline in leaves(cell):
            if isinstance(inline, Value) and inline.key:
                yield inline.key, one_line(f"{inline.number} {inline.unit}")
