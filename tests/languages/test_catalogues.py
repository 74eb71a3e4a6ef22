"""The shipped catalogues: the same messages in each, fit for what they translate.

That they say all that the demo publishes is tested with its documents (`consistency`).
"""

import importlib.util
import re
import shutil
from collections import Counter
from functools import cache
from pathlib import Path
from types import ModuleType

import pytest
from babel.messages.pofile import read_po

from specgen.messages import SOURCE
from specgen.messages.catalogue import language_of, languages
from specgen.messages.pattern import names_of
from specgen.shipped import languages_folder, templates_folder
from specgen.write.typst_text import printable
from tests.cli.conftest import written
from tests.projects import many_sided

ROOT = Path(__file__).resolve().parents[2]
BUILDS = ("beacon-hosts", "capstan-forecast", "boathouse-archive", "pocket-tide-gauge")
TRANSLATED = tuple(each for each in languages() if each != SOURCE)


@pytest.fixture(scope="module")
def messages() -> ModuleType:
    """`.dev/messages.py`, which makes the documents of a project."""
    spec = importlib.util.spec_from_file_location("messages", ROOT / ".dev" / "messages.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("tag", TRANSLATED)
def test_no_message_stands_twice(tag: str) -> None:
    """Of two translations nobody knows which is printed."""
    text = (languages_folder() / f"{tag}.po").read_text(encoding="utf-8")
    said = re.findall(r'^((?:msgctxt .*\n)?msgid .*\n(?:".*"\n)*)', text, re.MULTILINE)
    assert sorted(each for each, count in Counter(said).items() if count > 1) == []


def test_german_and_japanese_are_shipped():
    assert languages() == ("en", "de", "ja")


def test_every_message_of_the_program_and_every_word_of_a_small_project_is_translated(
    messages: ModuleType, tmp_path: Path
):
    _translated(messages, messages.said(written(tmp_path, many_sided())))


@pytest.fixture(scope="module")
def demo_says(messages: ModuleType) -> list[tuple[str, str]]:
    """One build of each platform; with them go the pages of all platforms, parts and rules."""
    said: list[tuple[str, str]] = messages.said(builds=BUILDS)
    return said


@pytest.mark.slow
def test_every_word_of_the_demos_pages_is_translated(
    messages: ModuleType, demo_says: list[tuple[str, str]]
):
    _translated(messages, demo_says)


def _translated(messages: ModuleType, said: list[tuple[str, str]]) -> None:
    assert len(said) > 1000
    lacking = {language: messages.missing(language, said) for language in TRANSLATED}
    assert lacking == {language: [] for language in TRANSLATED}, "`.dev/messages.py missing`"


@pytest.mark.slow
def test_an_update_of_the_shipped_catalogues_takes_away_only_what_nothing_says(
    messages: ModuleType,
    demo_says: list[tuple[str, str]],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
):
    copies = Path(shutil.copytree(languages_folder(), tmp_path / "languages"))
    monkeypatch.setattr(messages, "languages_folder", lambda: copies)
    monkeypatch.setattr(messages, "said", lambda: demo_says)
    messages.update()
    for language in TRANSLATED:
        before, after = (_entries(folder, language) for folder in (languages_folder(), copies))
        assert dict(before.items() & after.items()) == after  # nothing new, nothing otherwise
        gone = before.keys() - after.keys()
        assert [text for _, text in gone if _stands_in_a_template(text)] == []


def _entries(folder: Path, language: str) -> dict[tuple[str, str], str]:
    """What a catalogue has, the empty entries too: context and message, and its forms."""
    with (folder / f"{language}.po").open("rb") as file:
        read = read_po(file)
    return {(each.context or "", str(each.id)): str(each.string) for each in read if each.id}


def test_what_stands_in_a_template_and_has_a_translation_is_extracted(messages: ModuleType):
    extracted = {(each.context or "", str(each.id)) for each in messages.template()}
    for language in TRANSLATED:
        others = _entries(languages_folder(), language).keys() - extracted
        assert [text for _, text in others if _stands_in_a_template(text)] == []


def _stands_in_a_template(text: str) -> bool:
    """Whether a shipped template has all that a message has between its places."""
    between = [each.strip(" .") for each in re.split(r"\{[^{}]*\}", text)]
    wanted = [each for each in between if len(each) >= LONG]
    return bool(wanted) and any(all(each in page for each in wanted) for page in _pages())


LONG = 12
"""So many letters are no accident."""


@cache
def _pages() -> tuple[str, ...]:
    return tuple(
        re.sub(r"\s+", " ", path.read_text("utf-8")) for path in templates_folder().glob("*.md")
    )


def test_every_message_of_scripts_and_shell_is_translated(messages: ModuleType):
    wanted = {
        (each.context or "", each.id)
        for each in messages.template()
        if each.id and any("theme" in file for file, _ in each.locations)
    }
    assert len(wanted) > 20
    for language in TRANSLATED:
        assert wanted <= set(language_of(language).catalogue.messages)


def test_templates_are_extracted_by_paragraph_and_by_call(messages: ModuleType):
    ids = {each.id for each in messages.template()}
    assert "Site preparation" in ids
    assert any(
        str(each).startswith("The figures show one build of the platform: {1}") for each in ids
    )
    assert any("Dangerous voltage inside the power supplies." in str(each) for each in ids)
    assert {"Memory module", "Memory modules"} <= ids
    assert not any(str(each).startswith("mechanics.") for each in ids)
    assert (templates_folder() / "texts" / "cautions.yaml").is_file()


def test_a_paragraph_with_branches_is_a_message_for_each(messages: ModuleType, tmp_path: Path):
    template = tmp_path / "any.md"
    template.write_text(
        "From {{ a }}{% if b %} ({{ b }}){% endif %}.\n\n"
        "{% if a %}\nThe first.\n{% elif b %}\nThe second.\n{% else %}\nThe third.\n{% endif %}\n"
        "\nFor one: {{ a }}{% for each in b %} and {{ each }}{% endfor %}.\n\n"
        '{% if a %}\nOne.\n\nTwo, {% endif %}with {{ say("a text", of="sheet") }}\n',
        encoding="utf-8",
    )
    assert set(messages._of_template(template)) == {
        "For one: {1}.",
        "For one: {1} and {2}.",
        "From {1} ({2}).",
        "From {1}.",
        "One.",
        "The first.",
        "The second.",
        "The third.",
        "Two, with {1}",
        "a text",
        "with {1}",
    }


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_has_the_open_places_of_its_message(language: str):
    wrong = [
        (text, form)
        for (_, text), forms in language_of(language).catalogue.messages.items()
        for form in forms
        if set(names_of(form)) - set(names_of(text)) - {"number"}
    ]
    assert wrong == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_letter_of_a_translation_can_be_printed(language: str):
    forms = language_of(language).catalogue.messages.values()
    letters = set("".join("".join(each) for each in forms)) - {"\u202f", "\u00a0"}
    assert sorted(each for each in letters if not printable(each)) == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_catalogue_says_its_language(language: str):
    text = (languages_folder() / f"{language}.po").read_text(encoding="utf-8")
    assert f'"Language: {language}\\n"' in text
    assert "\r" not in text


def test_both_catalogues_know_the_same_messages():
    first, *others = (set(language_of(each).catalogue.messages) for each in TRANSLATED)
    assert all(other == first for other in others)


def test_an_update_keeps_what_documents_say_though_it_stands_nowhere_as_one_text(
    messages: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    from babel.messages.catalog import Catalog

    header = '# German\nmsgid ""\nmsgstr ""\n"Language: de\\n"\n\n'
    catalogue = tmp_path / "de.po"
    catalogue.write_text(
        f'{header}msgid "Cores"\nmsgstr "Kerne"\n\nmsgctxt "rule"\nmsgid "made of {{1}}"\n'
        'msgstr "aus {1}"\n\nmsgid "gone"\nmsgstr "weg"\n',
        encoding="utf-8",
    )
    written = Catalog()
    for text in ("Cores", "Core count"):
        written.add(text)
    monkeypatch.setattr(messages, "languages_folder", lambda: tmp_path)
    monkeypatch.setattr(messages, "template", lambda: written)
    monkeypatch.setattr(messages, "said", lambda: [("rule", "made of {1}"), ("", "Cores")])
    messages.update()
    after = catalogue.read_text(encoding="utf-8")
    assert after.startswith(header)
    for kept in ('msgstr "Kerne"', 'msgstr "aus {1}"', 'msgid "Core count"\nmsgstr ""'):
        assert kept in after
    assert "gone" not in after
    assert "fuzzy" not in after
