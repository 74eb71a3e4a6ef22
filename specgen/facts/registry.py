"""How a calculator is declared: key, label, formula, source, inputs, and the function itself."""

from collections.abc import Callable, Iterator, Mapping, Sized
from dataclasses import field
from typing import Any, Final, Generic, ParamSpec, Required, TypedDict, TypeVar, Unpack

from specgen.assembly import Assembly
from specgen.facts.fact import Basis, Rests
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Input, Inspected, needs_of
from specgen.frozen import frozen
from specgen.messages import Message, Sayable, Words, say
from specgen.quantity import Magnitude

P = ParamSpec("P")
R = TypeVar("R")

COUNTING: Final = say("arithmetic on declared values")

InputOrKey = Input | str
"""An input; a text is the key of another fact."""


@frozen
class SubjectSort:
    """What a calculator is repeated over: the word in braces of its key, and how to list them.

    `label` heads the column that names them; `names` are the words for those that are no names of
    the project's own; `sorts` those of subjects that are a sort and a name, `processor CPU1`; with
    `parts` they are ids of parts.
    """

    word: str
    listed: Callable[[Assembly], tuple[str, ...]]
    label: Words = ""
    names: Mapping[str, Message] = field(default_factory=dict, compare=False)
    parts: bool = False
    sorts: Mapping[str, Message] = field(default_factory=dict, compare=False)

    def called(self, subject: str) -> Words:
        """A subject in words; among those with words of ours the id of another reads like them."""
        sort, _, name = subject.partition(" ")
        if sort in self.sorts:
            return self.sorts[sort].filled(name=name)
        if not self.names:
            return subject
        return self.names.get(subject) or subject.replace("-", " ").capitalize()


@frozen
class Calculator(Generic[P, R]):
    """How a fact is made. Calling it calls the pure function."""

    key: str
    label: Words
    short: Words
    """The label as the head of a column, below the name of what the table is about."""
    formula: Words
    source: Words
    over: SubjectSort | None
    basis: Basis
    inputs: Mapping[str, Input]
    function: Callable[P, R]
    assumes: Words = ""
    holds: Any = None
    """The class of its value, where neither its function nor its input tells it."""
    noun: str = ""
    """What a sentence of a rule calls it, in English, where the label cannot stand in one."""

    @property
    def within(self) -> Words:
        """The label as it stands in a sentence."""
        return self.noun or self.label

    def __call__(self, *values: P.args, **named: P.kwargs) -> R:
        return self.function(*values, **named)

    def named(self, subject: str) -> str:
        """The key of its fact about a subject."""
        if self.over is None:
            return self.key
        head, tail = self.ends
        return f"{head}{subject}{tail}"

    @property
    def ends(self) -> tuple[str, str]:
        """What stands in its key before the subject, and after it."""
        head, _, tail = self.key.partition(f"{{{self.over.word if self.over else ''}}}")
        return head, tail

    @property
    def needs(self) -> frozenset[str]:
        """The keys of the calculators whose facts it reads."""
        return frozenset().union(*map(needs_of, self.inputs.values()))


class Declaration(TypedDict, total=False):
    """What a declaration may say besides key, label and inputs; `Calculators` tells of each."""

    formula: Required[Words]
    noun: str
    short: Words
    source: Words
    over: SubjectSort
    assumes: Words
    holds: Any


AnyCalculator = Calculator[..., Any]


