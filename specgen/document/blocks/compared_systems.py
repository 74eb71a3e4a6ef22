"""Platforms or builds side by side: their values, what differs in words, what parts differ."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, Final

from specgen.diagnostics import suggested
from specgen.document.blocks import reached_limits
from specgen.document.case import Case
from specgen.document.cells.cell_makers import NONE, heads, part_cell, table
from specgen.document.cells.fact_cells import several, title_of, unknown_fact
from specgen.document.maker import AuthorError
from specgen.document.several import Compared, named
from specgen.document.tree import (
    Block,
    Cell,
    Column,
    Datum,
    FactList,
    Listing,
    Paragraph,
    Strong,
    Table,
    link,
    paragraph,
    words,
)
from specgen.facts import Fact, kind_facts, ledger_of
from specgen.facts.compared_facts import LIMITS, OWN, compared_keys, own_subjects, positions_for
from specgen.grouped import grouped
from specgen.messages import Words, listed, say
from specgen.model import natural
from specgen.quantity import Quantity

ALWAYS: Final = frozenset({LIMITS, "positions", kind_facts.GROUP})
"""Subjects that may be asked for where no system has any."""


def groups_of(compared: Compared) -> tuple[str, ...]:
    """The subjects there are: first words of keys."""
    return tuple(dict.fromkeys(key.split(".", 1)[0] for key in _keys(compared)))


def comparison(
    compared: Compared, title: Words, *groups: str, about: Case | None = None
) -> Table | None:
    """A row for each value of some subjects that one of the systems has at least.

    The document is `about` one of the systems, or all; then labels of rows that differ are strong,
    unless those are the only rows. Raises `AuthorError`.
    """
    own = own_subjects(compared.definitions) if OWN in groups else ()
    groups = tuple(each for group in groups for each in (own if group == OWN else (group,)))
    known = groups_of(compared)
    subjects = {fact.split(".", 1)[0] for case in compared.cases for fact in case.facts}
    for group in groups:
        if group not in subjects and group not in ALWAYS:
            message = say("no subject is named `{name}`", name=group)
            raise AuthorError(message, suggested(group, known), word=group)
    rows: list[tuple[Cell, ...]] = []
    for facts in _rows(compared, groups):
        differs = differ(facts)
        if compared.only_differences and not differs:
            continue
        label = words(_label(facts))
        strong = differs and about is None and not compared.only_differences
        first: Cell = (Strong(label),) if strong else label
        rows.append((first, *(_cell(case, fact) for case, fact in _pairs(compared, facts))))
    if not rows:
        return None
    # numbers of one column measure different things: they begin below the name they are of
    columns = heads(
        say("Parameter"), *(Column(named(case), own=case is about) for case in compared.cases)
    )
    return Table(title_of(title, say("a title")), columns, tuple(rows), beside=True)


def _pairs(
    compared: Compared, facts: tuple[Fact | None, ...]
) -> Iterable[tuple[Case, Fact | None]]:
    return zip(compared.cases, facts, strict=True)


def _label(facts: tuple[Fact | None, ...]) -> Words:
    """The name of a value; of a limit, that it is one."""
    fact = next(fact for fact in facts if fact is not None)
    if fact.group != LIMITS or fact.key.endswith("least"):
        return fact.label
    return say("{label}, max.", label=fact.label)


def _cell(case: Case, fact: Fact | None) -> Cell:
    """The value, named after the system it is of."""
    if fact is None or fact.value in (None, ()):
        return words(NONE)
    return (Datum(fact.value, f"{case.thing.id}.{fact.key}"),)


def differ(facts: tuple[Fact | None, ...]) -> bool:
    """Whether any two have another value; one that is not declared is another."""
    values = [None if fact is None else fact.value for fact in facts]
    return any(value != values[0] for value in values)


def _rows(compared: Compared, groups: tuple[str, ...]) -> Iterator[tuple[Fact | None, ...]]:
    for key in _keys(compared):
        if key.split(".", 1)[0] in groups:
            facts = tuple(case.facts.get(key) for case in compared.cases)
            if any(fact is not None and fact.value not in (None, ()) for fact in facts):
                yield facts
    if "positions" in groups and compared.bare:
        yield from _positions(compared)


def _keys(compared: Compared) -> tuple[str, ...]:
    return compared_keys([case.facts for case in compared.cases], bare=compared.bare)


def _positions(compared: Compared) -> Iterator[tuple[Fact | None, ...]]:
    """How many positions of a kind each system has on its board and in its chassis."""
    for cls in compared.definitions.kinds.values():
        facts = tuple(positions_for(case.assembly, cls) for case in compared.cases)
        if cls.counted and any(fact.value for fact in facts):
            yield facts


# --- in words ---


def differences(
    compared: Compared, platforms: object = (), builds: object = ()
) -> tuple[Block, ...]:
    """What differs, a sentence a value: `Memory slots: 16 in A; 32 in B`.

    The keys of what is said of platforms, limits apart, or of builds. Raises `AuthorError`.
    """
    keys = [str(each) for each in several(platforms if compared.bare else builds, say("keys"))]
    known = ledger_of(compared.definitions).by_key
    for key in keys:
        if key not in known:
            raise unknown_fact(key, known)
    if compared.bare:
        keys += [key for key in _keys(compared) if key.startswith(f"{LIMITS}.")]
    stated = (tuple(case.facts.get(key) for case in compared.cases) for key in keys)
    items = [
        (Paragraph(_sentence(compared, facts)),)
        for facts in stated
        if differ(facts) and any(fact and fact.value not in (None, ()) for fact in facts)
    ]
    if not items:
        return (paragraph(say("The values compared do not differ.")),)
    return (Listing(tuple(items)),)


def _sentence(compared: Compared, facts: tuple[Fact | None, ...]) -> Cell:
    """Equal values together, from the least to the most where there is an order."""
    found = ((None if each[1] is None else each[1].value, each) for each in _pairs(compared, facts))
    alike: list[tuple[Any, list[tuple[Case, Fact | None]]]] = [*grouped(found).items()]
    if all(isinstance(value, int | Quantity) for value, _ in alike):
        alike.sort(key=lambda entry: entry[0])
    pieces = []
    for value, members in alike:
        shown = words(say("not stated")) if value in (None, ()) else _cell(*members[0])
        where = listed([named(case) for case, _ in members], "and")
        pieces.append(say("{value} in {servers}", value=shown, servers=where))
    return (
        say(
            "{head:{label}:} {values}.",
            head=Strong(()),
            label=_label(facts),
            values=listed(pieces, "semicolon"),
        ),
    )


def siblings(case: Case, others: tuple[Case, ...]) -> Table | None:
    """What sets a platform apart from the others of its family, but for what they can reach."""
    if not others:
        return None
    compared = Compared(case.definitions, (case, *others), only_differences=True)
    groups = [each for each in groups_of(compared) if each != LIMITS]
    return comparison(compared, say("Side by side"), *groups, "positions", about=case)


def reached(case: Case, others: tuple[Case, ...]) -> Table | None:
    """What a platform can reach, beside the others of its family whose limits are known.

    By itself where it has none beside it, and where how sure its limits are differs.
    """
    alone = reached_limits.limits(case)
    known = tuple(each for each in others if each.reach is not None)
    if alone is None or not known or not all(map(reached_limits.proved, (case, *known))):
        return alone
    compared = Compared(case.definitions, (case, *known), only_differences=False)
    beside = comparison(compared, alone.title, LIMITS, about=case)
    return None if beside is None else replace(beside, anchor=alone.anchor, note=alone.note)


# --- more than values ---


def systems(compared: Compared) -> FactList:
    """Each system with what it is."""
    entries = []
    for case in compared.cases:
        kind, thing = "platform" if case.build is None else "build", case.thing
        entries.append((thing.name, link(thing.summary, f"{kind}:{thing.id}")))
    return FactList(say("What they are"), tuple(entries))


def suits(compared: Compared) -> Table | None:
    """What each suits, and for platforms what each gives up."""
    titles = ((say("Suitable for"), "suitable_for"), (say("Limitations"), "limitations"))
    told = [
        (title, ["; ".join(getattr(case.thing, field, ())) for case in compared.cases])
        for title, field in titles
    ]
    rows = [(words(title), *(words(text or NONE) for text in texts)) for title, texts in told]
    shown = [row for row, (_, texts) in zip(rows, told, strict=True) if any(texts)]
    columns = heads(say("What"), *map(named, compared.cases), short=True)
    return table(say("What they are for"), columns, shown, "suits-table")


def parts(compared: Compared) -> Table | None:
    """How many of each part every build holds; only parts of which the numbers differ."""
    if compared.bare:
        return None
    known = compared.definitions.parts
    fitted = [
        Counter(part.id for place, part in case.assembly.everything() if place.how != "fixed")
        for case in compared.cases
    ]
    names = {name for counts in fitted for name in counts}
    rows: list[tuple[Cell, ...]] = [
        (part_cell(known[name]), words(known[name].named()), *_counts(compared, name, fitted))
        for name in sorted(names, key=lambda id_: (known[id_].title, natural(known[id_].name), id_))
        if len({counts[name] for counts in fitted}) > 1
    ]
    columns = heads(say("Part"), say("Kind"), *map(named, compared.cases))
    return table(say("Parts that differ in number"), columns, rows, "parts-table")


def _counts(compared: Compared, part: str, fitted: list[Counter[str]]) -> Iterator[Cell]:
    for case, counts in zip(compared.cases, fitted, strict=True):
        number = Datum(counts[part], f"{case.thing.id}.parts.{part}")
        yield (number,) if counts[part] else words(NONE)
