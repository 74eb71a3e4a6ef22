"""What a part's own name says of it, as the trade writes names, against what is declared.

`DDR5-5600`, `2Rx8`, `PCIe 5.0`, `3 DWPD`, `1400 W`: another value below it is a slip in one of the
two. Names are free text, so what does not follow such a pattern says nothing, and where a name has
two of one sort none is held against it.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any, Final, NamedTuple

from specgen.diagnostics import Finding, Label, codes
from specgen.messages import AsWritten, say
from specgen.model import CARRIERS, HasLink, Part, Stores
from specgen.model.pedigree import FieldPath
from specgen.quantity import DataRate, DataSize, Length, Power, Quantity, TransferRate
from specgen.rules.definitions.contradicting.contradiction import expanded


class _Stated(NamedTuple):
    """A value that a part declares, and where."""

    path: FieldPath
    value: Any


Stated = Callable[[Any], Sequence[_Stated]]


def _field(name: str) -> Stated:
    return lambda part: _there((name,), getattr(part, name, None))


def _there(path: FieldPath, value: object) -> Sequence[_Stated]:
    return () if value is None else (_Stated(path, value),)


def _listed(name: str, inner: str) -> Stated:
    """A field of each record of a list."""

    def stated(part: Any) -> Sequence[_Stated]:
        records = getattr(part, name, ())
        if not isinstance(records, tuple):
            return ()
        return [
            each
            for at, record in enumerate(records)
            for each in _there((name, at, inner), getattr(record, inner, None))
        ]

    return stated


def _both(*ways: Stated) -> Stated:
    return lambda part: [each for way in ways for each in way(part)]


def _generation(protocol: str) -> Stated:
    """The generation of a part's own link, where it is one of that protocol."""

    def stated(part: Any) -> Sequence[_Stated]:
        own = "pcie"
        if isinstance(part, Stores):
            own = CARRIERS[part.interface][0] if isinstance(part, HasLink) else ""
        return _there(
            ("generation",), getattr(part, "generation", None) if own == protocol else None
        )

    return stated


def _carried(protocol: str) -> Stated:
    """The generation of a protocol that a cable carries."""

    def stated(part: Any) -> Sequence[_Stated]:
        carries = getattr(part, "carries", None)
        own = carries.get(protocol) if isinstance(carries, Mapping) else None
        return _there(("carries", protocol), own)

    return stated


FIBRES: Final = {"S": "multimode", **dict.fromkeys("LEDFZ", "single-mode")}
"""Of optical Ethernet by the letter behind its rate. Source: IEEE 802.3, clauses 52, 88, 95, 112,
121 and 124 (from memory)."""
_FIBRE: Final = re.compile(r"\b(single|multi)[- ]?mode\b", re.IGNORECASE)


def _fibre(part: Any) -> Sequence[_Stated]:
    """The sort of fibre that an attribute tells of."""
    return [
        _Stated(("attributes", name), "multimode" if found[1].lower() == "multi" else "single-mode")
        for name, text in part.attributes.items()
        for found in (_FIBRE.search(str(text)),)
        if found is not None
    ]


def _word(pattern: str, *ways: Stated) -> Stated:
    """Words that look as those of the name do; what a project calls otherwise is no other."""

    def stated(part: Any) -> Sequence[_Stated]:
        found = [each for way in ways for each in way(part) if isinstance(each.value, str)]
        alike = re.compile(pattern, re.IGNORECASE)
        return [each for each in found if alike.fullmatch(each.value.replace("-2t", " 2t"))]

    return stated


def _ports(part: Any) -> Sequence[_Stated]:
    """How many Ethernet ports there are."""
    ports = getattr(part, "ethernet", ())
    own = [each for each in ports if not each.management] if isinstance(ports, tuple) else []
    count = sum(len(expanded(each.name)) for each in own)
    return _there(("ethernet",), count or None)


class _Row(NamedTuple):
    sign: str
    """A name without this says nothing, which is found out sooner than by the pattern."""
    pattern: str
    stated: Stated
    read: Callable[[str], Any]


def _in(dimension: type[Quantity], unit: str) -> Callable[[str], Quantity]:
    return lambda number: dimension.of(number, unit)


def _iec(text: str) -> str:
    return f"IEC 60320 {text}"


def _form(text: str) -> str:
    return text.lower().replace(" ", "-")


