"""What one failure leaves, as bars beside the whole: cores, memory, drives, capacity, ports."""

from collections.abc import Iterator, Sequence
from typing import Final

from specgen.assembly import Assembly
from specgen.drawings.boxes import clean
from specgen.drawings.lettering import letter
from specgen.drawings.shapes import Rect, Shape, Sheet, TextShape, nothing
from specgen.drawings.widths import LETTERS, wrapped
from specgen.facts import Facts
from specgen.facts.calculators import failures
from specgen.frozen import frozen
from specgen.messages import NONE, listed, say
from specgen.quantity import DataSize, show

LEFT: Final = (
    failures.cores_left,
    failures.memory_left,
    failures.drives_left,
    failures.usable_left,
    failures.ports_left,
)
"""What is left, a column each."""
NAMES: Final = 214.0
BAR: Final = (50.0, 9.0)
COLUMN: Final = 99.0
HEAD: Final = 16.0
LINE: Final = 11.5
PAD: Final = 6.0  # below the lines of a row


@frozen
class _Row:
    """Failures after which as much is left of everything; None where the server stands still."""

    names: tuple[str, ...]
    left: tuple[DataSize | int | None, ...]


def failure_chart(assembly: Assembly, facts: Facts) -> Sheet:
    """A row for each failure, for those that leave as much one; what nobody has, has no column."""
    holder = assembly.build if assembly.build is not None else assembly.platform
    title = letter(say("What one failure leaves: {holder}", holder=clean(holder.name)))
    rows = list(_rows(assembly, facts))
    wholes = [max(map(_amount, column)) for column in zip(*(row.left for row in rows), strict=True)]
    shown = [at for at, whole in enumerate(wholes) if whole]
    if not shown:
        return nothing(title, letter(say("No failure leaves anything that could be counted.")))
    shapes: list[Shape] = [
        TextShape(NAMES + COLUMN * n, 9, letter(LEFT[at].short), "small")
        for n, at in enumerate(shown)
    ]
    y = HEAD
    for row in rows:
        lines = wrapped(letter(listed(row.names)), NAMES - 14, LETTERS)
        shapes += [TextShape(0, y + LINE * n + 8.5, line) for n, line in enumerate(lines)]
        for n, at in enumerate(shown):
            shapes += _bar(NAMES + COLUMN * n, y, row.left[at], wholes[at])
        y += LINE * len(lines) + PAD
    text = tuple(_words(row, shown) for row in rows)
    return Sheet(title, text, NAMES + COLUMN * len(shown), y, tuple(shapes))


def _rows(assembly: Assembly, facts: Facts) -> Iterator[_Row]:
    alike: dict[tuple[DataSize | int | None, ...], list[str]] = {}
    for subject in failures.FAILURES.listed(assembly):
        left = tuple(_counted(facts.value(one.named(subject))) for one in LEFT)
        alike.setdefault(left, []).append(letter(failures.FAILURES.called(subject)))
    for left, names in alike.items():
        yield _Row(tuple(names), left)


def _counted(value: object) -> DataSize | int | None:
    return value if isinstance(value, DataSize | int) else None


def _amount(value: DataSize | int | None) -> float:
    return float(value.in_unit("B")) if isinstance(value, DataSize) else float(value or 0)


def _bar(x: float, y: float, left: DataSize | int | None, whole: float) -> Iterator[Shape]:
    """What is left of the whole, its outline, and the value; hatched where nothing is left."""
    wide, high = BAR
    share = _amount(left) / whole
    if share < 1:
        yield Rect(x, y + 1, wide, high, "free" if share else "unusable")
    if share:
        yield Rect(x, y + 1, wide * share, high, "bar")
    value = show(left) if left is not None and share else letter(NONE)
    yield TextShape(x + wide + 5, y + 8.5, value)


def _words(row: _Row, shown: Sequence[int]) -> str:
    """The row as a sentence."""
    if not any(row.left):
        return letter(say("{names}: nothing is left.", names=listed(row.names)))
    left = [
        say("{label}: {value}", label=LEFT[at].short, value=row.left[at] or NONE) for at in shown
    ]
    return letter(say("{names}: {left}.", names=listed(row.names), left=listed(left, "semicolon")))
