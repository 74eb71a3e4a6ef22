"""Values that a position, or a power connector, does not state, and that all of its name do.

A slot of memory without its channel, a cord that lies nowhere in the rear view, a connector whose
cable reaches any slot: mostly a word that was forgotten. Positions are of one name that have the
word of their name and what they take in common, whatever platform or part brings them.
"""

from collections.abc import Iterator
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes
from specgen.grouped import grouped
from specgen.messages import say
from specgen.model import Definitions, Origin, Part
from specgen.model.pedigree import FieldPath
from specgen.rules.definitions.contradicting.contradiction import expanded
from specgen.rules.definitions.doubtful.unstated import ENOUGH
from specgen.rules.definitions.named.mistaken_words import positions_of

ASKED: Final = ("area", "channel", "of", "from_", "key", "socket", "interface")
"""Fields that are a value of every such position or of none."""

UNSAID: Final[tuple[Any, ...]] = (None, "", (), "inside")
"""What stands in the fields that are left out."""

_Entry = tuple[Origin, FieldPath, Any]


def unstated_places(definitions: Definitions) -> Iterator[Finding]:
    """SG226 for what one position or connector lacks and at least four, all others alike, have.

    Not where no position of its platform has it. A step for each position and field.
    """
    groups: dict[tuple[Any, ...], list[_Entry]] = {}
    for entry in positions_of(definitions):
        position = entry[2]
        key = (position.takes, position.name.partition(" ")[0].rstrip("0123456789."))
        groups.setdefault(key, []).append(entry)
    for group in groups.values():
        for name in ASKED:
            yield from _alone(group, name, definitions)
    yield from _alone(list(_connectors(definitions)), "reaches", definitions)
    for part in definitions.parts.values():
        if part.brings.connectors:
            yield from _left_out(part)


def _connectors(definitions: Definitions) -> Iterator[_Entry]:
    """Those of parts: what is on a board reaches what the board says."""
    for part in definitions.parts.values():
        for at, connector in enumerate(part.brings.connectors):
            yield part.origin, ("brings", "connectors", at), connector


def _left_out(part: Part) -> Iterator[Finding]:
    """SG130 for a slot that no cable of a resource reaches, though one reaches a slot like it."""
    alike = {
        name: (position.takes, position.form, position.power, position.height, position.length)
        for position in part.brings.positions
        for name in expanded(position.name)
    }
    by_resource = grouped(
        (each.resource, (at, each)) for at, each in enumerate(part.brings.connectors)
    )
    for connectors in by_resource.values():
        if not all(each.reaches for _, each in connectors):
            continue
        reached = [n for _, each in connectors for text in each.reaches for n in expanded(text)]
        for name, sort in alike.items():
            like = next((each for each in reached if alike.get(each) == sort), None)
            if name not in reached and like is not None:
                at, _ = connectors[0]
                yield Finding(
                    codes.DOUBTFUL_VALUE,
                    say("`{name}` leaves {slot} out, which is like {other}",
                        name="reaches", slot=name, other=like),
                    Label(part.origin.at("brings", "connectors", at, "reaches")),
                    help=say("name all slots that a cable reaches"),
                )  # fmt: skip


def _alone(group: list[_Entry], name: str, definitions: Definitions) -> Iterator[Finding]:
    lacking = [entry for entry in group if getattr(entry[2], name) in UNSAID]
    if len(lacking) != 1 or len(group) <= ENOUGH:
        return
    word = name.rstrip("_")
    ((origin, path, entry),) = lacking
    if _does_without(definitions, origin, name):
        return
    stating = {o.at(*p, word): o.at(*p, word) for o, p, each in group if each is not entry}
    if len(stating) >= ENOUGH and not origin.marked(*path):
        yield Finding(
            codes.UNSTATED,
            say("{name} states no `{field}`", name=entry.name, field=word),
            Label(origin.at(*path, "name"), say("here it is missing")),
            labels=(Label(next(iter(stating)), say("as here")),),
            notes=(say("all others of this name state it"),),
            help=say("write it here as well, or name the position otherwise"),
        )


def _does_without(definitions: Definitions, origin: Origin, name: str) -> bool:
    """Whether none of the positions of a platform states a field: it is described without."""
    return any(
        platform.origin is origin and all(getattr(e, name) in UNSAID for e in platform.positions)
        for platform in definitions.platforms.values()
    )
