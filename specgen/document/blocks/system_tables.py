"""Tables over the platforms or the builds of a project, of any facts, laid out by a template."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

from specgen.diagnostics import suggested
from specgen.document.case import FamilyCase
from specgen.document.cells.cell_makers import cell_of, table_of
from specgen.document.cells.fact_cells import LIMITS, is_key, several, title_of, unknown_fact
from specgen.document.maker import AuthorError
from specgen.document.tree import Cell, Datum, Table, link
from specgen.facts import Facts, ledger_of
from specgen.messages import Words, say
from specgen.model import Build, Definitions, Platform

ERRORS: Final = say("has errors")
Says = Callable[[Any], Cell | Words]
"""What a column says of a platform or a build."""


def platform_table(
    case: FamilyCase, title: object, columns: object, anchor: str = "platforms-table"
) -> Table | None:
    """`{{ platform_table("Side by side", ["memory.slots", ("What it is", "summary")]) }}`.

    A row for each platform with nothing fitted; unsound ones without values. A column is the key
    of a fact, under its label, or `(head, key)`; `summary` is what it is, `builds` how many there
    are of it. Raises `AuthorError`.
    """
    counts = Counter(build.platform for build in case.definitions.builds.values())

    def what_it_is(each: Platform) -> Words:
        return each.summary if case.platforms[each.id].sound else ERRORS

    own: Mapping[str, Says] = {
        "summary": what_it_is,
        "builds": lambda each: (Datum(counts[each.id], f"{each.id}.builds"),),
    }
    facts = {name: each.facts if each.sound else None for name, each in case.platforms.items()}
    first = say("Platform"), lambda each: link(each.name, f"platform:{each.id}")
    asked = _columns(case.definitions, columns, own, facts)
    systems = (each.platform for each in case.platforms.values())
    return table_of(zip(systems), title_of(title, say("a title")), anchor, first, *asked)


def build_table(
    case: FamilyCase, platform: str, title: object, columns: object, anchor: str = "builds-table"
) -> Table | None:
    """The same with a row for each build, or for those of one platform.

    `platform` is the one that it is of; `state` is whether it is published, or has errors, where
    not all are published.
    """
    known = case.definitions
    shown = [known.builds[name] for name in case.builds]
    shown = [build for build in shown if platform in ("", build.platform)]
    drafts = not all(build.published and case.builds[build.id][1] for build in shown)

    def home(build: Build) -> Cell:
        return link(known.platforms[build.platform].name, f"platform:{build.platform}")

    def state(build: Build) -> Words:
        if not case.builds[build.id][1]:
            return ERRORS
        published = say("published") if build.published else say("draft")
        return published if drafts else ""

    own: Mapping[str, Says] = {"platform": home, "state": state}
    facts = {name: facts if sound else None for name, (facts, sound) in case.builds.items()}
    first = say("Build"), lambda build: link(build.name, f"build:{build.id}")
    asked = _columns(known, columns, own, facts)
    return table_of(zip(shown), title_of(title, say("a title")), anchor, first, *asked)


def _columns(
    definitions: Definitions,
    columns: object,
    own: Mapping[str, Says],
    facts: Mapping[str, Facts | None],
) -> Iterable[tuple[Words, Says]]:
    """The heads that a template asks for, each with what it says of a system."""

    def value(key: str) -> Says:
        return lambda each: () if (known := facts[each.id]) is None else cell_of(known, key)

    for column in several(columns, say("columns")):
        head, key = (
            column if isinstance(column, list | tuple) and len(column) == 2 else ("", column)
        )
        if isinstance(key, str) and head and key in own:
            yield title_of(head, say("a head")), own[key]
        elif isinstance(key, str) and is_key(key):
            label = _label(definitions, key, facts)
            yield title_of(head, say("a head")) or label, value(key)
        else:
            message = say("a column is the key of a fact, or a head with a key")
            raise AuthorError(message, suggested(str(key), own), word=str(key))


def _label(definitions: Definitions, key: str, facts: Mapping[str, Facts | None]) -> Words:
    """What facts of a key are called; limits have no calculator, and are not always solved."""
    calculators = ledger_of(definitions).by_key
    if key in calculators:
        return calculators[key].label
    found = (each.get(key) for each in facts.values() if each is not None)
    fact = next((each for each in found if each is not None), None)
    if fact is None and not key.startswith(LIMITS):
        raise unknown_fact(key, calculators)
    return key if fact is None else fact.label
