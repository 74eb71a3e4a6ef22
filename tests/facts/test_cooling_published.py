"""Heat, air at altitude, airflow and inlet limits, against tables, standards and libraries."""

from decimal import Decimal

import pytest

from specgen.facts.calculators.cooling import derated
from specgen.facts.calculators.heat import density, flow, pressure_at
from specgen.facts.constants import OPERATING_CLASSES
from specgen.quantity import Length, Power, Temperature, TemperatureDifference, VolumeFlow
from tests.facts.test_electrical_published import FLAT, system

# Source: 3600 s / 1055.05585262 J (International Table BTU), as in scipy.constants. W, BTU/h.
HEAT = (
    ("100", "341.2141633"),
    ("500", "1706.0708166"),
    ("750", "2559.1062248"),
    ("1000", "3412.1416331"),
    ("1200", "4094.5699598"),
    ("2000", "6824.2832663"),
)
# Source: P = rho cp Q dT with rho 1.2 kg/m3, cp 1006 J/(kg K). W, K, m3/s, m3/h, CFM, and CFM by
# the rounded rule of 1.76 CFM K/W (from memory)
FLOWS = (
    ("1000", "10", "0.0828363", "298.211", "175.520", "176.00"),
    ("500", "15", "0.0276121", "99.404", "58.507", "58.667"),
    ("750", "20", "0.0310636", "111.829", "65.820", "66.00"),
)
# Source: PsychroLib 2.5.0, CoolProp 8.0.0, ambiance 1.3.1, fluids 1.3.1, dry air. degC, m, pressure
# of ambiance Pa, of PsychroLib Pa, density kg/m3 by the ideal gas, of CoolProp, CFM K/W of CoolProp
AIR = (
    (15, 0, "101325.00", "101325.00", "1.22500", "1.22554", "1.71863"),
    (20, 0, "101325.00", "101325.00", "1.20411", "1.20458", "1.74829"),
    (25, 0, "101325.00", "101325.00", "1.18391", "1.18432", "1.77790"),
    (35, 0, "101325.00", "101325.00", "1.14549", "1.14579", "1.83698"),
    (20, 900, "90971.48", "90970.04", "1.08107", "1.08145", "1.94767"),
    (35, 950, "90422.53", "90420.94", "1.02224", "1.02248", "2.05885"),
    (25, 1500, "84559.67", "84555.93", "0.98802", "0.98831", "2.13108"),
    (30, 1500, "84559.67", "84555.93", "0.97173", "0.97197", "2.16648"),
    (20, 1800, "81494.34", "81489.14", "0.96845", "0.96875", "2.17458"),
    (25, 3050, "69676.88", "69663.80", "0.81413", "0.81432", "2.58701"),
)
# Source: ISO 2533 (ambiance): 1 / delta; CFM for 1 kW and 10 K, inlet held; with sigma, wrong
ALTITUDES = (
    (900, "1.113828", "195.50", "191.53"),
    (1500, "1.198318", "210.33", "203.21"),
    (1800, "1.243416", "218.24", "209.38"),
    (3050, "1.454483", "255.29", "237.73"),
)
GEOPOTENTIAL = Decimal("4e-4")  # libraries take geometric height: 2e-4 at 3 km
AIRFLOW = Decimal("2e-3")
# Source: ASHRAE TC 9.9, Thermal Guidelines, 5th ed. 2021, table 2.1: upper limit at metres above
# sea level; the slopes and the start at 900 m from memory
DERATED = {
    "A1": {900: "32", 1500: "30", 1800: "29", 2000: "28.333", 3000: "25", 3050: "24.833"},
    "A2": {900: "35", 1500: "33", 1800: "32", 2000: "31.333", 3000: "28", 3050: "27.833"},
    "A3": {900: "40", 1500: "36.571", 1800: "34.857", 2000: "33.714", 3000: "28", 3050: "27.714"},
    "A4": {900: "45", 1500: "40.2", 1800: "37.8", 2000: "36.2", 3000: "28.2", 3050: "27.8"},
}
# Source: as above, which agrees with 2019/424, annex II, table 6: lowest, highest, dew point
CLASSES = (("A1", 15, 32, 17), ("A2", 10, 35, 21), ("A3", 5, 40, 24), ("A4", 5, 45, 24))
ISO = "ISO 2533 through ambiance, fluids, PsychroLib, CoolProp"


def celsius(value: int | str) -> Temperature:
    return Temperature.of(value)


def air(degrees: int, metres: int) -> Decimal:
    pressure = pressure_at(Length.of(metres))
    assert pressure is not None
    return density(pressure, celsius(degrees))


def cooled(load: object, **options: object):
    """A system whose supplies lose nothing, so that its heat is its load."""
    return system(load, output=5000, curve=FLAT.format("1", "1"), **options)


