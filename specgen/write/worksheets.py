"""Tables of plain values: what the CSV and the XLSX writer both write.

Numbers stay numbers. Their unit stands in the head of their column, or beside them where each row
has one of its own. Text that a spreadsheet would take for a formula is told by `formula_like`; each
writer makes it harmless in its own way.
"""

from collections.abc import Iterable
from decimal import Decimal
from typing import Final

from specgen.document.data import BuildData, LineData, PartsList
from specgen.document.data.parts_list import SOLDERED
from specgen.document.data.plain_values import StatedValue
from specgen.facts import Fact
from specgen.facts.fact_data import exact_of, fact_record
from specgen.facts.terms import BASIS, STATUS, worded
from specgen.frozen import frozen
from specgen.messages import ENGLISH, Language, Words, say
from specgen.model.kinds import KINDS
from specgen.quantity import Quantity
from specgen.quantity.printing import sign_of_plain

CellValue = str | bool | int | Decimal | None
MASS: Final = "kg"

# Source: OWASP, CSV Injection; the wide forms are what some spreadsheets read alike.
_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


@frozen
class SheetData:
    """A table: headings, rows as long as these, and the widths of columns in characters.

    `totals` are last rows for people, which no program should add up with the others: what is in
    no row above, and the sum; empty where nothing is summed.
    """

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[CellValue, ...], ...]
    widths: tuple[int, ...]
    totals: tuple[tuple[CellValue, ...], ...] = ()


def formula_like(text: str) -> bool:
    """Whether a spreadsheet that is given this text could work it out."""
    return text.startswith(_STARTS)


_Columns = tuple[tuple[Words, int], ...]
_PARTS: Final[_Columns] = (
    (say("Quantity"), 9),
    (say("Order number"), 14),
    (say("Part"), 44),
    (say("Kind"), 22),
    (say("Id"), 24),
    (say("Positions"), 44),
    (say("Status"), 12),
    (say("Replaced by"), 20),
    (say("Weight each ({unit})", unit=MASS), 10),
    (say("Total weight ({unit})", unit=MASS), 11),
)
_DETAILS: Final = (say("Details"), 40)
"""The last column, where a kind of the project's own has something to say."""
_FACTS: Final[_Columns] = (
    (say("Key"), 34),
    (say("About"), 16),
    (say("Parameter"), 34),
    (say("Value"), 18),
    (say("Unit"), 9),
    (say("Basis"), 11),
    (say("Formula"), 48),
    (say("Source"), 40),
)
_EXACT: Final = (say("Exact value"), 18)
_KINDS: Final = {kind.title: kind.named() for kind in KINDS.values()}


def parts_sheet(parts: PartsList, language: Language = ENGLISH) -> SheetData:
    """A parts list, a line a part."""
    several = len(parts.builds) > 1
    detailed = any(line.details for line in parts.lines)
    rows: list[tuple[CellValue, ...]] = [
        (
            line.quantity,
            line.number or "",
            line.name,
            language.text(_kind(line.kind)),
            line.id,
            places(line, several),
            language.text(worded(STATUS, line.status)),
            line.replaced_by or "",
            line.kilograms_each,
            line.kilograms,
            *((details(line),) if detailed else ()),
        )
        for line in parts.lines
    ]
    pieces = sum(line.quantity for line in parts.lines)
    without = say("lines without a declared weight: {n}", n=parts.without_mass)
    note = language.text(without) if parts.without_mass else ""
    total = language.text(say("Total"))
    after = [""] * detailed
    totals = [(pieces, "", total, "", "", note, "", "", None, parts.kilograms, *after)]
    if parts.kilograms_soldered:
        words = language.text(SOLDERED)
        row = (None, "", words, "", "", "", "", "", None, parts.kilograms_soldered, *after)
        totals.insert(0, row)
    columns = (*_PARTS, *((_DETAILS,) if detailed else ()))
    return _sheet(say("Parts"), columns, rows, language, tuple(totals))


def _kind(title: str) -> Words:
    return say("Platform") if title == "Platform" else _KINDS.get(title, title)


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
    """Every value of a build for programs: as it is printed, and as it was worked out."""
    rows: list[tuple[CellValue, ...]] = [
        (
            fact.key,
            fact.subject,
            fact.label,
            ", ".join(fact.value) if isinstance(fact.value, tuple) else fact.value,
            fact.exact,
            fact.unit or "",
            str(fact.basis),
            fact.formula,
            fact.source,
        )
        for fact in build.facts
    ]
    return _sheet(say("Values"), (*_FACTS[:4], _EXACT, *_FACTS[4:]), rows, ENGLISH)


def values_sheet(facts: Iterable[Fact], language: Language = ENGLISH) -> SheetData:
    """Every value for people, in a language: numbers as they are printed, units by their signs."""
    rows: list[tuple[CellValue, ...]] = []
    for fact in facts:
        value, unit = _number_of(fact, language)
        rows.append(
            (
                fact.key,
                fact.subject,
                language.text(fact.label),
                value,
                unit,
                language.text(BASIS[fact.basis]),
                language.text(fact.formula),
                language.text(fact.source),
            )
        )
    return _sheet(say("Values"), _FACTS, rows, language)


def _number_of(fact: Fact, language: Language) -> tuple[CellValue, str]:
    """A number with the sign of its unit; words in the language, of what is told in words too."""
    sign = sign_of_plain(fact.value) if isinstance(fact.value, Quantity) else ""
    if exact_of(fact.value) is None or (isinstance(fact.value, Quantity) and not sign):
        return (None if fact.value is None else language.number(fact.value)[0]), ""
    value = fact_record(fact).value
    assert isinstance(value, Decimal | int)
    return value, language.unit(sign) if sign else ""


def _sheet(
    title: Words,
    columns: _Columns,
    rows: list[tuple[CellValue, ...]],
    language: Language,
    totals: tuple[tuple[CellValue, ...], ...] = (),
) -> SheetData:
    headings = tuple(language.text(heading) for heading, _ in columns)
    widths = tuple(width for _, width in columns)
    return SheetData(language.text(title), headings, tuple(rows), widths, totals)
