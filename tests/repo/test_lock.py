"""The locked versions are whole: all that pyproject.toml asks for, each held to digests, once."""

import re
import tomllib
from collections import Counter
from dataclasses import dataclass
from functools import cache

import pytest
from packaging.markers import Marker
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.repo.house import ROOT, text_of

FOLDER = ROOT / ".dev" / "lock"
EXTRAS = {"publish": "", "test": "test", "dev": "dev"}
"""What each file locks besides the files before it: an extra of the project, if any."""
RENEW = "run `.venv/bin/python .dev/lock.py`"
PYTHONS = ("3.11", "3.12", "3.13")
SYSTEMS = {"linux": "posix", "darwin": "posix", "win32": "nt"}
PLACES = [
    {"python_version": python, "python_full_version": f"{python}.0", "sys_platform": system}
    | {"os_name": name, "platform_python_implementation": "CPython"}
    for python in PYTHONS
    for system, name in SYSTEMS.items()
]


@dataclass(frozen=True)
class Pin:
    name: str
    version: str
    marker: Marker | None
    digests: int


@cache
def pins(file: str) -> tuple[Pin, ...]:
    """The pins of a file, read as pip reads them: a backslash continues a line."""
    lines = re.sub(r"\\\n\s*", "", text_of(FOLDER / f"{file}.txt")).splitlines()
    found = []
    for line in lines:
        if not line.startswith(("#", "-r ")):
            asked, *digests = line.split("--hash=")
            requirement = Requirement(asked)
            (only,) = requirement.specifier
            assert only.operator == "=="
            assert all(re.fullmatch(r"sha256:[0-9a-f]{64}\s*", digest) for digest in digests)
            name = canonicalize_name(requirement.name)
            found.append(Pin(name, only.version, requirement.marker, len(digests)))
    return tuple(found)


def below(file: str) -> list[str]:
    """The file and those that it takes in."""
    names = [*EXTRAS]
    return names[: names.index(file) + 1]


def asked_by(extra: str) -> list[Requirement]:
    """What the project needs to be built, to run and for an extra, extras within it resolved."""
    settings = tomllib.loads(text_of(ROOT / "pyproject.toml"))
    project, waiting, found = settings["project"], [extra] if extra else [], []
    while waiting:
        for text in project["optional-dependencies"][waiting.pop()]:
            requirement = Requirement(text)
            if requirement.name == project["name"]:
                waiting += requirement.extras
            else:
                found.append(requirement)
    always = [*settings["build-system"]["requires"], *project["dependencies"]]
    return [*map(Requirement, always), *found]


@pytest.mark.parametrize("file", EXTRAS)
def test_all_that_is_asked_for_is_locked_everywhere_at_a_version_that_serves(file: str) -> None:
    locked = [pin for each in below(file) for pin in pins(each)]
    amiss = []
    for asked in asked_by(EXTRAS[file]):
        named = [pin for pin in locked if pin.name == canonicalize_name(asked.name)]
        for place in PLACES:
            here = [pin for pin in named if pin.marker is None or pin.marker.evaluate(place)]
            if [asked.specifier.contains(pin.version) for pin in here] != [True]:
                amiss.append(f"{asked} on {place['sys_platform']}, {place['python_version']}")
    assert amiss == [], RENEW


@pytest.mark.parametrize("file", EXTRAS)
def test_every_package_is_held_to_digests(file: str) -> None:
    assert pins(file)
    assert [pin.name for pin in pins(file) if not pin.digests] == []


def test_every_package_stands_in_one_file() -> None:
    files = Counter(name for file in EXTRAS for name in {pin.name for pin in pins(file)})
    assert [name for name, count in files.items() if count > 1] == []


@pytest.mark.parametrize("file", EXTRAS)
def test_a_file_takes_in_the_one_before_it_and_names_no_place_to_fetch_from(file: str) -> None:
    text = text_of(FOLDER / f"{file}.txt")
    taken = re.findall(r"^-.*$", text, re.M)
    assert taken == [f"-r {name}.txt" for name in below(file)[:-1][-1:]]
    assert "://" not in text
    assert "index" not in text
