"""The page behind a system's values: each with its formula, what it rests on, and where that is
written.

One table a subsystem; a row has the fact's anchor, so that every printed value can lead to it. What
rests on other facts leads to their rows; what is declared names its file and line, and by a number
the document behind it. What is the same for several things is said once: leaves of several
positions, the formula of facts that one calculator makes, the documents.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import groupby
from typing import Final

from specgen.document.case import DRAFT, Case
from specgen.document.tree import (
    Block,
    Break,
    Cell,
    Column,
    Datum,
    Document,
    Emphasis,
    Heading,
    Hyperlink,
    Inline,
    Literal,
    Paragraph,
    Table,
    Text,
    link,
    words,
)
from specgen.facts import Basis, Declared, Fact, Value, ledger_of
from specgen.facts.declared import declared_facts
from specgen.facts.ledger import Ledger
from specgen.facts.pedigree_lines import pedigree_lines
from specgen.facts.registry import COUNTING
from specgen.facts.terms import BASIS, closed_word
from specgen.frozen import frozen
from specgen.messages import Capital, Message, Words, listed, say
from specgen.model import Definitions, Part, Source, places
from specgen.site.addresses import anchor_of

NAMES: Final[Mapping[str, Message]] = {
    "processors": say("Processors"),
    "memory": say("Memory"),
    "expansion": say("Expansion"),
    "storage": say("Storage"),
    "network": say("Network"),
    "power": say("Power"),
    "energy": say("Energy"),
    "cooling": say("Cooling"),
    "noise": say("Noise"),
    "mechanics": say("Dimensions and weight"),
    "regulation": say("Ecodesign regulation"),
    "conditions": say("Conditions"),
    "failures": say("Effect of a single failure"),
    "limits": say("Limits"),
    "parts": say("Parts"),
}
"""Headings of the groups of facts; others are their own first word."""
ABOUT: Final = say(
    "Every value of {system}: how it is worked out, and the lines of the definitions on "
    "which it rests. Where no source is named it is arithmetic on what is declared."
)
ABOUT_PUBLIC: Final = say(
    "Every value of {system}: how it is worked out, and on what it rests. Where no source is "
    "named it is arithmetic on what is declared."
)
WRITTEN: Final = "site-figures"
SOURCES: Final = "sources"
FILES: Final = 2  # the column of a part's values that says where they are written
MANY: Final = 2
"""Inputs from which on a fact that rests on the same as another says so, and no more."""


def heading_of(group: str) -> Words:
    """What a group of facts is called."""
    return NAMES.get(group, group.capitalize())


@frozen
class FactPage:
    """A page of facts, and the keys that have a row on it."""

    document: Document
    keys: frozenset[str]


def fact_page_of(case: Case, title: str, page: str) -> FactPage:
    """All facts of a system that have a value; `page` refers to what it is about."""
    facts = [fact for key, fact in case.facts.items() if not key.startswith("limits.")]
    if case.build is None:
        facts += declared_facts(case.platform)
    facts = [fact for fact in facts if fact.value not in (None, ())]
    about = (ABOUT_PUBLIC if case.definitions.is_public else ABOUT).filled(
        system=Hyperlink(words(title), page)
    )
    keys = frozenset(fact.key for fact in facts)
    scribe = _RowWriter(case.definitions, keys)
    own = {case.platform.id: case.platform.name}
    blocks: list[Block] = [Paragraph((about,))]
    ordered = sorted(facts, key=lambda fact: _rank(fact.group, own))
    for group, members in groupby(ordered, key=lambda fact: fact.group):
        heading = words(own.get(group) or heading_of(group))
        blocks.append(Heading(2, heading, f"group-{anchor_of(group)}"))
        blocks.append(scribe.table(tuple(members)))
    blocks += scribe.sources()
    subtitle, language = say("Sources of these values"), case.definitions.project.language
    mark = DRAFT if case.is_draft else ""
    return FactPage(Document(title, tuple(blocks), subtitle, language, mark=mark), keys)


def of_part(definitions: Definitions, part: Part) -> tuple[Block, ...]:
    """Where the values of a part's page come from, as the last section of that page."""
    facts = declared_facts(part)
    if not facts:
        return ()
    scribe = _RowWriter(definitions, frozenset())
    columns = [
        Column(say("Parameter"), header=True),
        Column(say("Value"), align="end"),
        Column(say("Written in")),
        Column(say("Document")),
    ]
    if definitions.is_public:
        del columns[FILES]
    rows = []
    for fact in facts:
        leaf = next((entry for entry in fact.inputs if isinstance(entry, Declared)), None)
        source = None if leaf is None or not leaf.span.file else leaf.source
        where = () if leaf is None else scribe.line(leaf)
        row = [words(fact.label), (Datum(_in_words(fact.value)),), where, _document(source)]
        if definitions.is_public:
            del row[FILES]
        rows.append(tuple(row))
    anchors = tuple(anchor_of(fact.key) for fact in facts)
    table = Table("", tuple(columns), tuple(rows), f"{WRITTEN}-table", anchors=anchors)
    return Heading(2, words(say("Definitions and documents")), WRITTEN), table


def _rank(group: str, own: Mapping[str, str]) -> tuple[int, str]:
    order = (*NAMES, *own)
    return (order.index(group), "") if group in order else (len(order), group)


