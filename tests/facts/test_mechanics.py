"""Mass, lifting, racks and floors."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.facts import facts_of
from specgen.facts.calculators.mechanics import lifting, lifting_persons, lifting_reached
from specgen.facts.calculators.rack import depth_needed, floor_pressure
from specgen.pipeline import Survey
from specgen.quantity import Length, Mass, Pressure
from tests.facts.english import in_english
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import project
from tests.sorts import rest_on
from tests.timing import tries

# Source: EIA-310 (DMTF Redfish RackUnits EIA_310): 1 U = 44.45 mm = 1.75 in
UNITS = ((1, "44.45"), (2, "88.90"), (3, "133.35"), (4, "177.80"), (5, "222.25"), (8, "355.60"))
NIOSH = "23 kg (load constant, revised NIOSH lifting equation)"
ISO = "25 kg (reference mass for men, ISO 11228-1:2021)"
ISO_WOMEN = "20 kg (reference mass for women, ISO 11228-1:2021)"
ASSUMPTIONS = "assumptions: {cable_space: {value: 100 mm, source: {document: s}}}\n"
CATALOG = """
- {kind: cable-arm, id: arm, name: Arm, source: {document: a}, adds_depth: 140 mm, mass: 1 kg}
- {kind: cable-arm, id: flat, name: Flat, source: {document: a}, adds_depth: 60 mm}
- {kind: rail-kit, id: rails, name: Rails, source: {document: r}, adjusts_from: 600 mm,
   adjusts_to: 900 mm, load_rating: 30 kg, mass: 2 kg}
