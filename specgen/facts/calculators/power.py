"""DC load at the output of the power supplies, by subsystem and in all."""

from collections.abc import Callable
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.facts.calculators.subjects import SUBSYSTEM
from specgen.facts.fact import Declared, PartId, Rests, Trail
from specgen.facts.fact_inputs import FactsOfAll
from specgen.facts.inputs import Each, Inspected, every, fields_of, labelled, leaf
from specgen.facts.registry import Calculators
from specgen.messages import Words, say
from specgen.model import DrawsPower, Part, PowerSupply
from specgen.quantity import Power

fact = Calculators()

WATT = Power.of(0, "W")


def _silent(level: str) -> Callable[[Assembly, str], tuple[int, Trail]]:
    """How many parts declare a draw but not this level of it: a sum without them is none."""

    def look(assembly: Assembly, _: str) -> tuple[int, Trail]:
        trail = [
            leaf(place, part, ("power", level), None)
            for place, part in assembly.fitted(Part)
            if part.power is not None
            and getattr(part.power, level) is None
            and not isinstance(part, PowerSupply)
        ]
        board = assembly.platform
        if board.power is not None and getattr(board.power, level) is None:
            at = partial(board.origin.place, "power")
            trail.append(Declared(labelled(board, ("power", level)), None, at, board.source))
        return len(trail), tuple(trail)

    return look


def _told(assembly: Assembly, subsystem: str) -> tuple[bool | None, Trail]:
    """Whether anything says what it draws, in a subsystem or in all; None where nothing does of
    what surely draws power: their sum is not known then, it is not nothing."""
    board, of_board = assembly.platform, subsystem in ("", "board")
    if of_board and board.power is not None:
        return True, ()
    silent: list[Declared] = []
    for place, part in assembly.fitted(Part):
        if subsystem not in ("", part.subsystem) or isinstance(part, PowerSupply):
            continue
        if part.power is not None:
            return True, ()
        if isinstance(part, DrawsPower):
            silent.append(leaf(place, part, ("power",), None))
    if of_board:
        at = partial(board.origin.place, "power")
        silent.append(Declared(labelled(board, ("power",)), None, at, board.source))
    return (None if silent else False), tuple(silent)


def _in_all(level: str, label: Words, short: Words, what: Words) -> None:
    def total(parts: tuple[Power, ...], silent: int, told: bool) -> Power | None:
        return WATT.with_all(parts).to("W") if told and not silent else None

    template = f"power.{{subsystem}}.{level}"
    fact(
        f"power.{level}",
        label,
        noun=f"{level} DC load",
        short=short,
        formula=say("sum over subsystems; {what}", what=what),
        parts=FactsOfAll(template),
        silent=Inspected(_silent(level)),
        told=Inspected(_told),
    )(total)


_in_all("idle", say("DC load, idle"), say("Idle"), say("switched on and without work"))
_in_all("typical", say("DC load, typical"), say("Typical"), say("a usual mix of work"))
_in_all(
    "maximum",
    say("DC load, maximum"),
    say("Maximum"),
    say("every part at its maximum at the same moment"),
)


@fact.seen(
    "power.undeclared",
    say("Not in the sums, no power declared"),
    noun="number of parts without a declared power",
    formula=say("parts that surely draw power and do not say how much; sums leave them out"),
)
def undeclared(assembly: Assembly, _: str) -> tuple[tuple[PartId, ...], Rests]:
    found = [each for each in assembly.fitted(DrawsPower) if each[1].power is None]
    ids = tuple(PartId(id_) for id_ in dict.fromkeys(part.id for _, part in found))
    return ids, fields_of(found, "power")[1]


def _of_subsystem(_: Place, part: Part) -> str | None:
    return None if isinstance(part, PowerSupply) else part.subsystem


def _draw(level: str) -> Each:
    return every(Part, "power", level, when=_of_subsystem)


def _board(level: str) -> Inspected:
    def look(assembly: Assembly, subsystem: str) -> tuple[Power | None, Trail]:
        board = assembly.platform.power
        if subsystem != "board" or board is None:
            return WATT, ()
        value = getattr(board, level)
        at = Declared(
            labelled(assembly.platform, ("power", level)),
            value,
            lambda: assembly.platform.origin.place("power", level),
            assembly.platform.source,
        )
        return value, (at,)

    return Inspected(look)


def _sum(parts: tuple[Power, ...], board: Power, told: bool) -> Power:
    return board.with_all(parts).to("W") if told else WATT


def _by_subsystem(level: str, label: Words, short: Words) -> None:
    fact(
        f"power.{{subsystem}}.{level}",
        label,
        noun=f"{level} DC load",
        short=short,
        formula=say("sum over the parts of the subsystem, at the output of the power supplies"),
        over=SUBSYSTEM,
        parts=_draw(level),
        board=_board(level),
        told=Inspected(_told),
    )(_sum)


_by_subsystem("idle", say("DC load, idle"), say("Idle"))
_by_subsystem("typical", say("DC load, typical"), say("Typical"))
_by_subsystem("maximum", say("DC load, maximum"), say("Maximum"))
