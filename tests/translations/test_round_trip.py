"""A project's own texts on their way to translators and back."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.diagnostics import Span
from specgen.document.translations.catalogue_file import entries_of, updated
from specgen.document.translations.own_texts import OwnText
from specgen.messages import Language
from specgen.messages.catalogue import OWN
from specgen.messages.po import read_catalogue
from tests.cli.conftest import Ran, Run, written

PROSE = """\
## What it is

It has {memory.slots} places
for memory, and {position PSU 1} beside them.

- Room for [two](https://quillmere.example) | three
- Nothing else

| Place | Holds |
| --- | --- |
| left | {part corvane-c32, the small one} |
"""
FILES = {
    "builds/prose/lantern-small/introduction.md": PROSE,
    "builds/templates/sheet.md": '# {{ build.name }}\n\n{{ prose("introduction") }}\n',
}
TRANSLATED = {
    "What it is": "Was es ist",
    "It has {memory.slots} places for memory, and {position PSU 1} beside them.": (
        "Neben {position PSU 1} liegen {memory.slots} Steckplätze für Speicher."
    ),
    "{part corvane-c32, the small one}": "{part corvane-c32, der kleine von ihnen da}",
}


@pytest.fixture
def project(here: Path) -> Path:
    return written(here, FILES) / "builds"


def translate(project: Path, words: dict[str, str]) -> None:
    path = project / "translations/de.po"
    text = path.read_text(encoding="utf-8")
    for source, other in words.items():
        before = f'msgid "{source}"\nmsgstr ""\n'
        assert before in text, source
        text = text.replace(before, f'msgid "{source}"\nmsgstr "{other}"\n')
    path.write_text(text, encoding="utf-8")


def sheet(run: Run, form: str = "md") -> Ran:
    return run("sheet", "lantern-small", "--language", "de", "--to", form)


def test_three_texts_translated_are_printed_and_one_that_changes_is_the_only_fuzzy_one(
    run: Run,
    project: Path,
):
    assert run("messages", "update", "de").status == 0
    translate(project, TRANSLATED)
    printed = sheet(run).out
    assert "## Was es ist" in printed
    assert "Steckplätze für Speicher." in printed
    assert "der kleine von ihnen da" in printed
    assert "Room for" in printed  # nobody has translated it

    path = project / "prose/lantern-small/introduction.md"
    path.write_text(PROSE.replace("beside them", "beside them all"), encoding="utf-8")
    assert run("messages", "update").status == 0
    text = (project / "translations/de.po").read_text(encoding="utf-8")
    assert text.count("fuzzy") == 1
    before = next(each for each in TRANSLATED if "beside" in each)
    assert f'#, fuzzy\n#| msgid "{before}"\nmsgctxt "project"\n' in text
    (found,) = [each for each in entries_of(text.encode()).values() if each.fuzzy]
    assert found.previous_id == [before]
    printed = sheet(run).out
    assert "Steckplätze" not in printed
    assert "beside them all" in printed

    assert run("messages", "update", "de").status == 0
    assert (project / "translations/de.po").read_text(encoding="utf-8") == text
    got = run("messages", "check")
    assert "note[SG543]" in got.err
    assert "a text has changed since it was translated into `de`" in got.err


def test_an_older_translation_is_printed_with_a_mark_where_the_project_asks_for_it(
    run: Run,
    project: Path,
):
    run("messages", "update", "de")
    translate(project, TRANSLATED)
    path = project / "prose/lantern-small/introduction.md"
    path.write_text(PROSE.replace("beside them", "beside them all"), encoding="utf-8")
    run("messages", "update", "de")
    settings = project / "specgen.yaml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text(f"outdated_translations: marked\n{text}", encoding="utf-8")
    printed = sheet(run).out
    assert "Steckplätze für Speicher." in printed
    assert "(Übersetzung einer früheren Fassung)" in printed


def test_what_stays_in_the_projects_language_says_so_and_what_is_translated_does_not(
    run: Run,
    project: Path,
):
    run("messages", "update", "de")
    translate(project, {**TRANSLATED, "Nothing else": "Was sonst noch da ist: nichts"})
    html = sheet(run, "html").out
    assert "Dieser Text" in html
    assert "<li>Was sonst noch da ist: nichts</li>" in html
    assert 'lang="en">der kleine' not in html
    rest = {
        "Room for [two](https://quillmere.example) | three": "Platz für zwei | drei",
        "Place": "Stelle",
        "Holds": "Darin",
        "left": "links",
    }
    translate(project, rest)
    html = sheet(run, "html").out
    assert "Dieser Text" not in html
    assert "Platz für zwei | drei" in html


def test_texts_of_definitions_are_printed_in_the_language(run: Run, project: Path):
    (project / "templates/sheet.md").write_text("# {{ build.name }}\n\n{{ platform.summary }}\n")
    run("messages", "update", "de")
    translate(project, {"Two processors in one rack unit": "Zwei Prozessoren auf einer HE"})
    assert "Zwei Prozessoren auf einer HE" in sheet(run).out
    assert "Two processors in one rack unit" in run("sheet", "lantern-small", "--to", "md").out


def test_a_text_with_a_file_of_its_own_in_the_language_is_not_asked_for(
    run: Run,
    project: Path,
):
    got = run("new", "prose", "lantern-small", "--language", "de")
    assert got.status == 0, got.err
    assert (project / "prose/lantern-small/introduction.de.md").read_text() == PROSE
    run("messages", "update", "de")
    assert "What it is" not in (project / "translations/de.po").read_text(encoding="utf-8")
    assert 'msgid "What it is"' in run("messages", "extract").out


@pytest.mark.parametrize(
    ("other", "code", "said"),
    [
        ("{memory.slots} bei {position PSU 2}", "SG541", "`{position PSU 2}`"),
        ("{memory.slot} bei {position PSU 1}", "SG541", "did you mean `{memory.slots}`?"),
        ("Nur {memory.slots}", "SG541", "lacks `{position PSU 1}`"),
        ("1. {memory.slots} bei {position PSU 1}", "SG541", "more than one paragraph"),
        ("{memory.slots} bei {position PSU 1}[^x]", "SG541", "other footnotes"),
    ],
)
def test_a_translation_that_refers_otherwise_is_told_at_its_line_and_not_printed(
    run: Run,
    project: Path,
    other: str,
    code: str,
    said: str,
):
    run("messages", "update", "de")
    source = next(each for each in TRANSLATED if "beside" in each)
    translate(project, {source: other})
    for command in (("messages", "check"), ("check",)):
        got = run(*command)
        assert got.status == 1
        assert f"error[{code}]" in got.out + got.err
        assert said in got.out + got.err
        number = (project / "translations/de.po").read_text(encoding="utf-8").split("\n")
        line = next(at for at, each in enumerate(number, 1) if other in each)
        assert f"translations/de.po:{line}:" in got.out + got.err
    assert "beside them" in sheet(run).out


def test_what_nothing_says_and_a_file_that_is_no_catalogue_are_told(
    run: Run,
    project: Path,
):
    run("messages", "update", "de")
    path = project / "translations/de.po"
    text = path.read_text(encoding="utf-8")
    gone = 'msgctxt "project"\nmsgid "What it was"\nmsgstr "Was es war"\n'
    path.write_text(f"{text}\n{gone}", encoding="utf-8")
    got = run("messages", "check")
    assert "SG542" in got.err
    assert "did you mean `What it is`?" in got.err
    path.write_text(f"{text}\nnonsense here\n", encoding="utf-8")
    assert "SG544" in run("messages", "check").err
    assert run("messages", "update", "de").status != 0
    assert path.read_text(encoding="utf-8") == f"{text}\nnonsense here\n"


def test_a_text_that_is_gone_is_kept_apart_and_taken_up_again(run: Run, project: Path):
    run("messages", "update", "de")
    translate(project, TRANSLATED)
    text = (project / "translations/de.po").read_text(encoding="utf-8")
    prose = project / "prose/lantern-small/introduction.md"
    prose.unlink()
    run("messages", "update", "de")
    assert '#~ msgstr "Was es ist"' in (project / "translations/de.po").read_text(encoding="utf-8")
    prose.write_text(PROSE, encoding="utf-8")
    run("messages", "update", "de")
    assert (project / "translations/de.po").read_text(encoding="utf-8") == text


def test_a_sentence_that_begins_with_a_name_is_in_the_language_of_its_text(run: Run, project: Path):
    path = project / "prose/lantern-small/introduction.de.md"
    path.write_text("{position PSU 1} liegt hinten rechts.\n", encoding="utf-8")
    html = sheet(run, "html").out
    assert "liegt hinten rechts." in html
    assert 'lang="en"' not in html


TEXTS = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Co")) | st.sampled_from('"\\%{}\n'), min_size=1
).filter(lambda text: text.strip() and text == text.strip())


@given(source=TEXTS, other=TEXTS, later=TEXTS)
def test_odd_letters_come_back_as_they_were(source: str, other: str, later: str):
    at = OwnText(source, Span("a.yaml", 1, 1, 1, 1), "part a: name")
    made = updated(None, "de", {(OWN, source): (at,)})
    assert entries_of(made).keys() == {(OWN, source)}
    done = _filled(made, other)
    assert read_catalogue(done, "de")[0] == {(OWN, source): (other,)}
    assert updated(done, "de", {(OWN, source): (at,)}) == done
    if later != source:
        again = updated(done, "de", {(OWN, later): (at,)})
        (entry,) = entries_of(again).values()
        assert (entry.id, entry.string, entry.previous_id) == (later, other, [source])
        assert updated(again, "de", {(OWN, later): (at,)}) == again


def _filled(catalogue: bytes, other: str) -> bytes:
    signs = {"\\": "\\\\", '"': '\\"', "\n": "\\n"}
    written_out = "".join(signs.get(each, each) for each in other)
    head, _, _ = catalogue.decode().rstrip("\n").rpartition('msgstr ""')
    # as Babel writes it, so that an update changes nothing
    lines = written_out.split("\\n")
    if "\n" not in other:
        return f'{head}msgstr "{written_out}"\n'.encode()
    whole = "\n".join(f'"{each}\\n"' for each in lines[:-1]) + f'\n"{lines[-1]}"'
    return f'{head}msgstr ""\n{whole}\n'.encode()


def test_a_language_without_translations_costs_no_look_up():
    assert Language("de").own("anything at all") == ""


def test_a_project_in_german_is_published_in_english(run: Run, project: Path):
    settings = project / "specgen.yaml"
    settings.write_text(f"language: de\n{settings.read_text(encoding='utf-8')}", encoding="utf-8")
    prose = project / "prose/lantern-small/introduction.md"
    prose.write_text("Hinten liegt {position PSU 1}.\n", encoding="utf-8")
    assert run("messages", "update", "en").status == 0
    path = project / "translations/en.po"
    text = path.read_text(encoding="utf-8")
    before = 'msgid "Hinten liegt {position PSU 1}."\nmsgstr "'
    assert before in text
    path.write_text(text.replace(before, f"{before}At the rear: {{position PSU 1}}."), "utf-8")
    made = run("sheet", "lantern-small", "--language", "en", "--to", "md").out
    assert "At the rear: PSU 1." in made
