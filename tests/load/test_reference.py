"""The reference for people has every field of every record, where a reader looks for it."""

import re
from dataclasses import fields
from functools import cache
from typing import Any

import pytest

from specgen.load.field_reference import reference
from specgen.load.schema import records
from specgen.load.validation_errors import field_names
from specgen.model import KINDS, Build, OwnValue, Part, Platform, Project
from specgen.model.kinds.declared_kinds import DeclaredKind
from tests.projects import base, project

ROOTS = {
    Project: "specgen.yaml",
    Platform: "platforms/*.yaml",
    Build: "configured/*.yaml",
    DeclaredKind: "kinds/*.yaml",
    OwnValue: "values/*.yaml",
}
SHARED = "catalog/*.yaml, every part"
CLASSES = tuple(
    cls for cls in records((*ROOTS, *KINDS.values())) if hasattr(cls, "__pydantic_config__")
)
"""All that is read from a mapping of fields."""


def sections(text: str) -> dict[str, dict[str, str]]:
    """The rows of each section by the field they are about."""
    found: dict[str, dict[str, str]] = {}
    for piece in re.split(r"^#{1,3} ", text, flags=re.M)[1:]:
        head, _, body = piece.partition("\n")
        rows = re.findall(r"^\| (?:\*\*)?`(\w+)`(?:\*\*)? \| (.*) \|$", body, re.M)
        found[head.replace("`", "")] = dict(rows)
    return found


@cache
def made() -> dict[str, dict[str, str]]:
    """The sections of the reference, made once."""
    return sections(reference())


@pytest.mark.parametrize("cls", CLASSES, ids=lambda cls: cls.__name__)
def test_every_field_stands_in_the_reference(cls: type[Any]) -> None:
    head = ROOTS.get(cls) or (f"kind: {cls.kind}" if issubclass(cls, Part) else cls.__name__)
    rows = made()[head] | (made()[SHARED] if issubclass(cls, Part) else {})
    assert set(field_names(cls)) - rows.keys() == set()
    assert len(field_names(cls)) <= len(fields(cls))


def test_what_a_field_holds_is_said_in_words() -> None:
    rows = made()["platforms/*.yaml"]
    assert rows["mass"].startswith("quantity, such as `")
    assert rows["operating_class"].startswith("`A1`, `A2`")
    assert rows["memory_alike"].startswith("by `capacity`")
    assert rows["conditions"].startswith("[Conditions](#conditions)")
    assert all(held.split("|")[0].strip() for rows in made().values()
               for held in rows.values())  # fmt: skip


def test_a_project_s_own_kinds_are_among_the_others() -> None:
    definitions = project(base()).loaded.definitions
    assert definitions is not None
    own = definitions.declared[0]
    rows = sections(reference(definitions.kinds))[f"kind: {own.id}"]
    assert {each.name for each in own.fields} <= rows.keys() | set(field_names(Part))


def test_its_links_lead_to_its_sections() -> None:
    text = reference()
    heads = {head.lower() for head in sections(text)}
    assert set(re.findall(r"\]\(#([^)]+)\)", text)) <= heads
