"""What the project says of itself is so: codes, calculators, commands, rooms, paths."""

import re
from pathlib import Path

import pytest

from specgen.diagnostics import Code, codes
from specgen.facts import CALCULATORS
from specgen.facts.registry import Calculator
from tests.repo.house import PACKAGE, ROOT, name_of, project_files, text_of

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
        if path.is_relative_to(PACKAGE) and path.name != "codes.py"
    )
    words = set(re.findall(r"\b[A-Z][A-Z_]+\b", text))
    assert [f"{code} {name}" for code, name in NAMES_OF_CODES.items() if name not in words] == []


def test_a_number_means_one_thing_and_stands_in_its_hundred() -> None:
    assert len(NAMES_OF_CODES) == len(codes.CODES)
    assert all(re.fullmatch(r"SG[1-4]\d\d", code) for code in codes.CODES)


@pytest.mark.parametrize("calculator", CALCULATORS, ids=lambda calculator: calculator.key)
def test_every_calculator_says_its_label_formula_and_source(calculator: Calculator) -> None:
    for words in (calculator.label, calculator.formula, calculator.source):
        assert words.strip() == words != ""


def test_no_two_calculators_have_one_key() -> None:
    keys = [calculator.key for calculator in CALCULATORS]
    assert sorted(set(keys)) == sorted(keys)


@pytest.mark.parametrize("command", COMMANDS)
def test_the_commands_of_the_readme_are_those_that_ci_runs(command: str) -> None:
    line = f"python3 .dev/run.py {command}"
    blocks = "\n".join(re.findall(r"^```\w*\n(.*?)^```", text_of(ROOT / "README.md"), re.M | re.S))
    assert line in blocks.splitlines()
    assert re.search(rf"^\s*{re.escape(line)}(?:\s|$)", text_of(ROOT / ".ci" / "run"), re.M)


def test_the_picture_of_the_house_shows_the_rooms_there_are() -> None:
    shown = set(rooms(text_of(ROOT / "DEVELOPERS.md")))
    files = [Path(name_of(path)) for path in project_files()]
    folders = {f"{path.parts[0]}/" for path in files if len(path.parts) > 1}
    floors = {
        f"specgen/{path.parts[1]}/" if len(path.parts) > 2 else path.as_posix()
        for path in files
        if path.parts[0] == "specgen" and path.name not in ("__init__.py", "__main__.py")
        if path.suffix == ".py"
    }
    missing = [room for room in sorted(folders | floors) if room not in shown]
    assert missing == [], "not in the picture"
    assert [room for room in sorted(shown) if not (ROOT / room).exists()] == [], "not in the house"


def rooms(text: str) -> list[str]:
    """The paths in the first fenced block after a line that says "The house".

    The first word of each line is a path; an indented line lies in the folder above it. A folder
    ends in a slash. Lines drawn as a tree are read as well.
    """
    found = re.search(r"^[^\n]*\bThe house\b.*?^```\w*\n(.*?)^```", text, re.M | re.S | re.I)
    if not found:
        return []
    paths: list[str] = []
    above: list[tuple[int, str]] = []
    for line in found.group(1).splitlines():
        plain = re.sub(r"[│├└─|`]", " ", line)
        words = plain.split()
        if not words or not re.fullmatch(r"[\w./-]+(?:/|\.\w+|/run)", words[0]):
            continue
        indent = len(plain) - len(plain.lstrip())
        while above and above[-1][0] >= indent:
            above.pop()
        path = (above[-1][1] if above else "") + words[0]
        paths.append(path)
        if path.endswith("/"):
            above.append((indent, path))
    return paths


def test_no_file_knows_the_machine_it_was_written_on() -> None:
    known = [
        f"{name_of(path)}:{number}"
        for path in project_files()
        if not path.is_relative_to(ROOT / ".ci")
        for number, line in enumerate(text_of(path).splitlines(), 1)
        if MACHINE.search(line)
    ]
    assert known == []
