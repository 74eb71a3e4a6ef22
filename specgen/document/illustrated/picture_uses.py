"""Where pictures are placed: by templates, in texts, on pages; told without running anything."""

from collections.abc import Iterable, Iterator, Mapping
from posixpath import dirname, join, normpath
from typing import Final
from urllib.parse import unquote

from specgen.document.illustrated.picture_files import by_file
from specgen.document.link_targets import scheme
from specgen.document.prose.passages import passages
from specgen.document.prose.texts import Prose
from specgen.document.template_calls import TemplateCalls
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.model import Definitions, Illustration

CALL: Final = "picture"


def placed_by(source: str, file: str, definitions: Definitions) -> Illustration | None:
    """The picture that a text shows by the path of its file, from the text on."""
    if scheme(source) or not definitions.illustrations:
        return None
    return by_file(definitions).get(path_from(source, file))


def path_from(source: str, file: str) -> str:
    """A path as a text writes it, from the project on."""
    return normpath(join(dirname(file), unquote(source)))


@frozen
class Uses:
    """The files that place each picture, by its id; `certain` where no template puts together
    the name of one when it runs."""

    files: Mapping[str, list[str]]
    certain: bool = True


def uses_of(definitions: Definitions, texts: Iterable[Prose], templates: TemplateCalls) -> Uses:
    """Where each picture is placed."""
    called = tuple(_called(templates))
    found = grouped((*((name, file) for name, file in called if name), *_in(texts, definitions)))
    return Uses(found, all(name for name, _ in called))


def _called(templates: TemplateCalls) -> Iterator[tuple[str, str]]:
    """The pictures that templates place: id, "" for one that only a run tells, and file."""
    for template in templates.names():
        if CALL in templates.text(template):
            for call in templates.calls(template, (CALL,)):
                named = call.args[0] if call.args else call.kwargs.get("name")
                name = named if isinstance(named, str) else ""
                yield name, f"templates/{template}.md"


def _in(texts: Iterable[Prose], definitions: Definitions) -> Iterator[tuple[str, str]]:
    for text in texts:
        for passage in passages(text) if "![" in text.body else ():
            for each in passage.pictures:
                shown = placed_by(each.source, text.file, definitions)
                if shown is not None:
                    yield shown.id, text.file
