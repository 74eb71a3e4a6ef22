"""Drawings to scale: what they say, where things lie, and that nothing covers anything else."""

import hashlib
import os
import subprocess
import sys
from dataclasses import replace
from functools import cache
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from drawing_samples import SVG, definitions, system
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.assembly import Assembly, resolve
from specgen.cli import main
from specgen.document.case import Case
from specgen.document.figures import DRAWINGS, SHEETS, callouts, drawing_of
from specgen.drawings import (
    LayoutEngine,
    Sheet,
    UseState,
    failure_chart,
    front,
    inside,
    lane_map,
    memory_map,
    nowhere,
    paper,
    rear,
    written,
)
from specgen.drawings.flags import poles, spread
from specgen.drawings.items import frames_of
from specgen.drawings.packing import FaceBlock, packed
from specgen.drawings.png import png
from specgen.drawings.shapes import Rect, Stroke, TextShape
from specgen.drawings.sides import SCALE, side_of
from specgen.drawings.sizes import BODY
from specgen.fitness.frames import Frame
from specgen.model import Definitions, Fixture
from specgen.model.position import Area
from specgen.pipeline import bare_case, case_of, read

HERE = Path(__file__).parent
DEMO = HERE.parent.parent / "builds"
PLACES = st.lists(st.floats(-50, 900, allow_nan=False), max_size=40)


@cache
def demo() -> Definitions:
    found = read(DEMO).definitions
    assert found is not None
    return found


@cache
def demo_case(build: str) -> Case:
    found = case_of(demo(), demo().builds[build])
    assert found is not None
    return found


def with_sides(assembly: Assembly) -> Assembly:
    """The sample with its bays in front, its adapter and fans' places where people see them."""
    found = definitions()
    areas: dict[str, Area] = {"FRONT": "front", "OCP": "rear", "RISER": "rear"}
    positions = tuple(
        replace(one, area=areas.get(one.name, one.area)) for one in assembly.platform.positions
    )
    platform = replace(
        assembly.platform,
        positions=positions,
        fixtures=(Fixture(name="Power", area="front", what="button", note="Lit: on."),),
    )
    parts = dict(found.parts)
    moves: tuple[tuple[str, Area], ...] = (("front", "front"), ("riser", "rear"))
    for id_, area in moves:
        brings = parts[id_].brings
        moved = tuple(
            replace(one, area=area) if "cable" not in one.takes else one for one in brings.positions
        )
        parts[id_] = replace(parts[id_], brings=replace(brings, positions=moved))
    made = replace(found, parts=parts, platforms={"sample": platform})
    assert assembly.build is not None
    resolved = resolve(made, assembly.build)
    assert resolved is not None
    return resolved


def flags(sheet: Sheet) -> list[Frame]:
    made = []
    for shape in sheet.shapes:
        if isinstance(shape, Stroke) and shape.pen == "flag":
            xs, ys = [x for x, _y in shape.points], [y for _x, y in shape.points]
            made.append(Frame(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)))
    return made


# --- placing ---


@given(PLACES)
def test_places_of_flags_keep_their_order_and_their_distance(wanted: list[float]) -> None:
    made = spread(wanted, 22, 0, 700)
    in_order = [made[at] for at in sorted(range(len(wanted)), key=lambda at: (wanted[at], at))]
    assert all(b - a >= 22 - 1e-6 for a, b in pairwise(in_order))
    if len(wanted) * 22 <= 700:
        assert all(-1e-6 <= at <= 700 + 1e-6 for at in made)


@given(PLACES)
def test_a_flag_that_has_room_stands_where_it_wants_to(wanted: list[float]) -> None:
    far = sorted({round(at / 40) * 40.0 for at in wanted if 0 <= at <= 700})
    assert spread(far, 22, 0, 700) == pytest.approx(far)


