"""Declared rules as a reader is told them: on the page of a platform, and on that of a part."""

from collections.abc import Iterable

from specgen.document.blocks.cells import NONE, column, short_head, table
from specgen.document.case import Case, PartCase
from specgen.document.tree import Cell, Table, link, literal, words
from specgen.model import Definitions, Family, Part, Platform, Rule
from specgen.rules.declared import CompiledRule, rule_book, sentence
from specgen.rules.fit import listed, suits


def rules_of_platform(case: Case) -> Table | None:
    """What its machines must keep: its own rules, those above it, those of what fits into it."""
    book = rule_book(case.definitions)
    own = [rule for rule in book.general if rule.covers(case.platform)]
    of_parts = [
        rule
        for name, rules in book.of_parts.items()
        if _fits(case, case.definitions.parts[name])
        for rule in rules
    ]
    return _table(case.definitions, [*own, *of_parts], apply=True)


def rules_of_part(case: PartCase) -> Table | None:
    """What a machine must keep that holds the part."""
    book = rule_book(case.definitions)
    return _table(case.definitions, book.of_parts.get(case.part.id, ()), apply=False)


def told(definitions: Definitions, rule: CompiledRule) -> str:
    """A rule as a page says it: parts by their names, in quotes since names have commas."""

    def called(name: str) -> str:
        part = definitions.parts.get(name)
        return f"“{name if part is None else part.name}”"

    return sentence(rule, called)


def _fits(case: Case, part: Part) -> bool:
    return (
        part.life.status != "withdrawn"
        and listed(case.assembly, part)
        and any(suits(place, part) for place in case.assembly.places.values())
    )


def _table(definitions: Definitions, rules: Iterable[CompiledRule], apply: bool) -> Table | None:
    """The rules, one a row; without the dates where none has any."""
    known = list(rules)
    dated = any(rule.rule.from_ or rule.rule.until for rule in known)
    rows: list[tuple[Cell, ...]] = []
    for rule in known:
        row: list[Cell] = [literal(rule.code.id), words(told(definitions, rule))]
        if apply:
            row.append(_owner(rule))
        row.append(words(rule.code.severity.value))
        if dated:
            row.append(words(_dates(rule.rule)))
        rows.append(tuple(row))
    columns = [short_head("Code"), column("Rule")]
    if apply:
        columns.append(column("Applies to"))
    columns.append(column("Weight"))
    if dated:
        columns.append(column("In force"))
    return table("Rules", tuple(columns), rows, "rules-table")


def _owner(rule: CompiledRule) -> Cell:
    match rule.owner:
        case Part(id=name, name=title):
            return link(title, f"part:{name}")
        case Platform(name=title):
            return words(title)
        case Family(name=title):
            return words(f"all of {title}")
    return words("every machine")


def _dates(rule: Rule) -> str:
    first = f"from {rule.from_.isoformat()}" if rule.from_ is not None else ""
    last = f"until {rule.until.isoformat()}" if rule.until is not None else ""
    return " ".join(filter(None, (first, last))) or NONE
