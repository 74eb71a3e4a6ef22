"""What of a project goes out: no draft that nobody asked for, and on a public site nothing that is
for the house alone."""

from dataclasses import replace

from specgen.document.audience import AUDIENCES, INTERNAL
from specgen.document.template_calls import TemplateCalls
from specgen.load.definitions import Loaded
from specgen.model import Project


def outgoing(loaded: Loaded, templates: TemplateCalls, *, drafts: bool) -> Loaded:
    """The project less what stays: builds that are drafts, internal documents of a public site."""
    definitions = loaded.definitions
    if definitions is None:
        return loaded
    builds = {
        name: build for name, build in definitions.builds.items() if drafts or build.published
    }
    project = definitions.project
    if definitions.is_public:
        first, *others = project.documents
        told = tuple(each for each in others if audience_of(templates, each) != INTERNAL)
        project = _with_documents(project, (first, *told))
    if project is definitions.project and len(builds) == len(definitions.builds):
        return loaded
    return replace(loaded, definitions=definitions.with_(project=project, builds=builds))


def audience_of(templates: TemplateCalls, name: str) -> str:
    """Whom the document of a template says it is for, "" where that cannot be read of it."""
    said = [call.args[0] for call in templates.calls(name, ("audience",)) if call.args]
    return next((str(each) for each in said if each in AUDIENCES), "")


def _with_documents(project: Project, documents: tuple[str, ...]) -> Project:
    made = replace(project, documents=documents)
    object.__setattr__(made, "origin", project.origin)
    return made
