"""Power supplies whose ratings hardly go with one another: current, voltage and output."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from typing import Any, Final

from specgen.messages import AsWritten, Message, say
from specgen.model import Definitions
from specgen.model.pedigree import FieldPath
from specgen.quantity import Current, Power, Quantity, Voltage
from specgen.rules.definitions.contradicting.contradicting_lists import Look
from specgen.rules.definitions.contradicting.contradiction import Contradiction, far_from_usual

LEAST: Final = Fraction(4, 5)
"""Of output over the lowest voltage. Losses make it more than one; plates may name a voltage above
the lowest."""
MOST: Final = Fraction(3)
"""Losses, power factor and what a plate rounds up make it up to two. common practice, no source"""
LOW_LINE: Final = Fraction(1, 4)
"""Of its greatest output a supply gives as much in every range: the current is nearly the same, and
a low voltage is half a high one. common practice, no source"""


def _ratings(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """The input current carries each output at the lowest voltage of its range: P = U x I."""
    current, outputs = getattr(record, "input_current", None), record.outputs
    ranges = [(_drawn(each), at) for at, each in enumerate(outputs) if _known(each)]
    if not ranges:
        return
    rated = Fraction(current.amount) if isinstance(current, Current) else Fraction(0)
    over = [at for drawn, at in ranges if rated and rated < LEAST * drawn]
    fitting = [at for drawn, at in ranges if LEAST * drawn <= rated <= MOST * drawn]
    if rated and not fitting:
        drawn, at = max(ranges)
        yield Contradiction(
            ("input_current",),
            far_from_usual("input_current", AsWritten(current)),
            _needed(outputs[at], drawn),
            ("outputs", at, "output"),
            help=say("check the number and its unit"),
        )
    elif over:
        drawn = next(drawn for drawn, at in ranges if at == over[0])
        yield Contradiction(
            ("outputs", over[0], "output"),
            far_from_usual("output", AsWritten(outputs[over[0]].output)),
            _needed(outputs[over[0]], drawn),
            ("input_current",),
            help=say("check the number and its unit"),
        )
    else:
        yield from _outputs(record, fitting)


def _needed(output: Any, drawn: Fraction) -> Message:
    return say("{output} at {voltage} are {current} A, and losses make it a little more",
               output=AsWritten(output.output), voltage=AsWritten(_lowest(output)),
               current=f"{float(drawn):.3g}")  # fmt: skip


def _known(output: Any) -> bool:
    return bool(output.output.amount and output.from_.amount and output.to.amount)


def _lowest(output: Any) -> Voltage:
    found: Voltage = min(output.from_, output.to, key=lambda each: abs(each.amount))
    return found


def _drawn(output: Any) -> Fraction:
    return Fraction(output.output.amount) / abs(Fraction(_lowest(output).amount))


def _outputs(record: Any, fitting: Sequence[int]) -> Iterator[Contradiction]:
    """A supply gives less at low voltages than at high ones, and not too little."""
    ranges = [(at, each) for at, each in enumerate(record.outputs) if _known(each)]
    ranked = sorted(ranges, key=lambda each: abs(_lowest(each[1]).amount))
    for (low_at, low), (high_at, high) in pairwise(ranked):
        if low.supplied != high.supplied:
            continue
        least, most = Fraction(low.output.amount), Fraction(high.output.amount)
        if least > most:
            at, other, why = high_at, low_at, say("a supply gives no less at a higher voltage")
        elif least < LOW_LINE * most and abs(_lowest(high).amount) < 3 * abs(_lowest(low).amount):
            at, other, why = low_at, high_at, say("at half the voltage it is about half the output")
        else:
            continue
        if at in fitting and other not in fitting:
            at, other = other, at
        output: Quantity = record.outputs[at].output
        assert isinstance(output, Power)
        yield Contradiction(
            ("outputs", at, "output"),
            far_from_usual("output", AsWritten(output)),
            why,
            ("outputs", other, "output"),
            help=say("check the number and its unit"),
        )


LOWEST: Final = Decimal("0.3")
"""At the least load that is measured a supply does better. common practice, no source"""
DIP: Final = Decimal("0.02")
"""A curve rises to its best load and falls behind it; so much is left to how it was measured."""


def _curve(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """The points of a curve: none lies below both its neighbours, and all say the same."""
    for name in ("efficiency", "power_factor"):
        stated = [(at, getattr(each, name)) for at, each in enumerate(record.curve)]
        known = [(at, value) for at, value in stated if value is not None]
        if len(known) + 1 == len(stated) and len(known) > 1:
            at = next(at for at, value in stated if value is None)
            yield Contradiction(
                ("curve", at),
                say("`{name}` is missing in one point of the curve", name=name),
                say("all other points of the curve state it"),
                ("curve", known[0][0], name),
                help=say("write what its data sheet says"),
            )
            continue
        low = [(at, value) for at, value in known if value < LOWEST]
        for at, value in low[:1]:
            yield Contradiction(
                ("curve", at, name),
                far_from_usual(name, f"{float(value):.4g}"),
                say("it is a share of one: {least} and more", least=str(LOWEST)),
                help=say("check the digits"),
            )
        if low:
            continue
        for (_first, before), (at, value), (_last, after) in zip(
            known, known[1:], known[2:], strict=False
        ):
            if Fraction(value) + Fraction(DIP) < min(before, after):
                yield Contradiction(
                    ("curve", at, name),
                    far_from_usual(name, f"{float(value):.4g}"),
                    say("before and behind it stand {before} and {after}",
                        before=f"{float(before):.4g}", after=f"{float(after):.4g}"),
                    help=say("check the digits"),
                )  # fmt: skip


def _direct_current(record: Any, _: Definitions) -> Iterator[Contradiction]:
    """Direct current has no power factor."""
    ranges = record.outputs
    direct = [each.supplied == "dc" for each in ranges]
    own: list[tuple[FieldPath, Any]] = [(("curve",), record.curve)] if all(direct) else []
    curves = [
        *own,
        *((("outputs", at, "curve"), each.curve) for at, each in enumerate(ranges) if direct[at]),
    ]
    for path, curve in curves:
        for at, point in enumerate(curve):
            if point.power_factor is not None:
                yield Contradiction(
                    (*path, at, "power_factor"),
                    say("a power factor is stated for direct current"),
                    say("a power factor tells of current that alternates"),
                    ("outputs",),
                    help=say("leave it out"),
                )
                return


OF_SUPPLIES: Final[tuple[tuple[tuple[str, ...], Look], ...]] = (
    (("outputs",), _ratings),
    (("curve",), _curve),
    (("outputs",), _direct_current),
)
"""Each with the fields of which a record has one, where it is asked."""
