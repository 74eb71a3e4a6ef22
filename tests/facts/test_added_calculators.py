"""Calculators of somebody else's package: they appear in facts, explain and documents alike."""

import importlib.metadata
import sys
from collections.abc import Iterator

import pytest

import specgen.facts
from specgen.cli import main
from specgen.extended import anyone_extends
from specgen.facts import BadRegistry, Calculators, ledger
from specgen.quantity import Power

fact = Calculators()


@fact(
    "acme.power_per_core",
    "Power per core",
    formula="maximum power over cores",
    power="power.maximum",
    cores="processors.cores",
)
def power_per_core(power: Power, cores: int) -> Power:
    return power / cores


class Entry:
    """An entry point as installed packages declare it."""

    group = specgen.facts.ENTRY_POINTS

    def __init__(self, name: str, loaded: object) -> None:
        self.name, self.loaded, self.value = name, loaded, f"{name}:fact"

    def load(self) -> object:
        if isinstance(self.loaded, Exception):
            raise self.loaded
        return self.loaded


@pytest.fixture
def added(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[Entry]]:
    """A list of entry points that a test fills before the ledger is made."""
    entries: list[Entry] = []
    real = importlib.metadata.entry_points

    def entry_points(**chosen: str) -> object:
        mine = chosen.get("group") == specgen.facts.ENTRY_POINTS
        return entries if mine else real(**chosen)

    monkeypatch.setattr(importlib.metadata, "entry_points", entry_points)
    monkeypatch.setattr(specgen.facts, "anyone_extends", lambda _: True)
    ledger.cache_clear()
    yield entries
    ledger.cache_clear()


def test_an_added_value_is_listed_explained_and_printed(added, demo_folder, capsys, tmp_path):
    added.append(Entry("acme", fact))
    project = ["--project", str(demo_folder)]
    assert main(["facts", "pocket-tide-gauge", *project]) == 0
    assert "acme.power_per_core" in capsys.readouterr().out
    assert main(["explain", "pocket-tide-gauge", "acme.power_per_core", *project]) == 0
    got = capsys.readouterr().out
    assert "maximum power over cores" in got
    assert "processors.yaml:" in got


@pytest.mark.parametrize(
    ("loaded", "why"),
    [
        (ImportError("no module named acme"), "cannot be loaded"),
        (("not a calculator",), "is no calculator"),
        ((power_per_core, power_per_core), "two calculators make"),
    ],
)
def test_a_broken_package_is_named_and_nothing_ends_in_a_traceback(
    added, demo_folder, capsys, loaded, why
):
    added.append(Entry("acme", loaded))
    with pytest.raises(BadRegistry, match=why):
        ledger()
    assert main(["facts", "pocket-tide-gauge", "--project", str(demo_folder)]) == 2
    assert why in capsys.readouterr().err


def test_a_package_that_adds_calculators_is_seen_where_it_is_installed(tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "path", [*sys.path, str(tmp_path)])
    assert not anyone_extends("specgen.of-nobody")
    (tmp_path / "acme-1.0.dist-info").mkdir()
    assert not anyone_extends("specgen.of-nobody")
    (tmp_path / "acme-1.0.dist-info/entry_points.txt").write_text("[specgen.of-nobody]\na = b:c\n")
    assert anyone_extends("specgen.of-nobody")
    (found,) = importlib.metadata.entry_points(group="specgen.of-nobody")
    assert found.name == "a"


def test_an_archive_on_the_path_is_looked_into_by_those_who_can(tmp_path, monkeypatch):
    (tmp_path / "packed.zip").write_bytes(b"")
    monkeypatch.setattr(sys, "path", [str(tmp_path / "packed.zip")])
    assert anyone_extends("specgen.of-nobody")
    monkeypatch.setattr(sys, "path", [str(tmp_path / "gone")])
    assert not anyone_extends("specgen.of-nobody")
