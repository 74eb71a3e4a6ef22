"""Facts and their pedigree."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import field, replace
from decimal import Decimal
from enum import StrEnum
from itertools import chain
from typing import Any

from specgen.facts.tabled import tabled
from specgen.frozen import frozen
from specgen.messages import DOES_NOT_APPLY, NOT_DECLARED, Words
from specgen.model import Source, Span
from specgen.quantity import Quantity

Value = Quantity | Decimal | int | Words | tuple[Words, ...] | None
"""A `str` is data of the project; what the program says in words is a message."""


class PartId(str):
    """The id of a part as a value: documents print the part's name, with a link to it."""

    __slots__ = ()


class Basis(StrEnum):
    """How a value came about."""

    DECLARED = "declared"
    MEASURED = "measured"
    CALCULATED = "calculated"
    ESTIMATED = "estimated"
    LIMIT = "limit"


@frozen
class Declared:
    """A leaf of a pedigree: a value as a definition states it, and where."""

    label: Words
    stated: Any
    where: Callable[[], Span] = field(compare=False)
    source: Source | None = None
    subject: str = ""
    """The position or port it is about, where it is about one."""
    assumed: bool = False
    """Taken for granted by the project rather than stated of a part."""
    because: str = ""
    """Why what is taken for granted is reasonable."""
    name: str = ""
    """What it is to the program: a condition, an assumption, the steps to a field."""

    @property
    def value(self) -> Value:
        """What is stated, a table in one line: worded when it is asked for, which is seldom."""
        worded: Value = tabled(self.stated)
        return worded

    @property
    def silent(self) -> bool:
        """Whether nothing is stated, without wording it."""
        return self.stated is None or (isinstance(self.stated, Mapping) and not self.stated)

    @property
    def span(self) -> Span:
        return self.where()


@frozen
class Fact:
    """A value with its pedigree.

    `key` is its name, `template` the calculator's (`expansion.{slot}.bandwidth`), `subject` what
    it is about where there are several; `assumes` says what the formula takes for granted.
    `value` None means that it is not declared, and `inputs` then show what is missing, or that it
    does not apply: all is declared, and this system has no such value.
    """

    key: str
    template: str
    label: Words
    value: Value
    basis: Basis
    formula: Words
    source: Words
    rests: tuple["Rests", ...] = field(default=(), compare=False, repr=False)
    subject: str = ""
    assumes: Words = ""
    short: Words = ""
    """The label as the head of a column; empty where the label itself is short."""

    @property
    def inputs(self) -> "Trail":
        """What the value rests on: other facts, and leaves with their lines."""
        trails = (rest() if callable(rest) else rest for rest in self.rests)
        return tuple(entry for trail in trails for entry in trail)

    @property
    def said(self) -> Value:
        """The value, or in words why there is none."""
        if self.value is not None:
            return self.value
        return NOT_DECLARED if self.undeclared() else DOES_NOT_APPLY

    def undeclared(self, seen: "set[str] | None" = None) -> bool:
        """Whether something that it rests on is not declared, by way of facts without a value."""
        seen = set() if seen is None else seen
        seen.add(self.key)
        return any(
            entry.silent
            if isinstance(entry, Declared)
            else entry.value is None and entry.key not in seen and entry.undeclared(seen)
            for entry in self.inputs
        )

    @property
    def group(self) -> str:
        """The first word of the key: the subsystem."""
        return self.key.split(".", 1)[0]


About = tuple[Words, str, str]
"""Label, template and subject of a fact."""
Trail = tuple[Fact | Declared, ...]
Rests = Trail | Callable[[], Trail]
"""A trail, or what makes one: most values are printed without anybody asking why."""


class Facts(Mapping[str, Fact]):
    """All facts of one assembly by key, in the order of the registry.

    A fact is worked out when it is first asked for: a page that prints sixty of them does not pay
    for the others. Measured over the demo's builds, for a system of 518 facts: 0.1 ms to name
    them, 12 ms to work all of them out, 3 ms more to say what all of them rest on.
    """

    __slots__ = ("_about", "_done", "_keys", "_make", "_templates")

    def __init__(
        self,
        keys: Collection[str],
        templates: Mapping[str, Collection[str]],
        make: Callable[[str], Fact],
        about: "Callable[[str], About] | None" = None,
    ) -> None:
        self._keys = keys
        self._templates = templates
        self._make = make
        self._about = about
        self._done: dict[str, Fact] = {}

    @classmethod
    def plain(cls, facts: Iterable[Fact]) -> "Facts":
        """Facts that are worked out already."""
        done = {fact.key: fact for fact in facts}
        made = cls(done, {}, done.__getitem__)
        made._done = done
        return made

    def __getitem__(self, key: str) -> Fact:
        fact = self._done.get(key)
        if fact is None:
            if key not in self._keys:
                raise KeyError(key)
            fact = self._done[key] = self._make(key)
        return fact

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def find(self, key: str) -> Fact | None:
        """The fact, None where there is no such; `get` of a mapping takes longer to say so."""
        return self[key] if key in self._keys else None

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)

    def merged_with(self, others: "Facts") -> "Facts":
        """These facts and further ones, each still worked out when it is asked for."""
        keys = dict.fromkeys((*self._keys, *others))

        def holder(key: str) -> Facts:
            return self if key in self else others

        return Facts(
            keys,
            self._templates,
            lambda key: holder(key)[key],
            lambda key: holder(key).about(key),
        )

    def alike(self) -> Iterator[Collection[str]]:
        """The keys of the facts of each calculator, then those of none, each by itself."""
        yield from filter(None, self._templates.values())
        made = frozenset(chain.from_iterable(self._templates.values()))
        yield from ((key,) for key in self if key not in made)

    def without_value(self, where: "Callable[[Fact], bool]") -> "Facts":
        """The same facts, those without a value `where` it would mislead."""

        def made(key: str) -> Fact:
            fact = self[key]
            return replace(fact, value=None, rests=()) if where(fact) else fact

        return Facts(self._keys, self._templates, made, self.about)

    def about(self, key: str) -> "About":
        """What can be told of a fact without working it out."""
        if self._about is not None:
            return self._about(key)
        fact = self[key]
        return fact.label, fact.template, fact.subject

    def value(self, key: str) -> Value:
        """The value of a fact, None where there is no such fact or it is not declared."""
        return self[key].value if key in self._keys else None

    def of_all(
        self, template: str, meant: "Callable[[str], bool] | None" = None
    ) -> tuple[Fact, ...]:
        """The facts of one calculator, one for each subject, or for each that is `meant`."""
        keys = self._templates.get(template, ())
        return tuple(self[key] for key in keys if meant is None or meant(self.about(key)[2]))
