"""Storage links and RAID, against published values."""

from decimal import Decimal

import pytest

from specgen.facts import Facts
from specgen.facts.calculators import storage
from specgen.facts.calculators.expansion import lane_rate
from specgen.quantity import DataSize
from tests.facts.systems import calculated

TOPIC = "storage links and RAID"
LEVELS = "DMTF Volume RAIDType"

# Source: Serial ATA Revision 3.x; SAS-2, SAS-3 (INCITS 519), SAS-4 (INCITS 534): 22.5 Gbit/s
# with 128b/150b; PCI Express Base for NVMe. Edition numbers from memory. MB/s, one way.
LINKS = (
    ("sata", 1, 1, "150"),
    ("sata", 2, 1, "300"),
    ("sata", 3, 1, "600"),
    ("sas", 2, 1, "600"),
    ("sas", 2, 4, "2400"),
    ("sas", 3, 1, "1200"),
    ("sas", 3, 4, "4800"),
    ("sas", 4, 1, "2400"),
    ("sas", 4, 4, "9600"),
    ("pcie", 3, 4, "3938.4615"),
    ("pcie", 4, 4, "7876.9231"),
    ("pcie", 5, 4, "15753.8462"),
    ("pcie", 6, 4, "30250"),
)


@pytest.mark.published(TOPIC, "Serial ATA; INCITS: SAS-2 to SAS-4; PCI Express Base")
@pytest.mark.parametrize(("protocol", "generation", "lanes", "megabytes"), LINKS)
def test_a_storage_link_carries_what_its_standard_gives(protocol, generation, lanes, megabytes):
    rate = lane_rate(protocol, generation, lanes)
    assert rate is not None
    assert rate.in_unit("MB/s") == pytest.approx(Decimal(megabytes), rel=Decimal("1e-6"))


@pytest.mark.published(TOPIC, "Serial ATA; INCITS: SAS-2 to SAS-4; PCI Express Base")
def test_the_trade_name_of_sas_4_is_not_its_rate():
    # Source: INCITS 534 (SAS-4): 22.5 x 128 / 150; 24 x 128 / 150 would be 2560
    rate = lane_rate("sas", 4, 1)
    assert rate is not None
    assert rate.in_unit("MB/s") == 2400


# Source: DMTF Volume.json, RAIDType, after SNIA Common RAID Disk Data Format: level, members,
# groups (2 where there are none), members that carry data, failures survived whichever fail
FORMED = (
    (0, 2, 2, 2, 0),
    (0, 8, 2, 8, 0),
    (1, 2, 2, 1, 1),
    (1, 3, 2, 1, 2),
    (1, 4, 2, 1, 3),
    (5, 3, 2, 2, 1),
    (5, 8, 2, 7, 1),
    (5, 16, 2, 15, 1),
    (6, 4, 2, 2, 2),
    (6, 8, 2, 6, 2),
    (6, 16, 2, 14, 2),
    (10, 4, 2, 2, 1),
    (10, 8, 2, 4, 1),
    (10, 12, 2, 6, 1),
    (50, 6, 2, 4, 1),
    (50, 12, 2, 10, 1),
    (50, 12, 3, 9, 1),
    (50, 12, 4, 8, 1),
    (60, 8, 2, 4, 2),
    (60, 12, 2, 8, 2),
    (60, 12, 3, 6, 2),
    (60, 24, 2, 20, 2),
)


@pytest.mark.published("storage links and RAID", LEVELS)
@pytest.mark.parametrize(("level", "members", "groups", "data", "failures"), FORMED)
def test_a_level_keeps_so_many_members_and_survives_so_many(level, members, groups, data, failures):
    assert storage.data_members(level, members, groups) == data
    assert storage.survived(level, members, groups) == failures


# Source: as FORMED: fewest members 3, 4, 4, 6, 8 for levels 5, 6, 10, 50, 60; RAID 10 pairs its
# members; levels 50 and 60 stripe over two or more equal groups
NOT_FORMED = (
    (1, 1, 2),
    (5, 2, 2),
    (6, 3, 2),
    (10, 2, 2),
    (10, 5, 2),
    (50, 5, 2),
    (50, 7, 2),
    (50, 12, 1),
    (50, 12, 5),
    (60, 6, 2),
    (60, 7, 2),
    (60, 12, 1),
    (60, 12, 4),
    (5, 0, 2),
    (7, 8, 2),
)


@pytest.mark.practice("storage links and RAID", "fewest members of a level")
@pytest.mark.parametrize(("level", "members", "groups"), NOT_FORMED)
def test_too_few_or_uneven_members_give_no_value(level, members, groups):
    assert storage.data_members(level, members, groups) is None
    assert storage.survived(level, members, groups) is None


def sizes(text: str) -> tuple[DataSize, ...]:
    """`3 x 1 TB, 1 x 2 TB` as sizes."""
    found: list[DataSize] = []
    for piece in text.split(", "):
        times, _, size = piece.partition(" x ")
        found += [DataSize.parse(size)] * int(times)
    return tuple(found)


