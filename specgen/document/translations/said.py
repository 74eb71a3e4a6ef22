"""All that a project says in words of its own: its definitions, its prose, its templates."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from jinja2 import TemplateError

from specgen.diagnostics import Span
from specgen.document.prose.texts import PROSE, Prose, read_texts
from specgen.document.shared_texts import FOLDER as TEXTS
from specgen.document.shelf import templates_of
from specgen.document.translations.own_texts import OwnText, texts_of_definitions
from specgen.document.translations.prose_texts import texts_of_prose
from specgen.document.translations.template_messages import (
    messages_of_template,
    messages_of_texts,
)
from specgen.files.gate import files, is_file
from specgen.messages import base_of
from specgen.messages.catalogue import OWN
from specgen.messages.pattern import speaks
from specgen.model import Definitions
from specgen.source import read_file, read_tree

Key = tuple[str, str]
"""Context and text, as a catalogue has them."""
Said = Mapping[Key, tuple[OwnText, ...]]
"""What is said, with every place that says it."""
PROSE_OF: Final = "prose: "


def own_words(root: Path, definitions: Definitions, tag: str = "") -> Said:
    """The texts of definitions and prose that a language needs; without one, all there are.

    Prose that somebody has written in the language, in a file of its own, needs no translation;
    nor does anything in the language of the project.
    """
    if tag and base_of(tag) == base_of(definitions.project.language):
        return {}
    found: dict[Key, tuple[OwnText, ...]] = {}
    texts = [*texts_of_definitions(definitions)]
    for prose in read_texts(root)[0]:
        if _needs_translation(prose, root, definitions, tag):
            texts += texts_of_prose(prose)
    for each in texts:
        found[OWN, each.text] = (*found.get((OWN, each.text), ()), each)
    return found


def _needs_translation(prose: Prose, root: Path, definitions: Definitions, tag: str) -> bool:
    own = base_of(definitions.project.language)
    if prose.is_page or base_of(prose.language or own) != own:
        return False
    folder = root / PROSE / prose.file.split("/")[1]
    names = dict.fromkeys((tag, base_of(tag))) if tag else ()
    return not any(is_file(root, folder / f"{prose.name}.{each}.md") for each in names)


def template_words(root: Path) -> Said:
    """The messages of the project's own templates, and of the texts beside them."""
    found: dict[Key, tuple[OwnText, ...]] = {}
    for file, text in _of_templates(root):
        if speaks(text):
            at = OwnText(text, Span(file, 1, 1, 1, 1), "template")
            found["", text] = (*found.get(("", text), ()), at)
    return found


def _of_templates(root: Path) -> Iterator[tuple[str, str]]:
    environment = templates_of(root).environment
    for path in files(root, "templates", (".md", ".yaml")):
        name = path.relative_to(root).as_posix()
        text, _ = read_file(root, path, name)
        if text is None:
            continue
        if path.suffix == ".md":
            try:
                for each in messages_of_template(environment, text):
                    yield name, each
            except TemplateError:
                continue  # told where templates are checked
        elif path.parent.name == TEXTS:
            for each in messages_of_texts(read_tree(text, name)[0]):
                yield name, each
