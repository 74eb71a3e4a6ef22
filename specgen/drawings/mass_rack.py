"""A system in its rack to scale, from the front and from the side."""

from collections.abc import Iterator
from typing import Final

from specgen.assembly import Assembly
from specgen.drawings.boxes import clean
from specgen.drawings.lettering import letter
from specgen.drawings.shapes import Rect, Shape, Sheet, Stroke, TextShape, nothing
from specgen.drawings.sizes import RACK_OPENING, RACK_UNIT, RACK_WIDTH
from specgen.drawings.widths import LETTERS, width
from specgen.facts import Facts
from specgen.fitness.frames import mm
from specgen.frozen import frozen
from specgen.messages import Message, Words, say, say_many
from specgen.quantity import Length, Mass

SCALE: Final = 0.12  # points for a millimetre, the same for every system
UNITS: Final = 42  # of the rack drawn where none is stated. common practice, no source
SIDE: Final = say("From the side, front on the left")
POST: Final = (RACK_WIDTH - RACK_OPENING) / 2
HEAD: Final = 30.0
MEASURES: Final = 48.0  # above the system from the side, for how deep it is and how much it needs
GAP: Final = 40.0


@frozen
class _Rack:
    """What is drawn: systems of so many units, as many as conditions ask for, in a rack."""

    units: int
    count: int
    wanted: int
    """Units of the rack as conditions state it, else of a usual one."""
    tall: int
    """Units drawn: no fewer than the systems take."""
    asked: bool

    @property
    def height(self) -> float:
        return self.tall * RACK_UNIT * SCALE


def mass_rack(assembly: Assembly, facts: Facts) -> Sheet:
    """The rack from the front, the system in it from the side; the text has the values of mass."""
    holder = assembly.build if assembly.build is not None else assembly.platform
    title = letter(say("In the rack: {holder}", holder=clean(holder.name)))
    size = assembly.platform.size
    if mm(size.depth) <= 0:
        return nothing(title, letter(say("The platform gives no depth.")))
    asked = assembly.conditions.per_rack
    units = assembly.platform.rack_units
    count = asked or 1
    wanted = assembly.conditions.rack_units or UNITS
    rack = _Rack(units, count, wanted, max(wanted, count * units), asked is not None)
    front = RACK_WIDTH * SCALE + 16
    depth = assembly.conditions.rack_depth
    needed = facts.value("mechanics.depth_needed")
    far = max(mm(size.depth), mm(depth), mm(needed) if isinstance(needed, Length) else 0.0)
    shapes = [*_front(assembly, rack)]
    left = front + GAP
    shapes += _side(assembly, rack, left, needed if isinstance(needed, Length) else None)
    low = HEAD + rack.height + 22
    wide = left + max(far * SCALE, width(letter(SIDE), LETTERS, bold=True))
    bar = 500 * SCALE
    shapes += [
        Stroke(((0, low - 2.5), (0, low), (bar, low), (bar, low - 2.5)), "scale"),
        Rect(0, low - 2.5, bar / 2, 2.5, "dot"),
        TextShape(bar + 5, low + 0.5, "500\u202fmm", "small"),
    ]
    text = tuple(
        letter(say("{label}: {value}.", label=label, value=value))
        for label, value in _words(assembly, facts, rack)
    )
    return Sheet(title, text, wide, low + 6, tuple(shapes))


def _front(assembly: Assembly, rack: _Rack) -> Iterator[Shape]:
    """The rack from the front: posts, numbers of units, systems from the bottom up."""
    yield TextShape(0, 10, letter(say("From the front")), "name")
    wide, post = RACK_WIDTH * SCALE, POST * SCALE
    left = 16.0
    for x in (left, left + wide - post):
        yield Rect(x, HEAD, post, rack.height, "case")
    yield Stroke(((left, HEAD), (left + wide, HEAD)), "axis")
    unit = RACK_UNIT * SCALE
    for number in range(1, rack.tall + 1):
        y = HEAD + rack.height - number * unit
        if number == 1 or number % 5 == 0 or number == rack.tall:
            yield TextShape(left - 4, y + unit / 2 + 2.2, str(number), "small", "end")
    name = clean(assembly.platform.name)
    broad = min(mm(assembly.platform.size.width), RACK_WIDTH) * SCALE
    for at in range(rack.count):
        y = HEAD + rack.height - (at + 1) * rack.units * unit
        middle = left + (wide - broad) / 2
        hint = letter(say("server {number} of {count}", number=at + 1, count=rack.count))
        yield Rect(middle, y + 0.6, broad, rack.units * unit - 1.2, "used", hint, round=0.8)
    y = HEAD + rack.height - rack.units * unit / 2
    if rack.units * unit > LETTERS + 2:
        yield TextShape(left + wide / 2, y + 3.2, name, "label", "middle")