class Calculators:
    """The calculators of a module in the order of their definition; `fact = Calculators()`.

    Calling it declares the decorated pure function as the calculator of a fact:

        @fact("power.headroom", "Headroom", formula="output less load", load="power.load", …)
        def headroom(output: Power, load: Power) -> Power:
            return output - load

    The arguments of the function are the inputs by name; a text is the key of another fact. It is
    not called, and the fact has no value, where an input has none (unless the input is optional).
    The methods declare the commonest formulas without a function.

    Every declaration may say: `short`, the label as the head of a column; `noun`, what sentences
    call it where the label has a comma; `source` of the formula; `over`, what it is repeated over;
    `assumes`, what the formula takes for granted beyond its inputs; `holds`, the class of the value
    where annotations do not tell it.
    """

    def __init__(self) -> None:
        self._made: list[AnyCalculator] = []

    def __iter__(self) -> Iterator[AnyCalculator]:
        return iter(self._made)

    def __call__(
        self,
        key: str,
        label: Words,
        *,
        formula: Words,
        noun: str = "",
        short: Words = "",
        source: Words = COUNTING,
        over: SubjectSort | None = None,
        basis: Basis = Basis.CALCULATED,
        assumes: Words = "",
        holds: Any = None,
        **inputs: InputOrKey,
    ) -> Callable[[Callable[P, R]], Calculator[P, R]]:
        """Declares the decorated function as the calculator of a fact."""

        def declare(function: Callable[P, R]) -> Calculator[P, R]:
            made = Calculator(
                key,
                label,
                short or label,
                formula,
                source if isinstance(source, Sayable) else Message(source),
                over,
                basis,
                {name: FactOf(e) if isinstance(e, str) else e for name, e in inputs.items()},
                function,
                assumes,
                holds,
                noun,
            )
            self._made.append(made)
            return made

        return declare

    def stated(
        self,
        key: str,
        label: Words,
        value: Input,
        *,
        noun: str = "",
        short: Words = "",
        over: SubjectSort | None = None,
        holds: Any = None,
    ) -> AnyCalculator:
        """A value that stands in the definitions."""
        return self(
            key, label, formula=say("as declared"), source=say("the definition"), noun=noun,
            short=short, over=over, basis=Basis.DECLARED, holds=holds, value=value,
        )(as_it_is)  # fmt: skip

    def seen(
        self, key: str, label: Words, **declaration: Unpack[Declaration]
    ) -> Callable[[Callable[[Assembly, str], tuple[Any, Rests]]], AnyCalculator]:
        """A value that the decorated function reads off the assembly, with what it rests on."""

        def declare(look: Callable[[Assembly, str], tuple[Any, Rests]]) -> AnyCalculator:
            return self(key, label, value=Inspected(look), **declaration)(as_it_is)

        return declare

    def printed(
        self,
        key: str,
        label: Words,
        amount: InputOrKey,
        unit: str,
        **declaration: Unpack[Declaration],
    ) -> AnyCalculator:
        """The same amount in another unit."""

        def printed(amount: Any) -> Any:
            return amount.to(unit)

        return self(key, label, amount=amount, **declaration)(printed)

    def count(
        self, key: str, label: Words, things: InputOrKey, **declaration: Unpack[Declaration]
    ) -> AnyCalculator:
        """How many things an input gives."""
        return self(key, label, things=things, **declaration)(_count)

    def least(
        self, key: str, label: Words, values: InputOrKey, **declaration: Unpack[Declaration]
    ) -> AnyCalculator:
        """The least of some values; none of none."""
        return self(key, label, values=values, **declaration)(_least)

    def most(
        self, key: str, label: Words, values: InputOrKey, **declaration: Unpack[Declaration]
    ) -> AnyCalculator:
        """The greatest of some values; none of none."""
        return self(key, label, values=values, **declaration)(_most)

    def total(
        self,
        key: str,
        label: Words,
        amounts: InputOrKey,
        of: type[Magnitude] | type[int] = int,
        unit: str = "",
        *,
        needs_some: bool = False,
        **declaration: Unpack[Declaration],
    ) -> AnyCalculator:
        """The sum of numbers, or of amounts `of` a dimension, in `unit` or else that of the first.

        The sum of nothing is nothing; with `needs_some` it has no value.
        """

        def total(amounts: tuple[Any, ...]) -> Any:
            if needs_some and not amounts:
                return None
            if not issubclass(of, Magnitude):
                return sum(amounts)
            whole = of.zero().with_all(amounts)
            return whole.to(unit) if unit else whole

        declaration["holds"] = of
        return self(key, label, amounts=amounts, **declaration)(total)


def as_it_is(value: Any) -> Any:
    """The formula of what is read and not worked out."""
    return value


def _count(things: Sized) -> int:
    return len(things)


def _least(values: tuple[Any, ...]) -> Any:
    return min(values, default=None)


def _most(values: tuple[Any, ...]) -> Any:
    return max(values, default=None)
