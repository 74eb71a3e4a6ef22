"""An order number that begins as those of another platform's builds do."""

from tests.projects import base, project

OTHER = (
    "id: two\nname: Two units\nfamily: coast\n"
    "source: {document: product description, date: 2026-03-02}\nsummary: Much room\nrack_units: 2\n"
    "size: {width: 482 mm, height: 88 mm, depth: 712 mm}\nmass: 14 kg\n"
    "power: {idle: 20 W, typical: 30 W, maximum: 40 W}\noperating_class: A2\npositions: []\n"
)


def _told(last: str) -> list[str]:
    """Four builds of either platform, of which the last of the first has the number asked for."""
    files = {**base(), "platforms/two.yaml": OTHER}
    numbers = [("lantern", f"B.20.0{at}") for at in (1, 2, 3)] + [("lantern", last)]
    numbers += [("two", f"B.30.0{at}") for at in (1, 2, 3, 4)]
    for at, (platform, number) in enumerate(numbers):
        files[f"configured/b{at}.yaml"] = (
            f"id: b{at}\nname: Build {at}\nplatform: {platform}\nnumber: {number}\n"
            "published: false\nsummary: A draft\nfit: {}\n"
        )
    found = project(files).findings
    return [each.at.span.file for each in found if each.code.id == "SG220"]


def test_a_number_of_another_platforms_builds_is_told():
    assert _told("B.30.12") == ["configured/b3.yaml"]


def test_a_number_of_its_own_or_of_a_new_sort_is_not():
    assert _told("B.20.12") == _told("C.7.12") == []
