"""A rule as a plain English sentence, made from its trees.

`in_words` is a sentence for a page, `statement_in_words` the same as a finding says it. A count
against a number is said as a person would ("up to two drives may be fitted"); whatever has no
such form is said piece by piece.
"""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Final

from specgen.expressions import nodes
from specgen.expressions.types import TypeSort
from specgen.facts.rule_book import CompiledRule
from specgen.frozen import frozen
from specgen.messages import Capital, Message, Words, listed, say, say_as
from specgen.model import places as places_
from specgen.rules.declared.nouns import QUOTED, Nouns, Quotes, field_words, joined

_DEGREES: Final[Mapping[nodes.Comparator, str]] = {
    "==": "",
    "!=": "",
    "<": "below ",
    ">": "above ",
}
_REACHED: Final[Mapping[nodes.Comparator, str]] = {"<=": " or less", ">=": " or more"}
_TURNED: Final[Mapping[nodes.Comparator, nodes.Comparator]] = {
    "==": "!=",
    "!=": "==",
    "<": ">=",
    "<=": ">",
    ">": "<=",
    ">=": "<",
}
_FLIPPED: Final[Mapping[nodes.Comparator, nodes.Comparator]] = {
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


_INDICATIVE: Final = _Mood(("is", "are"), ("is not", "are not"), ("is", "are"), "holds", "lacks")
_OBLIGATION: Final = _Mood(
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
    demand = _clauses(rule.must.tree, not rule.forbids, _OBLIGATION, quotes)
    if rule.when is None:
        return demand
    case = _clauses(rule.when.tree, True, _INDICATIVE, quotes)
    return say_as("rule", "when {case}, {demand}", case=case, demand=demand)


def value_in_words(node: nodes.Expression, quotes: Quotes = QUOTED) -> Message:
    """A value that a rule asks for, as its sentence calls it: the number of drives."""
    nouns = Nouns(_whose, quotes)
    return nouns.opened.message(nouns.value(node))


def broken_in_words(node: nodes.Expression, truth: bool, quotes: Quotes = QUOTED) -> Words:
    """That a statement holds, or does not: no drive whose exchange is hot is fitted."""
    return _clauses(node, truth, _INDICATIVE, quotes)


def _clauses(node: nodes.Expression, truth: bool, mood: _Mood, quotes: Quotes) -> Words:
    """A statement as messages: one a clause, joined by `and` or `or`."""
    if isinstance(node, nodes.Not):
        return _clauses(node.operand, not truth, mood, quotes)
    together = isinstance(node, nodes.And) and not truth and mood is _OBLIGATION
    if isinstance(node, nodes.And | nodes.Or) and not together:
        parts = [_clauses(each, truth, mood, quotes) for each in node.parts]
        return listed(parts, "and" if isinstance(node, nodes.And) is truth else "or")
    nouns = Nouns(_whose, quotes)
    return nouns.opened.message(_Phrasing(nouns).clause(node, truth, mood))


@frozen
class _Phrasing:
    """Says statements. `truth` is whether the statement holds or does not."""

    nouns: Nouns

    def clause(self, node: nodes.Expression, truth: bool, mood: _Mood) -> str:
        match node:
            case nodes.Not():
                return self.clause(node.operand, not truth, mood)
            case nodes.And() | nodes.Or():
                if isinstance(node, nodes.And) and not truth and mood is _OBLIGATION:
                    return self._not_together(node)
                word = "and" if isinstance(node, nodes.And) is truth else "or"
                return joined([self.clause(each, truth, mood) for each in node.parts], word)
            case nodes.Compare():
                return self._compare(node, truth, mood)
            case nodes.Among():
                words = list(
                    dict.fromkeys(self.nouns.compared(node.item, each) for each in node.choices)
                )
                return self._is(node.item, joined(words, "or"), truth is not node.negated, mood)
            case nodes.Contains():
                verb = mood.hold if truth is not node.negated else mood.not_hold
                return f"{self.nouns.value(node.entries)} {verb} {self.nouns.value(node.item)}"
            case nodes.Placed():
                return self._placed(node, truth, mood)
            case nodes.Has():
                return f"{self.nouns.called(node.part)} {_be(mood, truth)} fitted"
            case nodes.Fold(how="any"):
                return self._some(node, truth, mood)
            case nodes.Fold(how="all"):
                return self._every(node, truth, mood)
            case nodes.PlainValue():
                return "always" if (node.value is True) is truth else "never"
        return self._is_so(node, truth, mood)

    def relative(self, node: nodes.Expression, truth: bool) -> str:
        """A statement about `it` as a relative clause: whose swap type is hot."""
        if isinstance(node, nodes.Not):
            return self.relative(node.operand, not truth)
        if isinstance(node, nodes.And | nodes.Or):
            word = "and" if isinstance(node, nodes.And) is truth else "or"
            return joined([self.relative(each, truth) for each in node.parts], word)
        clause = self.clause(node, truth, _INDICATIVE)
        if clause.startswith("its "):
            return f"whose {clause.removeprefix('its ')}"
        if clause.startswith("it "):
            return f"that {clause.removeprefix('it ')}"
        return f"where {clause}"

    def _not_together(self, node: nodes.And) -> str:
        """What must not be all at once."""
        parts = node.parts
        if all(isinstance(each, nodes.Has) for each in parts):
            names = [self.nouns.called(each.part) for each in parts if isinstance(each, nodes.Has)]
            return f"{joined(names, 'and')} must not be fitted together"
        if all(isinstance(each, nodes.Placed) and each.state == "filled" for each in parts):
            places = [e.positions for e in parts if isinstance(e, nodes.Placed)]
            names = [self.nouns.opened.place(places_(each)) for each in places]
            return f"{joined(names, 'and')} must not be filled together"
        clauses = [self.clause(each, True, _INDICATIVE) for each in parts]
        return f"it must not be that {joined(clauses, 'and')}"

    def _is_so(self, node: nodes.Expression, truth: bool, mood: _Mood) -> str:
        """A field that is true or not: the part in BEZEL must be lockable."""
        verb = _be(mood, truth)
        if isinstance(node, nodes.Attribute):
            return f"{self.nouns.value(node.of)} {verb} {field_words(node)}"
        return f"{self.nouns.value(node)} {verb} so"

    def _is(self, item: nodes.Expression, what: str, truth: bool, mood: _Mood) -> str:
        """A value that is one thing or another: FRONT must hold `bays-fast`."""
        if isinstance(item, nodes.Attribute) and item.name == "id":
            if isinstance(item.of, nodes.PartIn):
                place = self.nouns.opened.place(item.of.position)
                return f"{place} {mood.hold if truth else mood.not_hold} {what}"
            if isinstance(item.of, nodes.LoopVariable | nodes.It):
                return f"{self.nouns.value(item.of)} {_be(mood, truth)} {what}"
        subject = self.nouns.value(item)
        return f"{subject} {_be(mood, truth)} {what}"

    def _compare(self, node: nodes.Compare, truth: bool, mood: _Mood) -> str:
        left, right, order = node.left, node.right, node.order
        if isinstance(left, nodes.PlainValue) and not isinstance(right, nodes.PlainValue):
            left, right, order = right, left, _FLIPPED[order]
        order = order if truth else _TURNED[order]
        if isinstance(right, nodes.PlainValue):
            if isinstance(right.value, bool):
                return self.clause(left, (order == "==") is right.value, mood)
            if right.type.sort is TypeSort.NOTHING:
                return f"{self.nouns.value(left)} {_be(mood, order != '==')} stated"
            if (
                isinstance(left, nodes.Fold)
                and left.how == "count"
                and isinstance(left.over, nodes.Collection)
                and isinstance(right.value, Decimal)
            ):
                return self._counted(left, order, right.value, mood)
        alike = order in ("==", "!=") and not isinstance(right, nodes.PlainValue)
        degree = "equal to " if alike else _DEGREES.get(order, "")
        what = f"{degree}{self.nouns.compared(left, right)}{_REACHED.get(order, '')}"
        return self._is(left, what, order != "!=", mood)

    def _counted(
        self, node: nodes.Fold, order: nodes.Comparator, number: Decimal, mood: _Mood
    ) -> str:
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
        things = one if number == 1 else many
        verb = (mood.may if order in ("<", "<=") else mood.be)[number != 1]
        match order:
            case ">=":
                return f"{words} or more {things} {verb} fitted"
            case "<=" if mood is _INDICATIVE and number > 1:
                return f"{words} or fewer {things} {verb} fitted"
        degree = {"==": "exactly ", "<": "fewer than ", ">": "more than ", "<=": "up to "}[order]
        return f"{degree}{words} {things} {verb} fitted"

    def _things(self, node: nodes.Fold, *more: nodes.Expression) -> tuple[str, str]:
        """What is counted, one and several, with what tells them from the others."""
        one, many = self.nouns.noun_of(node.over)
        relative = _whose(self.nouns, node, *more)
        return one + relative, many + relative

    def _some(self, node: nodes.Fold, truth: bool, mood: _Mood) -> str:
        """Some member for which the value holds, or none."""
        assert node.value is not None
        one, _ = self._things(node, node.value)
        owner = self.nouns.owner_of(node.over)
        if owner:
            return f"{owner} {mood.hold if truth else mood.not_hold} {_article(one)} {one}"
        if truth:
            return f"{_article(one)} {one} {mood.be[0]} fitted"
        return f"no {one} {mood.may[0]} fitted"

    def _every(self, node: nodes.Fold, truth: bool, mood: _Mood) -> str:
        """That the value holds of every member, or that it does not of some."""
        value, holds = node.value, True
        while isinstance(value, nodes.Not):
            value, holds = value.operand, not holds
        assert value is not None
        if isinstance(value, nodes.And | nodes.Or) and not (
            truth and isinstance(value, nodes.And) is holds
        ):  # said of each member at once: "every A or B" is not "every A or every B"
            opposite = nodes.Not(start=value.start, end=value.end, type=value.type, operand=value)
            return self._some(replace(node, value=opposite if holds else value), not truth, mood)
        one, _ = self._things(node)
        owner = self.nouns.owner_of(node.over)
        of = {"": "", "it": " of it"}.get(owner, f" of {owner}")
        inner = _Phrasing(self.nouns.within(node.item, f"{'every' if truth else 'some'} {one}{of}"))
        return inner.clause(value, truth is holds, mood)

    def _placed(self, node: nodes.Placed, truth: bool, mood: _Mood) -> str:
        names, several = self.nouns.opened.place(places_(node.positions)), len(node.positions) > 1
        if truth or not several:
            return f"{names} {(mood.be if truth else mood.not_be)[several]} {node.state}"
        verb, _, be = mood.not_be[1].partition("not")
        return f"{names} {verb}not all{be} {node.state}"


def _be(mood: _Mood, truth: bool) -> str:
    return (mood.be if truth else mood.not_be)[0]


def _article(word: str) -> str:
    return "an" if word[0] in "aeiou" else "a"


def _whose(nouns: Nouns, node: nodes.Fold, *more: nodes.Expression) -> str:
    """The conditions on the members of a run, as relative clauses."""
    inner = _Phrasing(nouns.within(node.item, "it"))
    clauses = [inner.relative(each, True) for each in (*node.conditions, *more)]
    return f" {joined(clauses, 'and')}" if clauses else ""
