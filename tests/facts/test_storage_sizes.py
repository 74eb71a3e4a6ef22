"""Prefixes and sectors: what drives hold, against published values."""

from decimal import Decimal

import pytest

from specgen.facts.calculators import drives
from specgen.facts.calculators.drives import sectors_of
from specgen.quantity import DataSize, show
from tests.facts.arrays import array, volume
from tests.sorts import rest_on

IDEMA = pytest.mark.published("sectors of drives", "IDEMA LBA1-02: sectors of 512 bytes")
LOGGED = pytest.mark.published("sectors of drives", "SFF-8447: 16 TB as logged")
LARGER = pytest.mark.memory("sectors of drives", "SFF-8447: whole GiB above 8000 GB")

# Source: IEC 80000-13:2008; NIST, "Prefixes for binary multiples": by how much a binary prefix is
# more, in per cent
EXCESS = (
    ("KiB", "kB", "2.4"),
    ("MiB", "MB", "4.8576"),
    ("GiB", "GB", "7.3741824"),
    ("TiB", "TB", "9.9511627776"),
    ("PiB", "PB", "12.5899906842624"),
)

# Source: as EXCESS, by division
IN_TIB = (
    ("480 GB", "0.4365574"),
    ("960 GB", "0.8731149"),
    ("1.92 TB", "1.746230"),
    ("3.84 TB", "3.492460"),
    ("7.68 TB", "6.984919"),
    ("15.36 TB", "13.969839"),
    ("30.72 TB", "27.939677"),
)

# Source: IDEMA LBA1-02 and LBA1-03 up to 8000 GB, the worked example is 80 GB; above, whole GiB
# as in SFF-8447 (its exact form from memory; 16 TB as in public logs). GB, sectors of 512 bytes,
# bytes, sectors of 4096 bytes (this formula from memory).
COUNTED = (
    (80, 156301488, 80026361856, 19537686),
    (500, 976773168, 500107862016, 122096646),
    (960, 1875385008, 960197124096, 234423126),
    (1000, 1953525168, 1000204886016, 244190646),
    (1920, 3750748848, 1920383410176, 468843606),
    (2000, 3907029168, 2000398934016, 488378646),
    (3840, 7501476528, 3840755982336, 937684566),
    (4000, 7814037168, 4000787030016, 976754646),
    (7680, 15002931888, 7681501126656, 1875366486),
    (8000, 15628053168, 8001563222016, 1953506646),
)
SIXTEEN = (16000, 31251759104, 16000900661248, 3906469888)
REMEMBERED = (
    (10000, 19532873728, 10000831348736, 2441609216),
    (20000, 39063650304, 20000588955648, 4882956288),
)
FOUR_KIBIBYTES = [(row[0], row[3]) for row in (*COUNTED, SIXTEEN, *REMEMBERED)]
EVERY = [*rest_on(IDEMA, COUNTED), *rest_on(LOGGED, [SIXTEEN]), *rest_on(LARGER, REMEMBERED)]


@pytest.mark.published("decimal and binary prefixes", "IEC 80000-13")
@pytest.mark.parametrize(("binary", "decimal", "excess"), EXCESS)
def test_a_binary_prefix_exceeds_its_neighbour_by_so_much(binary, decimal, excess):
    ratio = DataSize.of(1, binary) / DataSize.of(1, decimal)
    assert (ratio - 1) * 100 == Decimal(excess)


@pytest.mark.arithmetic("decimal and binary prefixes", "bytes / 2^40")
@pytest.mark.parametrize(("size", "tebibytes"), IN_TIB)
def test_a_system_states_its_raw_capacity_in_both_units(size, tebibytes):
    facts = array("[]", fit="BAY 1: drive", capacity=size)
    raw, binary = facts.value("storage.raw"), facts.value("storage.raw_binary")
    assert raw == binary == DataSize.parse(size)
    assert binary.in_unit("TiB") == pytest.approx(Decimal(tebibytes), rel=Decimal("2e-7"))


