"""The kinds of part that commands know: those of the project at hand, else the shipped ones."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click
from click.shell_completion import CompletionItem

from specgen.model import KINDS, Part
from specgen.pipeline import read
from specgen.source import PROJECT_FILE, NoProject, find_project


def kinds_above(folder: Path) -> Mapping[str, type[Part]]:
    """The kinds of the project that a folder lies in; the shipped ones where it lies in none."""
    here = folder.resolve()
    home = next((each for each in (here, *here.parents) if (each / PROJECT_FILE).is_file()), None)
    return KINDS if home is None else _kinds_of(home)


def complete_kind(ctx: click.Context, _: click.Parameter, begun: str) -> list[CompletionItem]:
    """What a shell offers for a kind of part."""
    chosen: Any = ctx.params.get("project")
    try:
        kinds = _kinds_of(find_project(str(chosen) if chosen else None))
    except NoProject:
        kinds = KINDS
    return [
        CompletionItem(name, help=cls.title)
        for name, cls in kinds.items()
        if name.startswith(begun)
    ]


def _kinds_of(project: Path) -> Mapping[str, type[Part]]:
    definitions = read(project).definitions
    return KINDS if definitions is None else definitions.kinds
