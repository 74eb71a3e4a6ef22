"""A platform that was made of another's file, and what was left as it was."""

import pytest

from tests.projects import base, project

OWN = "document: product description LN-100"


@pytest.mark.parametrize(
    ("document", "told"),
    [
        ("Lantern description LN-100", "the source tells of Lantern, and this is Harbour"),
        ("Harbour and Lantern, what they share", ""),
        ("lantern lights of the harbour", ""),
    ],
)
def test_a_source_that_is_another_platforms_is_told(document: str, told: str):
    files = base()
    text = files["platforms/lantern.yaml"].replace(
        "id: lantern\nname: Lantern", "id: harbour\nname: Harbour"
    )
    files["platforms/harbour.yaml"] = text.replace(OWN, f"document: {document}")
    found = [str(each.message) for each in project(files).findings]
    assert [each for each in found if "source tells" in each] == ([told] if told else [])
