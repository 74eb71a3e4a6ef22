"""The systems that commands name: builds, and platforms with what they can reach."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.cli.one_build import asked, findings_about, one_build
from specgen.cli.terminal import NoSuch, no_such, print_findings, remembered
from specgen.diagnostics import Finding
from specgen.document.case import Case, FamilyCase
from specgen.model import ANYWHERE, Conditions, Definitions
from specgen.pipeline import (
    Survey,
    bare_case,
    case_of,
    compose,
    example_of,
    held_back,
    read,
)

if TYPE_CHECKING:
    from specgen.document.compose import Composed
    from specgen.document.template import Templates
    from specgen.limits.reach import Reach


def system(project: Path, name: str, at: tuple[str, ...] = ()) -> tuple[Survey, Case]:
    """A build by its id, else a platform; ends the command where neither can be read.

    `at` are conditions asked for, `NAME=VALUE`; what a platform can reach is solved under them.
    """
    try:
        return one_build(project, name, at)
    except NoSuch:
        found = remembered(read(project))
        definitions = found.definitions
        if definitions is None:
            raise
        if name not in definitions.platforms:
            known = sorted({*definitions.builds, *definitions.platforms})
            raise no_such("build or platform", name, known) from None
    platform, conditions = definitions.platforms[name], asked(at)
    reach = _reaches(definitions, conditions)[name]
    case = bare_case(definitions, platform, reach, conditions)
    return found, held_back(case, found.of_project)


def systems(
    project: Path, names: tuple[str, ...], at: tuple[str, ...] = ()
) -> tuple[Survey, tuple[Case, ...] | None]:
    """Builds and platforms by their ids; None where a build has errors, which have been told.

    `at` are conditions asked for, `NAME=VALUE`.
    """
    found = remembered(read(project))
    definitions = found.definitions
    if definitions is None:
        print_findings(found.findings, found.sources.texts, project)
        raise click.ClickException("the project cannot be read")
    conditions = asked(at)
    reach = _reaches(definitions, conditions)
    cases: list[Case] = []
    sound = True
    for name in names:
        build, platform = definitions.builds.get(name), definitions.platforms.get(name)
        if build is None and platform is None:
            known = sorted({*definitions.builds, *definitions.platforms})
            raise no_such("build or platform", name, known)
        case = None if build is None else case_of(definitions, build, conditions)
        if case is None and platform is not None:
            case = bare_case(definitions, platform, reach[platform.id], conditions)
        case = None if case is None else held_back(case, found.of_project)
        if case is not None and case.sound:
            cases.append(case)
            continue
        sound = False
        if build is None:
            findings = () if case is None else case.findings
            print_findings(findings, found.sources.texts, project)
        else:
            again, _ = one_build(project, name, at)
            print_findings(findings_about(again, name), again.sources.texts, project)
    return found, tuple(cases) if sound else None


def family_of(
    definitions: Definitions, at: Conditions = ANYWHERE, found: tuple[Finding, ...] = ()
) -> FamilyCase:
    """The platforms with what they can reach, and the builds, to stand beside a platform."""
    reach = _reaches(definitions, at)
    platforms = {
        name: held_back(bare_case(definitions, platform, reach[name], at), found)
        for name, platform in definitions.platforms.items()
    }
    builds = {}
    for name, build in definitions.builds.items():
        case = case_of(definitions, build, at)
        if case is not None:
            builds[name] = (case.facts, held_back(case, found).sound)
    return FamilyCase(definitions, platforms, builds)


def document_about(
    found: Survey, case: Case, name: str, templates: "Templates", at: Conditions = ANYWHERE
) -> "Composed":
    """A document about a system, by the name of its template; of a platform, with an example in
    its pictures."""
    from specgen.cli.cache_folder import kept_folder
    from specgen.drawings import LayoutEngine, nowhere

    of_build, of_project = case.build is not None, found.of_project
    return compose(
        name,
        templates,
        case,
        LayoutEngine(),
        nowhere,
        family=None if of_build else family_of(case.definitions, at, of_project),
        shown=case if of_build else example_of(case.definitions, case.platform, at, of_project),
        kept=kept_folder(),
        found=of_project,
    )


def _reaches(definitions: Definitions, at: Conditions = ANYWHERE) -> "Mapping[str, Reach]":
    from specgen.cli.cache_folder import kept_folder  # most commands are about a build
    from specgen.limits.reach import reaches

    return reaches(definitions, kept_folder(), at=at)
