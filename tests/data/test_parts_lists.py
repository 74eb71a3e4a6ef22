"""What a parts list holds, alone and for several builds."""

import pytest

from specgen.document.case import Case
from specgen.document.data import PartsList, parts_list
from specgen.pipeline import Survey
from specgen.quantity import Mass


@pytest.fixture(scope="module")
def order(demo: Survey) -> PartsList:
    return parts_list([(demo.cases["lantern-office"], 3), (demo.cases["boathouse-archive"], 1)])


def one(case: Case) -> dict[str, int]:
    return {line.id: line.quantity for line in parts_list([(case, 1)]).lines}


def test_an_order_is_the_sum_of_its_builds(demo: Survey, order: PartsList):
    office, archive = one(demo.cases["lantern-office"]), one(demo.cases["boathouse-archive"])
    assert {line.id: line.quantity for line in order.lines} == {
        id_: 3 * office.get(id_, 0) + archive.get(id_, 0) for id_ in {*office, *archive}
    }


def test_a_build_named_twice_counts_twice(demo: Survey):
    case = demo.cases["lantern-office"]
    assert parts_list([(case, 1), (case, 2)]) == parts_list([(case, 3)])


def test_the_system_itself_is_on_the_list_and_first(order: PartsList):
    first = [(line.id, line.quantity) for line in order.lines[:2]]
    assert first == [("boathouse", 1), ("lantern", 3)]
    assert order.lines[0].kind == "Platform"


def test_what_is_soldered_on_is_not_ordered(demo: Survey):
    case = demo.cases["lantern-office"]
    soldered = {
        place.part.id
        for place in case.assembly.places.values()
        if place.how == "fixed" and place.part is not None
    }
    assert soldered
    assert not soldered & set(one(case))


def test_fillers_are_ordered(demo: Survey):
    case = demo.cases["lantern-relay"]
    blanks = {place.closed_by.id for place in case.assembly.places.values() if place.closed_by}
    assert blanks
    assert blanks <= set(one(case))


def test_the_mass_of_the_list_is_that_of_the_system_with_what_is_soldered_on(demo: Survey):
    for name, case in demo.cases.items():
        listed = parts_list([(case, 1)])
        soldered = [
            part.mass.in_unit("kg")
            for place, part in case.assembly.everything()
            if place.how == "fixed" and part.mass is not None
        ]
        mass = case.facts.value("mechanics.mass")
        if listed.without_mass == 0 and isinstance(mass, Mass):
            assert mass.in_unit("kg") == listed.kilograms, name
            assert listed.kilograms_soldered == sum(soldered), name


def test_quantities_and_places_agree(order: PartsList):
    counts = {each.build: each.count for each in order.builds}
    for line in order.lines:
        assert line.quantity == sum(use.each * counts[use.build] for use in line.uses)
        for use in line.uses:
            assert line.kind == "Platform" or use.each == len(use.positions)


def test_status_and_successor_are_reported(demo: Survey):
    listed = parts_list([(demo.cases["lantern-old-stock"], 1)])
    old = [line for line in listed.lines if line.status != "active"]
    assert old
    assert any(line.replaced_by for line in old)