# Source: usable = members that carry data x smallest member (SNIA DDF; 500 + 500 + 750 GB at
# RAID 5 = 1000 GB and 100 + 350 GB at RAID 0 = 200 GB are in print)
CAPACITIES = (
    ("8 x 3.84 TB", 5, 2, "26.88 TB"),
    ("8 x 3.84 TB", 6, 2, "23.04 TB"),
    ("8 x 3.84 TB", 10, 2, "15.36 TB"),
    ("12 x 4 TB", 50, 2, "40 TB"),
    ("12 x 4 TB", 60, 2, "32 TB"),
    ("3 x 1 TB, 1 x 2 TB", 5, 2, "3 TB"),
    ("1 x 500 GB, 1 x 750 GB", 1, 2, "500 GB"),
    ("1 x 100 GB, 1 x 350 GB", 0, 2, "200 GB"),
    ("2 x 500 GB, 1 x 750 GB", 5, 2, "1000 GB"),
)


@pytest.mark.published(TOPIC, "Public pages: every member counts as the smallest")
@pytest.mark.parametrize(("members", "level", "groups", "expected"), CAPACITIES)
def test_every_member_counts_as_the_smallest(members, level, groups, expected):
    assert storage.usable(sizes(members), level, groups) == DataSize.parse(expected)


DRIVES = """
- kind: drive
  common: {source: {document: drives}, medium: hdd, form: 3.5-inch, swap: hot, interface: sas, generation: 4}
  parts:
    - {id: four, name: Disk 4 TB, capacity: 4 TB}
    - {id: five, name: Disk 5 TB, capacity: 5 TB}
"""  # noqa: E501


def array(volumes: str, fit: str = "  BAY 1..12: four") -> Facts:
    return calculated(
        "  - {name: CPU1, takes: processor}\n  - {name: BAY 1..16, takes: drive}\n",
        f"  CPU1: processor\n{fit}",
        catalog=DRIVES,
        volumes=volumes,
    )


# Source: as CAPACITIES, through a whole build
WHOLE = (
    ("{name: V, level: 50, groups: 2, drives: BAY 1..12}", 12, "40 TB", 1),
    ("{name: V, level: 50, groups: 4, drives: BAY 1..12}", 12, "32 TB", 1),
    ("{name: V, level: 60, groups: 2, drives: BAY 1..12}", 12, "32 TB", 2),
    ("{name: V, level: 60, groups: 3, drives: BAY 1..12}", 12, "24 TB", 2),
    ("{name: V, level: 5, drives: BAY 1..8}", 8, "28 TB", 1),
    ("{name: V, level: 6, drives: BAY 1..8}", 8, "24 TB", 2),
    ("{name: V, level: 10, drives: BAY 1..8}", 8, "16 TB", 1),
    ("{name: V, level: 1, drives: BAY 1..2}", 2, "4 TB", 1),
    ("{name: V, level: 0, drives: BAY 1..4}", 4, "16 TB", 0),
)


@pytest.mark.arithmetic("storage links and RAID", "members with data x the smallest")
@pytest.mark.parametrize(("volume", "members", "usable", "failures"), WHOLE)
def test_a_volume_of_a_build(volume, members, usable, failures):
    facts = array(f"[{volume}]")
    assert facts.value("storage.V.members") == members
    assert facts.value("storage.V.raw") == DataSize.of(4 * members, "TB")
    assert facts.value("storage.V.usable") == DataSize.parse(usable)
    assert facts.value("storage.V.tolerates") == failures


@pytest.mark.memory("storage links and RAID", "SNIA DDF: hot spares")
def test_hot_spares_are_no_members():
    # Source: SNIA DDF: a spare holds no data until a member fails
    facts = array("[{name: V, level: 5, drives: BAY 1..4, spares: BAY 5..6}]")
    assert facts.value("storage.V.members") == 4
    assert facts.value("storage.V.spares") == 2
    assert facts.value("storage.V.raw") == DataSize.of(16, "TB")
    assert facts.value("storage.V.usable") == DataSize.of(12, "TB")
    assert facts.value("storage.V.tolerates") == 1
    assert facts.value("storage.raw") == DataSize.of(48, "TB")


@pytest.mark.published(TOPIC, "Public pages: every member counts as the smallest")
def test_a_larger_member_adds_nothing_to_a_volume_but_counts_as_raw():
    # Source: smallest member, SNIA DDF
    facts = array("[{name: V, level: 5, drives: BAY 1..4}]", "  BAY 1..3: four\n  BAY 4: five")
    assert facts.value("storage.V.raw") == DataSize.of(17, "TB")
    assert facts.value("storage.V.usable") == DataSize.of(12, "TB")


@pytest.mark.arithmetic("storage links and RAID", "members with data x the smallest")
def test_volumes_add_up():
    facts = array("[{name: A, level: 1, drives: BAY 1..2}, {name: B, level: 6, drives: BAY 3..12}]")
    assert facts.value("storage.usable") == DataSize.of(4 + 32, "TB")


@pytest.mark.practice("storage links and RAID", "fewest members of a level")
def test_a_volume_that_cannot_be_formed_has_no_usable_capacity():
    facts = array("[{name: V, level: 6, drives: BAY 1..3}]")
    assert facts.value("storage.V.usable") is None
    assert facts.value("storage.V.tolerates") is None
    assert facts.value("storage.usable") is None