@dataclass(slots=True)
class _RowWriter:
    """Writes rows; `keys` are the facts that have one. Documents are numbered as they are met."""

    definitions: Definitions
    keys: frozenset[str]
    documents: dict[Source, int] = field(default_factory=dict)
    printed: dict[tuple[object, ...], Fact] = field(default_factory=dict)
    """What was told of inputs alike, and of which fact."""

    @property
    def ledger(self) -> Ledger:
        return ledger_of(self.definitions)

    def table(self, facts: tuple[Fact, ...]) -> Table:
        """A row for each fact of a group; those of one calculator follow one another."""
        rows: list[tuple[Cell, ...]] = []
        first: Fact | None = None
        for fact in facts:
            if first is None or (fact.template, fact.basis) != (first.template, first.basis):
                first = fact
            rows.append(
                (
                    self.name(fact),
                    (Datum(_in_words(fact.value)),),
                    self.how(fact, first),
                    self.rests(fact),
                )
            )
        columns = (
            Column(say("Parameter"), header=True),
            Column(say("Value"), align="end"),
            Column(say("How")),
            Column(say("Rests on")),
        )
        anchors = tuple(anchor_of(fact.key) for fact in facts)
        return Table("", columns, tuple(rows), anchors=anchors)

    def name(self, fact: Fact) -> Cell:
        """A fact as its row is called; a part leads to its page."""
        part = self.part(fact)
        if part is not None:
            return (*link(part.name, f"part:{part.id}"), Text(": "), *words(fact.label))
        return words(self.named(fact))

    def named(self, fact: Fact) -> Words:
        """A fact with what it is about."""
        if not fact.subject:
            return fact.label
        calculator = self.ledger.by_key.get(fact.template)
        over = None if calculator is None else calculator.over
        subject = fact.subject if over is None else over.called(fact.subject)
        return say("{subject}: {label}", subject=subject, label=fact.label)

    def part(self, fact: Fact) -> Part | None:
        """The part that a fact is about, where it is about one sort of them."""
        about = fact.template.startswith(("parts.", "drives."))
        return self.definitions.parts.get(fact.subject) if about else None

    def how(self, fact: Fact, first: Fact) -> Cell:
        """Formula, what it takes for granted, its source; told of the first of facts alike."""
        if fact is not first:
            return (Hyperlink((say("as above"),), f"#{anchor_of(first.key)}"),)
        lines: list[Cell] = [(Capital(fact.formula),)] if fact.formula else []
        if fact.assumes:
            lines.append((Emphasis((Capital(fact.assumes),)),))
        source = fact.source if fact.source != COUNTING else ""
        basis = BASIS[fact.basis] if fact.basis is not Basis.CALCULATED else ""
        behind = [each for each in (basis, source) if each]
        if behind:
            lines.append((Capital(listed(behind, "semicolon")),))
        return _lines(lines)

    def rests(self, fact: Fact) -> Cell:
        """What a fact rests on, a line each; what another rests on too is told there."""
        entries = pedigree_lines(fact.inputs)
        alike = tuple(
            entry.key if isinstance(entry, Fact) else (entry.label, positions, entry.span)
            for entry, positions in entries
        )
        first = self.printed.setdefault(alike, fact)
        if first is not fact and len(entries) >= MANY:
            name = say("the same as {name}", name=self.named(first))
            return (Hyperlink((name,), f"#{anchor_of(first.key)}"),)
        return _lines([self.entry(entry, positions) for entry, positions in entries])

    def entry(self, entry: Fact | Declared, positions: tuple[str, ...]) -> Cell:
        """Another fact with its value, or a declared one with its line and its document."""
        if isinstance(entry, Fact):
            name: Words = self.named(entry)
            if entry.key not in self.keys:
                return (say("{name} {value}", name=name, value=_worded(entry.value)),)
            way = Hyperlink(words(name), f"#{anchor_of(entry.key)}")
            return (say("{name} {value}", name=way, value=_worded(entry.value)),)
        name = entry.label
        if positions:
            name = say("{subject}, {label}", subject=places(positions), label=entry.label)
        if entry.assumed:
            name = say("taken for granted: {label}", label=name)
        cell = say("{name} {value}", name=name, value=_worded(entry.value))
        return (cell, Text(" "), *self.line(entry), *self.mark(entry))

    def line(self, leaf: Declared) -> Cell:
        span = leaf.span
        return (Literal(span.shown),) if span.file and not self.definitions.is_public else ()

    def mark(self, leaf: Declared) -> Cell:
        """The number of the document that a definition names, leading to the list of them."""
        if leaf.source is None or not leaf.span.file:
            return ()
        number = self.documents.setdefault(leaf.source, len(self.documents) + 1)
        return (Text(" "), Hyperlink((Text(f"[{number}]"),), f"#{SOURCES}-{number}"))

    def sources(self) -> tuple[Block, ...]:
        """The documents that definitions name, by number."""
        if not self.documents:
            return ()
        rows = tuple(
            (words(f"[{number}]"), _document(source)) for source, number in self.documents.items()
        )
        columns = (Column("", header=True, short=True), Column(say("Document")))
        anchors = tuple(f"{SOURCES}-{number}" for number in self.documents.values())
        title = Heading(2, words(say("Documents")), SOURCES)
        return title, Table("", columns, rows, anchors=anchors)


def _worded(value: Value) -> object:
    """A value among words."""
    return listed(value) if isinstance(value, tuple) and value else _in_words(value)


def _in_words(value: Value) -> Value:
    """A short word out of a fixed list in the language; the id of a part stays one."""
    return closed_word(value) if type(value) is str else value


def _document(source: Source | None) -> Cell:
    if source is None:
        return ()
    return words(source.words)


def _lines(lines: Iterable[Cell]) -> Cell:
    cell: list[Inline] = []
    for line in lines:
        if line:
            cell += (Break(), *line) if cell else line
    return tuple(cell)
