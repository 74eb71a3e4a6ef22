"""How long all values of a build take, in one process: the demo's builds, each several times."""

import statistics
import time

from specgen.assembly import resolve
from specgen.facts import facts_of
from specgen.pipeline import read
from tests.bench.projects import DEMO

ROUNDS = 5


def values() -> str:
    """A line: the median, and the median number of values behind it."""
    definitions = read(DEMO).definitions
    assert definitions is not None
    times: list[float] = []
    counts: list[int] = []
    for _ in range(ROUNDS):
        for build in definitions.builds.values():
            assembly = resolve(definitions, build)
            assert assembly is not None
            began = time.perf_counter()
            counts.append(sum(1 for _ in facts_of(assembly).values()))
            times.append(time.perf_counter() - began)
    each, count = statistics.median(times), statistics.median(counts)
    return (
        f"all values of a build: {each * 1000:.1f} ms at the median for {count:.0f} values, "
        f"{each * 1_000_000 / count:.0f} us each (target: 8 ms for 200)"
    )
