"""A rule as a plain English sentence, made from its trees.

`in_words` is a sentence for a page, `statement_in_words` the same as a finding says it. A count
against a number is said as a person would ("at most two drives may be fitted"); whatever has no
such form is said piece by piece.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from specgen.expressions import tree
from specgen.expressions.types import Sort
from specgen.frozen import frozen
from specgen.messages import Capital, Message, Words, listed, say, say_as
from specgen.model import places as places_
from specgen.rules.declared.compile import CompiledRule
from specgen.rules.declared.nouns import QUOTED, RULE, Nouns, Quotes, field_words, joined, noun_of

_DEGREES: Final[Mapping[tree.Order, str]] = {
    "==": "",
    "!=": "",
    "<": "below ",
    "<=": "at most ",
    ">": "above ",
    ">=": "at least ",
}
_TURNED: Final[Mapping[tree.Order, tree.Order]] = {
    "==": "!=",
    "!=": "==",
    "<": ">=",
    "<=": ">",
    ">": "<=",
    ">=": "<",
}
_FLIPPED: Final[Mapping[tree.Order, tree.Order]] = {
    "==": "==",
    "!=": "!=",
    "<": ">",
    "<=": ">=",
    ">": "<",
    ">=": "<=",
}
_SMALL: Final = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


@frozen
class _Mood:
    """The verbs of telling what is, and of asking what must be; each of one and of several."""

    be: tuple[str, str]
    not_be: tuple[str, str]
    may: tuple[str, str]
    hold: str
    not_hold: str


_TELLING: Final = _Mood(("is", "are"), ("is not", "are not"), ("is", "are"), "holds", "lacks")
_ASKING: Final = _Mood(
    ("must be", "must be"),
    ("must not be", "must not be"),
    ("may be", "may be"),
    "must hold",
    "must not hold",
)


def in_words(rule: CompiledRule, quotes: Quotes = QUOTED) -> Words:
    """The rule as one sentence with a capital and a full stop."""
    return say("{sentence}.", sentence=Capital(statement_in_words(rule, quotes)))


def sentence(rule: CompiledRule, quotes: Quotes = QUOTED) -> Words:
    """What a reader is told: the author's `because`, else the rule in words."""
    because = rule.rule.because
    if because is None:
        return in_words(rule, quotes)
    return because if because[-1] in ".!?" else f"{because}."


def statement_in_words(rule: CompiledRule, quotes: Quotes = QUOTED) -> Words:
    """The rule without a capital and without a full stop, as messages are written."""
    demand = _clauses(rule.must.tree, not rule.forbids, _ASKING, quotes)
    if rule.when is None:
        return demand
    case = _clauses(rule.when.tree, True, _TELLING, quotes)
    return say_as(RULE, "when {case}, {demand}", case=case, demand=demand)


def value_in_words(node: tree.Node, quotes: Quotes = QUOTED) -> Message:
    """A value that a rule asks for, as its sentence calls it: the number of drives."""
    nouns = Nouns(_whose, quotes)
    return nouns.opened.message(nouns.value(node))


def told_in_words(node: tree.Node, truth: bool, quotes: Quotes = QUOTED) -> Words:
    """That a statement holds, or does not: no drive whose exchange is hot is fitted."""
    return _clauses(node, truth, _TELLING, quotes)


def _clauses(node: tree.Node, truth: bool, mood: _Mood, quotes: Quotes) -> Words:
    """A statement as messages: one a clause, joined by `and` or `or`."""
    if isinstance(node, tree.Not):
        return _clauses(node.operand, not truth, mood, quotes)
    together = isinstance(node, tree.And) and not truth and mood is _ASKING
    if isinstance(node, tree.And | tree.Or) and not together:
        parts = [_clauses(each, truth, mood, quotes) for each in node.parts]
        return listed(parts, "and" if isinstance(node, tree.And) is truth else "or")
    nouns = Nouns(_whose, quotes)
    return nouns.opened.message(_Words(nouns).clause(node, truth, mood))


