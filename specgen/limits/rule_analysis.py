"""Rules about rules: those that never apply, contradict others, repeat what holds anyway, or put a
part or a position out of reach. The solver proves each; what it cannot settle is not told."""

from collections.abc import Iterable, Iterator, Sequence

from specgen.diagnostics import Code, Finding, Label, codes, quoted
from specgen.expressions.reads import reads_of
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.rule_encoding import NotLinear, breaches, cases, reason_of, rules_of
from specgen.limits.solve import Solver
from specgen.limits.solver import ANY, Answer, Goal, Nothing, run
from specgen.limits.sums import BoolVar
from specgen.messages import Listed, Message, message_of, say
from specgen.model import Definitions, Platform
from specgen.rules.declared import CompiledRule

WORK = 1.0


def doubts(definitions: Definitions) -> tuple[Finding, ...]:
    """What is doubtful about the declared rules of a project. Raises what `Solver` does.

    A rule is told of where what is said of it holds on every platform that it concerns.
    """
    raised: dict[str, list[Finding | None]] = {}
    lost: dict[tuple[str, str], list[Finding | None]] = {}
    for platform in definitions.platforms.values():
        analysis = _RuleAnalysis(definitions, platform)
        for rule, finding in analysis.of_rules():
            raised.setdefault(rule.code.id, []).append(finding)
        for key, finding in analysis.out_of_reach():
            lost.setdefault(key, []).append(finding)
    return tuple(
        findings[0]
        for findings in (*raised.values(), *lost.values())
        if findings[0] is not None and all(finding is not None for finding in findings)
    )


