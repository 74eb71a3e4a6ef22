"""Making and publishing the site, for `site` and `preview` alike."""

import os
from collections.abc import Iterable, Mapping
from functools import partial
from pathlib import Path

from specgen.cli.cache_folder import kept_folder
from specgen.cli.terminal import progress, remembered
from specgen.diagnostics import Finding, Severity, arrange, worst
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import PAGES
from specgen.document.prose.unprinted import unprinted
from specgen.document.shelf import templates_of
from specgen.document.template_calls import tables_in
from specgen.files.scratch import scratch
from specgen.limits.reach import Reach, reaches
from specgen.model import Definitions
from specgen.pipeline import read, systems_of
from specgen.site.assemble import SiteReport, publish_site
from specgen.site.attachments import attachments, write_out
from specgen.site.handwritten import pages_of, rivals
from specgen.site.page_images import PageImages
from specgen.site.pages import make_pages, page_count
from specgen.site.publish import CannotPublish, lost_pages, refuse_foreign
from specgen.site.search import Index
from specgen.site.text_checks import check_texts
from specgen.site.workshop import pictures_in
from specgen.source import Sources


class NothingToPublish(Exception):
    """The site was left as it was; `status` is what the command ends with."""

    def __init__(
        self, message: str, sources: Sources, findings: tuple[Finding, ...], status: int
    ) -> None:
        super().__init__(message)
        self.sources = sources
        self.findings = findings
        self.status = status


def cores() -> int:
    """How many processes can work at once."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:  # not on every system
        return os.cpu_count() or 1


def publish(
    project: Path,
    target: Path,
    jobs: int,
    quiet: bool,
    cache: Path | None = None,
    index: Index | None = None,
    *,
    drafts: bool = False,
) -> tuple[SiteReport, Sources, tuple[Finding, ...]]:
    """The site in place of `target`, the sources and everything found.

    Raises `NothingToPublish` where the project cannot be read, where errors would take pages away
    that are published already, and where the site cannot be written.
    """
    found: list[Finding] = []
    survey = remembered(read(project), found)
    sources, loaded, definitions = survey.sources, survey.loaded, survey.definitions
    if definitions is None:
        raise NothingToPublish("the project cannot be read", sources, survey.findings, 2)
    try:
        refuse_foreign(target.resolve())  # before the work; publishing looks again
        with scratch() as folder:
            reach = _solved(definitions, jobs, quiet)
            count = page_count(project, loaded, reach, drafts=drafts)
            with progress("pages", count, quiet) as done:
                make = partial(make_pages, project, loaded, folder, jobs=jobs, cache=cache)
                made = make(done=done, drafts=drafts, reach=reach, found=found)
            limits = {name: each.facts for name, each in reach.items()}
            tables = partial(tables_in, project)
            subjects = Subjects(
                definitions, systems_of(definitions, found=survey.of_project), limits, tables
            )
            texts, of_texts = check_texts(project, loaded, subjects, made.pages)
            unread = unprinted(texts, templates_of(project), subjects)
            findings = arrange([*survey.findings, *made.findings, *of_texts, *unread])
            wrong = _wrong_pages(findings)
            if worst(findings) is Severity.ERROR:
                lost = (*lost_pages(target, made.pages), *_kept_pages(target, wrong))
                if lost:
                    raise NothingToPublish(_kept(lost, target), sources, findings, 1)
            taken = rivals(texts, made.pages)
            pictures = PageImages(project, folder, subjects)
            left_out = wrong | {each.at.span.file for each in taken}
            by_hand = pages_of(texts, subjects, left_out, pictures)
            attached = attachments(project, made.files)
            findings = arrange(dict.fromkeys([*findings, *taken, *attached.findings]))
            files = {**dict(write_out(attached, folder)), **made.files, **pictures_in(folder)}
            pages = (*made.pages, *by_hand)
            report = publish_site(pages, made.shell, target, files=files, index=index)
    except (CannotPublish, OSError) as problem:
        told = arrange([*survey.findings, *found])
        raise NothingToPublish(_in_the_way(problem), sources, told, 2) from None
    return report, sources, findings


def _solved(definitions: Definitions, jobs: int, quiet: bool) -> Mapping[str, Reach]:
    """What every platform reaches, solved one after the other."""
    reach = reaches(definitions, kept_folder(), jobs)
    with progress("limits", len(reach), quiet) as done:
        for each in reach.values():
            done(len(each.examples[:1]) or 1)  # solves
    return reach


def _in_the_way(problem: CannotPublish | OSError) -> str:
    """Why the site could not be written."""
    if isinstance(problem, CannotPublish):
        return f"Error: {problem.message}. {problem.help}".strip()
    return f"Error: cannot publish: {problem.strerror or problem}"


def _wrong_pages(findings: Iterable[Finding]) -> frozenset[str]:
    """The files of hand-written pages with an error."""
    return frozenset(
        each.at.span.file
        for each in findings
        if each.severity is Severity.ERROR and each.at.span.file.startswith(f"{PAGES}/")
    )


def _kept_pages(target: Path, files: frozenset[str]) -> tuple[str, ...]:
    """The hand-written pages of these files that are published already, as they were."""
    pages = (file.removeprefix(f"{PAGES}/").removesuffix(".md") + ".html" for file in files)
    return tuple(sorted(page for page in pages if (target / page).is_file()))


def _kept(lost: tuple[str, ...], target: Path) -> str:
    """Why the site that was published before stays."""
    named = ", ".join(lost[:4]) + (", …" if lost[4:] else "")
    pages = "1 page" if len(lost) == 1 else f"{len(lost)} pages"
    return (
        f"nothing was published, and {target} is as it was: "
        f"with these errors the site would lose {pages} ({named})"
    )
