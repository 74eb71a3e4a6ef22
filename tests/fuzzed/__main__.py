"""Many inputs made wrong at random, each from its number alone: `python -m tests.fuzzed --help`.

Of each it measures the time of the processor and, on Linux, the memory beyond what was held before.
`guided.py` looks for inputs that reach new code instead; what it finds is saved by `--pack`.
"""

import argparse
import json
import random
import time
import traceback
from collections import Counter
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from tests.fuzzed.inputs import SORTS, Sort
from tests.fuzzed.mutations import changed_bytes

CORPUS = Path(__file__).parent / "corpus"
SECONDS = 2.0
MEGABYTES = 300
LARGEST = 1_000_000
_STATUS = Path("/proc/self/status")


def _held(what: str) -> float:
    """Megabytes of memory: `VmRSS` those held now, `VmHWM` the most there were."""
    lines = _STATUS.read_text().splitlines() if _STATUS.exists() else ()
    return next((int(line.split()[1]) / 1024 for line in lines if line.startswith(what)), 0.0)


class Measured:
    """What one input takes of the processor and of memory, beyond what was held before it."""

    def __init__(self) -> None:
        self.seconds = self.megabytes = 0.0

    def run(self, tried: Callable[[], None]) -> None:
        before = _held("VmRSS")
        if _STATUS.exists():  # the most there were: from now on
            _STATUS.with_name("clear_refs").write_text("5")
        began = time.process_time()
        try:
            tried()
        finally:
            self.seconds = time.process_time() - began
            self.megabytes = _held("VmHWM") - before


def _input(name: str, sort: Sort, seed: int) -> tuple[str, bytes]:
    chance = random.Random(f"{name} {seed}")
    seeds = sort.seeds()
    of = chance.choice(sorted(seeds))
    return of, changed_bytes(seeds[of], chance.randint)[:LARGEST]


def run(names: Sequence[str], tries: int, first: int, failures: Path) -> int:
    """Tries inputs by number and prints, a line a sort, how many and what they took at most."""
    failed: Counter[str] = Counter()
    for name in names:
        sort, count = SORTS[name], 0
        most = Measured()
        sort.tried(*next(iter(sort.seeds().items())))  # what is made once belongs to no input
        began = time.process_time()
        for seed in range(first, first + tries):
            of, content = _input(name, sort, seed)
            now = Measured()
            try:
                now.run(partial(sort.tried, of, content))
                problem = ""
            except Exception:
                problem = traceback.format_exc()
            count += 1
            if now.seconds > SECONDS or now.megabytes > MEGABYTES:
                problem += f"\n{now.seconds:.1f} s, {now.megabytes:.0f} MB\n"
            most.seconds = max(most.seconds, now.seconds)
            most.megabytes = max(most.megabytes, now.megabytes)
            if problem:
                failed[name] += 1
                failures.mkdir(parents=True, exist_ok=True)
                stem = f"{name.replace(' ', '-')}-{seed}"
                (failures / stem).write_bytes(content)
                (failures / f"{stem}.txt").write_text(f"{of}\n{problem}")
        print(
            f"{name}: {count} inputs, {failed[name]} failed, {time.process_time() - began:.0f} s, "
            f"at most {most.seconds:.2f} s and {most.megabytes:.0f} MB each",
            flush=True,
        )
    return 1 if failed else 0


def corpus_of(path: Path) -> tuple[str, list[tuple[str, bytes]]]:
    """The sort of a saved corpus, and its inputs: what each is named and what it holds."""
    read = json.loads(path.read_text(encoding="ascii"))
    pairs = [(of, text.encode("utf-8", "surrogateescape")) for of, text in read["inputs"]]
    return read["sort"], pairs


def pack(name: str, folder: Path, most: int = 60, longest: int = 1500) -> None:
    """Saves the shortest inputs that a guided run has left in a folder, beside those saved."""
    path = CORPUS / f"{name.replace(' ', '-')}.json"
    names = sorted(SORTS[name].seeds())
    kept = dict.fromkeys(corpus_of(path)[1] if path.is_file() else ())
    for each in sorted(folder.iterdir(), key=lambda file: (file.stat().st_size, file.name)):
        content = each.read_bytes()
        if 1 < len(content) <= longest and len(kept) < most:
            kept[(names[content[0] % len(names)], content[1:])] = None
    inputs = [[of, content.decode("utf-8", "surrogateescape")] for of, content in kept]
    CORPUS.mkdir(exist_ok=True)
    text = json.dumps({"sort": name, "inputs": inputs}, indent=0)
    path.write_text(f"{text}\n", encoding="ascii")


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzzed", description=__doc__)
    parser.add_argument("sorts", nargs="*", help=f"of {', '.join(SORTS)}; all without any")
    parser.add_argument("--tries", type=int, default=1000, help="inputs of each sort")
    parser.add_argument("--first", type=int, default=0, help="the number of the first")
    parser.add_argument("--failures", type=Path, default=Path("failed-inputs"))
    parser.add_argument("--pack", type=Path, help="save what a guided run left in this folder")
    asked = parser.parse_args()
    names = asked.sorts or [*SORTS]
    if asked.pack is not None:
        pack(names[0], asked.pack)
        return 0
    return run(names, asked.tries, asked.first, asked.failures)


if __name__ == "__main__":
    raise SystemExit(main())
