"""What the package says of itself, to whom, and what travels with it."""

import importlib.util
import re
import tomllib
from types import ModuleType

import pytest

from specgen import DISTRIBUTION
from tests.conftest import ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
RELATIVE = re.compile(r"\]\((?!https?:|#|mailto:)[^)]+\)")


@pytest.fixture(scope="module")
def readme() -> ModuleType:
    pytest.importorskip("hatchling", reason="hatchling, which makes wheels, is not installed")
    spec = importlib.util.spec_from_file_location("readme", ROOT / ".dev" / "readme.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_an_index_shows_no_relative_link(readme: ModuleType):
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    assert RELATIVE.search(text)  # else there is nothing to do
    bare = readme.absolute(text, "")
    assert not RELATIVE.search(bare)
    assert "DEVELOPERS.md is for whoever" in bare
    full = readme.absolute(text, "https://files.example/raw/main/")
    assert not RELATIVE.search(full)
    assert "[DEVELOPERS.md](https://files.example/raw/main/DEVELOPERS.md)" in full
    assert "](https://files.example/raw/main/site/readme.svg)" in full


def test_links_of_the_web_anchors_and_samples_stay(readme: ModuleType):
    kept = "[a](https://e.org/x) [b](#c)\n```\n[d](e)\n```\n"
    assert readme.absolute(kept, "") == kept
    assert readme.absolute("a\n\n![p](q.svg)\n\n[b](c)\n", "") == "a\n\nb\n"


def test_what_is_shipped_has_its_licence_with_it():
    (pattern,) = PROJECT["license-files"]
    found = {path.name for path in ROOT.glob(pattern)}
    fonts = {path.name for path in (ROOT / "site/print/fonts").glob("*.ttf")}
    assert {re.split(r"[-_.]", name)[0] for name in found} == {
        re.split(r"[-_.]", name)[0] for name in fonts
    }
    for path in ROOT.glob(pattern):
        text = path.read_text(encoding="utf-8")
        assert "SIL OPEN FONT LICENSE Version 1.1" in text
        assert "PERMISSION & CONDITIONS" in text


def test_the_pythons_of_the_classifiers_are_those_that_are_asked_for():
    named = [c.rpartition(" ")[2] for c in PROJECT["classifiers"] if ":: 3." in c]
    assert f">={named[0]}" == PROJECT["requires-python"]
    assert (ROOT / "specgen" / "py.typed").is_file()


def test_no_person_is_named():
    assert [set(author) for author in PROJECT["authors"]] == [{"name"}]
    assert PROJECT["authors"][0]["name"] == "The specgen maintainers"


def test_the_program_knows_what_its_package_is_called():
    assert PROJECT["name"] == DISTRIBUTION
