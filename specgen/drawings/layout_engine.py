"""Runs the layout program on a graph and reads back where everything lies.

The program is the one that the graphviz-pure wheel carries, so that every computer draws the same
bytes; the system's own `dot` runs only where it is asked for. Same graph, same layout: answers
are kept in memory and, where a folder is given, in files named after what was asked.
"""

import hashlib
import json
import shutil
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from importlib.metadata import version
from pathlib import Path
from typing import Final, Literal

from specgen.files.whole import keep
from specgen.foreign import foreign
from specgen.frozen import frozen
from specgen.messages import Message, say

EngineName = Literal["embedded", "dot"]
Point = tuple[float, float]
EXECUTABLE: Final = "graphviz-pure"
SECONDS: Final = 10.0
MOST_KEPT: Final = 2048  # layouts in memory; some 10 kB each


class LayoutFailed(RuntimeError):
    """The layout program is `missing`, ran too long or gave up; `message` says which."""

    def __init__(self, message: Message, *, missing: bool = False) -> None:
        super().__init__(message)
        self.message, self.missing = message, missing


@frozen
class Layout:
    """Size of the whole, top left corners of groups, points of ribbons; y runs downward."""

    width: float
    height: float
    corners: Mapping[str, Point]
    paths: Mapping[str, tuple[Point, ...]]


@dataclass
class LayoutEngine:
    """A layout program with its cache. Not for several threads at once."""

    name: EngineName = "embedded"
    folder: Path | None = None
    seconds: float = SECONDS
    kept: dict[str, Layout] = field(default_factory=dict, repr=False)

    def lay_out(self, dot: str) -> Layout:
        """Where the groups and ribbons of a graph lie. Raises `LayoutFailed`."""
        digest = hashlib.sha256(f"{self._identity}\n{dot}".encode()).hexdigest()
        known = self.kept.get(digest)
        if known is None:
            known = self._stored(digest)
            if known is None:
                answer = self._run(dot)
                known = _read(answer)
                if self.folder is not None:
                    keep(self.folder / f"{digest}.json", answer.encode())
            if len(self.kept) >= MOST_KEPT:
                del self.kept[next(iter(self.kept))]
            self.kept[digest] = known
        return known

    @cached_property
    def _executable(self) -> str:
        if self.name == "dot":
            return shutil.which("dot") or "dot"
        scripts = Path(sys.executable).parent
        found = shutil.which(EXECUTABLE, path=str(scripts)) or shutil.which(EXECUTABLE)
        return found or EXECUTABLE

    @cached_property
    def _identity(self) -> str:
        """Program and version, for a layout may differ from one to the next."""
        if self.name == "embedded":
            return f"{EXECUTABLE} {version(EXECUTABLE)}"
        try:
            answer = subprocess.run(  # noqa: S603
                [self._executable, "-V"], capture_output=True, timeout=self.seconds, check=False
            )
        except (OSError, subprocess.TimeoutExpired) as problem:
            raise LayoutFailed(
                say("the layout program `{program}` cannot run", program=self._executable)
            ) from problem
        return f"dot {answer.stderr.decode(errors='replace').strip()}"

    def _run(self, dot: str) -> str:
        command = [self._executable, "-Kdot", "-Tjson0"]
        try:
            return foreign(command, dot.encode(), self.seconds).decode()
        except FileNotFoundError as problem:
            message = say("the layout program `{program}` was not found", program=command[0])
            raise LayoutFailed(message, missing=True) from problem
        except TimeoutError as problem:
            message = say("the layout took longer than {seconds} s", seconds=f"{self.seconds:g}")
            raise LayoutFailed(message) from problem
        except (OSError, UnicodeError) as problem:
            raise LayoutFailed(say("the layout program gave up")) from problem

    def _stored(self, digest: str) -> Layout | None:
        if self.folder is None:
            return None
        try:
            return _read((self.folder / f"{digest}.json").read_text("utf-8"))
        except (OSError, UnicodeError, LayoutFailed):
            return None  # not there, or half of another program's file: lay it out again


def _read(answer: str) -> Layout:
    try:
        graph = json.loads(answer)
        _, _, width, height = map(float, graph["bb"].split(","))
        corners: dict[str, Point] = {}
        for node in graph.get("objects", []):
            if "pos" in node:
                x, y = map(float, node["pos"].split(","))
                wide, high = float(node["width"]) * 72, float(node["height"]) * 72
                corners[node["name"]] = (x - wide / 2, height - y - high / 2)
        paths = {
            edge["id"]: tuple(_point(pair, height) for pair in edge["pos"].split())
            for edge in graph.get("edges", [])
            if "id" in edge
        }
    except (ValueError, KeyError, TypeError, AttributeError) as problem:
        raise LayoutFailed(say("the layout program answered with something else")) from problem
    return Layout(width, height, corners, paths)


def _point(pair: str, height: float) -> Point:
    x, y = map(float, pair.split(","))
    return (x, height - y)