@given(st.lists(st.tuples(st.floats(0, 700), st.floats(0, 60)), max_size=30), st.booleans())
def test_flags_never_overlap_and_leaders_never_cross(
    ends: list[tuple[float, float]], up: bool
) -> None:
    ends = list({round(x): (x, y) for x, y in ends}.values())
    edge = 0.0 if up else 60.0
    shapes, left, right = poles(ends, edge, list(range(len(ends))), 700, up)
    found = flags(Sheet("", (), shapes=tuple(shapes)))
    assert len(found) == len(ends)
    assert not any(a.meets(b) for a, b in combinations(found, 2))
    assert all(left <= one.x and one.x + one.width <= right + 1e-6 for one in found)
    lines = [one.points for one in shapes if isinstance(one, Stroke) and one.pen == "leader"]
    for a, b in combinations(lines, 2):
        assert (a[1][0] - b[1][0]) * (a[2][0] - b[2][0]) >= 0


BLOCKS = st.lists(
    st.builds(
        lambda count, wide, high: FaceBlock(count, ((wide, high), (high, wide))),
        st.integers(1, 24),
        st.floats(4, 130),
        st.floats(4, 60),
    ),
    max_size=8,
)


@settings(deadline=None)
@given(BLOCKS, st.floats(100, 480), st.floats(30, 180))
def test_faces_laid_out_overlap_nothing_and_stay_within(
    blocks: list[FaceBlock], wide: float, high: float
) -> None:
    room, taken = Frame(5, 3, wide, high), [Frame(20, 3, 15, 20)]
    made, factor = packed(blocks, room, taken)
    frames = [frame for group in made for frame in group]
    assert [len(group) for group in made] == [block.count for block in blocks]
    assert all(room.holds(frame) for frame in frames)
    assert not any(a.meets(b) for a, b in combinations(frames, 2))
    if factor:
        assert not any(frame.meets(taken[0]) for frame in frames)


# --- what is said ---


def test_a_callout_names_what_is_fitted_what_is_empty_and_how_it_is_changed() -> None:
    got = {one.position: one for one in front(with_sides(system())).callouts}
    assert got["BAY 0 to 3"].what == "4 × NVMe drive 3.84 TB, hot-swap"
    assert got["Power"].what == "button. Lit: on"
    half = {one.position: one for one in front(with_sides(system("half"))).callouts}
    assert half["BAY 0"].use is UseState.USED
    assert half["BAY 1"].what == "empty, hot-swap"
    assert half["BAY 1"].use is UseState.FREE


def test_a_callout_says_why_something_cannot_be_used() -> None:
    got = {one.position: one for one in rear(with_sides(system("half"))).callouts}
    assert got["SLOT 2"].use is UseState.UNUSABLE
    assert got["SLOT 2"].what == "blocked: Wide card in SLOT 1 takes its place"


def test_numbers_run_from_one_and_every_one_has_a_flag_and_a_line_of_text() -> None:
    for draw in (front, rear, inside):
        sheet = draw(with_sides(system()))
        numbers = [one.number for one in sheet.callouts]
        assert numbers == list(range(1, len(numbers) + 1))
        shown = [
            one.text for one in sheet.shapes if isinstance(one, TextShape) and one.pen == "flag"
        ]
        assert sorted(shown) == sorted(2 * [str(number) for number in numbers])
        assert all(one.words in sheet.text for one in sheet.callouts)


def test_a_side_with_nothing_on_it_is_not_drawn_but_told() -> None:
    sheet = rear(system())
    assert sheet.shapes == ()
    assert paper(sheet, "rear", nowhere) is None
    assert sheet.text == ("No position and nothing built in is said to be at the rear.",)


def test_a_system_without_supplies_has_no_power_chart_and_says_so() -> None:
    case = bare_case(demo(), demo().platforms["lantern"])
    drawing = drawing_of(case, "power-chart", LayoutEngine())
    assert drawing.picture is None
    assert "no power supply is fitted" in drawing.diagram.text[0]


