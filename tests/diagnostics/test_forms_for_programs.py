"""JSON and SARIF: what other programs read."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft4Validator
from jsonschema.validators import validator_for

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.diagnostics.as_json import as_json, json_text
from specgen.diagnostics.as_sarif import as_sarif, sarif_text

SCHEMA = Path(__file__).parents[2].parent / "shared/standards/sarif-schema-2.1.0.json"

FOUND = (
    Finding(
        codes.UNUSED_ALLOW,
        "nothing here needs `allow`",
        Label(Span("configured/höhe 1.yaml", 9, 3, 9, 8)),
    ),
    Finding(
        codes.UNKNOWN_PART,
        "no catalog part is named `x`",
        Label(Span("configured/a.yaml", 7, 9, 7, 10), "not found"),
        (Label(Span("catalog/a:b.yaml", 1, 7, 1, 9), "a near one"),),
        ("looked among 2 parts",),
        "write `{0}` or [a](b) or `allow: [{code: SG212}]`",
    ),
    Finding(codes.UNREADABLE, "no such file", Label(Span("gone.yaml", 0, 0, 0, 0))),
)


def test_json_holds_every_part_of_a_finding() -> None:
    assert as_json(FOUND[1:2], shown=lambda file: f"builds/{file}") == [
        {
            "code": "SG201",
            "title": "unknown part",
            "severity": "error",
            "message": "no catalog part is named `x`",
            "file": "builds/configured/a.yaml",
            "line": 7,
            "column": 9,
            "end_line": 7,
            "end_column": 10,
            "label": "not found",
            "labels": [
                {
                    "file": "builds/catalog/a:b.yaml",
                    "line": 1,
                    "column": 7,
                    "end_line": 1,
                    "end_column": 9,
                    "text": "a near one",
                }
            ],
            "notes": ["looked among 2 parts"],
            "help": "write `{0}` or [a](b) or `allow: [{code: SG212}]`",
        }
    ]


def test_the_same_findings_in_any_order_give_the_same_bytes() -> None:
    assert json_text(FOUND) == json_text(FOUND[::-1] + FOUND)
    assert sarif_text(FOUND) == sarif_text(FOUND[::-1] + FOUND)
    assert [each["code"] for each in as_json(FOUND)] == ["SG201", "SG212", "SG100"]
    assert as_json(()) == []


def test_a_log_is_sarif() -> None:
    if not SCHEMA.is_file():
        pytest.skip("the published SARIF schema is not beside the project")
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    assert validator_for(schema) is Draft4Validator
    every = [
        Finding(code, "m", Label(Span("a.yaml", 1, 1, 2, 1), "x"), (Label(Span("b", 1, 1, 1, 1)),))
        for code in codes.CODES.values()
    ]
    for findings in ((), FOUND, every):
        log = json.loads(sarif_text(findings))
        assert not list(Draft4Validator(schema).iter_errors(log))


def test_a_result_names_its_rule_place_and_other_places() -> None:
    run = json.loads(json.dumps(as_sarif(FOUND)))["runs"][0]
    rules = run["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == ["SG100", "SG201", "SG212"]
    assert rules[1]["name"] == "UnknownPart"
    assert rules[2]["defaultConfiguration"] == {"level": "warning"}
    assert run["columnKind"] == "unicodeCodePoints"
    assert run["invocations"] == [{"executionSuccessful": True}]
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
    place = run["results"][0]["locations"][0]["physicalLocation"]
    assert place == {
        "artifactLocation": {"uri": "configured/a.yaml", "uriBaseId": "%SRCROOT%"},
        "region": {"startLine": 7, "startColumn": 9, "endLine": 7, "endColumn": 10},
    }
    (other,) = run["results"][0]["relatedLocations"]
    assert other["id"] == 1
    assert other["message"] == {"text": "a near one"}


def test_paths_are_written_as_relative_uris() -> None:
    run = json.loads(json.dumps(as_sarif(FOUND)))["runs"][0]
    artifacts = [
        result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
        for result in run["results"]
    ]
    assert artifacts == ["configured/a.yaml", "configured/h%C3%B6he%201.yaml", "gone.yaml"]
    related = run["results"][0]["relatedLocations"][0]["physicalLocation"]["artifactLocation"]
    assert related["uri"] == "catalog/a%3Ab.yaml"


def test_a_file_outside_the_root_is_an_address_of_its_own() -> None:
    log = as_sarif(FOUND[2:], shown=lambda file: f"/else where/{file}")
    text = json.dumps(log["runs"])
    assert '"uri": "file:///else%20where/gone.yaml"}' in text


def test_braces_and_brackets_of_a_message_stay_text() -> None:
    run = json.loads(json.dumps(as_sarif(FOUND)))["runs"][0]
    assert run["results"][0]["message"]["text"] == (
        "no catalog part is named `x`\n"
        "note: looked among 2 parts\n"
        "help: write `{{0}}` or \\[a](b) or `allow: [{code: SG212}]`"
    )


def test_lines_and_columns_of_a_region_count_from_one() -> None:
    run = json.loads(json.dumps(as_sarif(FOUND)))["runs"][0]
    region = run["results"][-1]["locations"][0]["physicalLocation"]["region"]
    assert region == {"startLine": 1, "startColumn": 1}


def test_a_file_name_that_is_not_utf8_keeps_its_bytes() -> None:
    found = Finding(codes.UNREADABLE, "m", Label(Span("a\udcff.yaml", 1, 1, 1, 1)))
    assert '"uri": "a%FF.yaml"' in sarif_text([found])
