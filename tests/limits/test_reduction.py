"""What a question is asked without changes no answer: small models, every assignment looked at."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import product
from random import Random

import pytest

from specgen.limits.reduction import AtMostOneOf, Clause, SumWithin
from specgen.limits.solver import Answer, Goal, Logic, Nothing, run
from specgen.limits.sums import ONE, Sum
from tests.timing import first

MODELS = 200
FREE = 6


def holds(literal: int, values: Sequence[int]) -> bool:
    return bool(values[literal]) if literal >= 0 else not values[~literal]


def kept(told: Clause, values: Sequence[int]) -> bool:
    """Whether an assignment keeps a statement."""
    if isinstance(told, SumWithin):
        total = sum(amount * values[which] for which, amount in told.terms.items())
        asked = all(holds(each, values) for each in told.where)
        return not asked or told.low <= total <= told.high
    if isinstance(told, AtMostOneOf):
        return sum(holds(~each, values) for each in told.wants) <= 1
    return any(holds(each, values) for each in told.wants)


def assignments(logic: Logic) -> Iterator[Sequence[int]]:
    most = logic.ledger.most
    for values in product((1,), *(range(each + 1) for each in most[1:])):
        if all(kept(told, values) for told in logic.ledger.told):
            yield values


def told(random: Random) -> tuple[Logic, list]:
    """A model of a few literals, of which some say something of others."""
    logic = Logic()
    literals = [logic.free("") for _ in range(FREE)]

    def some(most: int) -> list:
        picked = random.sample(literals, random.randint(1, most))
        return [each.negated() if random.random() < 0.3 else each for each in picked]

    def total() -> Sum:
        terms = ((Decimal(random.choice((-3, -2, -1, 1, 2, 3))), each) for each in some(4))
        return Sum(tuple(terms), Decimal(random.randint(-3, 2)))

    for _ in range(random.randint(2, 3)):
        made = random.choice((logic.both, logic.either))(some(3))
        if random.random() < 0.4:
            made = logic.below_or_none(total())
        if 0 < made.index < len(logic.ledger.most):
            literals.append(made)
    for _ in range(random.randint(3, 7)):
        match random.randint(0, 3):
            case 0:
                logic.never(*some(3))
            case 1:
                logic.implies(*some(3))
            case 2:
                logic.at_most_one(some(3))
            case 3:
                logic.at_most(total(), *some(2))
    return logic, literals


@pytest.mark.parametrize("seed", first(25, range(MODELS)))
def test_the_best_is_that_of_all_assignments(seed):
    random = Random(seed)
    logic, literals = told(random)
    amounts = [(random.randint(-2, 3), each) for each in literals]
    most, asked = random.random() < 0.5, random.random() < 0.5
    wanted = random.choice(literals)

    def comes_to(values: Sequence[int]) -> int:
        return sum(amount * values[each.index] for amount, each in amounts)

    every = [each for each in assignments(logic) if not asked or holds(wanted.index, each)]
    model = logic.copy()
    if asked:
        model.add_bool_or([wanted])
    answer = run(logic, model, Goal(sum(amount * each for amount, each in amounts), most))
    if not every:
        assert isinstance(answer, Nothing)
        assert answer.proved
        return
    assert isinstance(answer, Answer)
    best = (max if most else min)(map(comes_to, every))
    assert answer.value == answer.bound == best
    values = [answer.holds[index] for index in range(len(logic.ledger.most))]
    assert comes_to(values) == best
    assert all(kept(each, values) for each in logic.ledger.told)


@pytest.mark.parametrize("seed", first(25, range(MODELS)))
def test_what_a_question_says_by_itself_is_kept(seed):
    """A sum within bounds, a literal of its own that others imply, a number of its own."""
    random = Random(seed)
    logic, literals = told(random)
    terms = [(random.choice((-2, -1, 1, 2)), each) for each in random.sample(literals, 3)]
    low = random.randint(-3, 1)
    high, implying = low + random.randint(0, 2), random.sample(literals, 2)
    most = random.random() < 0.5
    model = logic.copy()
    total = sum(amount * each for amount, each in terms)
    model.add_linear_constraint(total, low, high)
    own, number = model.new_bool_var(""), model.new_int_var(0, 3, "")
    for each in implying:
        model.add_implication(each, own)
    model.add(number >= total)

    def comes_to(values: Sequence[int]) -> int:
        implied = any(holds(each.index, values) for each in implying)
        return 2 * implied + max(0, summed(values))

    def summed(values: Sequence[int]) -> int:
        return sum(amount * values[each.index] for amount, each in terms)

    every = [each for each in assignments(logic) if low <= summed(each) <= min(high, 3)]
    answer = run(logic, model, Goal(2 * own + number, most=False))
    if not every:
        assert isinstance(answer, Nothing)
        return
    assert isinstance(answer, Answer)
    values = [answer.holds[index] for index in range(len(logic.ledger.most))]
    assert low <= summed(values) <= high
    assert answer.value == min(map(comes_to, every))
    if most:
        model = logic.copy()
        model.add_linear_constraint(total, low, high)
        answer = run(logic, model, Goal(total))
        assert answer.value == max(
            map(summed, (v for v in assignments(logic) if low <= summed(v) <= high))
        )


def test_what_is_wanted_by_one_another_alone_falls_away():
    logic = Logic()
    drive, cable, end = (logic.free(each) for each in ("drive", "cable", "end"))
    logic.implies(drive, cable)
    logic.implies(cable, end)
    logic.implies(end, cable)
    logic.at_most(Sum(((ONE, drive), (ONE, cable)), -Decimal(2)))
    answer = run(logic, logic.copy())
    assert isinstance(answer, Answer)
    assert [answer.holds[each.index] for each in (drive, cable, end)] == [0, 0, 0]
    model = logic.copy()
    model.add_bool_or([drive])
    answer = run(logic, model)
    assert isinstance(answer, Answer)
    assert [answer.holds[each.index] for each in (drive, cable, end)] == [1, 1, 1]
