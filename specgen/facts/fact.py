"""Facts and their pedigree."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from specgen.model import Source, Span
from specgen.quantity import Quantity

Value = Quantity | Decimal | int | str | tuple[str, ...] | None


class Basis(StrEnum):
    """How a figure came about."""

    DECLARED = "declared"
    MEASURED = "measured"
    CALCULATED = "calculated"
    LIMIT = "limit"


@dataclass(frozen=True, slots=True)
class Declared:
    """A leaf of a pedigree: a value as a definition states it, and where."""

    label: str
    value: Value
    where: Callable[[], Span] = field(compare=False)
    source: Source | None = None
    subject: str = ""
    """The position or port it is about, where it is about one."""
    assumed: bool = False
    """Taken for granted by the project rather than stated of a part."""

    @property
    def span(self) -> Span:
        return self.where()


@dataclass(frozen=True, slots=True)
class Fact:
    """A figure with its pedigree.

    `key` is its name, `template` the calculator's (`expansion.{slot}.bandwidth`), `subject` what
    it is about where there are several; `assumes` says what the formula takes for granted.
    `value` None means that it is not declared; `inputs` then show what is missing.
    """

    key: str
    template: str
    label: str
    value: Value
    basis: Basis
    formula: str
    source: str
    inputs: tuple["Fact | Declared", ...] = ()
    subject: str = ""
    assumes: str = ""

    @property
    def group(self) -> str:
        """The first word of the key: the subsystem."""
        return self.key.split(".", 1)[0]


class Facts(Mapping[str, Fact]):
    """All facts of one assembly by key, in the order of the registry."""

    __slots__ = ("_facts", "_templates")

    def __init__(self, facts: dict[str, Fact], templates: dict[str, list[Fact]]) -> None:
        self._facts = facts
        self._templates = templates

    def __getitem__(self, key: str) -> Fact:
        return self._facts[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._facts)

    def __len__(self) -> int:
        return len(self._facts)

    def value(self, key: str) -> Value:
        """The value of a fact, None where there is no such fact or it is not declared."""
        fact = self._facts.get(key)
        return None if fact is None else fact.value

    def along(self, template: str) -> tuple[Fact, ...]:
        """The facts of one calculator, one for each subject."""
        return tuple(self._templates.get(template, ()))
