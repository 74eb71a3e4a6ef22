"""Builds as a command line names an order of them: `NAME`, or `NAME=COUNT`."""

import re
from pathlib import Path
from typing import Final

import click

from specgen.cli.one_build import asked, findings_about, one_build
from specgen.cli.terminal import print_findings
from specgen.diagnostics.glyphs import harmless
from specgen.document.case import Case
from specgen.pipeline import case_of, held_back

MOST: Final = 1_000_000
_ORDER = re.compile(r"(?P<build>.+?)(?:=(?P<count>.*))?\Z", re.DOTALL)


def orders_of(
    builds: tuple[str, ...], project: Path, at: tuple[str, ...] = ()
) -> list[tuple[Case, int]] | None:
    """The builds asked for, under conditions; None where one has errors, which have been told."""
    wanted: dict[str, int] = {}
    for text in builds:
        name, count = _order(text)
        wanted[name] = wanted.get(name, 0) + count
    found, case = one_build(project, next(iter(wanted)), at)
    definitions = found.definitions
    orders: list[tuple[Case, int]] = []
    sound = True
    for name, count in wanted.items():
        build = definitions.builds.get(name) if definitions is not None else None
        if case.build is not build or build is None:
            made = case_of(definitions, build, asked(at)) if definitions and build else None
            made = None if made is None else held_back(made, found.of_project)
            if made is None or not made.sound:  # read again for all there is to tell
                found, made = one_build(project, name, at)
        else:
            made = case
        if not made.sound:
            print_findings(findings_about(found, name), found.sources.texts, project)
            sound = False
        orders.append((made, count))
    return orders if sound else None


def _order(text: str) -> tuple[str, int]:
    match = _ORDER.match(text)
    count = "1" if match is None or match["count"] is None else match["count"]
    if match is None or not re.fullmatch(r"[1-9][0-9]{0,6}", count) or int(count) > MOST:
        name = text.partition("=")[0] or "NAME"
        message = harmless(f"`{text}` needs a whole number after `=`, such as `{name}=3`")
        raise click.UsageError(message)
    return match["build"], int(count)
