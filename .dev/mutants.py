#!/usr/bin/env python3
"""Mutation testing: `.venv/bin/python .dev/mutants.py run|count [OPTIONS]`.

`run --room facts --sample 200 --seed 1` notes which functions of the program each test near the
room runs (again only where the file of tests has changed), then tries mutants drawn by chance, and
goes on where it was stopped; `count` prints the counts by room and the survivors. `--at FILE:LINE`
tries the mutants of a line, and `--tests rules/test_feeds` by these files of tests alone.

A mutant is tried by the tests that run its function, first those that have seen most in the least
time, in a process forked from one that has gathered the tests and read the demo: nothing is written
into the tree, and no test meets what another mutant has left behind. What has run when a module was
imported is tried in processes that have imported all but the program. A mutant that neither ends
nor fails is stopped by the processor time it takes. A test that fails without a mutant as well is
left out. All is kept in `.mutants/`; `equal_mutants.yaml` beside this file says which survivors are
the same program by another way.
"""

import argparse
import ast
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
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from cProfile import Profile
from functools import cache, lru_cache, partial
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, PathFinder, SourceFileLoader
from inspect import CO_OPTIMIZED
from io import BytesIO
from pathlib import Path
from pkgutil import walk_packages
from types import CodeType, FunctionType
from typing import Any, Final, NamedTuple

import pytest
import yaml
from babel.messages.extract import extract
from babel.messages.pofile import read_po
from mutations import KEPT, ROOT, Mutant, mutants_at, sample, source_of

TESTS: Final = ROOT / "tests"
LEFT_OUT: Final = ("bench", "browser", "repo", "fuzzed", "hostile")
"""Folders of tests that run the program in other processes, or look at the tree and not at what
the program does."""
JUDGED: Final = ROOT / ".dev" / "equal_mutants.yaml"


class Room(NamedTuple):
    """Which tests try the mutants of a room, by how the names of their files begin.

    Those of `near` do even where nobody noted what they run; of `first` is what sees most in the
    least time, before a run has learnt which tests do.
    """

    near: tuple[str, ...]
    first: tuple[str, ...]


ROOMS: Final = {
    "facts": Room(
        ("facts/", "data/", "rules/", "declared/"),
        ("facts/test_values_apart", "facts/test_by_hand", "facts/test_uneven_by_hand"),
    ),
    "rules": Room(
        ("rules/", "mutated/test_breaks", "declared/"),
        (
            *("rules/test_definitions_on_the_limit", "rules/test_words_by_hand", "declared/"),
            *("rules/test_on_the_limit", "rules/test_limits"),
        ),
    ),
    "limits": Room(
        ("limits/",),
        (
            *("limits/test_every_statement", "limits/test_told_beforehand"),
            *("limits/test_rules_in_the_solver", "limits/test_spare_positions"),
            *("limits/test_wishes", "limits/test_judged_limits"),
        ),
    ),
    "fitness": Room(
        ("fitness/", "rules/", "mutated/test_breaks"),
        ("rules/test_on_the_limit", "fitness/test_one_table"),
    ),
    "document/blocks": Room(
        ("document/", "kinds/"), ("document/test_tables_by_hand", "golden/test_golden")
    ),
    "document": Room(("document/", "prose/", "data/", "languages/"), ("document/", "prose/")),
    "write": Room(("write/", "data/"), ("golden/test_golden",)),
    "drawings": Room(("drawings/", "document/"), ("drawings/",)),
    "assembly": Room(
        ("assembly/", "mutated/test_breaks", "rules/"), ("rules/test_on_the_limit", "assembly")
    ),
    "expressions": Room(
        ("declared/", "facts/test_own_values", "mutated/test_breaks"), ("declared/",)
    ),
    "load": Room(("load/", "mutated/", "kinds/"), ("load/",)),
    "source": Room(("source/", "mutated/"), ("source/",)),
    "diagnostics": Room(("diagnostics/", "mutated/", "languages/"), ("diagnostics/",)),
    "messages": Room(("messages/", "languages/", "diagnostics/"), ("messages/",)),
    "quantity": Room(("quantity/",), ("quantity",)),
    "files": Room(("source/", "cli/", "site/"), ("source/test_gate", "source/test_whole_files")),
    "pipeline": Room(("document/", "kinds/", "cli/", "data/"), ("document/",)),
    "site": Room(("site/",), ("site/",)),
    "cli": Room(("cli/",), ("cli/",)),
}
IMPORTED: Final = (
    "babel.numbers", "click", "graphviz", "hypothesis", "jinja2", "jsonschema",
    "markdown_it", "mkdocs.config", "openpyxl", "ortools.sat.python.cp_model", "pint", "pydantic",
    "pypdf", "rich.console", "typst", "xdist", "yaml",
)  # fmt: skip
"""What is imported once for all forks, since it takes long; not the program."""
FLOORS: Final = (
    *("files", "quantity", "messages", "diagnostics", "source", "model", "load", "assembly"),
    "fitness",
    *("expressions", "facts", "rules", "limits", "drawings", "document", "write", "pipeline"),
    *("site", "cli"),
)  # fmt: skip
"""A room and those above it may keep what a mutant of the room gives otherwise."""
PLAIN: Final = ("-p", "no:cacheprovider", "--assert=plain")
CATALOGUES: Final = (
    "tests/languages/test_catalogues.py"
    "::test_every_message_of_the_program_and_every_word_of_a_small_project_is_translated"
)
SAID: Final[dict[str, Any]] = {"say": None, "say_as": ((1, "c"), 2), "say_many": (2, 3)}
KEY: Final = re.compile(r"[a-z]+(\.[a-z_{}]+)+")
SPREAD: Final = 6  # cases of a test that are tried before other tests have been
PROMOTED: Final = 12  # cases of tests that speak of a finding are tried before others
GATHERED: Final = 8  # files of tests that a process of its own gathers
UNKNOWN: Final = 0.3  # seconds that a test is taken to last
GUARD: Final = 15  # seconds of processor time beyond its budget after which a mutant hangs
WEEK: Final = 7 * 24 * 3600.0
WAITED: Final = 900  # seconds for a process that uses no time, on a busy computer
MEMORY: Final = 6 << 30
PROGRAM: Final = f"{ROOT}/specgen/"


