"""The build that the pictures of a platform show."""

import pytest

from specgen.pipeline import example_of
from tests.mutated.breaks import FULL, PLATFORM
from tests.projects import base, edited, project


def shown(build: str, **changed: str) -> dict[str, str]:
    files = edited(PLATFORM, "mass: 11.2 kg\n", f"mass: 11.2 kg\nshown: {build}\n")
    return {**files, **changed}


@pytest.mark.parametrize("build", ["lantern-small", "lantern-full"])
def test_a_platform_is_shown_by_the_build_that_it_names(build: str):
    found = project(shown(build))
    assert found.codes == []
    definitions = found.loaded.definitions
    assert definitions is not None
    case = example_of(definitions, definitions.platforms["lantern"])
    assert case.build is not None
    assert case.build.id == build


def test_one_that_names_none_is_shown_by_its_first():
    definitions = project(base()).loaded.definitions
    assert definitions is not None
    case = example_of(definitions, definitions.platforms["lantern"])
    assert case.build is definitions.builds["lantern-full"]


def test_a_build_that_is_not_there_is_asked_after():
    (finding,) = project(shown("lantern-smal")).findings
    assert (finding.code.id, str(finding.help)) == ("SG225", "did you mean `lantern-small`?")


def test_a_draft_shows_no_platform():
    draft = base()[FULL].replace("summary:", "published: false\nsummary:")
    (finding,) = project(shown("lantern-full", **{FULL: draft})).findings
    assert finding.code.id == "SG225"
    assert "draft" in str(finding.message)


def test_a_build_of_another_platform_shows_none():
    files = base()
    other = files[PLATFORM].replace("id: lantern\n", "id: beacon\nshown: lantern-full\n")
    files["platforms/beacon.yaml"] = other.replace("name: Lantern\n", "name: Beacon\n")
    told = [each for each in project(files).findings if each.code.id == "SG225"]
    assert [str(each.message) for each in told] == [
        "`lantern-full` is a build of Lantern, not of Beacon"
    ]
    assert str(told[0].help) == "leave the field out: the chassis is shown as it is"
