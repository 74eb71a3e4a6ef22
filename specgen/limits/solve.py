"""Solves for a limit, and has what was found judged by the ordinary checks."""

from decimal import Decimal
from fractions import Fraction

from specgen.assembly import Assembly, assemble
from specgen.diagnostics import Severity, worst
from specgen.facts import Facts, facts_of
from specgen.limits.closure import Node, closure
from specgen.limits.limit import Amount, Limit, Status
from specgen.limits.machine import Machine
from specgen.limits.objectives import COUNTED, Objective
from specgen.limits.solver import Answer, Puzzle, run
from specgen.limits.stated import stated
from specgen.limits.together import together
from specgen.limits.wiring import Wiring
from specgen.limits.write import build_of, text_of
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Platform
from specgen.quantity import Quantity
from specgen.rules import judge

MOST_ROUNDS = 4
WORK = 1.5  # deterministic seconds of the solver for one run
TIDY = 1.0


class Solver:
    """The model of one platform, made once and asked for several limits."""

    def __init__(
        self, definitions: Definitions, platform: Platform, at: Conditions = ANYWHERE
    ) -> None:
        self.definitions, self.platform, self.at = definitions, platform, at
        self.bare = assemble(definitions, platform, None, at)
        self.nodes: tuple[Node, ...] = closure(self.bare)
        self.machine = Machine(self.bare, self.nodes, Puzzle())
        self.wiring = Wiring(self.machine)
        self.machine.demand(self.wiring.links(), self.machine.blocked())
        self.machine.needs()
        self.wiring.speak()
        self.wiring.lanes()
        together(self.machine)
        self.untold = stated(self.machine)

    @property
    def puzzle(self) -> Puzzle:
        return self.machine.puzzle

    def limit(self, objective: Objective) -> Limit:
        """The most or least of an objective, with the build that reaches it."""
        puzzle = self.puzzle
        total = objective.total(self.machine)
        scale = puzzle.scale_of(total)
        goal = puzzle.expression(total, scale)
        held: tuple[Amount, Build] | None = None
        bound: int | None = None
        rounds = 0
        while rounds < MOST_ROUNDS:
            answer = run(puzzle, puzzle.model, goal, objective.most, WORK)
            if answer is None:
                break
            rounds += 1
            bound = answer.bound
            answer = self._tidied(goal, answer)
            build = build_of(self.machine, self.wiring, answer, f"{objective.key}-example")
            value = self._judged(objective, build)
            if value is not None and (held is None or _beyond(objective, value, held[0])):
                held = (value, build)
            limit = _amount(objective, _unscaled(bound, scale))
            if held is not None and not _beyond(objective, limit, held[0]):
                return self._made(objective, held, limit, Status.PROVED, rounds)
            self._refuse(answer)
        if held is None and bound is None:
            return self._made(objective, None, None, Status.NOTHING, rounds)
        most = None if bound is None else _amount(objective, _unscaled(bound, scale))
        return self._made(objective, held, most, Status.FOUND, rounds)

    def _tidied(self, goal: object, answer: Answer) -> Answer:
        """Of the builds that reach the same, one of fewest parts, those earliest in the catalog."""
        puzzle = self.puzzle
        if isinstance(goal, int):
            return answer
        order = {name: index for index, name in enumerate(sorted(self.definitions.parts))}
        heavy = 10 * len(order)
        effort = sum(
            (heavy + order[seat.part.id]) * seat.sits
            for seat in self.machine.seats.values()
            if not seat.node.fixed
        )
        ends = sum(rank * end for rank, end in enumerate(self.wiring.ends.values()))
        reaching = puzzle.model.clone()
        reaching.add(goal == answer.value)
        for index, holds in answer.holds.items():
            reaching.add_hint(reaching.get_bool_var_from_proto_index(index), holds)
        return run(puzzle, reaching, effort * 100 + ends, False, TIDY) or answer

    def _judged(self, objective: Objective, build: Build) -> Amount | None:
        """What a build reaches, None where the checks find an error in it."""
        assembly = assemble(self.definitions, self.platform, build, self.at)
        facts = facts_of(assembly)
        if worst(judge(assembly, facts)) is Severity.ERROR:
            return None
        return _reached(objective, assembly, facts)

    def _refuse(self, answer: Answer) -> None:
        """No more this one build, whatever else holds."""
        chosen = [seat.sits for seat in self.machine.seats.values() if not seat.node.fixed]
        chosen += list(self.wiring.ends.values())
        self.puzzle.never(
            *(each if answer.holds[each.index] else each.negated() for each in chosen)
        )

    def _made(
        self,
        objective: Objective,
        held: tuple[Amount, Build] | None,
        bound: Amount | None,
        status: Status,
        rounds: int,
    ) -> Limit:
        value, build = held if held is not None else (None, None)
        if isinstance(value, Quantity) and isinstance(bound, Quantity):
            bound = bound.to(value.unit.symbol)
        text = "" if build is None else text_of(build, self.at)
        return Limit(
            objective.key, objective.label, objective.most, value, bound, status, build, text,
            rounds,
        )  # fmt: skip


def _unscaled(number: int, scale: Fraction) -> Decimal:
    return Decimal(number * scale.denominator) / scale.numerator


def _amount(objective: Objective, amount: Decimal) -> Amount:
    if objective.quantity is None:
        return int(amount)
    return objective.quantity.of(amount)


def _beyond(objective: Objective, one: Amount, two: Amount) -> bool:
    a = one.amount if isinstance(one, Quantity) else Decimal(one)
    b = two.amount if isinstance(two, Quantity) else Decimal(two)
    return a > b if objective.most else a < b


def _reached(objective: Objective, assembly: Assembly, facts: Facts) -> Amount | None:
    kind = COUNTED.get(objective.key)
    if kind is not None:
        return len(assembly.fitted(kind))
    value = facts.value(objective.fact)
    if value is None:
        return _amount(objective, Decimal(0))
    return value if isinstance(value, int | Quantity) else None


def best(
    definitions: Definitions,
    platform: Platform,
    objective: Objective,
    conditions: Conditions = ANYWHERE,
) -> Limit:
    """The most or least of an objective over all valid builds of a platform.

    Raises `NoSolver` where the solver is not installed, `TooLarge` where a platform can have too
    many positions, `NotWhole` where amounts cannot be scaled to whole numbers without loss.
    """
    return Solver(definitions, platform, conditions).limit(objective)