@pytest.mark.published("heat", "International Table BTU, scipy.constants")
@pytest.mark.parametrize(("watts", "btu"), HEAT)
def test_heat_in_btu_an_hour(watts, btu):
    facts = cooled(watts)
    assert facts.value("cooling.heat") == Power.of(watts)
    got = facts.value("cooling.heat_btu")
    assert got.unit.symbol == "BTU/h"
    assert got.in_unit("BTU/h") == pytest.approx(Decimal(btu), rel=Decimal("1e-9"))


@pytest.mark.arithmetic("airflow", "P = rho cp Q dT, rho 1.2 kg/m3, cp 1006 J/(kg K)")
@pytest.mark.parametrize(
    ("watts", "kelvin", "second", "hour", "cfm"), [flow_of[:5] for flow_of in FLOWS]
)
def test_airflow_by_the_textbook(watts, kelvin, second, hour, cfm):
    got = flow(Power.of(watts), Decimal("1.2"), TemperatureDifference.of(kelvin))
    assert got.amount == pytest.approx(Decimal(second), rel=Decimal("1e-5"))
    assert got.in_unit("m3/h") == pytest.approx(Decimal(hour), rel=Decimal("1e-5"))
    assert got.in_unit("CFM") == pytest.approx(Decimal(cfm), rel=Decimal("1e-5"))


@pytest.mark.memory("airflow", "the rounded rule of 1.76 CFM K/W")
@pytest.mark.parametrize(
    ("watts", "kelvin", "rule"), [(flow_of[0], flow_of[1], flow_of[5]) for flow_of in FLOWS]
)
def test_airflow_by_the_rounded_rule(watts, kelvin, rule):
    got = flow(Power.of(watts), Decimal("1.2"), TemperatureDifference.of(kelvin))
    assert got.in_unit("CFM") == pytest.approx(Decimal(rule), rel=Decimal("5e-3"))


@pytest.mark.published("air", ISO)
@pytest.mark.parametrize("row", AIR, ids=lambda row: f"{row[0]} degC, {row[1]} m")
def test_pressure_and_density_of_the_standard_atmosphere(row):
    degrees, metres, ambiance, psychrolib, ideal, coolprop, _ = row
    pressure = pressure_at(Length.of(metres))
    assert pressure == pytest.approx(Decimal(ambiance), rel=GEOPOTENTIAL)
    assert pressure == pytest.approx(Decimal(psychrolib), rel=GEOPOTENTIAL)
    assert air(degrees, metres) == pytest.approx(Decimal(ideal), rel=GEOPOTENTIAL)
    assert air(degrees, metres) == pytest.approx(Decimal(coolprop), rel=Decimal("1e-3"))


@pytest.mark.published("airflow", ISO)
@pytest.mark.parametrize("row", AIR, ids=lambda row: f"{row[0]} degC, {row[1]} m")
def test_airflow_of_a_system_where_it_stands(row):
    degrees, metres, *_, factor = row
    where = f", inlet: {degrees} degC, altitude: {metres} m, rise: 10 K"
    facts = cooled(1000, conditions=where)
    got = facts.value("cooling.airflow_needed_cfm").in_unit("CFM")
    assert got == pytest.approx(Decimal(factor) * 100, rel=AIRFLOW)


@pytest.mark.published("airflow", "ISO 2533: 1 / delta at an inlet temperature held")
@pytest.mark.parametrize(("metres", "more", "cfm", "wrong"), ALTITUDES)
def test_trap_thin_air_counts_by_pressure_not_by_the_density_of_the_standard_atmosphere(
    metres, more, cfm, wrong
):
    low, high = (
        cooled(1000, conditions=f", inlet: 20 degC, altitude: {m} m, rise: 10 K").value(
            "cooling.airflow_needed_cfm"
        )
        for m in (0, metres)
    )
    assert high / low == pytest.approx(Decimal(more), rel=AIRFLOW)
    at_sea = Decimal("175.52") / (low.in_unit("CFM")) * high.in_unit("CFM")
    assert at_sea == pytest.approx(Decimal(cfm), rel=AIRFLOW)
    assert abs(at_sea - Decimal(wrong)) > abs(at_sea - Decimal(cfm)) * 5


def test_trap_a_rise_has_its_unit():
    """1.76 goes with kelvin and 3.16 with degrees Fahrenheit; mixed, it is 1.8 times off."""
    facts = cooled(1000, conditions=", inlet: 20 degC, altitude: 0 m, rise: 10 K")
    got = facts.value("cooling.airflow_needed_cfm").in_unit("CFM")
    assert Decimal("1.7") * 100 < got < Decimal("1.8") * 100


def test_trap_heat_is_what_goes_in_and_not_the_load_of_the_supplies():
    facts = system(1000, curve=FLAT.format("0.8", "1"))
    assert facts.value("cooling.heat") == Power.of(1250)
    assert facts.value("cooling.heat_typical") == Power.of(1250)


