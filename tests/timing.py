"""Time as tests may measure it: what other processes do must not decide how a test ends."""

import os
from collections import Counter
from collections.abc import Callable, Hashable, Iterable
from typing import Any, Final, TypeVar

import pytest
from hypothesis import settings

Case = TypeVar("Case")
NO_HANG: Final = 60
"""Seconds: what hangs takes far longer, and no computer that runs tests is so slow that what ends
does. How fast something is, `tests/bench` measures."""


EVERY_TIME: Final = 10
THOROUGH: Final = 100
"""How many examples a test of properties tries, in every run and where all are asked for."""


def tries(count: int) -> int:
    """As many examples where all are asked for, fewer in every run, more where new ones are
    looked for."""
    return max(1, count * settings.default.max_examples // THOROUGH)


def first(count: int, cases: Iterable[Any]) -> list[Any]:
    """Parameters of a test: the first run every time, the others are slow and CI's."""
    slow = pytest.mark.slow
    return [pytest.param(each, marks=[slow] * (at >= count)) for at, each in enumerate(cases)]


def first_of_each(count: int, cases: Iterable[Case], sort: Callable[[Case], Hashable]) -> list[Any]:
    """Likewise: so many of each sort run every time."""
    seen = Counter[Hashable]()
    params = []
    for each in cases:
        seen[sort(each)] += 1
        slow = [pytest.mark.slow] * (seen[sort(each)] > count)
        params.append(pytest.param(each, marks=slow))
    return params


def stopwatch() -> Callable[[], float]:
    """Starts now. Called, it gives the seconds of processor used since by this process and by
    processes it has waited for."""
    start = _used()
    return lambda: _used() - start


def _used() -> float:
    return sum(os.times()[:4])
