"""Power as a chart: load against what the supplies give, and where on their curve they work."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from specgen.assembly import Assembly
from specgen.drawings.boxes import clean
from specgen.drawings.lettering import letter
from specgen.drawings.shapes import Rect, Ring, Shape, Sheet, Stroke, TextAnchor, TextShape, nothing
from specgen.drawings.widths import LETTERS, width
from specgen.facts import Facts
from specgen.facts.calculators.subjects import SOME_FAILED, STATE_NAMES, WITHOUT_FEED
from specgen.frozen import frozen
from specgen.messages import YES, Message, Words, listed, say, say_many
from specgen.model import EfficiencyPoint, PowerSupply
from specgen.quantity import Power, Quantity, show

CASES: Final = {
    "idle": say("idle"),
    "typical": say("typical"),
    "maximum": say("maximum"),
    **{
        state: say_many(count, "after {number} failure", "after {number} failures")
        for state, count in SOME_FAILED.items()
    },
    "failure": say("after failures"),
    **{state: say("without feed {feed}", feed=feed) for state, feed in WITHOUT_FEED.items()},
}
"""States with their names as they stand beside a value."""
NAMES: Final = 112.0
BARS: Final = 320.0
ROW: Final = 34.0
TOP: Final = 42.0
CURVE: Final = (210.0, 132.0)  # breadth and height of the second chart
NAME_LINE: Final = 12.5  # between names under the curve
BETWEEN: Final = 56.0
STEPS: Final = (1, 2, 2.5, 5, 10)


@frozen
class _LoadCase:
    """One row: load at the supplies' output, what they draw, efficiency, share of one's output."""

    name: str
    short: Message
    load: Power
    drawn: Power | None
    efficiency: Quantity | Decimal | None
    share: Quantity | Decimal | None
    supplies: int | None


def power_chart(assembly: Assembly, facts: Facts) -> Sheet:
    """Bars of load and loss against lines of what is given; the curve with its points of load."""
    holder = assembly.build if assembly.build is not None else assembly.platform
    title = letter(say("Power: {holder}", holder=clean(holder.name)))
    cases = list(_cases(facts))
    if not cases:
        return nothing(
            title,
            letter(say("No power is known: no power supply is fitted, or parts declare no power.")),
        )
    lines = list(_lines(facts))
    most = max(
        *(_watts(case.drawn or case.load) for case in cases), *(at for at, _word in lines), 1.0
    )
    step = _step(most)
    scale = BARS / (step * -(-most // step))
    low = TOP + ROW * len(cases)
    shapes = [*_axis(step, scale, low, most), *_bars(cases, scale), *_limits(lines, scale, low)]
    shapes += _loads(cases, scale)
    end = low + 34
    shapes += _key(end)
    wide = NAMES + BARS + 10
    curve = _curve(assembly)
    if curve:
        shapes += _efficiency(curve, cases, wide + BETWEEN)
        wide += BETWEEN + CURVE[0] + 10
    return Sheet(title, tuple(_words(facts, cases)), wide, end + 8, tuple(shapes))


def _cases(facts: Facts) -> Iterator[_LoadCase]:
    for key, short in CASES.items():
        load = facts.value(f"power.{key}.load")
        if not isinstance(load, Power):
            continue
        drawn = facts.value(f"power.{key}.input")
        supplies = facts.value(f"power.{key}.supplies")
        if key == "failure" and supplies == facts.value("power.maximum.supplies"):
            continue  # no failure is asked to be survived
        yield _LoadCase(
            letter(STATE_NAMES[key]),
            short,
            load,
            drawn if isinstance(drawn, Power) else None,
            _ratio(facts, f"power.{key}.efficiency"),
            _ratio(facts, f"power.{key}.share"),
            supplies if isinstance(supplies, int) else None,
        )


def _ratio(facts: Facts, key: str) -> Quantity | Decimal | None:
    value = facts.value(key)
    return value if isinstance(value, Quantity | Decimal) else None


def _fraction(value: Quantity | Decimal | None) -> float | None:
    """A share as a number from 0 to 1."""
    if value is None:
        return None
    return float(value.in_unit("%")) / 100 if isinstance(value, Quantity) else float(value)


def _watts(power: Power) -> float:
    return float(power.in_unit("W"))


def _lines(facts: Facts) -> Iterator[tuple[float, str]]:
    """What the supplies give: all together, and after the failures to survive."""
    every, count = facts.value("power.installed"), facts.value("power.supplies")
    left = facts.value("power.available")
    if isinstance(left, Power):
        yield _watts(left), letter(_left_words(facts, left))
    if isinstance(every, Power) and count and (not isinstance(left, Power) or every > left):
        yield _watts(every), letter(say("{power}, all {count} PSUs", power=every, count=count))


def _left_words(facts: Facts, left: Power) -> Words:
    supplies, count = facts.value("power.failure.supplies"), facts.value("power.supplies")
    if isinstance(supplies, int) and isinstance(count, int) and supplies < count:
        some = say("{supplies} of {count} PSUs", supplies=supplies, count=count)
        return listed([show(left), some])
    return show(left)


def _step(most: float) -> float:
    """Between the numbers on the axis: four to eight of them."""
    size = 1.0
    while size * 10 <= most / 3:
        size *= 10
    return next((one * size for one in STEPS if most / (one * size) <= 6), 10 * size)


def _axis(step: float, scale: float, low: float, most: float) -> Iterator[Shape]:
    count = int(-(-most // step))
    for number in range(count + 1):
        x = NAMES + number * step * scale
        yield Stroke(((x, TOP - 4), (x, low)), "grid" if number else "axis")
        unit = "\u202fW" if number == count else ""
        yield TextShape(x, low + 12, f"{show(int(number * step))}{unit}", "mark", "middle")


def _bars(cases: Sequence[_LoadCase], scale: float) -> Iterator[Shape]:
    for number, case in enumerate(cases):
        y = TOP + number * ROW
        load = _watts(case.load) * scale
        yield Rect(
            NAMES,
            y + 3,
            load,
            16,
            "bar",
            letter(say("{case}: DC load {load}", case=case.name, load=case.load)),
        )
        if case.drawn is not None:
            far = _watts(case.drawn) * scale
            hint = letter(say("{case}: input {drawn}", case=case.name, drawn=case.drawn))
            yield Rect(NAMES + load, y + 3, max(0.0, far - load), 16, "unusable", hint)


def _loads(cases: Sequence[_LoadCase], scale: float) -> Iterator[Shape]:
    """What the bars are of, and the values beside them, on top of all lines."""
    for number, case in enumerate(cases):
        y = TOP + number * ROW
        far = _watts(case.drawn or case.load) * scale
        words = show(case.load)
        if case.drawn is not None:
            words = letter(say("{load}, input {drawn}", load=words, drawn=case.drawn))
        room = width(words, LETTERS) + 6
        x = NAMES + far + 5
        if x + room > NAMES + BARS:
            x = NAMES + BARS - room
            yield Rect(x - 3, y + 20, room + 3, 10, "plate")
            beside = [TextShape(x, y + 28, words, "label")]
        else:
            yield Rect(x - 3, y + 5, room + 3, 12, "plate")
            beside = [TextShape(x, y + 14, words, "label")]
        if case.supplies is not None:
            work = say_many(case.supplies, "{number} PSU in use", "{number} PSUs in use")
            beside.insert(0, TextShape(0, y + 22, letter(work), "small"))
        yield TextShape(0, y + 11, case.name, "name", continued=tuple(beside))


def _limits(lines: Sequence[tuple[float, str]], scale: float, low: float) -> Iterator[Shape]:
    for number, (watts, word) in enumerate(lines):
        x = NAMES + watts * scale
        y = 10.0 + 12 * (len(lines) - 1 - number)
        yield Stroke(((x, y + 3), (x, low)), "limit")
        anchor: TextAnchor = "end" if x > NAMES + BARS * 0.5 else "start"
        yield TextShape(x + (0 if anchor == "end" else 3), y, word, "name", anchor)


def _key(y: float) -> Iterator[Shape]:
    x = 0.0
    for pen, word in (
        ("bar", letter(say("DC load"))),
        ("unusable", letter(say("conversion losses"))),
    ):
        yield Rect(x, y - 7, 14, 8, pen)
        yield TextShape(x + 19, y, word, "small")
        x += 19 + width(word, LETTERS) + 16
    yield Stroke(((x, y - 3), (x + 18, y - 3)), "limit")
    yield TextShape(x + 23, y, letter(say("output of the power supplies")), "small")


def _curve(assembly: Assembly) -> tuple[EfficiencyPoint, ...]:
    """The curve of the first supply that declares one."""
    for _place, supply in assembly.fitted(PowerSupply):
        for points in (supply.curve, *(output.curve for output in supply.outputs)):
            if len(points) > 1:
                return tuple(sorted(points, key=lambda point: point.load))
    return ()


def _efficiency(
    curve: Sequence[EfficiencyPoint], cases: Sequence[_LoadCase], left: float
) -> Iterator[Shape]:
    """The declared curve, and a dot for each case at its load, named under the curve.

    The further to the right a dot is, the higher its name: no leader crosses another's.
    """
    wide, high = CURVE
    top = TOP
    dots = sorted(_dots(cases))
    values = [float(point.efficiency) for point in curve] + [dot[1] for dot in dots]
    under = (len(dots) + 1) * NAME_LINE / high  # of the height, for names
    least = min(int((min(values) - under) / (1 - under) * 20), 18) / 20

    def at(load: float, efficiency: float) -> tuple[float, float]:
        y = top + high - (efficiency - least) / (1 - least) * high
        return left + load * wide, y

    yield TextShape(left, 10, letter(say("Efficiency of a power supply")), "name")
    yield TextShape(left, 22, letter(say("against its load, as a share of its output")), "small")
    for number in range(5):
        x = left + wide * number / 4
        yield Stroke(((x, top), (x, top + high)), "grid" if number else "axis")
        yield TextShape(x, top + high + 12, f"{number * 25}\u202f%", "mark", "middle")
    steps = round((1 - least) * 20)
    for number in range(steps + 1):
        share = least + number / 20
        _x, y = at(0, share)
        yield Stroke(((left, y), (left + wide, y)), "grid" if number else "axis")
        yield TextShape(left - 4, y + 2.9, f"{round(share * 100)}\u202f%", "mark", "end")
    yield Stroke(tuple(at(float(point.load), float(point.efficiency)) for point in curve), "curve")
    low = top + high - 5
    for load, efficiency, words in dots:
        x, y = at(load, efficiency)
        yield Stroke(((x, y), (x, low)), "leader")
        yield Ring(x, y, 2.2, "dot")
        room = width(words, LETTERS)
        if x + 4 + room <= left + wide:
            yield Rect(x + 2, low - 8, room + 4, 11, "plate")
            yield TextShape(x + 4, low, words)
        else:
            yield Rect(x - 6 - room, low - 8, room + 4, 11, "plate")
            yield TextShape(x - 4, low, words, "label", "end")
        low -= NAME_LINE


def _dots(cases: Sequence[_LoadCase]) -> Iterator[tuple[float, float, str]]:
    """Share of a supply's output, efficiency and name of each case that has both."""
    for case in cases:
        load, efficiency = _fraction(case.share), _fraction(case.efficiency)
        if load is not None and efficiency is not None:
            words = say("{value} {case}", value=case.efficiency, case=case.short)
            yield min(load, 1.0), efficiency, letter(words)


