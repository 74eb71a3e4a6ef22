"""`specgen site`: whole, repeatable, and never at the cost of the site before."""

import hashlib
import os
import re
import shutil
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest

from specgen.cli import main
from tests.cli.conftest import Run, written
from tests.projects import base
from tests.timing import first as first_of

SMALL = "configured/lantern-small.yaml"


def content(folder: Path) -> dict[str, str]:
    """Every file under a folder with the hash of its bytes."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


class Text(HTMLParser):
    """The words of a page."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.feed(page)

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


NEEDED = frozenset({
    *("bag-40", "bays-cold", "blank-bay", "blank-fan", "cable-sata", "cord", "disk-4t", "duct"),
    *("corvane-b8", "corvane-c16s", "corvane-c32", "corvane-c96", "fan", "hub", "pack"),
    *("rdimm-32-slow", "sink", "supply-300", "watch"),
})  # fmt: skip
"""Parts that the small build and its platform name, and two for mistakes."""


def tiny(downloads: str = "[]") -> dict[str, str]:
    """The small project with only what its small build needs, so that few pages are made.

    No files are handed out beside them, unless `downloads` asks for some.
    """
    files = {name: text for name, text in base().items() if name != "configured/lantern-full.yaml"}
    for name in [each for each in files if each.startswith("catalog/")]:
        files[name] = _needed(files[name])
    files = {name: text for name, text in files.items() if text}
    files["specgen.yaml"] += f"downloads: {downloads}\n"
    return files


def _needed(parts: str) -> str:
    """Without the parts, and the kinds, that nobody needs."""
    kinds = re.split(r"^(?=- kind: )", parts, flags=re.MULTILINE)
    return "".join(map(_needed_of_kind, kinds))


def _needed_of_kind(parts: str) -> str:
    head, *pieces = re.split(r"^(?= *- {?(?:kind: [\w-]+, )?id: )", parts, flags=re.MULTILINE)
    ids = [re.search(r"\bid: ([\w.-]+)", piece) for piece in pieces]
    needed = [piece for piece, id_ in zip(pieces, ids, strict=True) if id_ and id_[1] in NEEDED]
    one = re.search(r"^  id: ([\w.-]+)|^id: ([\w.-]+)", head, re.MULTILINE)
    if not needed and not (one and (one[1] or one[2]) in NEEDED):
        return ""
    return head + "".join(needed)


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The current folder with the tiny project in `builds` below it."""
    written(tmp_path / "builds", tiny())
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_a_site_is_published_and_its_start_page_named(run: Run, place: Path):
    written(place / "builds", tiny("[pdf, csv, json]"))
    got = run("site")
    assert got.status == 0
    assert "public/index.html" in got.out
    assert " pages in " in got.out
    pages = got.out.split()[0]
    assert got.err.splitlines()[-1] == f"pages: {pages} of {pages}"
    made = content(place / "public")
    for page in ("index.html", "builds/lantern-small.html", "platforms/lantern.html"):
        assert page in made
    assert "Lantern, small" in (place / "public/builds/lantern-small.html").read_text()
    assert sorted(path.name for path in place.iterdir()) == ["builds", "public"]


def test_quiet_says_nothing(run: Run, place: Path):
    got = run("site", "--quiet", "-o", "elsewhere")
    assert (got.status, got.out, got.err) == (0, "", "")
    assert (place / "elsewhere/index.html").is_file()


def three(bad: str, downloads: str = "[]") -> dict[str, str]:
    files = tiny(downloads)
    for name in ("one", "two"):
        files[f"configured/{name}.yaml"] = files[SMALL].replace("lantern-small", name)
    files["configured/two.yaml"] = files["configured/two.yaml"].replace(*bad.split(" -> "))
    return files


@pytest.mark.parametrize(
    "case",
    first_of(
        1,
        [
            ("HS 1: sink -> HS 1: sinc", "SG201"),
            ("PSU 1: supply-300 -> PSU 1: pack", "SG301"),
            ("summary: One processor -> sumary: One processor", "SG111"),
        ],
    ),
    ids=lambda case: case[1],
)
def test_a_bad_build_does_not_stop_the_others(run: Run, place: Path, case: tuple[str, str]):
    bad, code = case
    written(place / "builds", three(bad))
    got = run("site", "--jobs", "1")
    assert got.status == 1
    assert f"error[{code}]" in got.err
    for name in ("lantern-small", "one"):
        assert "Processors and memory" in (place / f"public/builds/{name}.html").read_text()
    page = Text((place / "public/builds/two.html").read_text(encoding="utf-8")).text
    assert code in page
    assert "configured/two.yaml:" in page
    assert "Processors and memory" not in page


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The tiny project, published."""
    folder = tmp_path_factory.mktemp("first")
    project = str(written(folder / "builds", tiny()))
    assert main(["site", "--quiet", "--project", project, "-o", str(folder / "public")]) == 0
    return folder / "public"