def test_a_guessed_layout_says_that_it_is_one() -> None:
    assert any("laid out from counts" in line for line in front(with_sides(system())).text)
    case = demo_case("lantern-sea-watch")
    assert not any("laid out from counts" in line for line in front(case.assembly).text)


# --- where things lie ---


def test_a_range_goes_on_by_its_step_and_then_to_the_next_row() -> None:
    assembly = demo_case("boathouse-archive").assembly
    frames = frames_of(assembly)
    first, second, fifth = frames["BAY 0"], frames["BAY 1"], frames["BAY 4"]
    assert second.x - first.x == pytest.approx(107)
    assert second.y == first.y
    assert fifth.x == first.x
    assert fifth.y - first.y == pytest.approx(28)


def test_an_outline_begins_at_that_of_the_position_whose_part_brings_it() -> None:
    assembly = demo_case("boathouse-archive").assembly
    frames = frames_of(assembly)
    assert frames["SLOT 1"].x == frames["RISER 1"].x
    assert frames["SLOT 1"].y == frames["RISER 1"].y + 1


def test_what_cannot_be_used_is_hatched_and_what_is_empty_dotted_without_any_colour() -> None:
    root = ElementTree.fromstring(written(paper(rear(with_sides(system("half"))), "p", nowhere)))
    classes = [one.attrib.get("class", "") for one in root.iter()]
    at = classes.index("fit fit-unusable")
    assert "hatch" in classes[at : at + 4]
    root = ElementTree.fromstring(written(paper(front(with_sides(system("half"))), "p", nowhere)))
    empty = next(one for one in root.iter() if one.attrib.get("class") == "fit fit-empty")
    assert empty.attrib["stroke-dasharray"]


def test_faces_are_drawn_to_scale() -> None:
    sheet = front(demo_case("boathouse-archive").assembly)
    bay = next(
        one for one in sheet.shapes if isinstance(one, Rect) and one.hint.startswith("BAY 0:")
    )
    assert (bay.width, bay.height) == (102 * SCALE, 26.5 * SCALE)


def test_from_above_the_rear_is_mirrored() -> None:
    """A supply on the right of the rear lies on the left of a person in front of the system."""
    case = demo_case("lantern-sea-watch")
    supply = next(one for one in side_of(case.assembly, "rear").items if one.name == "PSU 2")
    assert supply.frame is not None
    assert supply.frame.x > BODY / 2
    rects = [
        one
        for one in inside(case.assembly).shapes
        if isinstance(one, Rect) and one.hint.startswith("PSU 2:")
    ]
    others = [
        one
        for one in inside(case.assembly).shapes
        if isinstance(one, Rect) and one.hint.startswith("SLOT 1:")
    ]
    assert rects[0].y < others[0].y


@pytest.mark.parametrize("area", ["front", "rear"])
def test_no_two_faces_of_a_demo_system_overlap(area: str) -> None:
    for build in demo().builds:
        side = side_of(demo_case(build).assembly, area)
        whole = Frame(0, 0, side.width, side.height)
        for item in side.items:
            assert item.frame is not None
            assert whole.holds(item.frame), (build, item.name)
        for a, b in combinations(side.items, 2):
            assert a.frame is not None
            assert b.frame is not None
            assert not a.frame.meets(b.frame), (build, a.name, b.name)
        assert side.factor == 1, build


def test_no_two_flags_of_a_demo_system_overlap() -> None:
    for build in demo().builds:
        for draw in (front, rear, inside):
            found = flags(draw(demo_case(build).assembly))
            assert not any(a.meets(b) for a, b in combinations(found, 2)), build


# --- the other drawings ---


