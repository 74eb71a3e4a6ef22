"""The names that an expression may use: positions, parts, facts and what they are."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import field
from functools import cached_property
from typing import Protocol

from specgen.diagnostics import did_you_mean
from specgen.expressions.types import Kinds, Namespace, Type
from specgen.frozen import frozen
from specgen.messages import Words
from specgen.model import Definitions, Platform, Position, expand, shifted

Takes = Mapping[str, frozenset[str]]
"""Names of positions and the kinds of part that each may take."""


class KnownPositions:
    """All positions that the definitions know: the platforms' own, and what parts may bring."""

    def __init__(self, definitions: Definitions) -> None:
        self.definitions = definitions
        self.table = Kinds(definitions.kinds)
        self._known: dict[tuple[str, ...], Takes] = {}

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
    def _brought(self) -> tuple[Takes, Takes]:
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

    def of(self, platforms: tuple[Platform, ...]) -> Takes:
        """The positions that systems of these platforms may have, dotted names apart."""
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
        """Whether a system may have a position of this name; one with a dot belongs to a part."""
        if name.startswith("."):
            return name == "." or name in self._brought[1]
        return self.kinds(name, platforms) is not None

    def kinds(self, name: str, platforms: tuple[Platform, ...]) -> frozenset[str] | None:
        """The kinds of part that a position may take; None where no system has it."""
        known = self.of(platforms)
        if name in known:
            return known[name]
        host, dot, own = name.rpartition(".")
        if not dot or f".{own}" not in self._brought[1] or self.kinds(host, platforms) is None:
            return None
        return self._brought[1][f".{own}"]


@frozen
class Readable:
    """A fact as an expression knows it before any system is at hand.

    `types` are those that its value can be of: none where it holds nothing that can be compared,
    several where it is now one thing and now another. `subject` is what the key says it is about.
    """

    types: tuple[Type, ...]
    label: Words
    subject: str = ""


class Unreadable(Exception):
    """There is such a fact, and its formula cannot be read: it names what is in the way of it.

    `circle` are the keys that lead back to themselves, where that is the reason; else it has been
    told.
    """

    def __init__(self, circle: tuple[str, ...] = ()) -> None:
        super().__init__(" -> ".join(circle))
        self.circle = circle


class FactNames(Protocol):
    """The facts that there are; they are worked out on a floor above."""

    @property
    def keys(self) -> Collection[str]: ...

    def readable(self, key: str) -> Readable | None:
        """What a key stands for, None where no system has such a fact. Raises `Unreadable`."""
        ...


@frozen
class Vocabulary:
    """What the expressions of one owner may name: systems of `platforms`.

    `it` are the kinds that the part can be of that they are about, none where they are about no
    part; `subject` is the word that may stand in braces in the keys of facts.
    """

    definitions: Definitions
    places: KnownPositions
    facts: FactNames
    platforms: tuple[Platform, ...]
    it: tuple[str, ...] = ()
    subject: str = ""
    words: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def kinds(self) -> Kinds:
        return self.places.table

    def position(self, name: str) -> frozenset[str] | None:
        return self.places.kinds(name, self.platforms)

    def known(self, names: Namespace) -> Iterable[str]:
        """Everything that a text of this meaning can name."""
        match names:
            case Namespace.PART:
                return self.definitions.parts
            case Namespace.PLATFORM:
                return self.definitions.platforms
            case Namespace.FAMILY:
                return [family.id for family in self.definitions.project.families]
            case Namespace.POSITION:
                return self.places.of(self.platforms)

    def knows(self, names: Namespace, word: str) -> bool:
        return (
            self.position(word) is not None
            if names is Namespace.POSITION
            else (word in self.known(names))
        )

    def close(self, names: Namespace, word: str) -> tuple[str, ...]:
        """Names that may have been meant."""
        return did_you_mean(word, self.known(names))
