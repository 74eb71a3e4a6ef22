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
    occurs: dict[int, list[int]] = field(default_factory=dict)
    """By literal, the statements that want it."""
    broken: list[int] = field(default_factory=list)
    """The statements that do not hold where every variable is nothing."""
    _counted: tuple[int, list[int], list[int]] = (0, [], [])

    def tell(self, statement: Clause) -> int:
        index = len(self.told)
        self.told.append(statement)
        for each in statement.wants:
            if each in self.occurs:
                self.occurs[each].append(index)
            else:
                self.occurs[each] = [index]
        if _Asking(statement).broken():
            self.broken.append(index)
        return index

    def define(
        self, literal: int, where_true: Iterable[Clause], where_false: Iterable[Clause]
    ) -> None:
        """What a literal says, as statements of which each holds from one side."""
        true = tuple(self.tell(each) for each in where_true)
        false = tuple(self.tell(each) for each in where_false)
        self.definitions[literal] = Definition(literal, true, false)
        self.owner |= dict.fromkeys((*true, *false), literal)

    def wanted(self, upto: int, variables: int) -> tuple[list[int], list[int]]:
        """By literal, a negated one counted from the end: how many of the statements up to one want
        it, and how many of those that say what it is."""
        before, wanted, own = self._counted
        if before != upto or len(wanted) > 2 * variables:
            wanted, own = [0] * (2 * variables), [0] * (2 * variables)
            for index in range(upto):
                of = self.owner.get(index)
                for each in self.told[index].wants:
                    (own if of is not None and of in (each, ~each) else wanted)[each] += 1
            self._counted = upto, wanted, own
        known = len(wanted) // 2
        more = [0] * (2 * (variables - known))
        return [*wanted[:known], *more, *wanted[known:]], [*own[:known], *more, *own[known:]]

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


