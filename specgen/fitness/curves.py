"""Efficiency curves of supplies: which one holds on a line, what is read off it, what goes in.

How a curve is read between its points is a convention, no standard; nothing is read beyond its
ends. A curve holds in the range of supply voltage that it was measured in. In another range it is
read where the project declares what to take off, and else not declared.
"""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from typing import Final

from specgen.frozen import frozen
from specgen.model import EfficiencyPoint, PowerSupply, SupplyLine, SupplyOutput
from specgen.model.pedigree import FieldPath
from specgen.quantity import Current, Power, Ratio, Voltage

Points = tuple[EfficiencyPoint, ...]


@frozen
class Curve:
    """Points at shares of `rated`, measured in the range `home`, at `measured` where that is said.

    `lowered` are percentage points of efficiency taken off where it is read outside its range.
    """

    points: Points
    rated: Power
    home: SupplyOutput
    measured: Voltage | None = None
    lowered: Ratio | None = None

    def efficiency(self, load: Power) -> Decimal | None:
        """Output / input at a load; None beyond the ends of the curve."""
        value = self._read(load, "efficiency")
        if value is None or self.lowered is None:
            return value
        value -= self.lowered.fraction
        return value if value > 0 else None

    def power_factor(self, load: Power) -> Decimal | None:
        """Real power / apparent power at a load; None beyond the ends of the curve."""
        return self._read(load, "power_factor")

    def current(self, load: Power, line: SupplyLine) -> Current | None:
        """Input current at a load: P / (U x power factor), on DC P / U."""
        efficiency, volts = self.efficiency(load), abs(line.voltage.amount)
        factor = Decimal(1) if line.supplied == "dc" else self.power_factor(load)
        if efficiency is None or factor is None or not volts:
            return None
        return Current.of(load.amount / efficiency / factor / volts)

    def _read(self, load: Power, field: str) -> Decimal | None:
        if self.rated.amount <= 0:
            return None
        return read_curve(self.points, load / self.rated, field)


def read_curve(points: Points, share: Decimal, field: str) -> Decimal | None:
    """`efficiency` or `power_factor` at a share of the load, linear between declared points.

    None beyond the ends of the curve: nothing is extrapolated.
    """
    known: list[tuple[Decimal, Decimal]] = sorted(
        (point.load, value) for point in points if (value := getattr(point, field)) is not None
    )
    for load, value in known:
        if load == share:
            return value
    for (low, at_low), (high, at_high) in pairwise(known):
        if low < share < high:
            return at_low + (at_high - at_low) * (share - low) / (high - low)
    return None


def _home(supply: PowerSupply) -> SupplyOutput | None:
    """The range that a supply's own curve was measured in; None where that is not said."""
    if supply.curve_at is None:
        return supply.outputs[0] if len(supply.outputs) == 1 else None
    at = supply.curve_at
    spanning = (entry for entry in supply.outputs if entry.spans(at))
    return max(spanning, key=lambda entry: entry.output, default=None)


def curve_of(
    supply: PowerSupply, line: SupplyLine | None, allowance: Ratio | None
) -> tuple[Curve | None, FieldPath]:
    """The curve that holds on a line, and where in the definition it stands."""
    holding = (
        each for each in enumerate(supply.outputs) if line is not None and each[1].holds(line)
    )
    at, entry = max(holding, key=lambda each: each[1].output, default=(0, None))
    if entry is None:
        return None, ("outputs",)
    if entry.curve:
        return Curve(entry.curve, entry.output, entry), ("outputs", at, "curve")
    home = _home(supply)
    if not supply.curve or home is None:
        return None, ("curve_at",) if supply.curve else ("curve",)
    lowered = None if home is entry else allowance
    if home is not entry and (lowered is None or home.supplied != entry.supplied):
        return None, ("curve",)
    return Curve(supply.curve, home.output, home, supply.curve_at, lowered), ("curve",)


# From memory: annex III of Regulation (EU) 2019/424 has power supplies measured at the mains of
# the Union, and the levels that it asks are those of programmes at 230 V
MAINS: Final = SupplyLine(Voltage.of(230), "ac")


def curve_at_mains(supply: PowerSupply) -> tuple[Points, FieldPath]:
    """What a supply declares for the mains of the Union, and where; of one that is not made for
    them, what it declares first."""
    untold = bool(supply.curve) and supply.curve_at is None  # a program's label is meant
    if any(entry.holds(MAINS) and (entry.curve or not untold) for entry in supply.outputs):
        curve, path = curve_of(supply, MAINS, None)
        return (() if curve is None else curve.points), path
    return next(((points, path) for points, path, _ in declared_curves(supply)), ((), ("curve",)))


def declared_curves(supply: PowerSupply) -> Iterator[tuple[Points, FieldPath, SupplyOutput | None]]:
    """Each curve of a supply, where it stands, and the range that it is measured in, if told."""
    if supply.curve:
        yield supply.curve, ("curve",), _home(supply)
    for at, entry in enumerate(supply.outputs):
        if entry.curve:
            yield entry.curve, ("outputs", at, "curve"), entry
