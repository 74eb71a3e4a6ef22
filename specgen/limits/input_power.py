"""The most and the least input power of a platform: no sum, but it grows with one.

For a model of power supply and a number of them, more DC load means more input power where the
curve says so. So the limit is that of the DC load for each such choice, the most promising first,
until no other can go beyond what is found.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from itertools import pairwise

from specgen.fitness.curves import Curve, curve_of
from specgen.fitness.part_fields import output_at
from specgen.frozen import frozen
from specgen.limits.solve import Solver
from specgen.limits.solver import BoolVar
from specgen.model import PowerSupply
from specgen.quantity import Power


@frozen
class SupplyChoice:
    """So many power supplies of one model, of which `spare` may fail; where they work."""

    model: str
    curve: Curve
    output: Power
    count: int
    spare: int
    seats: tuple[BoolVar, ...]

    @property
    def states(self) -> tuple[int, ...]:
        """How many share the load: all, and those left after the failures."""
        return tuple(dict.fromkeys((self.count, self.count - self.spare)))

    def input(self, load: Decimal) -> Decimal | None:
        """W in the worst state at a DC load; None where the curve does not say it."""
        found = []
        for carrying in self.states:
            each = Power.of(load / carrying)
            efficiency = self.curve.efficiency(each) if each <= self.output else None
            if efficiency is None:
                return None
            found.append(load / efficiency)
        return max(found)

    def bound(self, load: Decimal, most: bool) -> Decimal:
        """Beyond which no input power lies at such a load and all below it, or above it."""
        if self.rises and (known := self.input(load)) is not None:
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


def supply_choices(solver: Solver) -> Iterator[SupplyChoice]:
    """Every model of power supply with every number of them, as far as a curve is declared."""
    conditions, project = solver.bare.conditions, solver.definitions.project
    line, allowed = conditions.supply_line, project.assumptions.curve_allowance
    spare = 0 if conditions.redundancy is None else conditions.redundancy.spare
    models: dict[str, tuple[PowerSupply, list[BoolVar], set[str]]] = {}
    for seat in solver.builds.working(PowerSupply):
        assert isinstance(seat.part, PowerSupply)
        _, seats, names = models.setdefault(seat.part.id, (seat.part, [], set()))
        seats.append(seat.works)
        names.add(seat.node.name)
    for part, seats, names in models.values():
        curve, _ = curve_of(part, line, None if allowed is None else allowed.value)
        output = output_at(part.outputs, line)
        if curve is None or output is None:
            continue
        for count in range(spare + 1, len(names) + 1):
            yield SupplyChoice(part.id, curve, output, count, spare, tuple(seats))


def best_first(
    choices: Iterable[tuple[SupplyChoice, Decimal]], most: bool
) -> list[tuple[Decimal, SupplyChoice]]:
    """Choices with what bounds their input power, the most promising first."""
    bounded = [(choice.bound(load, most), choice) for choice, load in choices]
    return sorted(bounded, key=lambda each: each[0], reverse=most)
