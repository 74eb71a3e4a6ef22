"""Things put together by what they have in common, in the order in which they come."""

from collections.abc import Hashable, Iterable
from typing import TypeVar

K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


def grouped(pairs: Iterable[tuple[K, V]]) -> dict[K, list[V]]:
    """The values of each key: `grouped((drive.id, place) for place, drive in fitted)`.

    Keys stand in the order in which they are first met, and so do the values of each.
    """
    groups: dict[K, list[V]] = {}
    for key, value in pairs:
        groups.setdefault(key, []).append(value)
    return groups
