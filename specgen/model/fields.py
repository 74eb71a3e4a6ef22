"""What a field of a definition may hold: types of dataclass fields that read text strictly.

pydantic-core does the walking and the collecting of errors, pydantic the JSON Schema; the types
here give text its YAML 1.2 meaning. A value arrives as `Written`, a `str` that knows whether it was
quoted.
"""

import re
import unicodedata
from calendar import monthrange
from dataclasses import fields
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Final, TypeVar, dataclass_transform

from pydantic_core import PydanticCustomError

from specgen.frozen import frozen
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model.markers import Before, Bounds, Json, Short, written
from specgen.model.name_ranges import BadRange, CharRange, expand

T = TypeVar("T")
_INTEGER = re.compile(r"^[-+]?(0|[1-9][0-9]{0,17})$")
_ONE_NUMBER = re.compile(r"(?:[^\d.,+-]*|[A-Za-z]+-)(0|[1-9][0-9]{0,17})[^\d.,+-]*")
_DECIMAL = re.compile(r"^[-+]?[0-9]{1,18}(\.[0-9]{1,18})?$")
_ID = re.compile(r"^[a-z0-9]+(?:[-.][a-z0-9]+)*$")
_LONGEST_ID: Final = 100
"""Files are named after an id and what they hold; file systems take 255 bytes at most."""
_DEVICES: Final = frozenset(
    ("con", "prn", "aux", "nul", *(f"{each}{n}" for each in ("com", "lpt") for n in range(1, 10)))
)
"""Names that Windows keeps for devices, whatever ending follows. Source: Microsoft, "Naming Files,
Paths, and Namespaces" (from memory)."""
_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_CONTROL: Final = (
    r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ue000-\uf8ff]"
)
"""Controls, what turns the direction of writing, and private characters, which documents use: none
is printable, and few texts have anything that is not, so the pattern is seldom compiled."""
_A_DAY: Final = say("a day that there is")
_LANES = re.compile(r"^x(1|2|4|8|16|32)$")
_POINT = re.compile(r"^[0-9]{1,5}(\.[0-9]{1,4})?%? +[0-9]{1,5}(\.[0-9]{1,4})?%?$")
_SPLIT = re.compile(r"^(?:1|2|4|8|16|32)(?:\+(?:1|2|4|8|16|32))*$")


@dataclass_transform(frozen_default=True, kw_only_default=True)
def record(cls: type[T]) -> type[T]:
    """A frozen dataclass that refuses unknown fields when it is read from text."""
    cls.__pydantic_config__ = {  # type: ignore[attr-defined]
        "extra": "forbid",
        "arbitrary_types_allowed": True,
        "alias_generator": written,
    }
    return frozen(kw_only=True)(cls)


@dataclass_transform(frozen_default=True, kw_only_default=True)
def trait(cls: type[T]) -> type[T]:
    """Fields that records of several sorts share: a record to inherit from, never made itself.

    Its class says `__slots__ = ()`, so that a record can have several traits.
    """
    assert cls.__dict__.get("__slots__") == (), f"{cls.__name__} needs `__slots__ = ()`"
    made = frozen(kw_only=True, slots=False)(cls)
    for field in fields(made):  # type: ignore[arg-type]
        if field.name in made.__dict__:  # else a record that requires the field had this default
            delattr(made, field.name)
    return made


def wrong(needs: Message, help_: Message | Nothing = NOTHING) -> PydanticCustomError:
    """What a reader of fields raises: what the field needs, and what to write, where that is sure.
    What a reader of fields raises: what the field needs, and what to write, where that is sure."""
    return PydanticCustomError("field", "another value", {"needs": needs, "help": help_})


def _plain(value: object, pattern: re.Pattern[str]) -> str | None:
    if isinstance(value, str) and getattr(value, "plain", True) and pattern.fullmatch(value):
        return str(value)
    return None


