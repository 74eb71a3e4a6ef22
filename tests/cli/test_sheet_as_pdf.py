"""`specgen sheet --to pdf`: a file, never a terminal; letters without a font are told."""

import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import Run

BUILD = "lantern-small"


def test_a_sheet_as_pdf_is_one_file(run: Run, here: Path):
    got = run("sheet", BUILD, "--to", "pdf", "-o", "sheet.pdf")
    assert (got.status, got.out, got.err) == (0, "", "")
    made = (here / "sheet.pdf").read_bytes()
    assert made.startswith(b"%PDF-1.7")
    run("sheet", BUILD, "--to", "pdf", "-o", "again.pdf")
    assert (here / "again.pdf").read_bytes() == made


def test_a_sheet_for_letter_paper(run: Run, here: Path):
    run("sheet", BUILD, "--to", "pdf", "--paper", "us-letter", "-o", "sheet.pdf")
    box = PdfReader(here / "sheet.pdf").pages[0].mediabox
    assert (box.width, box.height) == (612, 792)


def test_no_pdf_is_sent_to_a_terminal(run: Run, here: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    got = run("sheet", BUILD, "--to", "pdf")
    assert got.status == 2
    assert "-o" in got.err
    assert "%PDF" not in got.out


def test_a_letter_without_a_font_is_reported_and_spelled_out(run: Run, here: Path):
    path = here / "builds/configured/lantern-small.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("name: ", "name: \U0001f600 ", 1), encoding="utf-8")
    got = run("sheet", BUILD, "--to", "pdf", "-o", "sheet.pdf")
    assert got.status == 0
    assert "warning[SG403]" in got.err
    assert "U+1F600" in got.err
    assert run("sheet", BUILD, "-o", "sheet.html").err == ""