def test_the_memory_map_gives_the_order_of_filling_and_what_is_in_each_slot() -> None:
    sheet = memory_map(demo_case("lantern-sea-watch").assembly)
    shapes = [one for one in sheet.shapes if isinstance(one, TextShape)]
    words = [each.text for one in shapes for each in (one, *one.continued)]
    at = words.index("DIMM 1E1")
    assert words[at - 1] == "2"
    assert words[at + 1].startswith("16")
    assert "CPU1: populated in the order DIMM 1A1, DIMM 1E1, DIMM 1C1" in " ".join(sheet.text)
    assert "DIMM 2A1 to 2H1" not in words
    assert "unusable: CPU2 is empty" in " ".join(sheet.text)


def test_ribbons_of_the_lane_map_are_as_broad_as_their_lanes_are_many() -> None:
    sheet = lane_map(system())
    root = ElementTree.fromstring(written(paper(sheet, "l", nowhere)))
    found = {}
    for path in root.iter(f"{SVG}path"):
        title = path.findtext(f"{SVG}title")
        if title:
            found[title] = float(path.attrib["stroke-width"])
    narrow = next(value for title, value in found.items() if " to HUB," in title)
    broad = next(value for title, value in found.items() if " to SLOT 1," in title)
    assert broad == pytest.approx(4 * narrow, rel=0.01)


def test_the_power_chart_tells_load_efficiency_and_what_a_failure_leaves() -> None:
    case = demo_case("capstan-forecast")
    drawing = drawing_of(case, "power-chart", LayoutEngine())
    text = "\n".join(drawing.diagram.text).replace("\u202f", " ")
    # 3637 W over two of 2600 W are 69.94 % each: 0.964 - 0.036 x 0.3988 = 0.94964; 3829.9 W
    assert "Maximum, after failures: DC load 3637 W, input 3830 W" in text
    assert "efficiency 95 %, 2 in use, each at 69.9 % of its output" in text
    assert "Power supplies provide: 5200 W, 2 of 4 PSUs; 10 400 W, all 4 PSUs." in text


@pytest.mark.parametrize("name", SHEETS)
def test_no_letter_is_smaller_than_eleven_pixels_in_the_column_of_a_screen(
    name: str,
) -> None:
    for build in sorted(demo().builds)[::4]:
        svg = written(drawing_of(demo_case(build), name, LayoutEngine()).picture)
        root = ElementTree.fromstring(svg)
        sizes = [
            float(each.attrib["font-size"]) for each in root.iter() if "font-size" in each.attrib
        ]
        broad = float(root.attrib["width"].removesuffix("pt")) * 96 / 72
        shrunk = min(1, 896 / broad)  # to the column of a screen of 1280 pixels
        assert min(sizes) * 96 / 72 * shrunk >= 10.95, build  # CSS: 72 points are 96 pixels


def test_values_on_the_efficiency_curve_do_not_cover_one_another() -> None:
    for build in ("boathouse-archive", "capstan-forecast"):
        drawing = drawing_of(demo_case(build), "power-chart", LayoutEngine())
        assert isinstance(drawing.diagram, Sheet)
        words = [
            each
            for each in drawing.diagram.shapes
            if isinstance(each, TextShape) and "\u202f% " in each.text
        ]
        heights = sorted(each.y for each in words)
        assert len(words) > 3
        assert all(below - above > 8 for above, below in pairwise(heights))


def test_the_rack_holds_as_many_systems_as_the_conditions_ask_for() -> None:
    case = demo_case("capstan-forecast")
    sheet = SHEETS["mass-rack"](case)
    boxes = [
        one for one in sheet.shapes if isinstance(one, Rect) and one.hint.startswith("server ")
    ]
    assert len(boxes) == 4
    assert "In a rack: 4 servers, 16 rack units." in sheet.text
    assert "Lifting: a mechanical lift." in sheet.text


# --- SVG ---


