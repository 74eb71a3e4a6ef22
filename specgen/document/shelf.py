"""The templates of a project: its own first, the shipped ones where it has none of that name."""

from decimal import Decimal
from functools import partial
from pathlib import Path

from specgen.document.loader import project_loader
from specgen.document.shared_texts import texts_of
from specgen.document.template import Templates, plain
from specgen.model import Redundancy
from specgen.quantity import Quantity, show
from specgen.shipped import templates_folder


def _shown(value: object) -> str:
    """How a template prints a value of the model."""
    if isinstance(value, Quantity | Decimal):
        return show(value)
    if isinstance(value, Redundancy):
        return str(value)
    if hasattr(value, "isoformat"):
        return str(value.isoformat())
    return plain(value)


def templates_of(project: Path, language: str = "") -> Templates:
    """The project's own templates first, the shipped ones where it has none of that name.

    Documents are made in a `language`, "" for that of the project.
    """
    shipped = templates_folder()
    return Templates(
        project_loader(project, shipped),
        show=_shown,
        project=project,
        language=language,
        texts=partial(texts_of, shipped, project),
        shipped=shipped,
    )
