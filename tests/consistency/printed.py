"""Every document of a project in a language, each with where the keys in it are looked up."""

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from specgen.cli.cache_folder import kept_folder
from specgen.document.case import Case, FamilyCase, PartCase
from specgen.document.document_types import family_document, part_document
from specgen.document.sets import comparison_document, order_document
from specgen.document.several import Compared, Order
from specgen.document.shelf import templates_of
from specgen.document.template import Templates
from specgen.document.tree import Document, Figure
from specgen.document.wording import Wording
from specgen.drawings import LayoutEngine, nowhere
from specgen.limits.reach import reaches
from specgen.messages import Language
from specgen.messages.catalogue import language_of
from specgen.model import Definitions
from specgen.pipeline import Survey, bare_case, compose, example_of
from specgen.site.limit_pages import overview, platform_limits
from tests.consistency.expected import Lookup

FAMILY = ("start", "platforms", "builds", "parts")
OF_PLATFORMS = ("platform", "guide", "presenters-brief")


@dataclass(frozen=True)
class Printed:
    """A document in a language; `case` is the one system that it is about, if it is."""

    name: str
    document: Document
    lookup: Lookup
    language: Language
    case: Case | None = None


class Project:
    """A project with all that its documents are made of."""

    def __init__(
        self,
        survey: Survey,
        folder: Path,
        builds: Collection[str] = (),
        platforms: Collection[str] = (),
    ) -> None:
        """Of builds and of platforms only those that are named have documents here, if any are;
        of other platforms no limits are solved."""
        assert survey.definitions is not None
        self.definitions: Definitions = survey.definitions
        self.cases = dict(survey.cases)
        self.shown = [case for name, case in self.cases.items() if not builds or name in builds]
        self.root, self.engine = survey.root, LayoutEngine(folder=folder)
        reached = reaches(self.definitions, kept_folder())
        self.reaches = {
            name: each for name, each in reached.items() if not platforms or name in platforms
        }
        for each in self.reaches.values():
            _ = each.examples  # pages show them; solved first, they do for whoever shows none
        self.bare = {
            name: bare_case(self.definitions, each, self.reaches.get(name))
            for name, each in self.definitions.platforms.items()
        }
        self.family = FamilyCase(
            self.definitions,
            self.bare,
            {name: (case.facts, case.sound) for name, case in self.cases.items()},
        )
        self._made: dict[tuple[str, str], list[Printed]] = {}
        self._templates: dict[str, Templates] = {}

    def templates(self, tag: str) -> Templates:
        """Read and compiled once for a language."""
        if tag not in self._templates:
            self._templates[tag] = templates_of(self.root, tag)
        return self._templates[tag]

    def documents(self, tag: str) -> list[Printed]:
        """Every document in a language, made once."""
        return [*self.of_builds(tag), *self.of_platforms(tag), *self.of_project(tag)]

    def of_builds(self, tag: str) -> list[Printed]:
        """The documents of each build."""
        return self._once("builds", tag, self._of_builds)

    def of_platforms(self, tag: str) -> list[Printed]:
        """The documents of each platform."""
        return self._once("platforms", tag, self._of_platforms)

    def of_project(self, tag: str) -> list[Printed]:
        """Pages about several systems, and those of parts."""
        return self._once("project", tag, self._of_project)

    def guides_of_builds(self, tag: str) -> Iterator[Document]:
        """The guide of a platform as it is about each of its builds."""
        for case in self.shown:
            made, _ = compose(
                "guide", self.templates(tag), case, self.engine, nowhere, family=self.family
            )
            assert made is not None, case.thing.id
            yield made

    def _once(
        self, sort: str, tag: str, make: Callable[[Templates], Iterator[Printed]]
    ) -> list[Printed]:
        if (sort, tag) not in self._made:
            self._made[sort, tag] = list(make(self.templates(tag)))
        return self._made[sort, tag]

    def _printed(
        self, name: str, document: Document | None, templates: Templates, case: Case | None = None
    ) -> Printed:
        assert document is not None, name
        lookup = Lookup(
            self.definitions,
            (case or next(iter(self.bare.values()))).facts,
            {**self.cases, **self.bare},
            {name: reach.facts for name, reach in self.reaches.items()},
        )
        language = language_of(templates.language, templates.project)
        return Printed(name, document, lookup, language, case)

    def _of_builds(self, templates: Templates) -> Iterator[Printed]:
        for case in self.shown:
            for kind in self.definitions.project.documents:
                document, _ = compose(
                    kind, templates, case, self.engine, nowhere, family=self.family
                )
                made = self._printed(f"{case.thing.id}/{kind}", document, templates, case)
                order = Order(self.definitions, ((case, 1),))
                more = {key: fact.value for key, fact in order.facts.items()}
                yield replace(made, lookup=replace(made.lookup, more=more))

    def _of_platforms(self, templates: Templates) -> Iterator[Printed]:
        for name in self.reaches:
            case = self.bare[name]
            shown = example_of(self.definitions, case.platform)
            for kind in OF_PLATFORMS:
                document, _ = compose(
                    kind, templates, case, self.engine, nowhere, family=self.family, shown=shown
                )
                made = self._printed(f"{name}/{kind}", document, templates, case)
                yield replace(made, lookup=replace(made.lookup, shown=shown.facts))

    def _of_project(self, templates: Templates) -> Iterator[Printed]:
        for kind in FAMILY:
            document, _ = family_document(kind, templates, self.family)
            yield self._printed(kind, document, templates)
        for part in self.definitions.parts.values():
            document, _ = part_document("part", templates, PartCase(self.definitions, part, ()))
            yield self._printed(f"part {part.id}", document, templates)
        bare = tuple(self.bare.values())
        built = tuple(self.cases.values())
        for cases in filter(None, (bare[:5], built[:4], built[-5:])):
            compared = Compared(self.definitions, cases)
            document, _ = comparison_document(templates, compared)
            yield self._printed("comparison", document, templates)
        yield from self._orders(templates)
        yield from self._limits(templates)

    def _orders(self, templates: Templates) -> Iterator[Printed]:
        lines = tuple((case, 1 + at % 3) for at, case in enumerate(self.cases.values()))
        for some in filter(None, (lines[:3], lines[5:8], lines[-4:])):
            order = Order(self.definitions, some)
            for kind in ("site-preparation", "parts-list"):
                document, _ = order_document(templates, order, kind)
                made = self._printed(f"order/{kind}", document, templates)
                more = {key: fact.value for key, fact in order.facts.items()}
                yield replace(made, lookup=replace(made.lookup, more=more))

    def _limits(self, templates: Templates) -> Iterator[Printed]:
        language = language_of(templates.language, templates.project)
        said = Wording(language, self.definitions.project.language)
        found = {name: reach.examples for name, reach in self.reaches.items()}
        page = said.document(overview(self.definitions, found))
        yield self._printed("limits", page, templates)
        for name, limits in found.items():
            platform = self.definitions.platforms[name]
            page = platform_limits(self.definitions, platform, limits, lambda *_: ())
            made = self._printed(
                f"limits of {name}", said.document(page), templates, self.bare[name]
            )
            more = {f"limits.{each.key}": each.value for each in limits}
            yield replace(made, lookup=replace(made.lookup, more=more))


def figures(document: Document) -> Iterator[Figure]:
    """The drawings of a document."""
    return (each for each in document.blocks if isinstance(each, Figure))