@pytest.mark.parametrize("name", list(SHEETS))
def test_every_sheet_is_well_formed_without_styles_and_with_ids_of_its_own(name: str) -> None:
    case = demo_case("boathouse-archive")
    drawing = drawing_of(case, name, LayoutEngine())
    root = ElementTree.fromstring(written(drawing.picture))
    ids = [one.attrib["id"] for one in root.iter() if "id" in one.attrib]
    assert ids
    assert all(id_.startswith(f"{name}-") for id_ in ids)
    assert not any("style" in one.attrib for one in root.iter())
    assert root.findtext(f"{SVG}desc") == "\n".join(drawing.diagram.text)
    assert callouts(case, name) == getattr(drawing.diagram, "callouts", ())


def test_names_from_definitions_are_text() -> None:
    hostile = '<script>alert("x")</script> & "'
    names = {"nvme": hostile, "module": hostile, "nic": hostile, "cpu": hostile}
    assembly = with_sides(system())
    parts = dict(assembly.definitions.parts)
    for id_, name in names.items():
        parts[id_] = replace(parts[id_], name=name)
    assert assembly.build is not None
    named = resolve(replace(assembly.definitions, parts=parts), assembly.build)
    assert named is not None
    for draw in (front, rear, inside, memory_map, lane_map):
        svg = written(paper(draw(named), "p", nowhere))
        assert "<script" not in svg
        ElementTree.fromstring(svg)


def test_every_drawing_has_a_name_and_links_lead_to_parts() -> None:
    case = demo_case("pocket-tide-gauge")
    assert set(SHEETS) < set(DRAWINGS)
    drawing = drawing_of(case, "front", LayoutEngine(), lambda part: f"../parts/{part}.html")
    svg = written(drawing.picture)
    assert '<a href="../parts/s25-sata-960g-cold.html">' in svg
    assert 'role="group"' in svg


@pytest.mark.slow
def test_two_runs_give_the_same_sheets_whatever_the_hash_seed() -> None:
    code = (
        "import hashlib; from drawing_samples import system;"
        "from test_sheets import with_sides, front, rear, inside, memory_map, lane_map, paper;"
        "from specgen.drawings import nowhere, written;"
        "made = ''.join(written(paper(d(with_sides(system())), 'p', nowhere))"
        " for d in (front, rear, inside, memory_map, lane_map));"
        "print(hashlib.sha256(made.encode()).hexdigest())"
    )
    answers = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(HERE)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(answers) == 1


def test_a_sheet_becomes_a_picture_of_dots_and_the_same_one_each_time() -> None:
    picture = drawing_of(demo_case("pocket-tide-gauge"), "front", LayoutEngine()).picture
    assert picture is not None
    made = png(picture, dots=72)
    assert made.startswith(b"\x89PNG\r\n\x1a\n")
    assert hashlib.sha256(made).digest() == hashlib.sha256(png(picture, dots=72)).digest()


def test_a_drawing_is_asked_for_as_a_png(tmp_path: Path) -> None:
    file = tmp_path / "rear.png"
    words = ["draw", "lantern-relay", "rear", "--project", str(DEMO), "--to", "png"]
    assert main([*words, "-o", str(file)]) == 0
    assert file.read_bytes().startswith(b"\x89PNG")


def test_what_one_failure_leaves_is_drawn_to_the_share_of_the_whole():
    # By hand: without CPU2 of the archive 24 of 48 cores; without SLOT 1 six of 18 drives.
    case = demo_case("boathouse-archive")
    sheet = failure_chart(case.assembly, case.facts)
    assert sheet.text[0] == "Processor CPU1: nothing is left."
    assert sheet.text[1].startswith("Processor CPU2: Cores left: 24; Memory left: 256\u202fGiB;")
    bars = [shape for shape in sheet.shapes if isinstance(shape, Rect) and shape.pen == "bar"]
    shares = {round(bar.width / max(each.width for each in bars), 3) for bar in bars}
    assert {1.0, 0.5, 0.333} <= shares
    hatched = [each for each in sheet.shapes if isinstance(each, Rect) and each.pen == "unusable"]
    assert len(hatched) == 5  # without CPU1 nothing is left of five things
