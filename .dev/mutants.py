#!/usr/bin/env python3
"""Mutation testing: `.venv/bin/python .dev/mutants.py cover|run|count [OPTIONS]`.

`cover` notes, a file of tests at a time, which lines of the program each test runs (again only
where the file of tests has changed); `run --room facts --sample 200 --seed 1` tries mutants drawn
by chance, and goes on where it was stopped; `count` prints the counts by room and the survivors.

A mutant is tried by the tests that run its lines, first those that have seen most in the least
time, in processes forked from one that has imported everything but the program: nothing is written
into the tree, and no test meets what another mutant has left behind. A mutant that neither ends
nor fails is stopped by the processor time it takes. A test that fails without a mutant as well is
left out. All is kept in `.mutants/`.
"""

import argparse
import difflib
import gc
import hashlib
import importlib
import json
import os
import re
import resource
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from functools import cache, partial
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, PathFinder, SourceFileLoader
from inspect import CO_OPTIMIZED
from itertools import accumulate
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, Final, NamedTuple

import pytest
from mutations import KEPT, ROOT, Mutant, sample, source_of

TESTS: Final = ROOT / "tests"
LEFT_OUT: Final = ("bench", "browser", "repo", "fuzzed", "hostile", "site", "cli")
"""Folders of tests that run the program in other processes, or look at the tree and not at what
the program does."""
ROOMS: Final = (
    "facts", "rules", "limits", "fitness", "document/blocks", "write", "assembly", "quantity",
)  # fmt: skip
IMPORTED: Final = (
    "babel.numbers", "click", "coverage", "graphviz", "hypothesis", "jinja2", "jsonschema",
    "markdown_it", "mkdocs.config", "openpyxl", "ortools.sat.python.cp_model", "pint", "pydantic",
    "pypdf", "rich.console", "typst", "xdist", "yaml",
)  # fmt: skip
"""What is imported once for all forks, since it takes long; not the program."""
NEAR: Final = {
    "facts": ("facts", "data", "rules"),
    "rules": ("rules", "mutated", "declared"),
    "limits": ("limits",),
    "fitness": ("fitness", "rules", "mutated"),
    "document/blocks": ("document", "kinds"),
    "write": ("write", "data"),
    "assembly": ("assembly", "mutated", "rules"),
    "quantity": ("quantity",),
}
"""Folders whose tests try the mutants of a room even where nobody noted what they run."""
FIRST: Final = {
    "facts": ("facts/test_values_apart", "facts/test_by_hand", "facts/test_uneven_by_hand"),
    "rules": (
        *("rules/test_definitions_on_the_limit", "rules/test_words_by_hand"),
        *("rules/test_on_the_limit", "rules/test_limits"),
    ),
    "limits": ("limits/test_wishes", "limits/test_judged_limits"),
    "fitness": ("rules/test_on_the_limit", "fitness/test_one_table"),
    "document/blocks": ("document/test_tables_by_hand", "golden/test_golden"),
    "write": ("golden/test_golden",),
    "assembly": ("rules/test_on_the_limit", "assembly"),
    "quantity": ("quantity",),
}
"""What sees most of a room in the least time, before a run has learnt which tests do."""
UNKNOWN: Final = 0.3  # seconds that a test is taken to last
GUARD: Final = 15  # seconds of processor time beyond its budget after which a mutant hangs
WEEK: Final = 7 * 24 * 3600.0
WAITED: Final = 900  # seconds for a process that uses no time, on a busy computer
MEMORY: Final = 6 << 30


class Covered(NamedTuple):
    """What a file of tests runs: by test its seconds, by module and line its tests."""

    file: str
    seconds: dict[str, float]
    lines: dict[str, dict[str, list[str]]]
    "Tests by module and line; an empty name stands for what all tests of the file share."


