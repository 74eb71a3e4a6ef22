"""The shipped catalogues: complete for what the demo publishes, and fit for what they translate."""

import importlib.util
import re
from collections import Counter
from pathlib import Path
from types import ModuleType

import pytest

from specgen.document.languages import SOURCE, catalogue, languages
from specgen.pipeline import Survey
from specgen.shipped import languages_folder, theme_folder
from specgen.write import options
from specgen.write.typst_text import printable

ROOT = Path(__file__).resolve().parents[2]
PUBLISHED = (
    *("sheet", "engineering", "site-preparation", "parts-list", "information"),
    *("presenters-brief", "review", "platform", "guide", "comparison"),
)
TRANSLATED = tuple(each for each in languages() if each != SOURCE)
WRITERS = ("CAUTION", "CAUTION_OF", "FACT", "VALUE", "PICTURE", "TABLE", "FOLIO", "IN_WORDS")
NUMBERED = re.compile(r"\{\d+(?::|\})|\{[a-z]+\}")


@pytest.fixture(scope="module")
def messages() -> ModuleType:
    """`.dev/messages.py`, which makes the documents of a project."""
    spec = importlib.util.spec_from_file_location("messages", ROOT / ".dev" / "messages.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_german_and_japanese_are_shipped():
    assert languages() == ("en", "de", "ja")


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_word_of_the_demos_documents_is_translated(
    demo: Survey, messages: ModuleType, language: str
):
    wanted: Counter[tuple[str, str]] = Counter()
    for document in messages.documents(demo, language, PUBLISHED):
        wanted.update(document.untranslated)
    assert list(wanted) == [], "`.dev/messages.py` prints them as entries to be filled in"


@pytest.mark.parametrize("language", TRANSLATED)
@pytest.mark.parametrize("name", WRITERS)
def test_every_word_of_the_writers_is_translated(language: str, name: str):
    assert catalogue(language).get(getattr(options, name), "writer")


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_word_of_the_shell_and_its_scripts_is_translated(language: str):
    said = catalogue(language).messages
    shell = (theme_folder() / "main.html").read_text(encoding="utf-8")
    asked = {("site", text) for text in re.findall(r'shell\.say\("([^"]+)"\)', shell)}
    for script in sorted((theme_folder() / "js").glob("*.js")):
        words = re.findall(r'\bsay\(\s*"([^"]+)"', script.read_text(encoding="utf-8"))
        asked |= {("script", text) for text in words}
    assert len(asked) > 20
    assert sorted(asked - set(said)) == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_translation_has_the_numbers_of_its_message(language: str):
    wrong = [
        (message, said)
        for (_, message), said in catalogue(language).messages.items()
        if sorted(NUMBERED.findall(message)) != sorted(NUMBERED.findall(said))
    ]
    assert wrong == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_every_letter_of_a_translation_can_be_printed(language: str):
    letters = set("".join(catalogue(language).messages.values())) - {"\u202f", "\u00a0"}
    assert sorted(each for each in letters if not printable(each)) == []


@pytest.mark.parametrize("language", TRANSLATED)
def test_a_catalogue_is_in_order_and_says_its_language(language: str):
    text = (languages_folder() / f"{language}.po").read_text(encoding="utf-8")
    assert f'"Language: {language}\\n"' in text
    assert "\r" not in text
    assert list(catalogue(language).messages) == sorted(catalogue(language).messages)


def test_both_catalogues_know_the_same_messages():
    first, *others = (set(catalogue(language).messages) for language in TRANSLATED)
    assert all(other == first for other in others)


def test_what_is_missing_is_printed_as_entries_to_be_filled_in(messages: ModuleType):
    printed = messages.entries(Counter({("cell", 'a "word"'): 3}))
    assert printed == '#. in 3 documents\nmsgctxt "cell"\nmsgid "a \\"word\\""\nmsgstr ""\n'
