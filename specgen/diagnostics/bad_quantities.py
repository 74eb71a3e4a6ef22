"""What a text that is no quantity is told: a code, what is wrong, what to write instead."""

from collections.abc import Mapping
from typing import Final

from specgen.diagnostics import codes
from specgen.diagnostics.finding import Code
from specgen.diagnostics.suggest import quoted
from specgen.messages import Message, listed, say
from specgen.messages.quantities import dimension_words
from specgen.quantity import Dimension, Problem, QuantityError

_WORDS: Final[Mapping[Problem, tuple[Code, Message]]] = {
    Problem.EMPTY: (codes.NOT_A_NUMBER, say("{value} is empty")),
    Problem.NOT_A_NUMBER: (codes.NOT_A_NUMBER, say("`{written}` is not a number with a unit")),
    Problem.THOUSANDS_SEPARATOR: (
        codes.NOT_A_NUMBER,
        say("`{written}` has a thousands separator"),
    ),
    Problem.COMMA: (codes.NOT_A_NUMBER, say("`{written}` has a comma in the number")),
    Problem.EXPONENT: (codes.NOT_A_NUMBER, say("`{written}` has an exponent")),
    Problem.BARE_POINT: (
        codes.NOT_A_NUMBER,
        say("`{written}` has no digit on one side of the point"),
    ),
    Problem.NO_UNIT: (codes.NO_UNIT, say("{value} without a unit")),
    Problem.UNKNOWN_UNIT: (codes.UNKNOWN_UNIT, say("no unit is named `{written}`")),
    Problem.WRONG_DIMENSION: (
        codes.WRONG_DIMENSION,
        say("`{written}` is a unit of {others}, not of {dimension}"),
    ),
    Problem.TOO_MANY_DIGITS: (
        codes.WRONG_VALUE,
        say("{value} has {written} digits, {limit} are the most"),
    ),
    Problem.TOO_LOW: (codes.WRONG_VALUE, say("`{written}` lies below {limit}")),
}


def described(error: QuantityError) -> tuple[Code, Message, Message]:
    """The code of the finding, what is wrong, and what to write instead."""
    code, pattern = _WORDS[error.problem]
    dimension = error.dimension
    if error.problem is Problem.UNKNOWN_UNIT and dimension is not None:
        pattern = say("no unit of {dimension} is named `{written}`")
    message = pattern.filled(
        written=error.written,
        limit=error.limit,
        others=listed((dimension_words(each) for each in error.others), "or"),
        **_of(dimension),
    )
    return code, message, _instead(error)


def _of(dimension: Dimension | None) -> dict[str, object]:
    if dimension is None:
        return {"value": say("value")}
    words = dimension_words(dimension)
    return {"value": say("{dimension} value", dimension=words), "dimension": words}


def _instead(error: QuantityError) -> Message:
    instead, dimension = error.instead, error.dimension
    if instead.sizes:
        sized = (
            say("`{text}` (1 {unit} is {size})", text=text, unit=unit.symbol, size=size)
            for text, (unit, size) in zip(instead.texts, instead.sizes, strict=True)
        )
        return say("write {texts}", texts=listed(sized, "or"))
    if instead.if_decimal:
        return say(
            "write {texts}, or `{other}` if the comma is a decimal one",
            texts=quoted(instead.texts, "or"),
            other=instead.if_decimal,
        )
    if instead.texts:
        return say("write {texts}", texts=quoted(instead.texts, "or"))
    if dimension is None:
        return say("write a number and its unit, such as `750 W`")
    words = dimension_words(dimension)
    if instead.units:
        return say("units of {dimension}: {units}", dimension=words, units=quoted(instead.units))
    example = dimension.example
    return say(
        "write {dimension} with its unit, such as `{example}`", dimension=words, example=example
    )
