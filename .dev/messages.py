#!/usr/bin/env python3
"""Messages for translators: `.venv/bin/python .dev/messages.py extract|update|missing`.

`extract` prints all messages of the program as a template of gettext's (`.pot`); `update` brings
the catalogues in `templates/languages/` up to date with it: what is new waits with an empty
translation, what is gone goes. `missing [TAG]`
prints what the program can say, and what documents and pages of the demo say, that a catalogue
has no words for. A translator works with any editor of `.po` files.

Messages stand in calls of `say`, `say_as` and `say_many` (`word` round the pages of the site), in
templates (each paragraph, heading and cell, one for each way that branches can have it; texts
handed to what a template calls), in texts beside them, in names of kinds and fields of the model,
and in those of what is measured.
"""

import io
import re
import sys
from collections.abc import Collection, Iterable, Iterator
from contextlib import contextmanager
from copy import deepcopy as copy
from dataclasses import fields, replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

import yaml
from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

from specgen.cli.cache_folder import kept_folder
from specgen.document.sets import comparison_document, order_document
from specgen.document.several import Compared, Order
from specgen.document.shelf import templates_of
from specgen.document.translations.template_messages import (
    messages_of_template,
    messages_of_texts,
)
from specgen.facts import ledger
from specgen.facts.terms import closed_words
from specgen.limits.reach import reaches
from specgen.messages import Language, Message
from specgen.messages.catalogue import language_of
from specgen.messages.pattern import speaks
from specgen.messages.quantities import CONTEXT
from specgen.model import (
    KINDS,
    Assumptions,
    Conditions,
    Definitions,
    Measured,
    Platform,
    Volume,
    called,
)
from specgen.model.labels import entries
from specgen.pipeline import read, systems_of
from specgen.quantity import QUANTITIES
from specgen.shipped import documents_about, languages_folder, templates_folder
from specgen.site.pages import make_pages

ROOT: Final = Path(__file__).resolve().parent.parent
KEYWORDS: Final = {"say": None, "say_as": ((1, "c"), 2), "say_many": (2, 3)}

Said = tuple[str, str]
"""Context and message."""
Found = tuple[str, str, str]
"""Where a message stands, its context, the message."""


def messages() -> Iterator[Found]:
    """Every message that is written out somewhere, but for the calls in Python and scripts."""
    for path in sorted(templates_folder().glob("*.md")):
        yield from ((f"templates/{path.name}", "", each) for each in _of_template(path))
    for path in sorted((templates_folder() / "texts").glob("*.yaml")):
        name, tree = f"templates/texts/{path.name}", yaml.safe_load(path.read_text("utf-8"))
        yield from ((name, "", text) for text in messages_of_texts(tree))
    for kind in KINDS.values():
        where = f"kind {kind.kind}"
        yield from ((where, "", each) for each in (kind.title, kind.plural))
        for field in fields(kind):
            words = called(kind, (field.name,))
            yield from ((where, "", each) for each in (words.label, words.absent) if each)
    yield from (("words of fields", "", word) for word in sorted(closed_words()))
    for record in _records(*KINDS.values(), Platform, Assumptions, Conditions, Measured, Volume):
        for field in fields(record):
            yield f"fields of {record.__name__}", "", called(record, (field.name,)).label
    for cls in QUANTITIES:
        yield "dimensions", CONTEXT, cls.dimension.name
    for fact in ledger().by_key.values():
        yield f"source of {fact.key}", "", str(fact.source)


def _records(*classes: type[Any]) -> Iterator[type[Any]]:
    """Classes of definitions, and those of the records in their fields."""
    waiting, seen = list(classes), set[type[Any]]()
    while waiting:
        record = waiting.pop()
        if record not in seen:
            seen.add(record)
            yield record
            waiting += [each.record for each in entries(record).values() if each.record]


def _of_template(path: Path) -> Iterator[str]:
    environment = templates_of(ROOT / "builds").environment
    return messages_of_template(environment, path.read_text(encoding="utf-8"))


@cache
def template() -> Catalog:
    """All messages as a catalogue without translations."""
    made = Catalog(project="specgen")
    found = extract_from_dir(
        ROOT / "specgen", [("**.py", "python")], keywords=KEYWORDS, comment_tags=()
    )
    for file, _, message, _, context in found:
        made.add(message, locations=[(f"specgen/{file}", 0)], context=context)
    shell = extract_from_dir(ROOT / "specgen" / "site", [("**.py", "python")], {}, {"word": None})
    for file, _, message, _, _ in shell:
        made.add(message, locations=[(f"specgen/site/{file}", 0)], context="site")
    scripts = extract_from_dir(
        ROOT / "site" / "theme", [("**.js", "javascript")], keywords={"say": None}
    )
    for file, _, message, _, _ in scripts:
        made.add(message, locations=[(f"site/theme/{file}", 0)], context="script")
    frame = (ROOT / "site" / "theme" / "main.html").read_text(encoding="utf-8")
    for text in re.findall(r'shell\.word\("([^"]+)"\)', frame):
        made.add(text, locations=[("site/theme/main.html", 0)], context="site")
    for where, context, text in messages():
        made.add(text, locations=[(where, 0)], context=context or None)
    return made


