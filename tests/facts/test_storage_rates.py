"""Ceilings of volumes: which stage is the least, and how it grows and shrinks."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.facts.calculators.sequential import PathSegment, least_stage
from specgen.quantity import DataRate
from tests.facts.arrays import array, volume
from tests.facts.english import in_english
from tests.timing import tries

RATES = "Serial ATA; INCITS: SAS-2 to SAS-4; PCI Express Base"

FAST = "read: 100 GB/s, write: 100 GB/s, random_reads: 1000, random_writes: 1000"

SAS = "{sas: 4, sata: 3}"


def reads(drive: str, bay: str = "x1", **further: str):
    """The sequential ceiling of one drive that is faster than any link, in MB/s, and its stage."""
    facts = array(
        volume(0, 1), fit="BAY 1: drive", drive=drive, rates=FAST, bay=bay, port="x32", **further
    )
    limit = in_english(facts.value("storage.V.read_limit"))
    return facts.value("storage.V.read").in_unit("MB/s"), limit


# Source: Serial ATA 3.x; SAS-2, SAS-3 (INCITS 519), SAS-4 (INCITS 534: 22.5 Gbit/s, 128b/150b);
# PCI Express Base for NVMe; edition numbers from memory. MB/s one way.
LINKS = (
    ("interface: sata, generation: 1", "x1", "150"),
    ("interface: sata, generation: 2", "x1", "300"),
    ("interface: sata, generation: 3", "x1", "600"),
    ("interface: sas, generation: 2", "x1", "600"),
    ("interface: sas, generation: 3", "x1", "1200"),
    ("interface: sas, generation: 4", "x1", "2400"),
    ("interface: sas, generation: 3, lanes: x4", "x4", "4800"),
    ("interface: sas, generation: 4, lanes: x4", "x4", "9600"),
    ("interface: nvme, generation: 3, lanes: x4", "x4", "3938.4615"),
    ("interface: nvme, generation: 4, lanes: x4", "x4", "7876.9231"),
    ("interface: nvme, generation: 5, lanes: x4", "x4", "15753.8462"),
)


@pytest.mark.published("storage links", RATES)
@pytest.mark.parametrize(("drive", "bay", "megabytes"), LINKS)
def test_no_drive_is_faster_than_its_link(drive, bay, megabytes):
    rate, stage = reads(drive, bay)
    assert rate == pytest.approx(Decimal(megabytes), rel=Decimal("1e-6"))
    assert stage == "drive links"


@pytest.mark.published("storage links", RATES)
def test_trap_sas_4_moves_2400_and_not_2560_megabytes():
    # Source: INCITS 534: 22.5 x 128 / 150; the trade's 24 x 128 / 150 would be 2560
    assert reads("interface: sas, generation: 4")[0] == 2400


@pytest.mark.published("storage links", "DMTF CapableSpeedGbs of a mock-up")
def test_trap_the_raw_rate_of_a_bus_is_no_throughput():
    # Source: DMTF CapableSpeedGbs is raw: 32 for x4 at 8 GT/s, an eighth of it would be 4000
    assert reads("interface: nvme, generation: 3, lanes: x4", "x4")[0] < 4000


@pytest.mark.practice("storage links", "a link runs at the least of its stages")
def test_trap_a_fast_drive_in_a_slow_bay_moves_what_the_bay_does():
    # Source: PCI Express Base: a link runs at the rate and width that both ends have
    fast = "interface: nvme, generation: 4, lanes: x4"
    slow = reads(fast, "x4", carries="{pcie: 3}")[0]
    assert slow == pytest.approx(Decimal("3938.4615"), rel=Decimal("1e-6"))


@pytest.mark.practice("storage links", "a link runs at the least of its stages")
def test_trap_four_lanes_of_a_drive_on_two_of_a_backplane_move_half():
    # Source: as before
    half = reads("interface: nvme, generation: 4, lanes: x4", "x2")[0]
    assert half == pytest.approx(Decimal("3938.4615"), rel=Decimal("1e-6"))


@pytest.mark.published("storage links", RATES)
def test_a_sata_drive_on_a_sas_port_runs_at_the_rate_of_sata():
    # Source: INCITS 519 and 534: SAS hosts serve SATA drives
    assert reads("interface: sata, generation: 3", carries="{sas: 4, sata: 3}")[0] == 600


def test_the_drives_set_the_ceiling_where_they_are_the_slowest():
    facts = array(volume(5, 4))
    assert facts.value("storage.V.read") == DataRate.of(4, "GB/s")
    assert facts.value("storage.V.write") == DataRate.of("1.5", "GB/s")
    assert in_english(facts.value("storage.V.read_limit")) == "drives"
    assert in_english(facts.value("storage.V.write_limit")) == "drives"


def test_the_host_link_sets_the_ceiling_of_many_fast_drives():
    # 8 lanes at 8 GT/s: 7.877 GB/s; 24 drives read 24 GB/s and write 22 x 0.5 = 11 GB/s
    facts = array(volume(60, 24), slot="lanes: x8, generation: 3")
    assert facts.value("storage.V.read").in_unit("GB/s") == pytest.approx(Decimal("7.876923"))
    assert in_english(facts.value("storage.V.read_limit")) == "host link of SLOT 1"
    assert in_english(facts.value("storage.V.write_limit")) == "host link of SLOT 1"


def test_the_uplink_of_an_expander_is_shared_by_all_behind_it():
    # 4 lanes of SAS-4: 9.6 GB/s, and 24 drives read 24 GB/s; parity crosses it with the data
    facts = array(volume(5, 24), expander="x4", carries=SAS)
    assert facts.value("storage.V.read") == DataRate.of("9.6", "GB/s")
    assert in_english(facts.value("storage.V.read_limit")) == "link of EXP 1"
    assert facts.value("storage.V.write").in_unit("GB/s") == Decimal("9.6") * 23 / 24
    assert in_english(facts.value("storage.V.write_limit")) == "link of EXP 1"


def test_both_copies_of_a_mirror_cross_the_uplink_but_not_the_host_link():
    # 4 lanes of SAS-4 carry 9.6 GB/s: reads once, writes twice
    facts = array(volume(10, 24), expander="x4", carries=SAS, rates=FAST)
    assert facts.value("storage.V.read") == DataRate.of("9.6", "GB/s")
    assert facts.value("storage.V.write") == DataRate.of("4.8", "GB/s")
    host = array(volume(10, 24), slot="lanes: x1, generation: 3", rates=FAST)
    assert host.value("storage.V.write") == host.value("storage.V.read")


def test_the_port_of_a_controller_is_shared_by_the_drives_on_it():
    # 4 lanes of SAS-4 for 8 drives: 9.6 GB/s, and their links add up to 19.2
    facts = array(volume(0, 8), port="x4", rates=FAST)
    assert facts.value("storage.V.read") == DataRate.of("9.6", "GB/s")
    assert in_english(facts.value("storage.V.read_limit")) == "port SLOT 1.C0"


def test_the_slowest_member_holds_all_back():
    facts = array(volume(0, 4), fit="BAY 1..3: drive\n  BAY 4: slower")
    assert facts.value("storage.V.read") == DataRate.of(400, "MB/s")
    assert facts.value("storage.V.random_reads") == 400
    assert facts.value("storage.V.random_writes") == 400


def test_a_member_that_does_not_say_how_fast_it_is_leaves_no_value():
    facts = array(volume(0, 4), rates="")
    for key in ("read", "read_limit", "write", "write_limit", "random_reads", "random_writes"):
        assert facts.value(f"storage.V.{key}") is None


def test_a_volume_that_cannot_be_formed_has_no_ceiling():
    facts = array(volume(6, 3))
    for key in ("read", "write", "write_penalty", "random_reads", "random_writes", "random_mixed"):
        assert facts.value(f"storage.V.{key}") is None


# Source: Chen, Lee, Gibson, Katz, Patterson, ACM Computing Surveys 26(2), 1994, table 2, from
# memory: throughput beside as many drives at RAID 0; G members in a group. Level, G, long reads,
# long writes.
BESIDE_RAID_0 = (
    (0, 8, "1", "1"),
    (1, 2, "1", "0.5"),
    (10, 8, "1", "0.5"),
    (5, 4, "1", "0.75"),
    (5, 8, "1", "0.875"),
    (5, 10, "1", "0.9"),
    (6, 4, "1", "0.5"),
    (6, 8, "1", "0.75"),
    (6, 10, "1", "0.8"),
)


@pytest.mark.memory("long reads and writes of RAID", "Chen et al. 1994, table 2")
@pytest.mark.parametrize(("level", "members", "long_reads", "long_writes"), BESIDE_RAID_0)
def test_long_reads_and_writes_beside_those_of_raid_0(level, members, long_reads, long_writes):
    here, plain = array(volume(level, members)), array(volume(0, members))
    for key, expected in (("read", long_reads), ("write", long_writes)):
        ratio = here.value(f"storage.V.{key}") / plain.value(f"storage.V.{key}")
        assert ratio == Decimal(expected)


# By hand from the definitions of the demo. Pictures: 24 drives read 2.15 GB/s and write 2 GB/s
# behind one cable of 8 lanes of SAS-4, 19.2 GB/s; 21 of 24 members carry data. Backups: 12 disks
# of 265 MB/s on links of their own, 8 carry data. Sticks behind a boot module on 4 lanes at
# 16 GT/s: 2 x 4.8 GB/s to read, 7.877 on the way; one copy of 0.7 GB/s to write.
BY_HAND = (
    ("boathouse-pictures", "Pictures", "19.2", "link of FRONT.J0", "16.8", "link of FRONT.J0"),
    ("boathouse-backup", "Backups", "3.18", "drives", "2.12", "drives"),
    ("boathouse-backup", "System", "7.876923", "host link of BOOT", "0.7", "drives"),
    ("pocket-tide-gauge", "Readings", "1.1", "drives", "0.5", "drives"),
)


@pytest.mark.parametrize(("build", "name", "read", "read_by", "write", "write_by"), BY_HAND)
def test_ceilings_of_the_demo_by_hand(demo, build, name, read, read_by, write, write_by):
    facts = demo.cases[build].facts
    for key, rate, stage in (("read", read, read_by), ("write", write, write_by)):
        found = facts.value(f"storage.{name}.{key}").in_unit("GB/s")
        assert found == pytest.approx(Decimal(rate), rel=Decimal("1e-6"))
        assert in_english(facts.value(f"storage.{name}.{key}_limit")) == stage


def test_every_volume_of_the_demo_has_all_its_values(demo):
    missing = [
        fact.key
        for case in demo.cases.values()
        for fact in case.facts.values()
        if fact.key.startswith("storage.")
        and fact.subject
        and fact.value is None
        and case.facts.value(f"storage.{fact.subject}.tolerates")
    ]
    assert missing == []


rates = st.integers(1, 100_000)
paths = st.lists(st.tuples(rates, st.booleans()), max_size=5)


@given(rates, paths, st.integers(1, 24), st.integers(0, 2), st.integers(0, 4), st.booleans())
def test_a_narrower_stretch_never_raises_the_ceiling(drive, way, members, parity, which, writing):
    data = max(1, members - parity)
    each = DataRate.of(drive, "MB/s")
    before = tuple(
        PathSegment(str(number), DataRate.of(rate, "MB/s"), members, host)
        for number, (rate, host) in enumerate(way)
    )
    after = tuple(
        PathSegment(stretch.name, stretch.rate / 2, stretch.crossing, stretch.host)
        if number == which
        else stretch
        for number, stretch in enumerate(before)
    )
    wide = least_stage(each, before, members, data, writing)
    assert least_stage(each, after, members, data, writing).rate <= wide.rate
    assert wide.rate <= each * members


@settings(max_examples=tries(25))
@given(
    st.sampled_from([0, 5, 6, 10]),
    st.tuples(st.sampled_from([1, 2, 4, 8, 16]), st.integers(1, 5), st.sampled_from([1, 2, 4])),
    st.integers(0, 2),
)
def test_a_narrower_link_of_a_system_never_raises_its_ceiling(level, lanes, which):
    before = list(lanes)
    after = list(lanes)
    after[which] = max(1, after[which] // 2)
    for key in ("read", "write"):
        assert _ceiling(level, after, key) <= _ceiling(level, before, key)


def _ceiling(level: int, stages: list[int], key: str):
    host, generation, uplink = stages
    facts = array(
        volume(level, 8),
        slot=f"lanes: x{host}, generation: {generation}",
        expander=f"x{uplink}",
        carries=SAS,
        rates=FAST,
    )
    return facts.value(f"storage.V.{key}")
