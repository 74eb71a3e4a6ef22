"""A solver's answer as a build, and a build as the YAML an author would write."""

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Final

from specgen.limits.build_model import BuildModel
from specgen.limits.solver import Answer
from specgen.limits.wiring import Wiring
from specgen.model import CONDITIONS, Build, Conditions, Fill, expand, joined_names, natural, nth
from specgen.quantity import Quantity
from specgen.source import YamlMapping, YamlNode, YamlScalar, YamlSequence

_LONGEST: Final = 60
"""Letters of the names of one line: with the part behind them it is read at a glance."""


def build_of(builds: BuildModel, wiring: Wiring, answer: Answer, name: str) -> Build:
    """The build that an answer stands for."""
    fit: dict[str, Fill] = {}
    for seat in builds.seats.values():
        if answer.holds[seat.sits.index] and not seat.node.fixed:
            fit[seat.node.name] = Fill(part=seat.part.id)
    for (index, end), literal in wiring.ends.items():
        node = builds.nodes[index]
        if answer.holds[literal.index] and node.name in fit:
            fit[node.name] = Fill(part=fit[node.name].part, to=end)
    platform = builds.bare.platform
    return Build(
        id=f"{platform.id}-{name}",
        name=f"{platform.name}, example",
        platform=platform.id,
        summary="An example that reaches a limit.",
        fit=dict(_ordered(fit)),
    )


def fills_of(build: Build) -> dict[str, Fill]:
    """What a build puts into each position, by name; of a range of far ends each its own."""
    found: dict[str, Fill] = {}
    for text, fill in build.fit.items():
        names = expand(text)
        for index, name in enumerate(names):
            found[name] = replace(fill, to=nth(fill.to, index, len(names)))
    return found


def joined(build: Build, fills: Mapping[str, Fill]) -> Build:
    """A build with other parts in its positions.

    Its ranges stay where nothing in them changed, and are split where something did; what comes
    in beside them stands below, what is alike on one line.
    """
    before, seen, fit = fills_of(build), set[str](), dict[str, Fill]()
    for text, fill in build.fit.items():
        names = [name for name in expand(text) if name not in seen]
        seen |= set(names)
        if len(names) == len(expand(text)) and all(fills.get(n) == before[n] for n in names):
            fit[text] = fill
        else:
            runs = dict(_runs([name for name in names if name in fills], fills))
            same = len(runs) == 1 and {*expand(next(iter(runs)))} == {*expand(text)}
            fit |= {text: fills[names[0]]} if same else runs
    new = (name for name in fills if name not in before)
    return replace(build, fit=fit | dict(_runs(sorted(new, key=natural), fills)))


def _ordered(fit: dict[str, Fill]) -> Iterator[tuple[str, Fill]]:
    """By host, then by number, positions with the same part on one line."""
    return _runs(sorted(fit, key=natural), fit)


def _runs(names: Iterable[str], fit: Mapping[str, Fill]) -> Iterator[tuple[str, Fill]]:
    """Names with the same part on one line, in the order in which they begin."""
    alike: dict[tuple[Fill, str], list[str]] = {}
    given = list(names)
    for name in given:  # what has a far end stands by itself
        alike.setdefault((fit[name], name if fit[name].to else ""), []).append(name)
    found = {
        expand(text)[0]: (text, fill)
        for (fill, _), own in alike.items()
        for text in joined_names(own, _LONGEST)
    }
    yield from (found[name] for name in given if name in found)


def text_of(build: Build, at: Conditions) -> str:
    """A build as YAML; `at` are the conditions that it was asked for."""
    lines = [
        "# yaml-language-server: $schema=../.schemas/build.json",
        f"id: {build.id}",
        f"name: {_quoted(build.name)}",
        f"platform: {build.platform}",
        f"summary: {_quoted(build.summary)}",
    ]
    stated = [(name, getattr(at, name)) for name in CONDITIONS]
    known = [(name, value) for name, value in stated if value is not None]
    if known:
        lines.append("conditions:")
        lines += [f"  {name}: {_condition(value)}" for name, value in known]
    lines += _fit(build.fit)
    return "\n".join(lines) + "\n"


def _fit(fit: Mapping[str, Fill]) -> list[str]:
    if not fit:
        return ["fit: {}"]
    return ["fit:", *(f"  {name}: {written(fill)}" for name, fill in fit.items())]


def written(fill: Fill) -> str:
    """What stands behind a position in YAML."""
    return fill.part if fill.to is None else f"{{part: {fill.part}, to: {fill.to}}}"


def anew(tree: YamlMapping, fit: Mapping[str, Fill]) -> str:
    """A build as YAML, with all that is said of it, and other parts; written out where it is like
    another."""
    lines = ["# yaml-language-server: $schema=../.schemas/build.json"]
    for key, node in tree.items():
        if key in ("like", "without"):
            continue
        if key == "fit":
            lines += _fit(fit)
        else:
            lines += _block(f"{key}:", node)
    return "\n".join(lines) + "\n"


def _block(head: str, node: YamlNode, indent: str = "") -> Iterator[str]:
    """A value below or behind its key, or behind the dash of a list."""
    if isinstance(node, YamlScalar):
        bare = node.plain and "\n" not in node
        yield f"{indent}{head} {node if bare else _quoted(node)}".rstrip()
        return
    if not node:
        yield f"{indent}{head} {'{}' if isinstance(node, YamlMapping) else '[]'}"
        return
    inner = [line for key, each in _members(node) for line in _block(key, each, indent + "  ")]
    if head == "-":
        yield f"{indent}- {inner.pop(0).lstrip()}"
    else:
        yield indent + head
    yield from inner


def _members(node: YamlSequence | YamlMapping) -> Iterator[tuple[str, YamlNode]]:
    if isinstance(node, YamlMapping):
        yield from ((f"{key}:", each) for key, each in node.items())
    else:
        yield from (("-", each) for each in node)


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _condition(value: object) -> str:
    if isinstance(value, Quantity):
        number = value.in_unit(value.unit.symbol)
        return f"{number:f} {value.unit.symbol}"
    return _quoted(value) if type(value) is str else str(value)
