"""What the facts of a ledger are to expressions: which there are, and of which type each is."""

from collections.abc import Callable, Collection, Iterable
from functools import cached_property
from typing import Any, get_args, get_type_hints

from specgen.expressions.types import Type, alternatives_of, table_of
from specgen.expressions.vocabulary import Readable
from specgen.facts.fact_inputs import FactOf
from specgen.facts.inputs import Assumption, Input, Inspected, OfField, SubjectField
from specgen.facts.ledger import Ledger
from specgen.facts.registry import AnyCalculator
from specgen.model import KINDS, Assumptions


class FactTypes:
    """The facts that the calculators of a ledger make."""

    def __init__(self, ledger: Ledger) -> None:
        self.ledger = ledger
        self._found: dict[str, Readable | None] = {}

    @property
    def keys(self) -> Collection[str]:
        return self.ledger.by_key

    def readable(self, key: str) -> Readable | None:
        """What a key stands for, None where no calculator makes such a fact."""
        if key not in self._found:
            self._found[key] = self._readable(key)
        return self._found[key]

    def calculator(self, key: str) -> AnyCalculator | None:
        """What makes a fact of this name, for some subject where it has several."""
        known = self.ledger.by_key.get(key) if "{" not in key else None
        if known is not None:
            return known
        fitting = (each for each in self._templates if subject_in(key, each) is not None)
        return self.ledger.by_key.get(next(fitting, ""))

    def _readable(self, key: str) -> Readable | None:
        calculator = self.calculator(key)
        if calculator is None:
            return None
        subject = subject_in(key, calculator.key) or ""
        return Readable(types_of(calculator, self.ledger), calculator.within, subject)

    @cached_property
    def _templates(self) -> tuple[str, ...]:
        """The longest first: `parts.{part}.mass` is no `parts.{part}` of a part named so."""
        several = (key for key in self.ledger.by_key if "{" in key)
        return tuple(sorted(several, key=len, reverse=True))


def subject_in(key: str, template: str) -> str | None:
    """What a key is about by the template that it goes with; None where it does not go with it."""
    head, brace, rest = template.partition("{")
    if not brace:
        return "" if key == template else None
    tail = rest.partition("}")[2]
    subject = key[len(head) : len(key) - len(tail)]
    return subject if subject and key == f"{head}{subject}{tail}" else None


def types_of(calculator: AnyCalculator, ledger: Ledger) -> tuple[Type, ...]:
    """The types that a calculator's values can be of, by the annotations of its function.

    What it `holds` goes before them. Where neither tells anything, the value is one that an input
    reads (declared as it stands, the least of several), and its type is that of what is read.
    """
    stated = alternatives_of(calculator.holds or _annotated(calculator.function))
    if stated:
        return stated
    found = (_of_input(entry, ledger) for entry in calculator.inputs.values())
    return next((types for types in found if types), ())


def _annotated(function: Callable[..., Any]) -> Any:
    return get_type_hints(function).get("return")


def _of_input(entry: Input, ledger: Ledger) -> tuple[Type, ...]:
    match entry:
        case FactOf(key=key):
            return types_of(ledger.by_key[key], ledger)
        case Inspected(look=look):
            value = get_args(_annotated(look))[:1]
            return alternatives_of(value[0]) if value else ()
        case Assumption(name=name):
            taken = get_args(get_type_hints(Assumptions)[name])[0]  # of `Assumed[T] | None`
            return alternatives_of(get_args(taken)[0])
        case SubjectField(path=path):
            return _known(_along(cls, path) for cls in KINDS.values())[:1]
        case OfField(model=model, path=path):
            return _known([_along(model, path)])
    template = getattr(entry, "template", None)  # of what gathers a fact over its subjects
    return types_of(ledger.by_key[template], ledger) if isinstance(template, str) else ()


def _known(types: Iterable[Type | None]) -> tuple[Type, ...]:
    return tuple(type_ for type_ in types if type_ is not None)


def _along(cls: type[Any], path: tuple[str | int, ...]) -> Type | None:
    """The type of the field at `path` of a model class."""
    type_: Type | None = None
    holder: type[Any] | None = cls
    for step in path:
        type_ = table_of(holder).get(str(step)) if holder is not None else None
        holder = type_.record if type_ is not None else None
    return type_
