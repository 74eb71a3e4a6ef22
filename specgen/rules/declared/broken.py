"""What is said where a build breaks a declared rule: why it does, and which line to change."""

from contextlib import suppress
from dataclasses import field
from typing import Any, Final

from specgen.assembly import Assembly, Place
from specgen.diagnostics import Finding, Label
from specgen.expressions import nodes
from specgen.expressions.evaluate import Evaluator, FittedPart, TooLong
from specgen.facts.rule_book import CompiledRule
from specgen.facts.terms import STATE
from specgen.frozen import state
from specgen.messages import NOTHING, Words, listed, message_of, say
from specgen.rules.declared.phrasing import broken_in_words, statement_in_words, value_in_words
from specgen.rules.places import condition_at, in_build, names

MOST_SHOWN: Final = 8  # values in the note of a finding


def broken(
    assembly: Assembly, evaluator: Evaluator, rule: CompiledRule, seats: list[FittedPart]
) -> Finding:
    """The finding for a rule that a build breaks; `seats` are the positions with its part."""
    evaluator.begin(seats[0] if seats else None)
    reasons = _Reasons(evaluator)
    deciding = _Reasons(evaluator)
    with suppress(TooLong):  # what was gathered until then is told
        reasons.take(rule.must.tree, rule.forbids)
        if rule.when is not None:
            deciding.take(rule.when.tree, True)
    own = [fitted.place for fitted in seats]
    places = [*own, *reasons.places, *deciding.places]
    conditions = [*reasons.conditions, *deciding.conditions]
    shown = list(dict.fromkeys([*deciding.shown, *reasons.shown]))[:MOST_SHOWN]
    because = rule.rule.because
    return Finding(
        rule.code,
        message_of(statement_in_words(rule)),
        _at(assembly, places, conditions),
        labels=(Label(rule.must.place(), say("the rule")),),
        notes=(listed(shown, "semicolon"),) if shown else (),
        help=message_of(because.rstrip(".")) if because else NOTHING,
    )


def _at(assembly: Assembly, places: list[Place], conditions: list[str]) -> Label:
    """The line of the build to change: of a part concerned, of a condition, else of the build."""
    for place in places:
        if place.filled_at is not None and in_build(assembly, place.filled_at):
            alike = [each for each in places if each.filled_at == place.filled_at]
            unique = list({each.name: each for each in alike}.values())
            return Label(place.filled_at, message_of(names(unique)))
    for name in conditions:
        span = condition_at(assembly, name)
        if span is not None:
            return Label(span, message_of(name))
    build = assembly.build
    assert build is not None
    return Label(build.origin.at("id"))


@state
class _Reasons:
    """What decided that a statement holds, or does not: values to show, places, conditions."""

    evaluator: Evaluator
    shown: list[Words] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    conditions: list[str] = field(default_factory=list)

    def take(self, node: nodes.Expression, truth: bool) -> None:
        """Gathers from the pieces of a statement that make it what it is."""
        match node:
            case nodes.And() | nodes.Or():
                every = isinstance(node, nodes.And) is truth
                for each in node.parts:
                    if every or self.evaluator.holds(each) is truth:
                        self.take(each, truth)
            case nodes.Not():
                self.take(node.operand, not truth)
            case nodes.Compare():
                self.value(node.left)
                self.value(node.right)
            case nodes.Among():
                self.value(node.item)
            case nodes.Contains():
                self.value(node.entries)
                self.value(node.item)
            case nodes.Placed():
                self._placed(node)
            case nodes.Has():
                held = list(self.evaluator.holding(node.part))
                self.places += [each.place for each in held]
                self.shown.append(
                    say(
                        "`{part}` is in {places}",
                        part=node.part,
                        places=names([each.place for each in held]),
                    )
                    if held
                    else say("`{part}` is nowhere", part=node.part)
                )
            case nodes.Fold(how="any" | "all"):
                self._members(node, truth)
            case _:
                self.value(node)

    def _placed(self, node: nodes.Placed) -> None:
        for name in node.positions:
            place = self.evaluator.assembly.places.get(name)
            if place is not None:
                self.places.append(place)
            state = say("not there") if place is None else STATE[place.state]
            self.shown.append(say("{name} is {state}", name=name, state=state))

    def _members(self, node: nodes.Fold, truth: bool) -> None:
        """Of `any` those for which it holds, of `all` those for which it does not."""
        value = node.value
        if value is None:
            return
        wanted = node.how == "any"
        found = [
            member
            for member, inner in self.evaluator.chosen(node)
            if self.evaluator.holds(value, inner) is wanted
        ]
        places = [member.place for member in found if isinstance(member, FittedPart)]
        self.places += places
        words = broken_in_words(node, truth)
        if places and truth is wanted:
            words = say("{words} ({places})", words=words, places=names(places))
        self.shown.append(words)

    def value(self, node: nodes.Expression) -> None:
        """Gathers from a value: the value itself, and the parts that it comes from."""
        match node:
            case nodes.PlainValue() | nodes.It() | nodes.LoopVariable():
                return
            case nodes.Arithmetic():
                self.value(node.left)
                self.value(node.right)
                return
            case nodes.Negative():
                self.value(node.operand)
                return
            case nodes.ConditionRef():
                self.conditions.append(node.name)
            case nodes.Fold():
                self._counted(node)
        for each in nodes.walk(node):
            if isinstance(each, nodes.PartIn) and not isinstance(node, nodes.Fold):
                fitted = self.evaluator.fitted_part(each.position)
                self.places += [fitted.place] if fitted is not None else []
        self.shown.append(
            say(
                "{name} is {value}",
                name=value_in_words(node),
                value=_printed(self.evaluator.value(node)),
            )
        )

    def _counted(self, node: nodes.Fold) -> None:
        """The part that weighs most: the last one counted, the greatest of a sum, the extreme."""
        weighed: list[tuple[Any, Place]] = []
        for member, inner in self.evaluator.chosen(node):
            if isinstance(member, FittedPart):
                value = None if node.value is None else self.evaluator.value(node.value, inner)
                weighed.append((value, member.place))
        if node.value is None:
            self.places += [place for _, place in reversed(weighed)]
            return
        known = [(value, place) for value, place in weighed if value is not None]
        best = min if node.how == "min" else max
        if known:
            extreme = best(value for value, _ in known)
            self.places += [place for value, place in known if value == extreme]


def _printed(value: Any) -> object:
    if value is None:
        return say("absent")
    return listed(value) if isinstance(value, tuple) and value else value
