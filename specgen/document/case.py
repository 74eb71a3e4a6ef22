"""What a document is about: a build or a bare platform, one part, or the whole project."""

from collections.abc import Callable, Mapping
from dataclasses import field
from typing import TYPE_CHECKING, Final

from specgen.assembly import Assembly, State
from specgen.diagnostics import Finding, Severity, worst
from specgen.facts import Facts
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Build, Definitions, Part, Platform

if TYPE_CHECKING:
    from specgen.limits.reach import Reach  # a room that few commands enter


@frozen
class Case:
    """A system with everything known about it: a build, or a platform with nothing in it."""

    definitions: Definitions
    assembly: Assembly
    facts: Facts
    findings: tuple[Finding, ...] = ()
    reach: "Reach | None" = None
    """What the platform can reach, where the document is about a platform."""

    @property
    def platform(self) -> Platform:
        return self.assembly.platform

    @property
    def build(self) -> Build | None:
        return self.assembly.build

    @property
    def thing(self) -> Build | Platform:
        """What it is about."""
        return self.build or self.platform

    @property
    def is_draft(self) -> bool:
        """Whether it is a build that is not to be published."""
        return self.build is not None and not self.build.published

    @property
    def sound(self) -> bool:
        """Whether a document may state its values."""
        unknown = any(place.state is State.UNKNOWN for place in self.assembly.places.values())
        return worst(self.findings) is not Severity.ERROR and not unknown


DRAFT: Final = say("Draft")
"""The mark of a document about a build that is not to be published."""

Systems = Callable[[str], Case | None]
"""Every build and bare platform of a project by its id; None for what is neither."""


def no_systems(_id: str) -> Case | None:
    """None is known."""
    return None


@frozen
class PartCase:
    """One part and where it is used: (build id, positions) for each build that holds it."""

    definitions: Definitions
    part: Part
    uses: tuple[tuple[str, tuple[str, ...]], ...]


@frozen
class FamilyCase:
    """The whole project: each bare platform; facts and soundness of each build.

    `shown` are the systems that platforms are pictured by, where pictures are wanted.
    """

    definitions: Definitions
    platforms: Mapping[str, Case]
    builds: Mapping[str, tuple[Facts, bool]]
    shown: Mapping[str, Case] = field(default_factory=dict)
