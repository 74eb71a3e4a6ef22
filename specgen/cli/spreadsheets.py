"""Options of commands that write what people open in a spreadsheet program."""

from collections.abc import Callable
from typing import get_args

import click

from specgen.document.case import Case
from specgen.messages.catalogue import language_of, languages
from specgen.write.data_forms import Manner
from specgen.write.writer_options import Paper


def for_spreadsheets(command: Callable[..., int]) -> Callable[..., int]:
    """The options of forms that people open in a spreadsheet program."""
    paper = click.option(
        "--paper", type=click.Choice(get_args(Paper)), default="a4", help="What XLSX is set for."
    )
    language = click.option(
        "--language",
        type=click.Choice(languages()),
        help="The language of forms for spreadsheets; that of the project without it.",
    )
    return language(paper(command))


def manner_of(case: Case, language: str | None, paper: Paper) -> Manner:
    """How forms for spreadsheets are written of a case."""
    return Manner(language_of(language or case.definitions.project.language), paper)
