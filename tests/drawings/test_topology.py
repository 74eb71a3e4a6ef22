"""What a topology holds: positions, parts, lanes and reasons, in the picture and in words."""

import pytest
from drawing_samples import breadths, drawn, shown_text, squashed, system
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.assembly import State, assemble
from specgen.drawings import Box, Diagram, UseState, topology, written
from specgen.drawings.plan import LANE
from specgen.model import Drive
from specgen.quantity import show
from tests.timing import tries

NOT_SHOWN = ("fan",)
AWKWARD = (
    "<b>bold</b>",
    '"quoted" & <script>alert(1)</script>',
    r"a|b{c}\n\l\r<f0>",
    "]]> -- --> <!-- &amp; &#x41;",
    "</title></svg>",
    "名前の長い部品のための非常に長い名前" * 3,
    "x" * 300,
    "e\u0301\u0301 \u202e right to left",
)


def box(figure: Diagram, place: str) -> Box:
    return next(one for one in figure.boxes() if place in one.places)


def lines(figure: Diagram, place: str) -> list[str]:
    return [line.text for line in box(figure, place).lines]


@pytest.mark.parametrize("id_", ["full", "half"])
def test_every_part_that_lanes_or_memory_reach_is_in_the_picture_and_in_the_words(id_: str) -> None:
    assembly = system(id_)
    drawing = drawn(assembly)
    words = squashed(" ".join(drawing.diagram.text))
    picture = shown_text(written(drawing.picture))
    for place in assembly.places.values():
        if place.part is not None and place.part.kind not in NOT_SHOWN:
            name = squashed(place.part.name)
            assert name in picture, place.name
            assert name in words, place.name


@pytest.mark.parametrize("id_", ["full", "half"])
def test_every_position_is_in_exactly_one_box_or_is_reported_in_its_hosts(id_: str) -> None:
    assembly = system(id_)
    places = [place for one in topology(assembly).boxes() for place in one.places]
    assert len(places) == len(set(places))
    got = set(places) | set(assembly.platform.leads)
    for place in assembly.places.values():
        inside = {"cable", "transceiver"}.intersection(place.position.takes)
        if not inside and "fan" not in place.position.takes:
            assert place.name in got


@pytest.mark.parametrize("id_", ["full", "half"])
def test_what_stands_in_the_picture_stands_in_the_words(id_: str) -> None:
    drawing = drawn(system(id_))
    words = "\n".join(drawing.diagram.text)
    for one in drawing.diagram.boxes():
        assert all(line.text in words for line in one.lines)
        assert all(outlet.label in words for outlet in one.ports)
        assert all(cell.text in words for row in one.grid for cell in row)
    for ribbon in drawing.diagram.ribbons:
        assert ribbon.words in words
    assert all(
        squashed(line) in squashed(written(drawing.picture)) for line in [drawing.diagram.title]
    )


@pytest.mark.parametrize("id_", ["full", "half"])
def test_a_ribbon_is_as_broad_as_its_lanes_are_many(id_: str) -> None:
    drawing = drawn(system(id_))
    measured = breadths(written(drawing.picture))
    assert drawing.diagram.ribbons
    for ribbon in drawing.diagram.ribbons:
        assert measured[ribbon.words] == pytest.approx(ribbon.lanes * LANE)


def test_a_box_gets_as_many_lanes_as_its_links_have() -> None:
    assembly = system()
    figure = topology(assembly)
    for one in figure.boxes():
        links = [assembly.links[place] for place in one.places if place in assembly.links]
        ribbons = [ribbon for ribbon in figure.ribbons if ribbon.head == one.id]
        if links:
            assert sum(ribbon.lanes for ribbon in ribbons) == sum(link.wired for link in links)


def test_lanes_of_a_port_go_to_boxes_or_are_free() -> None:
    for id_ in ("full", "half"):
        figure = topology(system(id_))
        for one in figure.boxes():
            for outlet in one.ports:
                if outlet.lanes:
                    out = sum(each.lanes for each in figure.ribbons if each.tail == outlet.id)
                    assert out + outlet.spare == outlet.lanes


def test_width_of_the_connector_and_of_its_wires_are_reported_apart() -> None:
    assert "x16 slot, x8 wired, Gen 4, empty" in lines(topology(system()), "SLOT 2")


def test_a_narrow_card_in_a_wide_slot_uses_a_part_of_its_ribbon() -> None:
    figure = topology(system())
    assert "runs at x8, Gen 4" in lines(figure, "SLOT 1")
    (ribbon,) = [one for one in figure.ribbons if one.head == box(figure, "SLOT 1").id]
    assert (ribbon.lanes, ribbon.used, ribbon.use) == (16, 8, UseState.USED)


