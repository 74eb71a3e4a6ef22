"""The names that a condition may use: positions, parts, facts and what they are."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Any, Final, get_type_hints

from specgen.diagnostics import did_you_mean
from specgen.facts import Calculator, ledger
from specgen.facts.inputs import Assumption, Of, PlatformField
from specgen.facts.inputs import Condition as ConditionInput
from specgen.model import (
    KINDS,
    Assumptions,
    Conditions,
    Definitions,
    Part,
    Platform,
    Position,
    expand,
    shifted,
)
from specgen.rules.declared.types import Names, Type, alternatives_of, of_hint, table_of

Kinds = Mapping[str, frozenset[str]]
"""Names of positions and the kinds of part that each may take."""


class Places:
    """All positions that the definitions know: the platforms' own, and what parts may bring."""

    def __init__(self, definitions: Definitions) -> None:
        self.definitions = definitions
        self._known: dict[tuple[str, ...], Kinds] = {}

    @cached_property
    def _offsets(self) -> tuple[int, ...]:
        found = {0}
        for position in self._positions():
            found.add(position.offset)
        return tuple(sorted(found))

    def _positions(self) -> Iterable[Position]:
        for platform in self.definitions.platforms.values():
            yield from platform.positions
        for part in self.definitions.parts.values():
            yield from part.brings.positions

    @cached_property
    def _brought(self) -> tuple[Kinds, Kinds]:
        """What parts bring under names of the board, and under names that start with a dot."""
        board: dict[str, frozenset[str]] = {}
        dotted: dict[str, frozenset[str]] = {}
        for part in self.definitions.parts.values():
            for position in part.brings.positions:
                for name in expand(position.name):
                    kinds = frozenset(position.takes)
                    if name.startswith("."):
                        dotted[name] = dotted.get(name, frozenset()) | kinds
                        continue
                    for offset in self._offsets:
                        moved = shifted(name, offset)
                        board[moved] = board.get(moved, frozenset()) | kinds
        return board, dotted

    def of(self, platforms: tuple[Platform, ...]) -> Kinds:
        """The positions that machines of these platforms may have, dotted names apart."""
        key = tuple(platform.id for platform in platforms)
        if key not in self._known:
            known = dict(self._brought[0])
            for platform in platforms:
                for position in platform.positions:
                    for name in expand(position.name):
                        known[name] = known.get(name, frozenset()) | frozenset(position.takes)
            self._known[key] = known
        return self._known[key]

    def named(self, name: str, platforms: tuple[Platform, ...]) -> bool:
        """Whether a machine may have a position of this name; one with a dot belongs to a part."""
        if name.startswith("."):
            return name == "." or name in self._brought[1]
        return self.kinds(name, platforms) is not None

    def kinds(self, name: str, platforms: tuple[Platform, ...]) -> frozenset[str] | None:
        """The kinds of part that a position may take; None where no machine has it."""
        known = self.of(platforms)
        if name in known:
            return known[name]
        host, dot, own = name.rpartition(".")
        if not dot or f".{own}" not in self._brought[1] or self.kinds(host, platforms) is None:
            return None
        return self._brought[1][f".{own}"]


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """What the rules of one owner may name: machines of `platforms`, and `it` on a part."""

    definitions: Definitions
    places: Places
    platforms: tuple[Platform, ...]
    it: Part | None = None
    words: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def position(self, name: str) -> frozenset[str] | None:
        return self.places.kinds(name, self.platforms)

    def known(self, names: Names) -> Iterable[str]:
        """Everything that a text of this meaning can name."""
        match names:
            case Names.PART:
                return self.definitions.parts
            case Names.PLATFORM:
                return self.definitions.platforms
            case Names.FAMILY:
                return [family.id for family in self.definitions.project.families]
            case Names.POSITION:
                return self.places.of(self.platforms)

    def knows(self, names: Names, word: str) -> bool:
        return (
            self.position(word) is not None
            if names is Names.POSITION
            else (word in self.known(names))
        )

    def close(self, names: Names, word: str) -> tuple[str, ...]:
        """Names that may have been meant."""
        return did_you_mean(word, self.known(names))


_SUBJECT: Final = re.compile(r"\\\{\w+\\\}")


@cache
def _templates() -> tuple[tuple[re.Pattern[str], Calculator], ...]:
    return tuple(
        (re.compile(_SUBJECT.sub("(.+)", re.escape(key)) + r"\Z"), calculator)
        for key, calculator in ledger().by_key.items()
        if "{" in key
    )


def calculator_of(key: str) -> Calculator | None:
    """The calculator that makes a fact of this name, for some subject where it has several."""
    known = ledger().by_key.get(key) if "{" not in key else None
    if known is not None:
        return known
    return next((each for pattern, each in _templates() if pattern.match(key)), None)


def known_facts() -> list[str]:
    return sorted(ledger().by_key)


def sorts_of_fact(calculator_key: str) -> tuple[str, ...]:
    """What the value of a calculator can be, in words, where it can be one thing or another."""
    hint = get_type_hints(ledger().by_key[calculator_key].function).get("return")
    return tuple(dict.fromkeys(str(type_) for type_ in alternatives_of(hint)))


@cache
def type_of_fact(calculator_key: str) -> Type | None:
    """The type of what a calculator makes, None where its declaration does not tell."""
    calculator = ledger().by_key[calculator_key]
    if calculator.holds is not None:
        return of_hint(calculator.holds)
    hint = get_type_hints(calculator.function).get("return")
    if hint is not None:
        return of_hint(hint)
    source = calculator.inputs.get("value")
    match source:
        case PlatformField(path=path):
            return _along(Platform, path)
        case ConditionInput(name=name):
            return table_of(Conditions).get(name)
        case Assumption(name=name):
            hint = get_type_hints(Assumptions)[name]
            inner = getattr(hint.__args__[0], "__args__", ())
            return of_hint(inner[0]) if inner else None
        case Of(path=path):
            found = (_along(cls, path) for cls in KINDS.values())
            return next((type_ for type_ in found if type_ is not None), None)
    return None


def _along(cls: type[Any], path: tuple[str | int, ...]) -> Type | None:
    """The type of the field at `path` of a model class."""
    type_: Type | None = None
    holder: type[Any] | None = cls
    for step in path:
        type_ = table_of(holder).get(str(step)) if holder is not None else None
        holder = type_.record if type_ is not None else None
    return type_
