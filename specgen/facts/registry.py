"""How a calculator is declared: key, label, formula, source, inputs, and the function itself."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from specgen.assembly import Assembly
from specgen.facts.fact import Basis
from specgen.facts.inputs import Along, At, FactOf, Input, OneOf

COUNTING = "arithmetic on declared values"


@dataclass(frozen=True, slots=True)
class Subjects:
    """What a calculator is repeated over: the word in braces of its key, and how to list them."""

    word: str
    listed: Callable[[Assembly], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Calculator:
    """A registered figure. Calling it calls the pure function."""

    key: str
    label: str
    formula: str
    source: str
    over: Subjects | None
    basis: Basis
    inputs: Mapping[str, Input]
    function: Callable[..., Any]
    assumes: str = ""
    holds: type[Any] | None = None
    """The class of its value, where the annotations of its function do not tell it."""

    def __call__(self, *values: Any, **named: Any) -> Any:
        return self.function(*values, **named)

    def named(self, subject: str) -> str:
        """The key of its fact about a subject."""
        if self.over is None:
            return self.key
        head, _, tail = self.key.partition(f"{{{self.over.word}}}")
        return f"{head}{subject}{tail}"

    @property
    def needs(self) -> frozenset[str]:
        """The keys of the calculators whose facts it reads."""
        found: set[str] = set()
        for entry in self.inputs.values():
            match entry:
                case FactOf():
                    found.add(entry.key)
                case Along() | At():
                    found.add(entry.template)
                case OneOf():
                    found.update(entry.keys.values())
        return frozenset(found)


def figure(
    key: str,
    label: str,
    *,
    formula: str,
    source: str = COUNTING,
    over: Subjects | None = None,
    assumes: str = "",
    holds: type[Any] | None = None,
    **inputs: Input,
) -> Callable[[Callable[..., Any]], Calculator]:
    """Declares the decorated pure function as the calculator of a fact.

    Its arguments are the inputs by name. It is not called, and the fact has no value, where an
    input has none (unless the input is optional). `assumes` says in words what the formula takes
    for granted beyond its inputs; `holds` is the class of the value where several calculators
    share a function.
    """

    def declare(function: Callable[..., Any]) -> Calculator:
        return Calculator(
            key, label, formula, source, over, Basis.CALCULATED, inputs, function, assumes, holds
        )

    return declare


def stated(
    key: str,
    label: str,
    value: Input,
    *,
    over: Subjects | None = None,
    holds: type[Any] | None = None,
) -> Calculator:
    """A fact that is a declared value as it stands."""
    return Calculator(
        key,
        label,
        "as declared",
        "the definition",
        over,
        Basis.DECLARED,
        {"value": value},
        lambda value: value,
        holds=holds,
    )
