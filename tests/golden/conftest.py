"""`pytest tests/golden --bless` writes what is made now in place of what was expected."""

import difflib
import os
from collections.abc import Callable
from pathlib import Path

import pytest

EXPECTED = Path(__file__).parent / "expected"
MOST_LINES = 120  # of a difference

Golden = Callable[[str, str], None]


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--bless", action="store_true", help="take what is made now as expected")


def pytest_configure(config: pytest.Config) -> None:
    refuse_in_ci(blessing(config), os.environ.get("CI", ""))


def blessing(config: pytest.Config) -> bool:
    return bool(config.getoption("--bless", default=False))


def refuse_in_ci(bless: bool, ci: str) -> None:
    """CI compares; only a person who has read the difference blesses it."""
    if bless and ci.lower() in ("true", "1"):
        raise pytest.UsageError("--bless is refused where CI is set: bless, read, commit")


def compare(path: Path, made: str, bless: bool) -> None:
    """Fails with a unified diff where a file does not hold the text; or writes it."""
    if bless:
        path.write_text(made, encoding="utf-8", newline="\n")
        return
    expected = path.read_bytes().decode("utf-8") if path.exists() else ""
    if made == expected:
        return
    lines = list(
        difflib.unified_diff(
            expected.splitlines(keepends=True),
            made.splitlines(keepends=True),
            f"expected/{path.name}",
            "made now",
        )
    )
    shown = "".join(line if line.endswith("\n") else f"{line}\n" for line in lines[:MOST_LINES])
    if len(lines) > MOST_LINES:
        shown += f"... and {len(lines) - MOST_LINES} lines more\n"
    pytest.fail(f"{shown}\nright as it is now? pytest tests/golden --bless", pytrace=False)


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Golden:
    """Compares a text with the file of that name under `expected`."""
    bless = blessing(request.config)
    return lambda name, made: compare(EXPECTED / name, made, bless)
