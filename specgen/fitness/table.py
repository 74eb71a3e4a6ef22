"""Everything that a part must meet in its place, one row a requirement.

The checks, the help they give, the pages that offer parts and the domain of the solver all ask
this table: to add a requirement, add a row.
"""

from collections.abc import Callable
from dataclasses import replace
from operator import attrgetter
from typing import Any, Final

from specgen.assembly import Place
from specgen.assembly.resolve import covered
from specgen.diagnostics import Code, codes
from specgen.fitness.card_power import drawn_from_position, fed, slot_gives, with_cables
from specgen.fitness.comparisons import at_least, at_most, equal, one_of, shares, within
from specgen.fitness.cord_rows import CORDS
from specgen.fitness.part_fields import OLDER_FORMS, output_at, port_at, resources_of
from specgen.fitness.rack_rows import RACKS
from specgen.fitness.requirement import OfPosition, Requirement, Surroundings, related
from specgen.fitness.room import goes_into, measures_of, room_of
from specgen.messages import Message, say
from specgen.model import (
    ACTIVE,
    HEIGHTS,
    LENGTHS,
    Definitions,
    EthernetPort,
    LifeStatus,
    Part,
)

HEAT: Final = ("tdp", "power.maximum")
"""What a part gives off: what it is designed for, else all that it draws."""


def _position(name: str) -> OfPosition:
    return OfPosition(attrgetter(name))


def _trait(name: str, code: Code, suits: Callable[[Any, Any], bool], words: Message) -> Requirement:
    """A field of the part that must match the field of the same name in the position."""
    return Requirement(
        code=code,
        fields=(name,),
        wants=_position(name),
        suits=suits,
        goes_in=True,
        words=words,
        message=say("`{part}` does not go into {where}: it {words}"),
        at=say("{words}"),
        pointers=(
            (f"part.{name}", say("the part")),
            (f"position.{name}", say("the position")),
        ),
        help=say("{others} would go in"),
    )


def _port(place: Place, surroundings: Surroundings) -> EthernetPort | None:
    return port_at(surroundings.part_at(place.host), place.name)


def _cage(place: Place, surroundings: Surroundings) -> tuple[str, ...]:
    """The forms that go into a port's cage: those of the position, else by the connector."""
    port = _port(place, surroundings)
    if port is None or place.position.form:
        return place.position.form if port is not None else ()
    return (port.connector, *OLDER_FORMS.get(port.connector, ()))


def _rate(place: Place, surroundings: Surroundings) -> Any:
    port = _port(place, surroundings)
    return None if port is None else port.speed


def _known_kind(place: Place, part: Part, _: Surroundings) -> bool:
    """What only closes a position may be its own blank; an unknown kind is told where declared."""
    blank = part.closes and part.id == place.position.blank
    return not blank and not place.open_to_all


def _chosen(place: Place, part: Part, _: Surroundings) -> bool:
    """Whether the part is there because somebody chose it, rather than soldered in."""
    return part.id != place.position.fixed


def _lists_its_kind(place: Place, part: Part, surroundings: Surroundings) -> bool:
    """A platform's list speaks of the kinds of which it lists a part."""
    assembly = surroundings.assembly
    known = assembly.definitions.parts
    if any(name not in known for name in assembly.platform.lists):
        return False  # told where it is listed
    listed = (known[name].kind for name in assembly.platform.lists)
    return _chosen(place, part, surroundings) and part.kind in listed


def _loose(place: Place, _: Part, surroundings: Surroundings) -> bool:
    return _port(place, surroundings) is None


SOLDERED: Final = Requirement(
    code=codes.SOLDERED_REPLACED,
    fields=("id",),
    wants=_position("fixed"),
    suits=equal,
    goes_in=True,
    final=True,
    message=say("`{part}` cannot be fitted in {where}: `{wants}` is soldered in"),
    at=say("cannot be replaced"),
    pointers=(("position.fixed", say("soldered in here")),),
    help=say("delete the line; `{wants}` is there without it"),
    sure=True,
)

KIND: Final = Requirement(
    code=codes.WRONG_KIND,
    fields=("kind",),
    wants=_position("takes"),
    suits=one_of,
    applies=_known_kind,
    goes_in=True,
    final=True,
    message=say("`{part}` is of kind {has}, and {where} takes {wants}"),
    at=say("kind: {title}"),
    pointers=(
        ("position.takes", say("takes {wants}")),
        ("part.kind", say("the part")),
    ),
)

