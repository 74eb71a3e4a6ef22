"""Values that cannot lie below nothing: power, mass, sizes, rates and the like."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from specgen.diagnostics import Finding, Label, codes
from specgen.messages import AsWritten, say
from specgen.model.pedigree import FieldPath
from specgen.quantity import Magnitude, Voltage
from specgen.source import YamlMapping, span_at

BELOW_NOTHING = ("altitude",)  # what may be negative: a place below the sea
_MINUS = ("-", "\u2212")


def negative_values(value: object, tree: YamlMapping) -> tuple[Finding, ...]:
    """SG113 for values of a definition below zero, but for temperatures, altitudes, voltages."""
    if not _has_minus(tree):
        return ()
    return tuple(
        Finding(
            codes.WRONG_VALUE,
            say(
                "`{path}` is {figure}, which is less than nothing",
                path=path[-1],
                figure=AsWritten(value),
            ),
            Label(span_at(tree, path)),
            help=say("leave the sign out"),
        )
        for path, value in _negatives(value, ())
    )


def _has_minus(node: Any) -> bool:
    for each in node.values() if isinstance(node, dict) else node:
        if each.startswith(_MINUS) if isinstance(each, str) else _has_minus(each):
            return True
    return False


def _negatives(value: Any, path: FieldPath) -> Iterator[tuple[FieldPath, Magnitude]]:
    if isinstance(value, Magnitude):
        signed = isinstance(value, Voltage) or path[-1] in BELOW_NOTHING
        if value.amount < 0 and not signed:
            yield path, value
    elif isinstance(value, Mapping):
        for key, each in value.items():
            yield from _negatives(each, (*path, str(key)))
    elif isinstance(value, tuple | list):
        for index, each in enumerate(value):
            yield from _negatives(each, (*path, index))
    elif is_dataclass(value) and fields(value):
        from specgen.load.validation_errors import field_names  # few values have a minus

        for alias, name in field_names(type(value)).items():
            yield from _negatives(getattr(value, name), (*path, alias))