class _RuleAnalysis:
    """One platform, with a literal for each of its rules."""

    def __init__(self, definitions: Definitions, platform: Platform) -> None:
        self.platform = platform
        self.solver = Solver(definitions, platform, argues=(ReasonKind.RULE,))
        self.logic = self.solver.logic
        self.reasons = dict(self.logic.reasons)

    def of_rules(self) -> Iterator[tuple[CompiledRule, Finding | None]]:
        """Each rule that can concern the platform, with what is doubtful about it here.

        What a rule asks for where it speaks of the inlet or the line holds in some rooms and not
        in others; only its case is judged then, where that speaks of neither.
        """
        for rule in rules_of(self.solver.bare, ("error", "warning")):
            reason = reason_of(rule)
            if rule.rule.severity == "error" and reason not in self.reasons:
                continue
            if rule.when is not None and reads_of([rule.when.tree]).conditions:
                continue
            try:
                arises = cases(self.solver.builds, rule)
                broken = self.logic.either(
                    self.logic.both(breach) for breach in breaches(self.solver.builds, rule)
                )
            except NotLinear:
                if rule.when is not None and rule.reads.conditions:
                    yield from self._of_its_case(rule, reason)
                continue
            if rule.scope == "part" and arises.index == self.logic.FALSE.index:
                continue  # its part does not go into this platform
            if rule.reads.conditions:
                yield from self._of_its_case(rule, reason)
            elif rule.rule.severity == "warning":
                yield rule, self._of_warning(rule, arises, broken)
            else:
                yield rule, self._of(rule, reason, arises, broken)

    def _of_its_case(
        self, rule: CompiledRule, reason: Reason
    ) -> Iterator[tuple[CompiledRule, Finding | None]]:
        """Whether the case of a rule arises, whatever it then asks for."""
        try:
            arises = cases(self.solver.builds, rule)
        except NotLinear:
            return
        if rule.scope == "part" and arises.index == self.logic.FALSE.index:
            return
        others = [each for each in self.reasons if each != reason]
        yield rule, self._never_arises(rule, self._core([arises], others))

    def _never_arises(self, rule: CompiledRule, core: list[Reason] | None) -> Finding | None:
        """That no build has the case of a rule, by the other rules that leave none."""
        if core is None:
            return None
        if not core:
            words = say("the case of `{rule}` never arises", rule=rule.code.id)
            return _finding(codes.RULE_NEVER, rule, words, ())
        words = say(
            "the case of `{rule}` is ruled out by {others}",
            rule=rule.code.id,
            others=_codes(core),
        )
        return _finding(codes.RULE_CONTRADICTED, rule, words, core)

    def _of_warning(self, rule: CompiledRule, arises: BoolVar, broken: BoolVar) -> Finding | None:
        """Of a warning, which forbids no build: its case, and whether it can be kept and broken."""
        held = [*self.reasons]
        never = self._never_arises(rule, self._core([arises], held))
        if never is not None:
            return never
        core = self._core([arises, broken.negated()], held)
        if core is not None:
            return _finding(codes.RULE_CONTRADICTED, rule, _impossible(rule), core)
        if not self._possible([broken], held):
            return self._repeats(rule, self._core([broken], held) or [])
        return None

    def _repeats(self, rule: CompiledRule, others: Sequence[Reason]) -> Finding:
        words = say("`{rule}` repeats what positions, needs and built-in checks demand")
        if others:
            words = say("`{rule}` repeats {others}")
        words = words.filled(rule=rule.code.id, others=_codes(others))
        return _finding(codes.RULE_REPEATS, rule, words, others)

    def _of(
        self, rule: CompiledRule, reason: Reason, arises: BoolVar, broken: BoolVar
    ) -> Finding | None:
        core = self._core([arises])
        if core is not None:
            others = [each for each in core if each != reason]
            if core and not others:
                return _finding(codes.RULE_CONTRADICTED, rule, _impossible(rule), ())
            return self._never_arises(rule, others)
        rest = [each for each in self.reasons if each != reason]
        if not self._possible([broken], rest):
            others = [each for each in self._core([broken], rest) or () if each != reason]
            return self._repeats(rule, others)
        return None

    def _model(self, where: Sequence[BoolVar], held: Iterable[Reason]) -> object:
        model = self.logic.model.clone()
        for literal in where:
            model.add_bool_or([literal])
        kept = set(held)
        for reason, literal in self.reasons.items():
            model.add_bool_or([literal if reason in kept else literal.negated()])
        return model

    def _possible(self, where: Sequence[BoolVar], held: Iterable[Reason]) -> bool:
        """Whether a build is not ruled out."""
        answer = run(self.logic, self._model(where, held), ANY, WORK)
        return not (isinstance(answer, Nothing) and answer.proved)

    def _core(
        self, where: Sequence[BoolVar], held: Sequence[Reason] | None = None
    ) -> list[Reason] | None:
        """A smallest set of rules that leaves no build; None where a build is not ruled out."""
        kept = list(self.reasons if held is None else held)
        if self._possible(where, kept):
            return None
        for reason in tuple(kept):
            fewer = [each for each in kept if each != reason]
            if not self._possible(where, fewer):
                kept = fewer
        return kept

    def out_of_reach(self) -> Iterator[tuple[tuple[str, str], Finding | None]]:
        """Parts and positions that rules leave in no build, though without rules some build has
        them; None for those that some build has."""
        wanted: dict[tuple[str, str], BoolVar] = {}
        builds = self.solver.builds
        for part in self.solver.definitions.parts.values():
            seats = [s.works for s in self.solver.free if s.part.id == part.id]
            if seats:
                wanted["part", part.id] = self.logic.either(seats)
        for name in builds.named:
            if any(not node.fixed for node in builds.named[name]):
                wanted[self.platform.id, name] = builds.works_at(name)
        missing = self._never(wanted, self.reasons)
        possible = self._never({key: wanted[key] for key in missing}, ())
        for key, literal in wanted.items():
            if key not in missing:
                yield key, None
            elif key not in possible:
                yield key, self._lost(key, self._core([literal]) or [])

    def _never(
        self, wanted: dict[tuple[str, str], BoolVar], held: Iterable[Reason]
    ) -> dict[tuple[str, str], BoolVar]:
        """Those that no build has while some rules hold."""
        left, kept = dict(wanted), tuple(held)
        while left:
            model = self._model([self.logic.either(left.values())], kept)
            goal = Goal(sum(left.values()), most=True, slack=len(left) / 4)
            answer = run(self.logic, model, goal, WORK)
            if isinstance(answer, Nothing):
                return left if answer.proved else {}
            left = {key: each for key, each in left.items() if not _holds(answer, each)}
        return left

    def _lost(self, key: tuple[str, str], reasons: Sequence[Reason]) -> Finding:
        sort, name = key
        if sort == "part":
            at = self.solver.definitions.parts[name].origin.at("id")
            words = say("rules leave `{name}` in no build of any platform", name=name)
        else:
            at = self.solver.builds.named[name][0].place.declared_at
            words = say(
                "rules leave {name} empty in every build of `{platform}`",
                name=name,
                platform=self.platform.id,
            )
        return Finding(
            codes.OUT_OF_REACH, words, Label(at),
            labels=tuple(Label(each.at, message_of(each.words)) for each in reasons),
            help=say("change a rule, or take it out of the definitions"),
        )  # fmt: skip


def _holds(answer: Answer, literal: BoolVar) -> bool:
    index = literal.index
    return bool(answer.holds[index]) if index >= 0 else not answer.holds[-index - 1]


def _codes(reasons: Sequence[Reason]) -> Listed:
    return quoted((each.code for each in reasons), "and")


def _impossible(rule: CompiledRule) -> Message:
    return say("`{rule}` asks in its own case for what cannot be", rule=rule.code.id)


def _finding(code: Code, rule: CompiledRule, words: Message, others: Sequence[Reason]) -> Finding:
    return Finding(
        code, words, Label(rule.at),
        labels=tuple(Label(each.at, message_of(each.words)) for each in others),
        help=say("change the rule, or take it out"),
    )  # fmt: skip
