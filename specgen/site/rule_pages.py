"""Pages of declared rules: what each says, where it stands, and what it comes to in the builds."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from specgen.document.blocks.declared_rules import dates, reason, rule_words
from specgen.document.case import Case
from specgen.document.tree import (
    Block,
    Cell,
    Column,
    Document,
    FactList,
    Heading,
    Hyperlink,
    Inline,
    Paragraph,
    Table,
    Text,
    Verbatim,
    link,
    literal,
    words,
)
from specgen.expressions.evaluate import Evaluator, TooLong
from specgen.facts.inputs import Condition
from specgen.facts.terms import SEVERITY, worded
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.messages import DOES_NOT_APPLY, Message, Within, Words, listed, say
from specgen.model import Definitions, Family, Part, Platform, places
from specgen.rules.declared import CompiledRule, rule_book

INDEX: Final = "rules.html"
STANDINGS: Final[Mapping[str, Message]] = {
    "error": say("refused"),
    "warning": say("warned"),
    "note": say("noted"),
    "allowed": say("accepted with a reason"),
    "kept": say("kept"),
}
"""How a rule stands in a build, by what was found, in words of the page."""


def standings(case: Case) -> tuple[tuple[str, str], ...]:
    """The rules whose case arises in a build, by code, each with how it stands there."""
    build = case.build
    book = rule_book(case.definitions)
    if build is None or not book.rules:
        return ()
    broken = {finding.code.id: finding.severity.value for finding in case.findings}
    allowed = {entry.code for entry in build.allow}
    evaluator = Evaluator(case.assembly, case.facts)
    day = build.date or case.definitions.project.date
    made = []
    for rule in book.rules:
        code = rule.code.id
        if not rule.covers(case.platform):
            continue
        if code in broken:
            made.append((code, broken[code]))
        elif rule.in_force(day) and _arises(evaluator, rule):
            made.append((code, "allowed" if code in allowed else "kept"))
    return tuple(made)


def _arises(evaluator: Evaluator, rule: CompiledRule) -> bool:
    """Whether what the rule is about is there: its part works, its condition holds."""
    evaluator.begin()
    try:
        if not isinstance(rule.owner, Part):
            return rule.when is None or evaluator.holds(rule.when.tree)
        for seated in evaluator.members((rule.owner.kind,)):
            evaluator.it = seated
            holds = rule.when is None or evaluator.holds(rule.when.tree)
            if seated.part.id == rule.owner.id and holds:
                return True
    except TooLong:  # a finding says so
        pass
    return False


Standing = Mapping[str, tuple[tuple[str, str], ...]]
"""Code to (build, how the rule stands in it)."""


@frozen
class RulePage:
    """A page of a rule, or the list of them, before it is written."""

    path: str
    document: Document
    words: tuple[tuple[str, int], ...] = ()


def rule_pages(definitions: Definitions, standing: Standing) -> Iterator[RulePage]:
    """The list of rules and a page for each; nothing where no rule is declared."""
    rules = rule_book(definitions).rules
    if not rules:
        return
    alike = grouped((rule.code.id, rule) for rule in rules)
    yield RulePage(INDEX, _index(definitions, alike, standing))
    for code, same in alike.items():
        found = ((code, 9), (same[0].rule.because or "", 2))
        document = _document(definitions, same, standing.get(code, ()))
        yield RulePage(f"rules/{code}.html", document, found)


Alike = Sequence[CompiledRule]
"""One rule, for each of the platforms that have it: one took it over from the other."""


def _index(definitions: Definitions, rules: Mapping[str, Alike], standing: Standing) -> Document:
    rows: list[tuple[Cell, ...]] = []
    for code, (rule, *others) in rules.items():
        rows.append(
            (
                (Hyperlink((*literal(code),), f"rule:{code}"),),
                words(rule_words(definitions, rule)),
                words(worded(SEVERITY, rule.code.severity.value)),
                _owners((rule, *others)),
                words(_counted(standing.get(code, ()))),
            )
        )
    columns = (
        Column(say("Code"), header=True, short=True),
        Column(say("Rule")),
        Column(say("Severity"), short=True),
        Column(say("Declared for")),
        Column(say("In the builds"), short=True),
    )
    about = say(
        "What positions, links and needs do not say by themselves: each rule is read from the "
        "definitions once, for the checks, for the limits and for these pages."
    )
    table = Table(say("All rules"), columns, tuple(rows), "rules-table")
    blocks = (Paragraph(words(about)), table)
    language = definitions.project.language
    return Document(say("Rules"), blocks, definitions.project.title, language)


def _counted(entries: Iterable[tuple[str, str]]) -> Words:
    counts: dict[str, int] = {}
    for _, how in entries:
        counts[how] = counts.get(how, 0) + 1
    found = [
        say("{count} {standing}", count=counts[how], standing=STANDINGS[how])
        for how in STANDINGS
        if how in counts
    ]
    return listed(found) if found else DOES_NOT_APPLY


def _document(
    definitions: Definitions, same: Alike, entries: tuple[tuple[str, str], ...]
) -> Document:
    rule = same[0]
    blocks: list[Block] = [Paragraph(words(rule_words(definitions, rule)))]
    if rule.rule.because is not None:
        blocks.append(Paragraph(words(reason(rule))))
    blocks.append(FactList(say("The rule"), tuple(_facts(definitions, same))))
    blocks += [
        Heading(2, words(say("What it concerns")), "concerns"),
        _concerned(definitions, same),
    ]
    blocks.append(Heading(2, words(say("In the builds")), "builds"))
    blocks.append(_builds(definitions, rule.code.id, entries))
    blocks += [
        Heading(2, words(say("As it is written")), "written"),
        Verbatim(_written(rule), "yaml"),
    ]
    language = definitions.project.language
    return Document(rule.code.id, tuple(blocks), say("Rule"), language)


def _facts(definitions: Definitions, same: Alike) -> Iterator[tuple[Words, Cell]]:
    rule = same[0]
    weights = {
        "error": say("error: a build that breaks it is not published"),
        "warning": say("warning: somebody has to decide, and to say why"),
        "note": say("note: told to whoever reads the build"),
    }
    yield say("Severity"), words(weights[rule.code.severity.value])
    dated = rule.rule.from_ or rule.rule.until
    yield say("In force"), words(dates(rule.rule) if dated else say("at all times"))
    yield say("Declared for"), _owners(same)
    if not definitions.is_public:
        yield say("Declared in"), literal(f"{rule.at.file}:{rule.at.line}")


def _owners(same: Alike) -> Cell:
    joined: list[Inline] = []
    for rule in same:
        joined += [*((Text(", "),) if joined else ()), *_owner(rule)]
    return tuple(joined)


def _owner(rule: CompiledRule) -> Cell:
    match rule.owner:
        case Part(id=name, name=title):
            return link(title, f"part:{name}")
        case Platform(id=name, name=title):
            return link(title, f"platform:{name}")
        case Family(name=title):
            return words(say("all of {family}", family=title))
    return words(say("every server"))


def _concerned(definitions: Definitions, same: Alike) -> FactList:
    rule, parts = same[0], definitions.parts
    reads = rule.reads
    known_platforms = definitions.platforms.values()
    platforms = [each for each in known_platforms if any(rule.covers(each) for rule in same)]
    named = [parts[name] for name in sorted(reads.parts) if name in parts]
    known = definitions.kinds
    kinds = sorted((known[kind].named_many() for kind in reads.kinds if kind in known), key=str)
    every = say("all {count} kinds", count=len(known))
    whole: list[Words] = [every] if len(kinds) == len(known) else [*map(Within, kinds)]
    entries: list[tuple[Words, Cell]] = [
        (say("Platforms"), _links([(each.name, f"platform:{each.id}") for each in platforms]))
    ]
    if isinstance(rule.owner, Part):
        named = [rule.owner, *named]
    if named:
        entries.append((say("Parts"), _links([(each.name, f"part:{each.id}") for each in named])))
    circumstances = [Within(Condition(name).label) for name in sorted(reads.conditions)]
    for label, text in (
        (say("Kinds of part"), listed(whole)),
        (say("Positions"), places(tuple(reads.positions))),
        (say("Circumstances"), listed(circumstances)),
    ):
        if text != listed(()):
            entries.append((label, words(text)))
    if reads.facts:
        keys: list[Inline] = []
        for key in sorted(reads.facts):
            keys += [*words(", " if keys else ""), *literal(key)]
        entries.append((say("Values"), tuple(keys)))
    return FactList(say("What it concerns"), tuple(entries))


def _links(named: list[tuple[str, str]]) -> Cell:
    inlines: list[Inline] = []
    for title, target in named:
        inlines += [*((Text(", "),) if inlines else ()), *link(title, target)]
    return tuple(inlines) or words(say("none that is defined"))


def _builds(definitions: Definitions, code: str, entries: tuple[tuple[str, str], ...]) -> Block:
    if not entries:
        return Paragraph(words(say("It does not apply to any build.")))
    order = list(STANDINGS)
    rows: list[tuple[Cell, ...]] = []
    for name, how in sorted(entries, key=lambda entry: (order.index(entry[1]), entry[0])):
        build = definitions.builds[name]
        platform = definitions.platforms[build.platform]
        why = next((a.reason for a in build.allow if how == "allowed" and a.code == code), "")
        rows.append(
            (
                link(build.name, f"build:{name}"),
                link(platform.name, f"platform:{platform.id}"),
                words(STANDINGS[how]),
                words(why),
            )
        )
    columns = [
        Column(say("Build"), header=True),
        Column(say("Platform")),
        Column(say("The rule is")),
        Column(say("Reason given")),
    ]
    if not any(row[3] for row in rows):
        columns.pop()
        rows = [row[:3] for row in rows]
    title = say("Builds that it applies to")
    return Table(title, tuple(columns), tuple(rows), "builds-table")


def _written(rule: CompiledRule) -> str:
    """The conditions as they are written, under the words of the definitions."""
    must = "forbid" if rule.forbids else "require"
    pairs = [("when", rule.rule.when), (must, rule.rule.forbid or rule.rule.require)]
    return "\n".join(f"{word}: {text}" for word, text in pairs if text is not None)
