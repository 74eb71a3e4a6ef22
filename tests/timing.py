"""Time as tests may measure it: what other processes do must not decide how a test ends."""

import os
from collections.abc import Callable, Iterable
from typing import Any, Final

import pytest

NO_HANG: Final = 60
"""Seconds: what hangs takes far longer, and no computer that runs tests is so slow that what ends
does. How fast something is, `tests/bench` measures."""


def first(count: int, cases: Iterable[Any]) -> list[Any]:
    """Parameters of a test: the first run every time, the others are slow and CI's."""
    slow = pytest.mark.slow
    return [pytest.param(each, marks=[slow] * (at >= count)) for at, each in enumerate(cases)]


def stopwatch() -> Callable[[], float]:
    """Starts now. Called, it gives the seconds of processor used since by this process and by
    processes it has waited for."""
    start = _used()
    return lambda: _used() - start


def _used() -> float:
    return sum(os.times()[:4])