def forked(work: Callable[[], Any], seconds: float) -> tuple[Any, float]:
    """What work gives in a process of its own, and the processor time it took; where it is
    stopped, or fails, by what."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        if seconds < WEEK:
            resource.setrlimit(resource.RLIMIT_CPU, (int(seconds) + 1, int(seconds) + 5))
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            signal.alarm(WAITED)
        try:
            given = json.dumps(work()).encode()
            with os.fdopen(writing, "wb") as pipe:
                pipe.write(given)
        except BaseException:
            traceback.print_exc()
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        given = pipe.read()
    _, status, used = os.wait4(child, 0)
    stopped = signal.Signals(os.WTERMSIG(status)).name if os.WIFSIGNALED(status) else "an exception"
    return (json.loads(given) if given else stopped), used.ru_utime + used.ru_stime


def quiet(*, shown: bool = False) -> None:
    """Nothing of what tests print is seen, and nothing that a mutant proves is kept."""
    os.environ["SPECGEN_CACHE"] = ""
    os.environ["PYTHONDONTWRITEBYTECODE"] = "1"
    sys.dont_write_bytecode = True
    if shown:
        return
    void = os.open(os.devnull, os.O_WRONLY)
    os.dup2(void, 1)
    if not os.environ.get("MUTANTS_SHOWN"):
        os.dup2(void, 2)


# Which lines each test runs


class Listening:
    """A plugin of pytest's that tells coverage whose lines follow."""

    def __init__(self, coverage: Any) -> None:
        self.coverage = coverage
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()
        self.used: dict[str, list[str]] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.coverage.switch_context(name_of(item))
        self.used[name_of(item)] = [f"fixture {name}" for name in getattr(item, "fixturenames", ())]
        began = time.process_time()
        try:
            return (yield)
        finally:
            name = name_of(item)
            used = time.process_time() - began
            self.seconds[name] = round(self.seconds.get(name, 0) + used, 3)
            self.coverage.switch_context("")

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any, request: Any) -> Iterator[None]:
        """What a fixture for several tests runs is run for each of them."""
        if fixturedef.scope == "function":
            return (yield)
        self.coverage.switch_context(f"fixture {fixturedef.argname}")
        try:
            return (yield)
        finally:
            node = request.node
            self.coverage.switch_context(name_of(node) if isinstance(node, pytest.Item) else "")

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed:
            self.failed.add(report.nodeid.partition("[")[0])


def name_of(item: pytest.Item) -> str:
    """The test without its parameters."""
    return item.nodeid.partition("[")[0]


def covered_by(file: str) -> dict[str, Any]:
    """Runs a file of tests and notes what it runs."""
    quiet()
    from coverage import Coverage

    coverage = Coverage(data_file=None, source=["specgen"], branch=False)
    coverage.start()
    plugin = Listening(coverage)
    pytest.main(["-p", "no:cacheprovider", file], [plugin])
    coverage.stop()
    data = coverage.get_data()
    lines: dict[str, dict[str, list[str]]] = {}
    for measured in data.measured_files():
        module = Path(measured).relative_to(ROOT).as_posix()
        for line, contexts in data.contexts_by_lineno(measured).items():
            tests = {
                name
                for name, used in plugin.used.items()
                if name in contexts or any(fixture in contexts for fixture in used)
            }
            if "" in contexts:
                tests = {""}
            lines.setdefault(module, {})[str(line)] = sorted(tests)
    good = {name: used for name, used in plugin.seconds.items() if name not in plugin.failed}
    return {"file": file, "seconds": good, "lines": lines, "failed": sorted(plugin.failed)}


def cover(files: list[str]) -> None:
    """Notes what files of tests run, where that is not known yet."""
    for file in files or test_files():
        kept = _kept_of(file)
        if kept.exists():
            continue
        began = time.time()
        found, _ = forked(lambda file=file: covered_by(file), 900)
        if isinstance(found, str):
            print(f"{file}: stopped by {found}")
            found = {"file": file, "seconds": {}, "lines": {}, "failed": ["all"]}
        kept.parent.mkdir(parents=True, exist_ok=True)
        aside = kept.with_suffix(".new")
        aside.write_text(json.dumps(found), encoding="utf-8")
        aside.replace(kept)
        failed = f", failed: {found['failed']}" if found["failed"] else ""
        print(
            f"{file}: {len(found['seconds'])} tests, {time.time() - began:.0f} s{failed}",
            flush=True,
        )