@frozen
class _Words:
    """Says statements. `truth` is whether the statement holds or does not."""

    nouns: Nouns

    def clause(self, node: tree.Node, truth: bool, mood: _Mood) -> str:
        match node:
            case tree.Not():
                return self.clause(node.operand, not truth, mood)
            case tree.And() | tree.Or():
                if isinstance(node, tree.And) and not truth and mood is _ASKING:
                    return self._not_together(node)
                word = "and" if isinstance(node, tree.And) is truth else "or"
                return joined([self.clause(each, truth, mood) for each in node.parts], word)
            case tree.Compare():
                return self._compare(node, truth, mood)
            case tree.Among():
                words = list(
                    dict.fromkeys(self.nouns.beside(node.item, each) for each in node.choices)
                )
                return self._is(node.item, joined(words, "or"), truth is not node.negated, mood)
            case tree.Contains():
                verb = mood.hold if truth is not node.negated else mood.not_hold
                return f"{self.nouns.value(node.entries)} {verb} {self.nouns.value(node.item)}"
            case tree.Placed():
                return self._placed(node, truth, mood)
            case tree.Has():
                return f"{self.nouns.called(node.part)} {_be(mood, truth)} fitted"
            case tree.Fold(how="any"):
                return self._some(node, truth, mood)
            case tree.Fold(how="all"):
                return self._every(node, truth, mood)
            case tree.Constant():
                return "always" if (node.value is True) is truth else "never"
        return self._is_so(node, truth, mood)

    def _not_together(self, node: tree.And) -> str:
        """What must not be all at once."""
        parts = node.parts
        if all(isinstance(each, tree.Has) for each in parts):
            names = [self.nouns.called(each.part) for each in parts if isinstance(each, tree.Has)]
            return f"{joined(names, 'and')} must not be fitted together"
        if all(isinstance(each, tree.Placed) and each.state == "filled" for each in parts):
            places = [e.positions for e in parts if isinstance(e, tree.Placed)]
            names = [self.nouns.opened.place(places_(each)) for each in places]
            return f"{joined(names, 'and')} must not be filled together"
        told = [self.clause(each, True, _TELLING) for each in parts]
        return f"it must not be that {joined(told, 'and')}"

    def _is_so(self, node: tree.Node, truth: bool, mood: _Mood) -> str:
        """A field that is true or not: the part in BEZEL must be lockable."""
        verb = _be(mood, truth)
        if isinstance(node, tree.Attribute):
            return f"{self.nouns.value(node.of)} {verb} {field_words(node)}"
        return f"{self.nouns.value(node)} {verb} so"

    def _is(self, item: tree.Node, what: str, truth: bool, mood: _Mood) -> str:
        """A value that is one thing or another: FRONT must hold `bays-fast`."""
        if isinstance(item, tree.Attribute) and item.name == "id":
            if isinstance(item.of, tree.PartIn):
                place = self.nouns.opened.place(item.of.position)
                return f"{place} {mood.hold if truth else mood.not_hold} {what}"
            if isinstance(item.of, tree.Item | tree.It):
                return f"{self.nouns.value(item.of)} {_be(mood, truth)} {what}"
        subject = self.nouns.value(item)
        return f"{subject} {_be(mood, truth)} {what}"

    def _compare(self, node: tree.Compare, truth: bool, mood: _Mood) -> str:
        left, right, order = node.left, node.right, node.order
        if isinstance(left, tree.Constant) and not isinstance(right, tree.Constant):
            left, right, order = right, left, _FLIPPED[order]
        order = order if truth else _TURNED[order]
        if isinstance(right, tree.Constant):
            if isinstance(right.value, bool):
                return self.clause(left, (order == "==") is right.value, mood)
            if right.type.sort is Sort.NOTHING:
                return f"{self.nouns.value(left)} {_be(mood, order != '==')} stated"
            if (
                isinstance(left, tree.Fold)
                and left.how == "count"
                and isinstance(left.over, tree.Collection)
                and isinstance(right.value, Decimal)
            ):
                return self._counted(left, order, right.value, mood)
        alike = order in ("==", "!=") and not isinstance(right, tree.Constant)
        degree = "equal to " if alike else _DEGREES[order]
        what = f"{degree}{self.nouns.beside(left, right)}"
        return self._is(left, what, order != "!=", mood)

    def _counted(self, node: tree.Fold, order: tree.Order, number: Decimal, mood: _Mood) -> str:
        """A count against a number."""
        one, many = self._things(node)
        if (number == 0 and order in ("==", "<=")) or (number == 1 and order == "<"):
            return f"no {one} {mood.may[0]} fitted"
        if (number == 0 and order in ("!=", ">")) or (number == 1 and order == ">="):
            return f"{_article(one)} {one} {mood.be[0]} fitted"
        if order == "!=":
            return f"the number of {many} {mood.not_be[0]} {self.nouns.opened.place(number)}"
        small = number in range(len(_SMALL))
        words = _SMALL[int(number)] if small else self.nouns.opened.place(number)
        degree = {"==": "exactly ", "<": "fewer than ", ">": "more than "}.get(
            order, _DEGREES[order]
        )
        verb = (mood.may if order in ("<", "<=") else mood.be)[number != 1]
        return f"{degree}{words} {one if number == 1 else many} {verb} fitted"

    def _things(self, node: tree.Fold, *more: tree.Node) -> tuple[str, str]:
        """What is counted, one and several, with what tells them from the others."""
        one, many = noun_of(node.over)
        said = _whose(self.nouns, node, *more)
        return one + said, many + said

    def _some(self, node: tree.Fold, truth: bool, mood: _Mood) -> str:
        assert node.value is not None
        one, _ = self._things(node, node.value)
        if truth:
            return f"{_article(one)} {one} {mood.be[0]} fitted"
        return f"no {one} {mood.may[0]} fitted"

    def _every(self, node: tree.Fold, truth: bool, mood: _Mood) -> str:
        assert node.value is not None
        one, _ = self._things(node)
        inner = _Words(self.nouns.within(node.item, f"every {one}"))
        if truth:
            return inner.clause(node.value, True, mood)
        inner = _Words(self.nouns.within(node.item, f"some {one}"))
        return inner.clause(node.value, False, mood)

    def _placed(self, node: tree.Placed, truth: bool, mood: _Mood) -> str:
        names, several = self.nouns.opened.place(places_(node.positions)), len(node.positions) > 1
        if truth or not several:
            return f"{names} {(mood.be if truth else mood.not_be)[several]} {node.state}"
        verb, _, be = mood.not_be[1].partition("not")
        return f"{names} {verb}not all{be} {node.state}"


def _be(mood: _Mood, truth: bool) -> str:
    return (mood.be if truth else mood.not_be)[0]


def _article(word: str) -> str:
    return "an" if word[0] in "aeiou" else "a"


def _whose(nouns: Nouns, node: tree.Fold, *more: tree.Node) -> str:
    """The conditions on the members of a run, as relative clauses."""
    inner = _Words(nouns.within(node.item, "it"))
    clauses = []
    conditions: list[tree.Node] = []
    for each in (*node.conditions, *more):
        conditions += each.parts if isinstance(each, tree.And) else (each,)
    for condition in conditions:
        said = inner.clause(condition, True, _TELLING)
        if said.startswith("its "):
            clauses.append(f"whose {said.removeprefix('its ')}")
        elif said.startswith("it "):
            clauses.append(f"that {said.removeprefix('it ')}")
        else:
            clauses.append(f"where {said}")
    return f" {joined(clauses, 'and')}" if clauses else ""
