"""Values that a part does not state, and that all parts alike do: mostly a line that was forgotten.

A fan without airflow takes the sum of all fans with it; a module without a draw weighs nothing in
the sum of powers. Parts are alike that are of one kind, or of one kind and form. Only fields that
every such part has are asked for: what some have and others lack tells nothing.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from specgen.diagnostics import Finding, Label, codes
from specgen.diagnostics.suggest import quoted
from specgen.fitness import field_of
from specgen.fitness.part_fields import can_state
from specgen.messages import say
from specgen.model import Definitions, Part
from specgen.rules.definitions.doubtful.unlike_siblings import groups
from specgen.source import is_marked

ASKED: Final = (
    *("airflow", "noise", "noise_adder", "mass", "power", "power.idle", "power.typical"),
    *("power.maximum", "read", "write", "cache", "input_current", "curve", "load_rating"),
    *("adjusts_from", "adjusts_to", "adds_depth", "memory", "reach", "tdp_limit", "number"),
    *("generation", "connector", "lanes", "height", "length", "ranks", "device_width", "drives"),
    *("random_reads", "random_writes", "writes_per_day", "warranty", "memory_bandwidth", "speed"),
    *("mean_time_between_failures", "vector_clock", "memory_limit", "inlet", "current", "raid"),
    *("form", "key"),
)
"""Fields that are a value of every such part or of none."""
WHERE: Final[Mapping[str, tuple[str, ...]]] = {
    "noise_adder": ("noise", "noise_edition"),
    "power.idle": ("power.maximum",),
    "power.typical": ("power.maximum",),
    "power.maximum": ("power.typical",),
    "cache": ("cores",),
}
"""Fields that only parts with another have: with a table of draws, by the same edition."""
SAME: Final = frozenset({"noise_edition"})
"""Those that have to be alike as well."""
WITHIN: Final[Mapping[str, str]] = {"curve": "outputs"}
"""Fields that can stand in the entries of another instead: a curve of each range."""
FORGOTTEN: Final = 2
"""Who leaves out more describes a part in brief, and means to."""
ENOUGH: Final = 4
"""So many others tell that it is not left out on purpose."""


def unstated(definitions: Definitions) -> Iterator[Finding]:
    """SG226 for what one part lacks and at least four, all others alike, have; once for a part."""
    found: dict[str, tuple[Part, dict[str, list[Part]]]] = {}
    for group in (*groups(definitions, ()).values(), *groups(definitions).values()):
        if len(group) > ENOUGH:
            kind = type(group[0])
            for name in ASKED:
                part = _alone(group, name) if can_state(kind, name) else None
                if part is not None:
                    _, missing = found.setdefault(part.id, (part, {}))
                    if name.split(".")[0] not in missing:
                        missing.setdefault(name, [each for each in group if each is not part])
    for part, missing in found.values():
        if len(missing) <= FORGOTTEN:
            yield _finding(part, missing)


def _alone(group: list[Part], name: str) -> Part | None:
    """The one part of a group that does not state it, where all others do."""
    conditions = WHERE.get(name, ())
    asked = [part for part in group if all(_states(part, other) for other in conditions)]
    sorts: dict[tuple[Any, ...], list[Part]] = {}
    for part in asked:
        key = tuple(field_of(part, other) for other in conditions if other in SAME)
        sorts.setdefault(key, []).append(part)
    way = name.split(".")
    for sort in sorts.values():
        lacking, stating = list[Part](), list[Part]()
        for each in sort:
            (stating if _states(each, name) else lacking).append(each)
        if len(lacking) != 1:
            continue
        # what parts have in common is stated once, and what is left to do is told as that
        if not is_marked(lacking[0].origin.tree) and (
            len({each.origin.at(*way) for each in stating}) >= ENOUGH
        ):
            return lacking[0]
    return None


def _states(part: Part, name: str) -> bool:
    value: Any = field_of(part, name)
    if value is not None and value != "":
        return True
    holder = WITHIN.get(name)
    return holder is not None and any(getattr(e, name) for e in getattr(part, holder, ()))


def _finding(part: Part, missing: Mapping[str, list[Part]]) -> Finding:
    (name, others), *more = missing.items()
    names = [each.rpartition(".")[2] for each in missing]
    way = () if more else name.split(".")[:-1]
    return Finding(
        codes.UNSTATED,
        say("`{part}` states no {fields}", part=part.id, fields=quoted(names, "or")),
        Label(part.origin.at(*way) if way else part.origin.at("id"), say("here it is missing")),
        labels=(Label(others[0].origin.at(*name.split(".")), say("as here")),),
        notes=(say("all other parts of this sort state it"),),
        help=say("write what its data sheet says"),
    )
