"""How what a part has may suit what its place wants."""

from collections.abc import Callable, Sequence
from typing import Any


def equal(wants: Any, has: Any) -> bool:
    return bool(wants == has)


def one_of(wants: Sequence[str], has: Any) -> bool:
    return has in wants


def shares(wants: Sequence[str], has: Sequence[str]) -> bool:
    return not set(wants).isdisjoint(has)


def at_most(wants: Any, has: Any) -> bool:
    return type(wants) is not type(has) or bool(has <= wants)


def at_least(wants: Any, has: Any) -> bool:
    return type(wants) is not type(has) or bool(has >= wants)


def within(order: Sequence[str]) -> Callable[[Any, Any], bool]:
    return lambda wants, has: has not in order or order.index(has) <= order.index(wants)
