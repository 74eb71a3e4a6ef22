"""A pedigree as lines: what is the same of several positions is one."""

from collections.abc import Iterable

from specgen.facts.fact import Declared, Fact
from specgen.grouped import grouped
from specgen.quantity import show

PedigreeLine = tuple[Fact | Declared, tuple[str, ...]]
"""What a fact rests on, and the positions that it is about; none where it is about none."""


def pedigree_lines(inputs: Iterable[Fact | Declared]) -> list[PedigreeLine]:
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
