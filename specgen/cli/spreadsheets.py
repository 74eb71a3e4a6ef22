"""Options of commands that write what people open in a spreadsheet program."""

from collections.abc import Callable
from typing import get_args

import click

from specgen.document.case import Case
from specgen.messages.catalogue import language_of, languages
from specgen.model import Paper
from specgen.write.data_forms import Manner


def for_spreadsheets(command: Callable[..., int]) -> Callable[..., int]:
    """The options of forms that people open in a spreadsheet program."""
    paper = click.option(
        "--paper",
        type=click.Choice(get_args(Paper)),
        help="What XLSX is set for; the paper of the project without it.",
    )
    language = click.option(
        "--language",
        type=click.Choice(languages()),
        help="The language of forms for spreadsheets; that of the project without it.",
    )
    return language(paper(command))


def manner_of(case: Case, language: str | None, paper: Paper | None) -> Manner:
    """How forms for spreadsheets are written of a case."""
    project = case.definitions.project
    return Manner(language_of(language or project.language), paper or project.paper)
