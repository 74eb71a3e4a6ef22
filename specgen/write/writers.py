"""What writes documents, by the word that asks for each format."""

from collections.abc import Callable, Mapping
from importlib import import_module
from types import MappingProxyType, ModuleType
from typing import Final

from specgen.document.tree import Document
from specgen.formats import FORMATS, Format
from specgen.frozen import frozen
from specgen.write.writer_options import Options


@frozen
class Writer:
    """`write` makes the bytes of one file in a format.

    `spelled_out` gives the letters of a document that the format has no shape for, and writes by
    their numbers.
    """

    format: Format
    write: Callable[[Document, Options], bytes]
    spelled_out: Callable[[Document], tuple[str, ...]]


def _writer(form: Format) -> Writer:
    def module() -> ModuleType:
        return import_module(f"specgen.write.{form.module}")

    def write(document: Document, options: Options) -> bytes:
        made: bytes = module().page(document, options)
        return made

    def spelled_out(document: Document) -> tuple[str, ...]:
        letters: tuple[str, ...] = getattr(module(), "spelled_out", lambda _: ())(document)
        return letters

    return Writer(form, write, spelled_out)


WRITERS: Final[Mapping[str, Writer]] = MappingProxyType(
    {name: _writer(form) for name, form in FORMATS.items()}
)
"""Every writer by its word."""
