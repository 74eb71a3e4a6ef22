"""Values typed by hand, held against the facts of what their sentence is about.

A sentence must be about one thing: what it names, or, where it names nothing, what its text is
about. A value counts as another than a fact's only where the words of the fact's label, in the
language of the text, stand in its clause with none but plain words beside them, and nothing in the
sentence compares or weighs. So a sentence is rather left alone than blamed: words that make a
value something else are without end, and where a list of them alone decided, it blamed 20 of 36
sentences that it had not foreseen. They stand in `tests/prose/sentences` now.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.document.prose.fact_index import FactIndex, index_of, same_value
from specgen.document.prose.language_words import LanguageWords, Typed, vocabulary
from specgen.document.prose.name_finder import Named, sentences
from specgen.document.prose.passages import Passage
from specgen.document.prose.phrases import meant, phrased
from specgen.document.prose.reference import FACT, Reference
from specgen.document.prose.text_subjects import Subjects
from specgen.facts import Fact
from specgen.facts.declared import OWN
from specgen.frozen import frozen
from specgen.messages import Message, say
from specgen.quantity import Quantity, show

MOST_VALUES: Final = 40
"""In a sentence: one with more is a list, about many things."""


def typed_values(
    passage: Passage, about: str, named: Sequence[Named], subjects: Subjects, language: str
) -> list[Finding]:
    """What typed values of a passage, in which something is `named`, say that facts say otherwise,
    or say too.

    Nothing of a passage in a language that has no word lists.
    """
    known = vocabulary(language)
    if known is None:
        return []
    typed = known.typed(passage.flat)
    starts, named_at = [each.start for each in typed], [each.start for each in named]
    findings: list[Finding] = []
    for start, end in sentences(passage.flat):
        values = typed[bisect_left(starts, start) : bisect_left(starts, end)]
        values = values or known.listed(passage.flat[start:end], start)
        if not values or len(values) > MOST_VALUES:
            continue
        if passage.flat[start:end].rstrip().endswith(("?", "？")):
            continue
        within = named[bisect_left(named_at, start) : bisect_left(named_at, end)]
        values = [one for one in values if not any(n.start <= one.start < n.end for n in within)]
        ids = {each.id for each in within} or {about}
        if not values or len(ids) != 1 or not subjects.kind(subject := ids.pop()):
            continue
        index = index_of(subject, subjects, known)
        for at, one in enumerate(values):
            around = _Around(passage, start, end, values, at, within, known)
            found = _judged(one, around, subject, index, about)
            if found is not None:
                findings.append(found)
    return findings


@frozen
class _Around:
    """A value's surroundings: its sentence, the other values in it, what is named in it."""

    passage: Passage
    start: int
    end: int
    values: Sequence[Typed]
    at: int
    named: Sequence[Named]
    known: LanguageWords

    @property
    def bare(self) -> str:
        """The sentence with blanks for what is named in it and for its values."""
        letters = list(self.passage.flat[self.start : self.end])
        spans = [(each.start, each.end) for each in self.named]
        for start, end in (*spans, *((each.start, each.end) for each in self.values)):
            letters[start - self.start : end - self.start] = " " * (end - start)
        return "".join(letters)

    @property
    def clauses(self) -> tuple[str, str]:
        """The clause that the value stands in, and those of the sentence that have no value."""
        bare = self.bare
        seams = [each.span() for each in self.known.clause.finditer(bare)]
        firsts, lasts = [0, *(end for _, end in seams)], [*(start for start, _ in seams), len(bare)]
        places = [each.start - self.start for each in self.values]
        own, others = "", []
        for first, last in zip(firsts, lasts, strict=True):
            if first <= places[self.at] < last:
                own = bare[first:last]
            elif not any(first <= place < last for place in places):
                others.append(bare[first:last])
        return own, " ".join(others)

    @property
    def window(self) -> frozenset[str]:
        """The words that belong to the value: from the one before up to the end of its clause."""
        bare, own = self.bare, self.values[self.at]
        first = self.values[self.at - 1].end if self.at else self.start
        last = self.values[self.at + 1].start if self.at + 1 < len(self.values) else self.end
        seam = self.known.clause.search(bare, own.end - self.start, last - self.start)
        return self.known.words(
            bare[first - self.start : seam.start() if seam else last - self.start]
        )

    @property
    def alone(self) -> bool:
        """Whether no other value stands in the clause."""
        own, flat = self.values[self.at], self.passage.flat
        return all(
            self.known.clause.search(flat, min(own.end, each.end), max(own.start, each.start))
            for each in self.values
            if each is not own
        )

    def counts(self, label: str) -> bool:
        """Whether the value counts what the label says: `16 memory slots`."""
        own, flat = self.values[self.at], self.passage.flat
        return self.known.counts(flat[self.start : own.start], flat[own.end : self.end], label)

    def labels(self, label: str, words: frozenset[str]) -> bool:
        """Whether the value is the label's: all of it is among the words, or is counted."""
        return self.known.words(label) <= words or self.counts(label)

    def nearness(self, label: str) -> tuple[int, int]:
        """How much of a label stands by the value; of equal ones the shorter label is nearer."""
        words = self.known.words(label)
        return len(words & self.window), -len(words)


@frozen
class _Candidate:
    """A fact whose label, in the language of the text, stands by a value."""

    key: str
    fact: Fact
    label: str