def _text(value: object) -> object:
    if not isinstance(value, str):
        raise wrong(say("text, not a list or a mapping"))
    text = value.strip()
    if not text or (value in ("~", "null") and getattr(value, "plain", False)):
        raise PydanticCustomError("empty", "empty")
    if not value.isprintable() and re.search(_CONTROL, value):
        raise wrong(say("text without control characters"))
    return str(text)


def text_of(value: object) -> str:
    """Text as a field reads it: not empty, without control characters, without outer spaces."""
    return str(_text(value))


def _id(value: object) -> object:
    text = _text(value)
    if not _ID.fullmatch(str(text)):
        plain = re.sub(r"[^a-z0-9.]+", "-", unidecoded(str(text))).strip("-.")
        help_ = _write(plain) if _ID.fullmatch(plain) else say("such as `plain-riser`")
        raise wrong(say("a name of lower-case letters, digits and hyphens"), help_)
    if len(str(text)) > _LONGEST_ID:
        help_ = say("pages and files are named after it")
        raise wrong(say("a name of up to {count} letters", count=_LONGEST_ID), help_)
    if str(text).partition(".")[0] in _DEVICES:
        help_ = say("`{name}` is a device there; write `{name}-1`, say", name=text)
        raise wrong(say("a name that a file can have on every system"), help_)
    return text


def is_id(text: str) -> bool:
    """Whether a text is written as ids are."""
    return _ID.fullmatch(text) is not None


def unidecoded(text: str) -> str:
    """Small letters without their accents."""
    parted = unicodedata.normalize("NFKD", text.replace("ß", "ss").lower())
    return "".join(letter for letter in parted if not unicodedata.combining(letter))


def _integer(value: object) -> object:
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    text = _plain(value, _INTEGER)
    if text is None:
        inner = _ONE_NUMBER.fullmatch(str(_text(value)))
        help_ = _write(inner[1]) if inner else say("such as `8`, without a unit and without quotes")
        raise wrong(say("a whole number"), help_)
    return int(text)


def _number(value: object) -> object:
    if isinstance(value, Decimal | int) and not isinstance(value, bool):
        return Decimal(value)
    text = _plain(value, _DECIMAL)
    if text is None:
        _text(value)
        raise wrong(say("a number"), say("such as `0.95`, without a unit and without quotes"))
    return Decimal(text)


def _yes_no(value: object) -> object:
    if isinstance(value, bool):
        return value
    if isinstance(value, str) and getattr(value, "plain", True):
        if value in ("true", "True", "TRUE"):
            return True
        if value in ("false", "False", "FALSE"):
            return False
    _text(value)
    help_ = say("`yes`, `no`, `on` and `off` are words in YAML 1.2")
    raise wrong(say("`true` or `false`"), help_)


def _day(value: object) -> object:
    if isinstance(value, date):
        return value
    text = str(_text(value))
    match = _DAY.fullmatch(text)
    if match is None:
        other = _other_order(text)
        raise wrong(say("a date"), _write(other) if other else say("written as `2026-03-02`"))
    year, month, day = (int(step) for step in match.groups())
    if not 1 <= month <= 12:
        raise wrong(_A_DAY, say("no month {number}: write year, month, day", number=month))
    if year == 0:
        raise wrong(_A_DAY, say("there is no year 0"))
    most = monthrange(year, month)[1]
    if not 1 <= day <= most:
        named = f"{year:04}-{month:02}"
        help_ = say("{month} has {count} days, not {day}", month=named, count=most, day=day)
        raise wrong(_A_DAY, help_)
    return date(year, month, day)


def _other_order(text: str) -> str:
    """A date as it is to be written, of one written otherwise; "" where it could be two."""
    numbers = [int(each) for each in re.findall(r"[0-9]+", text)]
    if len(numbers) != 3 or not re.fullmatch(r"[0-9]{1,4}([-./ ]+[0-9]{1,4}){2}", text.strip()):
        return ""
    if numbers[0] > 31:
        year, month, day = numbers
    else:
        day, month, year = numbers
        if "." not in text and day <= 12 and month != day:  # month first, or day first
            return ""
        if month > 12:
            day, month = month, day
    try:
        return date(year, month, day).isoformat() if year > 999 else ""
    except ValueError:
        return ""