_FORM: Final = _trait(
    "form", codes.WRONG_CONNECTOR, one_of, say("has the form {has}; what goes in is {wants}")
)

MATCHING: Final = (
    _trait("socket", codes.WRONG_SOCKET, equal, say("is made for socket {has}, not for {wants}")),
    replace(_FORM, applies=_loose),
    replace(_FORM, code=codes.TRANSCEIVER_MISMATCH, wants=_cage),
    _trait("key", codes.WRONG_KEY, shares, say("is keyed {has}, and the position {wants}")),
    _trait(
        "interface", codes.WRONG_INTERFACE, one_of, say("speaks {has}, and the position {wants}")
    ),
    _trait(
        "height",
        codes.TOO_TALL,
        within(HEIGHTS),
        say("is {has} height, and there is room for {wants}"),
    ),
    _trait(
        "length",
        codes.TOO_LONG,
        within(LENGTHS),
        say("is {has} length, and there is room for {wants}"),
    ),
    _trait(
        "connector",
        codes.WRONG_CONNECTOR,
        at_most,
        say("has an edge of {has}, and the connector is {wants}"),
    ),
    _trait("swap", codes.WRONG_SWAP, equal, say("is {has}-swap, and the position {wants}-swap")),
)
"""Whether a part goes in: fields that a position may ask for and a part has under the same name."""


def _room(place: Place, surroundings: Surroundings) -> int | None:
    """The slot, and those that are declared to lie one beside the other from it on.

    None where one of them is brought by a part of which the system does not know yet.
    """
    places = surroundings.assembly.places
    beside = covered(place, MOST_WIDE, places.get)
    known = all(name in places for name in beside)
    return 1 + len(beside) if known or len(beside) == 0 else None


MOST_WIDE: Final = 32
"""Slots that are looked at beside one."""

WIDTH: Final = Requirement(
    code=codes.TOO_WIDE,
    fields=("places",),
    wants=_room,
    suits=at_most,
    goes_in=True,
    counts=True,
    words=say("covers {has} slots, and {wants} lie side by side from there on"),
    message=say("`{part}` does not go into {where}: it {words}"),
    at=say("{words}"),
    pointers=(
        ("part.places", say("the slots that it covers")),
        ("position.name", say("has no `neighbour`")),
    ),
    help=say("{others} would go in"),
)

ROOM: Final = Requirement(
    code=codes.TOO_LARGE,
    fields=("size",),
    measure=measures_of,
    wants=room_of,
    suits=goes_into,
    goes_in=True,
    words=say("measures {has} mm, and there is room for {wants} mm"),
    message=say("`{part}` does not go into {where}: it {words}"),
    at=say("{words}"),
    pointers=(
        ("part.size", say("the part")),
        ("position.outline", say("the room")),
    ),
    help=say("{others} would go in"),
)

LISTED: Final = Requirement(
    code=codes.NOT_LISTED,
    fields=("id",),
    wants=lambda _, surroundings: surroundings.assembly.platform.lists,
    suits=one_of,
    applies=_lists_its_kind,
    words=say("is not among the parts that the platform lists"),
    message=say("`{part}` in {where} is not among the parts that {platform} lists"),
    at=say("not listed"),
    pointers=(("platform.lists", say("the list")),),
    help=say("{others} is listed"),
)


def _life(code: Code, status: LifeStatus, words: Message) -> Requirement:
    """A status in which no part can be ordered on the project's date."""
    return Requirement(
        code=code,
        fields=("life",),
        measure=lambda part: None if part.life is ACTIVE else part.life,
        wants=lambda _, known: known.published,
        suits=lambda wants, _: not wants,
        applies=lambda place, part, known: (
            _chosen(place, part, known) and known.assembly.definitions.status(part) == status
        ),
        apart=True,
        words=words,
    )


LIFE: Final = _life(codes.DISCONTINUED_PART, "discontinued", say("is discontinued"))
PLANNED: Final = _life(codes.PLANNED_PART, "planned", say("is planned and cannot be ordered yet"))

