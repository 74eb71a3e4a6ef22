"""The order of the stages: read, load, then for each build assemble, calculate, judge.

A newcomer's second page. Documents and the site go on from here.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from specgen.diagnostics import Finding, Label, arrange, codes, did_you_mean, question
from specgen.document.case import Case, case_of
from specgen.document.documents import templates_of
from specgen.document.prose import Prose, Subjects, check_prose, read_texts
from specgen.load import Loaded, load
from specgen.model import ANYWHERE, Conditions, Definitions
from specgen.rules.declared import rule_book
from specgen.rules.positions import unknown_positions
from specgen.shipped import templates_folder
from specgen.site.handwritten import dead_links
from specgen.site.page import Page
from specgen.source import PROJECT_FILE, Sources, lasting, read_project


@dataclass(frozen=True, slots=True)
class Survey:
    """A project read, resolved and checked. `definitions` is None where nothing could be read."""

    root: Path
    sources: Sources
    loaded: Loaded
    cases: Mapping[str, Case]
    unknown: tuple[Finding, ...] = ()

    @property
    def definitions(self) -> Definitions | None:
        return self.loaded.definitions

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything found, in all files."""
        of_builds = [found for case in self.cases.values() for found in case.findings]
        return arrange([*self.loaded.findings, *self.unknown, *of_builds])


def survey(root: Path, only: str | None = None, at: Conditions = ANYWHERE) -> Survey:
    """The whole project, or one of its builds; `at` goes before the conditions declared."""
    with lasting():
        sources = read_project(root)
        loaded = load(sources)
    cases: dict[str, Case] = {}
    if loaded.definitions is not None:
        for name, build in loaded.definitions.builds.items():
            if only is None or name == only:
                case = case_of(loaded.definitions, build, at)
                if case is not None:
                    cases[name] = case
    unknown = (*unknown_documents(root, loaded), *misnamed(loaded))
    return Survey(root, sources, loaded, cases, unknown)


def check_texts(
    root: Path, loaded: Loaded, subjects: Subjects, made: Sequence[Page] | None = None
) -> tuple[tuple[Prose, ...], tuple[Finding, ...]]:
    """The texts of a project and what is wrong with them; `made` are its pages, where there are.

    Names that may stand in unreadable files are not told.
    """
    texts, found = read_texts(root)
    findings = [*found, *check_prose(texts, subjects), *dead_links(root, texts, subjects, made)]
    if loaded.findings:
        doubtful = (codes.UNKNOWN_REFERENCE, codes.UNKNOWN_SUBJECT, codes.DEAD_LINK)
        findings = [each for each in findings if each.code not in doubtful]
    return texts, arrange(findings)


def misnamed(loaded: Loaded) -> tuple[Finding, ...]:
    """Declared rules that cannot be read, and positions named that no machine has.

    Names that may stand in unreadable files are not told.
    """
    if loaded.definitions is None:
        return ()
    book = rule_book(loaded.definitions)
    if loaded.findings:
        return book.findings
    return (*book.findings, *book.doubtful, *unknown_positions(loaded.definitions))


def unknown_documents(root: Path, loaded: Loaded) -> tuple[Finding, ...]:
    """Documents that the project wants published and no template makes."""
    if loaded.definitions is None:
        return ()
    project = loaded.definitions.project
    known = templates_of(root, templates_folder()).names()
    return tuple(
        Finding(
            codes.UNKNOWN_DOCUMENT,
            f"no template is named `{name}.md`",
            Label(project.origin.at("documents", number), "nothing makes this document"),
            help=question(did_you_mean(name, known))
            or f"write `templates/{name}.md` beside {PROJECT_FILE}",
        )
        for number, name in enumerate(project.documents)
        if name not in known
    )
