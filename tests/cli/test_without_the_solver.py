"""Where the solver cannot be imported: one clear message, and nothing published that lacks it."""

import sys
from pathlib import Path

import pytest

from specgen.cli.run import run
from tests.projects import base


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The small project, in a program that finds no solver and has kept no limits."""
    for name, text in base().items():
        path = tmp_path / "project" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    for name in ("ortools", "ortools.sat", "ortools.sat.python", "ortools.sat.python.cp_model"):
        monkeypatch.setitem(sys.modules, name, None)
    monkeypatch.setenv("SPECGEN_CACHE", "")
    return tmp_path / "project"


def _asked(capfd: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = run(words)
    out, err = capfd.readouterr()
    return status, out, err


@pytest.mark.parametrize(
    "words",
    [
        ("limits", "lantern"),
        ("explain", "lantern", "limits.drives"),
        ("facts", "lantern", "limits"),
        ("sheet", "lantern"),
        ("sheet", "lantern", "--document", "platform"),
        ("complete", "lantern-full"),
    ],
)
def test_what_needs_it_ends_with_one_clear_message(
    words: tuple[str, ...], project: Path, capfd: pytest.CaptureFixture[str]
):
    status, out, err = _asked(capfd, *words, "--project", str(project))
    assert status == 2
    assert out == ""
    assert "OR-Tools" in err
    assert "pip install ortools" in err
    assert "itself went wrong" not in err


@pytest.mark.slow
def test_nothing_is_published(project: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]):
    target = tmp_path / "public"
    status, _, err = _asked(capfd, "site", "--project", str(project), "-o", str(target), "-q")
    assert status == 2
    assert "OR-Tools" in err
    assert not target.exists()


def test_deep_checks_tell_what_was_not_asked_and_all_else(
    project: Path, capfd: pytest.CaptureFixture[str]
):
    path = project / "configured" / "lantern-full.yaml"
    text = path.read_text(encoding="utf-8").replace("  TPM: tpm", "  TPM: tpm-new")
    path.write_text(text, encoding="utf-8")
    status, out, _ = _asked(
        capfd, "check", "--deep", "--format", "lines", "--project", str(project)
    )
    assert status == 1
    assert "SG366" in out
    assert "SG405" in out
    assert "OR-Tools" in out


@pytest.mark.parametrize(
    "words", [("check",), ("sheet", "lantern-full"), ("facts", "lantern-full")]
)
def test_what_does_not_need_it_works(
    words: tuple[str, ...], project: Path, capfd: pytest.CaptureFixture[str]
):
    status, _, err = _asked(capfd, *words, "--project", str(project))
    assert status == 0
    assert "OR-Tools" not in err