class Reduction:
    """The reduction of one question: what of a ledger was told up to some statement, and `beside`
    it what the question alone says; its goal `aims` at literals."""

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
        self._beside, self._aims = beside, aims
        self._wanted, self._own = ledger.wanted(upto, len(most))
        self._further: dict[int, list[int]] = {}
        """By literal, what wants it of that which the question says."""
        self._live = [True] * (upto + len(beside))
        self._range: dict[int, list[int]] = {}
        """By statement, what its sum can come to, or how many of it are left."""
        self._touched: set[int] = set()
        for index, statement in enumerate(beside, upto):
            for each in statement.wants:
                self._wanted[each] += 1
                self._further.setdefault(each, []).append(index)
        for each in aims:
            self._wanted[each] += 1
        self._waiting = deque(range(1, len(most)))  # the first is the constant
        self._queued = [True] * len(most)
        self._one_by_one()
        for which in self._together():
            self._fix(which, 0)
        self._one_by_one()
        named = {each if each >= 0 else ~each for each in (*self._further, *aims)}
        self.asked = named.intersection(self.fixed)
        """What is fixed of that which the question itself names."""

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
                if not wanted[which]:
                    for index in definition.where_true:
                        self._drop(index)
                if not wanted[~which]:
                    for index in definition.where_false:
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
        none = [True] * len(self.most)
        asking: dict[int, _Asking] = {}
        leaving = [0, *(each for each in self._aims if each >= 0)]
        leaving += (which for which, value in self.fixed.items() if value)
        broken = (each for each in self.ledger.broken if each < self.upto)
        for index in (*broken, *range(self.upto, len(self._live))):
            if self._live[index]:
                asks = asking[index] = _Asking(self._told(index))
                leaving += asks.broken()
        while leaving:
            which = leaving.pop()
            if none[which]:
                none[which] = False
                for index in self._standing(which):
                    asks = asking.get(index) or _Asking(self._told(index))
                    asking[index] = asks
                    leaving += asks.without(which, self.most[which])
        return [which for which, free in enumerate(none) if free and which not in self.fixed]

    def _told(self, index: int) -> Clause:
        return self.ledger.told[index] if index < self.upto else self._beside[index - self.upto]

    def _wanting(self, literal: int) -> Iterator[int]:
        """The statements that want a literal and do not hold yet."""
        live = self._live
        for index in self.ledger.occurs.get(literal, ()):
            if index >= self.upto:
                break
            if live[index]:
                yield index
        for index in self._further.get(literal, ()):
            if live[index]:
                yield index

    def _standing(self, which: int) -> Iterator[int]:
        """The statements in which a variable stands, each once."""
        yield from dict.fromkeys((*self._wanting(~which), *self._wanting(which)))

    def _fix(self, which: int, value: int) -> None:
        self.fixed[which] = value
        holds = which if value else ~which
        for index in self._standing(which):
            told = self._told(index)
            if isinstance(told, SumWithin):
                self._lessen(index, told, which, value)
            elif holds in told.wants:
                if isinstance(told, AtMostOneOf):
                    left = self._range.setdefault(index, [len(told.wants)])
                    left[0] -= 1
                    if left[0] > 1:
                        continue
                self._drop(index)

    def _lessen(self, index: int, told: SumWithin, which: int, value: int) -> None:
        """A sum of which one term is known."""
        if (~which if value else which) in told.where:
            self._drop(index)
            return
        if which not in told.terms:
            return
        span = self._range.get(index)
        if span is None:
            parts = [a * self.most[v] for v, a in told.terms.items()]
            span = [sum(min(a, 0) for a in parts), sum(max(a, 0) for a in parts)]
            self._range[index] = span
        amount = told.terms[which]
        span[0] += amount * value - min(amount * self.most[which], 0)
        span[1] += amount * value - max(amount * self.most[which], 0)
        if told.low <= span[0] and span[1] <= told.high:
            self._drop(index)

    def _drop(self, index: int) -> None:
        """A statement holds whatever the variables that are left come to."""
        if not self._live[index]:
            return
        self._live[index] = False
        of = self.ledger.owner.get(index) if index < self.upto else None
        if of is not None:
            self._touched.add(of)
        queued, waiting = self._queued, self._waiting
        for each in self._told(index).wants:
            which = each if each >= 0 else ~each
            (self._own if which == of else self._wanted)[each] -= 1
            if not queued[which]:
                queued[which] = True
                waiting.append(which)

    def write(self, constraints: Any) -> None:
        """Writes what must still be told of the ledger for the solver."""
        for index in range(self.upto):
            if self._live[index]:
                self.ledger.told[index].write(constraints.add(), self.fixed)

    def whole(self, solution: Iterable[int]) -> list[int]:
        """An answer with all variables as they then are."""
        holds = list(solution)
        for which, value in self.fixed.items():
            holds[which] = value
        for which in sorted(self._touched):  # what defines a literal was there before it
            holds[which] = self.ledger.value(self.ledger.definitions[which], holds)
        return holds


class _Asking:
    """A statement while some variables are nothing and the others anything."""

    __slots__ = ("done", "high", "kept", "low", "told")

    def __init__(self, told: Clause) -> None:
        self.told = told
        """How many it holds for of those that it wants to be nothing."""
        self.kept = 0
        self.done = False
        self.low = self.high = 0
        """What its sum can come to."""
        if isinstance(told, SumWithin):
            self.kept = sum(each >= 0 for each in told.where)
        elif not isinstance(told, AtMostOneOf):
            self.kept = sum(each < 0 for each in told.wants)

    def broken(self) -> Iterable[int]:
        """The variables that it then wants not to be nothing, where it does not hold."""
        told = self.told
        if self.kept > 0 or self.done:
            return ()
        if isinstance(told, SumWithin) and told.low <= self.low and self.high <= told.high:
            return ()
        self.done = True
        return [each for each in told.wants if each >= 0]

    def without(self, which: int, most: int) -> Iterable[int]:
        """The same when one of the variables is no longer nothing."""
        told = self.told
        if self.done:
            return ()
        if isinstance(told, SumWithin):
            if which in told.where:
                self.kept -= 1
            amount = told.terms.get(which, 0) * most
            self.low += min(amount, 0)
            self.high += max(amount, 0)
        elif ~which in told.wants:
            self.kept -= 1
        return self.broken()