def test_alike_bays_are_one_box() -> None:
    bays = box(topology(system()), "BAY 0")
    assert bays.places == ("BAY 0", "BAY 1", "BAY 2", "BAY 3")
    assert bays.name == "BAY 0 to 3"
    drive = system().definitions.parts["nvme"]
    assert isinstance(drive, Drive)
    assert f"4 × {show(drive.capacity)}" in [line.text for line in bays.lines]


def test_bays_without_a_cable_say_so() -> None:
    figure = topology(system("half"))
    dead = box(figure, "BAY 2")
    assert dead.use is UseState.UNUSABLE
    assert dead.lines[-1].text == "unusable: FRONT.J1 has no cable"


@pytest.mark.parametrize("place", ["DIMM C1", "OCP", "BAY 2", "SLOT 2"])
def test_what_cannot_be_used_is_marked_and_gives_the_reason(place: str) -> None:
    assembly = system("half")
    assert assembly.places[place].state in (State.UNUSABLE, State.BLOCKED)
    drawing = drawn(assembly)
    one = box(drawing.diagram, place)
    assert one.use is UseState.UNUSABLE
    reason = str(assembly.places[place].reason)
    assert squashed(reason) in shown_text(written(drawing.picture))
    assert reason in " ".join(drawing.diagram.text)
    assert "box-unusable" in written(drawing.picture)
    assert "ribbon-unusable" in written(drawing.picture)


def test_lanes_that_reach_nothing_usable_still_come_from_the_missing_processor() -> None:
    figure = topology(system("half"))
    (ribbon,) = [one for one in figure.ribbons if one.head == box(figure, "OCP").id]
    assert ribbon.use is UseState.UNUSABLE
    assert ribbon.tail in [outlet.id for outlet in box(figure, "CPU2").ports]


def test_free_connectors_on_the_board_are_shown() -> None:
    figure = topology(system("half"))
    edge = box(figure, "EDGE 2")
    assert edge.use is UseState.FREE
    assert [one.lanes for one in figure.ribbons if one.head == edge.id] == [8]
    assert not any("EDGE 2" in one.places for one in topology(system()).boxes())


def test_drives_hang_on_the_hub_that_feeds_them() -> None:
    figure = topology(system())
    hub, disks = box(figure, "HUB"), box(figure, "DISK 0")
    (ribbon,) = [one for one in figure.ribbons if one.head == disks.id]
    assert ribbon.tail in [outlet.id for outlet in hub.ports]
    assert ribbon.words == "DISK 0 to 1 from HUB.S0: 2 lanes, SATA, all in use"


def test_ports_of_an_adapter_say_what_sits_in_their_cages() -> None:
    labels = [outlet.label for outlet in box(topology(system()), "SLOT 1").ports]
    assert [label.partition(":")[0] for label in labels] == ["PORT 1", "PORT 2"]
    assert "Optical transceiver" in labels[0]
    assert "empty cage" in labels[1]


@pytest.mark.parametrize("name", AWKWARD)
def test_names_are_text_whatever_they_hold(name: str) -> None:
    names = dict.fromkeys(("cpu", "module", "nvme", "riser", "nic", "optic", "cable", "hub"), name)
    drawing = drawn(system("full", names), link=lambda part: f'"><script>{part}&')
    assert squashed(name) in shown_text(written(drawing.picture))
    assert "<script" not in written(drawing.picture)
    assert "<b>" not in written(drawing.picture)
    assert name in " ".join(drawing.diagram.text)


@settings(max_examples=tries(40), deadline=None)
@given(st.text(min_size=1, max_size=60).filter(str.strip))
def test_any_name_gives_a_picture_that_parses(name: str) -> None:
    drawing = drawn(system("full", {"nvme": name, "nic": name}))
    assert drawing.finding is None
    assert shown_text(written(drawing.picture))


def test_a_bare_platform_has_a_topology() -> None:
    found = system()
    bare = assemble(found.definitions, found.platform, None)
    drawing = drawn(bare)
    assert drawing.finding is None
    assert "CPU1: empty" in " ".join(drawing.diagram.text)


def test_the_words_are_an_outline_of_positions_parts_and_links() -> None:
    said = topology(system()).text
    at = next(n for n, line in enumerate(said) if line.strip().startswith("SLOT 1: "))
    depth = len(said[at]) - len(said[at].lstrip("\t"))
    below = []
    for line in said[at + 1 :]:
        if not line.startswith("\t" * (depth + 1)):
            break
        below.append(line.strip())
    assert below[0].startswith("Network adapter, two ports")
    assert any(line.startswith("SLOT 1 from CPU1.P") for line in below)
    assert all(len(line) < 120 for line in said)
