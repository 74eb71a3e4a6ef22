"""Where the default templates and the site's theme lie.

An installed wheel carries them inside the package (`specgen/_shipped/`); a checkout has them beside
the package (`templates/`, `site/`), where they are easy to find and to edit.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Final

from specgen.files.gate import files

_BUILD: Final = frozenset({"build"})
_SYSTEM: Final = frozenset({"build", "platform"})
_PROJECT: Final = frozenset({"project"})
ABOUT: Final[Mapping[str, frozenset[str]]] = {
    "sheet": _BUILD,
    "engineering": _BUILD,
    "site-preparation": _BUILD | {"order"},
    "parts-list": _SYSTEM | {"order"},
    "guide": _SYSTEM,
    "contact-sheet": frozenset({"platform"}),
    "information": _SYSTEM,
    "presenters-brief": _SYSTEM,
    "review": _SYSTEM,
    "service-guide": _SYSTEM,
    "platform": frozenset({"platform"}),
    "comparison": frozenset({"comparison"}),
    "part": frozenset({"part"}),
    "findings": frozenset({"findings"}),
    "start": _PROJECT,
    "platforms": _PROJECT,
    "builds": _PROJECT,
    "parts": _PROJECT,
}
"""What a template of each name may be about; one of any other name is about what asks for it."""

_PACKAGE = Path(__file__).resolve().parent


def _shipped(name: str) -> Path:
    installed = _PACKAGE / "_shipped" / name
    return installed if installed.is_dir() else _PACKAGE.parent / name


def templates_folder() -> Path:
    """The default Markdown templates of documents."""
    return _shipped("templates")


SHIPPED: Final = "shipped"
"""What a template of a project's says before the name of one of ours: `shipped/sheet.md`."""


def own_templates(project: Path) -> Path:
    """The folder of a project's own templates, which need not be there."""
    return project / "templates"


def documents_about(subject: str, project: Path) -> tuple[str, ...]:
    """The templates, by their names, that may be about a `build`, a `platform` or an `order`."""
    return tuple(name for name in template_names(project) if subject in ABOUT.get(name, {subject}))


def template_names(project: Path) -> tuple[str, ...]:
    """What templates there are, the project's own and the shipped ones, without their `.md`."""
    ours, own = templates_folder(), own_templates(project)
    names = {path.relative_to(ours).as_posix() for path in ours.rglob("*.md")}
    names |= {path.relative_to(own).as_posix() for path in files(project, own.name, (".md",))}
    return tuple(sorted(name.removesuffix(".md") for name in names))


def site_folder() -> Path:
    """The base configuration of the site (`mkdocs.yml`) and the theme (`theme/`)."""
    return _shipped("site")


def manual_folder() -> Path:
    """The project whose pages are the manual."""
    return site_folder() / "manual"


def theme_folder() -> Path:
    """The theme: `main.html`, and `css/`, `js/`, `img/`, which are copied into every site."""
    return site_folder() / "theme"


def document_style() -> Path:
    """The style sheet of documents. It stands alone, so that a mailed sheet can carry it inside."""
    return theme_folder() / "css" / "document.css"


def print_folder() -> Path:
    """What printed documents are set with: `document.typ`, `columns.typ`, fonts in `fonts/`."""
    return site_folder() / "print"


def languages_folder() -> Path:
    """The messages of the default templates in other languages, a `.po` file for each."""
    return templates_folder() / "languages"
