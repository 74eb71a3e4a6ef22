"""The documents there are: which template, which variables, which blocks it may call."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Final

from specgen.diagnostics import Finding
from specgen.document.blocks.makers import family_blocks, part_blocks, system_blocks
from specgen.document.case import DRAFT, Case, FamilyCase, PartCase, Systems
from specgen.document.cells.cell_makers import table_of
from specgen.document.compose import Composed, compose
from specgen.document.illustrated.contact_sheet import contact_sheet
from specgen.document.illustrated.placed_picture import picture_block
from specgen.document.prose.block import Limits, prose_block
from specgen.document.prose.placed import OF_DOCUMENTS, OF_SYSTEMS
from specgen.document.prose.text_subjects import Subjects
from specgen.document.several import named
from specgen.document.shared_texts import errors_of
from specgen.document.template import Templates
from specgen.document.template_calls import tables_of
from specgen.document.tree import Figure, literal
from specgen.document.used_terms import used_only
from specgen.messages import say
from specgen.model import Definitions

PLACED: Final = (*OF_SYSTEMS, *OF_DOCUMENTS)
"""What a text may place that a document prints."""
Figures = Mapping[str, Callable[[], Figure | None]]


def system_document(
    name: str,
    templates: Templates,
    case: Case,
    figures: Figures,
    systems: Systems,
    family: FamilyCase | None = None,
    shown: Case | None = None,
    trouble: list[Finding] | None = None,
    limits: Limits = dict,
) -> Composed:
    """A document about a build or a platform, by the name of its template without `.md`.

    `shown` is the system that `figures` draw, where that is not the one the document is about;
    `systems` are those that prose may refer to. Errors in what it prints are added to `trouble`;
    `limits` are those of platforms, for texts that refer to them.
    """
    wrong = errors_of(templates.texts, case.definitions)
    if wrong:
        return None, wrong
    functions = system_blocks(case, figures, templates.texts, family, shown)
    if family is not None:
        own = family_blocks(family, case.platform.id)
        functions["build_table"] = own["build_table"]
    about = Subjects(case.definitions, systems, tables=partial(tables_of, templates))
    functions["picture"] = picture_block(templates.project, about)
    functions["contact_sheet"] = contact_sheet(templates.project, about)
    project = case.definitions.project
    functions["prose"] = prose_block(
        case,
        templates.project,
        templates.language or project.language,
        systems,
        partial(tables_of, templates),
        trouble,
        limits,
        lambda: {name: each for name, each in functions.items() if name in PLACED},
    )
    return compose(
        f"{name}.md",
        templates,
        variables=system_variables(case),
        functions=functions,
        project=project,
        tidy=True,
        mark=DRAFT if case.is_draft else "",
        last=used_only,
    )


def system_variables(case: Case) -> dict[str, object]:
    """The names that a template about a system may use, and what they stand for."""
    project = case.definitions.project
    return {
        "project": project,
        "platform": case.platform,
        "family": case.definitions.family(case.platform.family),
        "build": case.assembly.build,
        "title": named(case),
        "conditions": case.assembly.conditions,
        "documents": project.documents,
    }


def part_document(name: str, templates: Templates, case: PartCase) -> Composed:
    """A document about one part."""
    project = case.definitions.project
    variables: dict[str, object] = {
        "project": project,
        "part": case.part,
        "kind": case.part.named(),
    }
    functions = part_blocks(case)
    return compose(
        f"{name}.md",
        templates,
        variables=variables,
        functions=functions,
        project=project,
    )


def family_document(name: str, templates: Templates, case: FamilyCase) -> Composed:
    """A document about the whole project."""
    project = case.definitions.project
    return compose(
        f"{name}.md",
        templates,
        variables={"project": project},
        functions=family_blocks(case),
        project=project,
    )


def findings_document(
    templates: Templates, definitions: Definitions, name: str, findings: tuple[Finding, ...]
) -> Composed:
    """What takes the place of a sheet whose build has errors."""

    def listed(_: str) -> object:
        return table_of(
            ((finding,) for finding in findings),
            say("Findings"),
            "findings-table",
            (say("Code"), lambda finding: literal(finding.code.id)),
            None if definitions.is_public else (say("Where"), lambda each: each.at.span.shown),
            (say("What"), lambda finding: finding.message),
            (say("How to fix it"), lambda finding: finding.help),
        )

    return compose(
        "findings.md",
        templates,
        variables={"project": definitions.project, "name": name},
        functions={"table": listed},
        project=definitions.project,
    )
