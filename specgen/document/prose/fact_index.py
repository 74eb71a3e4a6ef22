"""The facts of a subject by what a sentence can say of them, for the values typed into prose."""

from collections.abc import Collection, Iterator
from functools import cached_property
from weakref import WeakKeyDictionary

from specgen.document.prose.language_words import LanguageWords, Typed
from specgen.document.prose.text_subjects import Subjects
from specgen.facts import Fact, Facts
from specgen.frozen import frozen
from specgen.quantity import Dimension, Quantity


@frozen
class LabelledFact:
    """What is known of a fact without working it out: its label in the language of the text."""

    key: str
    subject: frozenset[str]
    """The words that say which of several it is."""
    label: str
    folded: str


@frozen(eq=False)
class _Alike:
    """Facts of one label: those of a calculator."""

    keys: Collection[str]
    label: str
    folded: str
    telling: bool


class FactIndex:
    """The facts of a subject by what a sentence can say of them: looked up for each value.

    Those that a definition states come before those that are worked out.
    """

    def __init__(self, stated: Facts, worked_out: Facts, known: LanguageWords) -> None:
        self.facts = stated.merged_with(worked_out)
        self._known = known
        self._groups: list[_Alike] = []
        self._by_word: dict[str, list[_Alike]] = {}
        for facts in (stated, worked_out):
            for keys in facts.alike():
                named, *_ = facts.about(next(iter(keys)))
                label = known.label(named)
                group = _Alike(keys, label, label.casefold(), known.telling(label))
                self._groups.append(group)
                for word in known.words(label):
                    self._by_word.setdefault(word, []).append(group)

    def sharing(self, words: frozenset[str]) -> Iterator[LabelledFact]:
        """Those whose label has one of the words, in the order of the facts."""
        found = {id(group) for word in words for group in self._by_word.get(word, ())}
        return (row for group in self._groups if id(group) in found for row in self._rows(group))

    def telling(self, written: str) -> Iterator[LabelledFact]:
        """Those whose label stands in a text without capitals, and is more than a common word."""
        for group in self._groups:
            if group.telling and group.folded in written:
                yield from self._rows(group)

    def _rows(self, group: _Alike) -> Iterator[LabelledFact]:
        for key in group.keys:
            _, template, subject = self.facts.about(key)
            of_many = template != key and not template.startswith("{definition}")
            words = self._known.words(subject) if of_many else frozenset[str]()
            yield LabelledFact(key, words, group.label, group.folded)

    @cached_property
    def quantities(self) -> dict[Dimension, list[Fact]]:
        """Those with a unit, by what they measure."""
        found: dict[Dimension, list[Fact]] = {}
        for fact in self.facts.values():
            if isinstance(fact.value, Quantity):
                found.setdefault(fact.value.unit.dimension, []).append(fact)
        return found

    @cached_property
    def integers(self) -> dict[int, list[Fact]]:
        """Those that count, by their number."""
        found: dict[int, list[Fact]] = {}
        for fact in self.facts.values():
            if type(fact.value) is int:
                found.setdefault(fact.value, []).append(fact)
        return found

    def same(self, typed: Typed) -> Iterator[Fact]:
        """Those that the typed value may be."""
        if not typed.units:
            whole = typed.number == typed.number.to_integral_value()
            yield from self.integers.get(int(typed.number), ()) if whole else ()
            return
        for dimension in dict.fromkeys(unit.dimension for unit in typed.units):
            yield from (
                each for each in self.quantities.get(dimension, ()) if same_value(typed, each)
            )


_INDEXES: WeakKeyDictionary[Subjects, dict[tuple[str, int], FactIndex]] = WeakKeyDictionary()


def index_of(subject: str, subjects: Subjects, known: LanguageWords) -> FactIndex:
    """By the key that a reference would use; few of them are ever worked out."""
    kept = _INDEXES.setdefault(subjects, {})
    found = kept.get((subject, id(known)))
    if found is None:
        facts, stated = subjects.facts(subject), subjects.stated(subject)
        apart = {key: fact for key, fact in stated.items() if key not in facts}
        own = Facts(apart, {}, apart.__getitem__)
        found = kept[(subject, id(known))] = FactIndex(own, facts, known)
    return found


def same_value(typed: Typed, fact: Fact) -> bool:
    """Whether the fact, rounded to the decimals that were typed, is the value."""
    value = fact.value
    if not typed.units:
        return type(value) is int and value == typed.number
    if not isinstance(value, Quantity):
        return False
    for unit in typed.units:
        if unit.dimension is value.unit.dimension:
            exact = unit.from_base(value.amount)
            return bool(typed.number == exact.quantize(typed.number))
    return False
