"""Rebuilding, the model of data loss, failures a year and wear, against published values."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts.calculators import drives, reliability
from specgen.facts.calculators.drives import written
from specgen.facts.calculators.reliability import chance_within, loss_of_volume, time_to_data_loss
from specgen.quantity import DataSize, Duration, show
from tests.facts.arrays import array, volume

LOSS = "mean time to data loss"
FIRST = pytest.mark.memory(LOSS, "Patterson, Gibson, Katz, SIGMOD 1988")
MODERN = pytest.mark.memory(LOSS, "Chen et al. 1994")
WEAR = pytest.mark.published("endurance of flash", "Public pages: writes a day in terabytes")
FAILURE = pytest.mark.published("annual failure rate", "Public pages: 1 - exp(-t / MTBF)")

# Source: Patterson, Gibson, Katz, SIGMOD 1988 (UCB/CSD-87-391), from memory: 100 data disks, mean
# time to failure 30 000 h, repair 1 h; data and check disks of a group, value of the formula, the
# value in print
PATTERSON = (
    (1, 1, "4500000", "4500000"),
    (10, 4, "494505.49", "494500"),
    (10, 1, "818181.82", "820000"),
    (25, 1, "346153.85", "346000"),
    (25, 5, "258620.69", None),
)


@FIRST
@pytest.mark.parametrize(("data", "check", "hours", "printed"), PATTERSON)
def test_the_first_paper_on_raid(data, check, hours, printed):
    found = time_to_data_loss(Decimal(30_000), Decimal(1), data + check, 1, 100 // data)
    assert found == pytest.approx(Decimal(hours), rel=Decimal("1e-7"))
    if printed is not None:
        assert found == pytest.approx(Decimal(printed), rel=Decimal("5e-3"))


# Source: Chen, Lee, Gibson, Katz, Patterson, ACM Computing Surveys 26(2), 1994, from memory:
# M, R in hours, members, and mean hours to data loss at RAID 0, of a pair, at RAID 5 and 6
CHEN = (
    (1_200_000, 24, 8, "150000", "3.0e10", "1.0714285714e9", "8.9285714e12"),
    (2_000_000, 24, 8, "250000", "8.3333333e10", "2.9761904762e9", "4.1335979e13"),
    (1_000_000, 24, 4, "250000", "2.0833333e10", "3.4722222222e9", "7.2337963e13"),
    (1_000_000, 48, 12, "83333.33", "1.0416667e10", "1.5782828e8", "3.2880892e11"),
)
COLUMNS = (("RAID 0", None, 0), ("pair", 2, 1), ("RAID 5", None, 1), ("RAID 6", None, 2))


@MODERN
@pytest.mark.parametrize("column", range(4), ids=[name for name, _, _ in COLUMNS])
@pytest.mark.parametrize("row", CHEN, ids=["1.2e6", "2e6", "1e6", "1e6 slow"])
def test_the_modern_forms(row, column):
    between, repair, members, *expected = row
    _, fixed, tolerated = COLUMNS[column]
    found = time_to_data_loss(Decimal(between), Decimal(repair), fixed or members, tolerated, 1)
    assert found == pytest.approx(Decimal(expected[column]), rel=Decimal("1e-7"))


@pytest.mark.published(LOSS, "Public pages: an exercise")
def test_a_mirrored_pair_as_in_print():
    # Source: an exercise in public: M = 6 000 000 h, R = 120 h -> M^2 / (2 R)
    found = time_to_data_loss(Decimal(6_000_000), Decimal(120), 2, 1, 1)
    assert found == Decimal(150_000_000_000)


@pytest.mark.arithmetic(LOSS, "the two-state Markov chain solved exactly")
def test_the_approximation_is_a_little_below_the_exact_model():
    # Source: the two-state Markov chain solved exactly, (2N - 1 + M / R) M / (N (N - 1))
    between, repair, members = Decimal(1_200_000), Decimal(24), 8
    exact = ((2 * members - 1) + between / repair) * between / (members * (members - 1))
    assert exact == pytest.approx(Decimal("1.07175e9"), rel=Decimal("1e-5"))
    found = time_to_data_loss(between, repair, members, 1, 1)
    assert 0 < 1 - found / exact < Decimal("0.0004")


# Source: as CHEN; sets in a row lose data so many times as soon: level, members, groups, the
# members of a set, failures it survives, sets
SETS = (
    (0, 8, 2, 8, 0, 1),
    (1, 2, 2, 2, 1, 1),
    (1, 3, 2, 3, 2, 1),
    (5, 8, 2, 8, 1, 1),
    (6, 8, 2, 8, 2, 1),
    (10, 8, 2, 2, 1, 4),
    (50, 12, 3, 4, 1, 3),
    (60, 12, 2, 6, 2, 2),
)


@pytest.mark.parametrize(("level", "members", "groups", "each", "tolerated", "sets"), SETS)
def test_a_volume_is_as_many_sets_as_its_level_has(level, members, groups, each, tolerated, sets):
    between, repair = Duration.of(1_200_000, "h"), Duration.of(24, "h")
    found = loss_of_volume(between, repair, members, level, groups)
    alone = time_to_data_loss(Decimal(1_200_000), Decimal(24), each, tolerated, 1)
    assert found == pytest.approx(alone / sets, rel=Decimal("1e-20"))


MTBF = "mean_time_between_failures: 1200000 h"


@MODERN
def test_a_volume_of_a_build_by_the_model():
    # Source: as CHEN: M = 1 200 000 h, R = 24 h, eight members
    facts = array(volume(5, 8, spares="BAY 9"), capacity="8.64 TB", more=MTBF)
    assert facts.value("storage.V.repair_time") == Duration.of(24, "h")
    mean = facts.value("storage.V.time_to_data_loss").in_unit("h")
    assert mean == pytest.approx(Decimal("1.0714285714e9"), rel=Decimal("1e-9"))
    facts = array(volume(6, 8, spares="BAY 9"), capacity="8.64 TB", more=MTBF)
    mean = facts.value("storage.V.time_to_data_loss").in_unit("h")
    assert mean == pytest.approx(Decimal("8.9285714286e12"), rel=Decimal("1e-9"))


def test_trap_the_model_is_never_told_as_a_lifetime():
    # Source: the model knows nothing of sectors that cannot be read during a rebuild
    facts = array(volume(5, 8), more=MTBF)
    for key in ("storage.V.time_to_data_loss", "storage.V.data_loss"):
        assert "model value" in str(facts[key].label)
        assert "no lifetime" in str(facts[key].assumes)
        assert "cannot be read" in str(facts[key].assumes)
    assert "no lifetime" in str(facts["storage.V.time_to_data_loss"].label)
    assert facts["storage.V.time_to_data_loss"].value.unit.symbol == "h"


def test_the_chance_of_data_loss_within_a_year_follows_from_the_mean():
    # 1 - exp(-8760 / 150 000) = 5.6728 %: eight members at RAID 0, M = 1 200 000 h
    facts = array(volume(0, 8), more=MTBF)
    assert facts.value("storage.V.time_to_data_loss") == Duration.of(150_000, "h")
    loss = facts.value("storage.V.data_loss").amount
    assert loss == pytest.approx(Decimal("5.6728"), abs=Decimal("1e-4"))


def test_rebuilding_takes_the_capacity_at_the_assumed_rate():
    # 3.6 TB at 100 MB/s: 36 000 s
    facts = array(volume(5, 4), capacity="3.6 TB")
    assert facts.value("storage.V.rebuild_time") == Duration.of(10, "h")
    assert facts.value("storage.V.repair_time") == Duration.of(34, "h")
    spared = array(volume(5, 4, spares="BAY 5"), capacity="3.6 TB")
    assert spared.value("storage.V.repair_time") == Duration.of(10, "h")


def test_no_rebuild_is_faster_than_a_member_writes():
    # 500 MB/s though 2 GB/s are assumed: 3.6 TB take 7200 s
    facts = array(volume(5, 4), capacity="3.6 TB", rate="2 GB/s")
    assert facts.value("storage.V.rebuild_time") == Duration.of(2, "h")


def test_a_member_that_states_no_writes_is_rebuilt_at_the_assumed_rate():
    # 3.6 TB at 100 MB/s: 36 000 s
    facts = array(volume(5, 4), capacity="3.6 TB", rates="read: 500 MB/s")
    assert facts.value("storage.V.member_write") is None
    assert facts.value("storage.V.rebuild_time") == Duration.of(10, "h")


def test_a_larger_member_is_rebuilt_as_far_as_it_is_used():
    facts = array(volume(5, 4), fit="BAY 1..3: drive\n  BAY 4: large")
    found = facts.value("storage.V.rebuild_time").in_unit("h")
    assert found == pytest.approx(Decimal(100) / 9)  # 4 TB at 100 MB/s are 40 000 s


def test_nothing_can_be_rebuilt_without_copies_or_parity():
    facts = array(volume(0, 4), more=MTBF)
    assert facts.value("storage.V.rebuild_time") is None
    assert facts.value("storage.V.repair_time") is None
    assert facts.value("storage.V.time_to_data_loss") is not None


def test_the_weakest_member_counts():
    facts = array(volume(0, 4), fit="BAY 1..3: drive\n  BAY 4: slower", more=MTBF)
    assert facts.value("storage.V.member_time_between_failures") == Duration.of(100_000, "h")
    assert facts.value("storage.V.time_to_data_loss") == Duration.of(25_000, "h")


# Source: annual failure rate = 1 - exp(-t / MTBF), by that formula for the two years in use:
# MTBF in h, hours a year, per cent to within 0.001
EXACT = (
    (300_000, 8760, "2.87778"),
    (700_000, 8760, "1.24363"),
    (1_000_000, 8760, "0.87217"),
    (1_200_000, 8760, "0.72734"),
    (2_000_000, 8760, "0.43704"),
    (2_500_000, 8760, "0.34979"),
    (300_000, 8766, "2.87972"),
    (700_000, 8766, "1.24448"),
    (1_000_000, 8766, "0.87277"),
    (1_200_000, 8766, "0.72784"),
    (2_000_000, 8766, "0.43734"),
    (2_500_000, 8766, "0.35003"),
    (700_000, 2400, "0.34227"),
)


@FAILURE
@pytest.mark.parametrize(("between", "hours", "percent"), EXACT)
def test_so_many_of_a_population_fail_in_a_year(between, hours, percent):
    found = chance_within(Decimal(hours), Decimal(between))
    assert found * 100 == pytest.approx(Decimal(percent), abs=Decimal("1e-5"))
    shown = drives.annual_failure_rate(Duration.of(between, "h"), Duration.of(hours, "h"))
    assert shown.amount == pytest.approx(Decimal(percent), rel=Decimal("5e-3"))


# Source: public pages that divide (hours / MTBF): MTBF in h, hours a year, per cent in print
DIVIDED = (
    (1_200_000, 8760, "0.73"),
    (700_000, 2400, "0.34"),
    (1_000_000, 8760, "0.876"),
    (300_000, 8760, "2.92"),
)


@FAILURE
@pytest.mark.parametrize(("between", "hours", "percent"), DIVIDED)
def test_the_rate_lies_a_little_below_plain_division(between, hours, percent):
    found = chance_within(Decimal(hours), Decimal(between)) * 100
    plain = Decimal(hours) * 100 / between
    assert plain == pytest.approx(Decimal(percent), abs=Decimal("5e-3"))
    assert 0 < plain - found < plain**2 / 200 + Decimal("1e-9")


@FAILURE
def test_trap_a_mean_time_between_failures_is_no_lifetime():
    # Source: as EXACT: 2 000 000 h is 0.437 % of a population a year, not 228 years for one drive
    facts = array("[]", more="mean_time_between_failures: 2000000 h")
    rate = facts["drives.drive.annual_failure_rate"]
    assert rate.value.amount == pytest.approx(Decimal("0.43704"), abs=Decimal("1e-5"))
    assert "no lifetime" in str(rate.assumes)
    assert facts.value("drives.drive.failures") == 24 * rate.value.fraction
    assert facts.value("storage.failures") == 24 * rate.value.fraction


@FAILURE
def test_the_year_is_the_one_that_the_project_declares():
    # Source: as EXACT
    facts = array("[]", more="mean_time_between_failures: 300000 h", year="8766 h")
    found = facts.value("drives.drive.annual_failure_rate").amount
    assert found == pytest.approx(Decimal("2.87972"), abs=Decimal("1e-5"))
    facts = array("[]", more="mean_time_between_failures: 700000 h", year="2400 h")
    found = facts.value("drives.drive.annual_failure_rate").amount
    assert found == pytest.approx(Decimal("0.34227"), abs=Decimal("1e-5"))


def test_one_silent_sort_of_drive_leaves_no_sum_of_failures():
    fit = "BAY 1..3: drive\n  BAY 4: slower"
    facts = array("[]", fit=fit)
    assert facts.value("drives.slower.failures") is not None
    assert facts.value("storage.failures") is None
    assert array("[]", fit=fit, more=MTBF).value("storage.failures") is not None


# Source: terabytes written = drive writes per day x capacity x 365 x years (algebra of the
# definition; five-year example on a public page): writes a day, TB, years, terabytes written
WRITTEN = (
    ("1", "3.84", 5, "7008"),
    ("3", "3.2", 5, "17520"),
    ("3", "1.6", 5, "8760"),
    ("0.3", "7.68", 5, "4204.8"),
    ("1", "3.84", 3, "4204.8"),
    ("10", "0.4", 5, "7300"),
    ("1", "15", 5, "27375"),
)


@WEAR
@pytest.mark.parametrize(("writes", "terabytes", "years", "expected"), WRITTEN)
def test_writes_a_day_are_so_many_terabytes_in_the_warranty(writes, terabytes, years, expected):
    capacity, warranty = DataSize.of(terabytes, "TB"), Duration.of(years, "y")
    found = written(capacity, Decimal(writes), warranty)
    assert found.in_unit("TB") == Decimal(expected)
    assert found.in_unit("PB") == Decimal(expected) / 1000
    more = f"writes_per_day: {writes}, warranty: {years} y"
    facts = array("[]", fit="BAY 1..3: drive", capacity=f"{terabytes} TB", more=more)
    assert facts.value("drives.drive.endurance") == found
    assert facts.value("storage.endurance") == found * 3
    assert facts.value("storage.written_per_day") == capacity * Decimal(writes) * 3


@WEAR
def test_terabytes_written_back_to_writes_a_day():
    # Source: 26 700 TB written on 15 TB within 5 years, which a public page calls 1 a day
    stated, capacity = DataSize.of(26_700, "TB"), DataSize.of(15, "TB")
    found = drives.comparable_writes(stated, capacity, Duration.of(5, "y"))
    assert found == pytest.approx(Decimal("0.97534"), abs=Decimal("5e-6"))


@pytest.mark.arithmetic("endurance of flash", "writes a day x capacity x 365 x years")
def test_trap_writes_a_day_compare_over_one_span_only():
    # Source: as WRITTEN: 1 a day for 3 years is 0.6 a day for 5
    three = array("[]", more="writes_per_day: 1, warranty: 3 y")
    five = array("[]", more="writes_per_day: 0.6, warranty: 5 y")
    assert three.value("drives.drive.comparable_writes") == Decimal("0.6")
    assert five.value("drives.drive.comparable_writes") == Decimal("0.6")
    assert three.value("drives.drive.endurance") == five.value("drives.drive.endurance")
    assert three.value("storage.written_per_day") > five.value("storage.written_per_day")


@pytest.mark.arithmetic("endurance of flash", "writes a day x capacity x 365 x years")
def test_trap_terabytes_written_are_decimal():
    # Source: JESD218: 7008 x 10^12 bytes; in binary units the number would be 6373.7
    facts = array(
        "[]", fit="BAY 1: drive", capacity="3.84 TB", more="writes_per_day: 1, warranty: 5 y"
    )
    assert show(facts.value("drives.drive.endurance")) == "7008\u202fTB"
    assert facts.value("drives.drive.endurance").amount == 7008 * 10**12


def test_flash_that_does_not_state_its_endurance_leaves_no_sum():
    assert array("[]").value("storage.endurance") is None
    assert array("[]").value("storage.written_per_day") is None


SENSELESS = (
    {"capacity": "0 TB"},
    {"more": "mean_time_between_failures: 0 h, writes_per_day: 1, warranty: 5 y"},
    {"year": "0 h", "more": MTBF},
    {"rate": "0 MB/s", "more": MTBF},
    {"share": "200 %"},
    {"span": "0 y", "more": "writes_per_day: 1, warranty: 5 y"},
    {"rates": "read: 0 MB/s, write: 0 MB/s"},
)


@pytest.mark.parametrize("values", SENSELESS, ids=str)
@pytest.mark.parametrize("level", [0, 1, 6])
def test_senseless_values_break_nothing(values, level):
    facts = array(volume(level, 8), **values)
    assert all(show(fact.value) for fact in facts.values())


spans = st.integers(1, 10**7)


@given(spans, spans, st.integers(2, 24), st.integers(0, 3))
def test_one_more_failure_survived_never_shortens_the_time(between, repair, members, tolerated):
    if tolerated + 1 >= members or repair * members > between:
        return
    less = time_to_data_loss(Decimal(between), Decimal(repair), members, tolerated, 1)
    more = time_to_data_loss(Decimal(between), Decimal(repair), members, tolerated + 1, 1)
    assert more >= less


@given(spans, st.integers(1, 1000), st.integers(3, 23), st.integers(0, 2))
def test_one_more_member_never_lengthens_the_time(between, repair, members, tolerated):
    fewer = time_to_data_loss(Decimal(between), Decimal(repair), members, tolerated, 1)
    more = time_to_data_loss(Decimal(between), Decimal(repair), members + 1, tolerated, 1)
    assert more <= fewer


@given(spans, spans)
def test_a_chance_is_between_none_and_certain(span, mean):
    assert 0 < chance_within(Decimal(span), Decimal(mean)) <= 1
    assert reliability.data_loss(Duration.of(mean, "h"), Duration.of(span, "h")).amount <= 100
