"""In what order the positions of a system are reached: what is opened or taken out before which.

It follows from the definitions: covers and positions say what they lie `over`; a heat sink lies on
what it cools; what is plugged into a part is disconnected before the part is taken out; and what
sits on a part is taken out before it, unless the part carries it along.
"""

from collections.abc import Iterable, Mapping
from typing import Final

from specgen.assembly.result import Place
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.model import BadRange, Carries, Connects, Definitions, Part, Platform, expand

SIDES: Final = ("front", "rear", "inside")
Spot = tuple[Place, Part | None]
"""A position, and the part that brings it; None where the platform does."""


@frozen
class Access:
    """What is directly before each cover and position, by name: covers first, as declared."""

    before: Mapping[str, tuple[str, ...]]

    def way(self, *names: str) -> tuple[str, ...]:
        """All that is opened or taken out before these, first things first, and none of them."""
        found: dict[str, None] = {}
        open_: set[str] = set()

        def reach(name: str) -> None:
            if name in found or name in open_:
                return
            open_.add(name)
            for each in self.before.get(name, ()):
                reach(each)
            found[name] = None

        for name in names:
            reach(name)
        return tuple(each for each in found if each not in names)

    def circle(self) -> tuple[str, ...]:
        """Names of which each is before the one ahead of it and the first before the last; ()
        where everything can be reached."""
        done: set[str] = set()
        for start in self.before:
            trail: list[str] = []
            found = self._circle(start, trail, done)
            if found:
                return found
        return ()

    def _circle(self, name: str, trail: list[str], done: set[str]) -> tuple[str, ...]:
        if name in trail:
            return tuple(trail[trail.index(name) :])
        if name in done:
            return ()
        trail.append(name)
        for each in self.before.get(name, ()):
            found = self._circle(each, trail, done)
            if found:
                return found
        trail.pop()
        done.add(name)
        return ()

    def direct(self, name: str) -> tuple[str, ...]:
        """What is before one, without what is before any other of these."""
        own = self.before.get(name, ())
        further = {each for other in own for each in self.way(other)}
        return tuple(each for each in own if each not in further)


def access_of(definitions: Definitions, platform: Platform, spots: Iterable[Spot]) -> Access:
    """The order of access of a platform's covers and of such positions; what is built in and
    cannot be taken out is left aside. Each position is looked at once for each cover."""
    known = [each for each in spots if each[0].position.fixed is None]
    names = dict.fromkeys(place.name for place, _ in known)
    before: dict[str, dict[str, None]] = {each.name: {} for each in platform.covers}
    before.update({name: {} for name in names if name not in before})
    targets = _targets(definitions, before, known)
    layers: list[tuple[str, tuple[str, ...]]] = [(each.name, each.over) for each in platform.covers]
    layers += [(place.name, place.position.over) for place, _ in known if place.position.over]
    for layer, over in layers:
        for name in (name for word in over for name in meant_by(word, targets)):
            if name != layer and name in before:
                before[name][layer] = None
    carried = {place.name: place.host or "" for place, by in known if isinstance(by, Carries)}
    for place, bringer in known:
        for first, then in _by_nature(definitions, place, bringer):
            while then in before and first in before and then != first:
                before[then][first] = None
                then = carried.get(then, "")  # what carries it moves with it
    rank = {name: at for at, name in enumerate(before)}
    ordered = {name: sorted(found, key=rank.__getitem__) for name, found in before.items()}
    return Access({name: tuple(found) for name, found in ordered.items()})


def meant_by(word: str, targets: Mapping[str, list[str]]) -> tuple[str, ...]:
    """What a word after `over` stands for: a side, a kind of part, a cover, positions."""
    if word in targets:
        return tuple(targets[word])
    try:
        return expand(word)
    except BadRange:  # which is told where it is written
        return ()


def _targets(
    definitions: Definitions, before: Iterable[str], spots: list[Spot]
) -> Mapping[str, list[str]]:
    """Names by the words that they can be meant by."""
    words: dict[str, list[str]] = {name: [name] for name in before}
    sides: dict[str, list[str]] = {side: [] for side in SIDES}
    for place, _ in spots:
        kinds = [definitions.kinds.get(kind) for kind in place.position.takes]
        if not any(kind is not None and kind.outside for kind in kinds):
            sides[place.position.area].append(place.name)
        for word in place.position.takes:
            words.setdefault(word, []).append(place.name)
    return {**words, **sides}


def _by_nature(
    definitions: Definitions, place: Place, bringer: Part | None
) -> Iterable[tuple[str, str]]:
    """What comes first and what then, by what sits there: pairs of names."""
    kinds = (definitions.kinds.get(kind) for kind in place.position.takes)
    plugged = any(kind is not None and issubclass(kind, Connects) for kind in kinds)
    if place.cools is not None:
        yield place.name, place.cools
    if place.host is not None:
        carried = isinstance(bringer, Carries) and not plugged
        yield (place.host, place.name) if carried else (place.name, place.host)
    elif plugged and place.of is not None:
        yield place.name, place.of
    if plugged and place.to is not None:
        yield place.name, place.to.rpartition(".")[0]


def alike(access: Access, places: Iterable[Place]) -> tuple[tuple[Place, ...], ...]:
    """Positions put together where the same is done to reach them and to replace what sits there:
    those that take the same and have the like before them."""
    known = tuple(places)
    first: dict[str, Place] = {}
    for place in known:
        first.setdefault(place.name, place)
    keys: dict[str, object] = {}

    def key(name: str) -> object:
        if name not in keys:
            keys[name] = name  # also where a circle leads back
            if name in first:
                keys[name] = of(first[name])
        return keys[name]

    def of(place: Place) -> object:
        at, before = place.position, access.before.get(place.name, ())
        return at.takes, at.swap, at.tool, frozenset(key(each) for each in before)

    found = grouped((of(place), place) for place in known if place.name in access.before)
    return tuple(tuple(each) for each in found.values())
