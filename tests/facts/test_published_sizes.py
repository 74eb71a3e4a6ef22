"""Prefixes and the capacity of drives, against published values."""

from decimal import Decimal

import pytest

from specgen.quantity import DataSize, show
from tests.facts.systems import calculated
from tests.sorts import rest_on

TOPIC = "prefixes and drive sizes"
IDEMA = pytest.mark.published(TOPIC, "IDEMA LBA1-02: sectors of 512 bytes")
LOGGED = pytest.mark.published(TOPIC, "SFF-8447: 16 TB as logged")
LARGER = pytest.mark.memory(TOPIC, "SFF-8447: whole GiB above 8000 GB")

# Source: IEC 80000-13:2008, NIST "Prefixes for binary multiples"
RATIOS = (
    ("KiB", "kB", "1.024"),
    ("MiB", "MB", "1.048576"),
    ("GiB", "GB", "1.073741824"),
    ("TiB", "TB", "1.099511627776"),
    ("PiB", "PB", "1.125899906842624"),
)
# Source: as above, by division
CONVERTED = (
    ("480 GB", "GiB", "447.0348"),
    ("960 GB", "GiB", "894.0697"),
    ("1.92 TB", "TiB", "1.746230"),
    ("1.92 TB", "GiB", "1788.1393"),
    ("3.84 TB", "TiB", "3.492460"),
    ("3.84 TB", "GiB", "3576.2787"),
    ("7.68 TB", "TiB", "6.984919"),
    ("15.36 TB", "TiB", "13.969839"),
    ("30.72 TB", "TiB", "27.939677"),
    ("512 GiB", "GB", "549.755813888"),
)
# Source: IDEMA LBA1-02 / LBA1-03 up to 8000 GB: sectors of 512 B = 97 696 368 + 1 953 504 x
# (GB - 50), the worked example is 80 GB; above, SFF-8447: whole GiB (the exact form from memory)
FORMATTED = (
    ("80 GB", 156301488, 80026361856),
    ("500 GB", 976773168, 500107862016),
    ("960 GB", 1875385008, 960197124096),
    ("1 TB", 1953525168, 1000204886016),
    ("1.92 TB", 3750748848, 1920383410176),
    ("2 TB", 3907029168, 2000398934016),
    ("3.84 TB", 7501476528, 3840755982336),
    ("4 TB", 7814037168, 4000787030016),
    ("7.68 TB", 15002931888, 7681501126656),
    ("8 TB", 15628053168, 8001563222016),
)
SIXTEEN = ("16 TB", 31251759104, 16000900661248)
REMEMBERED = (
    ("10 TB", 19532873728, 10000831348736),
    ("20 TB", 39063650304, 20000588955648),
)


@pytest.mark.published("prefixes and drive sizes", "IEC 80000-13")
@pytest.mark.parametrize(("binary", "decimal", "ratio"), RATIOS)
def test_a_binary_prefix_is_more_than_its_decimal_neighbour(binary, decimal, ratio):
    assert DataSize.of(1, binary) / DataSize.of(1, decimal) == Decimal(ratio)


@pytest.mark.arithmetic("prefixes and drive sizes", "bytes / unit")
@pytest.mark.parametrize(("text", "unit", "expected"), CONVERTED)
def test_sizes_convert_as_in_print(text, unit, expected):
    got = DataSize.parse(text).in_unit(unit)
    assert got == pytest.approx(Decimal(expected), rel=Decimal("2e-7"))


@pytest.mark.parametrize(
    ("text", "sectors", "size"),
    [*rest_on(IDEMA, FORMATTED), *rest_on(LOGGED, [SIXTEEN]), *rest_on(LARGER, REMEMBERED)],
)
def test_a_drive_declared_in_decimal_units_is_no_larger_than_its_sectors(text, sectors, size):
    declared = DataSize.parse(text).amount
    assert sectors * 512 == size
    assert declared <= size < declared * Decimal("1.0004")


def drives(capacity: str, count: int):
    return calculated(
        f"  - {{name: CPU1, takes: processor}}\n  - {{name: BAY 1..{count}, takes: drive}}\n",
        f"  CPU1: processor\n  BAY 1..{count}: drive",
        catalog=f"""
kind: drive
id: drive
name: Drive
source: {{document: drives}}
medium: ssd
form: 2.5-inch
swap: hot
interface: sas
generation: 4
capacity: {capacity}
""",
    )


# Source: decimal terabytes, IEC 80000-13
@pytest.mark.arithmetic("prefixes and drive sizes", "drives x capacity")
@pytest.mark.parametrize(
    ("capacity", "count", "printed"),
    [("960 GB", 2, "1.92 TB"), ("3.84 TB", 8, "30.72 TB"), ("16 TB", 12, "192 TB")],
)
def test_raw_capacity_is_decimal_and_printed_so(capacity, count, printed):
    facts = drives(capacity, count)
    assert show(facts.value("storage.raw")) == printed.replace(" ", "\u202f")
    assert facts.value("storage.raw").in_unit("TiB") < DataSize.parse(printed).in_unit("TB")
