"""`specgen sheet --language`: other languages, a project's own messages, what is missing."""

from pathlib import Path

from tests.cli.conftest import Run

BUILD = "lantern-small"
TEMPLATE = '{{ subtitle("Spec sheet", platform.name) }}\n\n# {{ build.name }}\n\nAsk the bench.\n'
MESSAGES = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n\n'


def test_a_sheet_in_german(run: Run, here: Path):
    got = run("sheet", BUILD, "--to", "md", "--language", "de")
    assert (got.status, got.err) == (0, "")
    assert "_Datenblatt, " in got.out
    assert "## Prozessoren und Arbeitsspeicher" in got.out


def test_the_language_of_the_project_is_taken_where_none_is_asked_for(run: Run, here: Path):
    path = here / "builds/specgen.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(f"language: ja\n{text}", encoding="utf-8")
    assert "_仕様書、" in run("sheet", BUILD, "--to", "md").out


def test_an_unknown_language_is_refused_with_those_there_are(run: Run, here: Path):
    got = run("sheet", BUILD, "--language", "xx")
    assert got.status == 2
    assert "ja" in got.err


def test_a_text_without_a_translation_is_reported_and_stands_in_english(run: Run, here: Path):
    (here / "builds/templates").mkdir()
    (here / "builds/templates/sheet.md").write_text(TEMPLATE, encoding="utf-8")
    got = run("sheet", BUILD, "--language", "de")
    assert got.status == 0
    assert "note[SG404]" in got.err
    assert "Ask the bench." in got.err
    assert '<p><span lang="en">Ask the bench.</span></p>' in got.out


def test_a_projects_own_template_brings_its_messages(run: Run, here: Path):
    folder = here / "builds/translations"
    folder.mkdir()
    (here / "builds/templates").mkdir()
    (here / "builds/templates/sheet.md").write_text(TEMPLATE, encoding="utf-8")
    message = 'msgid "Ask the bench."\nmsgstr "Bitte in der Werkstatt fragen."\n'
    (folder / "de.po").write_text(MESSAGES + message, encoding="utf-8")
    got = run("sheet", BUILD, "--language", "de")
    assert (got.status, got.err) == (0, "")
    assert "<p>Bitte in der Werkstatt fragen.</p>" in got.out
