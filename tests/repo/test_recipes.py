"""The five recipes of DEVELOPERS.md, followed to the letter on a copy of the tree."""

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from specgen.quantity import NARROW_SPACE
from tests.cli.conftest import written
from tests.cli.test_site_command import tiny
from tests.repo.house import ROOT, text_of

HEAD = re.compile(r"### (?P<title>.+) \((?P<files>\d+) files?\)\n")
FIRST = r"(?:# |\{# )(?P<file>\S+), (?P<where>[^\n]+?)(?: #\})?\n"
PIECE = re.compile(rf"```\w+\n{FIRST}(?P<text>.*?)```", re.S)
DEMO = ("--project", "builds")
COPIED = ("specgen", "templates", "site", "builds", ".dev", "tests/mutated")
FILTER = """
kind: dust-filter
id: filter-coarse
name: Coarse filter
form: filter-1u
life_in_use: 4000 h
source: {document: filter table}
"""
WORDS = {
    "Weight per rack unit",
    "weight over height in rack units",
    "the chassis weighs {mass}, more than its crate carries",
    "this weight",
    "ship it in two pieces",
    "Lanes of the processors",
}
"""What the recipes say that nobody said before: translators get it all, and nothing else."""


class Piece(NamedTuple):
    """A text of a recipe, and where it goes."""

    file: str
    where: str
    text: str

    def put(self, root: Path) -> None:
        path = root / self.file
        how, _, line = self.where.partition(" ")
        if how == "new":
            assert not path.exists(), self.file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(self.text, encoding="utf-8")
            return
        lines = path.read_text(encoding="utf-8").split("\n")
        if self.where == "at the end":
            number = len(lines)
        else:
            (at,) = (n for n, each in enumerate(lines) if each.startswith(line))
            number = at + {"above": 0, "below": 1}[how]
        path.write_text("\n".join([*lines[:number], self.text, *lines[number:]]), encoding="utf-8")


def recipes() -> dict[str, tuple[int, list[Piece]]]:
    """Each recipe by its title: how many files it says to touch, and its pieces."""
    chapter = text_of(ROOT / "DEVELOPERS.md").split("\n## Five recipes\n")[1].split("\n## ")[0]
    _, *parts = HEAD.split(chapter)
    triples = zip(parts[::3], parts[1::3], parts[2::3], strict=True)
    return {
        title: (int(files), [Piece(*found) for found in PIECE.findall(text)])
        for title, files, text in triples
    }


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A copy of the tree with every recipe followed."""
    root = tmp_path_factory.mktemp("recipes")
    for folder in COPIED:
        shutil.copytree(ROOT / folder, root / folder)
    for name in ("__init__.py", "projects.py", "timing.py"):
        shutil.copy2(ROOT / "tests" / name, root / "tests" / name)
    if sys.pycache_prefix and _compiled(ROOT).is_dir():
        shutil.copytree(_compiled(ROOT), _compiled(root))  # those of changed files are made anew
    for _, pieces in recipes().values():
        for piece in pieces:
            piece.put(root)
    yield root
    if sys.pycache_prefix:
        shutil.rmtree(_compiled(root), ignore_errors=True)


def _compiled(root: Path) -> Path:
    """Where compiled modules of a tree lie, where they do not lie beside it."""
    return Path(str(sys.pycache_prefix), *(root / "specgen").parts[1:])


def run(root: Path, *words: str, given: str = "", **environment: str) -> str:
    """What a command of Python's prints in the copy when it is given a text; it must end well."""
    for_this = {**os.environ, "PYTHONPATH": str(root), "SPECGEN_CACHE": "", **environment}
    command = [sys.executable, *words]
    done = subprocess.run(
        command, cwd=root, env=for_this, input=given.encode(), capture_output=True, check=False
    )
    assert done.returncode == 0, (done.stdout + done.stderr).decode()
    return done.stdout.decode()


COMMANDS = """
import contextlib, io, json, os, sys
from specgen.cli import main
root, printed = os.getcwd(), []
for folder, words in json.load(sys.stdin):
    os.chdir(folder or root)
    with contextlib.redirect_stdout(io.TextIOWrapper(io.BytesIO(), "utf-8")) as out:
        assert main(words) == 0, words
    out.flush()
    printed.append(out.buffer.getvalue().decode())
json.dump(printed, sys.stdout)
"""


def specgen(root: Path, *commands: tuple[str, ...], within: Path | None = None) -> list[str]:
    """What each of our commands prints, with plain spaces before units: all in one process."""
    given = json.dumps([(within and str(within), words) for words in commands])
    printed = json.loads(run(root, "-c", COMMANDS, given=given))
    return [each.replace(NARROW_SPACE, " ") for each in printed]


