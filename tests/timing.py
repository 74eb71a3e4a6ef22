"""Time as tests may measure it: what other processes do must not decide how a test ends."""

import os
from collections.abc import Callable


def stopwatch() -> Callable[[], float]:
    """Starts now. Called, it gives the seconds of processor used since by this process and by
    processes it has waited for."""
    start = _used()
    return lambda: _used() - start


def _used() -> float:
    return sum(os.times()[:4])