class Covered(NamedTuple):
    """What a file of tests runs: by test its seconds, by function its tests."""

    file: str
    seconds: dict[str, float]
    functions: dict[str, list[str]]


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


# Which functions each test runs


class Watching:
    """A plugin of pytest's that notes the functions of the program that each test runs.

    What is made once for several tests, by a fixture or a cached function of the tests, is run for
    each of them.
    """

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()
        self.uses: dict[str, set[str]] = {}
        self.runs: dict[str, set[str]] = {}
        self.now: list[str] = []
        self.profile = Profile(builtins=False, subcalls=False)

    @contextmanager
    def noting(self, name: str) -> Iterator[None]:
        """Whatever runs in here, runs for this name."""
        self.note()
        if self.now:
            self.uses.setdefault(self.now[-1], set()).add(name)
        self.now.append(name)
        self.profile.enable()
        try:
            yield
        finally:
            self.note()
            self.now.pop()
            if self.now:
                self.profile.enable()

    def note(self) -> None:
        self.profile.disable()
        if self.now:
            found = self.runs.setdefault(self.now[-1], set())
            for each in self.profile.getstats():
                code = each.code
                if isinstance(code, CodeType) and code.co_filename.startswith(PROGRAM):
                    found.add(f"{code.co_filename[len(PROGRAM) :]}:{code.co_qualname}")
        self.profile.clear()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        name = name_of(item)
        fixtures = {f"fixture {each}" for each in getattr(item, "fixturenames", ())}
        self.uses.setdefault(name, set()).update(fixtures)
        began = time.process_time()
        try:
            with self.noting(name):
                return (yield)
        finally:
            used = time.process_time() - began
            self.seconds[name] = round(self.seconds.get(name, 0) + used, 3)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any) -> Iterator[None]:
        with self.noting(f"fixture {fixturedef.argname}"):
            return (yield)

    def pytest_runtest_logreport(self, report: Any) -> None:
        if report.failed:
            self.failed.add(report.nodeid.partition("[")[0])

    def watched(self, cached: Any) -> Any:
        """A cached function of the tests that says who uses it."""
        name = f"cached {cached.__module__}.{cached.__qualname__}"

        def call(*given: Any, **named: Any) -> Any:
            if not self.now:
                return cached(*given, **named)
            with self.noting(name):
                return cached(*given, **named)

        return call

    def run_by(self, test: str) -> set[str]:
        """What a test runs, itself or through what it uses."""
        met: set[str] = set()
        ahead = [test]
        while ahead:
            name = ahead.pop()
            if name not in met:
                met.add(name)
                ahead += self.uses.get(name, ())
        return set().union(*(self.runs.get(name, set()) for name in met))

    def told(self, file: str) -> dict[str, Any]:
        good = {name: used for name, used in self.seconds.items() if name not in self.failed}
        functions: dict[str, list[str]] = {}
        for name in good:
            for function in self.run_by(name):
                functions.setdefault(function, []).append(name)
        return {"file": file, "seconds": good, "functions": functions,
                "failed": sorted(self.failed)}  # fmt: skip