def test_files() -> list[str]:
    return [
        path.relative_to(ROOT).as_posix()
        for path in sorted(TESTS.rglob("test_*.py"))
        if path.relative_to(TESTS).parts[0] not in LEFT_OUT
    ]


def _kept_of(file: str) -> Path:
    digest = hashlib.sha256((ROOT / file).read_bytes()).hexdigest()[:8]
    return KEPT / "covered" / f"{file.replace('/', '.')}.{digest}.json"


def coverage_kept() -> dict[str, Covered]:
    """What is known of files of tests."""
    kept = ((file, _kept_of(file)) for file in test_files())
    return {file: _read(file, at) for file, at in kept if at.exists()}


@cache
def _read(file: str, kept: Path) -> Covered:
    told = json.loads(kept.read_text(encoding="utf-8"))
    return Covered(file, told["seconds"], told["lines"])


# How a mutant gets into a process


class Mutated(SourceFileLoader, MetaPathFinder):
    """Finds one module with other text than it has."""

    def __init__(self, name: str, path: str, text: str) -> None:
        super().__init__(name, path)
        self.text = text

    def find_spec(self, name: str, *_: Any) -> ModuleSpec | None:  # type: ignore[override]
        if name != self.name:
            return None
        spec = PathFinder.find_spec(name, [str(Path(self.path).parent)])
        if Path(self.path).stem == "__init__":
            spec = PathFinder.find_spec(name, [str(Path(self.path).parent.parent)])
        assert spec is not None
        spec.loader = self
        return spec

    def get_code(self, fullname: str) -> Any:  # noqa: ARG002  # the protocol of loaders
        return compile(self.text, self.path, "exec", dont_inherit=True)


Codes = list[tuple[CodeType, CodeType]]


def changed(old: CodeType, new: CodeType) -> Codes:
    """The functions that differ, each with those around it, and other code that differs."""
    inner, other = _inner(old), _inner(new)
    if _own(old) != _own(new) or len(inner) != len(other):
        return [(old, new)]
    found = [pair for pairs in zip(inner, other, strict=True) for pair in changed(*pairs)]
    return [*found, (old, new)] if found and old.co_flags & CO_OPTIMIZED else found


def _inner(code: CodeType) -> list[CodeType]:
    return [each for each in code.co_consts if isinstance(each, CodeType)]


def _own(code: CodeType) -> tuple[Any, ...]:
    """What a function does, less what the functions in it do."""
    constants = [repr(each) for each in code.co_consts if not isinstance(each, CodeType)]
    return code.co_code, code.co_names, constants


def patches(path: str, text: str) -> Codes | None:
    """The functions to exchange; None where what differs has run when the module was imported."""
    before = compile(Path(path).read_text(encoding="utf-8"), path, "exec", dont_inherit=True)
    found = changed(before, compile(text, path, "exec", dont_inherit=True))
    return found if found and all(old.co_flags & CO_OPTIMIZED for old, _ in found) else None


def exchange(path: str, found: Codes) -> bool:
    """Whether there were such functions; from here on they do as the mutant does."""
    met = False
    instead = dict(found)
    for each in functions():
        if each.__code__.co_filename == path and each.__code__ in instead:
            each.__code__ = instead[each.__code__]
            met = True
    return met


@cache
def functions() -> list[FunctionType]:
    """All functions of the program. Forks share what was there before, and never look at it."""
    gc.collect()
    found = [each for each in gc.get_objects() if isinstance(each, FunctionType)]
    gc.freeze()
    return [each for each in found if each.__code__.co_filename.startswith(str(ROOT / "specgen"))]


def prepare(room: str) -> None:
    """Reads what most tests read, once for all forks, where a mutant of the room takes no part."""
    if room != "quantity":
        import specgen.pipeline as pipeline
        from tests.projects import base, sources

        pipeline.read = cache(pipeline.read)
        pipeline.read(ROOT / "builds")
        sources(base())
    functions()


# Which tests try a mutant, and what they say


