"""`specgen compare`, `prepare` and `sheet --document`: what is written, and what refused."""

from pathlib import Path

import pytest

from specgen.cli import main
from specgen.limits.reach import Reach
from specgen.model import Conditions, Definitions


@pytest.fixture(autouse=True)
def nothing_solved(monkeypatch: pytest.MonkeyPatch) -> None:
    """Platforms without their limits, which take long."""

    def none(definitions: Definitions, _: Path | None, at: Conditions) -> dict[str, Reach]:
        platforms = definitions.platforms.items()
        return {name: Reach(definitions, each, lambda *_: (), at) for name, each in platforms}

    monkeypatch.setattr("specgen.limits.reach.reaches", none)


def call(
    capsys: pytest.CaptureFixture[str], demo_folder: Path, *words: str
) -> tuple[int, str, str]:
    status = main([*words, "--project", str(demo_folder)])
    out, err = capsys.readouterr()
    return status, out, err


def test_two_builds_are_compared(capsys, demo_folder: Path) -> None:
    names = ("lantern-office", "boathouse-archive")
    status, out, err = call(capsys, demo_folder, "compare", *names, "--to", "md")
    assert (status, err) == (0, "")
    assert out.startswith("# Lantern for a harbour office and Boathouse archive\n")
    assert "**Raw capacity:** 8.64 TB in Lantern for a harbour office" in out.replace("\u202f", " ")


def test_only_differences_are_fewer(capsys, demo_folder: Path) -> None:
    words = ("compare", "lantern-office", "boathouse-archive", "--to", "md")
    _, every, _ = call(capsys, demo_folder, *words)
    _, some, _ = call(capsys, demo_folder, *words, "--only-differences")
    assert len(some) < len(every)
    assert "| Processor sockets" not in some


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (("lantern",), "name 2 to 5 platforms or builds, not 1"),
        (("lantern", "beacon", "boathouse", "capstan", "pocket", "lantern-office"), "not 6"),
        (("lantern-office", "lantern-office"), "`lantern-office` is named twice"),
        (("lantern-ofice", "lantern"), "did you mean `lantern-office`?"),
    ],
)
def test_what_cannot_be_compared_is_refused(
    capsys, demo_folder: Path, names: tuple[str, ...], told: str
) -> None:
    status, out, err = call(capsys, demo_folder, "compare", *names)
    assert (status, out) == (2, "")
    assert told in err


def test_an_order_is_prepared_for(capsys, demo_folder: Path) -> None:
    words = ("prepare", "lantern-office=3", "boathouse-archive", "--to", "md")
    status, out, err = call(capsys, demo_folder, *words)
    assert (status, err) == (0, "")
    assert "_Site preparation_" in out
    assert "| Servers" in out


def test_a_parts_list_of_an_order_is_written(capsys, demo_folder: Path) -> None:
    words = ("prepare", "lantern-office=2", "--document", "parts-list", "--to", "md")
    status, out, _ = call(capsys, demo_folder, *words)
    assert status == 0
    assert "_Parts list_" in out


def test_a_count_that_is_none_is_refused(capsys, demo_folder: Path) -> None:
    status, _, err = call(capsys, demo_folder, "prepare", "lantern-office=many")
    assert status == 2
    assert "needs a whole number" in err


@pytest.mark.parametrize("name", ["review", "information", "presenters-brief", "parts-list"])
def test_a_build_has_other_documents(capsys, demo_folder: Path, name: str) -> None:
    words = ("sheet", "lantern-office", "--document", name, "--to", "md")
    status, out, err = call(capsys, demo_folder, *words)
    assert (status, err) == (0, "")
    assert out.startswith("# Lantern for a harbour office\n")


def test_a_platform_has_its_guide(capsys, demo_folder: Path) -> None:
    status, out, err = call(capsys, demo_folder, "sheet", "pocket", "--to", "md")
    assert (status, err) == (0, "")
    assert "_Platform guide, Coast_" in out
    assert "## What depends on what" in out


def test_an_unknown_document_is_refused_with_a_hint(capsys, demo_folder: Path) -> None:
    status, out, err = call(capsys, demo_folder, "sheet", "lantern-office", "--document", "revew")
    assert (status, out) == (2, "")
    assert "did you mean `review`?" in err


def test_an_unknown_system_is_refused_with_a_hint(capsys, demo_folder: Path) -> None:
    status, _, err = call(capsys, demo_folder, "sheet", "lanten")
    assert status == 2
    assert "no build or platform is named `lanten`: did you mean `lantern`?" in err