def _lanes(value: object) -> object:
    if isinstance(value, int):
        return value
    text = value if isinstance(value, str) else ""
    match = _LANES.fullmatch(text)
    if match is None:
        number = _ONE_NUMBER.fullmatch(str(_text(value)))
        made = f"x{number[1]}" if number else ""
        known = _LANES.fullmatch(made) is not None
        help_ = _write(made) if known else say("write `x1`, `x2`, `x4`, `x8`, `x16` or `x32`")
        raise wrong(say("a number of lanes"), help_)
    return int(match[1])


def _split(value: object) -> object:
    if isinstance(value, tuple):
        return value
    if not isinstance(value, str) or not _SPLIT.fullmatch(value):
        _text(value)
        raise wrong(say("widths joined by `+`"), say("such as `8+4+4`"))
    return tuple(int(width) for width in value.split("+"))


def _point(value: object) -> object:
    text = " ".join(str(_text(value)).split())
    one, _, other = text.partition(" ")
    if not _POINT.fullmatch(text) or one.endswith("%") != other.endswith("%"):
        raise wrong(
            say("a place in a picture, from its left and from its top"),
            say("such as `412 220` in pixels, or `31% 55%`"),
        )
    return text


def _no_range(why: Message, at: CharRange | None = None) -> PydanticCustomError:
    return PydanticCustomError("range", "no range", {"why": why, "at": at})


def _write(text: str) -> Message:
    return say("write `{text}`", text=text)


def _range(value: object) -> object:
    text = str(_text(value))
    if text != value:  # or two keys could become one
        raise _no_range(say("`{text}` has spaces around it", text=text))
    try:
        expand(text)
    except BadRange as problem:
        raise _no_range(problem.message, problem.at) from None
    return text


def _many(value: object) -> object:
    return [value] if isinstance(value, str) else value


Text = Annotated[
    str,
    Before(_text),
    # what editors read as a number or as true is text here all the same
    Json({"type": ["string", "number", "boolean"], "minLength": 1}),
]
_ID_SCHEMA: Final[dict[str, Any]] = {
    "type": "string",
    "pattern": _ID.pattern,
    "maxLength": _LONGEST_ID,
    "not": {"pattern": rf"^(?:{'|'.join(sorted(_DEVICES))})(?:\.|$)"},
}
Id = Annotated[str, Before(_id), Json(_ID_SCHEMA)]
Ref = Annotated[str, Before(_text), Json({"type": "string", "pattern": _ID.pattern})]
"""The id of something else: whatever stands there, whoever looks it up says what was meant."""
KIND: Final[dict[str, Any]] = {"type": "string", "format": "kind of part"}
KindName = Annotated[str, Before(_text), Json(KIND)]
"""The id of a kind of part; schemas list those that the project knows."""
Count = Annotated[int, Bounds(ge=0, le=10**9), Before(_integer)]
Positive = Annotated[int, Bounds(ge=1, le=10**9), Before(_integer)]
Number = Annotated[Decimal, Bounds(ge=0), Before(_number), Json({"type": "number", "minimum": 0})]
Fraction = Annotated[
    Decimal,
    Bounds(ge=0, le=1),
    Before(_number),
    Json({"type": "number", "minimum": 0, "maximum": 1}),
]
YesNo = Annotated[bool, Before(_yes_no)]
Day = Annotated[date, Before(_day)]
Lanes = Annotated[int, Before(_lanes), Json({"type": "string", "pattern": _LANES.pattern})]
Split = Annotated[
    tuple[int, ...],
    Before(_split),
    Json({"type": "string", "pattern": _SPLIT.pattern}),
]
NameRange = Annotated[str, Before(_range)]
Point = Annotated[str, Before(_point), Json({"type": "string", "pattern": _POINT.pattern})]
"""A place in a picture: pixels from its left and its top, `412 220`, or shares, `31% 55%`."""


Many = Annotated[tuple[T, ...], Before(_many), Short()]
"""A list, which may be written as its one entry."""
