"""Of a list of positions, a finding points at the very piece that is wrong."""

import pytest

from specgen.diagnostics import Finding
from tests.mutated.breaks import FULL, PLATFORM
from tests.projects import Checked, edited, project


def _pointed(found: Checked, finding: Finding) -> list[str]:
    """The letters of the file that a finding points at, and those of its labels."""
    lines = {name: text.split("\n") for name, text in found.sources.texts.items()}
    return [
        lines[span.file][span.line - 1][span.column - 1 : span.end_column - 1]
        for span in (each.span for each in (finding.at, *finding.labels))
    ]


@pytest.mark.parametrize(
    ("file", "old", "new", "code", "pieces", "help_"),
    [
        (FULL, "FAN 5..6: fan", "FAN 5, 6, 9: fan", "SG203", ["9"], "there are FAN 1 to 6"),
        (FULL, "FAN 5..6: fan", '"FAN 5, 6, 9": fan', "SG203", ["9"], "there are FAN 1 to 6"),
        (FULL, "FAN 5..6: fan", "FAN 5, 6, 8, FNA 1: fan", "SG203", ["8", "FNA 1"], ""),
        (FULL, "FAN 5..6: fan", "FAN 5..6, 2: fan", "SG209", ["2", "FAN 1..4"], ""),
        (FULL, "FAN 5..6: fan", "FAN 5, 6, 5: fan", "SG125", ["5"], ""),
        (FULL, "FAN 5..6: fan", "FAN 5, 6-7: fan", "SG203", ["6-7"], "written `FAN 6..7`"),
        (FULL, "FAN 5..6: fan", "FAN 5, 7..6: fan", "SG125", ["7..6"], "joined by commas"),
        (FULL, "drives: BAY 0..2", "drives: 'BAY 0..2, 9'", "SG344", ["9"], ""),
        (PLATFORM, "order: [DIMM A1..A4]", "order: ['DIMM A1, 2, 3, 4, 9']", "SG203", ["9"], ""),
        (
            PLATFORM,
            "fixtures:\n",
            "rules:\n  - {code: L-1, require: 'filled(\"FAN 1, 9\")', because: no}\nfixtures:\n",
            "SG203",
            ["9"],
            "",
        ),
    ],
)
def test_a_finding_points_at_the_piece(
    file: str, old: str, new: str, code: str, pieces: list[str], help_: str
) -> None:
    found = project(edited(file, old, new))
    (finding,) = [each for each in found.findings if each.code.id == code]
    assert _pointed(found, finding) == pieces
    assert help_ in str(finding.help)


def test_a_list_is_the_same_as_its_lines() -> None:
    plain = project(edited(FULL, "  FAN 1..4: fan\n  FAN 5..6: fan\n", "  FAN 1..6: fan\n"))
    listed = project(edited(FULL, "  FAN 1..4: fan\n  FAN 5..6: fan\n", "  FAN 1, 3..6, 2: fan\n"))
    places = [each.assemblies["lantern-full"].places for each in (plain, listed)]
    assert {name: place.part for name, place in places[0].items()} == {
        name: place.part for name, place in places[1].items()
    }
    assert listed.findings == ()
