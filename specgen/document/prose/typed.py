"""Figures typed by hand, held against the facts of what their sentence is about.

A sentence must be about one thing: what it names, or, where it names nothing, what its text is
about. A figure counts as another than a fact's only where the words of the fact's label stand by
it, and nothing in the sentence compares or weighs. So a sentence is rather left alone than blamed.
"""

import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.document.prose.names import Named, Names, sentences
from specgen.document.prose.passages import Passage
from specgen.document.prose.reference import FACT, Reference
from specgen.document.prose.subjects import Subjects
from specgen.facts import Fact
from specgen.frozen import frozen
from specgen.messages import say
from specgen.quantity import Quantity, show
from specgen.quantity.units import UNITS, Unit

NO_UNITS: Final = frozenset({"in", "d", "y", "t"})
"""Units that are also ordinary words or letters, and not taken for units in prose."""
WEIGHING: Final = frozenset(
    {
        *("about", "above", "almost", "approximately", "around", "at", "below", "beyond"),
        *("between", "difference", "down", "each", "every", "fewer", "for", "if", "instead"),
        *("less", "limit", "more", "most", "nearly", "only", "or", "other", "over", "per"),
        *("rather", "roughly", "save", "saves", "some", "than", "under", "unless", "until"),
        *("up", "when", "where", "while", "without", "would"),
    }
)
"""Words that make a figure something other than the plain value of a fact."""
IDLE: Final = frozenset(
    {
        *("a", "an", "and", "by", "fact", "in", "is", "it", "its", "of", "on", "one"),
        *("that", "the", "this", "to", "way", "with"),
    }
)
"""Words of labels that say nothing by themselves."""

_BY_SPELLING: Final[dict[str, list[Unit]]] = {}
for _unit in UNITS:
    for _spelling in dict.fromkeys((_unit.symbol, _unit.sign, *_unit.also)):
        if _spelling not in NO_UNITS:
            _BY_SPELLING.setdefault(_spelling, []).append(_unit)
_SPELLINGS: Final = "|".join(re.escape(each) for each in sorted(_BY_SPELLING, key=len)[::-1])
_FIGURE: Final = re.compile(
    r"(?<![\w.,/×–−+-])(?P<number>\d{1,3}(?:[ \u00a0\u202f]\d{3})+|\d+(?:\.\d+)?)"
    rf"[ \u00a0\u202f]?(?P<unit>{_SPELLINGS})(?![\w/²³·-])"
)
_COUNT: Final = re.compile(r"(?<![\w.,/×–−+-])(?P<number>\d{1,4})(?= [^\W\d_])")
_WORD: Final = re.compile(r"[^\W_]+")
_OWNER: Final = re.compile(
    r"([^\W\d_]+)['’]s\b|\b(?:of|in|for) (?:an?|the|its|each|every|one) ([^\W\d_]+)"
)
_MACHINE: Final = frozenset({"machine", "build", "platform", "server", "system", "box"})
_CLAUSE: Final = re.compile(r"[,;:()]|\band\b")


@frozen
class _Typed:
    """A figure in a sentence; no units where it counts something."""

    number: Decimal
    units: tuple[Unit, ...]
    start: int
    end: int


def typed_figures(passage: Passage, about: str, names: Names, subjects: Subjects) -> list[Finding]:
    """What typed figures of a passage say that facts say otherwise, or say too."""
    if not re.search(r"\d", passage.flat):
        return []
    named = names.within(passage)
    findings: list[Finding] = []
    for start, end in sentences(passage.flat):
        figures = [each for each in _figures(passage.flat) if start <= each.start < end]
        within = [each for each in named if start <= each.start < end]
        figures = [one for one in figures if not any(n.start <= one.start < n.end for n in within)]
        ids = {each.id for each in within} or {about}
        if not figures or len(ids) != 1 or not subjects.kind(subject := ids.pop()):
            continue
        facts = _facts(subject, subjects)
        for at, figure in enumerate(figures):
            scene = _Scene(passage, start, end, figures, at, within)
            found = _judged(figure, scene, subject, facts, about)
            if found is not None:
                findings.append(found)
    return findings


def _figures(flat: str) -> list[_Typed]:
    found = [
        _Typed(
            Decimal(re.sub(r"\s", "", match["number"])),
            tuple(_BY_SPELLING[match["unit"]]),
            match.start(),
            match.end(),
        )
        for match in _FIGURE.finditer(flat)
    ]
    taken = {each.start for each in found}
    found += [
        _Typed(Decimal(match["number"]), (), match.start(), match.end())
        for match in _COUNT.finditer(flat)
        if match.start() not in taken
    ]
    return sorted(found, key=lambda each: each.start)


def _facts(subject: str, subjects: Subjects) -> dict[str, Fact]:
    """By the key that a reference would use."""
    return {**subjects.stated(subject), **subjects.facts(subject)}


