"""A pedigree as it is told: what is the same of several positions is told once."""

from collections.abc import Iterable

from specgen.facts.fact import Declared, Fact
from specgen.grouped import grouped
from specgen.quantity import show

Told = tuple[Fact | Declared, tuple[str, ...]]
"""What a fact rests on, and the positions that it is about; none where it is about none."""


def told(inputs: Iterable[Fact | Declared]) -> list[Told]:
    """What a fact rests on, in its order; leaves with one label, value and line are one."""
    return [
        (entries[0], tuple(dict.fromkeys(filter(None, map(_position, entries)))))
        for entries in grouped((_sort(entry), entry) for entry in inputs).values()
    ]


def _sort(entry: Fact | Declared) -> object:
    if isinstance(entry, Fact):
        return entry.key
    return entry.label, show(entry.value), entry.span, entry.assumed


def _position(entry: Fact | Declared) -> str:
    return entry.subject if isinstance(entry, Declared) else ""
