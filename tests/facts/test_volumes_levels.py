"""Volumes: failures at best, write penalty, random operations, unequal members, spares."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts import ledger
from specgen.facts.calculators import storage
from specgen.facts.calculators.rates import host_operations, penalty_of
from specgen.facts.calculators.storage import LEVELS
from specgen.quantity import DataSize, Ratio
from tests.facts.arrays import array, volume

TEXTBOOK = "Information Storage and Management, 3.5"
SMALLEST = "Public pages: every member counts as the smallest"

# Source: DMTF Volume.json, RAIDType, after SNIA DDF: level, members, groups, failures survived
# where they fall best: one of each pair, and of each group as many as it has parity
AT_BEST = (
    (0, 8, 2, 0),
    (1, 2, 2, 1),
    (1, 3, 2, 2),
    (5, 3, 2, 1),
    (5, 8, 2, 1),
    (6, 4, 2, 2),
    (6, 8, 2, 2),
    (10, 4, 2, 2),
    (10, 8, 2, 4),
    (10, 12, 2, 6),
    (50, 6, 2, 2),
    (50, 12, 3, 3),
    (50, 12, 4, 4),
    (60, 8, 2, 4),
    (60, 12, 3, 6),
    (60, 24, 4, 8),
)


@pytest.mark.arithmetic("RAID levels", "one of each pair, of each group as many as its parity")
@pytest.mark.parametrize(("level", "members", "groups", "failures"), AT_BEST)
def test_failures_that_spread_over_sets_are_survived(level, members, groups, failures):
    assert storage.survived_at_best(level, members, groups) == failures
    facts = array(volume(level, members, groups=groups))
    assert facts.value("storage.V.tolerates_best") == failures


# Source: Information Storage and Management, 2nd edition, 3.5: 2 for a pair, 4 with one parity,
# 6 with two; a copy more is a write more
PENALTIES = (
    (0, 4, 2, 1),
    (1, 2, 2, 2),
    (1, 3, 2, 3),
    (5, 5, 2, 4),
    (6, 6, 2, 6),
    (10, 8, 2, 2),
    (50, 12, 2, 4),
    (60, 12, 2, 6),
)


@pytest.mark.published("RAID write penalty", TEXTBOOK)
@pytest.mark.parametrize(("level", "members", "groups", "penalty"), PENALTIES)
def test_a_small_write_becomes_so_many_operations(level, members, groups, penalty):
    assert penalty_of(level, members, groups) == penalty
    facts = array(volume(level, members, groups=groups))
    assert facts.value("storage.V.write_penalty") == penalty


# Source: as PENALTIES: load = reads + penalty x writes, so host = raw / (r + p x w)
MIXES = (
    (900, "0.84", 4, 2, "608.108"),
    (900, "0.70", 4, 2, "473.684"),
    (900, "0.70", 6, 3, "360"),
    (900, "0.70", 2, 0, "692.308"),
    (1440, "0.84", 2, 0, "1241.379"),
)


@pytest.mark.published("load of RAID members", TEXTBOOK)
@pytest.mark.parametrize(("raw", "share", "penalty", "rereads", "host"), MIXES)
def test_members_carry_so_many_operations_of_the_host(raw, share, penalty, rereads, host):
    found = host_operations(Decimal(share), penalty, rereads, raw, raw)
    assert found == pytest.approx(Decimal(host), abs=Decimal("5e-4"))


# Source: as MIXES; 900 operations are 6 drives of 150, at 70 % reads
WHOLE = ((5, "473.684"), (6, "360"), (10, "692.308"), (0, "900"))


@pytest.mark.published("load of RAID members", TEXTBOOK)
@pytest.mark.parametrize(("level", "host"), WHOLE)
def test_a_volume_of_a_build_carries_the_mix(level, host):
    rate = "read: 1 GB/s, write: 1 GB/s, random_reads: 150, random_writes: 150"
    found = array(volume(level, 6), rates=rate).value("storage.V.random_mixed")
    assert found == pytest.approx(Decimal(host), abs=Decimal("5e-4"))


@pytest.mark.published("load of RAID members", TEXTBOOK)
def test_trap_a_mix_loads_its_members_with_no_more_than_they_do():
    # Source: as MIXES: `raw x w / p + raw x r` would give 792, and load 900 with 1172
    share = Decimal("0.84")
    host = host_operations(share, 4, 2, 900, 900)
    assert host * (share + 4 * (1 - share)) == pytest.approx(Decimal(900), rel=Decimal("1e-20"))
    assert host < 609


# Source: Chen, Lee, Gibson, Katz, Patterson, ACM Computing Surveys 26(2), 1994, table 2, from
# memory: small reads and writes beside as many drives at RAID 0, in groups of four and more
# (six and more with two parities)
BESIDE_RAID_0 = (
    (0, 8, "1", "1"),
    (1, 2, "1", "0.5"),
    (10, 8, "1", "0.5"),
    (5, 4, "1", "0.25"),
    (5, 10, "1", "0.25"),
    (6, 6, "1", "0.1667"),
    (6, 12, "1", "0.1667"),
)


@pytest.mark.memory("small reads and writes of RAID", "Chen et al. 1994, table 2")
@pytest.mark.parametrize(("level", "members", "small_reads", "small_writes"), BESIDE_RAID_0)
def test_small_reads_and_writes_beside_those_of_raid_0(level, members, small_reads, small_writes):
    facts, plain = array(volume(level, members)), array(volume(0, members))
    for key, expected in (("random_reads", small_reads), ("random_writes", small_writes)):
        ratio = Decimal(facts.value(f"storage.V.{key}")) / plain.value(f"storage.V.{key}")
        assert ratio == pytest.approx(Decimal(expected), rel=Decimal("1e-3"))


def test_a_write_takes_the_time_of_the_reads_that_come_with_it():
    # Source: as MIXES, each kind of operation with its own time: 8 / (2 / 1000 + 2 / 100)
    found = host_operations(Decimal(0), 4, 2, 8 * 1000, 8 * 100)
    assert found == pytest.approx(Decimal(8) / (Decimal(2) / 1000 + Decimal(2) / 100))


UNEQUAL = "BAY 1..3: drive\n  BAY 4: large"


# Source: every member counts as the smallest (500 + 500 + 750 GB at RAID 5 = 1000 GB and
# 100 + 350 GB at RAID 0 = 200 GB are in print; SNIA DDF, from memory): sizes in GB, level, usable,
# left unused
UNUSED = (
    ((500, 500, 750), 5, 1000, 250),
    ((100, 350), 0, 200, 250),
    ((500, 750), 1, 500, 250),
    ((1000, 1000, 1000, 2000), 5, 3000, 1000),
    ((4000, 4000, 4000, 4000), 6, 8000, 0),
)


@pytest.mark.published("unequal members of RAID", SMALLEST)
@pytest.mark.parametrize(("sizes", "level", "usable", "unused"), UNUSED)
def test_what_larger_members_hold_beyond_the_smallest_is_left_unused(sizes, level, usable, unused):
    members = tuple(DataSize.of(size, "GB") for size in sizes)
    assert storage.usable(members, level, 2) == DataSize.of(usable, "GB")
    assert storage.unused(members) == DataSize.of(unused, "GB")


@pytest.mark.published("unequal members of RAID", SMALLEST)
def test_trap_the_smallest_member_counts_at_each_level():
    # Source: SNIA DDF; 3 x 1 TB + 1 x 2 TB at RAID 5 is 3 TB, a mirror of 500 and 750 GB 500 GB
    facts = array(volume(5, 4), fit=UNEQUAL)
    assert facts.value("storage.V.usable") == DataSize.of(12, "TB")
    assert facts.value("storage.V.member_capacity") == DataSize.of(4, "TB")
    assert facts.value("storage.V.unused") == DataSize.of(1, "TB")
    assert facts.value("storage.unused") == DataSize.of(1, "TB")


@pytest.mark.published("unequal members of RAID", SMALLEST)
def test_trap_a_mirror_of_two_holds_one_smallest_member_and_not_two():
    # Source: SNIA DDF; a page in public multiplies the smallest member by n here too
    for sizes in ((500, 750), (750, 500), (500, 500)):
        members = tuple(DataSize.of(size, "GB") for size in sizes)
        assert storage.usable(members, 1, 2) == DataSize.of(500, "GB")


def test_trap_hot_spares_are_no_members():
    # Source: SNIA DDF: a spare holds no data, so it adds no capacity, speed or failure survived
    alone, spared = array(volume(5, 4)), array(volume(5, 4, spares="BAY 5..6"))
    keys = ("members", "raw", "usable", "tolerates", "tolerates_best", "read", "random_reads")
    for key in keys:
        assert alone.value(f"storage.V.{key}") == spared.value(f"storage.V.{key}")
    assert spared.value("storage.spares") == 2
    assert spared.value("storage.outside") == DataSize.of(4 * 18, "TB")
    assert alone.value("storage.outside") == DataSize.of(4 * 20, "TB")


def test_levels_that_nothing_supports_have_no_values():
    facts = array(volume(7, 8))
    for key in ("usable", "usable_binary", "tolerates", "tolerates_best", "write_penalty", "read"):
        assert facts.value(f"storage.V.{key}") is None


def test_without_a_declared_share_of_reads_there_is_no_mix():
    assert (
        ledger().by_key["storage.{volume}.random_mixed"].inputs["share"].key == "storage.read_share"
    )
    facts = array(volume(5, 4))
    assert facts.value("storage.read_share") == Ratio.of(70, "%")


sizes = st.lists(st.integers(1, 40_000), min_size=1, max_size=24)


@given(sizes, st.sampled_from(sorted(LEVELS)), st.integers(1, 6))
def test_usable_and_what_is_unused_are_never_more_than_raw(gigabytes, level, groups):
    members = tuple(DataSize.of(size, "GB") for size in gigabytes)
    usable = storage.usable(members, level, groups)
    if usable is not None:
        assert usable + storage.unused(members) <= ledger().by_key["storage.{volume}.raw"](members)


@given(st.integers(4, 24), st.integers(1, 40_000), st.sampled_from([0, 5, 6]))
def test_one_more_equal_drive_adds_exactly_one_drive(members, gigabytes, level):
    drive = DataSize.of(gigabytes, "GB")
    before = storage.usable((drive,) * members, level, 2)
    after = storage.usable((drive,) * (members + 1), level, 2)
    assert after - before == drive


@given(st.integers(2, 12), st.integers(2, 4))
def test_more_parity_never_survives_fewer_failures(each, groups):
    for count, one, two in ((each, 5, 6), (each * groups, 50, 60)):
        for failures in (storage.survived, storage.survived_at_best):
            less, more = failures(one, count, groups), failures(two, count, groups)
            assert less is None or more is None or less < more


@given(st.integers(1, 24), st.sampled_from(sorted(LEVELS)), st.integers(1, 6))
def test_at_best_never_fewer_failures_are_survived_than_at_worst(members, level, groups):
    worst = storage.survived(level, members, groups)
    best = storage.survived_at_best(level, members, groups)
    assert (worst is None) == (best is None)
    if worst is not None and best is not None:
        assert worst <= best < members


@given(
    st.integers(0, 100),
    st.sampled_from([(1, 0), (2, 0), (3, 0), (4, 2), (6, 3)]),
    st.integers(1, 10**7),
    st.integers(1, 10**7),
)
def test_no_mix_is_faster_than_reads_or_writes_alone(percent, penalty, reads, writes):
    mixed, only_reads, only_writes = (
        host_operations(Decimal(share) / 100, *penalty, reads, writes)
        for share in (percent, 100, 0)
    )
    slack = Decimal("1.000000001")
    assert min(only_reads, only_writes) <= mixed * slack
    assert mixed <= max(only_reads, only_writes) * slack


@pytest.mark.practice(
    "storage links and RAID", "a spare holds what the smallest member counts with"
)
def test_a_spare_that_could_take_no_members_place_is_not_counted():
    # members of 5 TB; BAY 4 holds 4 TB, BAY 5 holds 5 TB: one spare stands by
    files = {"fit": "BAY 1..3: large\n  BAY 4: drive\n  BAY 5: large"}
    facts = array(volume(5, 3, spares="[BAY 4, BAY 5]"), **files)
    assert facts.value("storage.V.spares") == 1
    assert facts.value("storage.spares") == 1
    # only the smaller one: no spare, and a repair waits for a replacement
    alone = array(volume(5, 3, spares="BAY 4"), **files)
    assert alone.value("storage.spares") == 0
    bare = array(volume(5, 3), **files)
    assert alone.value("storage.V.repair_time") == bare.value("storage.V.repair_time")


def test_a_larger_spare_is_one():
    facts = array(volume(5, 3, spares="BAY 4"), fit="BAY 1..3: drive\n  BAY 4: large")
    assert facts.value("storage.V.spares") == 1
