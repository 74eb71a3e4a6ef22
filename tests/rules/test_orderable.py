"""What can be ordered on the project's date, and by which number."""

from pathlib import Path

import pytest

from specgen.diagnostics import Severity
from specgen.limits.limit import Status
from specgen.limits.limit_tables import table_of
from specgen.limits.nearest_builds import completed, nearest
from specgen.load.definitions import load
from specgen.rules.definitions.languages import unknown_language
from tests.mutated.breaks import FULL, HOUSE, PLATFORM, PROJECT
from tests.projects import base, edited, project, sources

NEW = "  TPM: tpm-new"


def _with_planned() -> dict[str, str]:
    return edited(FULL, "  TPM: tpm", NEW)


def test_a_planned_part_is_an_error_that_may_be_accepted():
    files = _with_planned()
    assert project(files).codes == ["SG366"]
    allow = "allow: [{code: SG366, reason: Announced together}]\n"
    files[FULL] += allow
    assert project(files).codes == []


def test_an_allowance_that_no_planned_part_needs_is_told():
    files = base()
    files[FULL] += "allow: [{code: SG366, reason: Announced together}]\n"
    assert project(files).codes == ["SG212"]


def test_a_draft_may_hold_a_planned_part():
    files = _with_planned()
    files[FULL] = files[FULL].replace("summary:", "published: false\nsummary:")
    found = project(files)
    assert found.codes == ["SG362"]
    assert found.findings[0].severity is Severity.NOTE


@pytest.mark.parametrize(("date", "codes"), [("2026-04-01", []), ("2026-03-31", ["SG366"])])
def test_the_project_date_decides(date: str, codes: list[str]):
    files = edited(HOUSE, "id: tpm, name:", "id: tpm, life: {introduced: 2026-04-01}, name:")
    files[PROJECT] = files[PROJECT].replace("2026-03-02", date)
    assert project(files).codes == codes


def test_without_a_date_the_status_is_as_declared():
    files = edited(HOUSE, "id: tpm, name:", "id: tpm, life: {introduced: 2099-04-01}, name:")
    files[PROJECT] = files[PROJECT].replace("date: 2026-03-02\n", "")
    assert project(files).codes == []


def test_numbers_are_held_against_each_other_across_kinds():
    files = edited(HOUSE, "id: tpm, name:", "id: tpm, number: Q-1, name:")
    files[PLATFORM] += "number: Q-1\n"
    files[FULL] += "number: q-1\n"
    found = project(files)
    assert found.codes == ["SG214", "SG214"]
    assert {each.labels[0].span.file for each in found.findings} == {PLATFORM}


def _definitions(files: dict[str, str]):
    definitions = load(sources(files)).definitions
    assert definitions is not None
    return definitions


def test_limits_use_what_can_be_ordered():
    """With a planned drive of 900 TB the most that can be ordered is what it was without."""
    files = base()
    name = "catalog/drives.yaml"
    big = (
        "    - {id: sas-big, name: SAS 900 TB, interface: sas, capacity: 900 TB, generation: 4,"
        " life: {introduced: 2026-09-01}}\n"
    )
    files[name] = files[name].replace("    - {id: sata-960", f"{big}    - {{id: sata-960")
    before, after = _definitions(base()), _definitions(files)

    def raw(definitions):
        (limit,) = table_of(definitions, definitions.platforms["lantern"], ["raw"])
        assert limit.status is Status.PROVED
        return limit.value

    assert raw(after) == raw(before)
    assert raw(after.with_planned()) > raw(before)


def test_nearest_builds_and_completions_use_what_can_be_ordered():
    files = edited(HOUSE, "{kind: tpm, id: tpm,", "{kind: tpm, id: tpm,")
    files[PLATFORM] = files[PLATFORM].replace("{name: TPM,", "{name: TPM, must: true,")
    files[FULL] = files[FULL].replace("  TPM: tpm\n", "")
    files[HOUSE] = files[HOUSE].replace("id: tpm, name:", "id: tpm, life: {status: planned}, name:")
    definitions = _definitions(files)
    build = definitions.builds["lantern-full"]
    assert completed(definitions, build) is None
    assert nearest(definitions, build) == ()
    assert completed(definitions.with_planned(), build) is not None


@pytest.mark.parametrize(
    ("tag", "help_"),
    [("gr", ""), ("German", "de"), ("deutsch", "de"), ("dee", "de"), ("jp", "ja"), ("ger", "de")],
)
def test_a_language_without_words_is_told(tag: str, help_: str, tmp_path: Path):
    files = edited(PROJECT, "date:", f"language: {tag}\ndate:")
    (finding,) = unknown_language(tmp_path, _definitions(files))
    assert finding.code.id == "SG215"
    assert (
        str(finding.help) == f"did you mean `{help_}`?"
        if help_
        else "did you mean" not in str(finding.help)
    )


@pytest.mark.parametrize("tag", ["en", "en-GB", "de", "de-AT", "ja"])
def test_a_language_with_words_is_no_finding(tag: str, tmp_path: Path):
    files = edited(PROJECT, "date:", f"language: {tag}\ndate:")
    assert tuple(unknown_language(tmp_path, _definitions(files))) == ()


def test_a_catalogue_of_the_project_counts(tmp_path: Path):
    folder = tmp_path / "translations"
    folder.mkdir(parents=True)
    (folder / "fr.po").write_text("", encoding="utf-8")
    files = edited(PROJECT, "date:", "language: fr\ndate:")
    assert tuple(unknown_language(tmp_path, _definitions(files))) == ()