def rows(markdown: str) -> list[list[str]]:
    """The rows of all tables, cell by cell."""
    lines = (line for line in markdown.split("\n") if line.startswith("| "))
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def small(root: Path, name: str) -> Path:
    """The small project of the tests, to be changed."""
    folder = root / name
    shutil.copytree(root / "tests" / "mutated" / "base", folder)
    return folder


def test_five_tasks_have_a_recipe_that_touches_as_many_files_as_it_says():
    found = recipes()
    assert len(found) == 5
    for title, (files, pieces) in found.items():
        assert len({piece.file for piece in pieces}) == files, title


def test_a_kind_of_part(copy: Path):
    folder = small(copy, "with-a-kind")
    (folder / "kinds").mkdir(exist_ok=True)
    shutil.copy2(copy / "builds/kinds/dust-filter.yaml", folder / "kinds")
    (folder / "catalog/filters.yaml").write_text(FILTER, encoding="utf-8")
    place = "  - {name: FILTER, takes: dust-filter, form: filter-1u}\n"
    for file, old, more in (
        ("platforms/lantern.yaml", "positions:\n", place),
        ("configured/lantern-full.yaml", "fit:\n", "  FILTER: filter-coarse\n"),
    ):
        text = (folder / file).read_text(encoding="utf-8")
        assert text.count(old) == 1
        (folder / file).write_text(text.replace(old, old + more), encoding="utf-8")
    there = ("--project", str(folder))
    _, sheet, parts, _, _ = specgen(
        copy,
        ("check", *there),
        ("sheet", "lantern-full", "--to", "md", *there),
        ("parts", "lantern-full", "--to", "csv", *there),
        ("new", "part", "filter-fine", "--kind", "dust-filter", *there),
        ("schema", ".schemas"),
        within=folder,
    )
    assert ["FILTER", "Coarse filter", "1", "4000 h"] in rows(sheet)
    assert "Service life: 4000 h" in parts
    assert "life_in_use" in (folder / ".schemas/part.json").read_text(encoding="utf-8")


def test_a_check(copy: Path):
    tests = ("-m", "pytest", "-q", "-p", "no:cacheprovider", "--rootdir", str(copy))
    run(copy, *tests, "tests/mutated/test_breaks.py", "-k", "heavy or sound or every_code")


@pytest.mark.slow
def test_a_fact_a_code_a_table_and_a_format(copy: Path):
    key, of, to = "mechanics.mass_per_unit", ("boathouse-archive", *DEMO), ("--to", "txt")
    facts, why, data, code, sheet, outline, compared, asked = specgen(
        copy,
        ("facts", *of),
        ("explain", of[0], key, *DEMO),
        ("data", *of),
        ("explain", "SG399", *DEMO),
        ("sheet", *of, "--to", "md"),
        ("sheet", *of, *to),
        ("compare", of[0], "beacon-hosts", *to, *DEMO),
        ("prepare", "--help"),
    )
    assert key in facts
    assert "weight over height in rack units" in why
    assert "platforms/" in why
    assert '"Weight per rack unit"' in data
    assert "shipped otherwise" in code
    assert "**Lanes of the processors**" in sheet
    assert "\n  Topology\n" in outline
    assert compared
    assert "txt: Outline, its headings alone" in " ".join(asked.split())


def test_a_format_is_among_those_that_are_offered_while_one_types(copy: Path):
    asked = {"COMP_WORDS": "specgen sheet boathouse-archive --to ", "COMP_CWORD": "4"}
    call = "from specgen.cli import entry; entry()"
    offered = run(copy, "-c", call, _SPECGEN_COMPLETE="bash_complete", **asked)
    assert "plain,txt" in offered.split("\n")


@pytest.mark.slow
def test_a_format_is_handed_out_by_the_site(copy: Path):
    folder = written(copy / "handed-out", tiny("[txt]"))
    made = ("site", "-o", str(copy / "public"), "--project", str(folder), "--jobs", "1")
    specgen(copy, ("schema", ".schemas"), made, within=folder)
    assert '"txt"' in (folder / ".schemas/project.json").read_text(encoding="utf-8")
    made = copy / "public/builds/lantern-small/lantern-small.txt"
    assert "\n  Topology\n" in made.read_text(encoding="utf-8")
    page = (copy / "public/builds/lantern-small.html").read_text(encoding="utf-8")
    assert '/lantern-small/lantern-small.txt">' in page
    assert ">Outline<" in page


@pytest.mark.slow
def test_translators_get_what_the_recipes_say(copy: Path):
    extract = ".dev/messages.py", "extract"
    before, after = (
        set(re.findall(r'^msgid "(.+)"$', run(root, *extract), re.M)) for root in (ROOT, copy)
    )
    assert after - before == WORDS