def said(project: Path = ROOT / "builds", builds: Collection[str] = ()) -> list[Said]:
    """What the pages and documents of a project say: context and message.

    Of all its builds, or of some; pages of platforms, parts, rules, limits, sources and comparisons
    are among them, and so are the words that scripts load. In which language it is said makes no
    difference: whoever asks for words is listened to.
    """
    language = next(path.stem for path in sorted(languages_folder().glob("*.po")))
    with _listening() as heard, TemporaryDirectory() as folder:
        loaded = read(project).loaded
        definitions = loaded.definitions
        assert definitions is not None
        chosen = {name: each for name, each in definitions.builds.items() if name in builds}
        definitions = replace(
            definitions,
            builds=chosen or definitions.builds,
            project=replace(definitions.project, language=language, downloads=()),
        )
        reach = reaches(definitions, kept_folder())
        make_pages(
            project,
            replace(loaded, definitions=definitions),
            Path(folder),
            jobs=1,
            cache=kept_folder(),
            done=lambda _: None,
            reach=reach,
        )
        _of_several(project, definitions, language)
    return list(heard)


def _of_several(project: Path, definitions: Definitions, language: str) -> None:
    """Documents about several systems, which no page of a site is."""
    system_of = systems_of(definitions)
    cases = [case for name in definitions.builds if (case := system_of(name)) and case.sound][:2]
    templates = templates_of(project, language)
    comparison_document(templates, Compared(definitions, tuple(cases)))
    for name in documents_about("order", project):
        order_document(templates, Order(definitions, tuple((case, 2) for case in cases)), name)


@contextmanager
def _listening() -> Iterator[dict[Said, None]]:
    """Gathers every message that any language is asked for."""
    heard: dict[Said, None] = {}
    pattern = Language.pattern

    def listened(language: Language, message: Message) -> str | None:
        if speaks(message.text):
            heard[message.context, message.text] = None
        return pattern(language, message)

    Language.pattern = listened  # type: ignore[method-assign]
    try:
        yield heard
    finally:
        Language.pattern = pattern  # type: ignore[method-assign]


def missing(tag: str, said: Iterable[Said]) -> list[Said]:
    """What is said, or stands in the program to be said, and a catalogue has no words for."""
    known = language_of(tag).catalogue.messages
    written = (
        (each.context or "", each.id if isinstance(each.id, str) else each.id[0])
        for each in template()
        if each.id and speaks(each.id if isinstance(each.id, str) else each.id[0])
    )
    wanted = dict.fromkeys((*said, *written))
    return [each for each in wanted if each not in known and ("", each[1]) not in known]


def update() -> None:
    """Brings each catalogue up to date with the messages that there are.

    What pages of the demo say is kept though it stands nowhere as one text: sentences that are
    made of a rule, captions that are made of a limit.
    """
    written, spoken = template(), said()
    for path in sorted(languages_folder().glob("*.po")):
        header = path.read_text(encoding="utf-8").partition("\n\n")[0]
        with path.open("rb") as file:
            known = read_po(file, locale=path.stem)
        wanted = copy(written)
        for context, text in spoken:
            # an entry without a context serves all
            found = context if known.get(text, context) or not known.get(text) else ""
            if wanted.get(text, found or None) is None:
                wanted.add(text, context=found or None)
        known.update(wanted, no_fuzzy_matching=True)
        for message in list(known):
            text = message.id if isinstance(message.id, str) else message.id[0]
            if text and not message.string and not speaks(text):
                known.delete(text, message.context)  # signs alone may stay as they are
            # our places in braces are no format of Python's
            message.flags -= {"python-format", "python-brace-format"}
        out = io.BytesIO()
        write_po(
            out,
            known,
            width=0,
            omit_header=True,
            sort_output=True,
            no_location=True,
            ignore_obsolete=True,
        )
        path.write_text(f"{header}\n\n{out.getvalue().decode('utf-8')}", encoding="utf-8")


def main(words: list[str]) -> int:
    match words:
        case ["extract"]:
            out = io.BytesIO()
            write_po(out, template(), width=0, sort_output=True)
            sys.stdout.write(out.getvalue().decode("utf-8"))
        case ["update"]:
            update()
        case ["missing", *tags]:
            spoken = said()
            for tag in tags or [path.stem for path in sorted(languages_folder().glob("*.po"))]:
                for context, text in missing(tag, spoken):
                    print(f"{tag}: {f'[{context}] ' if context else ''}{text}")
        case _:
            sys.stderr.write(__doc__ or "")
            return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