@pytest.fixture
def published(first: Path, place: Path) -> dict[str, str]:
    """What lies in `public` after a first publishing."""
    shutil.copytree(first, place / "public")
    return content(place / "public")


def test_a_broken_project_leaves_the_old_site(run: Run, place: Path, published: dict[str, str]):
    (place / "builds/specgen.yaml").write_text("title: [")
    got = run("site")
    assert got.status == 2
    assert "error[SG101]" in got.err
    assert content(place / "public") == published


def test_a_disk_that_fails_leaves_the_old_site(
    run: Run, place: Path, published: dict[str, str], monkeypatch: pytest.MonkeyPatch
):
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("specgen.site.publish._swap", full)
    got = run("site", "--quiet")
    assert got.status == 2
    assert "No space left on device" in got.err
    assert content(place / "public") == published
    assert sorted(path.name for path in place.iterdir()) == ["builds", "public"]


def test_a_place_that_cannot_be_written_to_leaves_the_old_site(
    run: Run, place: Path, published: dict[str, str]
):
    (place / ".public.specgen").write_text("in the way")
    got = run("site", "--quiet")
    assert got.status == 2
    assert content(place / "public") == published


def test_a_broken_template_leaves_the_old_site(run: Run, place: Path, published: dict[str, str]):
    (place / "builds/templates").mkdir()
    (place / "builds/templates/part.md").write_text("# {{ part.nothing }}\n")
    got = run("site", "--quiet")
    assert got.status == 1
    assert "part.md:1" in got.err
    assert "1 | # {{ part.nothing }}" in got.err
    assert "nothing was published, and public is as it was" in got.err
    assert content(place / "public") == published


def test_a_part_with_a_mistake_costs_no_published_page(
    run: Run, place: Path, published: dict[str, str]
):
    path = place / "builds/catalog/memory.yaml"
    path.write_text(path.read_text() + "\n- {kind: memory-module, id: half-a-module}\n")
    cards = place / "builds/catalog/cards.yaml"
    cards.write_text(cards.read_text().replace("mass: ", "mas: ", 1))
    got = run("site", "--quiet")
    assert got.status == 1
    assert content(place / "public") == published


def test_what_was_taken_out_on_purpose_goes(run: Run, place: Path, published: dict[str, str]):
    (place / f"builds/{SMALL}").unlink()
    assert run("site", "--quiet").status == 0
    assert "builds/lantern-small.html" in published
    assert not (place / "public/builds/lantern-small.html").exists()


def test_a_folder_of_others_is_never_replaced(run: Run, place: Path):
    (place / "public").mkdir()
    (place / "public/thesis.txt").write_text("years of work")
    got = run("site")
    assert got.status == 2
    assert "was not published by specgen" in got.err
    assert "pages:" not in got.err  # told before the work, not after
    assert content(place / "public").keys() == {"thesis.txt"}


@pytest.mark.parametrize("output", ["builds", ".", "builds/specgen.yaml", "builds/specgen.yaml/x"])
def test_no_place_for_a_site(run: Run, place: Path, output: str):
    before = content(place / "builds")
    assert run("site", "-o", output).status == 2
    assert content(place / "builds") == before


@pytest.mark.parametrize("jobs", ["0", "-1", "many"])
def test_jobs_are_a_number_from_1(run: Run, place: Path, jobs: str):
    assert run("site", "--jobs", jobs).status == 2


@pytest.mark.slow  # of a sound project, with more that differs, in every run: tests/repo
def test_two_publishings_are_alike_byte_for_byte(tmp_path: Path):
    """Whatever the folder's name, the number of processes, the hash seed and the files' order."""
    made = []
    for folder, jobs, seed in (("a", "1", "0"), ("other place/ö", "2", "4711")):
        files = three("HS 1: sink -> HS 1: sinc", "[csv, json]")
        where = tmp_path / folder
        order = files if seed == "0" else dict(reversed(files.items()))
        written(where / "definitions", order)
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONUTF8": "1"}
        words = ["site", "--project", "definitions", "-o", f"out-{jobs}", "--jobs", jobs]
        done = subprocess.run(
            [sys.executable, "-m", "specgen", *words],
            cwd=where,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 1, done.stderr
        made.append(content(where / f"out-{jobs}"))
    assert len(made[0]) > 30
    assert made[0] == made[1]


def test_publishing_again_changes_nothing(run: Run, place: Path, published: dict[str, str]):
    assert run("site", "--quiet").status == 0
    assert content(place / "public") == published
