"""Declared rules as a reader is told them: on the page of a platform, and on that of a part."""

from collections.abc import Iterable

from specgen.document.case import Case, PartCase
from specgen.document.cells.cell_makers import NONE, part_cell, table_of
from specgen.document.tree import Cell, Table, literal
from specgen.facts.terms import SEVERITY, worded
from specgen.limits.reachable import reachable
from specgen.messages import Words, say
from specgen.model import Definitions, Family, Part, Platform, Rule
from specgen.rules.declared import CompiledRule, rule_book
from specgen.rules.declared.nouns import Quotes
from specgen.rules.declared.phrasing import in_words


def rules_of_platform(case: Case) -> Table | None:
    """What its systems must keep: its own rules, those above it, those of what goes into it."""
    book = rule_book(case.definitions)
    own = [rule for rule in book.general if rule.covers(case.platform)]
    nodes = reachable(case.assembly) if book.of_parts else ()
    inside = None if nodes is None else {part.id for node in nodes for part in node.parts}
    of_parts = [
        rule
        for name, rules in book.of_parts.items()
        if inside is None or name in inside  # too many positions to follow: it may hold any part
        for rule in rules
    ]
    return _table(case.definitions, [*own, *of_parts], apply=True)


def rules_of_part(case: PartCase) -> Table | None:
    """What a system must keep that holds the part."""
    book = rule_book(case.definitions)
    return _table(case.definitions, book.of_parts.get(case.part.id, ()), apply=False)


def rule_words(definitions: Definitions, rule: CompiledRule) -> Words:
    """A rule as a page says it: parts by their names, in quotes since names have commas."""

    def called(name: str) -> str:
        part = definitions.parts.get(name)
        return name if part is None else part.name

    return in_words(rule, Quotes(called, "“", "”"))


def reason(rule: CompiledRule) -> str:
    """What the author gives as the reason, as a sentence; a dash where nothing is given."""
    because = rule.rule.because
    if because is None:
        return NONE
    return because if because[-1] in ".!?" else f"{because}."


def _table(definitions: Definitions, rules: Iterable[CompiledRule], apply: bool) -> Table | None:
    """The rules, one a row; without the dates where none has any."""
    known = list(rules)
    dated = any(rule.rule.from_ or rule.rule.until for rule in known)
    return table_of(
        ((rule,) for rule in known),
        say("Rules"),
        "rules-table",
        (say("Code"), lambda rule: literal(rule.code.id)),
        (say("Rule"), lambda rule: rule_words(definitions, rule)),
        (say("Why"), reason),
        (say("Severity"), lambda rule: worded(SEVERITY, rule.code.severity.value)),
        (say("Declared for"), _owner) if apply else None,
        (say("In force"), lambda rule: dates(rule.rule)) if dated else None,
        short=True,
    )


def _owner(rule: CompiledRule) -> Cell | Words:
    match rule.owner:
        case Part() as part:
            return part_cell(part)
        case Platform(name=title):
            return title
        case Family(name=title):
            return say("all of {family}", family=title)
    return say("every server")


def dates(rule: Rule) -> Words:
    """The days in which a rule is in force; a dash where it always is."""
    if rule.from_ is not None and rule.until is not None:
        return say("from {first} until {last}", first=rule.from_, last=rule.until)
    if rule.from_ is not None:
        return say("from {day}", day=rule.from_)
    return say("until {day}", day=rule.until) if rule.until is not None else NONE
