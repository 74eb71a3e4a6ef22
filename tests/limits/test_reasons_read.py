"""Many reasons are read by what they have in common: a line of positions, then rules and checks."""

import pytest

from specgen.cli.limits import _print_conflict
from specgen.diagnostics import Span
from specgen.limits.argument import Conflict
from specgen.limits.reason import FEW, Reason, ReasonKind, by_sort


def _at(line: int) -> Span:
    return Span("platforms/a.yaml", line, 1, line, 2)


POSITIONS = tuple(
    Reason(ReasonKind.POSITION, f"there is one position: {name}", _at(line), short=name)
    for line, name in enumerate(("CPU1", "PSU 1", "DIMM A1 to 8", "RISER", "SLOT 1 (Riser)"), 1)
)
RULES = (
    Reason(ReasonKind.RULE, "no warmer than that", _at(11), "QW-1"),
    Reason(ReasonKind.CHECK, "the fans move enough air", _at(12), "SG390"),
)


def _printed(capsys: pytest.CaptureFixture[str], *reasons: Reason) -> list[str]:
    _print_conflict(Conflict(reasons, (POSITIONS[0], RULES[0])))
    return capsys.readouterr().out.splitlines()[1:]


def test_a_handful_of_reasons_is_told_one_by_one(capsys):
    lines = _printed(capsys, *POSITIONS[:2], *RULES)
    assert len(lines) == 8
    assert "platforms/a.yaml:11" in lines[5]


def test_many_are_told_by_what_they_have_in_common(capsys):
    assert len((*POSITIONS, *RULES)) > FEW
    assert _printed(capsys, *POSITIONS, *RULES) == [
        "  Positions, all that there are (one more would do): CPU1",
        "  Positions, all that there are (with others): PSU 1; DIMM A1 to 8; RISER; SLOT 1 (Riser)",
        "  Rules:",
        "    QW-1 no warmer than that  (enough to change by itself), platforms/a.yaml:11",
        "  Checks:",
        "    SG390 the fans move enough air, platforms/a.yaml:12",
    ]


def test_none_is_lost():
    found = [each for _, some in by_sort((*RULES, *POSITIONS)) for each in some]
    assert set(found) == {*POSITIONS, *RULES}
    assert len(found) == len(POSITIONS) + len(RULES)