def name_of(item: pytest.Item) -> str:
    """The test without its parameters."""
    return item.nodeid.partition("[")[0]


def covered_by(file: str, items: list[pytest.Item]) -> dict[str, Any]:
    """Runs a file of tests and notes what it runs."""
    quiet()
    plugin = Watching()
    manager = items[0].config.pluginmanager
    manager.unregister(name="terminalreporter")
    manager.register(plugin)
    watched: dict[int, Any] = {}
    keep_nothing()
    for each in caches("tests"):
        each.cache_clear()
        watched[id(each)] = plugin.watched(each)
    for name, module in list(sys.modules.items()):
        if name.startswith("tests."):
            for key, value in list(vars(module).items()):
                if id(value) in watched:
                    setattr(module, key, watched[id(value)])
    for number, item in enumerate(items):
        following = items[number + 1] if number + 1 < len(items) else None
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
    return plugin.told(file)


def cover(files: list[str], items: list[pytest.Item]) -> None:
    """Notes what files of tests run, where that is not known yet."""
    for file in files:
        kept = _kept_of(file)
        own = [item for item in items if item.nodeid.partition("::")[0] == file]
        if kept.exists() or not own:
            continue
        found, used = forked(partial(covered_by, file, own), WEEK)
        if isinstance(found, str):
            found = {"file": file, "seconds": {}, "functions": {}, "failed": [found]}
        kept.parent.mkdir(parents=True, exist_ok=True)
        aside = kept.with_suffix(".new")
        aside.write_text(json.dumps(found), encoding="utf-8")
        aside.replace(kept)
        failed = f", failed: {found['failed']}" if found["failed"] else ""
        os.write(2, f"{file}: {len(found['seconds'])} tests, {used:.1f} s{failed}\n".encode())


def test_files() -> list[str]:
    return [
        path.relative_to(ROOT).as_posix()
        for path in sorted(TESTS.rglob("test_*.py"))
        if path.relative_to(TESTS).parts[0] not in LEFT_OUT
    ]


@cache
def _kept_of(file: str) -> Path:
    digest = hashlib.sha256((ROOT / file).read_bytes()).hexdigest()[:8]
    return KEPT / "covered" / f"{file.replace('/', '.')}.{digest}.json"


@cache
def coverage_kept() -> dict[str, Covered]:
    """What is known of files of tests."""
    told = {}
    for file in test_files():
        kept = _kept_of(file)
        if kept.exists():
            read = json.loads(kept.read_text(encoding="utf-8"))
            told[file] = Covered(file, read["seconds"], read["functions"])
    return told


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
    gc.unfreeze()  # what gathering tests has frozen is not among the objects
    gc.collect()
    found = [each for each in gc.get_objects() if isinstance(each, FunctionType)]
    gc.freeze()
    return [each for each in found if each.__code__.co_filename.startswith(str(ROOT / "specgen"))]


@cache
def caches(package: str) -> list[Any]:
    """All functions of a package whose answers are kept."""
    kind = type(caches)
    gc.unfreeze()
    found = [each for each in gc.get_objects() if isinstance(each, kind)]
    gc.freeze()
    return [each for each in found if (each.__module__ or "").partition(".")[0] == package]


def keep_nothing() -> None:
    """Each test makes for itself what the tests make once for all."""
    from tests.made_once import keep_nothing

    keep_nothing()


def forget(room: str) -> None:
    """What was kept of a room, or above it, a mutant may have given otherwise."""
    place = FLOORS.index(room.partition("/")[0])
    keep_nothing()
    for each in caches("specgen"):
        own = each.__module__.split(".")[1]
        if own in FLOORS[place:]:
            each.cache_clear()
    for each in caches("tests"):
        if each.__module__ != "tests.projects" or not reads_beforehand(room):
            each.cache_clear()


def reads_beforehand(room: str) -> bool:
    """Whether a mutant of the room takes no part when definitions are read and loaded."""
    return FLOORS.index(room.partition("/")[0]) > FLOORS.index("load")


