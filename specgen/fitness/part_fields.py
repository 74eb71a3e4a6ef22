"""What is asked of a part by the name of a field, whatever its kind."""

from dataclasses import fields
from functools import lru_cache
from typing import Any, Final

from specgen.model import Definitions, EthernetPort, Part, SupplyLine, SupplyOutput, expand
from specgen.quantity import Power

# What a cage takes besides its own form.  # common practice, no source
OLDER_FORMS: Final[dict[str, tuple[str, ...]]] = {
    "sfp28": ("sfp+",),
    "sfp56": ("sfp28", "sfp+"),
    "sfp112": ("sfp56", "sfp28", "sfp+"),
    "qsfp56": ("qsfp28",),
    "qsfp112": ("qsfp56", "qsfp28"),
    "qsfp-dd": ("qsfp56", "qsfp28"),
    "qsfp-dd800": ("qsfp-dd", "qsfp112", "qsfp56", "qsfp28"),
}


def can_state(kind: type[Part], path: str) -> bool:
    """Whether parts of a kind have a field, stated or not; asked before many parts are."""
    return hasattr(kind, path.partition(".")[0])


def field_of(part: Part, *paths: str) -> Any:
    """What a part states under a field such as `power.maximum`, the first of several that is
    stated; None where it states none."""
    for path in paths:
        if "." in path:
            value: Any = part
            for step in path.split("."):
                value = getattr(value, step, None)
        else:
            value = getattr(part, path, None)
        if value is not None and not (type(value) is tuple and not value):
            return value
    return None


_FIELDS: dict[type[Any], frozenset[str]] = {}  # by class, read once


def _fields(kind: type[Any]) -> frozenset[str]:
    if kind not in _FIELDS:
        _FIELDS[kind] = frozenset(each.name for each in fields(kind))
    return _FIELDS[kind]


@lru_cache(maxsize=256)
def kinds_with(definitions: Definitions, name: str) -> frozenset[str]:
    """The kinds of which a part can state a field."""
    return frozenset(kind for kind, cls in definitions.kinds.items() if name in _fields(cls))


@lru_cache(maxsize=16)
def resources_of(definitions: Definitions) -> frozenset[str]:
    """The names of all resources that platforms and parts offer."""
    parts, platforms = definitions.parts.values(), definitions.platforms.values()
    brought = {name for part in parts for name in part.brings.offered}
    return frozenset(brought.union(*(each.offered for each in platforms)))


def output_at(ranges: tuple[SupplyOutput, ...], line: SupplyLine | None) -> Power | None:
    """What a supply can give on a line; None outside its ranges.

    Without a line its greatest output counts.
    """
    found = [entry.output for entry in ranges if line is None or entry.holds(line)]
    return max(found, default=None)


def port_at(host: Part | None, name: str) -> EthernetPort | None:
    """The port of an adapter whose cage a position is; `name` is the position's, `OCP.PORT 1`."""
    ports: tuple[EthernetPort, ...] = getattr(host, "ethernet", ())
    if not ports:  # nearly all
        return None
    own = name.rpartition(".")[2]
    return next((port for port in ports if own in expand(port.name)), None)