class Chosen:
    """A plugin that leaves the chosen tests, in their order, and notes the first that fails."""

    def __init__(self, order: dict[str, int], budget: float) -> None:
        self.order = order
        self.budget = budget
        self.failed = ""
        self.left = 0

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        kept = [item for item in items if name_of(item) in self.order]
        items[:] = sorted(kept, key=lambda item: self.order[name_of(item)])
        self.left = len(items)

    def pytest_runtest_setup(self, item: pytest.Item) -> None:
        if sum(os.times()[:4]) > self.budget:
            item.session.shouldstop = "their time is up"
            pytest.skip()
        self.left -= 1

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed and not self.failed:
            self.failed = report.nodeid

    def pytest_collectreport(self, report: Any) -> None:
        if report.failed and not self.failed:
            self.failed = f"{report.nodeid} (collecting)"


def tried_from_the_start(file: str, text: str, tests: list[str], budget: float) -> dict[str, Any]:
    """What tests say of a mutant that is there when the program is imported."""
    quiet()
    name = file.removesuffix(".py").removesuffix("/__init__").replace("/", ".")
    sys.meta_path.insert(0, Mutated(name, str(ROOT / file), text))
    plugin = Chosen({test: rank for rank, test in enumerate(tests)}, budget)
    files = list(dict.fromkeys(test.partition("::")[0] for test in tests))
    status = pytest.main(["-x", "-p", "no:cacheprovider", *files], [plugin])
    odd = "" if status in (0, 5) or plugin.left else f"status {int(status)}"
    return {"by": plugin.failed or odd, "left": plugin.left}


class Starter:
    """A process that has imported all but the program, from which others are forked."""

    def __init__(self) -> None:
        asking, self._ask = os.pipe()
        self._told, telling = os.pipe()
        if os.fork():
            os.close(asking)
            os.close(telling)
            self._lines = os.fdopen(self._told, encoding="utf-8")
            return
        os.close(self._ask)
        with os.fdopen(asking, encoding="utf-8") as asked, os.fdopen(telling, "w") as told:
            for line in asked:
                file, text, tests, seconds = json.loads(line)
                work = partial(tried_from_the_start, file, text, tests, seconds)
                said = forked(work, seconds + GUARD)
                told.write(json.dumps(said) + "\n")
                told.flush()
        os._exit(0)

    def ask(self, file: str, text: str, tests: list[str], seconds: float) -> tuple[Any, float]:
        os.write(self._ask, (json.dumps([file, text, tests, seconds]) + "\n").encode())
        said, used = json.loads(self._lines.readline())
        return said, used


def plan(mutant: Mutant, seen: dict[str, int], there: Iterable[str]) -> list[tuple[str, float]]:
    """The tests that run the lines of a mutant, with their seconds: the likeliest first.

    Of files that nobody has noted, all tests that are `there`.
    """
    lines = [str(line) for line in range(mutant.first, mutant.last + 1)]
    known = coverage_kept()
    found = {test: UNKNOWN for test in there if test.partition("::")[0] not in known}
    for each in known.values():
        module = each.lines.get(mutant.file, {})
        running = {test for line in lines for test in module.get(line, ())}
        if "" in running:  # run when the module is imported: whoever runs anything of it may see it
            running = {test for tests in module.values() for test in tests if test}
        found |= {test: each.seconds[test] for test in running if test in each.seconds}
    found = {test: found[test] for test in there if test in found}
    first = tuple(f"tests/{start}" for start in FIRST[room_of(mutant.file)])
    own = words_of(mutant.file)

    def worth(test: str) -> float:
        file = test.partition("::")[0]
        met = seen.get(test, 0) * 4 + seen.get(file, 0)
        alike = 8 * len(own & words_of(file))
        return (1 + 3 * test.startswith(first) + met + alike) / (0.1 + found[test])

    return [(test, found[test]) for test in sorted(found, key=worth, reverse=True)]


@cache
def words_of(file: str) -> frozenset[str]:
    """The words of a file's name, which modules and their tests often share."""
    words = re.split(r"[/_.]", file)
    return frozenset(words) - {"specgen", "tests", "test", "py", "init", ""}


