"""Drafts stay at home unless asked for, and then say so everywhere; a public site names no file."""

import io
import json
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from specgen.cli import main
from tests.projects import base

DRAFT = "configured/lantern-small.yaml"
NAMES = ("lantern-small", "lantern-full")
FILE = re.compile(rb"[\w-]+/[\w-]+\.yaml")


def _project(folder: Path, **changes: str) -> Path:
    files = base()
    files[DRAFT] = files[DRAFT].replace(
        "- id: lantern-small\n", "- id: lantern-small\n  published: false\n"
    )
    for field, text in changes.items():
        files["specgen.yaml"] += f"{field}: {text}\n"
    files["specgen.yaml"] = files["specgen.yaml"].replace(
        "documents: [sheet]", "documents: [sheet, engineering, parts-list, review]"
    )
    for name, text in files.items():
        path = folder / "project" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return folder / "project"


def published(project: Path, target: Path, *options: str) -> int:
    return main(["site", "-q", "--project", str(project), "-o", str(target), *options])


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A public site without drafts."""
    folder = tmp_path_factory.mktemp("kept")
    project = _project(folder, sources="public", downloads="[md, csv, json]")
    assert published(project, folder / "site") == 0
    return folder / "site"


@pytest.fixture(scope="module")
def asked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with drafts, and with all sources."""
    folder = tmp_path_factory.mktemp("asked")
    project = _project(folder, downloads="[pdf, md, json]")
    assert published(project, folder / "site", "--drafts") == 0
    return folder / "site"


def _files(site: Path, *endings: str) -> list[Path]:
    return sorted(path for path in site.rglob("*") if path.suffix in endings)


def test_a_draft_that_nobody_asked_for_is_nowhere(kept: Path):
    assert (kept / "builds/lantern-full.html").is_file()
    assert not list(kept.rglob("*lantern-small*"))
    for path in _files(kept, ".html", ".js", ".json", ".md"):
        assert b"lantern-small" not in path.read_bytes(), path


def test_a_draft_that_is_asked_for_says_so_on_every_page(asked: Path):
    pages = [asked / "builds/lantern-small.html", *(asked / "builds/lantern-small").glob("*.html")]
    assert len(pages) == 5  # four documents and the values
    for path in pages:
        text = path.read_text(encoding="utf-8")
        assert '<p class="page-mark"><strong>Draft</strong></p>' in text, path
        title, *_ = re.findall("<title>(.*?)</title>", text)  # others are those of drawings
        assert "(Draft)" in title, path
    text = (asked / "builds/lantern-full.html").read_text(encoding="utf-8")
    assert 'class="page-mark"' not in text


def test_a_draft_is_marked_in_lists(asked: Path, kept: Path):
    rows = (asked / "builds.html").read_text(encoding="utf-8")
    assert ">draft<" in rows
    assert ">published<" in rows
    # where all are published, no column says so
    assert ">published<" not in (kept / "builds.html").read_text(encoding="utf-8")


def test_the_files_of_a_draft_say_so_in_name_and_head(asked: Path):
    files = sorted(path.name for path in (asked / "builds/lantern-small").glob("*.pdf"))
    assert files == [
        "lantern-small-draft.pdf",
        "lantern-small-engineering-draft.pdf",
        "lantern-small-parts-list-draft.pdf",
        "lantern-small-review-draft.pdf",
    ]
    for path in (asked / "builds/lantern-small").glob("*.pdf"):
        reader = PdfReader(io.BytesIO(path.read_bytes()))
        assert all("Draft" in page.extract_text() for page in reader.pages), path
        assert str(reader.metadata and reader.metadata.title).endswith("Draft"), path
    for path in (asked / "builds/lantern-small").glob("*.md"):
        assert "\n**Draft**\n" in path.read_text(encoding="utf-8"), path
    assert (asked / "builds/lantern-small/lantern-small-draft.json").is_file()
    assert (asked / "builds/lantern-full/lantern-full.pdf").is_file()


def test_a_public_site_names_no_file_and_no_line(kept: Path, asked: Path):
    found = [path for path in _files(asked, ".html", ".json") if FILE.search(path.read_bytes())]
    assert found  # of a site that is not
    for path in _files(kept, ".html", ".js", ".json", ".md", ".csv"):
        assert not FILE.search(path.read_bytes()), path
    data = json.loads((kept / "builds/lantern-full/lantern-full.json").read_text(encoding="utf-8"))
    assert data["findings"] == []
    assert data["facts"]


def test_what_is_for_the_house_is_not_on_a_public_site(kept: Path, asked: Path):
    assert (asked / "builds/lantern-full/review.html").is_file()
    assert not (kept / "builds/lantern-full/review.html").exists()
    for path in _files(kept, ".html"):
        assert "review.html" not in path.read_text(encoding="utf-8"), path


def test_downloads_are_offered_once_of_each_build(asked: Path):
    folder = asked / "builds"
    assert "site-files-table" in (folder / "lantern-full.html").read_text(encoding="utf-8")
    for path in (folder / "lantern-full").glob("*.html"):
        assert "site-files-table" not in path.read_text(encoding="utf-8"), path
