"""The demo read a second time, with PyYAML alone: parts in positions, and plain numbers.

Nothing of `specgen` is imported, so that a mistake in a reader, a model or a calculator is not made
twice. It reads what the demo says and no more: no `needs`, no links beyond those of slots.
"""

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import yaml

ROOT = Path(__file__).parents[2] / "builds"
UNITS = {
    "W": 1.0,
    "kW": 1e3,
    "V": 1.0,
    "A": 1.0,
    "B": 1.0,
    "K": 1.0,
    "degC": 1.0,
    "h": 1.0,
    "y": 8760.0,
    "%": 0.01,
    "kg": 1.0,
    "g": 1e-3,
    "mm": 1e-3,
    "m": 1.0,
    "km": 1e3,
    "GHz": 1e9,
    "MHz": 1e6,
    "MT/s": 1e6,
    "MB/s": 1e6,
    "GB/s": 1e9,
    "Gbit/s": 1e9,
    "GB": 1e9,
    "TB": 1e12,
    "MiB": 2.0**20,
    "GiB": 2.0**30,
    "TiB": 2.0**40,
    "CFM": 0.3048**3 / 60,  # a foot is 0.3048 m
}


class _Loader(yaml.SafeLoader):
    """Dates and words such as `no` stay text."""


_Loader.yaml_implicit_resolvers = {
    first: [(tag, found) for tag, found in rows if not tag.endswith((":timestamp", ":bool"))]
    for first, rows in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def read(path: Path) -> Any:
    return yaml.load(path.read_text(encoding="utf-8"), _Loader)


def number(written: Any) -> float:
    """A value in the base unit of `UNITS`: bytes, watts, metres."""
    if isinstance(written, int | float):
        return float(written)
    found = re.fullmatch(r"(-?[\d.]+) ?(\S+)", str(written))
    assert found is not None, written
    return float(found[1]) * UNITS[found[2]]


def expanded(names: str) -> list[str]:
    """Positions of a line: `DIMM 1A1..1H1, 1A2`; a piece without a word has that of the first."""
    first, *others = names.split(", ")
    word = first.rpartition(" ")[0]
    whole = (each if " " in each or not word else f"{word} {each}" for each in others)
    return [name for each in (first, *whole) for name in _in_a_row(each)]


def _in_a_row(name: str) -> list[str]:
    grid = re.fullmatch(r"(.*\d)([A-Z])(\d+)\.\.\d([A-Z])(\d+)", name)
    if grid is not None:  # DIMM 1A1..1H2: a letter counts along
        letters = range(ord(grid[2]), ord(grid[4]) + 1)
        slots = range(int(grid[3]), int(grid[5]) + 1)
        return [f"{grid[1]}{chr(letter)}{slot}" for letter in letters for slot in slots]
    found = re.fullmatch(r"(.*?)(\d+)\.\.\D*(\d+)", name)
    if found is None:
        return [name]
    return [f"{found[1]}{number_}" for number_ in range(int(found[2]), int(found[3]) + 1)]


@cache
def parts() -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = {}
    for path in sorted((ROOT / "catalog").rglob("*.yaml")):
        tree = read(path)
        for group in tree if isinstance(tree, list) else [tree]:
            for part in group.get("parts", [group]):
                found[part["id"]] = {**group.get("common", {}), **part, "kind": group["kind"]}
    return found


@cache
def platforms() -> dict[str, dict[str, Any]]:
    return {tree["id"]: tree for tree in map(read, sorted((ROOT / "platforms").glob("*.yaml")))}


@cache
def project() -> dict[str, Any]:
    return read(ROOT / "specgen.yaml")  # type: ignore[no-any-return]


def builds() -> list[str]:
    return sorted(path.stem for path in (ROOT / "configured").glob("*.yaml"))


class System:
    """A build: what fills which position, and everything that is fitted, blanks among it."""

    def __init__(self, name: str) -> None:
        self.build = read(ROOT / "configured" / f"{name}.yaml")
        self.platform = platforms()[self.build["platform"]]
        own = [each.get("conditions", {}) for each in (project(), self.platform, self.build)]
        self.conditions: dict[str, Any] = {**own[0], **own[1], **own[2]}
        self.at = {
            at: part["part"] if isinstance(part, dict) else part
            for text, part in self.build["fit"].items()
            for at in expanded(text)
        }
        self.positions = {
            at: (position, "")
            for position in self.platform["positions"]
            for at in expanded(position["name"])
        }
        fixed = {at: row["fixed"] for at, (row, _) in self.positions.items() if "fixed" in row}
        self.at.update(fixed)
        for host, part in [*self.at.items()]:
            self.positions.update(self._brought(host, part))
        gone = {each.get("blocks") for each in self.everything(self.at)} | self._covered()
        blanks = [
            row["blank"]
            for at, (row, _) in self.positions.items()
            if at not in self.at and at not in gone and "blank" in row
        ]
        self.fitted = [parts()[each] for each in (*self.at.values(), *blanks)]

    @staticmethod
    def everything(at: dict[str, str]) -> list[dict[str, Any]]:
        return [parts()[each] for each in at.values()]

    def _raised(self, host: str, name: str) -> str:
        offset = self.positions[host][0].get("offset", 0) if host in self.positions else 0
        found = re.fullmatch(r"(\D+)(\d+)", name)
        return f"{found[1]}{int(found[2]) + offset}" if found and offset else name

    def _brought(self, host: str, part: str) -> Iterator[tuple[str, tuple[dict[str, Any], str]]]:
        for row in parts()[part].get("brings", {}).get("positions", []):
            for name in expanded(row["name"]):
                full = host + name if name.startswith(".") else self._raised(host, name)
                yield full, (row, host)

    def _covered(self) -> set[str]:
        """Slots beside cards two places wide."""
        found = set()
        for at, part in self.at.items():
            if parts()[part].get("places", 1) == 2:
                row, host = self.positions[at]
                found.add(self._raised(host, row["neighbour"]))
        return found

    def of_kind(self, kind: str) -> dict[str, dict[str, Any]]:
        return {at: parts()[part] for at, part in self.at.items() if parts()[part]["kind"] == kind}
