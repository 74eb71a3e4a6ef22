"""The stages, in their order; a newcomer's second page.

    read ─► load ─► for each system:   assemble ─► calculate ─► judge
                    for each document:  compose ─► write

The commands and the site go through here, each as far as it needs. The rooms below hold values and
know nothing of the order. Composing and writing import what they use when they are called, since
most commands do neither.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from specgen.assembly import assemble, resolve
from specgen.diagnostics import Finding, Severity, Span, arrange, worst
from specgen.document.case import Case, FamilyCase, Systems
from specgen.facts import Facts, facts_of, ledger_of
from specgen.facts.empty_chassis import of_chassis
from specgen.frozen import frozen
from specgen.load.definitions import Loaded, load
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Origin, Platform
from specgen.rules import judge
from specgen.rules.definitions.whole_project import of_project
from specgen.rules.told_once import told_once
from specgen.source import Sources, lasting, read_project

if TYPE_CHECKING:
    from specgen.document.compose import Composed
    from specgen.document.template import Templates
    from specgen.document.tree import Document
    from specgen.drawings import LayoutEngine, PartLink
    from specgen.limits.reach import Reach
    from specgen.write.writer_options import Options


OWN_WORDS = ("kinds/", "values/")
"""Folders of what every system may rest on."""
PARTS = "catalog/"


@frozen(slots=False)
class Survey:
    """A project as far as it has come: read and loaded, and its builds where they were asked for.

    `definitions` is None where nothing could be read.
    """

    root: Path
    sources: Sources
    loaded: Loaded
    cases: Mapping[str, Case] = field(default_factory=dict)

    @property
    def definitions(self) -> Definitions | None:
        return self.loaded.definitions

    @cached_property
    def of_project(self) -> tuple[Finding, ...]:
        """What was found in all files, apart from any build."""
        return arrange([*self.loaded.findings, *of_project(self.root, self.loaded)])

    @property
    def of_builds(self) -> tuple[Finding, ...]:
        """What was found in the builds, in the order they stand in."""
        return tuple(found for case in self.cases.values() for found in case.findings)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything found."""
        return self.found()

    def found(self, further: Iterable[Finding] = ()) -> tuple[Finding, ...]:
        """Everything found, and what else was, each cause once."""
        systems = [(case.assembly, case.findings) for case in self.cases.values()]
        return told_once([*self.of_project, *further], systems)


def read(root: Path) -> Survey:
    """Read and load: files to trees, trees to definitions. No system has been looked at."""
    with lasting():
        sources = read_project(root)
        return Survey(root, sources, load(sources))


def survey(
    root: Path,
    only: str | None = None,
    at: Conditions = ANYWHERE,
    faults: list[Exception] | None = None,
) -> Survey:
    """Read, load, and judge every build, or one; `at` goes before the conditions declared.

    What our own code raises for one build goes to `faults`, where there are any, and keeps nobody
    from what is found in the others.
    """
    project = read(root)
    definitions, cases = project.definitions, {}
    for name, build in definitions.builds.items() if definitions is not None else ():
        if definitions is None or only not in (None, name):
            continue
        try:
            case = case_of(definitions, build, at)
        except Exception as fault:
            if faults is None:
                raise
            faults.append(fault)
            continue
        if case is not None:
            cases[name] = case
    return replace(project, cases=cases)


def case_of(definitions: Definitions, build: Build, at: Conditions = ANYWHERE) -> Case | None:
    """Assemble, calculate, judge: a build's case; None where its platform is not known."""
    assembly = resolve(definitions, build, at)
    if assembly is None:
        return None
    facts = facts_of(assembly)
    return Case(definitions, assembly, facts, judge(assembly, facts))


def held_back(case: Case, found: Iterable[Finding]) -> Case:
    """The case with the errors that stand in the files it rests on: none of its documents may be
    written then. What a platform can reach rests on all parts that its systems can hold, and on
    whatever a part that could not be read may be."""
    origins = [case.definitions.project.origin, case.platform.origin, case.thing.origin]
    origins += [part.origin for _, part in case.assembly.everything()]
    files = frozenset().union(*(origin.files for origin in origins))
    folders = OWN_WORDS if case.reach is None else (*OWN_WORDS, PARTS)
    errors = [
        each
        for each in found
        if each.severity is Severity.ERROR
        and (each.at.span.file in files or each.at.span.file.startswith(folders))
    ]
    if errors and case.reach is not None:
        errors = [each for each in errors if not _elsewhere(case, each)]
    return replace(case, findings=arrange([*case.findings, *errors])) if errors else case


