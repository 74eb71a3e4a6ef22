"""In what order the positions of a system are reached."""

from collections.abc import Mapping

from specgen.assembly import Assembly
from specgen.assembly.access import Access, access_of, alike
from tests.projects import base, project

COVERS = """\
covers:
  - {name: Lid, over: [inside, Baffle, RISER 1..2], open: Slide it off.}
  - {name: Baffle, over: [processor, heat-sink]}
positions:
"""


def system(changes: Mapping[str, str] = {}) -> Assembly:
    files = base()
    text = files["platforms/lantern.yaml"].replace("positions:\n", COVERS, 1)
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new)
    checked = project({**files, "platforms/lantern.yaml": text})
    assert "SG229" in checked.codes or not [code for code in checked.codes if code < "SG3"]
    return checked.assemblies["lantern-full"]


def access(assembly: Assembly) -> Access:
    places = assembly.places
    spots = [
        (place, None if place.host is None else places[place.host].part)
        for place in places.values()
        if place.filled
    ]
    return access_of(assembly.definitions, assembly.platform, spots)


def test_covers_come_before_what_they_lie_over_and_before_one_another():
    assert access(system()).way("CPU1") == ("Lid", "Baffle", "HS 1")


def test_a_cord_is_unplugged_before_its_supply_is_taken_out():
    found = access(system())
    assert found.way("PSU 1") == ("CORD 1",)
    assert found.way("CORD 1") == ()


def test_a_riser_is_lifted_out_with_its_cards_which_are_reached_then():
    found = access(system())
    assert "RISER 1" in found.way("SLOT 1")
    assert "SLOT 1" not in found.way("RISER 1")


def test_drives_and_cables_come_out_before_their_backplane():
    way = access(system()).way("FRONT")
    assert {"BAY 0", "FRONT.J0"} <= {*way}


def test_cables_to_a_card_are_disconnected_before_the_card_and_what_carries_it():
    assembly = system()
    cables = [place for place in assembly.places.values() if place.to]
    ends = {place.name: (place.to or "").rpartition(".")[0] for place in cables}
    found = access(assembly)
    carded = {cable: end for cable, end in ends.items() if end in found.before}
    assert carded
    for cable, end in carded.items():
        assert cable in found.way(end)
        host = assembly.places[end].host
        assert host is None or cable in found.way(host)


def test_what_is_built_in_is_not_reached():
    found = access(system())
    fixed = [p.name for p in system().places.values() if p.position.fixed is not None]
    assert fixed
    assert not {*fixed} & {*found.before}


def test_rails_lie_outside_of_the_chassis_whatever_covers_the_inside():
    assembly = system()
    rails = [place.name for place in assembly.places.values() if "rail-kit" in place.position.takes]
    found = access(assembly)
    assert rails
    assert all(found.way(name) == () for name in rails if name in found.before)


def test_an_order_without_a_circle_has_each_thing_after_all_that_it_waits_for():
    found = access(system())
    assert found.circle() == ()
    for name in found.before:
        way = (*found.way(name), name)
        assert all(
            way.index(first) < at for at, each in enumerate(way) for first in found.before[each]
        )


def test_a_circle_is_told_with_each_of_its_members():
    assembly = system({"over: [processor, heat-sink]": "over: [processor, heat-sink, Lid]"})
    assert {*access(assembly).circle()} == {"Lid", "Baffle"}
    assert access(assembly).way("CPU1")  # an order is given all the same, each thing once


def test_positions_are_alike_where_the_same_is_done_to_reach_them():
    assembly = system()
    groups = alike(access(assembly), assembly.places.values())
    by_name = {place.name: at for at, group in enumerate(groups) for place in group}
    assert by_name["CPU1"] == by_name["CPU2"]
    assert by_name["HS 1"] != by_name["CPU1"]


def test_what_is_directly_before_leaves_out_what_is_before_that():
    found = access(system())
    assert found.direct("CPU1") == ("HS 1",)
