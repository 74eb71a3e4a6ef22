"""Where templates are read from: folders of ours, and the project's own through the gate."""

from collections.abc import Callable
from pathlib import Path

from jinja2 import (
    BaseLoader,
    ChoiceLoader,
    Environment,
    FileSystemLoader,
    PrefixLoader,
    TemplateNotFound,
)
from jinja2.loaders import split_template_path

from specgen.files.gate import NotOpened, files, read
from specgen.shipped import SHIPPED, own_templates


def folders(*paths: Path) -> BaseLoader:
    """Reads templates from folders of ours, the first that has the name."""
    return ChoiceLoader([FileSystemLoader(path) for path in paths])


def project_loader(project: Path, *shipped: Path) -> BaseLoader:
    """Reads a project's own templates, and shipped ones where it has none of that name.

    A template of the project's can extend the shipped one that it stands for, `shipped/sheet.md`.
    """
    ours = folders(*shipped)
    return ChoiceLoader([_OfProject(project), ours, _ToExtend({SHIPPED: ours})])


class _ToExtend(PrefixLoader):
    """What a template may extend, and what is no document by itself."""

    def list_templates(self) -> list[str]:
        return []


class _OfProject(BaseLoader):
    """The templates of a project: what the gate refuses is not there."""

    def __init__(self, project: Path) -> None:
        self.project = project
        self.folder = own_templates(project)

    def get_source(
        self,
        environment: Environment,  # noqa: ARG002  # as Jinja2 calls it
        template: str,
    ) -> tuple[str, str | None, Callable[[], bool] | None]:
        path = self.folder.joinpath(*split_template_path(template))
        try:
            text = read(self.project, path).decode("utf-8")
        except NotOpened:
            raise TemplateNotFound(template) from None
        return text, str(path), None

    def list_templates(self) -> list[str]:
        found = files(self.project, self.folder.relative_to(self.project).as_posix())
        return [path.relative_to(self.folder).as_posix() for path in found]
