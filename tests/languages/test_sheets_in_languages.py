"""A whole sheet in German and in Japanese, as it was read and found good; and what marks it."""

import re
from pathlib import Path

import pytest

from specgen.cli import main
from specgen.document.tree import Caution
from specgen.pipeline import Survey
from specgen.write import writer_options
from tests.golden.conftest import blessing, compare

ROOT = Path(__file__).resolve().parents[2]
EXPECTED = Path(__file__).parent / "expected"
BUILD = "boathouse-backup"


@pytest.fixture
def sheet(demo: Survey, monkeypatch: pytest.MonkeyPatch, capsysbinary):
    """The sheet of a build of the demo in a language and a format."""
    monkeypatch.chdir(ROOT)
    monkeypatch.setattr("specgen.cli.one_build.survey", lambda *_: demo)

    def call(language: str, form: str) -> bytes:
        words = ("sheet", BUILD, "--language", language, "--to", form, "--project", "builds")
        status = main(list(words))
        assert status == 0
        return capsysbinary.readouterr().out

    return call


@pytest.mark.parametrize("language", ["de", "ja"])
def test_a_sheet_in_markdown(request: pytest.FixtureRequest, sheet, language: str):
    made = sheet(language, "md").decode()
    compare(EXPECTED / f"{BUILD}.{language}.md", made, blessing(request.config))


def test_a_page_says_its_language_and_that_of_what_stays(sheet):
    page = sheet("de", "html").decode()
    assert '<html lang="de">' in page
    assert re.search(r'<p><span lang="en">Takes the backups', page)
    assert "<summary>Die Abbildung in Worten</summary>" in page
    assert 'aria-label="Warnung: Netzspannung"' in page


def test_a_print_says_its_language_and_counts_its_pages_in_it(sheet, tmp_path: Path):
    pypdf = pytest.importorskip("pypdf")
    file = tmp_path / "sheet.pdf"
    file.write_bytes(sheet("ja", "pdf"))
    read = pypdf.PdfReader(file)
    assert read.trailer["/Root"]["/Lang"] == "ja"
    assert "1 / " in read.pages[0].extract_text()
    assert "プロセッサー" in read.pages[0].extract_text()


def test_english_is_what_it_was(sheet):
    assert (
        sheet("en", "md").decode().startswith("# Boathouse for backups\n\n_Spec sheet, Boathouse_")
    )


def test_a_word_without_a_translation_is_said_in_english():
    assert writer_options.worded(writer_options.SIGNALS["warning"][0], "fr") == "Warning"
    assert writer_options.caution_title(Caution("fire", ()), "de") == "Vorsicht: fire"
    assert writer_options.caution_title(Caution("", (), "warning"), "de") == "Warnung"


def test_no_blank_stands_after_the_stop_of_a_japanese_sentence(sheet):
    """Wherever sentences of ours meet: in lists, notes, tables, drawings in words."""
    said = sheet("ja", "md").decode()
    assert "。" in said
    assert re.findall(r".*[。！？] [^\s|].*", said) == []