@pytest.mark.published("decimal and binary prefixes", "IEC 80000-13")
def test_trap_one_symbol_does_not_stand_for_two_units():
    # Source: IEC 80000-13: 1 TiB is 9.95 % more than 1 TB, so each has its own symbol
    facts = array(volume(0, 2), fit="BAY 1..2: drive", capacity="16 TB")
    assert show(facts.value("storage.V.usable")) == "32\u202fTB"
    assert show(facts.value("storage.V.usable_binary")) == "29.1\u202fTiB"
    assert show(facts.value("storage.usable")) == "32\u202fTB"
    assert show(facts.value("storage.usable_binary")) == "29.1\u202fTiB"


@pytest.mark.parametrize(("gigabytes", "count", "size", "larger"), EVERY)
def test_a_drive_has_as_many_sectors_as_the_rule_for_its_size(gigabytes, count, size, larger):
    assert sectors_of(gigabytes) == count


@pytest.mark.memory("sectors of drives", "IDEMA LBA1-03: sectors of 4096 bytes")
@pytest.mark.parametrize(("gigabytes", "count"), FOUR_KIBIBYTES)
def test_sectors_of_four_kibibytes_are_an_eighth_as_many(gigabytes, count):
    assert sectors_of(gigabytes, 4096) == count


@pytest.mark.parametrize(("gigabytes", "count", "size", "larger"), EVERY)
def test_a_disk_holds_the_bytes_of_its_sectors(gigabytes, count, size, larger):
    assert drives.sectors(DataSize.of(gigabytes, "GB"), "hdd") * 512 == size


def test_trap_bytes_are_sectors_times_their_logical_size():
    # Source: IDEMA LBA1-02: both counts are one size; a drive that keeps 4096 bytes together and
    # shows sectors of 512 still counts those of 512
    for gigabytes, _, size, _ in COUNTED:
        for sector in (512, 4096):
            count = sectors_of(gigabytes, sector)
            assert count is not None
            assert count * sector == size


def test_trap_flash_above_eight_terabytes_is_not_bound_to_the_rule():
    # Source: SFF-8447 is about disks
    sold = DataSize.parse("15.36 TB")
    assert drives.sectors(sold, "ssd") is None
    assert drives.sectors(sold, "hdd") is not None


def test_trap_a_count_is_reported_as_that_of_sectors_of_512_bytes():
    # common practice, no source: formats of 520 and 528 bytes have counts of their own
    facts = array("[]", fit="BAY 1: drive", capacity="960 GB")
    fact = facts["drives.drive.sectors"]
    assert fact.value == 1875385008
    assert "512" in str(fact.label)
    assert "520 or 528" in str(fact.assumes)


@pytest.mark.published("decimal and binary prefixes", "IEC 80000-13")
@pytest.mark.parametrize(
    ("sold", "shown"),
    [("480 GB", "447\u202fGiB"), ("960 GB", "894.1\u202fGiB"), ("4 TB", "3.638\u202fTiB")],
)
def test_a_drive_has_one_binary_size_wherever_it_stands(sold, shown):
    """447.0348 and 894.0697 GiB, 3.637979 TiB: by its sectors it was 447.1, 894.3 and 3.639."""
    facts = array(volume(1, 2), fit="BAY 1..2: drive", capacity=sold)
    for key in ("drives.drive.capacity_binary", "storage.V.usable_binary"):
        assert show(facts.value(key)) == shown


@pytest.mark.parametrize("size", ["32 GB", "100.5 GB"])
def test_sizes_without_a_rule_have_no_count_of_sectors(size):
    facts = array("[]", fit="BAY 1: drive", capacity=size)
    assert facts.value("drives.drive.sectors") is None
    assert facts.value("drives.drive.capacity_binary") == DataSize.parse(size)
