"""How often `specgen check` of the demo calls something: counted, so the same on every computer.

Calls of functions of ours and of what these call are counted, room by room, from the first import
to the last finding, and printed for each thing that the demo defines (a part, a platform, a build),
so that more of these cost nothing here. What a new check takes shows in its room.
"""

import contextlib
import io
import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path
from types import FrameType
from typing import Any, Final

import specgen
from tests.bench.projects import DEMO, ROOT

OURS: Final = f"{Path(specgen.__file__).parent}{os.sep}"
NAMED: Final = 3
"""So many modules of a room are named, those that call most."""


def calls() -> dict[str, float]:
    """Calls for each thing defined, by module: `rules/definitions/unused.py`.

    Counted in a process of its own, in which nothing has been asked before.
    """
    command = [sys.executable, "-P", "-c", "from tests.bench import counted; counted.report()"]
    fixed = os.environ | {"PYTHONHASHSEED": "0", "PYTHONPATH": str(ROOT)}
    got = subprocess.run(command, check=True, env=fixed, stdout=subprocess.PIPE, text=True).stdout
    things, *modules = json.loads(got)
    return {name: count / things for name, count in modules}


def by_room(modules: dict[str, float]) -> dict[str, float]:
    """The calls of each room, and of all."""
    found = {"all": sum(modules.values())}
    for name, count in modules.items():
        room = Path(name).parts[0]
        found[room] = found.get(room, 0) + count
    return found


def largest(modules: dict[str, float], room: str) -> str:
    """The modules of a room that call most."""
    own = [name for name in modules if room in {"all", Path(name).parts[0]}]
    most = sorted(own, key=lambda name: -modules[name])[:NAMED]
    return ", ".join(f"{name} {modules[name]:.0f}" for name in most)


def counted() -> str:
    """A line for each room, the one that calls most first."""
    modules = calls()
    rooms = sorted(by_room(modules).items(), key=lambda each: -each[1])
    lines = [f"  {room}: {count:.0f} ({largest(modules, room)})" for room, count in rooms]
    return "\n".join(["calls of a check of the demo for each thing it defines", *lines])


def report() -> None:
    """Checks the demo, and prints as JSON how many things it defines and who called how often."""
    found: Counter[str] = Counter()

    def count(frame: FrameType, event: str, _: Any) -> None:
        if event in ("call", "c_call"):
            found[frame.f_code.co_filename] += 1

    sys.argv[1:] = ["check", "--quiet", "--project", str(DEMO)]
    sys.setprofile(count)
    try:
        from specgen.cli import main  # counted from its import on

        with contextlib.redirect_stdout(io.StringIO()):
            status = main()
    finally:
        sys.setprofile(None)
    assert status == 0, "the demo has errors"
    from specgen.pipeline import read

    definitions = read(DEMO).definitions
    assert definitions is not None
    things = len(definitions.parts) + len(definitions.platforms) + len(definitions.builds)
    ours = ((name[len(OURS) :], n) for name, n in found.items() if name.startswith(OURS))
    print(json.dumps([things, *sorted(ours)]))
