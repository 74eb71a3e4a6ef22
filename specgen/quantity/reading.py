"""Text to value and unit, and what to say when that cannot be.

The grammar: an optional sign, digits, optionally a point and digits, any number of spaces
(no-break ones too), a unit. No thousands separators, no exponents, at most 30 digits.
"""

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Final, NamedTuple

from specgen.quantity.problems import Problem, QuantityError
from specgen.quantity.units import BY_DIMENSION, UNITS, Dimension, Unit

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
    return QuantityError(
        Problem.NO_UNIT, f"{_quantity(dimension)} without a unit", _write(number, symbols)
    )


def no_text(value: object, dimension: Dimension) -> QuantityError:
    """The error for a value that is no text at all: a number has no unit, nor has a list."""
    if isinstance(value, int | Decimal) and not isinstance(value, bool):
        return missing_unit(str(value), dimension)
    return QuantityError(
        Problem.NO_UNIT, f"{_quantity(dimension)} without a unit", _example(dimension)
    )


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
        of = " or ".join(dict.fromkeys(unit.dimension.name for unit in known))
        message = f"`{spelling}` is a unit of {of}, not of {dimension.name}"
        rated = [units[f"{spelling}/s"]] if f"{spelling}/s" in units else []
        instead = _write_units(number, rated) if rated else _example(dimension)
        return QuantityError(Problem.WRONG_DIMENSION, message, instead)
    of = f" of {dimension.name}" if dimension else ""
    message = f"no unit{of} is named `{_quoted(spelling)}`"
    if meant:
        return QuantityError(Problem.UNKNOWN_UNIT, message, _write_units(number, meant))
    if dimension is None:
        return QuantityError(Problem.UNKNOWN_UNIT, message, _example(None))
    symbols = ", ".join(f"`{unit.symbol}`" for unit in dict.fromkeys(units.values()))
    return QuantityError(Problem.UNKNOWN_UNIT, message, f"units of {dimension.name}: {symbols}")


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
        return _not_a_number(f"{_quantity(dimension)} is empty", _example(dimension))
    if match := re.fullmatch(_GROUPS, bare):
        sign, whole, rest, unit = match.groups()
        plain = re.sub(r"[^0-9]", "", whole) + rest
        instead = _write_text(sign + plain, unit, dimension)
        if whole.count(",") == 1 and not rest and len(plain) == len(whole) - 1:
            other = _write_text(sign + whole.replace(",", "."), unit, dimension)
            instead += f", or {other.removeprefix('write ')} if the comma is a decimal one"
        return _not_a_number(f"`{shown}` has a thousands separator", instead)
    if match := re.fullmatch(_COMMA, bare):
        sign, whole, part, unit = match.groups()
        instead = _write_text(f"{sign}{whole}.{part}", unit, dimension)
        return _not_a_number(f"`{shown}` has a comma in the number", instead)
    if match := re.fullmatch(_EXPONENT, bare):
        number = format(Decimal(match["number"].replace(MINUS, "-")), "f")
        fits = len(number) <= MOST_DIGITS
        instead = _write_text(number, match["unit"], dimension) if fits else _example(dimension)
        return _not_a_number(f"`{shown}` has an exponent", instead)
    match = re.fullmatch(_BARE_POINT, bare)
    if match and (match["whole"] or match["part"]):
        sign, whole, part, unit = match.groups()
        number = f"{sign}{whole or '0'}" + (f".{part}" if part else "")
        message = f"`{shown}` has no digit on one side of the point"
        return _not_a_number(message, _write_text(number, unit, dimension))
    return _not_a_number(f"`{shown}` is not a number with a unit", _example(dimension))


def _too_long(number: str, dimension: Dimension | None) -> QuantityError:
    count = len(number.replace(".", ""))
    message = f"{_quantity(dimension)} has {count} digits, {MOST_DIGITS} are the most"
    return QuantityError(Problem.OUT_OF_RANGE, message, _example(dimension))


def _too_low(text: str, dimension: Dimension) -> QuantityError:
    message = f"`{_quoted(text)}` lies below {dimension.lowest} {dimension.base}"
    return QuantityError(Problem.OUT_OF_RANGE, message, _example(dimension))


def _not_a_number(message: str, instead: str) -> QuantityError:
    return QuantityError(Problem.NOT_A_NUMBER, message, instead)


def _quantity(dimension: Dimension | None) -> str:
    return f"{dimension.name} value" if dimension else "value"


def _example(dimension: Dimension | None) -> str:
    if dimension is None:
        return "write a number and its unit, such as `750 W`"
    return f"write {dimension.name} with its unit, such as `{dimension.example}`"


def _write(number: str, symbols: Iterable[str]) -> str:
    return "write " + " or ".join(f"`{number} {symbol}`" for symbol in symbols)


def _write_units(number: str, units: list[Unit]) -> str:
    """`write ...` for some units; told apart by their size where there are several."""
    if len(units) == 1:
        return _write(number, (units[0].symbol,))
    return "write " + " or ".join(
        f"`{number} {unit.symbol}` (1 {unit.symbol} is {unit.factor:f} {unit.dimension.base})"
        for unit in units
    )


def _write_text(number: str, unit: str, dimension: Dimension | None) -> str:
    """`write ...` with the unit as it was written, or a usual one where there was none."""
    usual = dimension.suggested[0] if dimension else "W"
    return _write(number, (_quoted(unit) or usual,))


def _quoted(text: str) -> str:
    """The text on one line, short enough to be quoted, without the quoting sign itself."""
    line = " ".join(text[:200].split()).replace("`", "'")
    return line if len(line) <= 40 else line[:39] + "…"
