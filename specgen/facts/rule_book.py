"""All declared rules of a project, read once: typed trees, and what stands in their way.

They are read here rather than among the checks, since a fact rests on them: the highest inlet
temperature. What a broken one is told as is for `rules.declared`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import field
from functools import lru_cache
from typing import Final, Literal

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Label, Severity, Span, codes
from specgen.expressions.evaluate import Evaluator, FittedPart
from specgen.expressions.read import Statement, read
from specgen.expressions.reads import Reads, reads_of
from specgen.expressions.source_text import (
    NAMES_OF_OTHERS,
    BadExpression,
    Followed,
    SourceText,
    text_at,
)
from specgen.expressions.vocabulary import KnownPositions, Vocabulary
from specgen.facts import known_facts
from specgen.frozen import frozen, state
from specgen.messages import say
from specgen.model import Definitions, Family, Origin, Part, Platform, Project, Rule
from specgen.model.fields import Day
from specgen.model.pedigree import FieldPath

Scope = Literal["project", "family", "platform", "part"]
Owner = Project | Family | Platform | Part


@frozen
class CompiledRule:
    """One rule, ready for whoever reads it: the checker, the page, a solver.

    Where `when` holds (or is None), `must` has to hold, or with `forbids` must not hold. On a
    part's rule the trees may hold `It`, and the rule is about each position with that part.
    """

    rule: Rule
    owner: Owner
    scope: Scope
    must: Statement
    forbids: bool
    when: Statement | None
    code: Code = field(compare=False)
    at: Span = field(compare=False)
    """Where the rule's code is written."""
    reads: Reads = field(compare=False)

    @property
    def statements(self) -> tuple[Statement, ...]:
        return (self.must,) if self.when is None else (self.when, self.must)

    def covers(self, platform: Platform) -> bool:
        """Whether it may concern systems of a platform; a part's rule may concern any."""
        match self.owner:
            case Platform(id=name):
                return name == platform.id
            case Family(id=name):
                return name == platform.family
        return True

    def concerns(self, assembly: Assembly) -> bool:
        """Whether it is applied to a system on its day."""
        build = assembly.build
        own = None if build is None else build.date
        day = own or assembly.definitions.project.date
        return self.covers(assembly.platform) and self.in_force(day)

    def broken(self, evaluator: Evaluator, it: FittedPart | None) -> bool:
        """Whether a system breaks it, on a part's rule where that part sits. Raises `TooLong`."""
        evaluator.it = it
        if self.when is not None and not evaluator.holds(self.when.tree):
            return False
        return evaluator.holds(self.must.tree) is self.forbids

    def in_force(self, day: Day | None) -> bool:
        """Whether it is applied on a day; where no day is known it is."""
        first, last = self.rule.from_, self.rule.until
        if day is None:
            return True
        return (first is None or first <= day) and (last is None or day <= last)


@frozen
class RuleBook:
    """The rules of a project that could be read, and what was found in the others.

    `doubtful` are findings about names that may be defined in what could not be read.
    """

    rules: tuple[CompiledRule, ...] = ()
    findings: tuple[Finding, ...] = ()
    doubtful: tuple[Finding, ...] = ()
    general: tuple[CompiledRule, ...] = ()
    """Those of the project, of families and of platforms."""
    of_parts: Mapping[str, tuple[CompiledRule, ...]] = field(default_factory=dict)
    """Those of parts, by the part's id."""
    by_code: Mapping[str, CompiledRule] = field(default_factory=dict)
    all_codes: Mapping[str, Code] = field(default_factory=dict)
    """The codes of all rules, also of those that could not be read."""


EMPTY: Final = RuleBook()


def statement_of(
    plain: str, definitions: Definitions, platform: Platform
) -> tuple[Statement | None, tuple[Finding, ...]]:
    """A condition on systems of a platform that stands in no file, such as a wish.

    Findings then point at line 0 of a file without a name.
    """
    text = SourceText.of(plain, Span("", 0, 0, 0, 0))
    try:
        vocabulary = Vocabulary(
            definitions, KnownPositions(definitions), known_facts(definitions), (platform,)
        )
        return Statement(read(text, vocabulary), text), ()
    except BadExpression as refused:
        return None, (refused.finding(text),)


@lru_cache(maxsize=8)
def rule_book(definitions: Definitions) -> RuleBook:
    """The declared rules of a project; read once for each set of definitions."""
    owners = [entry for entry in _owners(definitions) if entry[0].rules]
    if not owners:
        return EMPTY
    compiler = _Compiler(definitions, KnownPositions(definitions))
    for owner, scope, path in owners:
        compiler.take(owner, scope, path)
    rules = tuple(compiler.rules)
    of_parts: dict[str, tuple[CompiledRule, ...]] = {}
    for rule in rules:
        if isinstance(rule.owner, Part):
            of_parts[rule.owner.id] = (*of_parts.get(rule.owner.id, ()), rule)
    return RuleBook(
        rules,
        tuple(compiler.findings),
        tuple(compiler.doubtful),
        tuple(rule for rule in rules if rule.scope != "part"),
        of_parts,
        {rule.code.id: rule for rule in rules},
        compiler.all_codes,
    )