def prepare(room: str) -> None:
    """Reads what most tests read, once for all forks, where a mutant of the room takes no part."""
    for module in walk_packages([PROGRAM], "specgen."):
        if "__main__" not in module.name:
            importlib.import_module(module.name)
    if reads_beforehand(room):
        import specgen.pipeline as pipeline
        from tests.projects import base, sources

        pipeline.read = cache(pipeline.read)
        pipeline.read(ROOT / "builds")
        sources(base())
    functions()
    caches("specgen")
    caches("tests")


# Which tests try a mutant, and what they say


class Curt:
    """A plugin that says of a failed test only that it failed: what is shown of it takes longer
    than most tests."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_makereport(
        self, item: pytest.Item, call: pytest.CallInfo[None]
    ) -> pytest.TestReport | None:
        if call.excinfo is None or call.excinfo.errisinstance(pytest.skip.Exception):
            return None
        place = item.nodeid, item.location, {}
        return pytest.TestReport(*place, "failed", None, call.when)


class Chosen(Curt):
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
    status = pytest.main(["-x", *PLAIN, *files], [plugin])
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


def plan(
    mutant: Mutant,
    changed: Codes | None,
    seen: dict[str, int],
    there: Mapping[str, Sequence[pytest.Item]],
) -> list[tuple[str, float]]:
    """The tests that run the function that a mutant changes, with their seconds: the likeliest
    first. Of files that nobody has noted, all tests that are `there`."""
    known = coverage_kept()
    found = {test: UNKNOWN for test in there if test.partition("::")[0] not in known}
    start = f"{mutant.file.removeprefix('specgen/')}:"
    function = changed[0][0].co_qualname if changed else decorated(mutant)
    name = start + function
    for each in known.values():
        running = set(each.functions.get(name, ()))
        if not function:  # run when the module is imported: whoever runs any of it may see it
            functions = (one for one in each.functions if one.startswith(start))
            running.update(*(each.functions[one] for one in functions))
        found |= {test: each.seconds[test] for test in running}
    first = tuple(f"tests/{start}" for start in ROOMS[room_of(mutant.file)].first)
    if not found and not changed:  # nobody calls what the module holds: it is a table
        found = {test: UNKNOWN for test in there if test.startswith(first)}
    found = {test: found[test] for test in there if test in found}
    own = words_of(mutant.file)
    named = names_at(mutant)

    def worth(test: str) -> float:
        file = test.partition("::")[0]
        met = seen.get(test, 0) * 4 + seen.get(file, 0)
        alike = 8 * len(own & words_of(file)) + 24 * named_in(file, named)
        return (1 + 3 * test.startswith(first) + met + alike) / (
            0.1 + found[test] / len(there[test])
        )

    return [(test, found[test]) for test in sorted(found, key=worth, reverse=True)]


@cache
def words_of(file: str) -> frozenset[str]:
    """The words of a file's name, which modules and their tests often share."""
    words = re.split(r"[/_.]", file)
    return frozenset(words) - {"specgen", "tests", "test", "py", "init", ""}


def _around(mutant: Mutant) -> ast.FunctionDef | None:
    """The innermost function that holds a mutant, decorators and all."""
    found = None
    for node in ast.walk(_tree(ROOT / mutant.file)):
        if isinstance(node, ast.FunctionDef):
            first = min([node.lineno, *(each.lineno for each in node.decorator_list)])
            if first <= mutant.first <= mutant.last <= (node.end_lineno or 0):
                found = node
    return found


