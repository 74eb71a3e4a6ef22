"""What the project says of itself is so: codes, calculators, commands, rooms, paths."""

import re
import tomllib

import pytest

from specgen.diagnostics import Code, codes
from specgen.facts import CALCULATORS
from specgen.facts.registry import AnyCalculator
from tests.repo.house import PACKAGE, ROOT, name_of, project_files, text_of
from tests.sharing import unit_of

TESTS = ROOT / "tests"
NAMES_OF_CODES = {code.id: name for name, code in vars(codes).items() if isinstance(code, Code)}
ONLY_SAMPLES = ("repo", "diagnostics", "bench", "write")
"""Folders whose tests use codes as samples of a finding and provoke none."""
COMMANDS = ("publish", "test")
MACHINE = re.compile(r"(?<![\w.\-*])/(?:work|tmp|home|root)/")


def provoking() -> str:
    """The text of all tests that break definitions on purpose."""
    texts = [
        text_of(path)
        for path in project_files()
        if path.is_relative_to(TESTS) and path.relative_to(TESTS).parts[0] not in ONLY_SAMPLES
    ]
    return "\n".join(texts)


def test_every_code_has_a_test_that_provokes_it() -> None:
    text = provoking()
    words = set(re.findall(r"\bSG\d{3}\b|\b[A-Z][A-Z_]+\b", text))
    assert [
        f"{code} {name}" for code, name in NAMES_OF_CODES.items() if not words & {code, name}
    ] == []


def test_every_code_is_found_somewhere_in_the_program() -> None:
    text = "\n".join(
        text_of(path)
        for path in project_files()
        if path.is_relative_to(PACKAGE) and path.parent.name != "codes"
    )
    words = set(re.findall(r"\b[A-Z][A-Z_]+\b", text))
    assert [f"{code} {name}" for code, name in NAMES_OF_CODES.items() if name not in words] == []


def test_a_number_means_one_thing_and_stands_in_its_hundred() -> None:
    assert len(NAMES_OF_CODES) == len(codes.CODES)
    assert all(re.fullmatch(r"SG[1-5]\d\d", code) for code in codes.CODES)


@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda calculator: calculator.key)
def test_every_calculator_says_its_label_formula_and_source(calculator: AnyCalculator) -> None:
    for words in (calculator.label, calculator.short, calculator.formula, calculator.source):
        assert str(words).strip() == str(words) != ""


def test_no_two_calculators_have_one_key() -> None:
    keys = [calculator.key for calculator in CALCULATORS]
    assert sorted(set(keys)) == sorted(keys)


@pytest.mark.parametrize("command", COMMANDS)
def test_the_commands_of_the_readme_are_those_that_ci_runs(command: str) -> None:
    line = f"python3 .dev/run.py {command}"
    blocks = "\n".join(re.findall(r"^```\w*\n(.*?)^```", text_of(ROOT / "README.md"), re.M | re.S))
    assert line in blocks.splitlines()
    assert re.search(rf"^\s*{re.escape(line)}(?:\s|$)", text_of(ROOT / ".ci" / "run"), re.M)


def the_house() -> str:
    """The chapter of DEVELOPERS.md that shows the rooms."""
    return text_of(ROOT / "DEVELOPERS.md").split("\n## The house\n")[1].split("\n## ")[0]


def test_the_top_level_holds_what_the_picture_of_the_house_shows() -> None:
    """Files with a dot before their name are settings of tools and need no line."""
    block = the_house().split("```")[1]
    shown = {line.split()[0] for line in block.splitlines() if line.strip()}
    names = [name_of(path) for path in project_files()]
    folders = {f"{name.split('/')[0]}/" for name in names if "/" in name}
    files = {name for name in names if "/" not in name and not name.startswith(".")}
    assert shown == folders | files


def test_the_table_of_rooms_lists_the_floors_from_the_ground_up() -> None:
    shown = re.findall(r"^\| `(\w+)` \|", the_house(), re.M)
    settings = tomllib.loads(text_of(ROOT / "pyproject.toml"))
    contracts = settings["tool"]["importlinter"]["contracts"]
    layers = next(each["layers"] for each in contracts if each["name"] == "floors")
    assert shown == [room for floor in reversed(layers) for room in floor.split(" | ")]
    assert [room for room in shown if not list(PACKAGE.glob(f"{room}*"))] == []


def test_every_path_that_developers_are_reported_is_there() -> None:
    got = re.findall(r"`([\w.-]+/[\w./-]*)`", text_of(ROOT / "DEVELOPERS.md"))
    elsewhere = ("_shipped", ".venv", "public/", ".mutants/")
    assert [
        path
        for path in got
        if not any(place in path for place in elsewhere)
        and not any((folder / path).exists() for folder in (ROOT, ROOT / "builds"))
        and not list(PACKAGE.rglob(path))
    ] == []


def test_no_file_knows_the_machine_it_was_written_on() -> None:
    known = [
        f"{name_of(path)}:{number}"
        for path in project_files()
        if not path.is_relative_to(ROOT / ".ci")
        for number, line in enumerate(text_of(path).splitlines(), 1)
        if MACHINE.search(line)
    ]
    assert known == []


def test_tests_of_the_published_demo_run_in_one_process() -> None:
    asks = re.compile(r"def test_\w+\([^)]*\bdemo_site\b")
    tests = (path for path in project_files() if path.is_relative_to(TESTS))
    users = [name_of(path) for path in tests if asks.search(text_of(path))]
    assert len(users) > 2
    assert {unit_of(f"{name}::test") for name in users} == {"tests/browser"}


def test_every_promise_of_the_manual_names_a_test_that_is_there():
    page = (ROOT / "site/manual/pages/trust/promises.md").read_text(encoding="utf-8")
    promised, _, _ = page.partition("## What it does not promise")
    entries = re.split(r"^- ", promised, flags=re.MULTILINE)[1:]
    assert entries
    for entry in entries:
        named = re.findall(r"`(tests/[\w/]+\.py)(?:::(\w+))?`", entry)
        assert named, f"nothing holds this promise: {entry}"
        for file, test in named:
            text = text_of(ROOT / file)
            assert f"def {test or 'test_'}" in text, f"{file}::{test}"
