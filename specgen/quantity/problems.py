"""What can be wrong with a value that somebody wrote."""

import enum


class Problem(enum.StrEnum):
    """The kinds of mistake that a written value can hold."""

    NOT_A_NUMBER = "not-a-number"
    NO_UNIT = "no-unit"
    UNKNOWN_UNIT = "unknown-unit"
    WRONG_DIMENSION = "wrong-dimension"
    OUT_OF_RANGE = "out-of-range"


class QuantityError(ValueError):
    """A text that is no quantity of the dimension asked for.

    `message` stands alone, in lower case and without a full stop; `help` says what to write
    instead and is never empty.
    """

    def __init__(self, problem: Problem, message: str, help: str) -> None:  # noqa: A002
        super().__init__(message)
        self.problem = problem
        self.message = message
        self.help = help

    def __reduce__(self) -> tuple[type["QuantityError"], tuple[Problem, str, str]]:
        return QuantityError, (self.problem, self.message, self.help)
