"""How what a part has may suit what its place wants."""

from collections.abc import Callable, Sequence
from typing import Any


def equal(wants: Any, has: Any) -> bool:
    """Whether both are the same."""
    return bool(wants == has)


def one_of(wants: Sequence[str], has: Any) -> bool:
    """Whether the part has one of what the place takes."""
    return has in wants


def shares(wants: Sequence[str], has: Sequence[str]) -> bool:
    """Whether both have something in common."""
    return not set(wants).isdisjoint(has)


def at_most(wants: Any, has: Any) -> bool:
    """Whether the part has no more than the place allows; what is of another type is not held
    against it."""
    return type(wants) is not type(has) or bool(has <= wants)


def at_least(wants: Any, has: Any) -> bool:
    """Whether the part has as much as the place asks; what is of another type is not held against
    it."""
    return type(wants) is not type(has) or bool(has >= wants)


def within(order: Sequence[str]) -> Callable[[Any, Any], bool]:
    """Whether the part stands no later in an order than what the place allows."""
    return lambda wants, has: has not in order or order.index(has) <= order.index(wants)
