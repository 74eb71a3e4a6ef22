"""The SVG and how it is made: markup, ids, links, cache, failures, the same bytes every time."""

import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from drawing_samples import ENGINE, SVG, drawn, system

from specgen.assembly import Assembly
from specgen.drawings import (
    Box,
    BoxPort,
    Diagram,
    Group,
    LayoutEngine,
    LayoutFailed,
    Ribbon,
    TextLine,
    UseState,
    draw,
    standalone,
    topology,
    written,
)
from specgen.drawings.dot import dot
from specgen.drawings.picture import escape
from specgen.drawings.plan import plan
from specgen.drawings.widths import width, wrapped
from tests.timing import NO_HANG, stopwatch

HERE = Path(__file__).parent


def graph(assembly: Assembly) -> str:
    figure = topology(assembly)
    return dot(figure, plan(figure))


def test_two_runs_give_the_same_bytes_whatever_the_hash_seed() -> None:
    code = (
        "import hashlib; from drawing_samples import drawn, system;"
        "from specgen.drawings import written;"
        "made = ''.join(written(drawn(s).picture) for s in (system(), system('half')));"
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


def test_ids_begin_with_the_prefix_so_that_pictures_share_a_page() -> None:
    svg = written(drawn(system(), prefix="lantern").picture)
    ids = re.findall(r'\sid="([^"]*)"', svg)
    assert ids
    assert all(id_.startswith("lantern-") for id_ in ids)
    assert len(ids) == len(set(ids))
    root = ElementTree.fromstring(svg)
    for name in ("aria-labelledby", "aria-describedby"):
        assert root.attrib[name] in ids


def test_title_and_description_say_what_the_words_say() -> None:
    drawing = drawn(system())
    root = ElementTree.fromstring(written(drawing.picture))
    assert root.findtext(f"{SVG}title") == "Topology: Build full"
    assert root.findtext(f"{SVG}desc") == "\n".join(drawing.diagram.text)


def test_a_picture_without_links_is_an_image_one_with_links_can_be_walked_through() -> None:
    assert 'role="img"' in written(drawn(system()).picture)
    linked = drawn(system(), link=lambda part: f"../parts/{part}.html" if part == "nic" else None)
    assert 'role="group"' in written(linked.picture)
    hrefs = set(re.findall(r'href="([^"]*)"', written(linked.picture)))
    assert hrefs == {"../parts/nic.html"}


def test_the_inline_form_has_no_style_and_no_script() -> None:
    svg = written(drawn(system("half")).picture)
    for element in ElementTree.fromstring(svg).iter():
        assert element.tag not in (f"{SVG}style", f"{SVG}script")
        assert not [name for name in element.attrib if name == "style" or name.startswith("on")]
    assert "http" not in svg.replace("http://www.w3.org/2000/svg", "")


def test_the_file_form_is_the_same_picture_with_its_own_colours() -> None:
    picture = drawn(system()).picture
    assert picture is not None
    file = standalone(picture)
    assert file.startswith('<?xml version="1.0" encoding="UTF-8"?>\n<svg ')
    assert "prefers-color-scheme: dark" in file
    assert len(list(ElementTree.fromstring(file).iter(f"{SVG}style"))) == 1


def test_systems_built_alike_share_their_layout() -> None:
    other = graph(system("full", {"nvme": "NVMe drive 3.84 GB", "cpu": "Corvane C61"}))
    assert other == graph(system())


def test_no_word_of_the_definitions_reaches_the_layout_program() -> None:
    text = graph(system("full", {"nic": "Zebra", "riser": "Quagga"}))
    for word in ("Zebra", "Quagga", "SLOT", "CPU"):
        assert word not in text


def test_a_layout_is_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    engine = LayoutEngine()
    text = graph(system())
    first = engine.lay_out(text)
    monkeypatch.setattr(LayoutEngine, "_run", lambda *_: pytest.fail("ran again"))
    assert engine.lay_out(text) is first


def test_layouts_are_kept_in_a_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder = tmp_path / "layouts"
    text = graph(system())
    first = LayoutEngine(folder=folder).lay_out(text)
    assert [path.suffix for path in folder.iterdir()] == [".json"]
    monkeypatch.setattr(LayoutEngine, "_run", lambda *_: pytest.fail("ran again"))
    assert LayoutEngine(folder=folder).lay_out(text) == first


def test_half_a_file_in_the_cache_is_laid_out_again(tmp_path: Path) -> None:
    text = graph(system())
    first = LayoutEngine(folder=tmp_path).lay_out(text)
    (kept,) = tmp_path.iterdir()
    kept.write_text(kept.read_text()[:100])
    assert LayoutEngine(folder=tmp_path).lay_out(text) == first
    assert kept.read_text().endswith("}\n")


def test_a_cache_that_cannot_be_written_is_no_error(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("")
    assert LayoutEngine(folder=blocked / "layouts").lay_out(graph(system())).corners


@pytest.mark.parametrize(
    ("engine", "why"),
    [
        (LayoutEngine(seconds=1e-9), "took longer"),
        (LayoutEngine("dot"), "cannot run"),
    ],
)
def test_a_drawing_that_fails_leaves_its_words(
    engine: LayoutEngine, why: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", "")
    assembly = system()
    figure = topology(assembly)
    drawing = draw(figure, at=assembly.platform.origin.at(), prefix="p", engine=engine)
    assert drawing.picture is None
    assert drawing.diagram.text == figure.text
    assert not drawing.diagram.groups
    assert drawing.finding is not None
    assert drawing.finding.code.id == "SG402"
    assert why in str(drawing.finding.message)


def test_a_missing_program_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    engine = LayoutEngine()
    engine.__dict__["_executable"] = "no-such-program"
    with pytest.raises(LayoutFailed, match="no-such-program"):
        engine.lay_out(graph(system()))


def test_a_program_that_gives_up_or_babbles_is_a_failure() -> None:
    with pytest.raises(LayoutFailed):
        LayoutEngine().lay_out("digraph {")
    engine = LayoutEngine()
    engine.__dict__["_executable"] = sys.executable
    with pytest.raises(LayoutFailed):
        engine.lay_out("digraph {}")


def test_the_program_of_the_environment_is_taken_not_the_systems() -> None:
    assert Path(LayoutEngine()._executable).parent == Path(sys.executable).parent


def huge(count: int) -> Diagram:
    """One owner and so many boxes, each at a ribbon of its own."""
    outlets = tuple(BoxPort(f"o{n}", f"P{n}", f"P{n}: x4", lanes=4) for n in range(count))
    owner = Box("b", "processor", UseState.USED, ("CPU1",), (TextLine("CPU1", "name"),), outlets)
    boxes = [
        Group(
            f"g{n + 1}",
            Box(f"b{n}", "bay", UseState.USED, (f"X{n}",), (TextLine(f"X{n}", "name"),)),
        )
        for n in range(count)
    ]
    ribbons = tuple(
        Ribbon(f"r{n}", f"o{n}", f"b{n}", 4, 4, UseState.USED, f"P{n} to X{n}")
        for n in range(count)
    )
    return Diagram("Huge", (), (Group("g0", owner, flanked=True), *boxes), ribbons)


@pytest.mark.slow
def test_two_hundred_positions_are_laid_out() -> None:
    used = stopwatch()
    drawing = draw(
        huge(200),
        at=system().platform.origin.at(),
        prefix="p",
        engine=LayoutEngine(seconds=NO_HANG),
    )
    assert drawing.finding is None
    assert used() < NO_HANG


def test_nothing_to_draw_is_no_failure() -> None:
    drawing = draw(Diagram("Empty"), at=system().platform.origin.at(), prefix="p", engine=ENGINE)
    assert (drawing.picture, drawing.finding) == (None, None)


@pytest.mark.parametrize(
    "text", ["Corvane C32, 32 cores", "x16 slot, x8 wired, Gen 4", "WMiil .,;:|{}", "Qq & <b>"]
)
def test_widths_are_those_of_the_engines_own_face(text: str) -> None:
    label = escape(text)
    for bold, words in ((False, label), (True, f"<b>{label}</b>")):
        cell = '<table border="0" cellborder="0" cellspacing="0" cellpadding="0"><tr><td>'
        graph_ = (
            'digraph { graph [pad=0]; n [shape=plain, margin=0, fontname="Arimo", '
            f"fontsize=100, label=<{cell}{words}</td></tr></table>>] }}"
        )
        measured = LayoutEngine().lay_out(graph_).width
        assert width(text, 100, bold) == pytest.approx(measured, rel=0.02)


def test_lines_keep_within_their_room_and_lose_nothing() -> None:
    text = "Network adapter, 2 x 100 Gbit/s, QSFP28 " + "y" * 80
    made = wrapped(text, 100, 9)
    assert all(width(line, 9) <= 100 for line in made)
    assert "".join(made).replace(" ", "") == text.replace(" ", "")


def test_a_number_stays_with_its_unit() -> None:
    for room in range(80, 200, 7):
        lines = wrapped("Network adapter, 2 x 100 Gbit/s, QSFP28", room, 9)
        assert any("2 x 100 Gbit/s" in line for line in lines)


def test_boxes_do_not_overlap() -> None:
    assembly = system()
    figure = topology(assembly)
    groups = plan(figure)
    layout = ENGINE.lay_out(dot(figure, groups))
    rects = []
    for group in groups:
        x, y = layout.corners[group.group.id]
        rects.append((x, y, x + group.width, y + group.height))
    for number, one in enumerate(rects):
        for other in rects[number + 1 :]:
            apart = (
                one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            )
            assert apart


def test_a_figure_does_not_depend_on_the_build_but_for_its_title() -> None:
    assembly = system()
    assert assembly.build is not None
    renamed = replace(assembly, build=replace(assembly.build, name="Another"))
    one, other = topology(assembly), topology(renamed)
    assert (one.groups, one.ribbons, one.text) == (other.groups, other.ribbons, other.text)
    assert other.title == "Topology: Another"