@pytest.mark.memory("classes", "ASHRAE TC 9.9, notes to table 2.1: slopes and start")
@pytest.mark.parametrize(
    ("name", "metres", "limit"),
    [(name, metres, limit) for name in DERATED for metres, limit in DERATED[name].items()],
)
def test_a_class_allows_less_above_nine_hundred_metres(name, metres, limit):
    got = derated(name, Length.of(metres))
    assert got.amount == pytest.approx(Decimal(limit), abs=Decimal("0.01"))


@pytest.mark.published("classes", "ASHRAE TC 9.9, 5th ed. 2021; 2019/424, annex II, table 6")
@pytest.mark.parametrize(("name", "lowest", "highest", "dew_point"), CLASSES)
def test_what_a_class_allows(name, lowest, highest, dew_point):
    entry = OPERATING_CLASSES[name]
    assert (entry.lowest, entry.highest, entry.dew_point) == (lowest, highest, dew_point)


@pytest.mark.parametrize("name", sorted(OPERATING_CLASSES))
def test_trap_derating_begins_at_nine_hundred_metres_and_not_at_the_sea(name):
    full = Temperature.of(OPERATING_CLASSES[name].highest)
    assert derated(name, Length.of(900)) == derated(name, Length.of(0)) == full
    assert derated(name, Length.of(901)) < full


def test_classes_two_to_four_meet_near_twenty_eight_degrees_at_the_highest_elevation():
    limits = [derated(name, Length.of(3050)).amount for name in ("A2", "A3", "A4")]
    assert all(limit == pytest.approx(Decimal("27.8"), abs=Decimal("0.15")) for limit in limits)


def test_no_class_says_anything_above_its_highest_elevation():
    assert derated("A2", Length.of(3051)) is None


LIBRARY_POINTS = [(degrees, metres) for degrees, metres, *_ in AIR]


@pytest.mark.published("air", "PsychroLib")
@pytest.mark.parametrize(("degrees", "metres"), LIBRARY_POINTS)
def test_as_psychrolib_has_it(degrees, metres):
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    pressure = psychrolib.GetStandardAtmPressure(metres)
    assert float(pressure_at(Length.of(metres))) == pytest.approx(pressure, rel=2e-4)
    expected = psychrolib.GetDryAirDensity(degrees, pressure)
    assert float(air(degrees, metres)) == pytest.approx(expected, rel=3e-4)


@pytest.mark.slow
@pytest.mark.published("air", "CoolProp")
@pytest.mark.parametrize(("degrees", "metres"), LIBRARY_POINTS)
def test_as_coolprop_has_it(degrees, metres):
    props = pytest.importorskip("CoolProp.CoolProp")
    state = ("T", degrees + 273.15, "P", float(pressure_at(Length.of(metres))), "Air")
    assert float(air(degrees, metres)) == pytest.approx(props.PropsSI("D", *state), rel=1e-3)
    carried = props.PropsSI("D", *state) * props.PropsSI("C", *state)
    rise = TemperatureDifference.of(10)
    got = flow(Power.of(1000), air(degrees, metres), rise)
    assert float(got.amount) == pytest.approx(1000 / (carried * 10), rel=2e-3)


@pytest.mark.published("air", "ambiance")
@pytest.mark.parametrize("metres", [0, 900, 1500, 1800, 3050])
def test_as_ambiance_has_it(metres):
    ambiance = pytest.importorskip("ambiance")
    expected = float(ambiance.Atmosphere(metres).pressure[0])
    assert float(pressure_at(Length.of(metres))) == pytest.approx(expected, rel=4e-4)


@pytest.mark.published("air", "fluids")
@pytest.mark.parametrize("metres", [0, 900, 1500, 1800, 3050])
def test_as_fluids_has_it(metres):
    atmosphere = pytest.importorskip("fluids.atmosphere")
    expected = atmosphere.ATMOSPHERE_1976(metres).P
    assert float(pressure_at(Length.of(metres))) == pytest.approx(expected, rel=4e-4)


def test_no_airflow_without_a_rise():
    assert cooled(1000).value("cooling.airflow_needed") is None
    nothing = TemperatureDifference.of(0)
    assert flow(Power.of(1000), Decimal("1.2"), nothing) is None
    assert pressure_at(Length.of(11001)) is None


def test_airflow_is_printed_in_metres_and_in_feet():
    facts = cooled(1000, conditions=", rise: 10 K")
    metric, feet = (facts.value(f"cooling.airflow_needed{end}") for end in ("", "_cfm"))
    assert (metric.unit.symbol, feet.unit.symbol) == ("m3/h", "CFM")
    assert metric == feet
    assert isinstance(metric, VolumeFlow)
