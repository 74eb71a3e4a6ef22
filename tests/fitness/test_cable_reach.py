"""Auxiliary connectors by the positions that their cables reach: enough, each used once."""

from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.fitness.cable_reach import CableOffer, unreached
from tests.mutated.breaks import CARDS, FULL, PLATFORM
from tests.projects import edited, project
from tests.timing import tries

NAMES = ("SLOT 1", "SLOT 2", "SLOT 3", "SLOT 4")
reaches = st.none() | st.frozensets(st.sampled_from(NAMES), min_size=1)
offers = st.lists(reaches, max_size=5)
needs = st.fixed_dictionaries({name: st.integers(0, 2) for name in NAMES})


def _assigned(wanted: list[str], found: list[frozenset[str] | None]) -> bool:
    """Whether each wish can have a connector of its own that reaches it: by trying them all."""
    if not wanted:
        return True
    first, *others = wanted
    return any(
        (reach is None or first in reach) and _assigned(others, found[:at] + found[at + 1 :])
        for at, reach in enumerate(found)
    )


@settings(max_examples=tries(150), deadline=None)
@given(offers, needs)
def test_what_is_short_is_found_just_where_no_way_of_handing_out_is_left(found, wanted):
    connectors = [CableOffer("aux", 1, reach) for reach in found]
    asked = [name for name, count in wanted.items() for _ in range(count)]
    short = unreached(wanted, connectors)
    assert bool(short) is not _assigned(asked, found)
    if short:
        assert _lacking(short, wanted, connectors)
        assert not any(_lacking(short - {name}, wanted, connectors) for name in short)


def _lacking(names, wanted, connectors) -> bool:
    there = sum(each.count for each in connectors if each.serves(names))
    return sum(wanted[name] for name in names) > there


def test_many_groups_of_positions_are_looked_at_together():
    """Twelve cards, each reached by two cables of its own and a neighbour: no two lack any."""
    names = [f"SLOT {at}" for at in range(12)]
    connectors = [CableOffer("aux", 1, frozenset((names[at], names[at + 1]))) for at in range(11)]
    assert unreached(dict.fromkeys(names, 1), connectors) == frozenset(names)
    connectors.append(CableOffer("aux", 1, frozenset((names[5],))))
    assert unreached(dict.fromkeys(names, 1), connectors) == frozenset()


def test_every_connector_is_counted_once_and_pooled_where_nothing_is_said():
    files = edited(
        PLATFORM,
        "resources: {pcie-8-pin: 1}",
        "connectors: [{name: AUX 1, resource: pcie-8-pin}]",
    )
    assert project(files).codes == []
    for reach in ("SLOT 1..2", "[SLOT 3, SLOT 2]", "SLOT 2"):
        files = edited(
            PLATFORM,
            "resources: {pcie-8-pin: 1}",
            f"connectors: [{{name: AUX 1, resource: pcie-8-pin, reaches: {reach}}}]",
        )
        assert project(files).codes == [], reach


def test_a_finding_says_which_cables_reach_the_cards():
    files = edited(
        PLATFORM,
        "resources: {pcie-8-pin: 1}",
        "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: SLOT 2}, "
        "{name: AUX 2, resource: pcie-8-pin, count: 3, reaches: SLOT 3}]",
    )
    assert project(files).codes == []
    files[CARDS] = files[CARDS].replace(
        "{resource: pcie-8-pin,", "{resource: pcie-8-pin, count: 2,"
    )
    found = project(files).findings
    assert [str(each.message) for each in found] == [
        "SLOT 2: 2 of `pcie-8-pin` are taken, and the cables of 1 reach there"
    ]
    assert [str(label.text) for label in found[0].labels] == ["Lantern offers 1"]
    assert found[0].at.span.file.endswith(FULL)


def test_a_connector_of_a_riser_reaches_its_slots_by_their_names_in_the_system(demo):
    from specgen.fitness.cable_reach import offers_of

    riser = demo.definitions.parts["capstan-riser-direct"]
    found = [(each.resource, each.count, each.reach) for each in offers_of(riser.brings, "X", 4)]
    five, seven = {"SLOT 5", "SLOT 6"}, {"SLOT 7", "SLOT 8"}
    assert found == [
        ("pcie-8-pin", 4, five | seven),
        ("12v-2x6", 1, five),
        ("12v-2x6", 1, seven),
    ]
