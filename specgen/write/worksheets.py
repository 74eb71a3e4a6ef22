"""Tables of plain values: what the CSV and the XLSX writer both write.

Numbers stay numbers and have a column of units beside them. Text that a spreadsheet would take for
a formula is told by `formula_like`; each writer makes it harmless in its own way.
"""

from decimal import Decimal
from typing import Final

from specgen.document.data import BuildData, LineData, PartsList
from specgen.document.data.values import StatedValue
from specgen.frozen import frozen

CellValue = str | bool | int | Decimal | None
MASS: Final = "kg"

# Source: OWASP, CSV Injection; the wide forms are what some spreadsheets read alike.
_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


@frozen
class SheetData:
    """A table: headings, rows as long as these, and the widths of columns in characters."""

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[CellValue, ...], ...]
    widths: tuple[int, ...]


def formula_like(text: str) -> bool:
    """Whether a spreadsheet that is given this text could work it out."""
    return text.startswith(_STARTS)


_PARTS: Final = (
    ("Quantity", 9),
    ("Order number", 14),
    ("Part", 44),
    ("Kind", 22),
    ("Id", 24),
    ("Positions", 44),
    ("Status", 12),
    ("Replaced by", 20),
    ("Mass each", 10),
    ("Mass in all", 11),
    ("Unit of mass", 12),
)
_DETAILS: Final = ("Details", 40)
"""The last column, where a kind of the project's own has something to say."""
_FACTS: Final = (
    ("Key", 34),
    ("About", 16),
    ("Parameter", 34),
    ("Value", 18),
    ("Unit", 9),
    ("Basis", 11),
    ("Formula", 48),
    ("Source", 40),
)


def parts_sheet(parts: PartsList) -> SheetData:
    """A parts list, a line a part."""
    several = len(parts.builds) > 1
    detailed = any(line.details for line in parts.lines)
    rows: list[tuple[CellValue, ...]] = [
        (
            line.quantity,
            line.number or "",
            line.name,
            line.kind,
            line.id,
            places(line, several),
            line.status.replace("-", " "),
            line.replaced_by or "",
            line.kilograms_each,
            line.kilograms,
            MASS if line.kilograms is not None else "",
            *((details(line),) if detailed else ()),
        )
        for line in parts.lines
    ]
    return _sheet("Parts", (*_PARTS, *((_DETAILS,) if detailed else ())), rows)


def details(line: LineData) -> str:
    """What a kind of the project's own wants said of its parts: `Ports: 4; Rate: 24 Gbit/s`."""
    return "; ".join(f"{each.label}: {_printed(each)}" for each in line.details.values())


def _printed(stated: StatedValue) -> str:
    value = ", ".join(stated.value) if isinstance(stated.value, tuple) else str(stated.value)
    return f"{value} {stated.unit}" if stated.unit else value


def places(line: LineData, several: bool) -> str:
    """Where a part goes; by build where a list is for several."""
    if not several:
        return ", ".join(use.shown for use in line.uses)
    return "; ".join(f"{use.build}: {use.shown or use.each}" for use in line.uses)


def facts_sheet(build: BuildData) -> SheetData:
    """Every value of a build."""
    rows: list[tuple[CellValue, ...]] = [
        (
            fact.key,
            fact.subject,
            fact.label,
            ", ".join(fact.value) if isinstance(fact.value, tuple) else fact.value,
            fact.unit or "",
            str(fact.basis),
            fact.formula,
            fact.source,
        )
        for fact in build.facts
    ]
    return _sheet("Values", _FACTS, rows)


def _sheet(
    title: str, columns: tuple[tuple[str, int], ...], rows: list[tuple[CellValue, ...]]
) -> SheetData:
    headings = tuple(heading for heading, _ in columns)
    return SheetData(title, headings, tuple(rows), tuple(width for _, width in columns))
