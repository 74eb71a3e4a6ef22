"""Links from what a page prints to where it comes from: values to their pedigree, codes to rules.

Laid into the tree of a document before its HTML is written; what is a link already stays one.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace

from specgen.document.tree import (
    Block,
    Cell,
    Document,
    Emphasis,
    FactList,
    Footnote,
    Hyperlink,
    Inline,
    Listing,
    Literal,
    Paragraph,
    Strong,
    Table,
    TermList,
    Value,
)
from specgen.document.tree_walks import changed_within
from specgen.facts.declared import declared_facts
from specgen.frozen import frozen
from specgen.model import Definitions
from specgen.site.addresses import address, anchor_of

FACTS_PAGE = "facts"


def facts_page_name(definitions: Definitions) -> str:
    """What the page of a system's values is called; another where a document has that name."""
    name = FACTS_PAGE
    while name in definitions.project.documents:
        name += "-behind"
    return name


@frozen
class CrossReferences:
    """Where values lead. `here` is the definition that a page is about, such as `build:x`.

    `keys` gives the keys of the values that each system's page of facts holds.
    """

    definitions: Definitions
    facts_page: str
    known: frozenset[str]
    codes: frozenset[str]
    keys: Mapping[str, Collection[str]] = field(default_factory=dict)
    limits: frozenset[str] = frozenset()
    """The platforms that have a page of limits."""
    _declared: dict[str, frozenset[str]] = field(default_factory=dict)

    def of_fact(self, key: str, here: str, row: str) -> str | None:
        """The reference for a printed value; `row` is the system that its row is about."""
        if key.startswith("limits."):
            return self._of_limit(row or here, key)
        for subject in (row, here):
            if key in self.keys.get(subject, ()):
                return self._page(subject, key)
        for at, sign in enumerate(key):
            if sign == ".":
                found = self._of_named(key[:at], key[at + 1 :], key)
                if found is not None:
                    return found
        return None

    def _of_limit(self, subject: str, key: str) -> str | None:
        name = subject.removeprefix("platform:")
        return f"site:limits/{name}.html#{key.partition('.')[2]}" if name in self.limits else None

    def _of_named(self, name: str, rest: str, key: str) -> str | None:
        """A value whose key begins with the name of a definition."""
        if rest.startswith("limits."):
            return self._of_limit(f"platform:{name}", rest)
        for subject in (f"platform:{name}", f"build:{name}"):
            for each in (rest, key):
                if each in self.keys.get(subject, ()):
                    return self._page(subject, each)
        part = self.definitions.parts.get(name)
        if part is None:
            return None
        if name not in self._declared:
            self._declared[name] = frozenset(fact.key for fact in declared_facts(part))
        declared = key in self._declared[name]
        return f"part:{name}#{anchor_of(key)}" if declared else f"part:{name}"

    def _page(self, subject: str, key: str) -> str | None:
        reference = f"{subject}/{self.facts_page}"
        there = address(reference) in self.known
        return f"{reference}#{anchor_of(key)}" if there else None


def linked(document: Document, xrefs: CrossReferences, here: str = "") -> Document:
    """The document with links from its values and from the codes of rules in its tables."""
    weaver = _Linker(xrefs, here)
    return replace(document, blocks=weaver.blocks(document.blocks))


@dataclass(slots=True)
class _Linker:
    xrefs: CrossReferences
    here: str
    row: str = ""
    in_table: bool = False

    def block(self, block: Block) -> Block:
        match block:
            case Table():
                return self._table(block)
            case FactList(entries=entries):
                made = tuple((label, self.cell(value)) for label, value in entries)
                return replace(block, entries=made)
            case Paragraph(children):
                return Paragraph(self.cell(children))
            case Listing():
                return changed_within(block, self._item)
            case TermList(entries):
                block = TermList(tuple((self.cell(term), means) for term, means in entries))
        return changed_within(block, self.blocks)

    def blocks(self, blocks: tuple[Block, ...]) -> tuple[Block, ...]:
        return tuple(map(self.block, blocks))

    def _table(self, table: Table) -> Table:
        self.in_table = True
        rows = []
        for row in table.rows:
            self.row = _system_of(row[0])
            rows.append(tuple(map(self.cell, row)))
        self.row, self.in_table = "", False
        return replace(table, rows=tuple(rows), note=self.cell(table.note))

    def _item(self, item: tuple[Block, ...]) -> tuple[Block, ...]:
        """An entry of a list, which may begin with the system that it is about."""
        before = self.row
        if item and isinstance(item[0], Paragraph):
            self.row = _system_of(item[0].children)
        made = self.blocks(item)
        self.row = before
        return made

    def cell(self, cell: Cell) -> Cell:
        return tuple(map(self.inline, cell))

    def inline(self, inline: Inline) -> Inline:
        match inline:
            case Value(key=key) if key:
                target = self.xrefs.of_fact(key, self.here, self.row)
                return Hyperlink((inline,), target) if target else inline
            case Literal(text) if self.in_table and text in self.xrefs.codes:
                return Hyperlink((inline,), f"rule:{text}")
            case Strong(children):
                return Strong(self.cell(children))
            case Emphasis(children):
                return Emphasis(self.cell(children))
            case Footnote(children):
                return Footnote(self.blocks(children))
            case _:
                return inline


def _system_of(cell: Cell) -> str:
    """The build or platform that a row is about: what alone stands in its first cell, as a link."""
    match cell:
        case (Hyperlink(target=target),) if target.startswith(("build:", "platform:")):
            return "" if "/" in target or "#" in target else target
    return ""
