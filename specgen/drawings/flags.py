"""Numbered flags on poles: what a callout looks like, and where flags go so that none overlap."""

from collections.abc import Iterable, Sequence
from typing import Final

from specgen.drawings.shapes import Callout, Rect, Ring, Shape, Stroke, TextShape
from specgen.drawings.widths import LETTERS, width, wrapped

FLAG: Final = (18.5, 12.0)  # breadth and height, points
NOTCH: Final = 3.0
GAP: Final = 5.0  # between flags
RISE: Final = 26.0  # from the panel's edge to the foot of a flag
LINE: Final = 11.5  # of the list
COLUMN_GAP: Final = 18.0


def spread(wanted: Sequence[float], pitch: float, least: float, most: float) -> list[float]:
    """Places as near to those wanted as can be, in the same order, `pitch` apart or more.

    They lie from `least` to `most` where there is room for all, else they stick out on both sides
    alike. The answer is that of least squares: neighbours that would overlap share their mean.
    """
    if not wanted:
        return []
    order = sorted(range(len(wanted)), key=lambda at: (wanted[at], at))
    room = pitch * (len(wanted) - 1)
    if room > most - least:
        middle = (least + most) / 2
        least, most = middle - room / 2, middle + room / 2
    clusters: list[tuple[float, int]] = []  # mean of what its members want of its start, members
    for rank, at in enumerate(order):
        mean, count = wanted[at] - rank * pitch, 1
        while clusters and clusters[-1][0] > mean:
            other, members = clusters.pop()
            mean = (mean * count + other * members) / (count + members)
            count += members
        clusters.append((mean, count))
    made = [0.0] * len(wanted)
    rank = 0
    for mean, count in clusters:
        start = min(max(mean, least), most - room)
        for _ in range(count):
            made[order[rank]] = start + rank * pitch
            rank += 1
    return made


def flag(x: float, y: float, number: int, up: bool) -> Iterable[Shape]:
    """A flag whose pole stands at `x`; `y` is its side that is nearest to the panel."""
    wide, high = FLAG
    top = y - high if up else y
    points = (
        (x, top),
        (x + wide, top),
        (x + wide - NOTCH, top + high / 2),
        (x + wide, top + high),
        (x, top + high),
    )
    yield Stroke(points, "flag", closed=True)
    yield TextShape(
        x + (wide - NOTCH) / 2 + 0.5, top + high / 2 + 3.2, str(number), "flag", "middle"
    )


def poles(
    ends: Sequence[tuple[float, float]], edge: float, numbers: Sequence[int], span: float, up: bool
) -> tuple[list[Shape], float, float]:
    """Leaders and flags for the points in `ends`, above or below the panel's `edge`.

    Gives the shapes and how far flags reach to the left and to the right. A leader runs straight
    to the edge and then aslant; since the flags keep the order of their points, none cross.
    """
    wide, high = FLAG
    feet = spread([x for x, _y in ends], wide + GAP, 0, max(0.0, span - wide))
    sign = -1 if up else 1
    foot = edge + sign * RISE
    lines: list[Shape] = []
    marks: list[Shape] = []
    for (x, y), at, number in zip(ends, feet, numbers, strict=True):
        points = ((x, y), (x, edge + sign * 5), (at, foot - sign * 6), (at, foot + sign * high))
        lines.append(Stroke(points, "halo"))
        lines.append(Stroke(points, "leader"))
        marks.append(Ring(x, y, 1.7, "dot"))
        marks += flag(at, foot, number, up)
    return [*lines, *marks], min(feet, default=0.0), max(feet, default=0.0) + wide


def listed(
    callouts: Sequence[Callout], top: float, span: float, notes: Sequence[str] = ()
) -> tuple[list[Shape], float]:
    """The list that names the numbers, in columns; gives its shapes and where it ends."""
    columns = 1 if span < 380 else 2 if span < 1000 else 3
    room = (span - COLUMN_GAP * (columns - 1)) / columns
    indent = FLAG[0] + 6
    blocks = [(one, _entry(one, room - indent)) for one in callouts]
    heights = [max(1, len(lines)) * LINE + 4 for _one, lines in blocks]
    cuts = _columns(heights, columns)
    shapes: list[Shape] = []
    low = top
    for column, (first, last) in enumerate(cuts):
        x, y = column * (room + COLUMN_GAP), top
        for (callout, lines), high in zip(blocks[first:last], heights[first:last], strict=True):
            shapes += flag(x, y, callout.number, up=False)
            for row, line in enumerate(lines):
                for pen, text, shift in line:
                    part = callout.part if pen == "label" else ""
                    where = (x + indent + shift, y + 9.0 + LINE * row)
                    shapes.append(TextShape(*where, text, pen, part=part))
            y += high
        low = max(low, y)
    for note in notes:
        for text in wrapped(note, span, LETTERS):
            low += 10.5
            shapes.append(TextShape(0, low, text, "small"))
    return shapes, low


LegendLine = tuple[tuple[str, str, float], ...]  # pieces of a line: pen, text, shift


def _entry(callout: Callout, room: float) -> list[LegendLine]:
    """The position in bold, then what is there: on its line where it fits, else below."""
    pen = "reason" if callout.use == "unusable" else "label"
    names = wrapped(callout.position, room, LETTERS, bold=True)
    last = width(names[-1], LETTERS, bold=True) + 6
    lines: list[LegendLine] = [(("name", text, 0.0),) for text in names[:-1]]
    words = callout.what
    if last + width(words, LETTERS) <= room:
        return [*lines, (("name", names[-1], 0.0), (pen, words, last))]
    lines.append((("name", names[-1], 0.0),))
    return [*lines, *(((pen, text, 0.0),) for text in wrapped(words, room, LETTERS))]


def _columns(heights: Sequence[float], columns: int) -> list[tuple[int, int]]:
    """Where to cut a list into columns so that the highest is as low as can be."""
    least, most = max(heights, default=0.0), sum(heights)
    for _ in range(40):
        middle = (least + most) / 2
        if len(_cut(heights, middle)) <= columns:
            most = middle
        else:
            least = middle
    return _cut(heights, most + 0.01)


def _cut(heights: Sequence[float], most: float) -> list[tuple[int, int]]:
    cuts: list[tuple[int, int]] = []
    first, high = 0, 0.0
    for at, one in enumerate(heights):
        if high + one > most and at > first:
            cuts.append((first, at))
            first, high = at, 0.0
        high += one
    if first < len(heights):
        cuts.append((first, len(heights)))
    return cuts


def scale_bar(
    x: float, y: float, scale: float, millimetres: int = 100, pen: str = "small"
) -> list[Shape]:
    """A bar of known length, half of it black, as on a map; its words in the letters of `pen`."""
    wide = millimetres * scale
    made: list[Shape] = [
        Stroke(((x, y - 2.5), (x, y), (x + wide, y), (x + wide, y - 2.5)), "scale"),
        Rect(x, y - 2.5, wide / 2, 2.5, "dot"),
        TextShape(x + wide + 5, y + 0.5, f"{millimetres}\u202fmm", pen),
    ]
    return made
