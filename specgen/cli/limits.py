"""`specgen limits`."""

import json
import os
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from pathlib import Path
from textwrap import indent

import click

from specgen.cli.one_build import asked
from specgen.cli.terminal import (
    asked_conditions,
    in_project,
    no_such,
    planned_too,
    print_findings,
    remembered,
)
from specgen.cli.written_output import steering_nothing
from specgen.diagnostics import Severity, worst
from specgen.diagnostics.glyphs import harmless
from specgen.facts.fact_data import bare, exact_of, json_value
from specgen.limits.argument import Conflict
from specgen.limits.closure import TooLarge
from specgen.limits.conflict import MANY, binding
from specgen.limits.left_out import LeftOut
from specgen.limits.limit import Limit, Status
from specgen.limits.limit_tables import AXES, SETS_CONDITION, LimitsAtChoice, choices, table_of
from specgen.limits.near_wish import NearBuild
from specgen.limits.objectives import objectives_of, printed
from specgen.limits.reason import FEW, Reason, by_sort
from specgen.limits.shortfall import Shortfall
from specgen.limits.solve import Solver
from specgen.limits.solver import NoSolver, NotIntegral
from specgen.limits.wish import Wish, granted
from specgen.messages import Capital, Message
from specgen.model import Conditions, Definitions, Platform
from specgen.pipeline import read
from specgen.quantity import plain, show
from specgen.rules.unread_conditions import unread

UNMET = 1


@click.command("limits")
@click.argument("platform")
@in_project
@asked_conditions
@planned_too
@click.option("--only", metavar="KEY", multiple=True, help="One limit alone. May be repeated.")
@click.option("--example", metavar="KEY", help="Print a build that reaches this limit, as YAML.")
@click.option("--why", metavar="KEY", help="What keeps this limit from being passed.")
@click.option("--by", type=click.Choice(list(AXES)), help="The limits for each of some choices.")
@click.option(
    "--want", metavar="CONDITION", help="A build for a condition, or what stands in its way."
)
@click.option(
    "--format", "form", type=click.Choice(["text", "json"]), default="text", help="How to print."
)
def command(
    platform: str,
    project: Path,
    at: tuple[str, ...],
    planned: bool,
    only: tuple[str, ...],
    example: str | None,
    why: str | None,
    by: str | None,
    want: str | None,
    form: str,
) -> int:
    """Find the most and the least that any valid build of PLATFORM reaches.

    Each limit has a build that reaches it and that the checks find sound. `proved` says that no
    valid build goes beyond; `best found`, that none goes beyond the bound.

    Only parts are used that can be ordered on the project's date.

    A condition is written as in declared rules: --want "drives.count >= 12".
    Exit status: 0 found, 1 no build meets the condition, 2 could not read.
    """
    if sum(each is not None for each in (example, why, by, want)) > 1:
        raise click.UsageError("one of --example, --why, --by and --want at a time")
    definitions, builds = _read(project, platform)
    if planned:
        definitions = definitions.with_planned()
    conditions = _asked(at, definitions, by)
    one = example or why
    known = objectives_of(definitions)
    keys = (one,) if one is not None else (only or tuple(known))
    for key in keys:
        if key not in known:
            raise no_such("limit", key, list(known))
    with _as_usage_error():
        if want is not None:
            return _wish(definitions, builds, want, conditions, form)
        if by is not None:
            rows = list(
                choices(
                    Solver(definitions, builds, conditions),
                    by,
                    only or printed(definitions, builds),
                    shown=form == "json",
                )
            )
            return _rows(rows, form)
        shown = example is not None or (why is None and form == "json")
        jobs = os.cpu_count() or 1
        limits = table_of(definitions, builds, keys, conditions, jobs, shown=shown)
        if example is not None:
            return _example(limits[0])
        if why is not None:
            return _why(limits[0], binding(definitions, builds, limits[0], conditions), form)
    if form == "json":
        _print({"platform": builds.id, "limits": [_data(limit) for limit in limits]})
    else:
        _table(limits)
    return 0


def _asked(at: tuple[str, ...], definitions: Definitions, by: str | None) -> Conditions:
    """The conditions of `--at`; refuses what would change nothing, or what `--by` sets itself."""
    conditions = asked(at)
    for name in unread(definitions, conditions):
        raise click.UsageError(
            f"--at: `{name}` changes no limit: no check and no rule of the project reads it; "
            "`specgen facts BUILD --at` works out what rests on it"
        )
    sets = SETS_CONDITION.get(by or "")
    if sets is not None and getattr(conditions, sets) is not None:
        raise click.UsageError(f"--at: `--by {by}` goes through values of `{sets}` itself")
    return conditions


@contextmanager
def _as_usage_error() -> Iterator[None]:
    """What keeps the solver from answering, as a message."""
    try:
        yield
    except (NoSolver, NotIntegral, TooLarge) as problem:
        raise click.ClickException(harmless(str(problem))) from None


