"""A command imports what it uses: what takes long to import is not there where nobody asked."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.cli.conftest import written
from tests.timing import first

BUILD = "lantern-full"
# What takes long: 10 ms and more, where Python itself takes 12 to start.
DOCUMENTS = frozenset(
    {"jinja2", "markdown_it", "specgen.document.blocks", "specgen.document.template"}
)
DRAWINGS = frozenset({"graphviz", "specgen.drawings"})
LIMITS = frozenset({"ortools", "specgen.limits", "multiprocessing"})
NEVER = frozenset({"mkdocs", "openpyxl", "typst", "resvg_py", "pygments", "pypdf"})
SELDOM = NEVER | {"pydantic", "babel", "rich", "email", "importlib.metadata", "platformdirs"}
# What only a mistake needs, an explanation, or a page that is written.
UNASKED = frozenset({
    "difflib", "specgen.attribute_docs", "specgen.source.yaml_mistakes", "html.parser",
    "specgen.site.page_writer", "specgen.site.handwritten", "specgen.site.search",
    "specgen.document.record", "specgen.messages.po", "hashlib",
})  # fmt: skip
ALL = SELDOM | DOCUMENTS | DRAWINGS | LIMITS | {"specgen.write", "specgen.site"}

OF_SHEETS = NEVER | {"pydantic", "babel", "rich", "ortools", "specgen.site"}

PROSE = "{lantern-full: power.maximum}, {part sink}, and some words.\n"


def imported(here: Path, *words: str) -> set[str]:
    """The modules that a command has imported when it ends well."""
    code = (
        "import sys; from specgen.cli import main; status = main(sys.argv[1:]); "
        "print(*sys.modules, file=sys.stderr); sys.exit(status)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        cwd=here,
        env={**os.environ, "COVERAGE_PROCESS_START": ""},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return set(done.stderr.splitlines()[-1].split())


COMMANDS = (
    (("check",), ALL | UNASKED | {"json", "tomllib"}),
    (("facts", BUILD), ALL),
    (("sheet", BUILD, "--to", "md"), OF_SHEETS),
    (("check", BUILD), ALL - LIMITS),  # names the nearest builds that pass
    (("check", "--format", "sarif"), ALL - {"email", "importlib.metadata"}),  # our version
    (("facts", BUILD, "--format", "json"), ALL | UNASKED),
    (("explain", BUILD, "power.maximum"), ALL),
    (("explain", "SG331"), ALL),
    (("parts", BUILD, "--to", "csv", "-o", "x.csv"), ALL - {"specgen.write"}),
    (("data", BUILD, "-o", "x.json"), ALL - {"specgen.write"}),
    (("new", "part", "fresh", "--kind", "drive"), SELDOM | DRAWINGS | {"jinja2"}),
)


@pytest.mark.parametrize("case", first(4, COMMANDS), ids=lambda case: " ".join(case[0]))
def test_a_command_imports_what_it_uses(
    here: Path, case: tuple[tuple[str, ...], frozenset[str]]
) -> None:
    words, spared = case
    assert imported(here, *words) & spared == set()


def test_help_imports_no_library_and_nothing_else_of_ours(here: Path) -> None:
    found = imported(here, "--help")
    ours = {each for each in found if each.split(".")[0] == "specgen"}
    assert ours == {"specgen", "specgen.cli"}
    assert found & (ALL | {"click", "yaml", "typing", "inspect", "dataclasses"}) == set()


def test_pages_are_read_with_markdown_alone(here: Path) -> None:
    written(here / "builds", {"pages/note.md": PROSE})
    found = imported(here, "check")
    assert "markdown_it" in found
    assert found & (SELDOM | UNASKED | DRAWINGS | {"jinja2", "ortools"}) == set()


def test_prose_is_read_with_the_templates_that_may_print_it(here: Path) -> None:
    """Whether a document prints a text stands in the templates (SG511), which nobody runs, and so
    does the table that a text names."""
    prose = f"{PROSE}See {{lantern-full: table slots, its slots}}.\n"
    written(here / "builds", {"prose/lantern/introduction.md": prose})
    found = imported(here, "check")
    assert {"markdown_it", "specgen.document.blocks"} <= found
    assert found & (SELDOM | UNASKED | DRAWINGS | {"jinja2", "ortools"}) == set()


def test_texts_in_other_languages_are_read_without_babel(here: Path) -> None:
    """Their catalogues are read by a pattern, their signs stand in the word lists."""
    prose = {f"prose/lantern/introduction.{each}.md": "2 USB: 1.5 m.\n" for each in ("de", "ja")}
    written(here / "builds", prose)
    found = imported(here, "check")
    assert "specgen.messages.po" in found
    assert found & SELDOM == set()


def test_templates_are_read_where_a_project_has_its_own(here: Path) -> None:
    written(here / "builds", {"templates/own.md": "# {{ build.name }}\n"})
    found = imported(here, "check")
    assert "jinja2" in found
    assert found & (NEVER | {"pydantic", "babel", "rich", "ortools"}) == set()


def test_help_is_the_same_whoever_asks_for_it(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The quick answer, and the one of the library that reads all other command lines."""
    from specgen.cli import main
    from specgen.cli.run import run

    assert main(["--help"]) == 0
    quick = capsys.readouterr().out
    assert run(["--help"]) == 0
    assert capsys.readouterr().out == quick
    assert max(map(len, quick.splitlines())) <= 80
