"""What a document is about: a build or a bare platform, one part, or the whole project."""

from collections.abc import Mapping
from dataclasses import dataclass

from specgen.assembly import Assembly, State, assemble, resolve
from specgen.diagnostics import Finding, Severity, worst
from specgen.facts import Facts, facts_of
from specgen.limits import Reach
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Part, Platform
from specgen.rules import judge


@dataclass(frozen=True, slots=True)
class Case:
    """A machine with everything known about it: a build, or a platform with nothing in it."""

    definitions: Definitions
    assembly: Assembly
    facts: Facts
    findings: tuple[Finding, ...] = ()
    reach: Reach | None = None
    """What the platform can reach, where the document is about a platform."""

    @property
    def platform(self) -> Platform:
        return self.assembly.platform

    @property
    def build(self) -> Build | None:
        return self.assembly.build

    @property
    def sound(self) -> bool:
        """Whether a document may state its figures."""
        unknown = any(place.state is State.UNKNOWN for place in self.assembly.places.values())
        return worst(self.findings) is not Severity.ERROR and not unknown


@dataclass(frozen=True, slots=True)
class PartCase:
    """One part and where it is used: (build id, positions) for each build that holds it."""

    definitions: Definitions
    part: Part
    uses: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class FamilyCase:
    """The whole project: facts of each bare platform; facts and soundness of each build."""

    definitions: Definitions
    platforms: Mapping[str, Facts]
    builds: Mapping[str, tuple[Facts, bool]]


def case_of(definitions: Definitions, build: Build, at: Conditions = ANYWHERE) -> Case | None:
    """A build resolved, calculated and judged; None where its platform is not known."""
    assembly = resolve(definitions, build, at)
    if assembly is None:
        return None
    facts = facts_of(assembly)
    return Case(definitions, assembly, facts, judge(assembly, facts))


def bare_case(definitions: Definitions, platform: Platform, reach: Reach | None = None) -> Case:
    """A platform with nothing fitted, which is no mistake: nothing is judged."""
    assembly = assemble(definitions, platform, None)
    facts = facts_of(assembly)
    if reach is not None:
        facts = facts.beside(reach.facts)
    return Case(definitions, assembly, facts, reach=reach)
