"""Trees become definitions, strictly; each mistake is one finding that says what to write."""

import json
from functools import cache

import jsonschema
import pytest
import yaml

from specgen.load.schema import schemas
from specgen.quantity import DataSize, Power
from tests.projects import base, edited, for_editors, project

PLATFORM, FULL, HOUSE = (
    "platforms/lantern.yaml",
    "configured/lantern-full.yaml",
    "catalog/house.yaml",
)
MEMORY, DRIVES = "catalog/memory.yaml", "catalog/drives.yaml"


def loaded(files=None):
    found = project(files or base()).loaded
    assert found.definitions is not None
    return found.definitions


def only(file, old, new):
    """The one finding that an edit leads to."""
    found = project(edited(file, old, new))
    assert len(found.findings) == 1, found.findings
    return found.findings[0]


def test_values_carry_their_units():
    part = loaded().parts["rdimm-32"]
    assert part.capacity == DataSize.of(32, "GiB")
    assert part.power.maximum == Power.of(6)


def test_what_a_group_shares_is_overruled_by_a_part_of_its_own():
    parts = loaded().parts
    assert parts["rdimm-32"].form == "rdimm"
    assert parts["rdimm-128-3ds"].form == "3ds-rdimm"
    assert parts["rdimm-128-3ds"].speed == parts["rdimm-32"].speed


def test_a_field_is_found_where_it_was_written_in_common_or_in_the_part():
    part = loaded().parts["rdimm-128-3ds"]
    text = base()[MEMORY].split("\n")
    assert "form: 3ds-rdimm" in text[part.origin.at("form").line - 1]
    assert "speed: 5600 MT/s" in text[part.origin.at("speed").line - 1]


def test_one_part_a_list_and_a_group_are_read_alike():
    parts = loaded().parts
    assert {"watch", "tpm", "nvme-2.5", "boot-pair"} <= parts.keys()


def test_definitions_are_in_the_order_of_their_ids():
    found = loaded()
    assert list(found.parts) == sorted(found.parts)
    assert list(found.builds) == sorted(found.builds)


@pytest.mark.parametrize(("word", "right"), [("true", True), ("True", True), ("false", False)])
def test_true_and_false_are_words_of_their_own(word, right):
    files = edited(MEMORY, "{id: rdimm-64,", f"{{id: rdimm-64, error_correction: {word},")
    assert loaded(files).parts["rdimm-64"].error_correction is right


@pytest.mark.parametrize("word", ["yes", "on", "no", "'true'", "1", "TRUE!"])
def test_other_words_are_no_truth(word):
    finding = only(MEMORY, "{id: rdimm-64,", f"{{id: rdimm-64, error_correction: {word},")
    assert finding.code.id == "SG112"
    assert "`true` or `false`" in str(finding.message)


@pytest.mark.parametrize("number", ["02", "1.0", "'2'", "2 x", "two", "1e1", "0x2"])
def test_a_whole_number_is_written_plainly(number):
    finding = only(MEMORY, "  ranks: 2\n", f"  ranks: {number}\n")
    assert finding.code.id == "SG112"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("32", "SG121"),
        ("32 W", "SG122"),
        ("32 Gibi", "SG123"),
        ("much GiB", "SG124"),
        ("[32 GiB]", "SG112"),
        ("{a: b}", "SG112"),
        ("''", "SG116"),
        ("null", "SG116"),
        ("-32 GiB", "SG113"),
    ],
)
def test_a_value_that_is_none_says_why(text, code):
    found = project(edited(MEMORY, "  capacity: 32 GiB\n", f"  capacity: {text}\n"))
    assert {finding.code.id for finding in found.findings} == {code}


def test_a_misspelt_field_is_guessed_and_not_missed_as_well():
    finding = only(PLATFORM, "rack_units: 1", "rack_unit: 1")
    assert finding.code.id == "SG111"
    assert str(finding.help) == "did you mean `rack_units`?"


def test_an_unknown_field_deep_in_a_definition_is_guessed_from_the_fields_there():
    finding = only(
        PLATFORM,
        "takes: tpm, form: spi-tpm",
        "takes: tpm, from: spi-tpm, hieght: low",
    )
    assert finding.code.id == "SG111"
    assert str(finding.help) == "did you mean `height`?"


def test_a_misspelt_part_is_guessed_among_the_parts():
    assert str(only(FULL, "  TPM: tpm", "  TPM: tmp").help) == "did you mean `tpm`?"


def test_a_missing_field_points_at_the_definition_that_needs_it():
    files = edited(HOUSE, "tdp_limit: 270 W", "mass: 1 kg")
    found = project(files)
    assert found.codes == ["SG114"]
    assert "id: sink," in found.line(found.findings[0])


