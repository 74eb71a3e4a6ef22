"""The model of one platform, and the builds that a solver proposes and the checks accept."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cached_property
from typing import Any, Final

from specgen.assembly import Assembly, assemble
from specgen.diagnostics import Finding, Severity, worst
from specgen.facts import Facts, facts_of
from specgen.frozen import frozen
from specgen.limits.build_model import BuildModel, Seat
from specgen.limits.build_text import build_of
from specgen.limits.closure import PositionNode, closure
from specgen.limits.constraint_encoding import translate
from specgen.limits.learnt import Learnt, hold, learnt
from specgen.limits.objectives import objectives_of
from specgen.limits.reason import ReasonKind
from specgen.limits.rule_encoding import state
from specgen.limits.solver import ANY, TIDY_SLACK, WORK, Answer, Goal, Logic, Nothing, run
from specgen.limits.spare_positions import with_spares
from specgen.limits.sums import BoolVar, Sum
from specgen.limits.wiring import Wiring
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Platform
from specgen.rules import judge
from specgen.rules.judged import breaches

MOST_ROUNDS: Final = 4
"""Builds proposed in vain, each ruled out by itself."""
MOST_LESSONS: Final = 40
"""Builds proposed in vain, each ruled out with all that is worse."""


@frozen
class FoundBuild:
    """A build that the checks accept, with what the solver said of it. `rounds` were judged."""

    build: Build
    assembly: Assembly
    facts: Facts
    answer: Answer
    rounds: int
    exact: bool
    """Whether all that was refused before was ruled out with nothing valid."""


@frozen
class NoBuild:
    """No build: there is none (`proved`), or none was found in the time given.

    `bound` is the bound on the goal where there is one; `refused` the last build that the model
    allows and the checks do not.
    """

    proved: bool
    rounds: int
    bound: int | None = None


class Solver:
    """The model of one platform, made once and asked many questions.

    It leaves out no valid build. Raises `NoSolver` where the solver is not installed, `TooLarge`
    where a platform can have too many positions, `NotWhole` where amounts cannot be scaled to
    whole numbers without loss. With `argues`, statements of those sorts can be taken back; with
    `spares`, that there are no more positions than so many of each sort is one of them.
    """

    def __init__(
        self,
        definitions: Definitions,
        platform: Platform,
        at: Conditions = ANYWHERE,
        argues: Iterable[ReasonKind] = (),
        published: bool = True,
        spares: int = 0,
    ) -> None:
        self.definitions, self.platform, self.at = definitions, platform, at
        self.bare = assemble(definitions, platform, None, at)
        nodes = closure(self.bare, published)
        self.nodes: tuple[PositionNode, ...] = with_spares(nodes, spares) if spares else nodes
        self.logic = Logic(frozenset(argues))
        self.builds = BuildModel(self.bare, self.nodes, self.logic)
        self.wiring = Wiring(self.builds)
        self.builds.demand(self.wiring.links(), self.builds.blocked())
        self.builds.wide()
        self.builds.needs()
        self.wiring.speak()
        self.wiring.lanes()
        translate(self.builds)
        state(self.builds)
        self.learnt: list[Learnt] = []

    @cached_property
    def free(self) -> tuple[Seat, ...]:
        """What a build can choose."""
        return tuple(seat for seat in self.builds.seats.values() if not seat.node.fixed)

    @cached_property
    def parts(self) -> Any:
        """How many parts a build names."""
        return sum(seat.sits for seat in self.free)

    @cached_property
    def fewest(self) -> Goal:
        """A build of hardly more than the fewest parts."""
        return Goal(self.parts, most=False, slack=1, sums=False)

    @cached_property
    def totals(self) -> Mapping[str, tuple[Any, Fraction]]:
        """The sum of each objective in whole steps, and how many of them make a unit.

        Made together, so that no question changes the model for the next.
        """
        found = {}
        for key, objective in objectives_of(self.definitions).items():
            total = objective.total(self.builds)
            found[key] = self.whole(total)
        return found

    def whole(self, total: Sum) -> tuple[Any, Fraction]:
        """A sum in whole steps, and how many of them make a unit. Raises `NotWhole`."""
        scale = self.logic.scale_of(total)
        return self.logic.expression(total, scale), scale

    @cached_property
    def least(self) -> Answer | Nothing:
        """The build of fewest parts: where searches start."""
        _ = self.totals
        return run(self.logic, self.logic.model.clone(), self.fewest)

    def model(self, where: Iterable[BoolVar] = (), started: bool = True) -> Any:
        """A copy of the model in which some literals hold."""
        held = list(where)  # before the copy: making a literal changes the model
        start = self.least if started else None
        model = self.logic.model.clone()
        if isinstance(start, Answer):
            for index, value in start.holds.items():
                model.add_hint(model.get_int_var_from_proto_index(index), value)
        for literal in held:
            model.add_bool_or([literal])
        return model

    def seek(
        self,
        model: Any,
        goal: Goal = ANY,
        name: str = "example",
        base: Build | None = None,
        work: float = WORK,
    ) -> FoundBuild | NoBuild:
        """The best build that the checks accept, in at most `MOST_ROUNDS` and `MOST_LESSONS`.

        It is judged with all but the parts of the build `base`, such as its volumes.
        """
        bound, exact, alone, rounds = None, True, 0, 0
        while alone < MOST_ROUNDS and rounds < MOST_ROUNDS + MOST_LESSONS:
            rounds += 1
            answer = run(self.logic, model, goal, work)
            if isinstance(answer, Nothing):
                return NoBuild(answer.proved and exact, rounds - 1, bound or answer.bound)
            bound = answer.bound if bound is None or exact else bound
            build = build_of(self.builds, self.wiring, answer, name)
            if base is not None:
                build = replace(base, fit=build.fit)
            assembly = assemble(self.definitions, self.platform, build, self.at)
            facts = facts_of(assembly)
            found = judge(assembly, facts)
            if worst(found) is not Severity.ERROR:
                return FoundBuild(build, assembly, facts, answer, rounds, exact)
            lessons = self._lessons(assembly, facts, found)
            self.learnt.extend(lessons)
            hold(self.builds, lessons, model)
            if not lessons:
                exact, alone = False, alone + 1
                model.add_bool_or([literal.negated() for literal in self.chosen(answer)])
        return NoBuild(False, rounds, bound)

    def _lessons(
        self, assembly: Assembly, facts: Facts, found: tuple[Finding, ...]
    ) -> tuple[Learnt, ...]:
        """What the values that cannot be, among the errors found, teach."""
        errors = {each.code for each in found if each.severity is Severity.ERROR}
        refused = (each for each in breaches(facts) if each.row.code in errors)
        lessons = (learnt(self.builds, assembly, facts, each) for each in refused)
        return tuple(dict.fromkeys(each for each in lessons if each is not None))

    def chosen(self, answer: Answer) -> Iterator[BoolVar]:
        """All that a build decides, as the answer has it."""
        for literal in (*(seat.sits for seat in self.free), *self.wiring.ends.values()):
            yield literal if answer.holds[literal.index] else literal.negated()

    def tidy(self, expression: Any, most: bool) -> tuple[Goal, int]:
        """A goal that wants few parts beside, and what a step of the goal then weighs.

        A step weighs more than all parts and the slack together, so that it always goes first.
        """
        weight = len(self.nodes) + TIDY_SLACK + 1
        goal = expression * weight
        return Goal(goal - self.parts if most else goal + self.parts, most, TIDY_SLACK), weight
