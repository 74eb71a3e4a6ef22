"""What is said of outlines that cannot be: of a chassis of 482 x 43.6 x 700 mm, and of a cage of
100 x 40 mm in its front."""

import pytest

from specgen.diagnostics import Label
from tests.facts.systems import PLATFORM, PROJECT
from tests.projects import Checked, project
from tests.rules.test_words_by_hand import words_of

pytestmark = [
    pytest.mark.arithmetic("outlines", "edges added up; a millimetre is left to rounding"),
]

CAGE = (
    "{name: CAGE, takes: backplane, area: front, key: cage, "
    "outline: {x: 10 mm, y: 2 mm, width: 100 mm, height: 40 mm}}"
)
SIZE = "{width: 482 mm, height: 43.6 mm, depth: 700 mm}"
WHOLE = "of this size | the chassis is 482 mm wide, 43.6 mm high and 700 mm deep"
FRONT = "`x` runs from the left and `y` from the top, seen from the front"
CHECK = "check the numbers and their units, and `step`, `down` and `columns`"
STEPS = "a range goes on by `step` to the right, and by `down` after so many `columns`"
BEGIN = "outlines of what a part brings begin at the outline of its position"


def told(position: str, brings: str = "") -> list[str]:
    """What is said of a platform with a position, and of a part that brings another."""
    part = (
        "- {kind: backplane, id: cage, name: Cage, key: cage, source: {document: drawing}, "
        f"brings: {{positions: [{brings}]}}}}\n"
    )
    files = {
        "specgen.yaml": PROJECT,
        "platforms/bench.yaml": f"{PLATFORM}positions: [{position}]\n",
        "catalog/cage.yaml": part,
    }
    found = project(files).findings
    codes = "SG119", "SG129"
    return [f"{each.code.id} {words_of(each)}" for each in found if each.code.id in codes]


def bays(outline: str, area: str = "front") -> str:
    shape = f"y: 0 mm, height: 15 mm, {outline}"
    return f"{{name: .BAY 0..1, takes: drive, area: {area}, outline: {{{shape}}}}}"


def fans(outline: str) -> str:
    return f"{{name: FAN 1..2, takes: fan, area: front, outline: {{y: 0 mm, {outline}}}}}"


@pytest.mark.parametrize(
    ("outline", "said"),
    [
        # 56 + 45 = 101
        ("x: 0 mm, width: 45 mm, step: 56 mm", []),
        (
            "x: 0 mm, width: 45 mm, step: 56.1 mm",
            [
                "SG119 BAY 1 lies outside of CAGE of `bench`"
                " | it reaches from 56.1 to 101.1 across, and from 0 to 15 mm"
                f" | there is room for 100 by 40 mm | {BEGIN} | {CHECK}"
            ],
        ),
        # both begin too late; told once, of the first
        (
            "x: 60 mm, width: 45 mm, step: 46 mm",
            [
                "SG119 BAY 0 lies outside of CAGE of `bench`"
                " | it reaches from 60 to 105 across, and from 0 to 15 mm"
                f" | there is room for 100 by 40 mm | {BEGIN} | {CHECK}"
            ],
        ),
        ("x: 0 mm, width: 45 mm, step: 44 mm", []),
        (
            "x: 0 mm, width: 45 mm, step: 43.9 mm",
            [
                "SG129 BAY 1 lies on BAY 0"
                f" | it reaches from 43.9 to 88.9 across, and from 0 to 15 mm | {STEPS}"
            ],
        ),
    ],
)
def test_bays_that_a_cage_brings(outline: str, said: list[str]):
    assert told(CAGE, bays(outline)) == said


def test_bays_that_a_cage_brings_elsewhere_lie_in_the_chassis():
    """Behind the front, inside, there is all the chassis."""
    inside = CAGE.replace("area: front", "area: inside").partition(", outline")[0] + "}"
    assert told(inside, bays("x: 400 mm, width: 45 mm, step: 38 mm", "inside")) == []
    assert told(inside, bays("x: 400 mm, width: 45 mm, step: 38.1 mm", "inside")) == [
        "SG119 BAY 1 lies outside of the chassis of `bench`"
        " | it reaches from 438.1 to 483.1 across, and from 0 to 15 mm"
        " | there is room for 482 by 700 mm"
        f" | `x` runs from the left and `y` from the front inwards | {CHECK}"
    ]


