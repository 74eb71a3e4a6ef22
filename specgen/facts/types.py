"""What the facts of a ledger are to expressions: which there are, and of which type each is."""

import re
from collections.abc import Collection
from functools import cached_property
from typing import Any, Final, get_type_hints

from specgen.expressions.types import Type, alternatives_of, table_of
from specgen.expressions.vocabulary import Readable
from specgen.facts.inputs import Assumption, Condition, Input, Of, PlatformField
from specgen.facts.ledger import Ledger
from specgen.facts.registry import Calculator
from specgen.model import KINDS, Assumptions, Conditions, Platform

_SUBJECT: Final = re.compile(r"\\\{\w+\\\}")


class Known:
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

    def _readable(self, key: str) -> Readable | None:
        calculator = self.ledger.by_key.get(key) if "{" not in key else None
        if calculator is not None:
            return Readable(types_of(calculator), calculator.label)
        for pattern, calculator in self._templates:
            found = pattern.match(key)
            if found is not None:
                return Readable(types_of(calculator), calculator.label, found[1])
        return None

    @cached_property
    def _templates(self) -> tuple[tuple[re.Pattern[str], Calculator], ...]:
        return tuple(
            (re.compile(_SUBJECT.sub("(.+)", re.escape(key)) + r"\Z"), calculator)
            for key, calculator in self.ledger.by_key.items()
            if "{" in key
        )


def types_of(calculator: Calculator) -> tuple[Type, ...]:
    """The types that a calculator's values can be of, by the annotations of its function.

    What it `holds` goes before them; a value that stands as declared has the type of its field.
    """
    hint = calculator.holds or get_type_hints(calculator.function).get("return")
    if hint is not None:
        return alternatives_of(hint)
    source = calculator.inputs.get("value")
    found = None if source is None else _of_input(source)
    return () if found is None else (found,)


def _of_input(source: Input) -> Type | None:
    match source:
        case PlatformField(path=path):
            return _along(Platform, path)
        case Condition(name=name):
            return table_of(Conditions).get(name)
        case Assumption(name=name):
            hint = get_type_hints(Assumptions)[name]
            inner = getattr(hint.__args__[0], "__args__", ())
            return alternatives_of(inner[0])[0] if inner else None
        case Of(path=path):
            found = (_along(cls, path) for cls in KINDS.values())
            return next((type_ for type_ in found if type_ is not None), None)
    return None


def _along(cls: type[Any], path: tuple[str | int, ...]) -> Type | None:
    """The type of the field at `path` of a model class."""
    type_: Type | None = None
    holder: type[Any] | None = cls
    for step in path:
        type_ = table_of(holder).get(str(step)) if holder is not None else None
        holder = type_.record if type_ is not None else None
    return type_
