"""A walk round a machine by the numbers on its pictures: what is where, what to say of it."""

import re
from collections.abc import Iterator, Mapping
from typing import Final

from specgen.assembly import Place
from specgen.document.blocks.cells import (
    NONE,
    column,
    joined,
    part_cell,
    phrase,
    sentence,
    short_head,
    spoken,
    table,
)
from specgen.document.case import Case
from specgen.document.pictures import callouts
from specgen.document.tree import Cell, Figure, Strong, Table, Text, words
from specgen.drawings import Callout, Use
from specgen.model import EnergyPack

SIDES: Final = ("front", "rear", "inside")
SAY: Final[Mapping[str, tuple[str, ...]]] = {
    "processor": (
        "{processors.cores} cores and {processors.threads} threads",
        "up to {processors.boost_clock}, {processors.tdp} of heat by design in all",
    ),
    "memory-module": (
        "{memory.capacity} at {memory.speed}",
        "{memory.bandwidth} peak over {memory.channels_used} of {memory.channels} channels",
        "the speed is set by {memory.speed_set_by}",
    ),
    "drive": (
        "drives in all: {storage.drives}, {storage.raw} raw",
        "{storage.usable} usable in volumes",
        "changed while the machine runs: {storage.hot_swap} of them",
    ),
    "power-supply": (
        "supplies: {power.supplies}, each of {power.supply_output} at {conditions.line}",
        "the machine draws {power.typical} at typical work and {power.maximum} at most",
        "supplies that may fail at maximum power: {power.failures_survived}",
    ),
    "fan": (
        "fans: {cooling.fans}, moving {cooling.airflow} of air",
        "{cooling.airflow_left} are left after one has failed",
        "{cooling.airflow_needed} are needed for a rise of {cooling.rise}",
    ),
    "network-adapter": ("Ethernet ports: {network.ports}, {network.line_rate} in all",),
    "management-controller": (
        "ports for management alone: {network.management_ports}, {network.management_speed}",
    ),
    "cable-arm": ("with cables the machine needs a depth of {mechanics.depth_needed}",),
}
"""What to say of what is fitted, by kind; a sentence without its figures is left out."""
SAY_OF_PLACE: Final = (
    "runs at {expansion.HERE.running}, {expansion.HERE.running_bandwidth} one way",
    "narrowed by {expansion.HERE.narrowed_by}",
)
SAY_OF_EMPTY: Final[Mapping[str, tuple[str, ...]]] = {
    "drive": ("{storage.bays_filled} of {storage.bays} bays hold a drive",),
    "memory-module": ("{memory.modules} of {memory.slots} slots hold a module",),
    "power-supply": ("supplies fitted: {power.supplies}",),
}
COLD: Final = "Power off before it is taken out."
WARN: Final[Mapping[str, str]] = {
    "power-supply": "Mains voltage inside: never open it. Disconnect every cord before service.",
    "power-cord": "Pull at the plug, never at the cable.",
    "fan": "Keep fingers, hair and cords away while it turns.",
    "processor": "Hot during work and for minutes after. Wear a wrist strap.",
    "heat-sink": "Hot during work and for minutes after.",
    "accelerator": "Hot during work and for minutes after. Heavy: hold it at both ends.",
    "memory-module": "Power off, wait for it to cool, wear a wrist strap.",
    "riser": "Power off and disconnect the cords before it is lifted out.",
    "storage-controller": "Power off before it is taken out; a cache may hold data.",
    "boot-module": "Power off before it is taken out.",
}
FIBRE: Final = "Never look into a fibre port or a fibre's end."
LITHIUM: Final = "Lithium cells: do not open, short, heat or burn it."
_COUNTED = re.compile(r"(?P<count>\d+) × ")
_FIRST = re.compile(r"(?P<name>.+?\d+) to \d+")


def place_of(case: Case, callout: Callout) -> Place | None:
    """The first position that a number points at; None for what is built in."""
    name = callout.position.split(", ")[0]
    ranged = _FIRST.fullmatch(name)
    return case.assembly.places.get(ranged["name"] if ranged else name)


