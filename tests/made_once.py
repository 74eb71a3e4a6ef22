"""What takes long and comes out alike is made once for all tests of a process.

Many tests run commands on the same few files, or on one of them changed. Nobody changes a tree or a
definition, so what was made of a text serves whoever has the same text (`SERVING` holds them to
that); a test that changes the program (`MonkeyPatch`) gets everything made anew, and leaves nothing
to the others.
"""

from collections.abc import Callable, Hashable, Mapping
from functools import lru_cache, wraps
from typing import Any, Final

import pytest

from specgen.diagnostics import Finding
from specgen.document.sandbox import Sandbox
from specgen.drawings import LayoutEngine
from specgen.load import definitions as loading
from specgen.load import schema
from specgen.load.likeness import FOLDERS, Likenesses
from specgen.model import KINDS, Part
from specgen.rules.definitions import whole_project
from specgen.source import SourceFile, Sources
from specgen.source import files as source_files

LARGE: Final = 50_000
"""Letters of a file: of larger ones nothing is kept."""

_changing: set[int] = set()  # each `MonkeyPatch` that has changed something


class Kept:
    """What was made, by what it was made of: so many, those that were last asked for."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: dict[Hashable, Any] = {}

    def get(self, key: Hashable) -> Any:
        if _changing or key not in self._values:
            return None
        self._values[key] = value = self._values.pop(key)
        return value

    def keep(self, key: Hashable, value: Any) -> None:
        if not _changing:
            if len(self._values) >= self._most:
                del self._values[next(iter(self._values))]
            self._values[key] = value


class Serving:
    """What serves several tests, and how it looked when it did so first."""

    def __init__(self) -> None:
        self._first: dict[int, tuple[str, object, str]] = {}

    def note(self, name: str, value: object) -> None:
        if id(value) not in self._first:
            self._first[id(value)] = name, value, repr(value)

    def names(self) -> list[str]:
        return [name for name, _, _ in self._first.values()]

    def changed(self) -> list[str]:
        """The names of what looks otherwise now: a test has changed it in place."""
        return [name for name, value, first in self._first.values() if repr(value) != first]


SERVING: Final = Serving()


def keep_nothing() -> None:
    """For whoever changes the program otherwise than a `MonkeyPatch` does."""
    _changing.add(0)


def make_once() -> None:
    """From now on in this process."""
    _notice_changes()
    _trees()
    _templates()
    _layouts()
    _files_of_definitions()
    _projects()
    _schemas()


def _schemas() -> None:
    """The schemas of files of definitions, where parts can be of the same kinds."""
    make, kept = schema.schemas, Kept(16)

    @wraps(make)
    def once(kinds: Mapping[str, type[Part]] = KINDS) -> Mapping[str, str]:
        key = tuple(kinds.items())
        had = kept.get(key)
        if had is None:
            kept.keep(key, had := make(kinds))
        return had

    schema.schemas = once


def _notice_changes() -> None:
    def noticed(change: Callable[..., None]) -> Callable[..., None]:
        def changed(self: pytest.MonkeyPatch, target: Any, *given: Any, **options: Any) -> None:
            if not type(target).__module__.startswith("_pytest"):  # its own, to the end of the run
                _changing.add(id(self))
            change(self, target, *given, **options)

        return changed

    for name in ("setattr", "delattr", "setitem", "delitem"):
        setattr(pytest.MonkeyPatch, name, noticed(getattr(pytest.MonkeyPatch, name)))
    undo = pytest.MonkeyPatch.undo

    def undone(self: pytest.MonkeyPatch) -> None:
        undo(self)
        _changing.discard(id(self))

    pytest.MonkeyPatch.undo = undone


def _trees() -> None:
    """The tree of a text."""
    each_time = source_files.read_tree
    once = lru_cache(maxsize=512)(each_time)
    source_files.read_tree = lambda text, name: (each_time if len(text) > LARGE else once)(
        text, name
    )


def _templates() -> None:
    """A template compiled, which is alike in every environment."""
    compile_, kept = Sandbox.compile, Kept(512)

    def once(
        self: Sandbox,
        source: Any,
        name: str | None = None,
        filename: str | None = None,
        **more: Any,
    ) -> Any:
        if more or not isinstance(source, str) or len(source) > LARGE:
            return compile_(self, source, name, filename, **more)
        key = (source, name, filename)
        code = kept.get(key)
        if code is None:
            kept.keep(key, code := compile_(self, source, name, filename))
        return code

    Sandbox.compile = once


def _layouts() -> None:
    """The layout of a drawing, for which a program runs each time."""
    run = LayoutEngine._run

    @lru_cache(maxsize=1024)
    def laid_out(executable: str, seconds: float, dot: str) -> str:
        engine = LayoutEngine(seconds=seconds)
        engine.__dict__["_executable"] = executable
        return run(engine, dot)

    LayoutEngine._run = lambda self, dot: laid_out(self._executable, self.seconds, dot)


def _files_of_definitions() -> None:
    """What a file without a mistake defines, where the same kinds are known."""
    read, kept = loading._read, Kept(1024)

    def once(
        file: SourceFile,
        shelf: loading._Register,
        kinds: loading.KindRegister,
        likes: Likenesses,
    ) -> tuple[list[Finding], bool]:
        if likes and file.folder in FOLDERS:  # what it defines rests on other files
            return read(file, shelf, kinds, likes)
        key = (file.name, id(file.tree), *kinds.classes.values())
        had = kept.get(key)
        if had is None:
            alone = loading._Register(shelf.twice)
            if read(file, alone, kinds, likes) != ([], True):
                return read(file, shelf, kinds, likes)
            kept.keep(key, had := (alone, file.tree))  # while the tree is there, so is its id
        else:
            SERVING.note(file.name, had[0].values)
            SERVING.note(file.name, had[1])
        alone, _ = had
        if not shelf.known.keys().isdisjoint(alone.known):
            return read(file, shelf, kinds, likes)
        shelf.known.update(alone.known)
        shelf.values.update(alone.values)
        return [], True

    loading._read = once


def _projects() -> None:
    """What files that can all be read define, and what is found in that."""
    load, of_definitions = loading._load, whole_project.of_definitions
    loaded, found = Kept(32), Kept(32)

    def load_once(sources: Sources, findings: list[Finding]) -> loading.Loaded:
        if sources.findings:
            return load(sources, findings)
        key = tuple((each.name, id(each.tree)) for each in sources.files)
        had = loaded.get(key)
        if had is None:
            loaded.keep(key, had := (load(sources, findings), sources))
        return had[0]

    def found_once(project: loading.Loaded) -> tuple[Finding, ...]:
        had = found.get(id(project))
        if had is None:
            found.keep(id(project), had := (of_definitions(project), project))
        return had[0]

    loading._load, whole_project.of_definitions = load_once, found_once
