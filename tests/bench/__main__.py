"""`python -m tests.bench [--quick] [NAME ...]`."""

import argparse
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from specgen.pipeline import survey
from tests.bench.alone import mkdocs_project
from tests.bench.counted import counted
from tests.bench.large import large
from tests.bench.limits import limits
from tests.bench.prints import prints
from tests.bench.projects import DEMO, seeded
from tests.bench.starts import starts
from tests.bench.values import values

Command = tuple[str | Path, ...]
PYTHON: Command = (sys.executable, "-P")
SPECGEN: Command = (*PYTHON, "-m", "specgen")
MKDOCS: Command = (*PYTHON, "-m", "mkdocs", "build", "--quiet", "--clean")
BARE: Command = (*PYTHON, "-c", "pass")


@dataclass(frozen=True, slots=True)
class Contest:
    """One command of specgen and what it is held against, each run so many times in turn."""

    what: str
    ours: Command
    theirs: Command
    against: str
    target: str = ""
    clear: tuple[Path, ...] = ()
    """Folders removed before each run, so that it begins from nothing."""


class Bench:
    """Sets the contests up in a folder of its own and prints them as they end."""

    def __init__(self, folder: Path, builds: int, seed: int, repeat: int) -> None:
        self.folder = folder
        self.builds = builds
        self.seed = seed
        self.repeat = repeat
        cases = survey(DEMO).cases
        self.build = max(cases, key=lambda name: (len(cases[name].facts), name))

    def start(self) -> Contest:
        """What a user waits for before anything happens."""
        return Contest("start", (*SPECGEN, "--help"), BARE, "python alone", "under 0.25 s")

    def check(self) -> Contest:
        """All definitions and builds of the demo."""
        theirs = self._alone("demo", DEMO)
        ours = (*SPECGEN, "check", "--quiet", "--project", DEMO)
        return Contest("check the demo", ours, *theirs, "under 2 s")

    def facts(self) -> Contest:
        """All values of the richest build."""
        theirs = self._alone("page", DEMO, f"builds/{self.build}.html")
        ours = (*SPECGEN, "facts", self.build, "--format", "json", "--project", DEMO)
        return Contest("facts of a build", ours, *theirs)

    def sheet(self) -> Contest:
        """The spec sheet of the richest build, with its drawing."""
        theirs = self._alone("page", DEMO, f"builds/{self.build}.html")
        where = ("--project", DEMO, "-o", self.folder / "sheet.html")
        return Contest("one sheet", (*SPECGEN, "sheet", self.build, *where), *theirs)

    def demo(self) -> Contest:
        """The whole demo, published from nothing."""
        return self._site("publish the demo", "demo", DEMO, "under 8 s")

    def many(self) -> Contest:
        """So many builds, published from nothing."""
        project = self.folder / "many-builds"
        if not project.exists():
            seeded(project, self.builds, self.seed)
        return self._site(
            f"publish {self.builds} builds", "many", project, "at least 3 times as fast"
        )

    def _site(self, what: str, name: str, project: Path, target: str) -> Contest:
        theirs, against = self._alone(name, project)
        out = self.folder / f"{name}-site"
        ours = (*SPECGEN, "site", "--quiet", "--project", project, "-o", out)
        return Contest(what, ours, theirs, against, target, (out, self.folder / name / "out"))

    def _alone(self, name: str, project: Path, only: str | None = None) -> tuple[Command, str]:
        folder = self.folder / name
        if not folder.exists():
            mkdocs_project(project, folder, only)
        pages = sum(1 for _ in folder.glob("docs/**/*.md"))
        command = (*MKDOCS, "--config-file", folder / "mkdocs.yml")
        return command, f"MkDocs, {pages} page{'s' if pages > 1 else ''}"

    def run(self, contest: Contest) -> tuple[float, float]:
        """Median seconds of ours and of theirs."""
        ours: list[float] = []
        theirs: list[float] = []
        for _ in range(self.repeat):
            for command, times in ((contest.ours, ours), (contest.theirs, theirs)):
                for folder in contest.clear:
                    shutil.rmtree(folder, ignore_errors=True)
                times.append(seconds(command))
        return statistics.median(ours), statistics.median(theirs)


def seconds(command: Command) -> float:
    """How long a command takes from start to end. Raises CalledProcessError if it fails."""
    began = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - began


CONTESTS: dict[str, Callable[[Bench], Contest]] = {
    "start": Bench.start,
    "check": Bench.check,
    "facts": Bench.facts,
    "sheet": Bench.sheet,
    "demo": Bench.demo,
    "many": Bench.many,
}
OTHERS: dict[str, Callable[[], str]] = {
    "processor": starts, "counted": counted, "pdf": prints, "limits": limits, "large": large,
}  # fmt: skip
ROW = "{:<22}{:>9}  {:<22}{:>9}{:>9}  {}"


def main(arguments: Sequence[str] | None = None) -> int:
    """Measures what is named, or everything."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument(
        "names", nargs="*", metavar="NAME", help=f"of {', '.join((*CONTESTS, *OTHERS))}"
    )
    parser.add_argument("--quick", action="store_true", help="100 builds instead of 1,000")
    parser.add_argument("--repeat", type=int, default=3, help="runs of each, in turn (3)")
    parser.add_argument("--seed", type=int, default=1, help="of the many builds (1)")
    given = parser.parse_args(arguments)
    if unknown := set(given.names) - {*CONTESTS, *OTHERS}:
        parser.error(f"nothing is named {', '.join(sorted(unknown))}")
    names = [name for name in CONTESTS if not given.names or name in given.names]
    print(ROW.format("", "specgen", "against", "", "ratio", "target"))
    with tempfile.TemporaryDirectory(prefix="specgen-bench-") as folder:
        bench = Bench(Path(folder), 100 if given.quick else 1000, given.seed, given.repeat)
        for name in names:
            contest = CONTESTS[name](bench)
            try:
                ours, theirs = bench.run(contest)
            except subprocess.CalledProcessError as problem:
                print(f"{contest.what}: `{' '.join(map(str, problem.cmd))}` failed")
                return 1
            times = (f"{ours:.2f} s", contest.against, f"{theirs:.2f} s", f"{theirs / ours:.2f}")
            print(ROW.format(contest.what, *times, contest.target), flush=True)
    for name, got in (("facts", values), *OTHERS.items()):
        if not given.names or name in given.names:
            print(got())
    print("ratio: how many times as fast as what it is held against; medians, runs in turn")
    return 0


if __name__ == "__main__":
    sys.exit(main())
