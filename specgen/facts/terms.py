"""Fixed words of the model as a reader sees them: each in one place, each a message."""

from collections.abc import Mapping
from dataclasses import is_dataclass
from functools import cache
from typing import Any, Final, Literal, get_args, get_origin, get_type_hints

from specgen.assembly import State
from specgen.facts.fact import Basis
from specgen.messages import Message, Words, say
from specgen.model import KINDS, Platform

STATUS: Final[Mapping[str, Message]] = {
    "planned": say("planned"),
    "active": say("active"),
    "last-time-buy": say("last-time buy"),
    "discontinued": say("discontinued"),
}
"""The life of a part."""
SWAP: Final[Mapping[str, Message]] = {"hot": say("hot-swap"), "cold": say("cold-swap")}
AREA: Final[Mapping[str, Message]] = {
    "front": say("front"),
    "rear": say("rear"),
    "inside": say("inside"),
}
HEIGHT: Final[Mapping[str, Message]] = {"low": say("low profile"), "full": say("full height")}
LENGTH: Final[Mapping[str, Message]] = {
    "half": say("half length"),
    "three-quarter": say("three-quarter length"),
    "full": say("full length"),
}
STATE: Final[Mapping[State, Message]] = {
    State.FILLED: say("filled"),
    State.EMPTY: say("empty"),
    State.UNKNOWN: say("unknown"),
    State.UNUSABLE: say("unusable"),
    State.BLOCKED: say("blocked"),
}
SEVERITY: Final[Mapping[str, Message]] = {
    "error": say("error"),
    "warning": say("warning"),
    "note": say("note"),
}
MEDIUM: Final[Mapping[str, Message]] = {
    "copper": say("copper"),
    "fibre": say("fibre"),
    "pluggable": say("pluggable"),
}
BASIS: Final[Mapping[Basis, Message]] = {
    Basis.DECLARED: say("declared"),
    Basis.MEASURED: say("measured"),
    Basis.CALCULATED: say("calculated"),
    Basis.ESTIMATED: say("estimated"),
    Basis.LIMIT: say("limit"),
}
PROTOCOL: Final[Mapping[str, str]] = {
    "pcie": "PCIe",
    "nvme": "NVMe",
    "sas": "SAS",
    "sata": "SATA",
    "usb": "USB",
    "ssd": "SSD",
    "hdd": "HDD",
}
"""Protocols, interfaces and media as the trade spells them, in every language."""


@cache
def closed_words() -> frozenset[str]:
    """Every word that a field of the shipped model may hold out of a fixed list."""
    found: set[str] = set()
    seen: set[object] = set()

    def read(hint: Any) -> None:
        if get_origin(hint) is Literal:
            found.update(each for each in get_args(hint) if isinstance(each, str))
        elif is_dataclass(hint) and hint not in seen:
            seen.add(hint)
            for each in get_type_hints(hint, include_extras=False).values():
                read(each)
        for each in get_args(hint):
            read(each)

    for kind in (*KINDS.values(), Platform):
        read(kind)
    return frozenset(found)


def closed_word(word: str) -> Words:
    """A word of a field: one out of a fixed list as a message, any other as it is written."""
    return PROTOCOL.get(word) or (Message(word) if word in closed_words() else word)


def worded(words: Mapping[str, Message], word: str) -> Words:
    """A word of the model as a message; one that the table lacks stands as it is."""
    return words.get(word, word)
