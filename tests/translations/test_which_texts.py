"""Which fields of definitions hold words, and which do not: every field of text is decided on."""

import re
from dataclasses import fields
from typing import Any, get_args

from specgen.document.translations.own_texts import WORDS, texts_of_definitions
from specgen.load.definitions import load
from specgen.model import KINDS
from specgen.model.build import Build
from specgen.model.fields import Text
from specgen.model.illustration import Illustration
from specgen.model.kinds.declared_kinds import DeclaredKind
from specgen.model.labels import entries
from specgen.model.platform import Platform
from specgen.model.project import Project
from tests.projects import base, sources

NO_WORDS = re.findall(
    r"\w+",
    """
    address area attributes board channel chemistry choices code comparison contact cools credit
    currency dark dimension document documents expression far_form file form from_ inlet interfaces
    key laser_class language maker memory_technologies memory_technology neighbour number of outlet
    over page parts_list plug print resource resources revision socket specification technology to
    unit video leads behind without
    """,
)
"""Printed on boards and parts, words of standards, ids, what people and papers are called."""
HOUSE = {"PowerConnector.name", "Publisher.name", "SampleDifference.label", "Volume.name"}


def _holds_text(hint: Any) -> bool:
    return hint is Text or any(map(_holds_text, get_args(hint)))


def test_each_field_of_text_is_for_translators_or_is_no_words() -> None:
    waiting: list[type[Any]] = [
        *KINDS.values(),
        Platform,
        Build,
        Project,
        DeclaredKind,
        Illustration,
    ]
    seen, open_ones = set[type[Any]](), []
    while waiting:
        record = waiting.pop()
        if record in seen:
            continue
        seen.add(record)
        waiting += [each.record for each in entries(record).values() if each.record]
        known = [name for cls, names in WORDS.items() if issubclass(record, cls) for name in names]
        for field in fields(record):
            told = field.name in (*known, *NO_WORDS) or f"{record.__name__}.{field.name}" in HOUSE
            if _holds_text(field.type) and not told:
                open_ones.append(f"{record.__name__}.{field.name}")
    assert open_ones == []


def test_every_text_of_a_project_has_its_place() -> None:
    definitions = load(sources(base())).definitions
    assert definitions is not None
    told = list(texts_of_definitions(definitions))
    assert "two processors need all six fans" in {each.text for each in told}
    assert all(each.text and each.at.line for each in told)
    assert {"part", "platform", "build", "project:"} <= {each.of.split()[0] for each in told}