@pytest.mark.parametrize(
    ("outline", "said"),
    [
        ("x: 0 mm, width: 40 mm, height: 40 mm, step: 443 mm", []),
        (
            "x: 0 mm, width: 40 mm, height: 40 mm, step: 443.5 mm",
            [
                "SG119 FAN 2 lies outside of the chassis"
                " | it reaches from 443.5 to 483.5 across, and from 0 to 40 mm"
                f" | {WHOLE} | {FRONT} | {CHECK}"
            ],
        ),
        (
            "x: 0 mm, width: 40 mm, height: 40 mm, step: 50 mm, depth: 701 mm",
            [
                "SG119 FAN 1 is deeper than the chassis | 701 mm deep | of this size"
                " | check the number and its unit"
            ],
        ),
        (
            "x: 0 mm, width: 40 mm, height: 40 mm, step: 30 mm",
            [
                "SG129 FAN 2 lies on FAN 1"
                f" | it reaches from 30 to 70 across, and from 0 to 40 mm | {STEPS}"
            ],
        ),
    ],
)
def test_positions_of_a_platform(outline: str, said: list[str]):
    assert told(fans(outline)) == said


def test_two_positions_on_one_another_are_told_of_with_both_lines():
    one = "{name: ONE, takes: fan, area: front, outline: {x: 0 mm, y: 0 mm, width: 40 mm, height: 40 mm}}"  # noqa: E501
    other = one.replace("ONE", "OTHER").replace("x: 0", "x: 20")
    assert told(f"{one}, {other}") == [
        "SG129 OTHER lies on ONE | it reaches from 20 to 60 across, and from 0 to 40 mm"
        " | it reaches from 0 to 40 across, and from 0 to 40 mm | check the numbers of both"
    ]
    # front and rear do not meet
    assert told(f"{one}, {other.replace('area: front', 'area: rear')}") == []


def test_where_most_lie_outside_the_chassis_is_told_of():
    fan = "{name: FAN 1..4, takes: fan, area: front, outline: {x: %s mm, y: 0 mm, width: 40 mm, height: 40 mm, step: 50 mm}}"  # noqa: E501
    assert told(fan % 483) == [
        "SG119 4 outlines lie outside of the chassis | of this size"
        " | check the width, the height and the depth of the chassis"
    ]


def pair(area: str, takes: str, other: str, x: int) -> str:
    """Two positions of 100 and 60 mm by 40 mm; the second begins at `x`."""
    rows = (("ONE", takes, 0, 100), ("OTHER", other, x, 60))
    return ", ".join(
        f"{{name: {name}, takes: {kind}, area: {area}, "
        f"outline: {{x: {at} mm, y: 0 mm, width: {width} mm, height: 40 mm}}}}"
        for name, kind, at, width in rows
    )


@pytest.mark.parametrize("holder", ["riser", "backplane"])
def test_a_holder_may_lie_over_other_things(holder: str):
    """Inside, wherever; elsewhere with less than half of the smaller: 30 of 60 mm."""
    for one, other in ((holder, "fan"), ("fan", holder)):
        assert told(pair("inside", one, other, 20)) == []
        assert told(pair("front", one, other, 70)) == []
        (said,) = told(pair("front", one, other, 69))
        assert said.startswith("SG129 OTHER lies on ONE | it reaches from 69 to 129 across")
    assert len(told(pair("front", "fan", "fan", 98))) == 1
    assert len(told(pair("inside", "fan", "fan", 69))) == 1


def test_what_is_pointed_at_is_the_outline_and_the_size():
    """The second of three positions; one without an outline is passed over."""
    rows = "{name: NONE, takes: fan}"
    for name, x in (("GOOD", 0), ("FAR", 483)):
        outline = f"outline: {{x: {x} mm, y: 0 mm, width: 40 mm, height: 40 mm}}"
        rows += f", {{name: {name}, takes: fan, area: front, {outline}}}"
    files = {"specgen.yaml": PROJECT, "platforms/bench.yaml": f"{PLATFORM}positions: [{rows}]\n"}
    found = project(files)
    (far,) = (each for each in found.findings if each.code.id == "SG119")
    assert after(found, far.at).startswith("outline: {x: 483 mm")
    assert [after(found, each) for each in far.labels] == [f"size: {SIZE}"]
    files["platforms/bench.yaml"] = (
        f"{PLATFORM}positions: [{{name: FAN 1..4, takes: fan, area: front, outline: "
        "{x: 483 mm, y: 0 mm, width: 40 mm, height: 40 mm, step: 50 mm}}]\n"
    )
    found = project(files)
    (most,) = (each for each in found.findings if each.code.id == "SG119")
    assert after(found, most.at) == f"size: {SIZE}"


def after(found: Checked, label: Label) -> str:
    """The line from where a label stands on."""
    span = label.span
    return found.sources.texts[span.file].split("\n")[span.line - 1][span.column - 1 :]


