"""One build to its pages and files; the unit of work that several processes share out.

A worker process reads the project once for itself, unless it was forked from a process that had.
What comes back is small: pages and files wait on the disk. PDFs are made in worker processes only,
since no process may be forked from one that has made any.
"""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from specgen.diagnostics import Finding, arrange
from specgen.diagnostics.fault import travelling
from specgen.document.case import DRAFT, Case
from specgen.document.tree import Block, Document, Paragraph, ThematicBreak
from specgen.drawings.typesetter import has_compiled
from specgen.facts import Facts
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Definitions
from specgen.pipeline import case_of, held_back, read
from specgen.site.addresses import address
from specgen.site.comparison_page import compared_system, shard, shard_path
from specgen.site.document_menu import BEHIND, VALUES, kind_of
from specgen.site.downloads import OFFERS, Offer, data_files, formats_of, offer, offered, written
from specgen.site.fact_pages import fact_page_of
from specgen.site.history import revisions
from specgen.site.page import Places
from specgen.site.rule_pages import standings
from specgen.site.workshop import Workshop, pictures_from, workshop
from specgen.workers import processes, workers
from specgen.write.writer_options import Options, options_of

BRIEF = ("processors.cores", "memory.capacity", "storage.raw", "power.input")


BuildPage = tuple[str, str, str, Path, Places]


@frozen
class Outcome:
    """What became of one build: the values that lists show, what it uses, its documents.

    `pages` are (path, title, kind, file of the HTML, places in it); the first is the build's own
    page, the last that of its values. `files` lie beside them, by path from the site's root.
    `rules` are the declared rules whose case arises, each with how it stands.
    """

    name: str
    title: str
    summary: str
    number: str
    pages: tuple[BuildPage, ...]
    facts: Facts
    sound: bool
    findings: tuple[Finding, ...]
    uses: tuple[tuple[str, tuple[str, ...]], ...]
    files: tuple[tuple[str, Path], ...] = ()
    rules: tuple[tuple[str, str], ...] = ()


def build_page(shop: Workshop, name: str) -> Outcome:
    """Resolves a build and writes its documents, or a page of findings where it has errors."""
    build = shop.definitions.builds.get(name)
    case = None if build is None else case_of(shop.definitions, build)
    case = None if case is None else held_back(case, shop.found)
    found: list[Finding] = [] if case is None else list(case.findings)
    pages: list[BuildPage] = []
    files: list[tuple[str, Path]] = []
    title = name if build is None else build.name
    if build is not None and not build.published:
        title = f"{title} ({shop.localizer.fixed(DRAFT)})"
    own = f"builds/{name}.html"
    if case is not None and case.sound:
        made = list(_documents(shop, case, name, title, found))
        if made and made[0][0] == own:
            files, pages = _published(shop, case, name, made)
    sound = bool(pages)
    findings = arrange(found)
    if not sound:
        page = shop.findings_page(title, _with_its_files(shop, name, findings))
        pages = [(own, title, "", *shop.write(page, own))]
    return Outcome(
        name=name,
        title=title,
        summary="" if build is None else build.summary,
        number=(build.number or "") if build is not None else "",
        pages=tuple(pages),
        facts=_brief(case),
        sound=sound,
        findings=findings,
        uses=() if case is None else _uses(case),
        files=tuple(files),
        rules=() if case is None else standings(case),
    )


def _documents(
    shop: Workshop, case: Case, name: str, title: str, found: list[Finding]
) -> Iterator[tuple[str, str, Document]]:
    """The documents of a build that could be made: path, heading, tree."""
    for number, document in enumerate(shop.definitions.project.documents):
        if document not in shop.documents:  # a finding of the project says so
            continue
        path = f"builds/{name}.html" if number == 0 else f"builds/{name}/{document}.html"
        made, problems = shop.compose(document, case, path)
        found += problems
        if made is not None:
            heading = title if number == 0 else f"{title}: {kind_of(made, document)}"
            yield path, heading, made


def _published(
    shop: Workshop, case: Case, name: str, made: list[tuple[str, str, Document]]
) -> tuple[list[tuple[str, Path]], list[BuildPage]]:
    """The files and the pages of a sound build, its page of facts last."""
    reference = f"build:{name}"
    behind = f"{reference}/{shop.xrefs.facts_page}"
    fact_page = fact_page_of(case, made[0][1], reference)
    xrefs = replace(shop.xrefs, keys={reference: fact_page.keys})
    files = [*_files(shop, case, name, made), *_data(shop, case, name)]
    offers = tuple(offer for offer, _ in files)
    pages: list[BuildPage] = []
    for number, (path, heading, document) in enumerate(made):
        extra: tuple[Block, ...] = ()
        if number == 0:
            files_of_it = offered(offers, behind, say("Files of this build"))
            extra = (*revisions(case.build), *files_of_it)
        woven = with_more(*shop.localizer.blocks_into(document, extra))
        html = shop.write(woven, path, xrefs, reference)
        stem = path.rsplit("/", 1)[-1].removesuffix(".html") if number else "Sheet"
        pages.append((path, heading, kind_of(document, stem), *html))
    path = address(behind) or ""
    title = f"{made[0][1]}: {shop.localizer.fixed(VALUES)}"
    html = shop.write(shop.localizer.document(fact_page.document), path)
    pages.append((path, title, shop.localizer.fixed(BEHIND), *html))
    compared = shard_path(reference)
    system = compared_system(case)
    listed = [(offer.path, file) for offer, file in files]
    return [*listed, (compared, shop.put(compared, shard(system, shop.localizer.language)))], pages