NUMBER: Final = r"(?<![\w.,/-])(\d+(?:\.\d+)?)\s?"
CAGE: Final = r"Q?SFP(?:\+|28|56|112|-DD800|-DD)?|OSFP|RJ45"
DRIVE_FORM: Final = r"\d\.\d-inch|E3\.[SL](?: 2T)?"
PLUG: Final = r"NEMA L?\d+-\d+P|CEE 7/\d+|BS 1363"
SPEEDS: Final = _both(_field("speed"), _listed("ethernet", "speed"))
CAGES: Final = (_field("form"), _listed("ethernet", "connector"))
ROWS: Final = (
    _Row("W", NUMBER + r"W\b", _listed("outputs", "output"), _in(Power, "W")),
    _Row("DDR", r"\bDDR\d-(\d{4,5})\b", _field("speed"), _in(TransferRate, "MT/s")),
    _Row("Rx", r"\b(\d)(?:S\d)?Rx\d+\b", _field("ranks"), int),
    _Row("Rx", r"\b\d(?:S\d)?Rx(\d+)\b", _field("device_width"), int),
    _Row("PCIe", r"\bPCIe (\d)\.0\b", _both(_generation("pcie"), _carried("pcie")), int),
    _Row("SAS-", r"\bSAS-(\d)\b", _both(_generation("sas"), _carried("sas")), int),
    _Row("GBASE-", r"GBASE-([SLEDFZ]R)\d*\b", _fibre, lambda sort: FIBRES[sort[0]]),
    _Row("DWPD", NUMBER + r"DWPD\b", _field("writes_per_day"), Decimal),
    _Row("mm", NUMBER + r"mm\b", _field("length"), _in(Length, "mm")),
    _Row("m", NUMBER + r"m\b", _both(_field("length"), _field("reach")), _in(Length, "m")),
    _Row("GiB", NUMBER + r"GiB of cache\b", _field("cache"), _in(DataSize, "GiB")),
    _Row("GiB", NUMBER + r"GiB\b", _field("memory"), _in(DataSize, "GiB")),
    _Row("Gbit/s", NUMBER + r"Gbit/s\b", SPEEDS, _in(DataRate, "Gbit/s")),
    _Row("GBASE-", r"\b(\d+)GBASE-", _field("speed"), _in(DataRate, "Gbit/s")),
    _Row("Gbit/s", r"\b(\d+) x \d+ Gbit/s", _ports, int),
    _Row("", rf"\b({CAGE})(?![\w+-])", _word(CAGE, *CAGES), _form),
    _Row("", rf"\b({DRIVE_FORM})(?!\w)", _word(DRIVE_FORM, _field("form")), _form),
    _Row("wide", r"\b(double-wide|two (?:places|slots) wide)\b", _field("places"), lambda _: 2),
    _Row("D", r"\b(NVMe|SAS|SATA) (?:M\.2 )?(?:SSD|HDD)\b", _field("interface"), str.lower),
    _Row("D", r"\b(SSD|HDD)\b", _field("medium"), str.lower),
    _Row("to", r"\b(C\d{1,2}) to\b", _word(r"C\d{1,2}", _field("form")), str),
    _Row("to", r"\bto (C\d{1,2})\b", _word(r"IEC 60320 C\d{1,2}", _field("plug")), _iec),
    _Row("", rf"\b({PLUG})\b", _word(PLUG, _field("plug")), str),
)  # fmt: skip
"""What a name says, where it is declared, and how it is read."""


def named_numbers(part: Part) -> Iterator[Finding]:
    """SG130 for each value of a part of which its name says another."""
    name = str(part.name)
    said_otherwise: dict[str, list[_Stated]] = {}
    for row in ROWS:
        if row.sign not in name:
            continue
        said = {match[1]: match[0].strip() for match in re.finditer(row.pattern, name)}
        if len(said) != 1:
            continue
        ((number, text),) = said.items()
        meant = row.read(number)
        stated = [each for each in row.stated(part) if _comparable(each.value, meant)]
        if not stated or any(_same(each.value, meant) for each in stated):
            continue
        if not part.origin.marked(*stated[-1].path):
            said_otherwise.setdefault(text, []).append(stated[-1])
    for text, values in said_otherwise.items():
        yield _said_otherwise(part, text, *values)


def _said_otherwise(part: Part, text: str, first: _Stated, *others: _Stated) -> Finding:
    """A word of the name, and the values that it is another for: of `1Rx8` there are two."""
    beside = (
        Label(part.origin.at(*e.path), say("another than in the name as well")) for e in others
    )
    return Finding(
        codes.DOUBTFUL_VALUE,
        say("`{name}` is {value}, and the name says {text}",
            name=str(first.path[-1]), value=AsWritten(first.value), text=text),
        Label(part.origin.at(*first.path), say("another than in the name")),
        labels=(Label(part.origin.at("name"), say("the name")), *beside),
        help=say("write the same in both"),
    )  # fmt: skip


def _comparable(value: object, meant: object) -> bool:
    return isinstance(value, type(meant))


ROUNDED: Final = Decimal("0.1")
"""A name may round a number of writes a day. common practice, no source"""


def _same(value: Any, meant: Any) -> bool:
    if isinstance(meant, Decimal):
        return abs(Decimal(value) - meant) <= ROUNDED * meant
    return bool(value == meant)
