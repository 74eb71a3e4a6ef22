"""Other facts as the inputs of a calculator: what they come to, and the facts as the trail."""

from collections.abc import Callable, Mapping
from typing import Any

from specgen.facts.fact import Fact, Rests
from specgen.facts.inputs import Context
from specgen.frozen import frozen


@frozen
class FactOf:
    """Another fact; `{…}` in its key stands for the subject. `optional`: its value may be None."""

    key: str
    optional: bool = False

    @property
    def needs(self) -> frozenset[str]:
        return frozenset({self.key})

    def read(self, context: Context) -> tuple[Any, Rests]:
        key = self.key
        if "{" in key:
            start, end = key.index("{"), key.index("}")
            key = key[:start] + context.subject + key[end + 1 :]
        fact = context.facts.find(key)
        return (None, ()) if fact is None else (fact.value, (fact,))


@frozen
class ChosenFact:
    """One of several facts, chosen by the subject: its key by the subject's name."""

    keys: Mapping[str, str]

    @property
    def needs(self) -> frozenset[str]:
        return frozenset(self.keys.values())

    def read(self, context: Context) -> tuple[Any, Rests]:
        fact = context.facts.find(self.keys.get(context.subject, ""))
        return (None, ()) if fact is None else (fact.value, (fact,))


@frozen
class FactOfSubject:
    """The fact of one subject, named here rather than by the calculator in hand."""

    template: str
    subject: str

    @property
    def needs(self) -> frozenset[str]:
        return frozenset({self.template})

    def read(self, context: Context) -> tuple[Any, Rests]:
        for fact in context.facts.of_all(self.template, self.subject.__eq__):
            return fact.value, (fact,)
        return None, ()


@frozen
class FactsOfAll:
    """The values of a fact over all its subjects, as a tuple; those without a value left out, and
    told only where all are.

    With `strict`, one without a value leaves the whole without one.
    """

    template: str
    when: Callable[[Fact, str], bool] | None = None
    strict: bool = False

    @property
    def needs(self) -> frozenset[str]:
        return frozenset({self.template})

    def read(self, context: Context) -> tuple[Any, Rests]:
        meant = tuple(
            fact
            for fact in context.facts.of_all(self.template)
            if self.when is None or self.when(fact, context.subject)
        )
        facts = meant if self.strict else tuple(each for each in meant if each.value is not None)
        values = tuple(fact.value for fact in facts)
        return (None if self.strict and None in values else values), facts or meant
