"""Positions that a build fills and that are not there: one finding for each cause."""

import re
from collections.abc import Iterator, Mapping
from typing import Final

from specgen.assembly.full_names import full_name
from specgen.assembly.result import Absent, Place, State
from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, nearest_numbers, question
from specgen.diagnostics.suggest import quoted
from specgen.grouped import grouped
from specgen.messages import NOTHING, Message, Naming, Nothing, listed, say, say_many
from specgen.model import Definitions, expand, range_meant, ranged
from specgen.model import places as in_short

MOST_NAMED = 4
MOST_LABELS = 6
MOST_LINES = 5
_NUMBERS: Final = re.compile(r"\d+")
_WHILE: Final[Mapping[State, Message]] = {
    State.FILLED: say("there is no position {names} while {host} is filled"),
    State.EMPTY: say("there is no position {names} while {host} is empty"),
    State.UNUSABLE: say("there is no position {names} while {host} is unusable"),
    State.BLOCKED: say("there is no position {names} while {host} is blocked"),
    State.UNKNOWN: say("there is no position {names} while {host} is unknown"),
}
BRINGERS = frozenset({"riser", "backplane"})  # kinds that are there to bring positions


def unknown_positions(
    definitions: Definitions, places: Mapping[str, Place], absent: tuple[Absent, ...]
) -> Iterator[Finding]:
    """SG203, except for what the part that nobody defines might have brought."""
    groups: dict[str | Span, list[Absent]] = {}
    bringers: dict[str | Span, dict[str, None]] = {}
    bring = {name: _brought(definitions, place) for name, place in places.items() if absent}
    for entry in absent:
        key: str | Span = entry.span
        found: dict[str, None] = {}
        for place in places.values():
            brought = bring[place.name].get(entry.name, ())
            own = entry.name.startswith(f"{place.name}.")
            if (brought or own) and place.state is State.UNKNOWN:
                break
            if (brought or own) and place.part is None:
                key = place.name
            found |= dict.fromkeys(brought)
        else:
            if not found and _may_be_brought(places):
                continue
            groups.setdefault(key, []).append(entry)
            bringers.setdefault(key, {}).update(found)
    for key, entries in _of_one_name(groups).items():
        host = places[key] if isinstance(key, str) else None
        yield _unknown_position(places, host, entries, tuple(bringers[key]))


def _of_one_name(groups: Mapping[str | Span, list[Absent]]) -> dict[str | Span, list[Absent]]:
    """Many lines whose names differ in their numbers alone are one mistake: that of the word."""
    stems = grouped(
        (_NUMBERS.sub("", entries[0].name), key)
        for key, entries in groups.items()
        if isinstance(key, Span)
    )
    first = {key: keys[0] for keys in stems.values() if len(keys) > MOST_LINES for key in keys}
    found: dict[str | Span, list[Absent]] = {}
    for key, entries in groups.items():
        found.setdefault(first.get(key, key) if isinstance(key, Span) else key, []).extend(entries)
    return found


def _may_be_brought(places: Mapping[str, Place]) -> bool:
    """Whether parts that nobody defines sit where the bringers of slots and bays go."""
    return any(
        place.state is State.UNKNOWN and not BRINGERS.isdisjoint(place.position.takes)
        for place in places.values()
    )


def _brought(definitions: Definitions, place: Place) -> Mapping[str, dict[str, None]]:
    """The positions that parts would bring if they were fitted here, each with these parts."""
    found: dict[str, dict[str, None]] = {}
    for part in definitions.parts.values():
        if part.brings.positions and part.kind in place.position.takes:
            for position in part.brings.positions:
                for each in expand(position.name):
                    name = full_name(each, place.name, place.position.offset)
                    found.setdefault(name, {})[part.id] = None
    return found


def _unknown_position(
    places: Mapping[str, Place],
    host: Place | None,
    entries: list[Absent],
    bringers: tuple[str, ...],
) -> Finding:
    absent = tuple(entry.name for entry in entries)
    names = in_short(absent)
    if sum(1 for _ in ranged(absent)) > MOST_LINES:
        first = say("{first} and {number} more", first=absent[0], number=len(absent) - 1)
        names = Naming(first, absent)
    lines = tuple(dict.fromkeys(entry.piece for entry in entries))
    labels = [Label(span, say("as well")) for span in lines[1:MOST_LABELS]]
    message = say("there is no position {names} with this choice of parts", names=names)
    help_: Message | Nothing = NOTHING
    notes: tuple[Message, ...] = ()
    if host is not None:
        message = _WHILE[host.state].filled(names=names, host=host.name)
        labels.append(Label(host.at, say("nothing is fitted here")))
    written = range_meant(entries[0].name)
    close = did_you_mean(entries[0].name, list(places)) if not bringers else ()
    alike = nearest_numbers(entries[0].name, places, most=len(places))
    if bringers:
        more = ("…",) if bringers[MOST_NAMED:] else ()
        known = listed((*quoted(bringers[:MOST_NAMED]).items, *more))
        notes = (say("{names} comes with {known}", names=names, known=known),)
        help_ = say("fit the part that brings it, or choose another position")
    elif written:
        help_ = say("a range is written `{range}`", range=written)
    elif close:
        help_ = question(close[:1])
    elif alike:
        help_ = there_are(alike)
    return Finding(
        codes.UNKNOWN_POSITION,
        message,
        Label(lines[0], say("nothing brings it")),
        labels=tuple(labels),
        notes=notes,
        help=help_,
    )


def there_are(names: tuple[str, ...]) -> Message:
    """The names that there are, for whoever wrote another."""
    return say_many(
        len(names), "there is {names}", "there are {names}", names=in_short(tuple(names))
    )
