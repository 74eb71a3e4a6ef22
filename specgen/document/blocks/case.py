"""What a document is about: a build or a bare platform, one part, or the whole project."""

from dataclasses import dataclass

from specgen.assembly import Assembly
from specgen.diagnostics import Finding
from specgen.facts import Facts
from specgen.model import Definitions, Part, Platform


@dataclass(frozen=True, slots=True)
class Case:
    """A machine: a build resolved, or a platform with nothing in it."""

    definitions: Definitions
    assembly: Assembly
    facts: Facts
    findings: tuple[Finding, ...] = ()

    @property
    def platform(self) -> Platform:
        return self.assembly.platform


@dataclass(frozen=True, slots=True)
class PartCase:
    """One part and where it is used: (build id, positions) for each build that holds it."""

    definitions: Definitions
    part: Part
    uses: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class FamilyCase:
    """The whole project; `facts` of each bare platform, and the state of each build."""

    definitions: Definitions
    platforms: dict[str, Facts]
    builds: dict[str, tuple[Facts, bool]]
