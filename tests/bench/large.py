"""What large inputs cost `check`, beside `check` of the small sound project."""

import shutil
import statistics
import tempfile
from pathlib import Path
from typing import Final

from tests.bench.starts import cost
from tests.projects import BASE
from tests.source.test_large_inputs import CASES, with_large

ROUNDS: Final = 3
TARGET: Final = "target: under 2 s and 300 MB"


def large() -> str:
    """A line for each large input, dearest first, and which of them miss the target."""
    with tempfile.TemporaryDirectory(prefix="specgen-bench-") as name:
        folder = Path(name)
        seconds, megabytes = _of(BASE)
        measured = []
        for case in CASES:
            spent, held = _of(with_large(case, folder))
            measured.append((spent, held, case))
            shutil.rmtree(folder / "project")
    lines = [f"check of large inputs; the small project: {seconds:.2f} s, {megabytes:.0f} MB"]
    for spent, held, case in sorted(measured, reverse=True):
        late = "" if spent < 2 and held < 300 else f"; {TARGET}"
        lines.append(
            f"  {case}: {spent:.2f} s ({spent / seconds:.1f} times), "
            f"{held:.0f} MB ({held / megabytes:.1f} times){late}"
        )
    return "\n".join(lines)


def _of(project: Path) -> tuple[float, float]:
    """Median seconds of processor and megabytes of a check."""
    costs = [
        cost("-m", "specgen", "check", "--quiet", "--project", str(project), statuses=(0, 1))
        for _ in range(ROUNDS)
    ]
    return statistics.median(each[0] for each in costs), statistics.median(c[1] for c in costs)