def test_half_of_all_outside_are_told_of_one_by_one():
    """Two of four: the chassis need not be wrong."""
    four = "x: 383 mm, width: 40 mm, height: 40 mm, step: 50 mm"
    one = "SG119 FAN 3 lies outside of the chassis | it reaches from 483 to 523 across"
    (said,) = told(fans(four).replace("1..2", "1..4"))
    assert said.startswith(one)


@pytest.mark.parametrize(
    ("size", "told_of"),
    [
        # common practice, no source: what is usual of a chassis, and a millimetre beyond
        ("width: 50 mm, height: 40 mm, depth: 700 mm", True),
        ("width: 49 mm, height: 40 mm, depth: 700 mm", False),
        ("width: 482 mm, height: 40 mm, depth: 2000 mm", True),
        ("width: 482 mm, height: 40 mm, depth: 2001 mm", False),
    ],
)
def test_in_a_chassis_that_cannot_be_nothing_is_misplaced(size: str, told_of: bool):
    """And the next platform is looked at all the same."""
    far = fans("x: 900 mm, width: 40 mm, height: 40 mm, step: 50 mm")
    odd = PLATFORM.replace(SIZE, f"{{{size}}}")
    files = {
        "specgen.yaml": PROJECT,
        "platforms/a.yaml": f"{odd.replace('id: bench', 'id: a')}positions: [{far}]\n",
        "platforms/bench.yaml": f"{PLATFORM}positions: [{far}]\n",
    }
    found = [each.at.span.file for each in project(files).findings if each.code.id == "SG119"]
    assert found == ["platforms/a.yaml"] * told_of + ["platforms/bench.yaml"]


def built_in(button: int, lamp: int) -> Checked:
    """A button so far from the top, and two lamps of 20 mm, the first so far from the left."""
    rows = (
        ("Find me", 1, f"x: 20 mm, y: {button} mm, width: 10 mm, height: 10 mm"),
        ("Lamp", 2, f"x: {lamp} mm, y: 0 mm, width: 20 mm, height: 20 mm, step: 22 mm"),
    )
    fixtures = ", ".join(
        f"{{name: {name}, area: front, what: lamp, count: {count}, outline: {{{outline}}}}}"
        for name, count, outline in rows
    )
    text = f"{PLATFORM}positions: []\nfixtures: [{fixtures}]\n"
    return project({"specgen.yaml": PROJECT, "platforms/bench.yaml": text})


def test_what_is_built_in_lies_in_the_chassis():
    assert built_in(0, 441).findings == ()  # 441 + 22 + 20 = 483
    found = built_in(0, 442)
    (far,) = found.findings
    assert words_of(far) == (
        "Lamp lies outside of the chassis | it reaches from 464 to 484 across, and from 0 to 20 mm"
        f" | {WHOLE} | {FRONT} | {CHECK}"
    )
    assert after(found, far.at).startswith("outline: {x: 442 mm")


def test_what_is_built_in_lies_on_nothing_else():
    """The second lamp is between 22 and 42 mm, and a button below it from 20 mm on."""
    assert built_in(19, 0).findings == ()
    (near,) = built_in(18, 0).findings
    assert words_of(near) == (
        "Lamp lies on Find me | it reaches from 22 to 42 across, and from 0 to 20 mm"
        " | it reaches from 20 to 30 across, and from 18 to 28 mm | check the numbers of both"
    )


def test_what_is_built_in_is_no_deeper_than_the_chassis():
    socket = "{name: Socket, area: rear, what: socket, outline: {x: 0 mm, y: 0 mm, width: 20 mm, height: 20 mm, depth: 701 mm}}"  # noqa: E501
    text = f"{PLATFORM}positions: []\nfixtures: [{socket}]\n"
    (deep,) = project({"specgen.yaml": PROJECT, "platforms/bench.yaml": text}).findings
    assert words_of(deep).startswith("Socket is deeper than the chassis | 701 mm deep | ")


def test_each_chassis_that_most_lies_outside_of_is_told_of():
    far = fans("x: 483 mm, width: 40 mm, height: 40 mm, step: 50 mm").replace("1..2", "1..4")
    files = {
        f"platforms/{name}.yaml": f"{PLATFORM.replace('bench', name)}positions: [{far}]\n"
        for name in ("a", "b")
    }
    found = project({"specgen.yaml": PROJECT, **files}).findings
    assert [each.at.span.file for each in found if each.code.id == "SG119"] == list(files)


def test_of_a_range_outside_the_first_is_told_of_and_then_what_follows():
    far = "x: 483 mm, width: 40 mm, height: 40 mm, step: 50 mm"
    found = told(f"{fans(far)}, {fans(far).replace('FAN 1..2', 'LAST')}")
    assert [each.partition(" |")[0] for each in found] == [
        "SG119 FAN 1 lies outside of the chassis",
        "SG119 LAST lies outside of the chassis",
    ]
