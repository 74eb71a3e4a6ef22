"""The mutants of a module, by the operators of mutmut.

mutmut's own runner leaves decorated functions and all that stands outside of functions alone: for
us that would be every calculator and every table. So its operators are applied to whole modules
here. Left out is what says nothing about behaviour: docstrings, annotations, imports, decorators
of dataclasses and caches.
"""

import ast
import json
import os
from collections.abc import Iterable, Iterator
from dataclasses import astuple, dataclass
from functools import lru_cache
from hashlib import sha256
from itertools import islice, zip_longest
from pathlib import Path
from random import Random
from typing import Final, NamedTuple

import libcst as cst
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.mutators import mutation_operators, operator_string

ROOT: Final = Path(__file__).resolve().parent.parent
KEPT: Final = ROOT / ".mutants"
QUIET: Final = ("dataclass", "cache", "lru_cache", "cached_property", "overload", "frozen")


@dataclass(frozen=True)
class Mutant:
    """One change of one node: `number` counts the changes of its module."""

    file: str
    number: int
    first: int
    last: int
    operator: str

    @property
    def key(self) -> str:
        return f"{self.file}:{self.first}#{self.number}"


class _Change(NamedTuple):
    node: cst.CSTNode
    instead: cst.CSTNode
    operator: str
    first: int
    last: int


class _Changes(cst.CSTVisitor):
    METADATA_DEPENDENCIES = (PositionProvider,)

    def __init__(self, name: str) -> None:
        super().__init__()
        self.found: list[_Change] = []
        self._dice = Random(name)  # noqa: S311  # which of the changes of a text is tried

    def on_visit(self, node: cst.CSTNode) -> bool:
        if isinstance(node, cst.Annotation | cst.Import | cst.ImportFrom | cst.TypeAlias):
            return False
        if isinstance(node, cst.Decorator) and _called(node.decorator) in QUIET:
            return False
        if isinstance(node, cst.SimpleStatementLine) and _only_says(node):
            return False
        where = self.get_metadata(PositionProvider, node, None)
        if where is not None:
            for sort, operator in mutation_operators:
                if isinstance(node, sort):
                    self._add(node, operator.__name__, list(operator(node)), where)
        return True

    def _add(self, node: cst.CSTNode, name: str, changed: list[cst.CSTNode], where: object) -> None:
        if name == operator_string.__name__ and changed:
            changed = [self._dice.choice(changed)]  # one a text, or texts would crowd out the rest
        for each in changed:
            found = _Change(node, each, name, where.start.line, where.end.line)  # type: ignore[attr-defined]
            self.found.append(found)


def _called(node: cst.BaseExpression) -> str:
    """The last name of what is called, or is there."""
    if isinstance(node, cst.Call):
        return _called(node.func)
    if isinstance(node, cst.Attribute):
        return node.attr.value
    return node.value if isinstance(node, cst.Name) else ""


def _only_says(line: cst.SimpleStatementLine) -> bool:
    """A docstring, what a module offers, or a name for a type."""
    for each in line.body:
        match each:
            case cst.Expr(value=cst.SimpleString() | cst.ConcatenatedString()):
                return True
            case cst.Assign(targets=[cst.AssignTarget(target=cst.Name(value="__all__"))]):
                return True
            case cst.Assign(value=cst.Call(func=cst.Name(value="TypeVar" | "NewType"))):
                return True
            case cst.Assign(
                targets=[cst.AssignTarget(target=cst.Name(value=name))],
                value=cst.Subscript() | cst.BinaryOperation(operator=cst.BitOr()),
            ) if name.strip("_")[:1].isupper() and not name.isupper():
                return True
    return False


def mutants_of(path: Path) -> Iterator[Mutant]:
    """All mutants of a module, by line."""
    _, changes = _changes_of(path)
    name = path.relative_to(ROOT).as_posix()
    for number, each in enumerate(changes):
        yield Mutant(name, number, each.first, each.last, each.operator.removeprefix("operator_"))


def mutants_at(place: str) -> list[Mutant]:
    """The mutants of a file, or of a line of it: `specgen/facts/data.py:20`."""
    name, _, line = place.partition(":")
    return [each for each in _listed(ROOT / name) if not line or each.first == int(line)]


def source_of(mutant: Mutant) -> str | None:
    """The module with the change made; None where that is no Python, or the same program."""
    module, changes = _changes_of(ROOT / mutant.file)
    change = changes[mutant.number]
    made = module.deep_replace(change.node, change.instead)
    assert isinstance(made, cst.Module)
    try:
        same = ast.dump(ast.parse(made.code)) == _dumped(module.code)
    except SyntaxError:
        return None
    return None if same else made.code


@lru_cache(maxsize=2)
def _dumped(text: str) -> str:
    return ast.dump(ast.parse(text))


@lru_cache(maxsize=2)
def _changes_of(path: Path) -> tuple[cst.Module, list[_Change]]:
    wrapper = MetadataWrapper(cst.parse_module(path.read_text(encoding="utf-8")))
    visitor = _Changes(path.relative_to(ROOT).as_posix())
    wrapper.visit(visitor)
    return wrapper.module, visitor.found


def sample(rooms: Iterable[str], size: int, seed: int) -> list[Mutant]:
    """Mutants of rooms by chance, the operators by turns: two of three mutants are arguments left
    out, which nearly any test sees. The first of a draw are a sample too."""
    files = sorted({path for room in rooms for path in _files(room)})
    by_operator: dict[str, list[Mutant]] = {}
    for path in files:
        for mutant in _listed(path):
            by_operator.setdefault(mutant.operator, []).append(mutant)
    dice = Random(seed)  # noqa: S311
    drawn = [dice.sample(by_operator[name], len(by_operator[name])) for name in sorted(by_operator)]
    turns = (each for turn in zip_longest(*drawn) for each in turn if each is not None)
    return list(islice(turns, size))


def _listed(path: Path) -> list[Mutant]:
    """The mutants of a module, kept until it changes: those of a room take half a minute."""
    text = path.read_bytes()
    kept = KEPT / "listed" / f"{sha256(text).hexdigest()[:16]}.json"
    if not kept.exists():
        kept.parent.mkdir(parents=True, exist_ok=True)
        found = [astuple(each)[1:] for each in mutants_of(path)]
        aside = kept.with_suffix(f".{os.getpid()}")
        aside.write_text(json.dumps(found), encoding="utf-8")
        aside.replace(kept)
    name = path.relative_to(ROOT).as_posix()
    return [Mutant(name, *each) for each in json.loads(kept.read_text(encoding="utf-8"))]


def _files(room: str) -> list[Path]:
    folder = ROOT / "specgen" / room
    return [folder.with_suffix(".py")] if not folder.is_dir() else sorted(folder.rglob("*.py"))
