"""The project: who publishes, under what conditions, which documents; and all it defines."""

from collections.abc import Iterable, Mapping
from dataclasses import field, replace
from typing import TYPE_CHECKING, Annotated, Literal

from specgen.formats import FORMATS
from specgen.frozen import frozen
from specgen.messages import Words
from specgen.model.assumptions import NOTHING_ASSUMED, Assumptions
from specgen.model.build import Build
from specgen.model.conditions import ANYWHERE, Conditions
from specgen.model.fields import Day, Id, Positive, Text, YesNo, record
from specgen.model.illustration import Illustration
from specgen.model.kinds import KINDS
from specgen.model.kinds.declared_kinds import DeclaredKind, kind_of
from specgen.model.markers import AtLeast
from specgen.model.part import ACTIVE, LifeStatus, Part
from specgen.model.pedigree import Origin, Unwritten
from specgen.model.platform import Platform
from specgen.model.rule import Rule
from specgen.model.value import OwnValue

if TYPE_CHECKING:
    Download = str
else:
    Download = Literal[(*FORMATS, "csv", "xlsx", "json", "redfish")]
    """Formats of documents, and forms of a build's data."""


Paper = Literal["a4", "us-letter"]


@record
class Publisher:
    """Who stands behind the documents."""

    name: Text
    address: Text | None = None
    contact: Text | None = None


@record
class Family:
    """Platforms meant to be compared."""

    id: Id
    name: Text
    summary: Text
    shared: tuple[Text, ...] = ()
    rules: tuple[Rule, ...] = ()


@record
class HandwrittenPages:
    """What hand-written pages may have."""

    html: YesNo = False
    """HTML in the text, cleaned; without it pages are Markdown alone."""


@record
class Project:
    """What `specgen.yaml` says."""

    title: Text
    publisher: Publisher
    summary: Text | None = None
    edition: Text | None = None
    date: Day | None = None
    language: Text = "en"
    families: tuple[Family, ...]
    conditions: Conditions = ANYWHERE
    assumptions: Assumptions = NOTHING_ASSUMED
    rules: tuple[Rule, ...] = ()
    values: tuple[OwnValue, ...] = ()
    """Values of the project's own, beside those that the program works out."""
    memory_technologies: Mapping[Text, Positive] = field(default_factory=dict)
    """Data bits of a channel by memory technology, of those that the program does not know."""
    documents: Annotated[tuple[Text, ...], AtLeast(1)] = ("sheet",)
    downloads: tuple[Download, ...] = ("pdf", "csv", "json")
    """The forms in which the site hands out each build besides its pages; `[]` for none."""
    paper: Paper = "a4"
    """What PDF and XLSX are set for; `--paper` of a command goes before it."""
    outdated_translations: Literal["source", "marked"] = "source"
    """What documents in other languages print of a text that has changed since it was translated:
    `source` the text itself, `marked` the older translation, which then says that it is one."""
    sources: Literal["public", "full"] = "full"
    """What the site tells of where values are written: `public` leaves out files, their lines, and
    the documents that are for the house alone."""
    pages: HandwrittenPages = field(default_factory=HandwrittenPages)
    """What hand-written pages may have."""
    terms: Mapping[Text, Text] = field(default_factory=dict)
    """How documents print the short words of the definitions: forms, sockets, resources."""
    tools: Mapping[Id, Text] = field(default_factory=dict)
    """The tools of service work, as documents print them: `{t20: Hexalobular driver T20}`."""
    origin: Unwritten = field(default_factory=Origin, init=False, compare=False, repr=False)

    @property
    def outdated(self) -> bool:
        """Whether documents print translations of what texts said before they were changed."""
        return self.outdated_translations == "marked"


@frozen(eq=False)
class Definitions:
    """Everything a project defines, by name; only what could be read is here.

    Equal to itself alone, so that what was worked out of a project can be kept under it.
    """

    project: Project
    parts: Mapping[str, Part]
    platforms: Mapping[str, Platform]
    builds: Mapping[str, Build]
    declared: tuple[DeclaredKind, ...] = ()
    """The kinds of part of the project's own."""
    illustrations: Mapping[str, Illustration] = field(default_factory=dict)
    """The pictures of the project's own."""
    kinds: Mapping[str, type[Part]] = field(init=False, repr=False, compare=False)
    """The kinds of part by name: the shipped ones, then the project's own."""

    def __post_init__(self) -> None:
        own = {each.id: kind_of(each) for each in self.declared}
        object.__setattr__(self, "kinds", {**KINDS, **own})

    @property
    def is_public(self) -> bool:
        """Whether strangers read the site: they are told of no file."""
        return self.project.sources == "public"

    @property
    def is_empty(self) -> bool:
        """Whether nothing is defined: such a project is its pages, and nothing else."""
        return not (self.parts or self.platforms or self.builds)

    def status(self, part: Part) -> LifeStatus:
        """Whether a part can be ordered on the project's date."""
        return part.life.on(self.project.date)

    def with_planned(self) -> "Definitions":
        """The same as if every planned part could be ordered."""
        day = self.project.date
        parts = {
            name: _orderable(part) if part.life.on(day) == "planned" else part
            for name, part in self.parts.items()
        }
        return self.with_(parts=parts)

    def with_(
        self,
        *,
        project: Project | None = None,
        parts: Mapping[str, Part] | None = None,
        platforms: Mapping[str, Platform] | None = None,
        builds: Mapping[str, Build] | None = None,
    ) -> "Definitions":
        """The same with another project, other parts, platforms, builds."""
        return Definitions(
            project or self.project,
            self.parts if parts is None else parts,
            self.platforms if platforms is None else platforms,
            self.builds if builds is None else builds,
            self.declared,
            self.illustrations,
        )

    def term(self, word: str) -> str:
        """A short word of the definitions as documents print it."""
        return self.project.terms.get(word, word)

    def titles(self, kinds: Iterable[str]) -> tuple[Words, ...]:
        """The titles of kinds of part, those that nobody defines left out."""
        return tuple(self.kinds[kind].named() for kind in kinds if kind in self.kinds)

    def family(self, id_: str) -> Family | None:
        return next((family for family in self.project.families if family.id == id_), None)


def _orderable(part: Part) -> Part:
    """The same part, on sale."""
    made = replace(part, life=ACTIVE)
    object.__setattr__(made, "origin", part.origin)
    return made
