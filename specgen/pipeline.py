"""The order of the stages: read, load, assemble, calculate, judge. A newcomer's second page."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from specgen.assembly import Assembly, State, assemble, resolve
from specgen.diagnostics import Finding, Severity, arrange, worst
from specgen.facts import Facts, facts_of
from specgen.load import Loaded, load
from specgen.model import Build, Definitions, Platform
from specgen.rules import judge
from specgen.source import Sources, read_project


@dataclass(frozen=True, slots=True)
class Machine:
    """A build with everything known about it, or a bare platform where `build` is None."""

    build: Build | None
    platform: Platform
    assembly: Assembly
    facts: Facts
    findings: tuple[Finding, ...]

    @property
    def sound(self) -> bool:
        """Whether a document may state its figures."""
        unknown = any(place.state is State.UNKNOWN for place in self.assembly.places.values())
        return worst(self.findings) is not Severity.ERROR and not unknown


@dataclass(frozen=True, slots=True)
class Survey:
    """A project read, resolved and checked. `definitions` is None where nothing could be read."""

    root: Path
    sources: Sources
    loaded: Loaded
    machines: Mapping[str, Machine]

    @property
    def definitions(self) -> Definitions | None:
        return self.loaded.definitions

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything found, in all files."""
        of_builds = [found for machine in self.machines.values() for found in machine.findings]
        return arrange([*self.loaded.findings, *of_builds])


def read(root: Path) -> tuple[Sources, Loaded]:
    """The project's files and what they define."""
    sources = read_project(root)
    return sources, load(sources)


def machine_of(definitions: Definitions, build: Build) -> Machine | None:
    """A build resolved, calculated and judged; None where its platform is not known."""
    assembly = resolve(definitions, build)
    if assembly is None:
        return None
    facts = facts_of(assembly)
    return Machine(build, assembly.platform, assembly, facts, judge(assembly, facts))


def bare(definitions: Definitions, platform: Platform) -> Machine:
    """A platform with nothing fitted: its own figures."""
    assembly = assemble(definitions, platform, None)
    return Machine(None, platform, assembly, facts_of(assembly), ())


def survey(root: Path, only: str | None = None) -> Survey:
    """The whole project, or one of its builds."""
    sources, loaded = read(root)
    machines: dict[str, Machine] = {}
    if loaded.definitions is not None:
        for name, build in loaded.definitions.builds.items():
            if only is not None and name != only:
                continue
            machine = machine_of(loaded.definitions, build)
            if machine is not None:
                machines[name] = machine
    return Survey(root, sources, loaded, machines)
