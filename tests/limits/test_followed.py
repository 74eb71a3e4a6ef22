"""One line of YAML moves a limit, the page that prints it, and what the checks find."""

import re

import pytest

from specgen.document.case import FamilyCase, no_systems
from specgen.document.document_types import system_document
from specgen.document.shelf import templates_of
from specgen.document.tree import Figure
from specgen.limits.limit import Status
from specgen.limits.reach import reaches
from specgen.model import Build, Definitions, Fill
from specgen.pipeline import bare_case, case_of
from specgen.write import markdown
from tests.limits.small import HEAD, PROJECT, defined

SIDES = {"sides": lambda: Figure("Sides", None, "")}
DRIVE = (
    "- {kind: drive, id: drive, name: Drive, medium: ssd, form: 2.5-inch, interface: nvme, "
    "swap: hot, lanes: x4, generation: 4, capacity: 1 TB, power: {maximum: %s}, mass: 0.1 kg, "
    "source: {document: table}}\n"
)
RULE = "rules: [{code: QW-1, require: 'sum(d.power.maximum for d in drives) <= \"%s\"'}]\n"


def system(watts: str, most: str) -> Definitions:
    return defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD
            + "positions: [{name: BAY 1..4, takes: drive}]\n"
            + (RULE % most),
            "catalog/parts.yaml": DRIVE % watts,
        }
    )


def page(definitions: Definitions, tmp_path) -> str:
    small = definitions.platforms["small"]
    case = bare_case(definitions, small, reaches(definitions, None)["small"])
    family = FamilyCase(definitions, {"small": case}, {})
    templates = templates_of(tmp_path)
    document, problems = system_document("platform", templates, case, SIDES, no_systems, family)
    assert problems == ()
    assert document is not None
    return markdown.page(document).decode()


def codes(definitions: Definitions, drives: int) -> set[str]:
    fit = {f"BAY {number}": Fill(part="drive") for number in range(1, drives + 1)}
    build = Build(id="x", name="x", platform="small", summary="x", fit=fit)
    case = case_of(definitions, build)
    assert case is not None
    return {finding.code.id for finding in case.findings}


@pytest.mark.parametrize(
    ("watts", "most", "drives"),
    [("8 W", "16 W", 2), ("8 W", "24 W", 3), ("4 W", "16 W", 4), ("16 W", "16 W", 1)],
)
def test_rule_or_part_changed_moves_limit_page_and_finding_alike(tmp_path, watts, most, drives):
    definitions = system(watts, most)
    limits = {limit.key: limit for limit in reaches(definitions, None)["small"].limits}
    assert (limits["drives"].value, limits["drives"].status) == (drives, Status.PROVED)
    assert re.search(rf"\| Drives, max\. +\| +{drives} \|", page(definitions, tmp_path))
    assert "QW-1" not in codes(definitions, drives)
    if drives < 4:
        assert "QW-1" in codes(definitions, drives + 1)
