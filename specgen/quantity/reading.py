"""Text to value and unit, and what is wrong with it where that cannot be.

The grammar: an optional sign, digits, optionally a point and digits, any number of spaces
(no-break ones too), a unit. No thousands separators, no exponents, at most 30 digits.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Final, NamedTuple

from specgen.quantity.problems import ANYTHING, Instead, Problem, QuantityError
from specgen.quantity.units import BY_DIMENSION, RATIO, UNITS, Dimension, Unit

MOST_DIGITS: Final = 30
SPACES: Final = " \u00a0\u202f"
MINUS: Final = "\u2212"

_QUANTITY: Final = re.compile(
    rf"(?P<sign>[+\-{MINUS}]?)(?P<number>[0-9]+(?:\.[0-9]+)?)[{SPACES}]*"
    r"(?P<unit>(?![eE][+\-]?[0-9])[^\s0-9.,'’_+\-].*)?"
)
# of what is no quantity: compiled where there is something to tell of
_GROUPS: Final = (
    rf"(?P<sign>[+\-{MINUS}]?)(?P<whole>[0-9]{{1,3}}(?:[,'’_{SPACES}][0-9]{{3}})+)"
    rf"(?P<rest>(?:\.[0-9]+)?)[{SPACES}]*(?P<unit>[^0-9]*)"
)
_COMMA: Final = (
    rf"(?P<sign>[+\-{MINUS}]?)(?P<whole>[0-9]+),(?P<part>[0-9]+)[{SPACES}]*(?P<unit>[^0-9,.]*)"
)
_EXPONENT: Final = (
    rf"(?P<number>[+\-{MINUS}]?[0-9]+(?:\.[0-9]+)?[eE][+\-]?[0-9]{{1,2}})[{SPACES}]*(?P<unit>\D*)"
)
_BARE_POINT: Final = (
    rf"(?P<sign>[+\-{MINUS}]?)(?P<whole>[0-9]*)\.(?P<part>[0-9]*)[{SPACES}]*(?P<unit>[^0-9,.]*)"
)

# What people write, and the units they may mean. Same value, other spelling: nothing here may
# change the number (no `F` for `degC`).
SLIPS: Final[dict[str, tuple[str, ...]]] = {
    "K": ("kB", "KiB"),
    "k": ("kB", "KiB"),
    "M": ("MB", "MiB"),
    "G": ("GB", "GiB"),
    "T": ("TB", "TiB"),
    "KB": ("kB", "KiB"),
    "KB/s": ("kB/s", "KiB/s"),
    "KBps": ("kB/s", "KiB/s"),
    "kBps": ("kB/s",),
    "MBps": ("MB/s",),
    "GBps": ("GB/s",),
    "TBps": ("TB/s",),
    "Kb": ("kbit", "Kibit"),
    "kb": ("kbit", "kB"),
    "Mb": ("Mbit", "MB"),
    "Gb": ("Gbit", "GB"),
    "Tb": ("Tbit", "TB"),
    "Kbit": ("kbit", "Kibit"),
    "Kb/s": ("kbit/s",),
    "kb/s": ("kbit/s",),
    "Mb/s": ("Mbit/s",),
    "Gb/s": ("Gbit/s",),
    "Tb/s": ("Tbit/s",),
    "Kbps": ("kbit/s",),
    "kbps": ("kbit/s",),
    "Mbps": ("Mbit/s",),
    "Gbps": ("Gbit/s",),
    "Tbps": ("Tbit/s",),
    "bps": ("bit/s",),
    "GTps": ("GT/s",),
    "MTps": ("MT/s",),
    "C": ("degC",),
    "ºC": ("degC",),
    "deg C": ("degC",),
    "° C": ("degC",),
    "lbs": ("lb",),
    "kgs": ("kg",),
    '"': ("in",),
    "″": ("in",),
    "inches": ("in",),
    "feet": ("ft",),
    "RU": ("U",),
    "sec": ("s",),
    "hr": ("h",),
    "hrs": ("h",),
    "yr": ("y",),
    "yrs": ("y",),
    "a": ("y",),
    "ft3/min": ("CFM",),
    "m^3/h": ("m3/h",),
    "m^3/s": ("m3/s",),
    "m3/hr": ("m3/h",),
    "BTU": ("BTU/h",),
    "BTU/hr": ("BTU/h",),
    "BTUH": ("BTU/h",),
    "r/min": ("rpm",),
    "1/min": ("rpm",),
    "VAC": ("V",),
    "VDC": ("V",),
    "V AC": ("V",),
    "V DC": ("V",),
    "amp": ("A",),
    "amps": ("A",),
    "pct": ("%",),
}


class Reading(NamedTuple):
    """A value as written: number, unit, and how many significant digits it was given with."""

    number: Decimal
    unit: Unit
    digits: int


def read(text: str, units: Mapping[str, Unit], dimension: Dimension | None) -> Reading:
    """Read `text` with one of `units`; `dimension` (None: any) is what an error speaks of.

    Raises QuantityError, and nothing else, for any text that is not in the grammar.
    """
    match = _QUANTITY.fullmatch(text.strip())
    if match is None:
        raise _no_number(text, dimension)
    sign, number, spelling = match.groups()
    if len(number) > MOST_DIGITS and len(number.replace(".", "")) > MOST_DIGITS:
        raise _too_long(number, dimension)
    unit = units.get(spelling)
    if unit is None:
        raise _no_unit(sign + number, spelling, units, dimension)
    value = Decimal(number if sign in ("", "+") else "-" + number)
    if unit.dimension.lowest is not None and unit.to_base(value) < unit.dimension.lowest:
        raise _too_low(text, unit.dimension)
    return Reading(value, unit, significant(number))


def significant(number: str) -> int:
    """How many significant digits a number is written with; `0.00` counts as three.

    >>> significant("0.50"), significant("1000"), significant("0.00")
    (2, 4, 3)
    """
    figures = number.replace(".", "").lstrip("0")
    return len(figures) or len(number.partition(".")[2]) + 1


def missing_unit(number: str, dimension: Dimension | None) -> QuantityError:
    """The error for a bare number."""
    symbols = dimension.suggested if dimension else ("W",)
    instead = _with_units(number, symbols)
    if dimension is RATIO and abs(share := Decimal(number)) < 1 and share:
        instead = Instead((f"{(100 * share).normalize():f} %", *instead.texts))
    return QuantityError(Problem.NO_UNIT, dimension, number, instead)


def no_text(value: object, dimension: Dimension) -> QuantityError:
    """The error for a value that is no text at all: a number has no unit, nor has a list."""
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        return missing_unit(str(value), dimension)
    return QuantityError(Problem.NO_UNIT, dimension, "")


def find_unit(spelling: str, dimension: Dimension) -> Unit:
    """The unit of `dimension` with that spelling; QuantityError when there is none."""
    units = BY_DIMENSION[dimension.name]
    unit = units.get(spelling)
    if unit is None:
        raise _no_unit("1", spelling, units, dimension)
    return unit


def _no_unit(
    number: str, spelling: str | None, units: Mapping[str, Unit], dimension: Dimension | None
) -> QuantityError:
    if not spelling:
        return missing_unit(number, dimension)
    meant = _meant(spelling, units)
    known = [unit for unit in UNITS if spelling in (unit.symbol, unit.sign, *unit.also)]
    if known and dimension and not any(symbol in units for symbol in SLIPS.get(spelling, ())):
        others = tuple(dict.fromkeys(unit.dimension for unit in known))
        rated = [units[f"{spelling}/s"]] if f"{spelling}/s" in units else []
        instead = _one_of(number, rated)
        return QuantityError(Problem.WRONG_DIMENSION, dimension, spelling, instead, others=others)
    instead = _one_of(number, meant)
    if not meant and dimension:
        instead = Instead(units=tuple(unit.symbol for unit in _distinct(units.values())))
    return QuantityError(Problem.UNKNOWN_UNIT, dimension, _quoted(spelling), instead)


def _meant(spelling: str, units: Mapping[str, Unit]) -> list[Unit]:
    """The units that a misspelt one may stand for; empty rather than wild."""
    slips = [units[symbol] for symbol in SLIPS.get(spelling, ()) if symbol in units]
    if slips:
        return slips
    folded = spelling.casefold()
    cases = _distinct(unit for known, unit in units.items() if known.casefold() == folded)
    if cases:
        return cases
    words = {unit.name.casefold(): unit for unit in units.values()}
    words |= {f"{word}s": unit for word, unit in words.items()}
    if folded in words:
        return [words[folded]]
    if not 5 <= len(folded) <= 40:
        return []
    from difflib import get_close_matches  # only where a unit is misspelt

    return _distinct(words[word] for word in get_close_matches(folded, words, 1, 0.85))


def _distinct(units: Iterable[Unit]) -> list[Unit]:
    return list(dict.fromkeys(units))


def _no_number(text: str, dimension: Dimension | None) -> QuantityError:
    """Why `text` does not follow the grammar, with the likely repair."""
    shown = _quoted(text)
    bare = " ".join(text.split()) if len(text) <= 200 else ""
    if not shown:
        return QuantityError(Problem.EMPTY, dimension, shown)
    if match := re.fullmatch(_GROUPS, bare):
        sign, whole, rest, unit = match.groups()
        digits = re.sub(r"[^0-9]", "", whole) + rest
        other = ""
        if whole.count(",") == 1 and not rest and len(digits) == len(whole) - 1:
            other = _text(sign + whole.replace(",", "."), unit, dimension)
        instead = Instead((_text(sign + digits, unit, dimension),), if_decimal=other)
        return QuantityError(Problem.THOUSANDS_SEPARATOR, dimension, shown, instead)
    if match := re.fullmatch(_COMMA, bare):
        sign, whole, part, unit = match.groups()
        instead = Instead((_text(f"{sign}{whole}.{part}", unit, dimension),))
        return QuantityError(Problem.COMMA, dimension, shown, instead)
    if match := re.fullmatch(_EXPONENT, bare):
        number = format(Decimal(match["number"].replace(MINUS, "-")), "f")
        fits = len(number) <= MOST_DIGITS
        instead = Instead((_text(number, match["unit"], dimension),)) if fits else ANYTHING
        return QuantityError(Problem.EXPONENT, dimension, shown, instead)
    match = re.fullmatch(_BARE_POINT, bare)
    if match and (match["whole"] or match["part"]):
        sign, whole, part, unit = match.groups()
        number = f"{sign}{whole or '0'}" + (f".{part}" if part else "")
        instead = Instead((_text(number, unit, dimension),))
        return QuantityError(Problem.BARE_POINT, dimension, shown, instead)
    return QuantityError(Problem.NOT_A_NUMBER, dimension, shown)


def _too_long(number: str, dimension: Dimension | None) -> QuantityError:
    count = len(number.replace(".", ""))
    return QuantityError(Problem.TOO_MANY_DIGITS, dimension, str(count), limit=str(MOST_DIGITS))


def _too_low(text: str, dimension: Dimension) -> QuantityError:
    limit = f"{dimension.lowest} {dimension.base}"
    return QuantityError(Problem.TOO_LOW, dimension, _quoted(text), limit=limit)


def _with_units(number: str, symbols: Iterable[str]) -> Instead:
    return Instead(tuple(f"{number} {symbol}" for symbol in symbols))


def _one_of(number: str, units: list[Unit]) -> Instead:
    """The number with some units; told apart by their size where there are several."""
    instead = _with_units(number, (unit.symbol for unit in units))
    if len(units) < 2:
        return instead
    sizes = ((unit, f"{unit.factor:f} {unit.dimension.base}") for unit in units)
    return replace(instead, sizes=tuple(sizes))


def _text(number: str, unit: str, dimension: Dimension | None) -> str:
    """A number with its unit as it was written, or with a usual one where there was none."""
    usual = dimension.suggested[0] if dimension else "W"
    return f"{number} {_quoted(unit) or usual}"


def _quoted(text: str) -> str:
    """The text on one line, short enough to be quoted, without the quoting sign itself."""
    line = " ".join(text[:200].split()).replace("`", "'")
    return line if len(line) <= 40 else line[:39] + "…"
