"""No text of ours uses a word that the trade does not use: `words.yaml` lists them."""

import re
from collections.abc import Iterable
from functools import cache
from typing import Any

import pytest

from tests.languages.words_read import Read, every_text, keys, markdown, word_list


@cache
def pattern(word: str, plain: bool) -> re.Pattern[str]:
    """Whole words, without regard to capitals, round a blank of any sort."""
    spaced = word.replace(" ", r"\s")
    return re.compile(spaced if plain else rf"(?<!\w)(?:{spaced})(?!\w)", re.IGNORECASE)


def concerns(entry: dict[str, Any], read: Read) -> bool:
    match entry.get("in"):
        case "labels":
            return read.label
        case "customers":
            return read.customer
        case "messages":
            return read.message
    return True


def found_in(read: Read, entries: Iterable[dict[str, Any]]) -> list[str]:
    """What a text should say otherwise."""
    found = []
    for entry in entries:
        if not concerns(entry, read):
            continue
        # East Asian words stand beside each other without a blank, German ones join
        wanted = pattern(entry["not"], entry.get("plain", read.language == "ja"))
        hit = wanted.fullmatch(read.text) if entry.get("whole") else wanted.search(read.text)
        if hit and (rights := entry.get("right")):
            text = read.text
            for right in rights:
                text = pattern(right["text"], True).sub("", text)
            hit = wanted.search(text)
        if hit:
            found.append(f"{read.where}: `{hit[0]}` in `{read.text[:160]}`; say {entry['use']}")
    return found


@pytest.mark.parametrize("language", ["en", "de", "ja"])
def test_no_text_uses_a_word_that_the_trade_does_not_use(language: str) -> None:
    entries = word_list()[language]
    reads = [read for read in every_text() if read.language == language]
    assert len(reads) > 2000
    assert [line for read in reads for line in found_in(read, entries)] == []


def test_no_key_and_no_exported_name_uses_such_a_word() -> None:
    entries = [entry for entry in word_list()["en"] if "in" not in entry]
    named = list(keys())
    assert len(named) > 500
    found = [found_in(Read("en", where, text), entries) for where, text in named]
    assert [line for lines in found for line in lines] == []


@pytest.mark.parametrize(
    ("text", "hit"),
    [
        ("This machine has two disks.", ["machine", "disks"]),
        ("A few virtual machines, and machinery", []),
        ("The disk is SNIA's Common RAID Disk Data Format", ["disk"]),
        ("| Runs at | Owner |", ["Runs at", "Owner"]),
        ("The server runs at night.", []),
        ("drives at the most", ["at the most"]),
        ("at mostly cloudy sites", []),
    ],
)
def test_a_word_is_found_where_it_stands_and_nowhere_else(text: str, hit: list[str]) -> None:
    lines = f"{text}\n| --- |" if text.startswith("|") else text
    reads = markdown("en", "x", lines, customer=True)
    found = {line.split("`")[1] for read in reads for line in found_in(read, word_list()["en"])}
    assert found == set(hit)


def test_every_use_that_stands_has_its_reason_and_every_word_its_better() -> None:
    for entries in word_list().values():
        for entry in entries:
            assert entry["use"], entry
            assert all(right["because"] for right in entry.get("right", ())), entry
