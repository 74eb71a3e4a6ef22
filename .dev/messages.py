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

from specgen.document.case import Case, FamilyCase, PartCase, bare_case
from specgen.document.documents import (
    family_document,
    machine_document,
    part_document,
    templates_of,
)
from specgen.document.pictures import pictures
from specgen.document.sets import comparison_document, order_document
from specgen.document.several import MOST, Compared, Ordered, example_of
from specgen.document.template import Templates
from specgen.document.tree import Document
from specgen.drawings import Engine, nowhere
from specgen.model import Build, Platform
from specgen.pipeline import Survey, survey
from specgen.shipped import templates_folder
from specgen.site.compare import fixed, machine_of
from specgen.site.downloads import OFFERS, Offer, offered
from specgen.site.history import revisions
from specgen.site.rules import rule_pages, standings
from specgen.site.voice import Voice, voice_in

ROOT = Path(__file__).resolve().parent.parent
LISTS = ("start", "builds", "parts", "platforms")
OF_PARTS = ("part", "findings")
OF_SEVERAL = ("comparison",)
ORDERS = ("site-preparation", "parts-list")


def documents(found: Survey, language: str, names: tuple[str, ...] = ()) -> Iterator[Document]:
    """The documents of a project in a language: of every template, or of those named.

    A template that is for something else than a machine is passed over.
    """
    definitions = found.definitions
    if definitions is None:
        sys.exit(f"{found.root} is no project that can be read")
    templates = templates_of(found.root, templates_folder(), language)
    others = (*LISTS, *OF_PARTS, *OF_SEVERAL)
    machines = tuple(each for each in names or templates.names() if each not in others)
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
    yield from _of_several(found, templates, tuple(bare.values()))
    yield from built(found, voice_in(definitions, language, found.root))


def _of_several(found: Survey, templates: Templates, bare: tuple[Case, ...]) -> Iterator[Document]:
    """Comparisons and orders: of all platforms, and of a few builds."""
    definitions = found.definitions
    assert definitions is not None
    sound = tuple(case for case in found.cases.values() if case.sound)
    for at in range(0, len(sound), MOST):
        some = sound[at : at + MOST]
        yield from _made(comparison_document(templates, Compared(definitions, some)))
        order = Ordered(definitions, tuple((case, 2) for case in some))
        for name in ORDERS:
            yield from _made(order_document(templates, order, name))
    compared = Compared(definitions, bare[:MOST], only_differences=True)
    yield from _made(comparison_document(templates, compared))


def built(found: Survey, voice: Voice) -> Iterator[Document]:
    """The pages of the site that are no templates: rules, comparison, and what is offered."""
    definitions = found.definitions
    assert definitions is not None
    standing: dict[str, tuple[tuple[str, str], ...]] = {}
    for id_, case in found.cases.items():
        for code, how in standings(case):
            standing[code] = (*standing.get(code, ()), (id_, how))
    for made in rule_pages(definitions, standing):
        yield voice.document(made.document)
    bare = [bare_case(definitions, each) for each in definitions.platforms.values()]
    yield voice.document(fixed(definitions, [machine_of(case) for case in bare]))
    offers = tuple(
        Offer("x", form, holds, 1) for each in OFFERS.values() for _, form, holds in each
    )
    for caption in ("Files of this build", "Files of this platform"):
        blocks = offered(offers, "site:x", caption)
        yield voice.document(Document("", blocks))
    things: list[Build | Platform] = [*definitions.builds.values()]
    for thing in (*things, *definitions.platforms.values()):
        yield voice.document(Document("", revisions(thing)))


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
