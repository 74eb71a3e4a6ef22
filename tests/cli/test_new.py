"""`specgen new`: files that load at once, in the right place, and never over another."""

import re
from dataclasses import fields as dataclass_fields
from pathlib import Path
from typing import Any

import pytest

from specgen.load.decode import decode
from specgen.load.scaffold import fresh, quoted
from specgen.model import KINDS, Build, Platform, Project
from specgen.model.kinds.declared_kinds import DeclaredKind
from specgen.source import YamlMapping, read_tree
from tests.cli.conftest import Run, written

CLASSES: dict[str, type[Any]] = {
    "project": Project,
    "platform": Platform,
    "build": Build,
    "kind of part": DeclaredKind,
    **KINDS,
}


def uncommented(text: str) -> str:
    """The text with every field that it offers taken into use."""
    return re.sub(r"^# (?=[a-z_]+: )", "", text, flags=re.MULTILINE)


def decoded(cls: type[Any], text: str) -> Any:
    tree, findings = read_tree(text, "new.yaml")
    assert findings == ()
    assert isinstance(tree, YamlMapping)
    bare = YamlMapping({key: value for key, value in tree.items() if key != "kind"})
    bare.span, bare.key_spans = tree.span, tree.key_spans
    value, problems = decode(cls, bare)
    assert problems == (), text
    return value


@pytest.mark.parametrize("word", CLASSES)
def test_what_is_begun_loads_at_once(word: str) -> None:
    text = fresh(CLASSES[word], {}, head="To begin with.")
    assert decoded(CLASSES[word], text) is not None
    assert max(map(len, text.splitlines())) <= 100


@pytest.mark.parametrize("word", CLASSES)
def test_every_field_that_is_offered_can_be_taken_up(word: str) -> None:
    text = uncommented(fresh(CLASSES[word], {}))
    assert decoded(CLASSES[word], text) is not None
    properties = set(re.findall(r"^([a-z_]+):", text, flags=re.MULTILINE))
    assert {"from_", "origin"}.isdisjoint(properties)
    assert len(properties) == sum(entry.init for entry in dataclass_fields(CLASSES[word]))


@pytest.mark.parametrize("word", CLASSES)
def test_what_nobody_has_decided_is_marked(word: str) -> None:
    above, _, _ = fresh(CLASSES[word], {"id": "some-id"}).partition("\n\n")
    fields = [line for line in above.splitlines() if re.match(r"[a-z_]+:", line)]
    assert all("# to do" in line for line in fields if not line.startswith("id:"))