class Trying:
    """A plugin that tries mutants in place of running tests: each in a fork of its own."""

    settled = ("killed", "same", "survived", "undecided")
    """What became of the mutants that are not tried again."""

    def __init__(self, room: str, mutants: list[Mutant], budget: float, starter: Starter) -> None:
        self.room = room
        self.kept = KEPT / f"{room.replace('/', '.')}.jsonl"
        self.mutants = mutants
        self.budget = budget
        self.starter = starter
        self.seen: dict[str, int] = {}
        self.sound: dict[str, bool] = {}
        self.failed = ""

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed and not self.failed:
            self.failed = report.nodeid

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        done = _told(self.kept)
        for told in done:
            self.learn(told)
        prepare(self.room)
        keys = {told["key"] for told in done if told["outcome"] in self.settled}
        by_name: dict[str, list[pytest.Item]] = {}
        for item in session.items:
            by_name.setdefault(name_of(item), []).append(item)
        for mutant in self.mutants:
            if mutant.key in keys:
                continue
            told = self.judged(mutant, by_name)
            self.learn(told)
            with self.kept.open("a", encoding="utf-8") as file:
                file.write(json.dumps(told, ensure_ascii=False) + "\n")
            line = (
                told["outcome"],
                told["key"],
                told.get("by", ""),
                f"{told.get('seconds', 0):.1f} s",
            )
            os.write(2, (" ".join(line) + "\n").encode())
        return True

    def learn(self, told: dict[str, Any]) -> None:
        test = told.get("by", "").partition("[")[0]
        for name in {test, test.partition("::")[0]}:
            self.seen[name] = self.seen.get(name, 0) + 1

    def judged(self, mutant: Mutant, by_name: dict[str, list[pytest.Item]]) -> dict[str, Any]:
        """Tries a mutant: what became of it."""
        told: dict[str, Any] = {"key": mutant.key, "operator": mutant.operator}
        text = source_of(mutant)
        if text is None:
            return {**told, "outcome": "same"}
        told["change"] = change_of(mutant, text)
        while True:
            planned = plan(mutant, self.seen, by_name)
            said, used = self.tried_by(planned, mutant, text, by_name)
            told |= {"tests": len(planned), "seconds": round(used, 1)}
            if said == "SIGALRM":  # the computer was too busy
                return {**told, "outcome": "undecided", "left": len(planned)}
            if isinstance(said, str):
                return {**told, "outcome": "killed", "by": f"stopped by {said}"}
            if not said["by"]:
                outcome = "undecided" if said["left"] else "survived"
                return {**told, "outcome": outcome, "left": said["left"]}
            if self.passes_unchanged(said["by"], by_name):
                return {**told, "outcome": "killed", "by": said["by"]}
            by_name.pop(said["by"].partition("[")[0])

    def tried_by(
        self,
        planned: list[tuple[str, float]],
        mutant: Mutant,
        text: str,
        by_name: dict[str, list[pytest.Item]],
    ) -> tuple[Any, float]:
        """What these tests say of a mutant, and the processor time they took."""
        if not planned:
            return {"by": "", "left": 0}, 0.0
        path = str(ROOT / mutant.file)
        found = patches(path, text)
        said: Any = {"by": ""}
        used = 0.0
        if found is not None:
            items = [item for test, _ in planned for item in by_name[test]]
            said, used = forked(lambda: self.tried(path, found, items), self.budget + GUARD)
        if found is None or (not isinstance(said, str) and not said["by"] and not said.get("met")):
            spent = accumulate(seconds for _, seconds in planned)
            tests = [test for (test, _), sum_ in zip(planned, spent, strict=True)
                     if sum_ < 2 * self.budget]  # fmt: skip
            said, more = self.starter.ask(mutant.file, text, tests, self.budget)
            if not isinstance(said, str):
                said["left"] += len(planned) - len(tests)
            used += more
        return said, used

    def passes_unchanged(self, test: str, by_name: dict[str, list[pytest.Item]]) -> bool:
        """Whether a test passes without any mutant: else it has killed none."""
        name = test.partition("[")[0]
        if test in self.sound or name not in by_name:  # a file that is not even collected
            return self.sound.get(test, True)
        items = [item for item in by_name[name] if item.nodeid == test] or by_name[name]
        said, _ = forked(lambda: self.tried("", [], items), WEEK)
        self.sound[test] = not isinstance(said, str) and not said["by"]
        if not self.sound[test]:
            os.write(2, f"fails without a mutant, and is left out: {test}\n".encode())
        return self.sound[test]

    def tried(self, path: str, found: Codes, items: list[pytest.Item]) -> dict[str, Any]:
        """What tests say of other functions, until one fails or their time is up."""
        quiet()
        if found and not exchange(path, found):
            return {"by": "", "left": len(items)}
        items[0].config.pluginmanager.unregister(name="terminalreporter")
        for number, item in enumerate(items):
            following = items[number + 1] if number + 1 < len(items) else None
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if self.failed or sum(os.times()[:4]) > self.budget:
                return {"by": self.failed, "left": len(items) - number - 1, "met": True}
        return {"by": "", "left": 0, "met": True}