def _read(project: Path, name: str) -> tuple[Definitions, Platform]:
    """The definitions, which must be without errors, and the platform."""
    found = remembered(read(project))
    definitions = found.definitions
    if definitions is None or worst(found.of_project) is Severity.ERROR:
        print_findings(found.of_project, found.sources.texts, project)
        raise click.ClickException("limits want definitions without errors")
    if name not in definitions.platforms:
        raise no_such("platform", name, sorted(definitions.platforms))
    return definitions, definitions.platforms[name]


def _example(limit: Limit) -> int:
    if limit.build is None:
        raise click.ClickException(f"no valid build was found for `{limit.key}`")
    click.echo(steering_nothing(limit.text), nl=False)
    return 0


def _wish(
    definitions: Definitions, platform: Platform, text: str, at: Conditions, form: str
) -> int:
    wish, findings = granted(definitions, platform, text, at)
    if wish is None:
        message = "; ".join(f"{each.message}" + (f": {each.help}" if each.help else "")
                         for each in findings)  # fmt: skip
        raise click.UsageError(harmless(f"--want: {message}"))
    if form == "json":
        fit = None if wish.build is None else _fit(wish.build.fit)
        _print({"platform": platform.id, "met": wish.build is not None, "fit": fit,
                "reached": _of_short(wish.short),
                "left_out": [_of_left_out(each) for each in wish.left_out],
                "conflict": _of_conflict(wish.conflict),
                "near": [_of_near(each) for each in wish.near]})  # fmt: skip
    else:
        _print_wish(platform, wish)
    return 0 if wish.build is not None else UNMET


def _print_wish(platform: Platform, wish: Wish) -> None:
    if wish.build is not None:
        click.echo(steering_nothing(wish.text), nl=False)
    elif wish.ruled_out:
        if wish.nothing:
            click.echo(harmless(f"No build of {platform.name} is valid here, whatever is wished."))
        else:
            click.echo(harmless(f"No build of {platform.name} meets this."))
        if wish.short is not None:
            click.echo(harmless(f"{Capital(wish.short.words)}."))
        if wish.left_out:
            click.echo("Parts that would count and cannot be fitted:")
        for each in wish.left_out:
            click.echo(harmless(f"  {each.words}"))
        nothing_else = wish.conflict is not None and not wish.conflict.reasons
        if not (nothing_else and wish.left_out):
            _print_conflict(wish.conflict)
        if nothing_else:
            click.echo("Conditions are taken as given; --at asks for others.")
    else:
        click.echo(harmless(f"No build of {platform.name} was found in time, and none ruled out."))
    if wish.near:
        click.echo("Nearest builds that pass the checks:")
    for near in wish.near:
        click.echo(harmless(f"  {'; '.join(str(each.words) for each in near.given_up)}:"))
        click.echo(indent(steering_nothing(near.text), "      "), nl=False)


def _print_conflict(conflict: Conflict | None) -> None:
    if conflict is None:
        click.echo("What stands in its way could not be narrowed down in time.")
        return
    if not conflict.reasons:
        click.echo(
            "No part that a position takes comes near it, "
            f"not with {MANY} more positions of each sort."
        )
        return
    if len(conflict.reasons) == 1:
        click.echo("This stands in its way:")
    elif conflict.tried:
        click.echo("These stand in its way together; without any one, the others would not:")
    else:
        click.echo("These stand in its way together; in the time given not each was tried without:")
    if len(conflict.reasons) > FEW:
        for heading, reasons in by_sort(conflict.reasons):
            _print_sort(heading, reasons, conflict.alone)
    else:
        _print_reasons(conflict.reasons, conflict.alone)
    if conflict.together:
        click.echo("To change that is not enough; together these are, and no fewer:")
        _print_reasons(conflict.together)


def _print_reasons(reasons: tuple[Reason, ...], alone: Collection[Reason] = ()) -> None:
    """One by one, each with its place; that it is enough `alone` is said where there are others."""
    for reason in reasons:
        code = f"{reason.code} " if reason.code else ""
        mark = "  (enough to change by itself)" if reason in alone else ""
        click.echo(harmless(f"  {code}{reason.words}{mark}"))
        click.echo(harmless(f"      {reason.at.shown}"))


def _print_sort(heading: Message, reasons: tuple[Reason, ...], alone: Collection[Reason]) -> None:
    """Reasons of one sort; names in a line, of those that would do by themselves first."""
    named = [reason for reason in reasons if reason.short]
    for words, found in (
        ("one more would do", [each for each in named if each in alone]),
        ("with others", [each for each in named if each not in alone]),
    ):
        if found:
            entries = "; ".join(dict.fromkeys(str(each.short) for each in found))
            click.echo(harmless(f"  {heading} ({words}): {entries}"))
    others = [reason for reason in reasons if not reason.short]
    if others:
        click.echo(harmless(f"  {heading}:"))
    for reason in others:
        code = f"{reason.code} " if reason.code else ""
        mark = "  (enough to change by itself)" if reason in alone else ""
        click.echo(harmless(f"    {code}{reason.words}{mark}, {reason.at.shown}"))