def _judged(
    typed: Typed, around: _Around, subject: str, index: FactIndex, about: str
) -> Finding | None:
    known = around.known
    meant = _by_phrase(typed, around, index)
    if meant is not None:
        if same_value(typed, meant.fact):
            return _also_a_fact(typed, around, subject, meant, about)
        other = typed.units and any(fact.key in phrased(known) for fact in index.same(typed))
        return None if other else _contradicts(typed, around, subject, meant, about)
    candidate = list(_candidates(typed, around, index))
    if not candidate:
        return None
    equal = [each for each in candidate if same_value(typed, each.fact)]
    if equal:
        best = max(equal, key=lambda each: around.nearness(each.label))
        if not around.labels(best.label, around.window) or known.weighs(around.bare, best.label):
            return None
        return _also_a_fact(typed, around, subject, best, about)
    if any(_may_mean(typed, around, fact) for fact in index.same(typed)):
        return None
    clause, others = around.clauses
    words = known.words(clause)
    named = any(each.id == subject for each in around.named)
    fitting = [
        each
        for each in candidate
        if around.labels(each.label, words) and (named or known.telling(each.label))
    ]
    most = max((len(known.words(each.label)) for each in fitting), default=0)
    fitting = [each for each in fitting if len(known.words(each.label)) == most]
    if not fitting or len({show(each.fact.value) for each in fitting}) != 1 or not around.alone:
        return None
    label = fitting[0].label
    if not known.is_plain(f"{clause} {others}", label) or known.weighs(around.bare, label):
        return None
    return _contradicts(typed, around, subject, fitting[0], about)


def _by_phrase(typed: Typed, around: _Around, index: FactIndex) -> _Candidate | None:
    """The fact that a sentence says without its label."""
    text = around.passage.flat[around.start : around.end]
    named = [(each.start, each.end) for each in around.named]
    for keys in meant(typed, text, around.start, named, around.known):
        for key in keys:
            fact = index.facts.get(key)
            if fact is not None and _comparable(typed, fact):
                return _Candidate(key, fact, around.known.label(fact.label))
    return None


def _comparable(typed: Typed, fact: Fact) -> bool:
    """Whether a fact has a value of the typed one's sort."""
    if not typed.units:
        return type(fact.value) is int
    dimensions = {unit.dimension for unit in typed.units}
    return isinstance(fact.value, Quantity) and fact.value.unit.dimension in dimensions


def _may_mean(typed: Typed, around: _Around, fact: Fact) -> bool:
    """Whether a sentence may mean another fact that has the value's value.

    Small counts are many: that fact has to share a word with the sentence.
    """
    label = around.known.label(fact.label)
    return bool(typed.units) or bool(around.known.words(label) & around.window)


def _candidates(typed: Typed, around: _Around, index: FactIndex) -> Iterator[_Candidate]:
    """The facts that share the value's dimension and a word of their label with its words."""
    window, facts = around.window, index.facts
    if typed.units:
        dimensions = {unit.dimension for unit in typed.units}
        for row in index.sharing(window):
            if row.subject <= window:
                value = facts[row.key].value
                if isinstance(value, Quantity) and value.unit.dimension in dimensions:
                    yield _Candidate(row.key, facts[row.key], row.label)
        return
    written = around.passage.flat[around.start : around.end].replace("\n", " ").casefold()
    for row in index.telling(written):
        fits = row.subject <= window and around.counts(row.label)
        if fits and type(facts[row.key].value) is int:
            yield _Candidate(row.key, facts[row.key], row.label)


def told_in_cell(
    typed: Typed, cell: Passage, label: str, subject: str, subjects: Subjects, language: str
) -> Finding | None:
    """What a value by itself in a cell says otherwise, or says too, than the fact of a label."""
    known = vocabulary(language)
    words = known.words(label) if known is not None else frozenset[str]()
    if known is None or not words:
        return None
    index = index_of(subject, subjects, known)
    around = _Around(cell, 0, len(cell.flat), (typed,), 0, (), known)
    meant = [
        _Candidate(row.key, index.facts[row.key], row.label)
        for row in index.sharing(words)
        if not row.subject and row.folded == label.strip().casefold()
    ]
    meant = [each for each in meant if _comparable(typed, each.fact)]
    if not meant or len({show(each.fact.value) for each in meant}) != 1:
        return None
    best = min(meant, key=lambda each: each.key.startswith(f"{OWN}."))
    judged = _also_a_fact if same_value(typed, best.fact) else _contradicts
    return judged(typed, around, subject, best, "")


def _instead(typed: Typed, subject: str, key: str, about: str) -> Message:
    reference = Reference(FACT, key, "" if subject == about else subject)
    if typed.units:
        return say("in place of the value with its unit write `{text}`", text=str(reference))
    return say("in place of the number write `{text}`", text=str(reference))


def _also_a_fact(
    typed: Typed, around: _Around, subject: str, candidate: _Candidate, about: str
) -> Finding:
    return Finding(
        codes.VALUE_TYPED,
        say(
            "`{text}` is typed, and is a value of `{subject}`: {label}",
            text=_text(typed, around),
            subject=subject,
            label=candidate.fact.label,
        ),
        Label(around.passage.span(typed.start, typed.end), say("typed by hand")),
        help=_instead(typed, subject, candidate.key, about),
    )


def _contradicts(
    typed: Typed, around: _Around, subject: str, candidate: _Candidate, about: str
) -> Finding:
    return Finding(
        codes.VALUE_CONTRADICTED,
        say(
            "`{text}` is typed, and `{subject}` has {value} ({label})",
            text=_text(typed, around),
            label=candidate.fact.label,
            subject=subject,
            value=candidate.fact.value,
        ),
        Label(around.passage.span(typed.start, typed.end), say("typed by hand")),
        notes=(
            say(
                "`specgen explain {subject} {key}` shows where that comes from",
                subject=subject,
                key=candidate.key,
            ),
        ),
        help=_instead(typed, subject, candidate.key, about),
    )


def _text(typed: Typed, around: _Around) -> str:
    return around.passage.flat[typed.start : typed.end]
