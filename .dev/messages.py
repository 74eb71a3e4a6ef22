#!/usr/bin/env python3
"""Words of documents without a translation: `.venv/bin/python .dev/messages.py de [PROJECT]`.

Makes every document of a project (the demo, where none is named) from every template there is,
and prints what the catalogue of the language has no message for, as entries of a `.po` file to
be filled in and put into `templates/languages/`, or into the project's own `templates/languages/`
where its own templates say it. `{1}` stands for a figure, a name or a number, `{1:words}` for
words with a link or weight round them; an entry's context (`msgctxt`) tells the sort of place and
may be left out where one translation fits every place.
"""

import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from specgen.document.case import FamilyCase, PartCase, bare_case
from specgen.document.documents import (
    family_document,
    machine_document,
    part_document,
    templates_of,
)
from specgen.document.pictures import pictures
from specgen.document.several import example_of
from specgen.document.tree import Document
from specgen.drawings import Engine, nowhere
from specgen.pipeline import Survey, survey
from specgen.shipped import templates_folder

ROOT = Path(__file__).resolve().parent.parent
LISTS = ("start", "builds", "parts", "platforms")
OF_PARTS = ("part", "findings")


def documents(found: Survey, language: str, names: tuple[str, ...] = ()) -> Iterator[Document]:
    """The documents of a project in a language: of every template, or of those named.

    A template that is for something else than a machine is passed over.
    """
    definitions = found.definitions
    if definitions is None:
        sys.exit(f"{found.root} is no project that can be read")
    templates = templates_of(found.root, templates_folder(), language)
    machines = names or tuple(n for n in templates.names() if n not in (*LISTS, *OF_PARTS))
    uses: dict[str, dict[str, list[str]]] = {}
    engine = Engine()
    for id_, case in found.cases.items():
        for place, part in case.assembly.everything():
            uses.setdefault(part.id, {}).setdefault(id_, []).append(place.name)
        for name in machines if case.sound else ():
            drawn = pictures(case, engine, nowhere, [])
            yield from _made(machine_document(name, templates, case, drawn))
    bare = {id_: bare_case(definitions, each) for id_, each in definitions.platforms.items()}
    family = FamilyCase(
        definitions,
        {id_: case.facts for id_, case in bare.items()},
        {id_: (case.facts, case.sound) for id_, case in found.cases.items()},
    )
    for case in bare.values():
        shown = example_of(definitions, case.platform)
        for name in machines:
            drawn = pictures(shown, engine, nowhere, [])
            yield from _made(machine_document(name, templates, case, drawn, family, shown))
    for id_, part in definitions.parts.items():
        used = tuple((build, tuple(places)) for build, places in uses.get(id_, {}).items())
        yield from _made(part_document("part", templates, PartCase(definitions, part, used)))
    for name in LISTS:
        yield from _made(family_document(name, templates, family))


def _made(made: tuple[Document | None, object]) -> Iterator[Document]:
    if made[0] is not None:
        yield made[0]


def entries(wanted: Counter[tuple[str, str]]) -> str:
    """The messages as entries of a catalogue, the most frequent first."""
    lines = []
    for (context, message), number in sorted(wanted.items(), key=lambda each: (-each[1], each)):
        quoted = message.replace("\\", "\\\\").replace('"', '\\"')
        lines += [f"#. in {number} documents", f'msgctxt "{context}"']
        lines += [f'msgid "{quoted}"', 'msgstr ""', ""]
    return "\n".join(lines)


if __name__ == "__main__":
    if len(sys.argv) not in (2, 3):
        sys.exit(__doc__)
    project = Path(sys.argv[2]) if len(sys.argv) == 3 else ROOT / "builds"
    wanted: Counter[tuple[str, str]] = Counter()
    for document in documents(survey(project), sys.argv[1]):
        wanted.update(document.untranslated)
    sys.stdout.write(entries(wanted))
    sys.stderr.write(f"{len(wanted)} messages are missing\n")