def spread(cases: Sequence[pytest.Item]) -> Sequence[pytest.Item]:
    """A few of the cases of a test, from all over it."""
    return cases[:: -(-len(cases) // SPREAD)]


def decorated(mutant: Mutant) -> str:
    """The function in whose decorators, or in whose defaults, a mutant stands."""
    node = _around(mutant)
    return "" if node is None or mutant.last >= node.body[0].lineno else node.name


def names_at(mutant: Mutant) -> frozenset[str]:
    """What a test calls the function that holds a mutant: its name, the keys of its facts; where
    it has none, all those of the module."""
    tree, node = _tree(ROOT / mutant.file), _around(mutant)
    own = keys_in(node.decorator_list) if node is not None else frozenset()
    name = {node.name} if node is not None else set()
    return own | name if own else keys_in(tree.body) | name


def keys_in(nodes: Iterable[ast.AST]) -> frozenset[str]:
    """The last names of keys of facts."""
    texts = (
        each.value
        for node in nodes
        for each in ast.walk(node)
        if isinstance(each, ast.Constant) and isinstance(each.value, str)
    )
    return frozenset(text[text.rindex(".") :] for text in texts if KEY.fullmatch(text))


@cache
def codes_at(mutant: Mutant) -> frozenset[str]:
    """The codes of findings of the function that holds a mutant; where it has none, all those of
    the module."""
    from specgen.diagnostics import codes

    def told(tree: ast.AST) -> frozenset[str]:
        named = (each.attr for each in ast.walk(tree) if isinstance(each, ast.Attribute))
        found = (getattr(codes, name, None) for name in named if name.isupper())
        return frozenset(each.id for each in found if isinstance(each, codes.Code))

    node = _around(mutant)
    own = told(node) if node is not None else frozenset()
    return own or told(_tree(ROOT / mutant.file))


@cache
def codes_in(item: pytest.Item) -> frozenset[str]:
    """The codes of findings that a case of a test speaks of."""
    given = getattr(item, "callspec", None)
    text = repr(given.params) if given is not None else ""
    return frozenset(re.findall(r"\bSG\d{3}\b", text))


@cache
def named_in(file: str, names: frozenset[str]) -> bool:
    text = (ROOT / file).read_text(encoding="utf-8")
    return any(re.search(rf"{re.escape(each)}\b", text) for each in names)


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def in_few_files(planned: list[tuple[str, float]], budget: float) -> list[str]:
    """The likeliest tests that a process can gather and run in time."""
    tests: list[str] = []
    files: set[str] = set()
    spent = 0.0
    for test, seconds in planned:
        file = test.partition("::")[0]
        if spent + seconds < budget and (file in files or len(files) < GATHERED):
            tests.append(test)
            files.add(file)
            spent += seconds
    return tests


class Trying(Curt):
    """A plugin that tries mutants in place of running tests: each in a fork of its own."""

    settled = ("killed", "same", "survived", "undecided")
    """What became of the mutants that are not tried again."""

    def __init__(self, room: str, mutants: list[Mutant], budget: float, starter: Starter) -> None:
        self.room = room
        self.kept = KEPT / f"{room.replace('/', '.')}.jsonl"
        self.mutants = mutants
        self.budget = budget
        self.starter = starter
        self.covered: list[str] = []
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
        cover(self.covered, session.items)
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
        if unknown_words(ROOT / mutant.file, text):
            return {**told, "outcome": "killed", "by": CATALOGUES}
        found = patches(str(ROOT / mutant.file), text)
        told["in"] = found[0][0].co_qualname if found else ""
        while True:
            planned = plan(mutant, found, self.seen, by_name)
            said, used = self.tried_by(planned, mutant, text, found, by_name)
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
        found: Codes | None,
        by_name: dict[str, list[pytest.Item]],
    ) -> tuple[Any, float]:
        """What these tests say of a mutant, and the processor time they took."""
        if not planned:
            return {"by": "", "left": 0}, 0.0
        path = str(ROOT / mutant.file)
        said: Any = {"by": ""}
        used = 0.0
        if found is not None:
            items = [item for test, _ in planned for item in by_name[test]]
            speaking = [item for item in items if codes_at(mutant) & codes_in(item)][:PROMOTED]
            some = (each for test, _ in planned for each in spread(by_name[test]))
            items = list(dict.fromkeys((*speaking, *some, *items)))
            said, used = forked(lambda: self.tried(path, found, items), self.budget + GUARD)
        if found is None or (not isinstance(said, str) and not said["by"] and not said.get("met")):
            tests = in_few_files(planned, self.budget)
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
        if found:
            if not exchange(path, found):
                return {"by": "", "left": len(items)}
            forget(self.room)
        items[0].config.pluginmanager.unregister(name="terminalreporter")
        for number, item in enumerate(items):
            following = items[number + 1] if number + 1 < len(items) else None
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if self.failed or sum(os.times()[:4]) > self.budget:
                return {"by": self.failed, "left": len(items) - number - 1, "met": True}
        return {"by": "", "left": 0, "met": True}


def room_of(file: str) -> str:
    """The room of a file, or of a place in one."""
    file = file.partition(":")[0]
    return next(
        room for room in ROOMS if f"{file.removesuffix('.py')}/".startswith(f"specgen/{room}/")
    )


def unknown_words(path: Path, text: str) -> set[str]:
    """What a mutant says that no catalogue has words for. The test of the catalogues finds it in
    the files, which no mutant gets into."""
    said = messages_in(text) - messages_in(path.read_text(encoding="utf-8"))
    return {each for each in said if re.search(r"[^\W\d_]", each)} - translated()


@lru_cache(maxsize=4)
def messages_in(text: str) -> set[str]:
    found = extract("python", BytesIO(text.encode()), keywords=SAID)
    return {said for _, message, *_ in found for said in flat(message)}


def flat(message: str | tuple[str, ...]) -> tuple[str, ...]:
    return (message,) if isinstance(message, str) else message


@cache
def translated() -> set[str]:
    with (ROOT / "templates" / "languages" / "de.po").open("rb") as file:
        return {each for entry in read_po(file) if entry.id for each in flat(entry.id)}


def change_of(mutant: Mutant, text: str) -> list[str]:
    before = (ROOT / mutant.file).read_text(encoding="utf-8").splitlines()
    lines = difflib.unified_diff(before, text.splitlines(), n=0, lineterm="")
    return [line for line in lines if line[:3] not in ("---", "+++", "@@ ")]


def run(rooms: list[str], asked: argparse.Namespace) -> None:
    """Tries a sample of each room, or the mutants of some lines."""
    KEPT.mkdir(exist_ok=True)
    quiet(shown=True)
    for room in rooms:
        starter = Starter()
        found = [each for at in asked.at for each in mutants_at(at) if room_of(each.file) == room]
        drawn = found if asked.at else sample([room], asked.sample, asked.seed)
        # A module after the other: which mutants it has takes long to find.
        drawn.sort(key=lambda each: (each.file, each.number))
        plugin = Trying(room, drawn, asked.budget, starter)
        place = KEPT / "files" / room.replace("/", ".")
        place.parent.mkdir(exist_ok=True)
        near = tuple(f"tests/{each}" for each in asked.tests) or tuple(near_to(room))
        files = [file for file in test_files() if file.startswith(near)]
        plugin.covered = [] if asked.tests else files
        options = [*PLAIN, f"--basetemp={place}", *files]
        forked(partial(_session, options, plugin), WEEK)


def _session(options: list[str], plugin: Trying) -> int:
    return int(pytest.main(options, [plugin]))


def near_to(room: str) -> list[str]:
    starts = (*ROOMS[room].first, *ROOMS[room].near, "golden/test_")
    return [f"tests/{start}" for start in starts]


def _told(kept: Path) -> list[dict[str, Any]]:
    """What became of each mutant when it was last tried."""
    if not kept.exists():
        return []
    told = map(json.loads, kept.read_text(encoding="utf-8").splitlines())
    return list({each["key"]: each for each in told}.values())


def equal_ones() -> set[tuple[str, ...]]:
    """The changes that somebody has read and found to be the same program by another way."""
    told = yaml.safe_load(JUDGED.read_text(encoding="utf-8"))
    return {(each["file"], *each["change"]) for each in told["equal"]}


def count(rooms: list[str]) -> None:
    """Prints the counts by room, then the survivors."""
    equal = equal_ones()
    every = {room: _told(KEPT / f"{room.replace('/', '.')}.jsonl") for room in rooms}
    for room, told in every.items():
        sums: Counter[str] = Counter()
        for each in told:
            file = each["key"].partition(":")[0]
            if each["outcome"] == "survived" and (file, *bare(each["change"])) in equal:
                each["outcome"] = "equal"
            sums[each["outcome"]] += each["outcome"] != "same"
        names = ("killed", "equal", "survived", "undecided")
        words = ", ".join(f"{sums[each]} {each}" for each in names)
        real = sums.total() - sums["equal"]
        share = f", {100 * sums['killed'] / real:.1f} % of real ones" if real else ""
        print(f"{room}: {sums.total()} mutants, {words}{share}")
    for told in every.values():
        for each in told:
            if each["outcome"] in ("survived", "undecided"):
                print(f"\n{each['key']} ({each['operator']}, {each['outcome']})")
                print(*each["change"], sep="\n")


def bare(change: list[str]) -> list[str]:
    """A change without its indents, as people write it down."""
    return [f"{line[0]} {line[1:].strip()}" for line in change]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("command", choices=("run", "count"))
    parser.add_argument("--room", action="append", choices=ROOMS)
    parser.add_argument("--sample", type=int, default=40)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at", action="append", default=[], help="FILE or FILE:LINE, not a sample")
    parser.add_argument("--tests", action="append", default=[], help="how files of tests begin")
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
    rooms = asked.room or list(dict.fromkeys(map(room_of, asked.at))) or list(ROOMS)
    match asked.command:
        case "run":
            run(rooms, asked)
        case _:
            count(rooms)


if __name__ == "__main__":
    main()
