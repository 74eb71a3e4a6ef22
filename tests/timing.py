"""Time as tests may measure it: what other processes do must not decide how a test ends."""

import os
from collections.abc import Callable
from typing import Final

NO_HANG: Final = 60
"""Seconds: what hangs takes far longer, and no computer that runs tests is so slow that what ends
does. How fast something is, `tests/bench` measures."""


def stopwatch() -> Callable[[], float]:
    """Starts now. Called, it gives the seconds of processor used since by this process and by
    processes it has waited for."""
    start = _used()
    return lambda: _used() - start


def _used() -> float:
    return sum(os.times()[:4])
