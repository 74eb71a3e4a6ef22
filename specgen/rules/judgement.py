"""A judgement: what a value of a system must keep, and the finding where it does not.

Sums over parts have constraints of their own (`constraints`); a judgement reads any fact of the
ledger, and its finding stands at the lines that the fact's pedigree leads to. A fact without a
value, because a condition is not stated say, is not judged.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import field
from decimal import Decimal
from typing import Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Code, Finding, Label
from specgen.facts import Declared, Fact, Facts, Value
from specgen.facts.inputs import Condition
from specgen.frozen import frozen
from specgen.messages import NO, AsWritten, Message, Within, Words, listed, say
from specgen.model import places
from specgen.quantity import Quantity, Ratio
from specgen.rules.places import in_build

STATED: Final = "conditions."
"""Begins the name of a condition among the values of a message."""
MOST_LABELS: Final = 4
MOST_LEAVES: Final = 400
"""Lines looked at: a pedigree of more is that of a system of thousands of parts."""


Lines = tuple[Label, tuple[Label, ...]]


@frozen
class Bound:
    """What a value must keep; what it is held against comes second, the fact of the key `other`.

    `{…}` in that key stands for the subject of the value.
    """

    kept: Callable[[Value, Value], bool]
    other: str = ""


def _number(value: Value) -> Decimal:
    """A share of one for a ratio, else the plain number in the unit that its quantity keeps."""
    if isinstance(value, Ratio):
        return value.fraction
    return value.amount if isinstance(value, Quantity) else Decimal(value)  # type: ignore[arg-type]


NOT_BELOW_ZERO: Final = Bound(lambda value, _: _number(value) >= 0)
"""A margin: what is left of something is at least nothing."""
NOT_ABOVE_ONE: Final = Bound(lambda value, _: _number(value) <= 1)
"""A share: at most all of it, 100 %."""
MUST_BE_YES: Final = Bound(lambda value, _: value != NO)
"""The answer to a question such as whether it fits."""
MUST_BE_EMPTY: Final = Bound(lambda value, _: not value)
"""A list of what goes wrong."""


def at_most(other: str) -> Bound:
    """No more than another fact."""
    return Bound(lambda value, most: _number(value) <= _number(most), other)


@frozen(kw_only=True)
class Judgement:
    """One row: a fact, what it must keep, and the finding where it does not.

    `message`, `why` and `help` are filled with `value`, with `other`, what it is held against, with
    `subjects`, what it is about, and with the facts and `conditions.…` of `shown` by their names,
    in a unit where one stands beside the key. `statement` says what is demanded of systems.

    The finding stands at the first line of the build that the value rests on: a condition that
    the build states, else what it fits. A field, condition or assumption named in `at` goes
    first, by the name that pedigrees give it (`rack_depth`). Further lines are labels.

    For the solver: of parts, the value rests on those that state a field of `among`, and gets worse
    as the sum `grows_with` grows, all else equal, and as more of them are fitted where
    `more_is_worse`. What is refused is then ruled out with all that is worse; without any of these,
    no choice of parts changes it. Where that is not all that it rests on, it is not `solved`.
    """

    fact: str
    must: Bound
    code: Code
    statement: Message
    message: Message
    why: Message
    help: Message | None = None
    shown: Mapping[str, str | tuple[str, str]] = field(default_factory=dict, compare=False)
    at: tuple[str, ...] = ()
    among: tuple[str, ...] = ()
    grows_with: str = ""
    more_is_worse: bool = False
    superseded_by: tuple[str, Bound] | None = None
    """A fact and what it must keep: where that is broken, another check or row has found it."""
    solved: bool = True
    least_of: tuple[str, ...] = ()
    """Keys of the facts of which the value rests on the least alone: the lines of the others are
    no reason for it."""

    def demand(self, assembly: Assembly) -> Message:
        """What is demanded, with the conditions of `at` that are stated."""
        stated = [
            say(
                "{condition} {value}",
                condition=Within(Condition(name).label),
                value=_printed(value),
            )
            for name in self.at
            if (value := getattr(assembly.conditions, name, None)) is not None
        ]
        if not stated:
            return self.statement
        return say(
            "{statement} ({conditions})", statement=self.statement, conditions=listed(stated)
        )

    def broken(self, facts: Facts) -> Iterator["Breach"]:
        """The facts that do not keep it, one for each subject."""
        for fact in facts.of_all(self.fact):
            if fact.value is None or self._superseded(facts, fact.subject):
                continue
            other = facts.get(_about(self.must.other, fact.subject)) if self.must.other else None
            if self.must.other and (other is None or other.value is None):
                continue
            if not self.must.kept(fact.value, None if other is None else other.value):
                yield Breach(self, fact, other)

    def _superseded(self, facts: Facts, subject: str) -> bool:
        if self.superseded_by is None:
            return False
        key, must = self.superseded_by
        first = facts.value(_about(key, subject))
        return first is not None and not must.kept(first, None)


@frozen
class Breach:
    """A value that cannot be: the row, the fact, and the fact that it is held against."""

    row: Judgement
    fact: Fact
    other: Fact | None

    def finding(
        self, assembly: Assembly, facts: Facts, lines: Lines, alike: tuple["Breach", ...]
    ) -> Finding:
        """Worded, at its lines; of those `alike` the same is true, on the same line."""
        row, words = self.row, self._words(assembly, facts, alike)
        at, labels = lines
        return Finding(
            row.code,
            row.message.filled(**words),
            at,
            labels=labels,
            notes=(*_worked_out(self.fact), row.why.filled(**words)),
            help="" if row.help is None else row.help.filled(**words),
        )

    def words(self, assembly: Assembly, facts: Facts) -> Message:
        """What cannot be, in a sentence with its values."""
        return self.row.message.filled(**self._words(assembly, facts, (self,)))

    def lines(self, assembly: Assembly) -> Lines:
        """The line that the author of the build can change, and others that play a part."""
        return _lines(assembly, self)

    def _words(
        self, assembly: Assembly, facts: Facts, alike: tuple["Breach", ...]
    ) -> dict[str, object]:
        fact, other = self.fact, self.other
        shown = {
            name: _shown(assembly, facts, key, fact.subject) for name, key in self.row.shown.items()
        }
        return {
            "value": _printed(fact.value),
            "other": "" if other is None else _printed(other.value),
            "subjects": places(tuple(each.fact.subject for each in alike)),
            **shown,
        }


def _about(key: str, subject: str) -> str:
    if "{" not in key:
        return key
    return key[: key.index("{")] + subject + key[key.index("}") + 1 :]


def _shown(assembly: Assembly, facts: Facts, key: str | tuple[str, str], subject: str) -> Words:
    name, unit = (key, "") if isinstance(key, str) else key
    if name.startswith(STATED):
        return _printed(getattr(assembly.conditions, name.removeprefix(STATED)))
    value = facts.value(_about(name, subject))
    return _printed(value.to(unit) if unit and isinstance(value, Quantity) else value)


def _printed(value: Value) -> Words:
    if value is None:
        return say("not declared")
    if isinstance(value, tuple):
        return places(tuple(str(each) for each in value))
    return value if isinstance(value, Message) else AsWritten(value)


def _worked_out(fact: Fact) -> tuple[Message, ...]:
    """How a number came about."""
    if not isinstance(fact.value, Quantity | Decimal):
        return ()
    return (say("{formula} = {value}", formula=fact.formula, value=_printed(fact.value)),)


@frozen
class _Line:
    """A line that a value rests on: what is written there, in words."""

    entry: Declared
    positions: tuple[str, ...]


def leaves_of(*facts: Fact | None, without: Iterable[str] = ()) -> tuple[Declared, ...]:
    """Everything written that facts rest on, nearest first, each once; `without` some facts."""
    found: dict[int, Declared] = {}
    waiting: list[Fact | Declared] = [fact for fact in facts if fact is not None]
    seen: set[str] = set(without)
    while waiting and len(found) < MOST_LEAVES:
        entry = waiting.pop(0)
        if isinstance(entry, Declared):
            found.setdefault(id(entry), entry)
        elif entry.key not in seen:
            seen.add(entry.key)
            waiting.extend(entry.inputs)
    return tuple(found.values())


def _idle(fact: Fact, keys: tuple[str, ...]) -> Iterator[str]:
    """Those of some facts that are not the least of them, wherever they stand below a fact."""
    known: dict[str, Fact] = {}
    waiting: list[Fact | Declared] = [fact] if keys else []
    while waiting:
        entry = waiting.pop()
        if isinstance(entry, Fact) and entry.key in keys:
            known[entry.key] = entry
        elif isinstance(entry, Fact) and len(known) < len(keys):
            waiting.extend(entry.inputs)
    valued = [each for each in known.values() if each.value is not None]
    least = min((_number(each.value) for each in valued), default=None)
    kept = {each.key for each in valued if _number(each.value) == least}
    return (key for key in known if key not in kept)


def _lines(assembly: Assembly, breach: Breach) -> Lines:
    from specgen.facts.pedigree_lines import pedigree_lines  # only where something is found

    without = tuple(_idle(breach.fact, breach.row.least_of))
    found = [
        _Line(entry, positions)
        for entry, positions in pedigree_lines(
            leaves_of(breach.fact, breach.other, without=without)
        )
        if isinstance(entry, Declared) and entry.span.file and entry.value is not None
    ]
    found.sort(key=lambda line: _rank(assembly, breach.row, line))
    labels = [Label(line.entry.span, _in_words(line.entry)) for line in found]
    named = [line for line in found if line.entry.name in breach.row.at]
    first = (
        _within(assembly, labels[: len(named)])
        or _fitted(assembly, named)
        or _within(assembly, labels)
        or _fitted(assembly, found)
    )
    if first is None:
        build = assembly.build
        at = build.origin.at("platform") if build is not None else assembly.platform.origin.at("id")
        first = Label(at)
    spans = {first.span}
    others: list[Label] = []
    for label in labels:
        if label.span not in spans and len(others) < MOST_LABELS:
            spans.add(label.span)
            others.append(label)
    return first, tuple(others)


def _rank(assembly: Assembly, row: Judgement, line: _Line) -> tuple[int, int]:
    """Named fields first, then conditions, the platform, parts, and what the project assumes."""
    name = line.entry.name
    named = row.at.index(name) if name in row.at else len(row.at)
    stated = any(line.entry.span == span for span in assembly.conditions_at.values())
    if stated:
        return named, 0
    return named, 3 if line.entry.assumed else 2 if line.positions else 1


def _within(assembly: Assembly, labels: list[Label]) -> Label | None:
    """The first that stands in the build."""
    return next((label for label in labels if in_build(assembly, label.span)), None)


def _fitted(assembly: Assembly, lines: list[_Line]) -> Label | None:
    """Where the build fits the first of the parts that lines speak of."""
    for line in lines:
        fitted = [assembly.places.get(name) for name in line.positions]
        put = [place for place in fitted if place is not None and _chosen(assembly, place)]
        if put:
            names = places(tuple(each.name for each in put if each.at == put[0].at))
            words = say("{what}: {value}", what=names, value=_in_words(line.entry))
            return Label(put[0].at, words)
    return None


def _chosen(assembly: Assembly, place: Place) -> bool:
    return place.filled_at is not None and in_build(assembly, place.at)


def _in_words(entry: Declared) -> Message:
    return say("{what}: {value}", what=entry.label, value=_printed(entry.value))
