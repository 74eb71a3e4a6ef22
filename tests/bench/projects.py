"""Projects to measure on: the demo, and any number of builds made from it by a seed."""

import random
import re
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path

from specgen.diagnostics import Severity
from specgen.model import Drive, MemoryModule, Part
from specgen.model.part import ACTIVE
from specgen.pipeline import read, survey

ROOT = Path(__file__).resolve().parent.parent.parent
DEMO = ROOT / "builds"
LIKE = {
    MemoryModule: ("technology", "form", "speed", "ranks", "device_width"),
    Drive: ("medium", "form", "interface", "swap", "lanes", "generation"),
}
"""What two parts of a kind must have in common for one to stand where the other stood."""


def seeded(target: Path, count: int, seed: int) -> Path:
    """A project of `count` sound builds: the demo's in turn, each with other modules and drives.

    The same count and seed give the same bytes. A build whose other parts would break a rule
    keeps the parts it had.
    """
    shutil.copytree(DEMO, target)
    originals = sorted((target / "configured").rglob("*.yaml"))
    texts = [file.read_text(encoding="utf-8") for file in originals]
    for file in originals:
        file.unlink()
    for file in (target / "platforms").rglob("*.yaml"):
        text = file.read_text(encoding="utf-8")
        text = re.sub(r"^shown: .*\n", "", text, flags=re.M)  # that build has another id here
        file.write_text(text, encoding="utf-8", newline="\n")
    parts = read(DEMO).loaded.definitions
    assert parts is not None
    twins = _twins(parts.parts)
    chance = random.Random(seed)
    kept = {}
    for number in range(count):
        text = _renamed(texts[number % len(texts)], number)
        file = target / "configured" / "many" / f"{number:05}.yaml"
        file.parent.mkdir(exist_ok=True)
        file.write_text(_exchanged(text, twins, chance), encoding="utf-8", newline="\n")
        kept[file.relative_to(target).as_posix()] = text
    for name in _faulty(target):
        (target / name).write_text(kept[name], encoding="utf-8", newline="\n")
    return target


def _renamed(text: str, number: int) -> str:
    """Another id, name, number and summary."""
    text = re.sub(r"^# yaml-language-server:.*\n", "", text)
    text = re.sub(r"^(id|number): (\S+)$", rf"\1: \2-{number:05}", text, flags=re.M)
    text = re.sub(r"^(name): (.+)$", rf"\1: \2, station {number}", text, flags=re.M)
    return re.sub(r"^(summary): (\w.+)$", rf"\1: \2 Lot {number % 89}.", text, flags=re.M)


def _twins(parts: Mapping[str, Part]) -> dict[str, list[str]]:
    """For each module and drive those that fit where it fits."""
    alike: dict[tuple[object, ...], list[str]] = {}
    for part in parts.values():
        if type(part) in LIKE and part.life == ACTIVE:
            key = (type(part), *(getattr(part, name) for name in LIKE[type(part)]))
            alike.setdefault(key, []).append(part.id)
    return {name: group for group in alike.values() for name in group if len(group) > 1}


def _exchanged(text: str, twins: Mapping[str, list[str]], chance: random.Random) -> str:
    """Other modules and drives, the same part always for the same part."""
    chosen = {name: chance.choice(group) for name, group in twins.items()}
    return re.sub(r"(?<= )[\w.-]+(?=[\s,}])", lambda found: chosen.get(found[0], found[0]), text)


def _faulty(project: Path) -> Iterator[str]:
    """The files of a project in which something of severity error was found."""
    found = survey(project).findings
    wrong = {each.at.span.file for each in found if each.severity is Severity.ERROR}
    yield from sorted(wrong)