def _owners(definitions: Definitions) -> Iterator[tuple[Owner, Scope, FieldPath]]:
    """All that may declare rules, and where its rules stand below its origin."""
    project = definitions.project
    yield project, "project", ("rules",)
    for index, family in enumerate(project.families):
        yield family, "family", ("families", index, "rules")
    for platform in definitions.platforms.values():
        yield platform, "platform", ("rules",)
    for part in definitions.parts.values():
        yield part, "part", ("rules",)


@state
class _Compiler:
    """Reads rule after rule."""

    definitions: Definitions
    places: KnownPositions
    rules: list[CompiledRule] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    doubtful: list[Finding] = field(default_factory=list)
    taken: dict[str, Span] = field(default_factory=dict)
    all_codes: dict[str, Code] = field(default_factory=dict)

    def take(self, owner: Owner, scope: Scope, path: FieldPath) -> None:
        """All rules of one owner."""
        origin = self.definitions.project.origin if isinstance(owner, Family) else owner.origin
        vocabulary = self._vocabulary(owner)
        for index, rule in enumerate(owner.rules):
            where = (*path, index)
            at = origin.at(*where, "code")
            first = self.taken.setdefault(rule.code, at)
            code = self.all_codes.setdefault(rule.code, _code(rule))
            if first != at:
                self.findings.append(_twice(rule.code, at, first))
                continue
            if origin.doubled(*where):
                continue  # nobody knows what it asks for
            problem = _misshapen(rule, origin, where)
            if problem is not None:
                self.findings.append(problem)
                continue
            when = self._statement(rule.when, origin, (*where, "when"), vocabulary)
            word = "forbid" if rule.require is None else "require"
            text = rule.forbid if rule.require is None else rule.require
            must = self._statement(text, origin, (*where, word), vocabulary)
            if must is not None and (when is not None) == (rule.when is not None):
                forbids = rule.require is None
                trees = [each.tree for each in (when, must) if each is not None]
                self.rules.append(
                    CompiledRule(rule, owner, scope, must, forbids, when, code, at, reads_of(trees))
                )

    def _vocabulary(self, owner: Owner) -> Vocabulary:
        platforms = tuple(self.definitions.platforms.values())
        match owner:
            case Platform():
                platforms = (owner,)
            case Family(id=name):
                platforms = tuple(each for each in platforms if each.family == name)
        it = (owner.kind,) if isinstance(owner, Part) else ()
        return Vocabulary(
            self.definitions, self.places, known_facts(self.definitions), platforms, it
        )

    def _statement(
        self, plain: str | None, origin: Origin, path: FieldPath, vocabulary: Vocabulary
    ) -> Statement | None:
        if plain is None:
            return None
        text = text_at(origin, path, plain)
        try:
            return Statement(read(text, vocabulary), text)
        except Followed:
            return None
        except BadExpression as refused:
            doubtful = refused.code in NAMES_OF_OTHERS
            (self.doubtful if doubtful else self.findings).append(refused.finding(text))
            return None


def _code(rule: Rule) -> Code:
    because = (rule.because or "").rstrip(".")
    title = because or "rule of the definitions"
    severity = Severity(rule.severity)
    return Code(rule.code, title, severity, because=rule.because or title)


def _twice(code: str, at: Span, first: Span) -> Finding:
    return Finding(
        codes.DUPLICATE_NAME,
        say("two rules have the code `{code}`", code=code),
        Label(at, say("second rule")),
        labels=(Label(first, say("first rule")),),
        help=say("give one of them another code"),
    )


def _misshapen(rule: Rule, origin: Origin, path: FieldPath) -> Finding | None:
    """What is wrong with a rule before its conditions are read."""
    if (rule.require is None) == (rule.forbid is None):
        both = rule.require is not None
        at = origin.key(*path, "forbid") if both else origin.at(*path, "code")
        return Finding(
            codes.RULE_SHAPE,
            say("`{code}` requires and forbids", code=rule.code)
            if both
            else say("`{code}` asks for nothing", code=rule.code),
            Label(at, say("the second of two") if both else say("needs `require` or `forbid`")),
            help=say("make two rules of it") if both else say("add `require: …` or `forbid: …`"),
        )
    if rule.from_ is not None and rule.until is not None and rule.until < rule.from_:
        return Finding(
            codes.WRONG_VALUE,
            say("`until` lies before `from`, so `{code}` is never applied", code=rule.code),
            Label(origin.at(*path, "until")),
            labels=(Label(origin.at(*path, "from"), say("from")),),
            help=say("swap the dates, or delete the rule"),
        )
    return None
