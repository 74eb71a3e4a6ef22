"""One build to its page; the unit of work that several processes share out.

A worker process reads the project once for itself, unless it was forked from a process that had.
What comes back is small: the page's HTML waits in a file.
"""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, replace
from multiprocessing import get_all_start_methods, get_context
from pathlib import Path

from specgen.diagnostics import Finding, arrange
from specgen.document.case import Case, case_of
from specgen.document.documents import (
    findings_document,
    machine_document,
    templates_of,
)
from specgen.document.pictures import pictures
from specgen.document.template import Templates
from specgen.document.tree import Document
from specgen.drawings import Engine
from specgen.facts import Facts
from specgen.load import Loaded, load
from specgen.model import Definitions
from specgen.shipped import templates_folder
from specgen.site.addresses import address, resolver
from specgen.source import lasting, read_project
from specgen.write.html import body

BRIEF = ("processors.cores", "memory.capacity", "storage.raw", "power.maximum")


@dataclass(frozen=True, slots=True)
class Workshop:
    """What every page needs: definitions, templates, the drawing engine, the known pages."""

    loaded: Loaded
    definitions: Definitions
    templates: Templates
    engine: Engine
    known: frozenset[str]
    scratch: Path

    def write(self, document: Document, path: str) -> Path:
        """The document's HTML in a file beside the others, links made for the page at `path`."""
        target = self.scratch / path
        target.parent.mkdir(parents=True, exist_ok=True)
        text = body(document, resolver(self.known, path))
        target.write_text(text, encoding="utf-8", newline="\n")
        return target


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one build: the figures that lists show, what it uses, its documents.

    `pages` are (path, title, file of the HTML); the first is the build's own page.
    """

    name: str
    title: str
    summary: str
    pages: tuple[tuple[str, str, Path], ...]
    facts: Facts
    sound: bool
    findings: tuple[Finding, ...]
    uses: tuple[tuple[str, tuple[str, ...]], ...]


def workshop(root: Path, loaded: Loaded, scratch: Path, cache: Path | None) -> Workshop:
    """The workshop of a project that could be read."""
    definitions = loaded.definitions
    assert definitions is not None
    known = [
        *(f"part:{name}" for name in definitions.parts),
        *(f"platform:{name}" for name in definitions.platforms),
        *(f"build:{name}" for name in (*definitions.builds, *loaded.unreadable_builds)),
        *(
            f"build:{name}/{document}"
            for name in definitions.builds
            for document in definitions.project.documents[1:]
        ),
    ]
    pages = frozenset(filter(None, map(address, known)))
    templates = templates_of(root, templates_folder())
    return Workshop(loaded, definitions, templates, Engine(folder=cache), pages, scratch)


def build_page(shop: Workshop, name: str) -> Outcome:
    """Resolves a build and writes its documents, or a page of findings where it has errors."""
    build = shop.definitions.builds.get(name)
    case = None if build is None else case_of(shop.definitions, build)
    found: list[Finding] = [] if case is None else list(case.findings)
    pages: list[tuple[str, str, Path]] = []
    title = name if build is None else build.name
    if case is not None and case.sound:
        for number, document in enumerate(shop.definitions.project.documents):
            path = f"builds/{name}.html" if number == 0 else f"builds/{name}/{document}.html"
            made = _document(shop, case, document, path, found)
            if made is not None:
                heading = title if number == 0 else f"{title}: {made.subtitle or document}"
                pages.append((path, heading, shop.write(made, path)))
    sound = bool(pages) and pages[0][0] == f"builds/{name}.html"
    findings = arrange(found)
    if not sound:
        path = f"builds/{name}.html"
        page = _findings_page(shop, name, title, findings)
        pages = [(path, title, shop.write(page, path))]
    return Outcome(
        name=name,
        title=title,
        summary="" if build is None else build.summary,
        pages=tuple(pages),
        facts=_brief(case),
        sound=sound,
        findings=findings,
        uses=() if case is None else _uses(case),
    )


def _document(
    shop: Workshop, case: Case, name: str, path: str, found: list[Finding]
) -> Document | None:
    """One document of a build, its links made for the page at `path`."""
    resolve = resolver(shop.known, path)
    figures = pictures(case, shop.engine, lambda part: resolve(f"part:{part}"), found)
    document, problems = machine_document(name, shop.templates, case, figures)
    found += problems
    return document


def _findings_page(
    shop: Workshop, name: str, title: str, findings: tuple[Finding, ...]
) -> Document:
    """The page of a build that cannot be published, from what was found in its own files too."""
    build = shop.definitions.builds.get(name)
    files = {finding.at.span.file for finding in findings}
    if build is not None:
        files.add(build.origin.at().file)
    listed = [
        *findings,
        *(f for f in shop.loaded.findings if build is None or f.at.span.file in files),
    ]
    document, problems = findings_document(shop.templates, shop.definitions, title, arrange(listed))
    if document is None:
        return Document(title, (), subtitle=problems[0].message if problems else "")
    return document


def _brief(case: Case | None) -> Facts:
    """The few figures that lists show, without their pedigree."""
    if case is None:
        return Facts.plain(())
    return Facts.plain(replace(case.facts[key], rests=()) for key in BRIEF if key in case.facts)


def _uses(case: Case) -> tuple[tuple[str, tuple[str, ...]], ...]:
    places: dict[str, list[str]] = {}
    for place, part in case.assembly.everything():
        places.setdefault(part.id, []).append(place.name)
    return tuple((name, tuple(found)) for name, found in sorted(places.items()))


_SHOP: list[Workshop] = []


def _begin(root: Path, scratch: Path, cache: Path | None) -> None:
    """In a worker process: the workshop, made anew unless it came along with a fork."""
    if not _SHOP:
        with lasting():
            loaded = load(read_project(root))
        _SHOP.append(workshop(root, loaded, scratch, cache))


def _one(name: str) -> Outcome:
    return build_page(_SHOP[0], name)


@contextmanager
def _pool(shop: Workshop, root: Path, jobs: int, cache: Path | None) -> Iterator[Executor]:
    method = "fork" if "fork" in get_all_start_methods() else "spawn"
    _SHOP[:] = [shop]
    try:
        with ProcessPoolExecutor(
            jobs, get_context(method), initializer=_begin, initargs=(root, shop.scratch, cache)
        ) as pool:
            yield pool
    finally:
        _SHOP.clear()


def build_pages(
    shop: Workshop,
    root: Path,
    names: Sequence[str],
    jobs: int,
    cache: Path | None,
    done: Callable[[int], None],
) -> list[Outcome]:
    """The pages of builds, in the order of `names` whatever the number of jobs."""
    if jobs <= 1 or len(names) < 2 * jobs:
        outcomes = []
        for name in names:
            outcomes.append(build_page(shop, name))
            done(1)
        return outcomes
    outcomes = []
    chunk = max(1, min(16, len(names) // (4 * jobs)))
    with _pool(shop, root, jobs, cache) as pool:
        for outcome in pool.map(_one, names, chunksize=chunk):
            outcomes.append(outcome)
            done(1)
    return outcomes
