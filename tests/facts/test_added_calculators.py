"""Calculators of somebody else's package: they appear in facts, explain and documents alike."""

import importlib.metadata
from collections.abc import Iterator

import pytest

import specgen.facts
from specgen.cli import main
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

    monkeypatch.setattr(specgen.facts, "entry_points", entry_points)
    ledger.cache_clear()
    yield entries
    ledger.cache_clear()


def test_an_added_figure_is_listed_explained_and_printed(added, demo_folder, capsys, tmp_path):
    added.append(Entry("acme", fact))
    project = ["--project", str(demo_folder)]
    assert main(["facts", "pocket-tide-gauge", *project]) == 0
    assert "acme.power_per_core" in capsys.readouterr().out
    assert main(["explain", "pocket-tide-gauge", "acme.power_per_core", *project]) == 0
    told = capsys.readouterr().out
    assert "maximum power over cores" in told
    assert "processors.yaml:" in told


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
