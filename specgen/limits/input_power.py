"""The most and the least input power of a platform: no sum, but it grows with one.

For a model of power supply and a number of them, more DC load means more input power where the
curve says so. So the limit is that of the DC load for each such choice, the most promising first,
until no other can go beyond what is found.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise, product
from typing import Final

from specgen.facts.supply_feeds import declared_feeds, shared_out
from specgen.fitness.curves import Curve, curve_of
from specgen.fitness.part_fields import output_at
from specgen.frozen import frozen
from specgen.limits.build_model import BuildModel, Seat
from specgen.limits.sums import ONE, BoolVar, Sum
from specgen.model import FEED_NAMES, PowerSupply
from specgen.quantity import Power

DIVIDED: Final = Decimal("1e-20")
"""How far apart two ways to work out a quotient may end, in parts of it."""


@frozen
class SupplyChoice:
    """So many power supplies of one model, of which `spare` may fail; where they work."""

    model: str
    curve: Curve
    output: Power
    spare: int
    seats: tuple[tuple[tuple[BoolVar, ...], int], ...]
    """Positions said to be on one feed, or on none, and how many of them are filled."""
    lost: tuple[int, ...] = ()
    """How many go out with each feed."""

    @property
    def count(self) -> int:
        return sum(count for _, count in self.seats)

    @property
    def states(self) -> range:
        """How many share the load: all, and those left after each number of failures."""
        return range(self.count - self.spare, self.count + 1)

    @property
    def without_feed(self) -> frozenset[int]:
        """Other numbers that share it when a feed is lost, as long as they carry it."""
        return frozenset(self.count - lost for lost in self.lost) - {0} - frozenset(self.states)

    def input(self, load: Decimal, most: bool) -> Decimal | None:
        """W in the worst state at a DC load; None where the curve does not say it.

        It bounds lower loads too, or for the least higher ones: what is left when a feed is lost
        goes out above its output, and input power falls there.
        """
        ends = {carrying: self.output.amount * carrying for carrying in self.without_feed}
        turns = (end for end in ends.values() if (end < load if most else end >= load))
        found = []
        # At the load itself, and where input power falls: at each such end, or just above it.
        for at, past in ((load, False), *((end, not most) for end in turns)):
            left = [each for each, end in ends.items() if at < end or (at == end and not past)]
            drawn = [self._drawn(at, carrying) for carrying in (*self.states, *left)]
            known = [each for each in drawn if each is not None]
            if len(known) < len(drawn):
                return None
            found.append(max(known))
        return max(found) if most else min(found)

    def _drawn(self, load: Decimal, carrying: int) -> Decimal | None:
        each = Power.of(load / carrying)
        efficiency = self.curve.efficiency(each) if each <= self.output else None
        return None if efficiency is None else load / efficiency

    def bound(self, load: Decimal, most: bool) -> Decimal:
        """Beyond which no input power lies at such a load and all below it, or above it."""
        if self.rises and (known := self.input(load, most)) is not None:
            return known
        lowered = Decimal(0) if self.curve.lowered is None else self.curve.lowered.fraction
        values = [point.efficiency - lowered for point in self.curve.points]
        efficiency = min(values) if most else max(values)
        return load / efficiency if efficiency > 0 else Decimal("Infinity")

    @property
    def rises(self) -> bool:
        """Whether more load always means more input: L / (a + b L) rises where a is positive."""
        points = sorted(self.curve.points, key=lambda point: point.load)
        less = Decimal(0) if self.curve.lowered is None else self.curve.lowered.fraction
        return all(
            (low.efficiency - less) * high.load > (high.efficiency - less) * low.load
            for low, high in pairwise(points)
        )


def supply_choices(builds: BuildModel) -> Iterator[SupplyChoice]:
    """Every model of power supply with every number of them, as far as a curve is declared."""
    conditions, project = builds.bare.conditions, builds.bare.definitions.project
    line, allowed = conditions.supply_line, project.assumptions.curve_allowance
    spare = 0 if conditions.redundancy is None else conditions.redundancy.spare
    on = declared_feeds(builds.bare.platform, None) if conditions.feeds else {}
    feeds = FEED_NAMES[: conditions.feeds or 0]
    models: dict[str, tuple[PowerSupply, dict[str, list[Seat]]]] = {}
    for seat in builds.working(PowerSupply):
        assert isinstance(seat.part, PowerSupply)
        _, seats = models.setdefault(seat.part.id, (seat.part, {}))
        feed = on.get(seat.node.name, "")
        seats.setdefault(feed if feed in feeds else "", []).append(seat)
    for part, seats in models.values():
        curve, _ = curve_of(part, line, None if allowed is None else allowed.value)
        output = output_at(part.outputs, line)
        if curve is None or output is None:
            continue
        most = [len({seat.node.name for seat in alike}) for alike in seats.values()]
        works = [tuple(seat.works for seat in alike) for alike in seats.values()]
        for counts in product(*(range(each + 1) for each in most)):
            if sum(counts) > spare:
                named = dict(zip(seats, counts, strict=True))
                lost = tuple(shared_out(feeds, named).values())
                chosen = tuple(zip(works, counts, strict=True))
                yield SupplyChoice(part.id, curve, output, spare, chosen, lost)


def best_first(
    choices: Iterable[tuple[SupplyChoice, Decimal]], most: bool
) -> list[tuple[Decimal, SupplyChoice]]:
    """Choices with what bounds their input power, the most promising first."""
    bounded = [(choice.bound(load, most), choice) for choice, load in choices]
    return sorted(bounded, key=lambda each: each[0], reverse=most)


def input_beyond(builds: BuildModel, total: Sum, bound: Decimal, most: bool) -> BoolVar:
    """Whether the input power of a system goes beyond a bound, `total` being its DC load.

    For each choice of power supplies that is so from some load on. The load is one number of the
    model, in steps, so that it is summed once for all choices.
    """
    logic, found = builds.logic, []
    scale = logic.scale_of(total)
    load = logic.summed(total, scale)
    for choice in supply_choices(builds):
        least = _first_beyond(choice, scale, bound, most)
        if least is None:
            continue
        past = Sum(((ONE, load),), -Decimal(least))
        passed = past.times(-ONE) if most else past
        found.append(logic.both([*_filled(builds, choice), logic.below_or_none(passed)]))
    return logic.either(found)


def _filled(builds: BuildModel, choice: SupplyChoice) -> Iterator[BoolVar]:
    """That so many of its supplies work, no more and no fewer."""
    for seats, count in choice.seats:
        apart = Sum(tuple((ONE, works) for works in seats), Decimal(-count))
        yield builds.logic.below_or_none(apart)
        yield builds.logic.below_or_none(apart.times(-ONE))


def _first_beyond(choice: SupplyChoice, scale: Fraction, bound: Decimal, most: bool) -> int | None:
    """The DC load nearest to the bound that draws more (or less) than it, in steps."""
    carried = Fraction(choice.output.amount) * (choice.count - choice.spare) * scale

    def beyond(steps: int) -> bool:
        drawn = choice.bound(Decimal(steps * scale.denominator) / scale.numerator, most)
        return drawn > bound if most else drawn < bound

    low, high = 0, int(carried)
    if not beyond(high if most else low):
        return None
    if beyond(low if most else high):
        return low if most else high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if beyond(middle) is most else (middle, high)
    return high if most else low
