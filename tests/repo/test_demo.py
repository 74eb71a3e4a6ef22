"""The demo is as large as promised, sound, described to editors, and unknown to the program."""

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from specgen.diagnostics import Severity
from specgen.load.field_reference import FILE, reference
from specgen.load.schema import schemas
from specgen.model import KINDS, Definitions
from specgen.pipeline import Survey
from specgen.write import json as as_json
from tests.repo.house import PACKAGE, ROOT, name_of, project_files, text_of

BUILDS = ROOT / "builds"
FILES = [
    path
    for path in project_files()
    if path.is_relative_to(BUILDS) and path.suffix in (".yaml", ".yml")
]
FIRST_LINE = re.compile(r"# yaml-language-server: \$schema=(\S+)")


class Yaml12(yaml.SafeLoader):
    """YAML as its version 1.2 reads it: `no` and `12:30` are text, `010` is ten."""


def _whole_number(loader: Yaml12, node: yaml.ScalarNode) -> int:
    text = str(loader.construct_scalar(node))
    return int(text, 0) if text[:2] in ("0o", "0x") else int(text)


# Source: YAML 1.2.2, chapter 10.3.2, core schema, tag resolution
Yaml12.yaml_implicit_resolvers = {}
for tag, pattern, starts in (
    ("null", r"~|null|Null|NULL|", ["", "~", "n", "N"]),
    ("bool", r"true|True|TRUE|false|False|FALSE", [*"tTfF"]),
    ("int", r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+", [*"-+0123456789"]),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", [*"-+.0123456789"]),
):
    Yaml12.add_implicit_resolver(
        f"tag:yaml.org,2002:{tag}", re.compile(rf"^(?:{pattern})$"), starts
    )
Yaml12.add_constructor("tag:yaml.org,2002:int", _whole_number)


@pytest.fixture(scope="module")
def definitions(demo: Survey) -> Definitions:
    assert demo.definitions is not None
    return demo.definitions


def test_the_demo_is_as_large_as_promised(definitions: Definitions) -> None:
    assert len(definitions.platforms) >= 5
    assert len(definitions.parts) >= 160
    assert len({part.kind for part in definitions.parts.values()}) >= 20
    assert len(definitions.builds) >= 25


def test_every_kind_of_part_has_an_example(definitions: Definitions) -> None:
    assert set(KINDS) - {part.kind for part in definitions.parts.values()} == set()


def test_every_platform_has_a_build(definitions: Definitions, demo: Survey) -> None:
    used = {case.platform.id for case in demo.cases.values()}
    assert set(definitions.platforms) - used == set()


def test_the_demo_is_free_of_errors(demo: Survey) -> None:
    wrong = [found for found in demo.findings if found.severity is Severity.ERROR]
    assert [f"{f.at.span.file}:{f.at.span.line} {f.code.id} {f.message}" for f in wrong] == []


def test_every_build_of_the_demo_is_sound(demo: Survey) -> None:
    assert [name for name, case in demo.cases.items() if not case.sound] == []


def test_the_schemas_beside_the_demo_are_those_the_program_writes() -> None:
    folder = BUILDS / ".schemas"
    there = {path.name: text_of(path) for path in folder.glob("*")}
    written = {**schemas(), **as_json.schemas(), FILE: reference()}
    stale = {name for name in {*there, *written} if there.get(name) != written.get(name)}
    assert stale == set(), "run `specgen schema builds/.schemas`"


@pytest.mark.parametrize("path", FILES, ids=[name_of(path) for path in FILES])
def test_editors_can_check_every_file(path: Path) -> None:
    named = FIRST_LINE.fullmatch(text_of(path).split("\n", 1)[0])
    assert named, "the first line names no schema"
    file = (path.parent / named[1]).resolve()
    assert file.parent == BUILDS / ".schemas"
    content = yaml.load(text_of(path), Yaml12)  # a SafeLoader
    problems = sorted(map(_message, _validator(file).iter_errors(content)))
    assert problems == []


_validators: dict[Path, Any] = {}


def _validator(file: Path) -> Any:
    if file not in _validators:
        schema = json.loads(file.read_text(encoding="utf-8"))
        kind = jsonschema.validators.validator_for(schema)
        kind.check_schema(schema)
        _validators[file] = kind(schema)
    return _validators[file]


def _message(problem: jsonschema.ValidationError) -> str:
    """The innermost trouble of a problem, and where it is."""
    deepest = jsonschema.exceptions.best_match([problem])
    return f"{'/'.join(map(str, deepest.absolute_path))}: {deepest.message[:200]}"


def test_the_reader_of_this_test_reads_as_yaml_1_2_does() -> None:
    read = yaml.load("[no, on, 010, 0o10, 12:30, 1.10, 2026-03-02, true, null, '5']", Yaml12)
    assert read[:2] == ["no", "on"]
    assert read[4:] == ["12:30", 1.1, "2026-03-02", True, None, "5"]


def test_nothing_in_the_program_names_a_platform_or_a_part(definitions: Definitions) -> None:
    names = own_names(definitions)
    pattern = re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, sorted(names)))})(?![\w-])")
    shipped = (PACKAGE, ROOT / "templates", ROOT / "site" / "theme")
    found = [
        f"{name_of(path)}:{number} {hit[0]}"
        for path in project_files()
        if any(path.is_relative_to(folder) for folder in shipped)
        for number, line in enumerate(text_of(path).splitlines(), 1)
        for hit in pattern.finditer(line)
    ]
    assert found == []


def own_names(definitions: Definitions) -> set[str]:
    """Names, ids and makers of the demo; no words of the trade (an id `tpm` is one)."""
    parts = definitions.parts.values()
    names = {platform.name for platform in definitions.platforms.values()}
    names |= set(definitions.platforms) | set(definitions.builds)
    names |= {part.name for part in parts} | {part.maker for part in parts if part.maker}
    names |= {part.id for part in parts if re.search(r"[-\d]", part.id)}
    return names | {definitions.project.publisher.name}
