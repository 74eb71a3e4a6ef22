"""How tests are shared out over processes: a file at a time, so that what it makes is made once.

Files that share something dear go to one process together, and files of many long tests are taken
apart. What takes longest goes first, lest one process works on it when the others have ended.
"""

from typing import Final

from xdist.scheduler import LoadScopeScheduling

TOGETHER: Final = {
    "tests/repo/test_same_input_same_bytes.py": "tests/browser",
    "tests/site/test_claims.py": "tests/browser",
    "tests/site/test_search_answers.py": "tests/browser",
    "tests/golden/test_findings.py": "breaks",
    "tests/mutated/test_breaks.py": "breaks",
    "tests/rules/test_findings.py": "breaks",
    "tests/consistency/test_files_agree.py": "documents of the demo",
    "tests/consistency/test_names_agree.py": "documents of the demo",
    "tests/consistency/test_values_agree.py": "documents of the demo",
}
"""Files whose tests share something: the published demo, its documents in all languages, what is
said of breaks."""
WHOLE: Final = ("tests/browser",)
APART: Final = tuple(
    f"tests/limits/test_{name}.py"
    for name in (
        *("brute_force", "examples", "judged_limits", "nearest_builds", "never_refused"),
        *("racks_and_circuits", "sound_builds_admitted", "wishes"),
    )
)

LONG: Final = (
    "documents of the demo",
    "breaks",
    "tests/browser",
    "tests/cli/test_ended_early.py",
)
"""Units that take longest, in their order."""


def unit_of(nodeid: str) -> str:
    """What runs in one process: the tests whose ids give the same."""
    file = nodeid.partition("::")[0]
    if file in APART:
        return nodeid
    folder = file.rpartition("/")[0]
    return TOGETHER.get(file, folder if folder in WHOLE else file)


def turn_of(nodeid: str) -> int:
    """When a test has its turn: the tests of the longest units first, then all others."""
    unit = unit_of(nodeid)
    return LONG.index(unit) if unit in LONG else len(LONG)


class Units(LoadScopeScheduling):
    """xdist's scheduling by scope, with units of our own."""

    def _split_scope(self, nodeid: str) -> str:
        return unit_of(nodeid)
