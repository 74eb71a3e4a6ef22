"""What a question asks of a model, without all that makes no difference to its answer.

Whoever asks for drives in a light chassis is answered by builds without a module in any port of
any network card, since such a module helps nothing that is asked for and only takes power and
weight. So a variable stays at an end of its range where nothing wants it elsewhere, neither a
statement that could break nor the goal; and so do several together that are wanted by one another
alone. What is told of them then holds, and wants nothing of other variables any more. What is left
has an answer if, and only if, the whole has one, and an equally good one. (Autarkies and dual
fixing are known to solvers, and to this one: but it looks for them anew with every question, at the
price of the whole model, one variable at a time.)

A literal that says whether several hold, or whether a sum is within bounds, is held to that from
one side where nothing wants it on the other; an answer gives it the value that it has.
"""

from collections import deque
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from typing import Any

from specgen.frozen import frozen, state


@frozen(eq=False)
class Clause:
    """A statement. Each literal that it `wants` helps to keep it, and can never break it.

    Literals are indices of variables as the solver has them: `~index` is a negated one.
    """

    wants: tuple[int, ...]

    def write(self, constraint: Any, fixed: Mapping[int, int]) -> None:
        """Writes it for the solver, without what is `fixed`: one of these holds."""
        left = (each for each in self.wants if (each if each >= 0 else ~each) not in fixed)
        constraint.bool_or.literals.extend(list(left))


@frozen(eq=False)
class AtMostOneOf(Clause):
    """At most one of some literals holds; their negations are wanted."""

    def write(self, constraint: Any, fixed: Mapping[int, int]) -> None:
        left = (~each for each in self.wants if (each if each >= 0 else ~each) not in fixed)
        constraint.at_most_one.literals.extend(list(left))


@frozen(eq=False)
class SumWithin(Clause):
    """A sum lies within bounds where some literals hold."""

    where: tuple[int, ...]
    terms: dict[int, int]
    low: int
    high: int

    def write(self, constraint: Any, fixed: Mapping[int, int]) -> None:
        left = {v: a for v, a in self.terms.items() if v not in fixed}
        constant = sum(a * fixed[v] for v, a in self.terms.items() if v in fixed)
        low = NONE if self.low == NONE else self.low - constant
        high = ALL if self.high == ALL else self.high - constant
        constraint.linear.vars.extend(list(left))
        constraint.linear.coeffs.extend(list(left.values()))
        constraint.linear.domain.extend([low, high])
        asked = (each for each in self.where if (each if each >= 0 else ~each) not in fixed)
        constraint.enforcement_literal.extend(list(asked))


@frozen
class Definition:
    """What a literal says: which statements hold it to that where it is true, and where false."""

    literal: int
    where_true: tuple[int, ...]
    where_false: tuple[int, ...]


NONE = -(2**63)
"""No lower bound, as the solver writes it."""
ALL = 2**63 - 1


def bounded(
    where: Sequence[int], terms: dict[int, int], most: Sequence[int], low: int, high: int
) -> SumWithin:
    """A statement about a sum of variables that reach from nothing to their most."""
    wants = [~each for each in where]
    if sum(a * most[v] for v, a in terms.items() if a > 0) > high:
        wants += (~v if a > 0 else v for v, a in terms.items())
    if sum(a * most[v] for v, a in terms.items() if a < 0) < low:
        wants += (v if a > 0 else ~v for v, a in terms.items())
    return SumWithin(tuple(wants), tuple(where), terms, low, high)


@state
class Statements:
    """All that a model was told, in order: what its questions have in common."""

    told: list[Clause] = field(default_factory=list)
    most: list[int] = field(default_factory=list)
    """By variable."""
    definitions: dict[int, Definition] = field(default_factory=dict)
    """By literal."""
    owner: dict[int, int] = field(default_factory=dict)
    """By statement, the literal that it is about."""
    _occurs: list[list[int]] = field(default_factory=list)
    _counted: int = 0

    def tell(self, statement: Clause) -> int:
        self.told.append(statement)
        return len(self.told) - 1

    def define(
        self, literal: int, where_true: Iterable[Clause], where_false: Iterable[Clause]
    ) -> None:
        """What a literal says, as statements of which each holds from one side."""
        true = tuple(self.tell(each) for each in where_true)
        false = tuple(self.tell(each) for each in where_false)
        self.definitions[literal] = Definition(literal, true, false)
        self.owner |= dict.fromkeys((*true, *false), literal)

    def occurs(self, variables: int) -> list[list[int]]:
        """By variable, the statements that it stands in."""
        found = self._occurs
        found += ([] for _ in range(variables - len(found)))
        for index in range(self._counted, len(self.told)):
            for which in {each if each >= 0 else ~each for each in self.told[index].wants}:
                found[which].append(index)
        self._counted = len(self.told)
        return found

    def value(self, definition: Definition, holds: Sequence[int]) -> int:
        """What a literal comes to."""
        first = self.told[definition.where_true[0]]
        if isinstance(first, SumWithin):
            return int(sum(a * holds[v] for v, a in first.terms.items()) <= first.high)
        (whole,) = definition.where_false
        members = (each for each in self.told[whole].wants if each != definition.literal)
        # wanted are the negations of what it says to hold
        return int(not any(_true(each, holds) for each in members))


