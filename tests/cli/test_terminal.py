"""Colours only on a terminal that wants them, progress in plain lines elsewhere."""

import io

import pytest

from specgen.cli.terminal import colourful, painter, progress
from specgen.diagnostics.paint import Style


class Terminal(io.StringIO):
    """A stream that says it is one."""

    def isatty(self) -> bool:
        return True


def test_colours_go_to_a_terminal_only(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert colourful(Terminal())
    assert not colourful(io.StringIO())
    assert "\x1b[" in painter(Terminal())(Style("error"), "error")
    assert painter(io.StringIO())(Style("error"), "error") == "error"


@pytest.mark.parametrize("value", ["1", "yes", "0"])
def test_no_color_turns_colours_off(monkeypatch: pytest.MonkeyPatch, value: str):
    # Source: no-color.org: present and not empty, whatever its value
    monkeypatch.setenv("NO_COLOR", value)
    assert painter(Terminal())(Style("error"), "error") == "error"


def test_an_empty_no_color_asks_for_nothing(monkeypatch: pytest.MonkeyPatch):
    # Source: no-color.org
    monkeypatch.setenv("NO_COLOR", "")
    assert colourful(Terminal())


def test_progress_away_from_a_terminal_is_a_few_plain_lines(capsys: pytest.CaptureFixture[str]):
    with progress("pages", 1000, quiet=False) as done:
        for _ in range(1000):
            done(1)
    lines = capsys.readouterr().err.splitlines()
    assert lines[-1] == "pages: 1000 of 1000"
    assert 2 <= len(lines) <= 5


@pytest.mark.parametrize(("total", "quiet"), [(0, False), (10, True)])
def test_progress_says_nothing_where_there_is_nothing_to_say(
    capsys: pytest.CaptureFixture[str], total: int, quiet: bool
):
    with progress("pages", total, quiet) as done:
        done(total)
    assert capsys.readouterr().err == ""


def test_progress_on_a_terminal_leaves_no_colour_where_none_is_wanted(
    monkeypatch: pytest.MonkeyPatch,
):
    stream = Terminal()
    monkeypatch.setattr("sys.stderr", stream)
    monkeypatch.setenv("NO_COLOR", "1")
    with progress("pages", 3, quiet=False) as done:
        done(3)
    assert "\x1b[3" not in stream.getvalue()  # no colour; the cursor may move
