"""Faults of our own, on the way from where they happened to whoever is told of them.

An author's mistake is a finding. What goes wrong in our own code is an exception, which nothing
on the way words as anybody's mistake.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from specgen.diagnostics.finding import Finding


class Fault(Exception):
    """What went wrong in another process: in a line, and with its traceback, both as text.

    The exception itself may be of a sort that cannot travel between processes; texts can.
    """

    def __init__(self, what: str, trace: str, found: tuple[Finding, ...] = ()) -> None:
        super().__init__(what, trace, found)
        self.what = what
        self.trace = trace
        self.found = found


@contextmanager
def travelling(*expected: type[Exception]) -> Iterator[None]:
    """In a worker process: whatever is raised within reaches the parent whole.

    What is `expected`, an `OSError` and a `Fault` travel as they are.
    """
    as_they_are: tuple[type[Exception], ...] = (OSError, Fault, *expected)
    try:
        yield
    except as_they_are:
        raise
    except Exception as bug:
        raise Fault(in_a_line(bug), traced(bug), found_before(bug)) from None


@contextmanager
def carrying(found: list[Finding]) -> Iterator[None]:
    """What is raised within takes along what is in `found` by then (see `found_before`)."""
    try:
        yield
    except Exception as bug:
        vars(bug)[_FOUND] = (*found, *found_before(bug))
        raise


_FOUND: Final = "found"


def found_before(bug: BaseException) -> tuple[Finding, ...]:
    """The findings that were made before something went wrong; they are told all the same."""
    if isinstance(bug, ExceptionGroup):
        return tuple(each for one in bug.exceptions for each in found_before(one))
    found = vars(bug).get(_FOUND, ())
    return found if isinstance(found, tuple) else ()


def in_a_line(bug: BaseException) -> str:
    """What went wrong: `KeyError: 'SLOT 1'`. Of several, the first and how many more."""
    if isinstance(bug, Fault):
        return bug.what
    if isinstance(bug, ExceptionGroup):
        more = len(bug.exceptions) - 1
        return f"{in_a_line(bug.exceptions[0])}" + (f", and {more} more" if more else "")
    from traceback import format_exception_only  # takes long to import, and is seldom wanted

    return " ".join(format_exception_only(bug)[-1].split())


def traced(bug: BaseException) -> str:
    """The traceback, causes and other processes included."""
    if isinstance(bug, Fault):
        return bug.trace
    from traceback import format_exception

    return "".join(format_exception(bug))