def test_all_mistakes_of_all_files_are_found_in_one_run():
    files = edited(PLATFORM, "rack_units: 1", "rack_units: one")
    files[FULL] = files[FULL].replace("summary: Everything at once", "sumary: x")
    files[MEMORY] = files[MEMORY].replace("  ranks: 2\n", "  ranks: two\n")
    found = project(files)
    assert {finding.at.span.file for finding in found.findings} == {PLATFORM, FULL, MEMORY}


def test_a_mistake_in_what_parts_share_is_reported_once():
    found = project(edited(MEMORY, "  ranks: 2\n", "  ranks: two\n"))
    assert found.codes == ["SG112"]


def test_a_file_that_cannot_be_read_leaves_no_trail_of_unknown_parts():
    files = base()
    files[DRIVES] = "- [" + files[DRIVES]
    assert project(files).codes == ["SG101"]


def test_a_definition_that_is_no_mapping_is_found():
    found = project({**base(), "catalog/odd.yaml": "just text\n"})
    assert found.codes == ["SG112"]


@pytest.mark.parametrize(
    "text", ["parts: x", "kind: fan\nparts: {a: b}", "kind: fan\ncommon: [a]\nparts: []"]
)
def test_a_group_of_another_shape_is_found(text):
    found = project({**base(), "catalog/odd.yaml": text})
    assert found.codes == ["SG112"]


def test_a_group_with_a_field_beside_its_parts_is_found():
    found = project({**base(), "catalog/odd.yaml": "kind: fan\nform: fan-40\nparts: []\n"})
    assert found.codes == ["SG111"]


def test_without_its_own_file_a_project_defines_nothing():
    files = base()
    files["specgen.yaml"] = "title: A\n"
    found = project(files)
    assert found.loaded.definitions is None
    assert set(found.codes) == {"SG114"}


SCHEMA_OF = {
    "specgen.yaml": "project",
    "platforms": "platform",
    "configured": "build",
    "catalog": "part",
    "kinds": "kind",
    "values": "value",
}


@pytest.mark.parametrize("name", sorted(base()))
def test_what_is_read_passes_the_schemasfor_editors(name):
    definitions = project(base()).loaded.definitions
    assert definitions is not None
    schema = json.loads(schemas(definitions.kinds)[f"{SCHEMA_OF[name.split('/')[0]]}.json"])
    tree = for_editors(yaml.safe_load(base()[name]))
    checker = jsonschema.Draft202012Validator(schema)
    assert [error.message[:200] for error in checker.iter_errors(tree)] == []


def test_the_schemas_refuse_a_field_that_is_not_known():
    schema = json.loads(schemas()["platform.json"])
    tree = for_editors(yaml.safe_load(base()[PLATFORM])) | {"rack_unit": 1}
    assert list(jsonschema.Draft202012Validator(schema).iter_errors(tree))


VALUE = "{key: house.a, label: A, expression: fans.count}"


@pytest.mark.parametrize("text", [VALUE, f"[{VALUE}, {VALUE}]", f"{{values: [{VALUE}]}}"])
def test_a_file_of_values_passes_its_schema_in_each_of_its_forms(text):
    checker = jsonschema.Draft202012Validator(json.loads(schemas()["value.json"]))
    assert list(checker.iter_errors(yaml.safe_load(text))) == []
    assert list(checker.iter_errors(yaml.safe_load(text.replace("label", "lable"))))


@cache
def known_kinds():
    """The kinds of the small project, and its schemas as they are written."""
    kinds = loaded().kinds
    return kinds, {file: json.loads(text) for file, text in schemas(kinds).items()}


@pytest.mark.parametrize(
    "name", ["processor", "processors", "Processor", "drying-bag", "tide-gauge"]
)
@pytest.mark.parametrize("file", ["platform.json", "part.json"])
@pytest.mark.parametrize(("record", "field"), [("Position", "takes"), ("Need", "kind")])
def test_the_schemas_know_the_kinds_there_are(name, file, record, field):
    """Those of the project among them; what they refuse is found when loading as well."""
    kinds, every = known_kinds()
    known, schema = name in kinds, every[file]
    one = {**schema["$defs"][record]["properties"][field], "$defs": schema["$defs"]}
    for value in (name, [name], ["fan", name]) if field == "takes" else (name,):
        assert jsonschema.Draft202012Validator(one).is_valid(value) is known
    files = {**base(), PLATFORM: base()[PLATFORM].replace("takes: processor,", f"takes: {name},")}
    found = project(files).loaded.findings
    assert ("SG115" in {each.code.id for each in found}) is not known


def test_the_schemas_are_the_same_every_time():
    assert schemas.__wrapped__() == schemas.__wrapped__()  # each made anew
