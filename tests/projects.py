"""Whole projects as texts, for tests: `project({...})` reads, resolves and judges them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from specgen.assembly import Assembly, resolve
from specgen.diagnostics import Finding
from specgen.document.case import Case
from specgen.facts import facts_of
from specgen.load.definitions import Loaded, load
from specgen.pipeline import Survey
from specgen.rules import judge
from specgen.rules.definitions import whole_project
from specgen.rules.told_once import told_once
from specgen.source import SourceFile, Sources, read_tree
from tests.timing import first

BASE = Path(__file__).parent / "mutated" / "base"


@dataclass(frozen=True, slots=True)
class Checked:
    """A project after reading and checking, with everything found on the way."""

    sources: Sources
    loaded: Loaded
    assemblies: Mapping[str, Assembly]
    findings: tuple[Finding, ...]

    @property
    def codes(self) -> list[str]:
        """The codes found, in order, each as often as it was found."""
        return sorted(finding.code.id for finding in self.findings)

    def line(self, finding: Finding) -> str:
        """The line of text that a finding points at."""
        span = finding.at.span
        return self.sources.texts[span.file].split("\n")[span.line - 1]


@lru_cache(maxsize=64)
def _tree(text: str, name: str) -> tuple[SourceFile, tuple[Finding, ...]]:
    tree, findings = read_tree(text, name)
    return SourceFile(name, text, tree), findings


def sources(files: Mapping[str, str]) -> Sources:
    """Texts by file name as the files of a project."""
    read = [_tree(text, name) for name, text in sorted(files.items())]
    found = tuple(finding for _, findings in read for finding in findings)
    return Sources(Path(), tuple(file for file, _ in read), found)


def checked(read: Sources) -> Checked:
    """Everything that is found in a project."""
    loaded = load(read)
    findings = [*loaded.findings, *whole_project.of_definitions(loaded)]
    assemblies, systems = {}, []
    definitions = loaded.definitions
    for build in definitions.builds.values() if definitions is not None else ():
        assembly = resolve(definitions, build) if definitions is not None else None
        if assembly is not None:
            assemblies[build.id] = assembly
            systems.append((assembly, judge(assembly, facts_of(assembly))))
    return Checked(read, loaded, assemblies, told_once(findings, systems))


def project(files: Mapping[str, str]) -> Checked:
    """A project given as texts by file name, read and checked."""
    return checked(sources(files))


@cache
def _base() -> Mapping[str, str]:
    return MappingProxyType(
        {
            path.relative_to(BASE).as_posix(): path.read_text(encoding="utf-8")
            for path in sorted(BASE.rglob("*.yaml"))
        }
    )


def base() -> dict[str, str]:
    """The texts of the small sound project under `tests/mutated/base`, to be changed."""
    return dict(_base())


def many_sided() -> dict[str, str]:
    """The small project with every document, form of data and kind of page that the demo has."""
    files = base()
    project = files["specgen.yaml"].replace("documents: [sheet]\n", "")
    files["specgen.yaml"] = f"""{project}\
documents: [sheet, engineering, site-preparation, parts-list, information, presenters-brief, review]
downloads: [pdf, csv, json, xlsx, redfish]
rules:
  - {{code: QW-1, when: processors.count == 2, require: power_supplies.count >= 2}}
values:
  - {{key: coast.third, label: A third of the cores, expression: fact("processors.cores") / 3}}
"""
    files["prose/lantern/introduction.md"] = (
        "It has {lantern-full: processors.cores} cores; see {part hub} and {build lantern-small}.\n"
    )
    files["pages/choosing.md"] = "# Choosing\n\n## How\n\nSee {platform lantern}.\n"
    return files


def one_of_each_platform(demo: Survey) -> Mapping[str, Case]:
    """Of the builds of each platform the first."""
    shown = {case.platform.id: name for name, case in reversed(demo.cases.items())}
    return {name: demo.cases[name] for name in shown.values()}


def every_build(demo: Survey) -> Mapping[str, Case]:
    return demo.cases


SHARES: Final = first(1, (one_of_each_platform, every_build))
"""The builds of the demo that a test looks at in every run, and in a slow one."""


def edited(name: str, old: str, new: str) -> dict[str, str]:
    """The base project with one edit; what is replaced must stand there exactly once."""
    files = base()
    assert files[name].count(old) == 1, f"{old!r} stands {files[name].count(old)} times in {name}"
    files[name] = files[name].replace(old, new)
    return files


def for_editors(value: Any) -> Any:
    """A tree as an editor's check by a schema sees it: dates are text."""
    if isinstance(value, dict):
        return {str(key): for_editors(each) for key, each in value.items()}
    if isinstance(value, list):
        return [for_editors(each) for each in value]
    return value if isinstance(value, str | int | float | bool | None) else str(value)