def numbers(case: Case, side: str) -> Table | None:
    """What the numbers of a picture point at, and what those positions take."""
    rows: list[tuple[Cell, ...]] = []
    for callout in callouts(case, side):
        place = place_of(case, callout)
        rows.append(
            (
                _number(side, callout),
                words(callout.position),
                _what(case, side, callout, place),
                words(_takes(case, place) if place is not None else "built in"),
            )
        )
    columns = (
        short_head("No."),
        column("Name"),
        column("In the picture"),
        column("What it takes"),
    )
    return table(f"Numbers: {side}", columns, rows, f"{side}-numbers")


def _number(side: str, callout: Callout) -> Cell:
    return (Figure(str(callout.number), "", f"callouts.{side}"),)


def _what(case: Case, side: str, callout: Callout, place: Place | None) -> Cell:
    """What a number points at: how many, the part's name, whether it can be changed running."""
    counted = _COUNTED.match(callout.what)
    many: Cell = ()
    text = callout.what
    if counted is not None:
        many = (Figure(counted["count"], "", f"callouts.{side}"), Text(" × "))
        text = text[counted.end() :]
    part = case.definitions.parts.get(callout.part)
    if part is None or callout.use is not Use.USED:
        return (*many, *words(text if many else sentence(text)))
    swap = None if place is None else place.position.swap or getattr(place.part, "swap", None)
    return (*many, *part_cell(part), *words(f", {swap}-swap" if swap else ""))


def _takes(case: Case, place: Place) -> str:
    position = place.position
    titles = case.definitions.titles(position.takes)
    terms = [case.definitions.term(form) for form in position.form]
    told = [
        *(title if not at else title.lower() for at, title in enumerate(titles)),
        " or ".join(terms),
        {"low": "low profile", "full": "full height"}.get(position.height or "", ""),
        " or ".join(spoken(name) for name in position.interface),
        f"{position.swap}-swap" if position.swap else "",
    ]
    return ", ".join(filter(None, told))


def briefing(case: Case, side: str, said: set[str]) -> Table | None:
    """For each number of a picture: what to point at, what to say, what to warn of.

    `said` holds what was said before and grows, so that nothing is said twice.
    """
    rows: list[tuple[Cell, ...]] = []
    for callout in callouts(case, side):
        place = place_of(case, callout)
        sayings = _sayings(case, side, callout, place, said)
        say = joined([(*each, *words(".")) for each in sayings], between=" ")
        rows.append(
            (
                _number(side, callout),
                (Strong(words(callout.position)),),
                say or words(NONE),
                words(" ".join(_warnings(callout, place)) or NONE),
            )
        )
    columns = (short_head("No."), column("Point at"), column("Say"), column("Warn of"))
    return table(f"Round the machine: {side}", columns, rows, f"{side}-briefing")


def _sayings(
    case: Case, side: str, callout: Callout, place: Place | None, said: set[str]
) -> Iterator[Cell]:
    yield _what(case, side, callout, place)
    if place is None or callout.use is Use.UNUSABLE:
        return
    kind = place.part.kind if place.part is not None else next(iter(place.position.takes), "")
    patterns = SAY.get(kind, ()) if callout.use is Use.USED else SAY_OF_EMPTY.get(kind, ())
    if callout.use is Use.USED and f"expansion.{place.name}.running" in case.facts:
        own = (pattern.replace("HERE", place.name) for pattern in SAY_OF_PLACE)
        patterns = (*own, *patterns)
    for pattern in patterns:
        if pattern in said:
            continue
        cell = phrase(case.facts, pattern)
        if cell and "narrowed_by" in pattern and _unnarrowed(case, place):
            continue
        if cell:
            said.add(pattern)
            yield _capital(cell)


def _unnarrowed(case: Case, place: Place) -> bool:
    return case.facts.value(f"expansion.{place.name}.narrowed_by") == "nothing"


def _capital(cell: Cell) -> Cell:
    first = cell[0]
    text = getattr(first, "text", "")
    return (*words(sentence(text)), *cell[1:]) if text else cell


def _warnings(callout: Callout, place: Place | None) -> Iterator[str]:
    if place is None or callout.use is not Use.USED or place.part is None:
        return
    part = place.part
    if part.kind in WARN:
        yield WARN[part.kind]
    if isinstance(part, EnergyPack) and "lithium" in (part.chemistry or "").lower():
        yield LITHIUM
    swap = place.position.swap or getattr(part, "swap", None)
    if swap == "cold" and part.kind not in ("power-supply", "processor"):
        yield COLD
    if any(port.medium != "copper" for port in getattr(part, "ethernet", ())):
        yield FIBRE
