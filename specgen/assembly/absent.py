"""Positions that a build fills and that are not there: one finding for each cause."""

from collections.abc import Iterator, Mapping
from typing import Final

from specgen.assembly.full_names import full_name
from specgen.assembly.result import Absent, Place, State
from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, nearest_numbers, question
from specgen.diagnostics.suggest import quoted
from specgen.messages import NOTHING, Message, Nothing, listed, say, say_many
from specgen.model import Definitions, Part, expand, range_meant
from specgen.model import places as in_short

MOST_NAMED = 4
MOST_LABELS = 6
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
    for entry in absent:
        key: str | Span = entry.span
        found: dict[str, None] = {}
        for place in places.values():
            brought = [part.id for part in _bringers(definitions, place, entry.name)]
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
    for key, entries in groups.items():
        host = places[key] if isinstance(key, str) else None
        yield _unknown_position(places, host, entries, tuple(bringers[key]))


def _may_be_brought(places: Mapping[str, Place]) -> bool:
    """Whether parts that nobody defines sit where the bringers of slots and bays go."""
    return any(
        place.state is State.UNKNOWN and not BRINGERS.isdisjoint(place.position.takes)
        for place in places.values()
    )


def _bringers(definitions: Definitions, place: Place, name: str) -> Iterator[Part]:
    """Parts that would bring a position of this name if they were fitted here."""
    offset = place.position.offset
    for part in definitions.parts.values():
        if part.brings.positions and part.kind in place.position.takes:
            for position in part.brings.positions:
                if any(
                    full_name(each, place.name, offset) == name for each in expand(position.name)
                ):
                    yield part
                    break


def _unknown_position(
    places: Mapping[str, Place],
    host: Place | None,
    entries: list[Absent],
    bringers: tuple[str, ...],
) -> Finding:
    names = in_short(tuple(entry.name for entry in entries))
    lines = tuple(dict.fromkeys(entry.span for entry in entries))
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