def _words(facts: Facts, cases: Sequence[_LoadCase]) -> Iterator[str]:
    for case in cases:
        words = [letter(say("{case}: DC load {load}", case=case.name, load=case.load))]
        if case.drawn is not None:
            words.append(letter(say("input {drawn}", drawn=case.drawn)))
        if case.efficiency is not None:
            words.append(letter(say("efficiency {efficiency}", efficiency=case.efficiency)))
        if case.share is not None and case.supplies is not None:
            words.append(
                letter(
                    say(
                        "{supplies} in use, each at {share} of its output",
                        supplies=case.supplies,
                        share=case.share,
                    )
                )
            )
        yield letter(say("{sentence}.", sentence=listed(words)))
    limits = [word for _watts, word in _lines(facts)]
    if limits:
        yield letter(say("Power supplies provide: {given}.", given=listed(limits, "semicolon")))
    kept = facts.value("power.redundancy_kept")
    survived = facts.value("power.failures_tolerated")
    if kept is not None:
        wanted = facts.value("conditions.redundancy")
        words_ = say("Redundancy {wanted} is not kept", wanted=wanted)
        if kept == YES:
            words_ = say("Redundancy {wanted} is kept", wanted=wanted)
        if isinstance(survived, int):
            words_ = say(
                "{sentence}; power supplies that may fail at maximum load: {count}",
                sentence=words_,
                count=survived,
            )
        yield letter(say("{sentence}.", sentence=words_))
