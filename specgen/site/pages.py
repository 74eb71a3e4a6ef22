"""All pages of a project's site, and the files beside them, from its definitions."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field, replace
from pathlib import Path

from specgen.diagnostics import Finding, arrange
from specgen.document.blocks.inlet import inlet_limits
from specgen.document.case import FamilyCase, PartCase
from specgen.document.compose import Composed
from specgen.document.document_types import family_document, part_document
from specgen.document.shelf import templates_of
from specgen.document.tree import Document
from specgen.facts import Facts
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.limits.reach import Reach
from specgen.load.definitions import Loaded
from specgen.messages import say
from specgen.model import Definitions, Part
from specgen.pipeline import bare_case, errors_within, example_of, held_back
from specgen.rules.declared import rule_book
from specgen.shipped import documents_about
from specgen.site.addresses import COMPARE, LIMITS, START, address
from specgen.site.asked import PATH as ASKED
from specgen.site.asked import asked, examples_of
from specgen.site.build_pages import (
    Outcome,
    build_pages,
    planned,
    with_more,
    write_documents,
)
from specgen.site.comparison_page import (
    FOLDER,
    ComparedSystem,
    compared_system,
    fixed,
    rows_of,
    shard,
    shard_path,
    start,
)
from specgen.site.cross_references import CrossReferences
from specgen.site.document_menu import BEHIND, VALUES, placed
from specgen.site.downloads import Offer, formats_of, offer, offered
from specgen.site.fact_pages import fact_page_of, of_part
from specgen.site.handwritten import has_start
from specgen.site.history import revisions
from specgen.site.limit_pages import (
    Binds,
    Limits,
    limits_path,
    nothing_known,
    overview,
    platform_limits,
)
from specgen.site.localizer import Localizer
from specgen.site.menu import shell_of
from specgen.site.outgoing import outgoing
from specgen.site.page import Page, Shell
from specgen.site.printed import printed_in
from specgen.site.rule_pages import rule_pages
from specgen.site.workshop import Workshop, pictures_from, workshop
from specgen.write.writer_options import options_of

Uses = Mapping[str, list[tuple[str, tuple[str, ...]]]]
SearchWords = tuple[tuple[str, int], ...]
NO_REACH: Mapping[str, Reach] = {}
OWN = "platform"


@frozen
class Pages:
    """The pages, what goes round them, the files beside them, and what was found on the way."""

    pages: tuple[Page, ...]
    shell: Shell
    findings: tuple[Finding, ...]
    files: Mapping[str, bytes | Path] = field(default_factory=dict)


def make_pages(
    root: Path,
    loaded: Loaded,
    scratch: Path,
    *,
    jobs: int,
    cache: Path | None,
    done: Callable[[int], None],
    drafts: bool = False,
    reach: Mapping[str, Reach] = NO_REACH,
    binds: Binds = nothing_known,
    found: list[Finding] | None = None,
) -> Pages:
    """Every page of a project that could be read; its HTML waits in `scratch`.

    With `drafts` they are among them, marked. `reach` is what its platforms can reach, and `binds`
    says what binds a limit. What is found is added to `found` as it comes, for whoever is
    interrupted.
    """
    found = [] if found is None else found
    shop = workshop(root, loaded, scratch, cache, drafts=drafts)
    names = sorted({*shop.definitions.builds, *loaded.unreadable_builds})
    outcomes = build_pages(shop, root, names, jobs, cache, done, found)
    maker = _SiteBuilder(shop, outcomes, reach, done, found)
    if not shop.definitions.is_empty:
        maker.platforms(root, jobs, cache)
        maker.parts()
        maker.lists()
        maker.rules()
        maker.limits(binds)
        maker.comparison()
    elif not has_start(root):
        maker.start()
    shell = shell_of(shop.definitions, shop.localizer, bool(maker.known_limits))
    return Pages(tuple(maker.pages), shell, arrange(maker.findings), maker.files)


def page_count(root: Path, loaded: Loaded, reach: Mapping[str, Reach], *, drafts: bool) -> int:
    """How many pages there will be, if no build has errors (that leaves it one page)."""
    reached = sum(bool(each.limits) for each in reach.values())
    definitions = outgoing(loaded, templates_of(root), drafts=drafts).definitions
    if definitions is None:
        return 0
    rules = len(rule_book(definitions).rules)
    return (
        sum(planned(definitions, name) for name in definitions.builds)
        + len(loaded.unreadable_builds)
        + sum(2 + len(each.documents) for each in definitions.platforms.values())
        + len(definitions.parts)
        + (rules + 1 if rules else 0)
        + (reached + 1 if reached else 0)
        + 5
    )


def _platform_page(platform: str, document: str) -> str:
    return f"platforms/{platform}/{document}.html" if document else f"platforms/{platform}.html"


class _Anything(frozenset[str]):
    """The keys of a sound build: what is printed of it has a row on its page of facts."""

    def __contains__(self, _: object) -> bool:
        return True


class _SiteBuilder:
    """Makes what is left when the builds are done: all that needs to know of several of them."""

    def __init__(
        self,
        shop: Workshop,
        outcomes: list[Outcome],
        reach: Mapping[str, Reach],
        done: Callable[[int], None],
        found: list[Finding],
    ) -> None:
        definitions = shop.definitions
        bare = {
            name: held_back(bare_case(definitions, platform, reach.get(name)), shop.found)
            for name, platform in definitions.platforms.items()
        }
        self.cases = {name: case for name, case in bare.items() if case.sound}
        self.wrong = {name: case for name, case in bare.items() if not case.sound}
        limits: Limits = {
            name: each.examples
            for name, each in reach.items()
            if each.examples and name not in self.wrong
        }
        self.shop, self.outcomes, self.done, self.known_limits = shop, outcomes, done, limits
        self.definitions = definitions
        self.findings = found
        self.pages = [page for outcome in outcomes for page in _build(outcome)]
        self.files: dict[str, bytes | Path] = {
            path: file for outcome in outcomes for path, file in outcome.files
        }
        self.systems = {
            name: compared_system(case, limits.get(name, ())) for name, case in self.cases.items()
        }
        self.behind = {
            name: fact_page_of(case, case.platform.name, f"platform:{name}")
            for name, case in self.cases.items()
        }
        keys: dict[str, frozenset[str]] = {
            f"platform:{name}": page.keys for name, page in self.behind.items()
        }
        keys.update((f"build:{out.name}", _Anything()) for out in outcomes if out.sound)
        self.xrefs: CrossReferences = replace(shop.xrefs, keys=keys, limits=frozenset(limits))
        shown = {
            name: example_of(definitions, case.platform, found=shop.found)
            for name, case in self.cases.items()
        }
        self.family = FamilyCase(definitions, bare, _listed(definitions, outcomes), shown)

    def put(
        self,
        path: str,
        section: str,
        document: Document,
        words: SearchWords = (),
        *,
        here: str = "",
        scripts: tuple[str, ...] = (),
        of: str = "",
    ) -> None:
        """A document as a page; `of` is its system's page."""
        file, places = self.shop.write(document, path, self.xrefs, here)
        names = str(document.title), str(document.subtitle)
        page = Page(path, names[0], section, file, names[1], words, scripts=scripts, places=places)
        self.pages.append(placed(page, of, document))
        self.done(1)

    def taken(self, made: Composed) -> Document | None:
        """A document, what was found in its template noted."""
        document, problems = made
        self.findings.extend(problems)
        return document

    def platforms(self, root: Path, jobs: int, cache: Path | None) -> None:
        """The platforms' pages, their prints and their values."""
        made: dict[str, dict[str, Document]] = {}
        known = documents_about("platform", root)
        for name, case in self.cases.items():
            shown, its = self.family.shown[name], made.setdefault(name, {})
            wanted = ("", *case.platform.documents)
            for about in (each for each in wanted if not each or each in known):
                page = _platform_page(name, about)
                composed = self.shop.compose(about or OWN, case, page, self.family, shown)
                document = self.taken(composed)
                if document is not None:
                    its[about] = document
            self.done(len(wanted) - len(its))
        options = options_of(self.definitions, pictures=pictures_from(_platform_page("", "guide")))
        files = {
            f"platforms/{name}/{about or name}.{form}": (name, document)
            for name, documents in made.items()
            for about, document in documents.items()
            for form in formats_of(self.definitions.project)
        }
        tasks = [(path, document, options) for path, (_, document) in files.items()]
        written = write_documents(self.shop, root, tasks, jobs, cache)
        self.files.update((path, file) for path, (file, _) in written.items())
        offers = grouped(
            (name, offer(path, document, written[path][1]))
            for path, (name, document) in files.items()
        )
        for name, case in self.wrong.items():
            own = f"platforms/{name}.html"
            told = self.shop.findings_page(case.platform.name, case.findings)
            self.put(own, "platforms", told, of=own)
            self.done(1 + len(case.platform.documents))
        for name, its in made.items():
            if "" in its:
                self._platform(name, its, tuple(offers.get(name, ())))

    def _platform(
        self, name: str, documents: dict[str, Document], offers: tuple[Offer, ...]
    ) -> None:
        document = documents.pop("")
        platform = self.definitions.platforms[name]
        reference = f"platform:{name}"
        behind = f"{reference}/{self.xrefs.facts_page}"
        more = (*revisions(platform), *offered(offers, behind, say("Files of this platform")))
        words: SearchWords = (
            *((platform.id, 9), (platform.number or "", 9), (platform.summary, 3)),
            (" ".join(platform.suitable_for), 2),
            (" ".join(printed_in(document)), 1),
        )
        own = f"platforms/{name}.html"
        for about, further in documents.items():
            self.put(_platform_page(name, about), "platforms", further, here=reference, of=own)
        woven = with_more(*self.shop.localizer.blocks_into(document, more))
        self.put(own, "platforms", woven, words, here=reference, of=own)
        path = address(behind) or ""
        values = self.shop.localizer.document(self.behind[name].document)
        file, places = self.shop.write(values, path)
        title = f"{platform.name}: {self.shop.localizer.fixed(VALUES)}"
        page = Page(path, title, "platforms", file, searched=False, of=own, places=places)
        self.pages.append(replace(page, kind=self.shop.localizer.fixed(BEHIND)))
        self.done(1)

    def parts(self) -> None:
        """A page for each part; where its values come from stands at its end."""
        uses = _uses(self.outcomes)
        for name, part in self.definitions.parts.items():
            errors = errors_within(part.origin, self.shop.found)
            known = _part_words(part, self.shop.localizer)
            if errors:
                page = self.shop.findings_page(str(part.name), errors)
                self.put(f"parts/{name}.html", "parts", page, known)
                continue
            case = PartCase(self.definitions, part, tuple(uses.get(name, ())))
            document = self.taken(part_document("part", self.shop.templates, case))
            if document is None:
                self.done(1)
                continue
            words = (*known, (" ".join(printed_in(document)), 1))
            more = of_part(self.definitions, part)
            woven = with_more(*self.shop.localizer.blocks_into(document, more))
            self.put(f"parts/{name}.html", "parts", woven, words)

    def lists(self) -> None:
        """The pages of the whole project."""
        self.start()
        for path, section, template, scripts in (
            ("builds.html", "builds", "builds", ("lists.js", "choose.js")),
            ("parts.html", "parts", "parts", ("lists.js",)),
            ("platforms.html", "platforms", "platforms", ("choose.js",)),
        ):
            self._of_project(path, section, template, scripts)

    def start(self) -> None:
        """The page that the site starts with."""
        self._of_project(START, "start", "start", ("choose.js",))

    def _of_project(
        self, path: str, section: str, template: str, scripts: tuple[str, ...] = ()
    ) -> None:
        document = self.taken(family_document(template, self.shop.templates, self.family))
        if document is not None:
            return self.put(path, section, document, scripts=scripts)
        return self.done(1)

    def rules(self) -> None:
        """The list of declared rules, and a page for each."""
        standing: dict[str, tuple[tuple[str, str], ...]] = {}
        for outcome in self.outcomes:
            for code, how in outcome.rules:
                standing[code] = (*standing.get(code, ()), (outcome.name, how))
        for made in rule_pages(self.definitions, standing):
            self.put(made.path, "rules", self.shop.localizer.document(made.document), made.words)

    def limits(self, binds: Binds) -> None:
        """The table of limits, and a page for each platform that has any."""
        known = self.known_limits
        if not known:
            return
        localizer = self.shop.localizer
        self.put(LIMITS, "limits", localizer.document(overview(self.definitions, known)))
        for name, limits in known.items():
            platform = self.definitions.platforms.get(name)
            if platform is not None:
                case = self.family.platforms.get(name)
                inlet = None if case is None else inlet_limits(case)
                document = platform_limits(self.definitions, platform, limits, binds, inlet)
                of = f"platforms/{name}.html"
                self.put(limits_path(name), "limits", localizer.document(document), of=of)

    def comparison(self) -> None:
        """The page that compares, and the scripts that it loads."""
        systems: list[ComparedSystem] = [*self.systems.values()]
        sound = {out.name: out.title for out in self.outcomes if out.sound}
        labels = rows_of(self.definitions, self.known_limits)
        localizer = self.shop.localizer
        document = localizer.document(fixed(self.definitions, systems))
        self.put(COMPARE, "compare", document, scripts=("compare.js",))
        language = localizer.language
        self.files.update((shard_path(each.reference), shard(each, language)) for each in systems)
        names = start(self.definitions, systems, sound, labels, language)
        self.files[f"{FOLDER}/start.js"] = names
        examples = examples_of(self.definitions, systems, sound)
        self.files[ASKED] = asked(labels, examples, self.xrefs.facts_page, language)


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
    words = ((outcome.name, 9), (outcome.number, 9), (outcome.summary, 3), (parts, 1))
    last = len(outcome.pages) - 1
    own = outcome.pages[0][0]
    for number, (path, title, kind, body, places) in enumerate(outcome.pages):
        searched_words = words if number == 0 else ()
        searched = number == 0 or number < last
        page = Page(path, title, "builds", body, outcome.summary, searched_words, searched=searched)
        yield replace(page, of=own, kind=kind, places=places)


def _part_words(part: Part, localizer: Localizer) -> SearchWords:
    kinds = " ".join(map(localizer.text, (part.named(), part.named_many())))
    found_by = ((part.id, 9), (part.number or "", 9), (kinds, 4), (part.maker or "", 3))
    return (*found_by, (part.summary or "", 2))
