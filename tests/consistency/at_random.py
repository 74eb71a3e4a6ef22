"""Systems that nobody thought of: small projects by a seed, and conditions by chance."""

import random
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

from specgen.cli.one_build import asked
from specgen.model import Build, Conditions, Fill
from specgen.pipeline import survey
from tests.consistency.printed import Project
from tests.limits.small import defined, files_of, sound_builds

DOCUMENTS = "documents: [sheet, engineering, review, parts-list, information]"
MOST_BUILDS = 3
LOOKED_THROUGH = 300

RACKS = (
    ("line=208 V", "line=120 V", "line=240 V", "line=200 V"),
    ("inlet=18 degC", "inlet=30 degC", "inlet=35 degC"),
    ("altitude=0 m", "altitude=1500 m", "altitude=2900 m"),
    ("circuit=10 A", "circuit=16 A", "circuit=32 A"),
    ("circuit_rule=nec", "circuit_rule=iec"),
    ("rise=12 K", "rise=25 K"),
    ("feeds=2",),
    ("redundancy=none", "redundancy=1+1", "redundancy=2+1"),
    ("rack_units=12", "rack_units=42"),
    ("rack_depth=600 mm", "rack_depth=1000 mm"),
    ("rail_distance=450 mm", "rail_distance=740 mm"),
    ("rack_load_rating=60 kg", "rack_load_rating=900 kg"),
    ("floor_load_rating=5 kN/m2", "floor_load_rating=12 kN/m2"),
    ("per_rack=3", "per_rack=8"),
)
"""What racks, circuits, floors and rooms may be: one of each row."""


def conditions(dice: random.Random, share: float = 0.5) -> Conditions:
    """Conditions by chance, each stated as often as `share` says."""
    return asked(tuple(dice.choice(row) for row in RACKS if dice.random() < share))


def project_at_random(seed: int, folder: Path) -> Project:
    """A project of one small platform and a few builds, all without errors."""
    dice = random.Random(seed)
    files = files_of(seed)
    sound = [each for each, *_ in islice(sound_builds(defined(files)), LOOKED_THROUGH)]
    files["specgen.yaml"] = files["specgen.yaml"].replace("documents: [sheet]", DOCUMENTS)
    for number, build in enumerate(dice.sample(sound, min(MOST_BUILDS, len(sound))), 1):
        files[f"configured/small-{number}.yaml"] = "".join(_written(build, number, dice))
    for name, text in files.items():
        path = folder / "project" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    found = survey(folder / "project")
    assert found.loaded.findings == ()
    return Project(found, folder / "layouts")


def _written(build: Build, number: int, dice: random.Random) -> Iterator[str]:
    yield f"id: small-{number}\nname: Small, {number}\nnumber: SM-{number}\nplatform: small\n"
    yield "summary: A build by chance\n"
    if dice.random() < 0.5:
        yield f"conditions: {{circuit: 16 A, rise: 30 K, per_rack: {dice.randint(2, 9)}}}\n"
    yield "fit:\n" if build.fit else "fit: {}\n"
    for name, fill in build.fit.items():
        yield f"  {name}: {_fill(fill)}\n"


def _fill(fill: Fill) -> str:
    return fill.part if fill.to is None else f"{{part: {fill.part}, to: {fill.to}}}"
