"""What is told: a finding of the definitions, or of a build that was made of them."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import field
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Finding, Severity, Span
from specgen.expressions.reads import NOTHING_READ, Reads
from specgen.facts.rule_book import rule_book
from specgen.frozen import frozen
from specgen.messages import Listed, Message, Naming

MOST_NAMED: Final = 5
"""So many of what goes with a finding are shown with it."""
Line = tuple[str, int]
_NUMBER: Final = re.compile(r"\d.*$")


@frozen
class Told:
    """A finding, and the build that it is of; None where it is of definitions."""

    finding: Finding
    assembly: Assembly | None = None
    _once: dict[object, frozenset[str]] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    def once(self, what: object, make: Callable[[], frozenset[str]]) -> frozenset[str]:
        """Names that follow from the finding, under the name `what`: made once, then kept."""
        if what not in self._once:
            self._once[what] = make()
        return self._once[what]

    @property
    def system(self) -> str:
        if self.assembly is None:
            return ""
        return (self.assembly.build or self.assembly.platform).id

    @property
    def is_error(self) -> bool:
        return self.finding.severity is Severity.ERROR

    @property
    def spans(self) -> tuple[Span, ...]:
        return self.finding.spans


def line_of(span: Span) -> Line:
    """The file and the line of a place."""
    return span.file, span.line


def names_in(words: object) -> Iterator[str]:
    """The names that the arguments of a message hold."""
    match words:
        case Message():
            for each in words.named.values():
                yield from names_in(each)
        case Listed(items):
            for each in items:
                yield from names_in(each)
        case Naming(names=names):
            yield from names
        case str() if words:
            yield words


def stem(name: str) -> str:
    """A name of a position without its number and without what brings it."""
    return _NUMBER.sub("", name.rpartition(".")[2])


def asked_by(assembly: Assembly, finding: Finding) -> Reads:
    """What the declared rule that a finding is of asks for; nothing where it is of another."""
    rule = rule_book(assembly.definitions).by_code.get(finding.code.id)
    return NOTHING_READ if rule is None else rule.reads


@frozen
class Rests:
    """What a build rests on: the lines of its definitions, and where it has them."""

    lines: frozenset[Line]
    """Of its platform and its parts."""
    fitted: Mapping[Line, frozenset[Span]]
    """By a line of a part: the lines of the build that it is fitted by."""
    kinds: Mapping[Line, str]
    """And its kind."""


def rests_of(assembly: Assembly) -> Rests:
    """What a build rests on, gone through once."""
    return assembly.once(rests_of, lambda: _rests(assembly))


def _rests(assembly: Assembly) -> Rests:
    lines = {line_of(span) for span in assembly.platform.origin.everywhere()}
    fitted: dict[Line, set[Span]] = {}
    kinds: dict[Line, str] = {}
    seen: dict[str, frozenset[Line]] = {}
    for place, part in assembly.everything():
        if part.id not in seen:
            seen[part.id] = frozenset(line_of(span) for span in part.origin.everywhere())
            kinds.update(dict.fromkeys(seen[part.id], part.kind))
        lines |= seen[part.id]
        if place.filled_at is not None:
            for line in seen[part.id]:
                fitted.setdefault(line, set()).add(place.filled_at)
    return Rests(
        frozenset(lines), {line: frozenset(spans) for line, spans in fitted.items()}, kinds
    )


def builds_of(told: Iterable[Told]) -> tuple[str, ...]:
    """The builds that findings are of."""
    return tuple(sorted({each.system for each in told if each.assembly is not None}))
