"""What the solver learns from a value that cannot be: everything that is as bad or worse.

The value was worked out from a sum of the build and from the parts that state certain fields; the
judgement says which. With the same number of each of these parts, a sum above the greatest that
the judgement lets pass is ruled out, and so is every larger one. That leaves out no valid build:
limits stay proved.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import ROUND_FLOOR, Decimal
from functools import partial
from typing import Any, Final

from specgen.assembly import Assembly
from specgen.facts import Declared, Fact, Facts, ledger_of
from specgen.facts.calculators.subjects import WITHOUT_FEED
from specgen.facts.supply_feeds import declared_feeds
from specgen.fitness import field_of
from specgen.frozen import frozen
from specgen.limits.build_model import BuildModel, Seat
from specgen.limits.reason import Reason, ReasonKind
from specgen.limits.sums import Sum
from specgen.limits.totals import TOTALS
from specgen.model import Part
from specgen.quantity import Power, Quantity
from specgen.rules.judgement import Breach, Judgement

DC_LOAD: Final = "power.maximum"
STEPS = 1000
"""A sum is ruled out to a thousandth of the unit that it is kept in."""


@frozen
class Learnt:
    """With so many of each of some parts, a sum is at most so much; None where none would do.

    `parts` are by id and the feed that their position is said to be on.
    """

    row: Judgement
    parts: tuple[tuple[tuple[str, str], int], ...]
    feeds: tuple[tuple[str, str], ...]
    most: Decimal | None
    up_to: Decimal | None
    """The sum up to which all above `most` is as bad; None where every larger one is."""
    reason: Reason


def learnt(builds: BuildModel, assembly: Assembly, facts: Facts, breach: Breach) -> Learnt | None:
    """What a value that cannot be teaches; None where the judgement does not say on what it rests,
    or where it rests on more than that."""
    row = breach.row
    if not row.solved or breach.other is not None:
        return None
    held = facts.get(row.grows_with) if row.grows_with else None
    if not all(_is_about(assembly, row, entry) for entry in _leaves(breach.fact, held)):
        return None
    feeds = declared_feeds(assembly.platform, assembly.build)
    fitted = Counter(
        (part.id, feeds.get(place.name, ""))
        for place, part in assembly.fitted(Part)
        if _states(row, part)
    )
    most = up_to = None
    if held is not None:
        if not isinstance(held.value, Quantity):
            return None
        least, up_to = _piece(facts, held)
        most = _greatest(assembly, breach, held, least)
    first, others = breach.lines(assembly)
    spans = (label.span for label in (first, *others) if label.span.file)
    at = next(spans, assembly.platform.origin.at("id"))
    known = {(seat.part.id, feeds.get(seat.node.name, "")) for seat in _seats(builds, row)}
    if not known.issuperset(fitted):
        return None
    return Learnt(
        row,
        tuple((which, fitted[which]) for which in sorted(known)),
        tuple(sorted(feeds.items())),
        most,
        up_to,
        Reason(ReasonKind.CHECK, row.demand(assembly), at, row.code.id),
    )


def _leaves(fact: Fact, held: Fact | None) -> Iterator[Declared]:
    """What a fact rests on beside the sum."""
    seen = set() if held is None else {held.key}
    waiting: list[Fact | Declared] = [fact]
    while waiting:
        entry = waiting.pop()
        if isinstance(entry, Declared):
            yield entry
        elif entry.key not in seen:
            seen.add(entry.key)
            waiting.extend(entry.inputs)


def _is_about(assembly: Assembly, row: Judgement, entry: Declared) -> bool:
    """Whether a line is about no part, or about one that the judgement names."""
    place = assembly.places.get(entry.subject)
    return place is None or place.part is None or _states(row, place.part)


def _states(row: Judgement, part: Part) -> bool:
    return any(field_of(part, name) is not None for name in row.among)


def _seats(builds: BuildModel, row: Judgement) -> Iterator[Seat]:
    return (seat for seat in builds.working(Part) if _states(row, seat.part))


def _piece(facts: Facts, held: Fact) -> tuple[Decimal | None, Decimal | None]:
    """The sums round the one in hand at which what is left after the loss of a feed goes out.

    Between two of these, more load never means less input power.
    """
    load, output = facts.value("power.load"), facts.value("power.supply_output")
    if held.key != DC_LOAD or not isinstance(load, Power) or not isinstance(output, Power):
        return None, None
    assert isinstance(held.value, Quantity)
    lost = load.amount / held.value.amount if held.value.amount else Decimal(1)
    left = (facts.value(f"power.{state}.supplies") for state in WITHOUT_FEED)
    ends = [output.amount * count / lost for count in left if isinstance(count, int)]
    below = [end for end in ends if end < held.value.amount]
    above = [end for end in ends if end >= held.value.amount]
    return max(below, default=None), min(above, default=None)


def _greatest(
    assembly: Assembly, breach: Breach, held: Fact, least: Decimal | None
) -> Decimal | None:
    """The greatest sum below the one in hand that passes, all else equal; None where none does.

    None below `least` is looked at.
    """
    ledger, value = ledger_of(assembly.definitions), held.value
    assert isinstance(value, Quantity)

    def passes(steps: int) -> bool:
        other = type(value).of(Decimal(steps) / STEPS)
        facts = ledger.calculate(assembly, {held.key: other})
        fact = facts.get(breach.fact.key)
        broken = {each.fact.key for each in breach.row.broken(facts)}
        return fact is None or fact.key not in broken

    low = 0 if least is None else int((least * STEPS).to_integral_value(ROUND_FLOOR)) + 1
    high = int((value.amount * STEPS).to_integral_value(ROUND_FLOOR))
    if not passes(low):
        return least
    if passes(high):  # less than a step above what passes
        return Decimal(high) / STEPS
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if passes(middle) else (low, middle)
    return Decimal(low) / STEPS


def hold(builds: BuildModel, known: Sequence[Learnt], model: Any = None) -> None:
    """Tells a model, or else the builds' own, what was learnt before."""
    for each in known:
        with builds.logic.because(ReasonKind.CHECK, partial(_said, each)):
            _hold(builds, each, builds.logic.model if model is None else model)


def _said(each: Learnt) -> Reason:
    return each.reason


def _hold(builds: BuildModel, each: Learnt, model: Any) -> None:
    """Fewer of some part, or more where that helps, or a sum that passes."""
    logic = builds.logic
    feeds = dict(each.feeds)
    numbers: dict[tuple[str, str], list[Any]] = {}
    for seat in _seats(builds, each.row):
        which = seat.part.id, feeds.get(seat.node.name, "")
        numbers.setdefault(which, []).append(seat.works)
    ways = [] if logic.now is None else [logic.now.negated()]

    def way(constraint: Any) -> None:
        ways.append(model.new_bool_var(""))
        model.add(constraint).only_enforce_if(ways[-1])

    for which, count in each.parts:
        total = sum(numbers.get(which, ()))
        if count:
            way(total <= count - 1)
        if not each.row.more_is_worse and len(numbers.get(which, ())) > count:
            way(total >= count + 1)
    if each.most is not None:
        apart = TOTALS[each.row.grows_with](builds).plus(Sum((), -each.most))
        way(logic.expression(apart, logic.scale_of(apart)) <= 0)
    if each.up_to is not None:
        beyond = TOTALS[each.row.grows_with](builds).plus(Sum((), -each.up_to))
        way(logic.expression(beyond, logic.scale_of(beyond)) >= 1)
    model.add_bool_or(ways)