def _side(assembly: Assembly, rack: _Rack, left: float, needed: Length | None) -> Iterator[Shape]:
    """The rack from the left side with one system in its lowest place."""
    body = mm(assembly.platform.size.depth) * SCALE
    clear = mm(assembly.conditions.rack_depth) * SCALE
    unit = RACK_UNIT * SCALE
    shown = rack.units * unit + MEASURES
    top = HEAD + rack.height - shown
    yield TextShape(left, top - 28, letter(SIDE), "name")
    if clear:
        yield Rect(left, top, clear, shown, "case")
    y = HEAD + rack.height - rack.units * unit
    if needed is not None and mm(needed) * SCALE > body:
        spare = mm(needed) * SCALE - body
        words = letter(say("room for cables, or what a cable arm adds"))
        yield Rect(left + body, y + 0.6, spare, rack.units * unit - 1.2, "unusable", words)
    yield Rect(left, y + 0.6, body, rack.units * unit - 1.2, "used", round=0.8)
    line = y - 12
    size = assembly.platform.size
    yield from _measure(left, left + body, line, letter(say("{depth} server", depth=size.depth)))
    if needed is not None:
        line -= 20
        yield from _measure(
            left, left + mm(needed) * SCALE, line, letter(say("{needed} needed", needed=needed))
        )
    depth = assembly.conditions.rack_depth
    if depth is not None:
        yield from _measure(
            left, left + clear, top - 8, letter(say("{depth} clear in the rack", depth=depth))
        )


def _measure(left: float, right: float, y: float, words: str) -> Iterator[Shape]:
    yield Stroke(((left, y - 2.5), (left, y + 2.5)), "axis")
    yield Stroke(((right, y - 2.5), (right, y + 2.5)), "axis")
    yield Stroke(((left, y), (right, y)), "leader")
    yield TextShape(left + 3, y - 3, words, "label")


def _words(assembly: Assembly, facts: Facts, rack: _Rack) -> Iterator[tuple[str, str]]:
    """Labels and values: the system, its mass and lifting, the rack full of them."""
    units = assembly.platform.rack_units
    for label, value in (*_of_machine(assembly, facts), *_of_rack(facts, rack, units)):
        yield letter(label), letter(value)


def _of_machine(assembly: Assembly, facts: Facts) -> Iterator[tuple[Words, Message]]:
    yield from _valued(facts, "mechanics.rack_units")
    mass = facts.value("mechanics.mass")
    if isinstance(mass, Mass):
        unweighed = facts.value("mechanics.unweighed")
        words = say("{mass}", mass=mass)
        if isinstance(unweighed, int) and unweighed:
            words = say_many(
                unweighed,
                "{mass}; {number} part declares none",
                "{mass}; {number} parts declare none",
                mass=mass,
            )
        yield facts["mechanics.mass"].label, words
    yield from _valued(facts, "mechanics.lifting", "mechanics.depth", "mechanics.depth_needed")
    depth = assembly.conditions.rack_depth
    if depth is not None:
        yield say("Clear depth of the rack"), say("{depth}", depth=depth)
    yield from _valued(facts, "mechanics.depth_spare", "mechanics.fits_rack")


def _of_rack(facts: Facts, rack: _Rack, units: int) -> Iterator[tuple[Words, Message]]:
    if not rack.asked:
        yield (
            say("In a rack"),
            say("drawn alone: no number of servers in a rack is stated"),
        )
        return
    taken = rack.count * units
    yield (
        say("In a rack"),
        say(
            "{servers}, {units}",
            servers=say_many(rack.count, "{number} server", "{number} servers"),
            units=say_many(taken, "{number} rack unit", "{number} rack units"),
        ),
    )
    yield from _valued(facts, "mechanics.rack_mass", "mechanics.floor_load", "power.rack_input")
    if taken > rack.wanted:
        drawn = say(
            "drawn with {tall} units; one of {units} does not hold them",
            tall=rack.tall,
            units=rack.wanted,
        )
    else:
        drawn = say("drawn with {units} units; loaded from the bottom", units=rack.wanted)
    yield say("Rack"), drawn


def _valued(facts: Facts, *keys: str) -> Iterator[tuple[Words, Message]]:
    """Facts that have a value, each under its label."""
    for key in keys:
        value = facts.value(key)
        if value is not None:
            yield facts[key].label, say("{value}", value=value)
