"""What of a project goes out: no draft that nobody asked for, and on a public site nothing that is
for the house alone."""

from collections.abc import Iterable
from dataclasses import replace
from typing import TypeVar

from specgen.document.audience import AUDIENCES, INTERNAL
from specgen.document.template_calls import TemplateCalls
from specgen.load.definitions import Loaded
from specgen.model import Platform, Project

T = TypeVar("T", Project, Platform)


def outgoing(loaded: Loaded, templates: TemplateCalls, *, drafts: bool) -> Loaded:
    """The project less what stays: builds that are drafts, internal documents of a public site."""
    definitions = loaded.definitions
    if definitions is None:
        return loaded
    builds = {
        name: build for name, build in definitions.builds.items() if drafts or build.published
    }
    project, platforms = definitions.project, definitions.platforms
    if definitions.is_public:
        first, *others = project.documents
        project = _with_documents(project, (first, *_told(templates, others)))
        platforms = {
            name: _with_documents(each, _told(templates, each.documents))
            for name, each in platforms.items()
        }
    unchanged = project is definitions.project and platforms == definitions.platforms
    if unchanged and len(builds) == len(definitions.builds):
        return loaded
    left = definitions.with_(project=project, platforms=platforms, builds=builds)
    return replace(loaded, definitions=left)


def _told(templates: TemplateCalls, documents: Iterable[str]) -> tuple[str, ...]:
    """The documents that are not for the house alone."""
    return tuple(each for each in documents if audience_of(templates, each) != INTERNAL)


def audience_of(templates: TemplateCalls, name: str) -> str:
    """Whom the document of a template says it is for, "" where that cannot be read of it."""
    said = [call.args[0] for call in templates.calls(name, ("audience",)) if call.args]
    return next((str(each) for each in said if each in AUDIENCES), "")


def _with_documents(thing: T, documents: tuple[str, ...]) -> T:
    """The project or a platform with these documents; itself where it has no others."""
    if documents == thing.documents:
        return thing
    made = replace(thing, documents=documents)
    object.__setattr__(made, "origin", thing.origin)
    return made
