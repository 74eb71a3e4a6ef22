"""No label of a fact is typed again in a shipped template: a key stands for it."""

import re
from collections.abc import Iterator

import pytest

from specgen.facts import CALCULATORS
from specgen.messages import ENGLISH
from specgen.shipped import templates_folder

FACTS = {each.key: each for each in CALCULATORS}
ENTRY = re.compile(r'\("([^"{}]+)", ((?:"[^"]*"(?:, )?)+)\)')
"""What an entry of a list or a column is called, and its patterns or its key."""
KEY = re.compile(r"\{([a-z][\w.-]*)\}")
OF_ONE = re.compile(r"^\{(?:build|platform)\}\.")


def typed_again(template: str) -> Iterator[tuple[str, str]]:
    """Labels that are those of a fact beside them, with its key."""
    for label, rest in ENTRY.findall(template):
        patterns = re.findall(r'"([^"]*)"', rest)
        for key in (key for pattern in patterns for key in KEY.findall(pattern)):
            if key in FACTS and ENGLISH.text(FACTS[key].label) == label:
                yield label, key
        fact = FACTS.get(OF_ONE.sub("", patterns[0])) if len(patterns) == 1 else None
        if fact is not None and ENGLISH.text(fact.short or fact.label) == label:
            yield label, fact.key


@pytest.mark.parametrize("name", sorted(path.name for path in templates_folder().glob("*.md")))
def test_a_key_stands_for_its_label(name: str) -> None:
    assert list(typed_again((templates_folder() / name).read_text(encoding="utf-8"))) == []


def test_a_label_that_is_typed_again_is_found() -> None:
    assert list(typed_again('("Cores", "{processors.cores}, all"), ("All", "{memory.speed}")')) == [
        ("Cores", "processors.cores")
    ]
    assert [key for _, key in typed_again('("Per rack", "{build}.power.rack_input"),')] == [
        "power.rack_input"
    ]
