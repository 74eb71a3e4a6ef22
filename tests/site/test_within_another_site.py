"""A site of somebody's own, made with MkDocs, takes in what specgen writes: as the README says."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.conftest import ROOT, publish

PROJECT = ROOT / "tests" / "mutated" / "base"
SETTINGS = """\
site_name: Handbook
strict: true
plugins: [search]
nav:
  - Start: index.md
  - Servers: servers/index.html
  - Lantern, full: lantern-full.md
"""
START = (
    "# Handbook\n\n[One of them](servers/builds/lantern-full.html), [its sheet](lantern-full.md)\n"
)


@pytest.mark.slow
def test_pages_and_single_documents_stand_in_another_site(tmp_path: Path):
    docs = tmp_path / "docs"
    docs.mkdir()
    (tmp_path / "mkdocs.yml").write_text(SETTINGS, encoding="utf-8")
    (docs / "index.md").write_text(START, encoding="utf-8")
    assert publish(PROJECT, docs / "servers") == 0
    sheet = [sys.executable, "-m", "specgen", "sheet", "lantern-full", "--to", "md"]
    sheet += ["--project", str(PROJECT), "-o", str(docs / "lantern-full.md")]
    assert subprocess.run(sheet, check=False, capture_output=True).returncode == 0
    command = [sys.executable, "-m", "mkdocs", "build", "--quiet"]
    done = subprocess.run(command, cwd=tmp_path, check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr  # strict: a link that leads nowhere would end it
    made = tmp_path / "site"
    there = (made / "servers/builds/lantern-full.html").read_bytes()
    assert there == (docs / "servers/builds/lantern-full.html").read_bytes()
    assert "<table>" in (made / "lantern-full/index.html").read_text(encoding="utf-8")
