"""Values that a project declares: read once, they are calculators like all others.

Their formulas are expressions, so an input is the whole tree; what it reads of a system on the
way is its pedigree.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import field
from decimal import Decimal
from functools import partial
from typing import Any, Final, Literal

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Label, Span, codes, did_you_mean, question, quoted
from specgen.expressions import nodes
from specgen.expressions.evaluate import Evaluator
from specgen.expressions.read import Statement, read, read_value
from specgen.expressions.source_text import NAMES_OF_OTHERS, BadExpression, Followed, text_at
from specgen.expressions.types import TypeSort
from specgen.expressions.vocabulary import (
    FactNames,
    KnownPositions,
    Readable,
    Unreadable,
    Vocabulary,
)
from specgen.facts.fact import Basis, Facts
from specgen.facts.fact_types import FactTypes, subject_in, types_of
from specgen.facts.ledger import Ledger
from specgen.facts.registry import COUNTING, AnyCalculator, Calculator, SubjectSort, as_it_is
from specgen.facts.worked import Worked
from specgen.frozen import frozen, state
from specgen.messages import NO, YES, Message, Words, say
from specgen.model import Definitions, OwnValue
from specgen.quantity import Quantity, QuantityError, parse_any

KEPT: Final = ("limits", "order", "positions")
"""First words of keys that documents have for facts of their own."""
YesOrNo = Literal["yes", "no"]


@frozen
class OwnValues:
    """The values of a project that could be read, and what was found in the others.

    `doubtful` are findings about names that may be defined in what could not be read.
    """

    names: FactNames
    """The facts that the project's expressions may read, these among them."""
    calculators: tuple[AnyCalculator, ...] = ()
    findings: tuple[Finding, ...] = ()
    doubtful: tuple[Finding, ...] = ()


def own_values(definitions: Definitions, ledger: Ledger) -> OwnValues:
    """The declared values as calculators that stand beside those of a ledger."""
    known = FactTypes(ledger)
    if not definitions.project.values:
        return OwnValues(known)
    book = _ValueReader(definitions, known)
    for key in tuple(book.values):
        book.calculator(key)
    made = (book.made[key] for key in book.values)
    return OwnValues(
        book,
        tuple(each for each in made if each is not None),
        tuple(book.findings),
        tuple(book.doubtful),
    )


@frozen
class _Over:
    """What a value is repeated over, and the kinds of part that it is about, if any."""

    subjects: SubjectSort | None = None
    kinds: tuple[str, ...] = ()

    @property
    def word(self) -> str:
        return "" if self.subjects is None else self.subjects.word


