"""What is for more rack units is heavier: bezels held against the platforms that they go on."""

import pytest

from tests.projects import base, project

TALL = "platforms/tall.yaml"
BEZELS = "catalog/bezels.yaml"
PLATFORM = "platforms/lantern.yaml"
RACK = "  - {name: RAILS, takes: rail-kit}\n"


def _found(weight: str) -> list[tuple[str, str]]:
    """Bezels for one, two and four rack units; the last one weighs what is asked."""
    files = base()
    own = files[PLATFORM]
    for name, units, height in (("two", 2, "88 mm"), ("four", 4, "176 mm")):
        files[f"platforms/{name}.yaml"] = (
            f"id: {name}\nname: {name.title()} units\nfamily: coast\n"
            "source: {document: product description, date: 2026-03-02}\n"
            f"summary: Much room\nrack_units: {units}\n"
            f"size: {{width: 482 mm, height: {height}, depth: 712 mm}}\nmass: 14 kg\n"
            "power: {idle: 20 W, typical: 30 W, maximum: 40 W}\noperating_class: A2\n"
            f"positions:\n  - {{name: BEZEL, takes: bezel, area: front, key: {name}}}\n"
        )
    files[PLATFORM] = own.replace(RACK, RACK + "  - {name: BEZEL, takes: bezel, key: one}\n")
    weights = (("one", "0.4 kg"), ("one", "0.5 kg"), ("two", "0.7 kg"), ("four", "1.2 kg"))
    rows = [*weights, ("one", weight)]
    files[BEZELS] = (
        "kind: bezel\ncommon: {source: {document: handbook, date: 2026-01-20}}\nparts:\n"
    ) + "".join(
        f"  - {{id: bezel-{at}, name: Bezel {'abcde'[at]}, key: {key}, mass: {mass}}}\n"
        for at, (key, mass) in enumerate(rows)
    )
    found = project(files).findings
    return [(each.code.id, each.at.span.file) for each in found if each.at.span.file == BEZELS]


@pytest.mark.parametrize("weight", ["4.2 kg", "0.05 kg"])
def test_a_bezel_of_one_rack_unit_with_its_point_moved(weight: str):
    # 4.2 kg is less than 4.5 times the heaviest of all: only for one rack unit is it far.
    assert _found(weight) == [("SG128", BEZELS)]


@pytest.mark.parametrize("weight", ["0.2 kg", "1.0 kg", "1.3 kg"])
def test_a_bezel_of_steel_or_of_plastic(weight: str):
    assert _found(weight) == []
