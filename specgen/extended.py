"""Whether anybody has extended the program: installed packages that name an entry point of ours.

`importlib.metadata` answers that too, and takes 20 ms to import: as long as judging ten builds. So
it is asked only where there is something to load.
"""

import os
import sys


def anyone_extends(group: str) -> bool:
    """Whether an installed package may have entry points of this group.

    Source of where they stand: PyPA, entry points specification (`entry_points.txt` of the folder
    `*.dist-info`; `*.egg-info` of older tools).
    """
    return any(_may_hold(folder or os.curdir, f"[{group}]") for folder in sys.path)


def _may_hold(folder: str, head: str) -> bool:
    try:
        entries = [*os.scandir(folder)]
    except NotADirectoryError:
        return True  # an archive: let those who can read it look
    except OSError:
        return False
    return any(
        _names(f"{each.path}/entry_points.txt", head)
        for each in entries
        if each.name.endswith((".dist-info", ".egg-info"))
    )


def _names(path: str, head: str) -> bool:
    try:
        with open(path, encoding="utf-8", errors="replace") as file:  # noqa: PTH123
            return head in file.read()
    except OSError:
        return False