class _Broken(Exception):
    """A mistake in a value beside its expressions."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.message)
        self.finding = finding


@state
class _ValueReader:
    """Reads value after value; one that reads another reads that one first."""

    definitions: Definitions
    known: FactTypes
    findings: list[Finding] = field(default_factory=list)
    doubtful: list[Finding] = field(default_factory=list)
    made: dict[str, AnyCalculator | None] = field(default_factory=dict)
    under_way: list[str] = field(default_factory=list)
    values: dict[str, tuple[int, OwnValue]] = field(init=False)
    places: KnownPositions = field(init=False)

    def __post_init__(self) -> None:
        self.values = {}
        self.places = KnownPositions(self.definitions)
        for index, value in enumerate(self.definitions.project.values):
            first = self.values.setdefault(value.key, (index, value))[0]
            if first != index:
                labels = (Label(self.at(first, "key"), say("first value")),)
                self.findings.append(_taken(value.key, self.at(index, "key"), labels))

    def at(self, index: int, *path: str) -> Span:
        return self.definitions.project.origin.at("values", index, *path)

    @property
    def keys(self) -> Collection[str]:
        return (*self.known.keys, *self.values)

    def readable(self, key: str) -> Readable | None:
        """A fact by its key; a declared value is read for it. Raises `Unreadable`."""
        found = self.known.readable(key)
        if found is not None:
            return found
        for own in self.values:
            subject = subject_in(key, own)
            if subject is not None:
                return self._own(own, subject)
        return None

    def _own(self, key: str, subject: str) -> Readable:
        if key in self.under_way:
            circle = (*self.under_way[self.under_way.index(key) :], key)
            raise Unreadable(circle)
        calculator = self.calculator(key)
        if calculator is None:
            raise Unreadable
        types = types_of(calculator, self.known.ledger)
        return Readable(types, calculator.within, subject)

    def calculator(self, key: str) -> AnyCalculator | None:
        """A value read, None where it cannot be; what is wrong is reported once."""
        if key not in self.made:
            index, value = self.values[key]
            self.under_way.append(key)
            try:
                self.made[key] = self._read(index, value)
            except _Broken as broken:
                self.findings.append(broken.finding)
                self.made[key] = None
            self.under_way.pop()
        return self.made[key]

    def _read(self, index: int, value: OwnValue) -> AnyCalculator | None:
        self._claim(index, value)
        over = self._over(index, value)
        platforms = tuple(self.definitions.platforms.values())
        vocabulary = Vocabulary(
            self.definitions, self.places, self, platforms, over.kinds, over.word
        )
        expression = self._expression(index, "expression", value.expression, vocabulary)
        when = self._expression(index, "when", value.when, vocabulary)
        if expression is None or (when is None) != (value.when is None):
            return None
        holds, finish = self._held(index, value, expression)
        formula: Words = value.expression
        if value.when is not None:
            formula = say("{formula}; where {condition}", formula=formula, condition=value.when)
        trees = [each.tree for each in (expression, when) if each is not None]
        return Calculator(
            value.key,
            value.label,
            value.short or value.label,
            value.formula or formula,
            COUNTING if value.source is None else value.source.words,
            over.subjects,
            Basis.CALCULATED,
            {"value": Worked(expression, when, self._needs(trees), bool(over.kinds), finish)},
            as_it_is,
            value.assumes or "",
            holds,
        )

    def _broken(
        self, code: Code, message: Message, index: int, field: str, help_: Message
    ) -> _Broken:
        return _Broken(Finding(code, message, Label(self.at(index, field)), help=help_))

    def _claim(self, index: int, value: OwnValue) -> None:
        """Refuses a key that something else has."""
        head, _, rest = value.key.partition(".")
        definitions = self.definitions
        if self.known.readable(value.key.replace("{", "").replace("}", "")) is not None:
            raise _Broken(_taken(value.key, self.at(index, "key")))
        if head in (*KEPT, *definitions.parts, *definitions.platforms, *definitions.builds):
            message = say("keys that begin with `{head}` are kept for other facts", head=f"{head}.")
            help_ = say("let it begin otherwise, such as `{key}`", key=f"house.{rest}")
            raise self._broken(codes.VALUE_SHAPE, message, index, "key", help_)

    def _over(self, index: int, value: OwnValue) -> _Over:
        """What the value is repeated over; refuses what nothing is named, and a key without it."""
        over = _Over() if value.over is None else self._named(index, value.over)
        head, wanted = value.key.split(".", 1)[0], f"{{{over.word}}}"
        if not over.word and "{" in value.key:
            message = say("`{key}` is about several things, and no `over` says which")
            message = message.filled(key=value.key)
            help_ = say("add `over: drives`, say, or leave the braces out")
            raise self._broken(codes.VALUE_SHAPE, message, index, "key", help_)
        if over.word and wanted not in value.key:
            message = say(
                "`{key}` does not say where `{wanted}` stands", key=value.key, wanted=wanted
            )
            help_ = say("write `{text}`", text=f"{head}.{wanted}.…")
            raise self._broken(codes.VALUE_SHAPE, message, index, "key", help_)
        return over

    def _named(self, index: int, over: str) -> _Over:
        kinds = self.places.table.collections.get(over)
        if kinds is not None:
            return _Over(
                SubjectSort("position", partial(_positions, kinds), say("Position")), kinds
            )
        calculators = self.known.ledger.by_key.values()
        subjects: dict[str, SubjectSort] = {}
        for each in calculators:  # the first is the widest: all volumes, then those with a spare
            if each.over is not None:
                subjects.setdefault(each.over.word, each.over)
        if over in subjects:
            return _Over(subjects[over])
        help_ = question(did_you_mean(over, (*self.places.table.collections, *subjects))) or say(
            "there are {names}", names=quoted(subjects)
        )
        message = say("no collection or subject is named `{name}`", name=over)
        raise self._broken(codes.RULE_NAME, message, index, "over", help_)

    def _expression(
        self, index: int, name: str, plain: str | None, vocabulary: Vocabulary
    ) -> Statement | None:
        if plain is None:
            return None
        text = text_at(self.definitions.project.origin, ("values", index, name), plain)
        try:
            return Statement((read if name == "when" else read_value)(text, vocabulary), text)
        except Followed:
            return None
        except BadExpression as refused:
            doubtful = refused.code in NAMES_OF_OTHERS
            (self.doubtful if doubtful else self.findings).append(refused.finding(text))
            return None

    def _needs(self, trees: list[nodes.Expression]) -> frozenset[str]:
        keys = {
            node.key
            for root in trees
            for node in nodes.walk(root)
            if isinstance(node, nodes.FactRef)
        }
        return frozenset(self._template(key) for key in keys)

    def _template(self, key: str) -> str:
        found = self.known.calculator(key)
        if found is not None:
            return found.key
        return next(own for own in self.values if subject_in(key, own) is not None)

    def _held(
        self, index: int, value: OwnValue, expression: Statement
    ) -> tuple[Any, Callable[[Any], Any]]:
        """The class of the values, and what makes them of what the expression comes to."""
        type_ = expression.tree.type
        if value.unit is None:
            return _PLAIN[type_.sort] if type_.quantity is None else (type_.quantity, as_it_is)
        if type_.sort not in (TypeSort.NUMBER, TypeSort.QUANTITY):
            message = say("`{key}` is {type}, which has no unit", key=value.key, type=type_.words)
            help_ = say("leave `unit` out")
            raise self._broken(codes.VALUE_SHAPE, message, index, "unit", help_)
        try:
            cls = type_.quantity or type(parse_any(f"1 {value.unit}"))
            cls.of(1, value.unit)
        except QuantityError as error:
            from specgen.diagnostics.bad_quantities import described  # where one is met

            code, message, help_ = described(error)
            raise self._broken(code, message, index, "unit", help_) from None
        if type_.quantity is None:
            return cls, partial(_of, cls, value.unit)
        return cls, partial(_in, value.unit)


def _taken(key: str, at: Span, labels: tuple[Label, ...] = ()) -> Finding:
    message = say("there is a fact named `{key}` already", key=key)
    help_ = say("choose another key, such as `house.…`")
    return Finding(codes.DUPLICATE_NAME, message, Label(at), labels=labels, help=help_)


def _positions(kinds: tuple[str, ...], assembly: Assembly) -> tuple[str, ...]:
    """Where parts of these kinds work."""
    return tuple(each.place.name for each in Evaluator(assembly, Facts.plain(())).members(kinds))


def _yes_no(value: bool) -> Message:
    return YES if value else NO


def _of(cls: type[Quantity], unit: str, number: Decimal) -> Quantity:
    return cls.of(number, unit)


def _in(unit: str, amount: Quantity) -> Quantity:
    return amount.to(unit)


_PLAIN: Final[Mapping[TypeSort, tuple[Any, Callable[[Any], Any]]]] = {
    TypeSort.NUMBER: (Decimal, as_it_is),
    TypeSort.TEXT: (str, as_it_is),
    TypeSort.TRUTH: (YesOrNo, _yes_no),
}