def _why(limit: Limit, conflict: Conflict | None, form: str) -> int:
    if form == "json":
        _print({"limit": _data(limit), "conflict": _of_conflict(conflict)})
        return 0
    click.echo(harmless(f"{limit.label}: {_words(limit)}, {_status(limit)}"))
    _print_conflict(conflict)
    return 0


def _rows(rows: list[LimitsAtChoice], form: str) -> int:
    if form == "json":
        _print([{"given": row.choice, "limits": [_data(each) for each in row.limits]}
                for row in rows])  # fmt: skip
        return 0
    if not rows:
        raise click.ClickException("no build of the platform has any of these")
    differ = [index for index, _ in enumerate(rows[0].limits) if len(set(_column(rows, index))) > 1]
    if differ:
        labels = ["", *(str(rows[0].limits[index].label) for index in differ)]
        cells = [[row.choice, *(_words(row.limits[index]) for index in differ)] for row in rows]
        _columns([labels, *cells], first=str.ljust)
    same = [
        f"{str(limit.label).lower()} {_words(limit)}"
        for index, limit in enumerate(rows[0].limits)
        if index not in differ
    ]
    if same:
        click.echo(harmless(f"The same for all: {', '.join(same)}"))
    return 0


def _column(rows: list[LimitsAtChoice], index: int) -> list[str]:
    return [_words(row.limits[index]) for row in rows]


def _columns(rows: list[list[str]], first: Callable[[str, int], str]) -> None:
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        rest = (cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))
        click.echo(harmless("  ".join((first(row[0], widths[0]), *rest)).rstrip()))


def _print(data: object) -> None:
    click.echo(steering_nothing(json.dumps(data, indent=1, ensure_ascii=False)))


def _of_conflict(conflict: Conflict | None) -> dict[str, object] | None:
    if conflict is None:
        return None
    return {
        "reasons": [
            {**_reason(each), "alone": each in conflict.alone} for each in conflict.reasons
        ],
        "together": [_reason(each) for each in conflict.together],
    }


def _of_short(short: Shortfall | None) -> dict[str, object] | None:
    if short is None:
        return None
    value, unit = bare(short.reached)
    return {"words": str(short.words), "value": json_value(value), "unit": unit}


def _of_left_out(found: LeftOut) -> dict[str, object]:
    return {"parts": [each.id for each in found.parts], "words": str(found.words)}


def _of_near(found: NearBuild) -> dict[str, object]:
    return {
        "given_up": [
            {"demand": each.text, "has": json_value(value), "unit": unit}
            for each in found.given_up
            for value, unit in (bare(each.has),)
        ],
        "fit": _fit(found.build.fit),
    }


def _reason(reason: Reason) -> dict[str, object]:
    return {
        "sort": reason.sort.value,
        "code": reason.code or None,
        "words": str(reason.words),
        "file": reason.at.file,
        "line": reason.at.line,
    }


def _fit(fit: object) -> dict[str, object]:
    assert isinstance(fit, dict)
    return {
        name: fill.part if fill.to is None else {"part": fill.part, "to": fill.to}
        for name, fill in fit.items()
    }


def _data(limit: Limit) -> dict[str, object]:
    value, unit = bare(limit.value)
    return {
        "key": limit.key,
        "label": str(limit.label),
        "most": limit.most,
        "value": json_value(value),
        "exact": json_value(exact_of(limit.value)),
        "bound": json_value(bare(limit.bound)[0]),
        "exact_bound": json_value(exact_of(limit.bound)),
        "unit": unit,
        "shown": None if limit.value is None else show(limit.value),
        "status": limit.status.value,
        "rounds": limit.rounds,
        "fit": None if limit.build is None else _fit(limit.build.fit),
    }


def _table(limits: tuple[Limit, ...]) -> None:
    rows = [(str(limit.label), _words(limit), _status(limit), limit.key) for limit in limits]
    widths = [max(len(row[column]) for row in rows) for column in range(3)]
    for label, value, status, key in rows:
        line = f"{label:{widths[0]}}  {value:>{widths[1]}}  {status:{widths[2]}}  {key}"
        click.echo(harmless(line))


def _words(limit: Limit) -> str:
    return "none" if limit.value is None else plain(limit.value)


def _status(limit: Limit) -> str:
    if limit.status is not Status.FOUND or limit.bound is None:
        return str(limit.status)
    side, bound = "max." if limit.most else "min.", plain(limit.bound)
    alike = " when rounded" if limit.value is not None and bound == plain(limit.value) else ""
    return f"{limit.status}, {side} {bound}{alike}"