"""
RACK = "rack_depth: 900 mm, per_rack: 10, rack_width: 600 mm, rack_length: 1000 mm"


def racked(*fit: str, conditions: str = RACK):
    """A system 700 mm deep, 1 U and 10 kg, with or without an arm and rails."""
    found = project(
        {
            "specgen.yaml": PROJECT + ASSUMPTIONS,
            "catalog/parts.yaml": CATALOG,
            "platforms/bench.yaml": PLATFORM
            + "positions: [{name: ARM, takes: cable-arm}, {name: RAILS, takes: rail-kit}]\n",
            "configured/trial.yaml": BUILD
            + f"conditions: {{{conditions}}}\nfit: {{{', '.join(fit)}}}\n",
        }
    )
    assert found.loaded.findings == ()
    return facts_of(found.assemblies["trial"])


@pytest.mark.published("mechanics", "EIA-310")
@pytest.mark.parametrize(("units", "millimetres"), UNITS)
def test_a_rack_unit_is_so_high(units, millimetres):
    assert Length.of(units, "U") == Length.of(millimetres, "mm")


# Source: panel height n x 44.45 mm - 0.79 mm (EIA-310, from memory; IEC 60297-3-100 has 0.8)
@pytest.mark.memory("mechanics", "EIA-310: panel height")
@pytest.mark.parametrize(("units", "panel"), [(1, "43.66"), (2, "88.11"), (4, "177.01")])
def test_trap_systems_of_the_demo_are_no_taller_than_their_panels(units, panel, demo: Survey):
    heights = {case.facts.value("mechanics.height") for case in demo.cases.values()
               if case.facts.value("mechanics.rack_units") == units}  # fmt: skip
    assert heights
    assert all(height <= Length.of(panel, "mm") + Length.of("0.05", "mm") for height in heights)


@pytest.mark.published("mechanics", "Revised NIOSH lifting equation")
@pytest.mark.parametrize(
    ("mass", "reached"),
    [
        ("19.9", ()),
        ("23", (ISO_WOMEN, NIOSH)),
        ("24.9", (ISO_WOMEN, NIOSH)),
        *rest_on(
            pytest.mark.memory("mechanics", "ISO 11228-1"),
            (
                ("20", (ISO_WOMEN,)),
                ("25", (ISO_WOMEN, NIOSH, ISO)),
                ("60", (ISO_WOMEN, NIOSH, ISO)),
            ),
        ),
    ],
)
def test_lifting_thresholds_are_those_that_are_published(mass, reached):
    assert in_english(lifting_reached(Mass.of(mass))) == reached


@pytest.mark.memory("mechanics", "ISO 11228-1: 0.85 x 20 kg for each of several")
@pytest.mark.parametrize(
    ("mass", "people", "who"),
    [
        ("20", 1, "one person"),
        ("20.1", 2, "two people or a mechanical lift"),
        ("34", 2, "two people or a mechanical lift"),
        ("34.1", 3, "three people or a mechanical lift"),
        ("51", 3, "three people or a mechanical lift"),
        ("51.1", 4, "a mechanical lift"),
        ("62", 4, "a mechanical lift"),
    ],
)
def test_who_lifts_follows_from_the_weight(mass, people, who):
    assert lifting_persons(Mass.of(mass)) == people
    assert str(lifting(people)) == who


def test_trap_labels_for_two_and_three_persons_are_cited_as_no_standard():
    assert not any(
        "32" in words or "55" in words for words in in_english(lifting_reached(Mass.of(80)))
    )


# Source: 51 lb of the revised NIOSH lifting equation, rounded
def test_the_load_constant_in_pounds():
    assert Mass.of(51, "lb").in_unit("kg") == pytest.approx(Decimal(23), abs=Decimal("0.2"))


@pytest.mark.parametrize(
    ("fit", "needed"), [((), 800), (("ARM: arm",), 840), (("ARM: flat",), 800)]
)
def test_depth_needed_is_with_cables_or_with_the_arm_that_holds_them(fit, needed):
    assert racked(*fit).value("mechanics.depth_needed") == Length.of(needed, "mm")


@pytest.mark.parametrize(
    ("fit", "depth", "rails", "fits"),
    [
        ((), 800, 700, "yes"),
        ((), 799, 700, "no"),
        (("RAILS: rails",), 800, 900, "yes"),
        (("RAILS: rails",), 800, 901, "no"),
        (("RAILS: rails",), 800, 599, "no"),
        (("RAILS: rails", "ARM: arm"), 839, 700, "no"),
    ],
)
def test_a_system_fits_by_its_depth_and_by_its_rails(fit, depth, rails, fits):
    facts = racked(*fit, conditions=f"rack_depth: {depth} mm, rail_distance: {rails} mm")
    assert in_english(facts.value("mechanics.fits_rack")) == fits
    assert facts.value("mechanics.depth_spare") == Length.of(depth, "mm") - facts.value(
        "mechanics.depth_needed"
    )


def test_a_rack_full_of_them():
    facts = racked("ARM: arm", conditions=RACK + ", rack_mass: 90 kg")
    assert facts.value("mechanics.rack_units_taken") == 10
    assert facts.value("mechanics.rack_mass") == Mass.of(110)
    assert facts.value("mechanics.floor_load") == Mass.of(200)
    pressure = facts.value("mechanics.floor_pressure")
    assert pressure == Pressure.of(Decimal(200) * Decimal("9.80665") / Decimal("0.6"))
    assert pressure.unit.symbol == "kN/m2"


def test_a_rack_of_unknown_mass_is_left_out_and_that_is_said():
    facts = racked()
    assert facts.value("mechanics.floor_load") == Mass.of(100)
    assert "left out" in str(facts["mechanics.floor_load"].assumes)


def test_no_floor_without_a_rack():
    facts = racked(conditions="line: 230 V")
    for key in ("rack_mass", "floor_load", "floor_pressure", "depth_spare", "fits_rack"):
        assert facts.value(f"mechanics.{key}") is None, key
    assert floor_pressure(Mass.of(100), Length.of(0), Length.of(1)) is None


lengths = st.integers(0, 2000).map(lambda n: Length.of(n, "mm"))


@settings(max_examples=tries(50))
@given(lengths, lengths, st.lists(lengths, max_size=2))
def test_an_arm_never_makes_a_system_shallower(depth, room, arms):
    assert depth_needed(depth, room, tuple(arms)) >= depth_needed(depth, room, ()) >= depth


@given(st.integers(0, 100_000), st.integers(0, 100_000))
def test_a_heavier_system_never_reaches_fewer_thresholds(one, other):
    low, high = (lifting_reached(Mass.of(grams, "g")) for grams in sorted((one, other)))
    assert set(low) <= set(high)


# Rack, rails, floor: what is left of each, by hand. The system weighs 10 kg, the arm 1 kg.
LOADED = RACK + ", rack_mass: 90 kg, rack_units: 12, rack_load_rating: 115 kg"


@pytest.mark.arithmetic("mechanics", "kg x 9.80665 m/s2 / m2")
def test_what_is_left_of_a_rack_and_of_the_floor():
    facts = racked("ARM: arm", conditions=LOADED + ", floor_load_rating: 4 kN/m2")
    assert facts.value("mechanics.rack_units_free") == 2
    assert facts.value("mechanics.rack_headroom") == Mass.of(5)
    left = Pressure.of(4000) - Pressure.of(Decimal(200) * Decimal("9.80665") / Decimal("0.6"))
    assert facts.value("mechanics.floor_headroom").amount == pytest.approx(left.amount)


def test_one_system_is_meant_where_nobody_says_how_many():
    facts = racked(conditions="rack_units: 3, rack_load_rating: 40 kg")
    assert facts.value("mechanics.rack_units_free") == 2
    assert facts.value("mechanics.rack_headroom") == Mass.of(30)
    assert facts.value("mechanics.rack_units_taken") is None


def test_depth_is_judged_without_room_for_cables_where_no_project_takes_any_for_granted():
    assert depth_needed(Length.of(1), None, ()) == Length.of(1)
    assert depth_needed(Length.of(1), None, (Length.of(2),)) == Length.of(3)


def test_rails_carry_all_but_themselves():
    facts = racked("ARM: arm", "RAILS: rails")
    assert facts.value("mechanics.mass") == Mass.of(13)
    assert facts.value("mechanics.rails_load") == Mass.of(11)
    assert facts.value("mechanics.rails_headroom") == Mass.of(19)
