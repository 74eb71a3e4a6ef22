"""Limits of the demo: the example stands the checks, and follows what the YAML says."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from specgen.cli import main
from specgen.diagnostics import Severity, worst
from specgen.limits.build_text import fills_of
from specgen.limits.limit import Status, best, limit_of
from specgen.limits.objectives import OBJECTIVES
from specgen.limits.solve import Solver
from specgen.limits.wish import granted
from specgen.model import Build, Definitions, Drive, MemoryModule
from specgen.pipeline import Survey, case_of
from tests.limits.small import HEAD, PROJECT, defined
from tests.timing import first


def specgen(*words: str, seed: str = "0") -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "specgen", *words]
    environment = {**os.environ, "PYTHONHASHSEED": seed}
    return subprocess.run(command, capture_output=True, text=True, check=False, env=environment)


@pytest.mark.parametrize("platform", first(1, ("lantern", "pocket", "beacon", "capstan")))
def test_the_example_of_most_drives_passes_the_check(demo_folder, tmp_path, capsys, platform):
    words = ["limits", platform, "--example", "drives", "--project", str(demo_folder)]
    assert main(words) == 0
    copy = Path(shutil.copytree(demo_folder, tmp_path / "builds"))
    (copy / "configured" / "example.yaml").write_text(capsys.readouterr().out, encoding="utf-8")
    status = main(["check", f"{platform}-drives-example", "--project", str(copy)])
    assert status == 0, capsys.readouterr().out


@pytest.mark.slow
@pytest.mark.parametrize("only", ["--only=drives", "--only=drives --only=power", ""])
def test_the_same_example_whatever_the_hash_seed(demo_folder, only):
    words = ("limits", "pocket", "--format", "json", "--project", str(demo_folder), *only.split())
    assert specgen(*words, seed="1").stdout == specgen(*words, seed="2").stdout != ""


def test_a_limit_of_the_demo_is_proved(demo: Survey):
    assert demo.definitions is not None
    pocket = demo.definitions.platforms["pocket"]
    limit = best(demo.definitions, pocket, OBJECTIVES["drives"])
    assert (limit.value, limit.bound, limit.status) == (4, 4, Status.PROVED)  # two M.2 apart


ALL = ("pocket", "lantern", "beacon", "boathouse", "capstan")
TIDY = ("cores", "memory", "drives", "raw", "ports", "mass")


@pytest.mark.parametrize("platform", first(1, ALL))
def test_examples_have_one_model_of_drive_and_memory_and_a_cord_a_supply(demo: Survey, platform):
    """What a buyer would take: no mixture that nobody asked for, nothing that cannot be switched
    on."""
    assert demo.definitions is not None
    definitions = demo.definitions
    solver = Solver(definitions, definitions.platforms[platform])
    for key in TIDY:
        limit = limit_of(solver, OBJECTIVES[key], shown=True)
        assert limit.status is Status.PROVED
        assert limit.build is not None
        _tidy(definitions, limit.build, key)


def test_a_build_for_a_wish_is_tidy(demo: Survey):
    """1 TiB in eight of Lantern's slots, once told as modules of 64, 96 and 128 GiB together."""
    assert demo.definitions is not None
    definitions = demo.definitions
    text = 'sum(m.capacity for m in memory_modules) >= "1 TiB" and accelerators.count >= 2'
    wish, _ = granted(definitions, definitions.platforms["lantern"], text)
    assert wish is not None
    assert wish.build is not None
    _tidy(definitions, wish.build, text)
    fills = fills_of(wish.build)
    slots = {name.removeprefix("DIMM ") for name in fills if name.startswith("DIMM")}
    first_of_two = {name[1:] for name in slots if name[0] == "1"}
    assert first_of_two == {name[1:] for name in slots if name[0] == "2"} != set()
    assert not any(name.startswith(("BAY", "BEZEL", "RAILS", "TPM")) for name in fills)


@pytest.mark.parametrize("count", first(1, (10, 20)))
def test_bays_are_filled_from_the_first_on(demo: Survey, count: int):
    """Boathouse's twenty were once in BAY 0, 2..6, 9..13 and 15..24, as no one would plug them."""
    assert demo.definitions is not None
    definitions = demo.definitions
    text = f'drives.count == {count} and not filled("BOOT")'
    wish, _ = granted(definitions, definitions.platforms["boathouse"], text)
    assert wish is not None
    assert wish.build is not None
    _tidy(definitions, wish.build, text)
    bays = {name for name in fills_of(wish.build) if name.startswith("BAY")}
    assert bays == {f"BAY {number}" for number in range(count)}


def _tidy(definitions: Definitions, build: Build, about: str) -> None:
    fills = fills_of(build)
    models: dict[object, set[str]] = {}
    for fill in fills.values():
        part = definitions.parts[fill.part]
        if isinstance(part, Drive | MemoryModule):
            models.setdefault((part.kind, part.form, getattr(part, "interface", "")), set()).add(
                part.id
            )
    assert all(len(found) == 1 for found in models.values()), (about, models)
    supplies = [name for name in fills if name.startswith("PSU")]
    cords = [name for name in fills if name.startswith("CORD")]
    assert len(cords) == len(supplies), about
    case = case_of(definitions, build)
    assert case is not None
    assert worst(case.findings) is not Severity.ERROR


FAN = (
    "- {kind: fan, id: fan, name: Fan, form: fan-40, mass: 1 kg, source: {document: table}, "
    "power: {maximum: %s W}}\n"
)


@pytest.mark.parametrize(
    ("watts", "rule", "most"),
    [(8, "", 36), (10, "", 40), (8, "rules: [{code: QW-1, require: 'fans.count <= 1'}]\n", 28)],
)
def test_a_part_or_a_rule_changed_in_yaml_changes_the_limit(watts, rule, most):
    files = {
        "specgen.yaml": PROJECT % "none",
        "platforms/small.yaml": HEAD + "positions: [{name: FAN 1..2, takes: fan}]\n" + rule,
        "catalog/parts.yaml": FAN % watts,
    }
    definitions = defined(files)
    limit = best(definitions, definitions.platforms["small"], OBJECTIVES["dc-load"])
    assert limit.value is not None
    assert limit.value.in_unit("W") == most
