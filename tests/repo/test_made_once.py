"""What tests share of projects read before hides nothing from them."""

import pytest

from specgen.model import KINDS
from tests.made_once import SERVING, Serving
from tests.projects import base, project


def test_the_same_texts_are_read_once() -> None:
    assert project(base()).loaded is project(base()).loaded


def test_whoever_changes_the_program_reads_them_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    before = project(base()).loaded
    with monkeypatch.context() as changed:
        changed.setitem(KINDS, "hub", KINDS["drive"])
        during = project(base()).loaded
    assert during is not before
    assert project(base()).loaded is before


def test_a_name_taken_by_another_file_is_told_though_each_was_read_before() -> None:
    known = "catalog/coast.yaml"
    files = {**base(), "catalog/coast-again.yaml": base()[known]}
    for name in (known, "catalog/coast-again.yaml"):
        project({key: text for key, text in files.items() if key != name})
    assert "SG205" in project(files).codes


def test_what_serves_several_tests_is_held_to_what_it_was() -> None:
    for name in ("one", "two"):
        project({**base(), f"catalog/{name}.yaml": "# nothing here\n"})
    assert "catalog/coast.yaml" in SERVING.names()


def test_whoever_changes_what_serves_several_tests_is_found_out() -> None:
    serving, shared = Serving(), {"parts": ["hub"]}
    serving.note("catalog/coast.yaml", shared)
    assert serving.changed() == []
    shared["parts"].append("hub")
    assert serving.changed() == ["catalog/coast.yaml"]