def test_a_project_is_begun_and_grows(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run("new", "project", "lamp-room").out == "lamp-room/specgen.yaml\n"
    monkeypatch.chdir(tmp_path / "lamp-room")
    assert run("new", "part", "lamp-cpu", "--kind", "processor").out == "catalog/lamp-cpu.yaml\n"
    assert run("new", "platform", "lamp").out == "platforms/lamp.yaml\n"
    assert run("new", "build", "lamp-a", "--platform", "lamp").out == "configured/lamp-a.yaml\n"
    assert run("new", "prose", "lamp", "--name", "walk").out == "prose/lamp/walk.md\n"
    _only_left_to_do(run)


def _only_left_to_do(run: Run) -> None:
    """All that is found is what the new files say themselves: that they are not finished."""
    got = run("check", "--format", "lines")
    assert got.status == 0
    assert got.out
    assert all("SG126" in line for line in got.out.splitlines()), got.out


@pytest.mark.parametrize("kind", KINDS)
def test_a_part_of_every_kind_passes_the_checks(run: Run, here: Path, kind: str) -> None:
    assert run("new", "part", "a-new-one", "--kind", kind).status == 0
    _only_left_to_do(run)


def test_a_build_has_a_part_wherever_one_must_be(run: Run, here: Path) -> None:
    assert run("new", "build", "fresh", "--platform", "lantern").status == 0
    text = (here / "builds/configured/fresh.yaml").read_text("utf-8")
    assert "  CPU1: corvane-c16s  # to do: takes processor\n" in text
    assert "  HS 1: sink  # to do: takes heat-sink\n" in text  # hangs on CPU1, which is filled
    assert "  # HS 2: to-do" in text  # hangs on CPU2, which need not be
    assert "  # PSU 1..2: to-do  # takes power-supply\n" in text
    assert "SG318" not in run("check", "fresh").out


def test_a_text_refers_to_what_is_there(run: Run, here: Path) -> None:
    for subject in ("lantern", "lantern-full", "sas-1600"):
        assert run("new", "prose", subject).status == 0
    told = run("check", "--format", "lines").out.splitlines()
    left = ("SG126", "SG127", "SG511")  # published as they are, and nothing prints a part's text
    assert all(any(code in line for code in left) for line in told), told
    text = (here / "builds/prose/sas-1600/introduction.md").read_text("utf-8")
    assert "{part sas-1600}" in text
    assert "- Maximum power: {power.maximum}" in text


def test_an_editor_is_reported_of_schemas_that_are_there(run: Run, here: Path) -> None:
    assert run("new", "part", "one", "--kind", "fan").status == 0
    run("schema", "builds/.schemas")
    assert run("new", "part", "two", "--kind", "fan").status == 0
    first = [
        (here / f"builds/catalog/{name}.yaml").read_text().splitlines()[0]
        for name in ("one", "two")
    ]
    assert first[0].startswith("# Loads as it is")
    assert first[1] == "# yaml-language-server: $schema=../.schemas/part.json"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ("paltform", "x"),
            "no kind of file to begin is named `paltform`: did you mean `platform`?",
        ),
        (
            ("part", "x", "--kind", "drvie"),
            "no kind of part is named `drvie`: did you mean `drive`?",
        ),
        (("part", "Big_One", "--kind", "fan"), "did you mean `big-one`?"),
        (("part", "../x", "--kind", "fan"), "did you mean `x`?"),
        (("part", "sas-1600", "--kind", "fan"), "is there already: builds/catalog/drives.yaml:9:"),
        (("build", "x", "--platform", "lantren"), "did you mean `lantern`?"),
        (("prose", "lantern-ful"), "did you mean `lantern-full`?"),
        (("prose", "lantern", "--name", "../x"), "`../x` is not an id"),
    ],
)
def test_what_cannot_be_begun_is_reported(
    run: Run, here: Path, words: tuple[str, ...], told: str
) -> None:
    before = sorted(here.rglob("*"))
    got = run("new", *words)
    assert (got.status, got.out) == (2, "")
    assert told in " ".join(got.err.split())
    assert sorted(here.rglob("*")) == before


@pytest.mark.parametrize(
    ("words", "file"),
    [
        (("project", "builds"), "specgen.yaml"),
        (("platform", "fresh"), "platforms/fresh.yaml"),
        (("part", "fresh", "--kind", "fan"), "catalog/fresh.yaml"),
        (("prose", "lantern"), "prose/lantern/introduction.md"),
    ],
)
def test_a_file_is_never_written_over(
    run: Run, here: Path, words: tuple[str, ...], file: str
) -> None:
    path = here / "builds" / file
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists():
        path.write_text("# mine\n")
    before = path.read_bytes()
    got = run("new", *words)
    assert got.status == 2
    assert f"builds/{file} is there already" in got.err
    assert path.read_bytes() == before


def test_a_folder_of_any_name_makes_a_project(run: Run, tmp_path: Path) -> None:
    for name in ("Küste: #1", "null", "'"):
        assert run("new", "project", tmp_path / name).status == 0
        assert run("check", "--project", tmp_path / name).status == 0


def test_words_that_yaml_reads_otherwise_are_quoted() -> None:
    assert [quoted(word) for word in ("to do", "to-do", "null", "a: b", "1.5", "x1")] == [
        "to do",
        "to-do",
        '"null"',
        '"a: b"',
        '"1.5"',
        "x1",
    ]


def test_a_project_that_cannot_be_read_gets_nothing_new(run: Run, tmp_path: Path) -> None:
    written(tmp_path, {"specgen.yaml": "title: [\n"})
    got = run("new", "platform", "x", "--project", tmp_path)
    assert got.status != 0
    assert not (tmp_path / "platforms").exists()
