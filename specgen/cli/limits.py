"""`specgen limits`."""

import json
from pathlib import Path

import click

from specgen.cli.one_build import asked
from specgen.cli.output import steering_nothing
from specgen.cli.terminal import asked_conditions, in_project, no_such, tell
from specgen.diagnostics import Severity, arrange, worst
from specgen.diagnostics.glyphs import harmless
from specgen.limits import OBJECTIVES, Limit, NoSolver, NotWhole, Solver, Status, TooLarge
from specgen.load import load
from specgen.model import Conditions, Definitions, Platform
from specgen.pipeline import unreadable_rules
from specgen.quantity import plain, split
from specgen.source import read_project


@click.command("limits")
@click.argument("platform")
@in_project
@asked_conditions
@click.option("--only", metavar="KEY", multiple=True, help="One limit alone. May be repeated.")
@click.option("--example", metavar="KEY", help="Print a build that reaches this limit, as YAML.")
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
def command(
    platform: str,
    project: Path,
    at: tuple[str, ...],
    only: tuple[str, ...],
    example: str | None,
    form: str,
) -> int:
    """Find the most and the least that any valid build of PLATFORM reaches.

    Each limit has a build that reaches it and that the checks find sound. `proved` says that no
    valid build goes beyond; `best found`, that none goes beyond the bound.
    """
    definitions, machine = _read(project, platform)
    keys = (example,) if example is not None else (only or tuple(OBJECTIVES))
    for key in keys:
        if key not in OBJECTIVES:
            raise no_such("limit", key, list(OBJECTIVES))
    try:
        limits = _solved(definitions, machine, keys, asked(at))
    except (NoSolver, NotWhole, TooLarge) as problem:
        raise click.ClickException(harmless(str(problem))) from None
    if example is not None:
        return _example(limits[0])
    if form == "json":
        data = {"platform": machine.id, "limits": [_data(limit) for limit in limits]}
        click.echo(steering_nothing(json.dumps(data, indent=1, ensure_ascii=False)))
    else:
        _table(limits)
    return 0


def _read(project: Path, name: str) -> tuple[Definitions, Platform]:
    """The definitions, which must be without errors, and the platform."""
    sources = read_project(project)
    loaded = load(sources)
    findings = arrange([*loaded.findings, *unreadable_rules(loaded)])
    if loaded.definitions is None or worst(findings) is Severity.ERROR:
        tell(findings, sources.texts, project)
        raise click.ClickException("limits want definitions without errors")
    if name not in loaded.definitions.platforms:
        raise no_such("platform", name, sorted(loaded.definitions.platforms))
    return loaded.definitions, loaded.definitions.platforms[name]


def _solved(
    definitions: Definitions, platform: Platform, keys: tuple[str, ...], at: Conditions
) -> list[Limit]:
    solver = Solver(definitions, platform, at)
    return [solver.limit(OBJECTIVES[key]) for key in keys]


def _example(limit: Limit) -> int:
    if limit.build is None:
        raise click.ClickException(f"no valid build was found for `{limit.key}`")
    click.echo(steering_nothing(limit.text), nl=False)
    return 0


def _data(limit: Limit) -> dict[str, object]:
    value, unit = ("", "") if limit.value is None else split(limit.value)
    bound, _ = ("", "") if limit.bound is None else split(limit.bound)
    return {
        "key": limit.key,
        "label": limit.label,
        "most": limit.most,
        "value": value or None,
        "bound": bound or None,
        "unit": unit,
        "status": limit.status.value,
        "rounds": limit.rounds,
        "fit": None
        if limit.build is None
        else {
            name: fill.part if fill.to is None else {"part": fill.part, "to": fill.to}
            for name, fill in limit.build.fit.items()
        },
    }


def _table(limits: list[Limit]) -> None:
    rows = [(limit.label, _words(limit), _status(limit), limit.key) for limit in limits]
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    for label, value, status, key in rows:
        line = f"{label:{widths[0]}}  {value:>{widths[1]}}  {status:{widths[2]}}  {key}"
        click.echo(harmless(line))


def _words(limit: Limit) -> str:
    return "none" if limit.value is None else plain(limit.value)


def _status(limit: Limit) -> str:
    if limit.status is not Status.FOUND or limit.bound is None:
        return str(limit.status)
    side = "at most" if limit.most else "at least"
    return f"{limit.status}, {side} {plain(limit.bound)}"
