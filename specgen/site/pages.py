"""All pages of a project's site, from its definitions."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from specgen.diagnostics import Finding, arrange
from specgen.document.case import FamilyCase, PartCase, bare_case
from specgen.document.compose import Composed
from specgen.document.documents import family_document, machine_document, part_document
from specgen.document.tree import Document
from specgen.facts import Facts
from specgen.load import Loaded
from specgen.model import Definitions, Part
from specgen.site.addresses import START
from specgen.site.page import MenuEntry, Page, Shell
from specgen.site.work import Outcome, Workshop, build_pages, workshop

Uses = Mapping[str, list[tuple[str, tuple[str, ...]]]]


@dataclass(frozen=True, slots=True)
class Pages:
    """The pages, what goes round them, and what was found while making them."""

    pages: tuple[Page, ...]
    shell: Shell
    findings: tuple[Finding, ...]


def make_pages(
    root: Path,
    loaded: Loaded,
    scratch: Path,
    *,
    jobs: int,
    cache: Path | None,
    done: Callable[[int], None],
) -> Pages:
    """Every page of a project that could be read; its HTML waits in `scratch`."""
    shop = workshop(root, loaded, scratch, cache)
    definitions = shop.definitions
    names = sorted({*definitions.builds, *loaded.unreadable_builds})
    outcomes = build_pages(shop, root, names, jobs, cache, done)
    cases = {
        name: bare_case(definitions, platform) for name, platform in definitions.platforms.items()
    }
    family = FamilyCase(
        definitions,
        {name: case.facts for name, case in cases.items()},
        _listed(definitions, outcomes),
    )
    findings = [found for outcome in outcomes for found in outcome.findings]
    pages = [page for outcome in outcomes for page in _build(outcome)]
    uses = _uses(outcomes)

    def add(path: str, section: str, made: Composed, words: tuple[tuple[str, int], ...]) -> None:
        document, problems = made
        findings.extend(problems)
        if document is not None:
            pages.append(_page(shop, path, section, document, words))
        done(1)

    for name, case in cases.items():
        made = machine_document("platform", shop.templates, case, {}, family)
        platform = case.platform
        words = ((platform.id, 9), (platform.summary, 3), (" ".join(platform.suits), 2))
        add(f"platforms/{name}.html", "platforms", made, words)
    for name, part in definitions.parts.items():
        made = part_document(
            "part", shop.templates, PartCase(definitions, part, tuple(uses.get(name, ())))
        )
        add(f"parts/{name}.html", "parts", made, _part_words(part))
    for path, section, template in (
        (START, "start", "start"),
        ("builds.html", "builds", "builds"),
        ("parts.html", "parts", "parts"),
        ("platforms.html", "platforms", "platforms"),
    ):
        add(path, section, family_document(template, shop.templates, family), ())
    return Pages(tuple(pages), _shell(definitions), arrange(findings))


def page_count(loaded: Loaded) -> int:
    """How many pages there will be."""
    definitions = loaded.definitions
    if definitions is None:
        return 0
    return (
        len(definitions.builds)
        + len(loaded.unreadable_builds)
        + len(definitions.platforms)
        + len(definitions.parts)
        + 4
    )


def _listed(definitions: Definitions, outcomes: list[Outcome]) -> dict[str, tuple[Facts, bool]]:
    return {
        outcome.name: (outcome.facts, outcome.sound)
        for outcome in outcomes
        if outcome.name in definitions.builds
        and definitions.builds[outcome.name].platform in definitions.platforms
    }


def _uses(outcomes: list[Outcome]) -> Uses:
    uses: dict[str, list[tuple[str, tuple[str, ...]]]] = {}
    for outcome in outcomes:
        for part, places in outcome.uses:
            uses.setdefault(part, []).append((outcome.name, places))
    return uses


def _build(outcome: Outcome) -> Iterator[Page]:
    parts = " ".join(part for part, _ in outcome.uses)
    words = ((outcome.name, 9), (outcome.summary, 3), (parts, 1))
    for number, (path, title, body) in enumerate(outcome.pages):
        yield Page(path, title, "builds", body, outcome.summary, words if number == 0 else ())


def _page(
    shop: Workshop, path: str, section: str, document: Document, words: tuple[tuple[str, int], ...]
) -> Page:
    return Page(path, document.title, section, shop.write(document, path), document.subtitle, words)


def _part_words(part: Part) -> tuple[tuple[str, int], ...]:
    told = ((part.id, 9), (part.number or "", 9), (part.title, 4), (part.maker or "", 3))
    return (*told, (part.summary or "", 2))


def _shell(definitions: Definitions) -> Shell:
    """The menu: the lists and the platforms, never every page."""
    project = definitions.project
    platforms = tuple(_platform_entries(definitions))
    menu = (
        MenuEntry("Start", START, "start"),
        MenuEntry("Platforms", "platforms.html", "platforms", platforms),
        MenuEntry("Builds", "builds.html", "builds"),
        MenuEntry("Parts", "parts.html", "parts"),
    )
    return Shell(
        project.title, project.publisher.name, menu, project.language, project.edition or ""
    )


def _platform_entries(definitions: Definitions) -> Iterator[MenuEntry]:
    for name, platform in definitions.platforms.items():
        yield MenuEntry(platform.name, f"platforms/{name}.html", "platforms")