def room_of(file: str) -> str:
    return next(room for room in ROOMS if file.startswith(f"specgen/{room}/"))


def change_of(mutant: Mutant, text: str) -> list[str]:
    before = (ROOT / mutant.file).read_text(encoding="utf-8").splitlines()
    lines = difflib.unified_diff(before, text.splitlines(), n=0, lineterm="")
    return [line for line in lines if line[:3] not in ("---", "+++", "@@ ")]


def run(rooms: list[str], size: int, seed: int, budget: float) -> None:
    """Tries a sample of each room."""
    KEPT.mkdir(exist_ok=True)
    quiet(shown=True)
    for room in rooms:
        starter = Starter()
        plugin = Trying(room, sample([room], size, seed), budget, starter)
        place = KEPT / "files" / room.replace("/", ".")
        place.parent.mkdir(exist_ok=True)
        files = [file for file in test_files() if file.startswith(tuple(near_to(room)))]
        options = ["-p", "no:cacheprovider", f"--basetemp={place}", *files]
        forked(partial(_session, options, plugin), WEEK)


def _session(options: list[str], plugin: Trying) -> int:
    return int(pytest.main(options, [plugin]))


def near_to(room: str) -> list[str]:
    starts = (*FIRST[room], *(f"{folder}/" for folder in NEAR[room]), "golden/test_")
    return [f"tests/{start}" for start in starts]


def _told(kept: Path) -> list[dict[str, Any]]:
    """What became of each mutant when it was last tried."""
    if not kept.exists():
        return []
    told = map(json.loads, kept.read_text(encoding="utf-8").splitlines())
    return list({each["key"]: each for each in told}.values())


def count(rooms: list[str]) -> None:
    """Prints the counts by room, then the survivors."""
    every = {room: _told(KEPT / f"{room.replace('/', '.')}.jsonl") for room in rooms}
    for room, told in every.items():
        sums = Counter(each["outcome"] for each in told if each["outcome"] != "same")
        words = ", ".join(f"{sums[each]} {each}" for each in ("killed", "survived", "undecided"))
        print(f"{room}: {sums.total()} mutants, {words}")
    for told in every.values():
        for each in told:
            if each["outcome"] in ("survived", "undecided"):
                print(f"\n{each['key']} ({each['operator']}, {each['outcome']})")
                print(*each["change"], sep="\n")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("command", choices=("cover", "run", "count"))
    parser.add_argument("files", nargs="*", help="files of tests, for `cover`")
    parser.add_argument("--room", action="append", choices=ROOMS)
    parser.add_argument("--sample", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--budget", type=float, default=60, help="seconds of tests for a mutant")
    parser.add_argument("--again", action="store_true", help="try what was not killed once more")
    asked = parser.parse_args()
    if asked.again:
        Trying.settled = ("killed", "same")
    os.chdir(ROOT)
    sys.path.insert(0, str(ROOT))
    os.nice(15)
    for name in IMPORTED:
        importlib.import_module(name)
    rooms = asked.room or list(ROOMS)
    match asked.command:
        case "cover":
            cover(asked.files)
        case "run":
            run(rooms, asked.sample, asked.seed, asked.budget)
        case _:
            count(rooms)


if __name__ == "__main__":
    main()
