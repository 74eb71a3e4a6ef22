# ruff: noqa: E501 (a table reads best with one row a line)
"""Breaks of builds that are like another: each in a build of their own below the small one's."""

from typing import Final

from tests.mutated.breaks import SMALL, Break

LAST: Final = "    - {code: SG323, reason: The fourth module comes with the next order}\n"
ALLOW: Final = f"  allow:\n{LAST}"


def _like(name: str, fields: str, *expected: tuple[str, str], more: str = "") -> Break:
    """A second build, `lantern-two`, which is like the small one if nothing else is said."""
    base = "" if "like:" in fields else "  like: lantern-small\n"
    text = f"{LAST}- id: lantern-two\n  name: Lantern, two\n{base}{fields}{ALLOW}{more}"
    return Break(name, SMALL, LAST, text, expected)


LIKENESSES: Final = (
    _like("a build like none", "  like: lantern-smal\n", ("SG241", "like: lantern-smal")),
    _like("a build like itself", "  like: lantern-two\n", ("SG242", "like: lantern-two")),
    _like("builds like one another", "  like: lantern-three\n", ("SG242", "like: lantern-three"),
          more="- {id: lantern-three, name: Lantern three, like: lantern-two}\n"),
    _like("a build like one that is like itself", "", ("SG242", "like: lantern-three"),
          more="- {id: lantern-three, name: Lantern three, like: lantern-three}\n- {id: lantern-four, name: Lantern four, like: lantern-three}\n"),
    _like("a position to leave out that is not filled", "  without: fit.BAY 3\n", ("SG243", "without: fit.BAY 3")),
    _like("a field to leave out that is not there", "  without: [memory_mode]\n", ("SG243", "without: [memory_mode]")),
    _like("a volume to leave out under another name", "  without: [volumes.Reading]\n", ("SG243", "without: [volumes")),
    _like("a field to leave out that is never taken over", "  without: allow\n", ("SG243", "without: allow")),
    Break("something to leave out of nothing", SMALL, "  summary: One processor\n", "  summary: One processor\n  without: volumes\n", (("SG243", "without: volumes"),)),
    _like("a part that is there already", "  fit:\n    BAY 1..2: disk-4t\n", ("SG223", "BAY 1..2: disk-4t")),
    _like("a summary that is there already", "  summary: One processor\n", ("SG223", "summary: One processor")),
    _like("a part that nobody defines in place of another", "  fit: {BAY 2: disk-40t}\n", ("SG201", "fit: {BAY 2")),
    _like("a field that no build has", "  sumary: Two\n", ("SG111", "sumary: Two")),
    _like("a position that is not there in place of another", "  fit: {BAY 20: disk-4t}\n", ("SG203", "fit: {BAY 20")),
    _like("a processor without its memory", "  without: 'fit.DIMM A1..A3'\n", ("SG325", "CPU1: corvane-c16s")),
    _like("a list in place of a name", "  like: [lantern-small]\n", ("SG112", "like: [lantern-small]"), ("SG114", "- id: lantern-two")),
    Break("a mistake in what is taken over", SMALL, f"    BAY 0..2: disk-4t\n  volumes:\n    - {{name: Readings, level: 1, drives: BAY 0..1}}\n{ALLOW}",
          f"    BAY 0..2: disk-40t\n{ALLOW}- {{id: lantern-two, name: Lantern two, like: lantern-small}}\n",
          (("SG201", "BAY 0..2: disk-40t"), ("SG323", "DIMM A1..A3"))),
    Break("a field missing in what is taken over", SMALL, "  summary: One processor\n", "  sumary: One processor\n", (("SG111", "sumary"),)),
)  # fmt: skip