SOCKET_POWER: Final = Requirement(
    code=codes.SOCKET_TDP,
    fields=HEAT,
    wants=_position("tdp"),
    suits=at_most,
    words=say("dissipates {has}, and the position takes {wants}"),
    message=say("`{part}` dissipates {has}, and {where} takes {wants}"),
    pointers=(
        ("position.tdp", say("the socket")),
        ("part.tdp", say("the {title}")),
    ),
)


def _misnamed(part: Part, definitions: Definitions) -> bool:
    """Whether a part needs a resource that nothing anywhere offers, which is told as an unmet
    need."""
    wanted = {need.resource for need in part.needs if need.resource is not None}
    return bool(wanted) and not wanted <= resources_of(definitions)


SLOT_POWER: Final = Requirement(
    code=codes.SLOT_POWER,
    fields=("power.maximum",),
    measure=drawn_from_position,
    wants=OfPosition(slot_gives),
    suits=at_most,
    applies=lambda _place, part, known: (
        fed(part) is None and not _misnamed(part, known.assembly.definitions)
    ),
    words=say("draws {has}, and the position gives {wants}"),
    message=say("`{part}` draws {has}, and {where} gives {wants}"),
    pointers=(
        ("position.power", say("the position")),
        ("part.power.maximum", say("the part")),
    ),
)

FED_POWER: Final = replace(
    SLOT_POWER,
    applies=lambda _place, part, _: fed(part) is not None,
    message=say(
        "`{part}` draws {has} more than its auxiliary connectors carry, and {where} itself gives "
        "{wants}"
    ),
    at=say("{has} beside its connectors"),
)

CABLED_POWER: Final = replace(
    SLOT_POWER,
    measure=None,
    wants=OfPosition(with_cables),
    applies=lambda _place, part, _: fed(part) is not None,
    message=say("`{part}` draws {has}, and {where} is rated for {wants} with its cables"),
)

PORT_SPEED: Final = Requirement(
    code=codes.TRANSCEIVER_MISMATCH,
    fields=("speed",),
    wants=_rate,
    suits=at_most,
    words=say("runs at {has}, and the port at {wants}"),
    message=say("`{part}` does not suit {where}: it {words}"),
    at=say("it {words}"),
    pointers=(("part.speed", say("the module")),),
)

LINE_VOLTAGE: Final = Requirement(
    code=codes.LINE_VOLTAGE,
    fields=("outputs",),
    wants=lambda _, surroundings: surroundings.assembly.conditions.supply_line,
    suits=lambda line, outputs: output_at(outputs, line) is not None,
    apart=True,
    words=say("is not rated at a line of {wants}"),
)

INLET_LIMIT: Final = Requirement(
    code=codes.INLET_TOO_WARM,
    fields=("inlet_limit",),
    wants=lambda _, surroundings: surroundings.assembly.conditions.inlet,
    suits=at_least,
    applies=lambda _place, part, _: not part.closes,
    apart=True,
    words=say("is rated for inlet air of up to {has}, and {wants} is stated"),
)

HEAT_SINK: Final = Requirement(
    code=codes.HEATSINK_TDP,
    fields=("tdp_limit",),
    relation="cools",
    wants=related("cools", *HEAT),
    suits=at_least,
    message=say("`{part}` in {where} is rated for {has}, and `{other}` dissipates {wants}"),
    at=say("up to {has}"),
    pointers=(("place", say("{wants}")), ("part.tdp_limit", say("rated for {has}"))),
    help=say("{others} is rated for enough"),
    nearest=True,
    statement=say("a heat sink suits the processor below it"),
)

TECHNOLOGY: Final = Requirement(
    code=codes.WRONG_INTERFACE,
    fields=("technology",),
    relation="of",
    wants=related("of", "memory_technology"),
    suits=equal,
    message=say("`{part}` in {where} is {has}, and `{other}` drives {wants}"),
    pointers=(("other.memory_technology", say("the processor")),),
    statement=say("memory is of the technology that its processor drives"),
)

REQUIREMENTS: Final = (
    SOLDERED,
    KIND,
    *MATCHING,
    WIDTH,
    ROOM,
    LISTED,
    LIFE,
    PLANNED,
    SOCKET_POWER,
    SLOT_POWER,
    FED_POWER,
    CABLED_POWER,
    PORT_SPEED,
    LINE_VOLTAGE,
    *CORDS,
    INLET_LIMIT,
    *RACKS,
    HEAT_SINK,
    TECHNOLOGY,
)
"""Every requirement; those that say whether a part goes in come first."""
