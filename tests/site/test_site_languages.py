"""A site in the language of its project: shell, built pages, values; English unchanged."""

from pathlib import Path

import pytest

from specgen.cli import main
from specgen.document.tree import Document, paragraph
from specgen.messages import say
from specgen.messages.catalogue import language_of
from specgen.quantity import Power
from specgen.site.assemble import lost_page
from specgen.site.localizer import CONTEXT, ENGLISH, SCRIPT, Localizer
from specgen.site.page import MenuEntry, Shell
from tests.cli.conftest import written
from tests.cli.test_site_command import tiny

GERMAN = Localizer(language_of("de"))


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small project that says it is German, published."""
    folder = tmp_path_factory.mktemp("german")
    project, target = folder / "project", folder / "site"
    files = tiny()
    files["specgen.yaml"] += "language: de\n"
    written(project, files)
    assert main(["site", "-q", "--project", str(project), "-o", str(target)]) == 0
    return target


def test_the_shell_speaks_the_language_of_the_project(site: Path):
    start = (site / "index.html").read_text(encoding="utf-8")
    assert '<html lang="de"' in start
    assert 'placeholder="Suchen"' in start
    assert ">Plattformen</a>" in start
    assert "Zum Inhalt springen" in start
    assert "absteigend" in start  # for the scripts
    assert "Skip to the content" not in start


def test_pages_that_are_no_templates_speak_it_too(site: Path):
    compare = (site / "compare.html").read_text(encoding="utf-8")
    assert "<h1>Vergleichen</h1>" in compare
    values = next(site.glob("builds/*/facts.html")).read_text(encoding="utf-8")
    assert "Beruht auf" in values
    assert "Rechnung mit den Angaben" in values or "Summe über" in values
    assert '<span lang="en">' not in values.partition("<article")[2].partition("<h2")[0]


def test_a_lost_page_is_found_in_the_language():
    shell = Shell("Site", "", (MenuEntry("Start", "index.html", "start"),), "de")
    got = Shell("Site", "", shell.menu, "de", words=GERMAN.at(CONTEXT))
    assert "No page here" in lost_page(shell).html()
    assert "No page here" not in lost_page(got).html()


def test_english_is_left_as_it_is():
    document = Document(say("Rules"), (paragraph(say("does not apply")),))
    assert ENGLISH.document(document) == Document("Rules", (paragraph("does not apply"),))
    assert ENGLISH.at(SCRIPT) == {}
    assert ENGLISH.html("a < b") == "a &lt; b"


def test_a_german_page_and_value():
    got = GERMAN.document(Document(say("Rules"), (paragraph(say("does not apply")),)))
    assert got.title == "Regeln"
    assert GERMAN.language.number(Power.parse("1.5 W")) == ("1,5", "W")
    assert GERMAN.html(say("nobody has said <this>")) == (
        '<span lang="en">nobody has said &lt;this&gt;</span>'
    )
