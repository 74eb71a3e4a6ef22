"""The facts of a subject by what a sentence can say of them, for the values typed into prose."""

from collections.abc import Iterator
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


class FactIndex:
    """The facts of a subject by what a sentence can say of them: looked up for each value."""

    def __init__(self, facts: Facts, known: LanguageWords) -> None:
        self.facts = facts
        self.rows: list[LabelledFact] = []
        self.telling: list[LabelledFact] = []
        self.by_word: dict[str, list[int]] = {}
        before, label, folded = None, "", ""
        own, telling = frozenset[str](), False
        for key in facts:
            named, template, subject = facts.about(key)
            if template != before:  # the facts of one calculator follow one another
                before, label = template, known.label(named)
                folded, own, telling = label.casefold(), known.words(label), known.telling(label)
            of_many = template != key and not template.startswith("{definition}")
            words = known.words(subject) if of_many else frozenset[str]()
            row = LabelledFact(key, words, label, folded)
            for word in own:
                self.by_word.setdefault(word, []).append(len(self.rows))
            self.rows.append(row)
            if telling:
                self.telling.append(row)

    def sharing(self, words: frozenset[str]) -> Iterator[LabelledFact]:
        """Those whose label has one of the words, in the order of the facts."""
        found = {at for word in words for at in self.by_word.get(word, ())}
        return (self.rows[at] for at in sorted(found))

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
        whole = Facts(apart, {}, apart.__getitem__).merged_with(facts)
        found = kept[(subject, id(known))] = FactIndex(whole, known)
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
