"""A build as JSON: complete, valid against the published schema, and traceable to lines."""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from specgen.document.data import build_data, parts_list
from specgen.facts.fact_data import fact_data
from specgen.pipeline import Survey
from specgen.write import json as as_json
from tests.timing import first

NAMES = ("lantern-office", "boathouse-tiers", "capstan-forecast", "pocket-hill-top")


@pytest.fixture(scope="module")
def built(demo: Survey) -> dict[str, dict[str, Any]]:
    return {name: json.loads(as_json.text(build_data(demo.cases[name]))) for name in NAMES}


@pytest.mark.parametrize("name", first(1, NAMES[::-1]))
def test_a_build_is_valid_against_the_published_schema(built: dict[str, Any], name: str):
    schema = json.loads(as_json.schemas()["build-data.json"])
    Draft202012Validator.check_schema(schema)
    assert [str(e.message) for e in Draft202012Validator(schema).iter_errors(built[name])] == []


def test_a_parts_list_is_valid_against_the_published_schema(demo: Survey):
    schema = json.loads(as_json.schemas()["parts-list.json"])
    Draft202012Validator.check_schema(schema)
    parts = parts_list([(case, 2) for case in demo.cases.values()])
    assert list(Draft202012Validator(schema).iter_errors(json.loads(as_json.text(parts)))) == []


def test_the_schema_refuses_what_it_does_not_name(built: dict[str, Any]):
    schema = json.loads(as_json.schemas()["build-data.json"])
    whole = built["pocket-hill-top"]
    fact = {**whole["facts"][0], "surprise": 1}
    assert not Draft202012Validator(schema).is_valid({**whole, "facts": [fact]})
    assert not Draft202012Validator(schema).is_valid({**whole, "form": 2})


def test_every_value_is_there_in_the_form_that_facts_prints(demo: Survey, built: dict[str, Any]):
    for name in NAMES:
        facts = demo.cases[name].facts
        assert built[name]["facts"] == [fact_data(fact) for fact in facts.values()]


def test_numbers_are_numbers_with_their_unit_apart(built: dict[str, Any]):
    facts = {fact["key"]: fact for fact in built["lantern-office"]["facts"]}
    assert (facts["memory.capacity"]["value"], facts["memory.capacity"]["unit"]) == (256, "GiB")
    assert facts["processors.base_clock"]["value"] == 2.7
    assert facts["processors.count"]["unit"] is None
    assert facts["expansion.SLOT 2.running"]["value"] is None


def test_every_pedigree_can_be_walked_down_to_lines(demo: Survey, built: dict[str, Any]):
    for name in NAMES:
        keys = {fact["key"] for fact in built[name]["facts"]}
        for fact in built[name]["facts"]:
            for entry in fact["inputs"]:
                if "fact" in entry:
                    assert entry["fact"] in keys
                elif entry["file"] is not None:
                    lines = demo.sources.texts[entry["file"]].count("\n") + 1
                    assert 1 <= entry["line"] <= lines


def test_positions_name_parts_and_positions_that_are_there(built: dict[str, Any]):
    for whole in built.values():
        parts = {part["id"] for part in whole["parts"]}
        names = {position["name"] for position in whole["positions"]}
        assert len(names) == len(whole["positions"])
        for position in whole["positions"]:
            assert position["part"] is None or position["part"] in parts
            for other in ("host", "of", "served_by"):
                assert position[other] is None or position[other] in names


def test_the_same_build_gives_the_same_bytes(demo: Survey):
    case = demo.cases["lantern-office"]
    text = as_json.text(build_data(case))
    assert text == as_json.text(build_data(case))
    assert text.endswith(b"}\n")
    assert b"\r" not in text