def _true(literal: int, holds: Sequence[int]) -> bool:
    return bool(holds[literal]) if literal >= 0 else not holds[~literal]


@state
class _Asking:
    """A statement that wants something of variables that could be nothing all at once."""

    told: Clause
    kept: int = 0
    """How many of these it holds for, being nothing."""
    low: int = 0
    high: int = 0
    """What its sum can come to."""

    def add(self, amount: int, fixed: int | None, most: int) -> None:
        """A term that is not nothing."""
        self.low += min(amount * most, 0) if fixed is None else amount * fixed
        self.high += max(amount * most, 0) if fixed is None else amount * fixed

    def lose(self, which: int, most: int) -> None:
        """One of these is not nothing."""
        told = self.told
        if not isinstance(told, SumWithin) or which in told.where:
            self.kept -= 1
        if isinstance(told, SumWithin) and which in told.terms:
            self.add(told.terms[which], None, most)

    @property
    def holds(self) -> bool:
        told = self.told
        within = isinstance(told, SumWithin) and told.low <= self.low and self.high <= told.high
        return within or self.kept > 0


class Reduction:
    """The reduction of one question: what of a ledger was told up to some statement, and `beside`
    it what the question alone says."""

    def __init__(
        self,
        ledger: Statements,
        upto: int,
        beside: Sequence[Clause],
        aims: Collection[int],
        most: Sequence[int],
    ) -> None:
        self.ledger, self.upto, self.most = ledger, upto, most
        self.fixed: dict[int, int] = {}
        self._first = len(ledger.told)
        self._beside = beside
        self._wanted = [0] * (2 * len(most))  # by literal: a negated one counts from the end
        self._own = [0] * (2 * len(most))
        """The same of what defines a literal, and of that literal alone."""
        self._occurs = ledger.occurs(len(most))
        self._further: dict[int, list[int]] = {}
        self._live = [True] * upto
        self._live_beside = [True] * len(beside)
        self._range: dict[int, list[int]] = {}
        """By statement, what its sum can come to, or how many of it are left."""
        self._touched: set[int] = set()
        owner, wanted = ledger.owner, self._wanted
        for index in range(upto):
            wants = ledger.told[index].wants
            of = owner.get(index)
            for each in wants:
                if of is not None and (each == of or ~each == of):
                    self._own[each] += 1
                else:
                    wanted[each] += 1
        for number, statement in enumerate(beside):
            for each in statement.wants:
                wanted[each] += 1
            for which in {each if each >= 0 else ~each for each in statement.wants}:
                self._further.setdefault(which, []).append(number)
        for each in aims:
            wanted[each] += 1
        self._aims = aims
        asked = {*self._further, *(each if each >= 0 else ~each for each in aims)}
        self._fix_all()
        self.asked = asked.intersection(self.fixed)
        """What is fixed of that which the question itself names."""

    def _fix_all(self) -> None:
        """Fixes what can stay at an end of its range."""
        variables = len(self.most)
        self._waiting = deque(range(1, variables))  # the first is the constant
        self._queued = [True] * variables
        self._one_by_one()
        for which in self._together():
            self._fix(which, 0)
        self._one_by_one()

    def _one_by_one(self) -> None:
        """Fixes each variable that nothing wants elsewhere."""
        wanted, own, definitions = self._wanted, self._own, self.ledger.definitions
        while self._waiting:
            which = self._waiting.popleft()
            self._queued[which] = False
            if which in self.fixed:
                continue
            definition = definitions.get(which)
            if definition is not None and definition.where_true[0] < self.upto:
                for literal, half in (
                    (which, definition.where_true), (~which, definition.where_false),
                ):  # fmt: skip
                    if not wanted[literal]:
                        for index in half:
                            self._drop(index)
            if not wanted[which] and not own[which]:
                self._fix(which, 0)
            elif not wanted[~which] and not own[~which]:
                self._fix(which, self.most[which])

    def _together(self) -> list[int]:
        """What can be nothing all at once, where one by one is wanted by the other: a cable, and
        that it leads to somewhere.

        At first that is everything. Whatever a statement wants is not among it, unless that
        statement holds because something else is.
        """
        none = [which not in self.fixed for which in range(len(self.most))]
        none[0] = False
        for each in self._aims:
            if each >= 0:
                none[each] = False
        asking: dict[int, list[_Asking]] = {}
        waiting = []
        for told in self._left():
            if any(each >= 0 and none[each] for each in told.wants):
                asks = _Asking(told)
                if isinstance(told, SumWithin):
                    off = [each for each in told.where if each >= 0 and none[each]]
                    asks.kept = len(off)
                    for which, amount in told.terms.items():
                        if not none[which]:
                            asks.add(amount, self.fixed.get(which), self.most[which])
                        elif which not in told.where:
                            asking.setdefault(which, []).append(asks)
                else:
                    off = [~each for each in told.wants if each < 0 and none[~each]]
                    asks.kept = 0 if isinstance(told, AtMostOneOf) else len(off)
                for which in off:
                    asking.setdefault(which, []).append(asks)
                waiting.append(asks)
        while waiting:
            asks = waiting.pop()
            if asks.holds:
                continue
            for which in asks.told.wants:
                if which >= 0 and none[which]:
                    none[which] = False
                    for other in asking.get(which, ()):
                        other.lose(which, self.most[which])
                        waiting.append(other)
        return [which for which, free in enumerate(none) if free]

    def _left(self) -> Iterator[Clause]:
        """What does not hold yet."""
        yield from (self.ledger.told[i] for i, live in enumerate(self._live) if live)
        yield from (self._beside[i] for i, live in enumerate(self._live_beside) if live)

    def _fix(self, which: int, value: int) -> None:
        self.fixed[which] = value
        for index in self._occurs[which]:
            if index < self.upto and self._live[index]:
                self._lessen(index, self.ledger.told[index], which, value)
        for number in self._further.get(which, ()):
            if self._live_beside[number]:
                self._lessen(self._first + number, self._beside[number], which, value)

    def _lessen(self, index: int, told: Clause, which: int, value: int) -> None:
        """What is left of a statement when a variable is at the end that it wants."""
        if isinstance(told, SumWithin):
            if (~which if value else which) in told.where:
                self._drop(index)
                return
            if which not in told.terms:
                return
            span = self._range.get(index)
            if span is None:
                parts = [a * self.most[v] for v, a in told.terms.items()]
                low, high = (sum(min(a, 0) for a in parts), sum(max(a, 0) for a in parts))
                span = self._range[index] = [low, high]
            amount = told.terms[which]
            span[0] += amount * value - min(amount * self.most[which], 0)
            span[1] += amount * value - max(amount * self.most[which], 0)
            if told.low <= span[0] and span[1] <= told.high:
                self._drop(index)
        elif isinstance(told, AtMostOneOf):
            left = self._range.setdefault(index, [len(told.wants)])
            left[0] -= 1
            if left[0] < 2:
                self._drop(index)
        elif (which if value else ~which) in told.wants:
            self._drop(index)

    def _drop(self, index: int) -> None:
        """A statement holds whatever the variables that are left come to."""
        if index >= self._first:
            if not self._live_beside[index - self._first]:
                return
            self._live_beside[index - self._first] = False
            told, of = self._beside[index - self._first], None
        else:
            if not self._live[index]:
                return
            self._live[index] = False
            told, of = self.ledger.told[index], self.ledger.owner.get(index)
        if of is not None:
            self._touched.add(of)
        for each in told.wants:
            which = each if each >= 0 else ~each
            if which == of:
                self._own[each] -= 1
            else:
                self._wanted[each] -= 1
            if not self._queued[which]:
                self._queued[which] = True
                self._waiting.append(which)

    def write(self, constraints: Any) -> None:
        """Writes what must still be told of the ledger for the solver."""
        for index, live in enumerate(self._live):
            if live:
                self.ledger.told[index].write(constraints.add(), self.fixed)

    def whole(self, solution: Iterable[int]) -> list[int]:
        """An answer with all variables as they then are."""
        holds = list(solution)
        for which, value in self.fixed.items():
            holds[which] = value
        for which in sorted(self._touched):  # what defines a literal was there before it
            holds[which] = self.ledger.value(self.ledger.definitions[which], holds)
        return holds
