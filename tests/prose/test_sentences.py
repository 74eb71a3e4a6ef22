"""Ordinary sentences with right and wrong numbers, in three languages: what is found of them.

What a sentence is stands before it in `sentences/LANGUAGE.txt`, whose head tells how.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.diagnostics.codes import VALUE_CONTRADICTED, VALUE_TYPED
from specgen.document.prose.text_subjects import Subjects
from specgen.messages import ENGLISH, Language, Within
from specgen.messages.catalogue import language_of
from tests.prose.conftest import SUBJECT, Check

FOLDER = Path(__file__).parent / "sentences"
FEWEST = {"en": 60, "de": 30, "ja": 15}
CODES = {"wrong": VALUE_CONTRADICTED, "right": VALUE_TYPED}


def sentences(language: str) -> Iterator[tuple[str, str, str]]:
    """Each sentence with what should be made of it, and the key of the fact."""
    for line in (FOLDER / f"{language}.txt").read_text(encoding="utf-8").splitlines():
        if line and not line.startswith("#"):
            judgement, _, sentence = line.partition(": ")
            kind, _, key = judgement.partition(" ")
            yield kind, key, sentence


def labelled(sentence: str, language: Language, subjects: Subjects) -> str:
    """The sentence with the labels of facts in its language, as within a sentence."""

    def label(found: re.Match[str]) -> str:
        fact = subjects.fact(SUBJECT, found[1])
        assert fact is not None
        return language.text(Within(fact.label))

    made = re.sub(r"<([\w.]+)>", label, sentence)
    return made[:1].upper() + made[1:]


@pytest.mark.parametrize(
    ("language", "kind", "key", "sentence"),
    [(each, *line) for each in FEWEST for line in sentences(each)],
)
def test_a_sentence(
    check: Check, subjects: Subjects, language: str, kind: str, key: str, sentence: str
):
    spoken = ENGLISH if language == "en" else language_of(language)
    head = f"subject: {SUBJECT}\nlanguage: {language}"
    found = check(f"{labelled(sentence, spoken, subjects)}\n", head=head)
    if kind in CODES:
        assert [each.code for each in found] == [CODES[kind]]
        assert f"`{{{key}}}`" in str(found[0].help)
    else:
        assert found == ()


@pytest.mark.parametrize("language", FEWEST)
def test_there_are_enough_sentences_of_each_sort(language: str):
    kinds = [kind for kind, _, _ in sentences(language)]
    assert set(kinds) == {"wrong", "right", "leave", "missed"}
    assert len(kinds) >= FEWEST[language]
    found = kinds.count("wrong") + kinds.count("right")
    assert found / (found + kinds.count("missed")) > 0.6


def test_a_language_without_word_lists_is_left_alone(check: Check):
    head = f"subject: {SUBJECT}\nlanguage: fr"
    assert check("Its maximum power is 800 W.\n", head=head) == ()


@pytest.mark.parametrize("language", ["en", "de"])
def test_most_wrong_values_are_found(language: str) -> None:
    kinds = [kind for kind, _, _ in sentences(language)]
    assert kinds.count("wrong") >= 9 * (kinds.count("wrong") + kinds.count("missed")) / 10
