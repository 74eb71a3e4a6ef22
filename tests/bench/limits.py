"""How long limits and wishes take, beside reading and checking the demo in the same run."""

import os
import statistics
import time
from collections.abc import Callable, Iterator
from typing import Any

from specgen.limits.limit import Status, limit_of
from specgen.limits.limit_tables import table_of
from specgen.limits.objectives import OBJECTIVES
from specgen.limits.solve import Solver
from specgen.limits.wish import granted
from specgen.model import Definitions, Platform
from specgen.pipeline import survey
from tests.bench.projects import DEMO
from tests.limits.small import HEAD, PROJECT, defined

BAYS, PARTS, RULES = 24, 60, 40
WISHES = (
    "processors.count == 1",
    "drives.count >= 2",
    'fact("memory.capacity") >= "256 GiB"',
    "accelerators.count >= 1 and drives.count >= 2",
    'fact("power.maximum") <= "600 W"',
    "storage_controllers.count == 0 and drives.count >= 1",
)


def limits() -> str:
    """Lines for a person: seconds, and how many times as long as reading and checking the demo."""
    base, demo = timed(lambda: survey(DEMO))
    definitions = demo.definitions
    assert definitions is not None
    lines = [f"limits (reading and checking the demo: {base:.2f} s)"]
    lines += [_table(definitions, each, base) for each in definitions.platforms.values()]
    times = [timed(lambda each=each: granted(*each))[0] for each in _asked(definitions)]  # type: ignore[misc]
    median, slowest = statistics.median(times), max(times)
    lines.append(
        f"  {len(times)} wishes granted: median {median:.2f} s ({median / base:.1f}), "
        f"slowest {slowest:.2f} s; target: median under 1 s"
    )
    lines.append(_many(base))
    return "\n".join(lines)


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Seconds by the clock, and what came out."""
    began = time.perf_counter()
    found = work()
    return time.perf_counter() - began, found


def _table(definitions: Definitions, platform: Platform, base: float) -> str:
    jobs = os.cpu_count() or 1
    taken, found = timed(lambda: table_of(definitions, platform, jobs=jobs))
    proved = sum(limit.status is Status.PROVED for limit in found)
    return (
        f"  {platform.name}: {taken:.2f} s ({taken / base:.1f}), {proved} of {len(found)} proved; "
        "target: under 3 s"
    )


def _asked(definitions: Definitions) -> Iterator[tuple[Definitions, Platform, str]]:
    for platform in definitions.platforms.values():
        for wish in WISHES:
            yield definitions, platform, wish


def _many(base: float) -> str:
    definitions = crowded()
    platform = definitions.platforms["small"]
    taken, found = timed(lambda: limit_of(Solver(definitions, platform), OBJECTIVES["raw"]))
    return (
        f"  {BAYS} bays, {PARTS} parts, {RULES} rules: {taken:.2f} s ({taken / base:.1f}), "
        f"{found.status}; target: proved under 1 s"
    )


def crowded() -> Definitions:
    """A platform of many bays, with many drives that go into each and rules between them."""
    drives = "".join(
        f"- {{kind: drive, id: drive-{number}, name: Drive {number}, medium: ssd, "
        f"form: 2.5-inch, interface: nvme, swap: hot, lanes: x4, generation: 4, "
        f"capacity: {1 + number * 7 % 31} TB, power: {{maximum: {5 + number * 5 % 17} W}}, "
        "mass: 0.1 kg, source: {document: table}}\n"
        for number in range(PARTS)
    )
    rules = "".join(
        f'  - {{code: QW-{number}, forbid: \'has("drive-{number}") and '
        f'has("drive-{(number * 11 + 3) % PARTS}")\'}}\n'
        for number in range(1, RULES)
    )
    power = "  - {code: QW-0, require: 'sum(d.power.maximum for d in drives) <= \"260 W\"'}\n"
    return defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD
            + f"positions:\n  - {{name: BAY 1..{BAYS}, takes: drive}}\nrules:\n{power}{rules}",
            "catalog/parts.yaml": drives,
        }
    )