@frozen
class _Scene:
    """A figure's surroundings: its sentence, the other figures in it, what is named in it."""

    passage: Passage
    start: int
    end: int
    figures: Sequence[_Typed]
    at: int
    named: Sequence[Named]

    @property
    def sentence(self) -> str:
        return self.passage.flat[self.start : self.end]

    @property
    def window(self) -> frozenset[str]:
        """The words that belong to the figure: from the one before up to the end of its clause."""
        flat = self.passage.flat
        first = self.figures[self.at - 1].end if self.at else self.start
        last = self.figures[self.at + 1].start if self.at + 1 < len(self.figures) else self.end
        own = self.figures[self.at]
        clause = _CLAUSE.search(flat, own.end, last)
        last = clause.start() if clause else last
        text = "".join(
            " " if any(name.start <= place < name.end for name in self.named) else flat[place]
            for place in range(first, last)
            if not own.start <= place < own.end
        )
        return _words(text)

    def follows(self, label: str) -> bool:
        """Whether the label stands right behind the figure: `16 memory slots`."""
        rest = self.passage.flat[self.figures[self.at].end : self.end].lstrip()
        return re.match(rf"{re.escape(label)}\b", rest, re.IGNORECASE) is not None

    def nearness(self, fact: Fact) -> tuple[int, int]:
        """How much of the label stands by the figure; of equal ones the shorter label is nearer."""
        label = _words(str(fact.label))
        return len(label & self.window), -len(label)

    @property
    def owned(self) -> bool:
        """Whether the sentence speaks of something else's figure: of a part of the machine."""
        return any(
            not _MACHINE & _words(match[1] or match[2]) for match in _OWNER.finditer(self.sentence)
        )

    @property
    def weighs(self) -> bool:
        return bool(WEIGHING & {word.casefold() for word in _WORD.findall(self.sentence)})


def _judged(
    figure: _Typed, scene: _Scene, subject: str, facts: dict[str, Fact], about: str
) -> Finding | None:
    if scene.weighs:
        return None
    close = list(_close(figure, scene, facts))
    equal = [(key, fact) for key, fact in close if _same(figure, fact)]
    if equal:
        key, fact = max(equal, key=lambda each: scene.nearness(each[1]))
        return _also_a_fact(figure, scene, subject, key, fact, about)
    if any(_same(figure, fact) for fact in facts.values()):
        return None  # another fact of it has that value, and the sentence may mean that one
    named = any(each.id == subject for each in scene.named)
    if not named and scene.owned:
        return None
    fitting = [
        (key, fact)
        for key, fact in close
        if _labelled(scene, fact) and (named or len(_words(str(fact.label))) > 1)
    ]
    best = max((len(_words(str(fact.label))) for _, fact in fitting), default=0)
    fitting = [each for each in fitting if len(_words(str(each[1].label))) == best]
    if not fitting or len({show(fact.value) for _, fact in fitting}) != 1:
        return None
    return _contradicts(figure, scene, subject, *fitting[0], about)


def _close(figure: _Typed, scene: _Scene, facts: dict[str, Fact]) -> Iterator[tuple[str, Fact]]:
    """The facts that share the figure's dimension and a word of their label with its words."""
    window = scene.window
    dimensions = {unit.dimension for unit in figure.units}
    for key, fact in facts.items():
        of_many = fact.template != key and not fact.template.startswith("{definition}")
        if of_many and not _words(fact.subject) <= window:
            continue
        label, value = _words(str(fact.label)), fact.value
        if isinstance(value, Quantity):
            fits = value.unit.dimension in dimensions and bool(label & window)
        else:
            counts = type(value) is int and not figure.units
            fits = counts and len(label) > 1 and scene.follows(str(fact.label))
        if fits:
            yield key, fact


def _labelled(scene: _Scene, fact: Fact) -> bool:
    return _words(str(fact.label)) <= scene.window or scene.follows(str(fact.label))


def _same(figure: _Typed, fact: Fact) -> bool:
    """Whether the fact, rounded to the decimals that were typed, is the figure."""
    value = fact.value
    if not figure.units:
        return type(value) is int and value == figure.number
    if not isinstance(value, Quantity):
        return False
    for unit in figure.units:
        if unit.dimension is value.unit.dimension:
            exact = unit.from_base(value.amount)
            return bool(figure.number == exact.quantize(figure.number))
    return False


def _words(text: str) -> frozenset[str]:
    """The words that count, without the s of a plural."""
    found = (word.casefold() for word in _WORD.findall(text))
    return frozenset(word.rstrip("s") if len(word) > 3 else word for word in found) - IDLE


def _instead(figure: _Typed, subject: str, key: str, about: str) -> str:
    reference = Reference(FACT, key, "" if subject == about else subject)
    what = "the figure with its unit" if figure.units else "the number"
    return f"in place of {what} write `{reference}`"


def _also_a_fact(
    figure: _Typed, scene: _Scene, subject: str, key: str, fact: Fact, about: str
) -> Finding:
    return Finding(
        codes.FIGURE_TYPED,
        say(
            "`{text}` is typed, and is a figure of `{subject}`: {label}",
            text=_text(figure, scene),
            subject=subject,
            label=fact.label,
        ),
        Label(scene.passage.span(figure.start, figure.end), say("typed by hand")),
        help=_instead(figure, subject, key, about),
    )


def _contradicts(
    figure: _Typed, scene: _Scene, subject: str, key: str, fact: Fact, about: str
) -> Finding:
    return Finding(
        codes.FIGURE_CONTRADICTED,
        say(
            "`{text}` is typed, and {label} of `{subject}` is {value}",
            text=_text(figure, scene),
            label=fact.label,
            subject=subject,
            value=show(fact.value),
        ),
        Label(scene.passage.span(figure.start, figure.end), say("typed by hand")),
        notes=(
            say(
                "`specgen explain {subject} {key}` shows where that comes from",
                subject=subject,
                key=key,
            ),
        ),
        help=_instead(figure, subject, key, about),
    )


def _text(figure: _Typed, scene: _Scene) -> str:
    return scene.passage.flat[figure.start : figure.end]