def _files(
    shop: Workshop, case: Case, name: str, made: list[tuple[str, str, Document]]
) -> Iterator[tuple[Offer, Path]]:
    """The documents of a build in the formats that the project wants handed out."""
    options = options_of(shop.definitions, case.build, pictures=pictures_from("builds/"))
    for number, (path, _, document) in enumerate(made):
        stem = path.rsplit("/", 1)[-1].removesuffix(".html")
        for form in formats_of(shop.definitions.project):
            file = f"builds/{name}/{_stem(case, stem if number else '')}.{form}"
            content = written(form, document, options, shop.cache)
            yield offer(file, document, len(content)), shop.put(file, content)


def _stem(case: Case, document: str = "") -> str:
    """What the files of a build begin with; that of a draft says so to whoever finds it alone."""
    draft = "draft" if case.is_draft else ""
    return "-".join(filter(None, (case.thing.id, document, draft)))


def _data(shop: Workshop, case: Case, name: str) -> Iterator[tuple[Offer, Path]]:
    """The data of a build in the forms that the project wants handed out."""
    wanted = shop.definitions.project.downloads
    forms = {suffix: (form, holds) for each in OFFERS.values() for suffix, form, holds in each}
    for suffix, content in data_files(case, wanted, shop.cache).items():
        file = f"builds/{name}/{_stem(case)}.{suffix}"
        yield Offer(file, *forms[suffix], len(content)), shop.put(file, content)


def with_more(document: Document, more: tuple[Block, ...]) -> Document:
    """The document with more blocks, before what its author wrote as the last word of all."""
    at = blocks = len(document.blocks)
    while at and isinstance(document.blocks[at - 1], Paragraph):
        at -= 1
    last_word = 0 < at < blocks and isinstance(document.blocks[at - 1], ThematicBreak)
    cut = at - 1 if last_word else blocks
    return replace(document, blocks=(*document.blocks[:cut], *more, *document.blocks[cut:]))


def _with_its_files(
    shop: Workshop, name: str, findings: tuple[Finding, ...]
) -> tuple[Finding, ...]:
    """What was found in a build, and in its own files."""
    build = shop.definitions.builds.get(name)
    files = {finding.at.span.file for finding in findings}
    if build is not None:
        files |= build.origin.files
    found = shop.loaded.findings
    return (*findings, *(f for f in found if build is None or f.at.span.file in files))


def _brief(case: Case | None) -> Facts:
    """The few values that lists show, without their pedigree."""
    if case is None:
        return Facts.plain(())
    return Facts.plain(replace(case.facts[key], rests=()) for key in BRIEF if key in case.facts)


def _uses(case: Case) -> tuple[tuple[str, tuple[str, ...]], ...]:
    places: dict[str, list[str]] = {}
    for place, part in case.assembly.everything():
        places.setdefault(part.id, []).append(place.name)
    return tuple((name, tuple(found)) for name, found in sorted(places.items()))


_SHOP: list[Workshop] = []


def _begin(root: Path, scratch: Path, cache: Path | None, drafts: bool) -> None:
    """In a worker process: the workshop, made anew unless it came along with a fork."""
    if not _SHOP:
        _SHOP.append(workshop(root, read(root).loaded, scratch, cache, drafts=drafts))


def _one(name: str) -> Outcome:
    with travelling():
        return build_page(_SHOP[0], name)


FileTask = tuple[str, Document, Options]
"""Path of the file from the site's root, which ends in its format; what it is signed with."""


def _written(task: FileTask) -> tuple[str, Path, int]:
    path, document, options = task
    with travelling():
        form = path.rpartition(".")[2]
        content = written(form, document, options, _SHOP[0].cache)
        return path, _SHOP[0].put(path, content), len(content)


def write_documents(
    shop: Workshop,
    root: Path,
    tasks: Sequence[FileTask],
    jobs: int,
    cache: Path | None,
) -> dict[str, tuple[Path, int]]:
    """Documents as files, in worker processes: file and size by path."""
    if not tasks:
        return {}
    with _pool(shop, root, min(jobs, len(tasks)), cache) as pool:
        return {path: (file, size) for path, file, size in pool.map(_written, tasks)}


@contextmanager
def _pool(shop: Workshop, root: Path, jobs: int, cache: Path | None) -> Iterator[Executor]:
    _SHOP[:] = [shop]
    try:
        context = processes(forking=not has_compiled(), preload=__name__)
        with workers(jobs, context, _begin, (root, shop.scratch, cache, shop.drafts)) as pool:
            yield pool
    finally:
        _SHOP.clear()


def planned(definitions: Definitions, name: str) -> int:
    """How many pages a build is to have: its documents and its values, or a page of findings."""
    return len(definitions.project.documents) + 1 if name in definitions.builds else 1


def build_pages(
    shop: Workshop,
    root: Path,
    names: Sequence[str],
    jobs: int,
    cache: Path | None,
    done: Callable[[int], None],
    found: list[Finding],
) -> list[Outcome]:
    """The pages of builds, in the order of `names` whatever the number of jobs.

    What was found in them is added to `found` as it comes.
    """
    outcomes: list[Outcome] = []
    prints = "pdf" in shop.definitions.project.downloads
    if not names or ((jobs <= 1 or len(names) < 2 * jobs) and not prints):
        for name in names:
            outcomes.append(build_page(shop, name))
            found += outcomes[-1].findings
            done(planned(shop.definitions, name))
        return outcomes
    chunk = max(1, min(16, len(names) // (4 * jobs)))
    with _pool(shop, root, min(jobs, len(names)), cache) as pool:
        for outcome in pool.map(_one, names, chunksize=chunk):
            outcomes.append(outcome)
            found += outcome.findings
            done(planned(shop.definitions, outcome.name))
    return outcomes