def _elsewhere(case: Case, error: Finding) -> bool:
    """Whether an error is about parts alone, all of them read, that no system of a platform can
    hold, whatever the room: nothing that is said of the platform rests on these."""
    from specgen.limits.reachable import reachable  # asked where there are errors alone

    spans = [error.at.span, *(label.span for label in error.labels)]
    nodes = reachable(case.assembly)
    if nodes is None or not all(span.file.startswith(PARTS) for span in spans):
        return False
    held = {part.id for node in nodes for part in node.parts}
    held |= {part.id for _, part in case.assembly.everything()}
    held |= {node.place.position.blank or "" for node in nodes}
    wrong, *beside = (set(_parts_at(case.definitions, span)) for span in spans)
    # a line that it shares with others says nothing of these: they are judged themselves
    others = [parts for parts in beside if not parts & wrong]
    return all(parts and held.isdisjoint(parts) for parts in (wrong, *others))


def _parts_at(definitions: Definitions, span: Span) -> Iterator[str]:
    """The parts on whose lines something stands: of what several share, all of these."""
    at = (span.file, span.line)
    for part in definitions.parts.values():
        if any((each.file, each.line) == at for each in part.origin.everywhere()):
            yield part.id


def errors_within(origin: Origin, found: Iterable[Finding]) -> tuple[Finding, ...]:
    """The errors that stand on the lines of one definition."""
    errors = [each for each in found if each.severity is Severity.ERROR]
    places = {(span.file, span.line) for span in origin.everywhere()} if errors else set()
    return tuple(each for each in errors if (each.at.span.file, each.at.span.line) in places)


def bare_case(
    definitions: Definitions,
    platform: Platform,
    reach: "Reach | None" = None,
    at: Conditions = ANYWHERE,
) -> Case:
    """Assemble and calculate a platform with nothing fitted: no mistake, so nothing is judged."""
    assembly = assemble(definitions, platform, None, at)
    facts = of_chassis(facts_of(assembly), ledger_of(definitions))
    if reach is not None:
        facts = facts.merged_with(reach.facts)
    return Case(definitions, assembly, facts, reach=reach)


def systems_of(
    definitions: Definitions,
    known: Mapping[str, Case] | None = None,
    found: Iterable[Finding] = (),
) -> Systems:
    """Every build and bare platform by its id, worked out once and when it is asked for.

    `found` is what was found in all files, apart from any build.
    """
    cases: dict[str, Case | None] = dict(known or {})

    def system(name: str) -> Case | None:
        if name not in cases:
            build, platform = definitions.builds.get(name), definitions.platforms.get(name)
            case = None if platform is None else bare_case(definitions, platform)
            if build is not None:
                case = case_of(definitions, build)
            cases[name] = None if case is None else held_back(case, found)
        return cases[name]

    return system


def example_of(
    definitions: Definitions,
    platform: Platform,
    at: Conditions = ANYWHERE,
    found: Iterable[Finding] = (),
) -> Case:
    """A system to show a platform by: the build that it names, else its first published one without
    errors, else it bare."""
    builds = definitions.builds
    own = [each for each in builds.values() if each.platform == platform.id and each.published]
    for build in sorted(own, key=lambda each: each.id != platform.shown):
        case = case_of(definitions, build, at)
        if case is not None and held_back(case, found).sound:
            return case
    return bare_case(definitions, platform, at=at)


def compose(
    name: str,
    templates: "Templates",
    case: Case,
    engine: "LayoutEngine",
    links: "PartLink",
    *,
    family: FamilyCase | None = None,
    shown: Case | None = None,
    kept: Path | None = None,
    found: Iterable[Finding] = (),
) -> "Composed":
    """Compose: a template filled in with a system's values, blocks and pictures; None with an
    error in anything that it prints.

    `shown` is the system in the pictures, where that is another one; `family` has its siblings;
    `kept` is the folder of limits that have been proved, and `found` what was found in all files,
    apart from any build.
    """
    from specgen.document.document_types import system_document
    from specgen.document.figures import pictures
    from specgen.document.recording import recorded

    trouble: list[Finding] = []
    figures = pictures(shown or case, engine, links, trouble)
    known = systems_of(case.definitions, {case.thing.id: case}, found)

    def limits() -> "Mapping[str, Facts]":
        from specgen.limits.reach import reaches  # few documents of builds speak of limits

        reached = reaches(case.definitions, kept)
        return {name: each.facts for name, each in reached.items()}

    document, problems = system_document(
        name, templates, case, figures, known, family, shown, trouble, limits
    )
    problems = (*problems, *trouble)
    if document is None or worst(problems) is Severity.ERROR:
        return None, problems
    return recorded(document, name, case), problems


def write(document: "Document", form: str, options: "Options") -> bytes:
    """Write: the bytes of one file, in one of the formats of `WRITERS`."""
    from specgen.write.writers import WRITERS

    return WRITERS[form].write(document, options)
