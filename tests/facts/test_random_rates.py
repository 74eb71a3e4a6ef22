"""Small operations at random: held by every link on the way, in blocks of the size printed."""

from decimal import Decimal

import pytest

from specgen.messages.catalogue import language_of
from specgen.messages.language import BEYOND as SAID
from specgen.quantity import DataSize, Duration, show
from specgen.quantity.printing import BEYOND
from tests.facts.arrays import array, volume
from tests.facts.english import in_english

FAST = "read: 10 GB/s, write: 10 GB/s, random_reads: 1000000, random_writes: 1000000"
LINKS = "rates of links / block, 4 KiB = 4096 B"


def reads(facts) -> Decimal:
    return facts.value("storage.V.random_reads")


@pytest.mark.arithmetic("storage links and RAID", LINKS)
def test_a_drives_own_link_holds_its_random_reads():
    # SAS-4 x1: 2.4e9 B/s / 4096 B = 585 937.5 a drive, less than its 1 000 000; two drives
    facts = array(volume(0, 2), rates=FAST)
    assert reads(facts) == Decimal("585937.5") * 2
    assert in_english(facts.value("storage.V.random_reads_limit")) == "drive links"
    assert facts.value("storage.V.block") == DataSize.of(4, "KiB")


@pytest.mark.arithmetic("storage links and RAID", LINKS)
def test_an_expanders_uplink_holds_the_reads_of_all_behind_it():
    # 4 lanes of SAS-4: 9.6e9 / 4096 = 2 343 750; 24 drives of 585 937.5 would be 14 062 500
    facts = array(volume(0, 24), expander="x4", carries="{sas: 4, sata: 3}", rates=FAST)
    assert reads(facts) == Decimal(2343750)
    assert in_english(facts.value("storage.V.random_reads_limit")) == "link of EXP 1"


@pytest.mark.arithmetic("storage links and RAID", LINKS)
def test_parity_crosses_the_uplink_and_not_the_host_link():
    # RAID 5: two blocks written to members for one of the host: 9.6e9 / 4096 / 2 = 1 171 875,
    # less than the drives': 24 / (2 / 1e6 + 2 / 1e6) = 6 000 000
    facts = array(volume(5, 24), expander="x4", carries="{sas: 4, sata: 3}", rates=FAST)
    assert facts.value("storage.V.random_writes") == Decimal(1171875)
    assert in_english(facts.value("storage.V.random_writes_limit")) == "link of EXP 1"
    # Gen 3 x1 to the host: 8e9 x 128 / 130 / 8 / 4096 = 240 384.6, once for each operation
    host = array(volume(5, 24), slot="lanes: x1, generation: 3", rates=FAST)
    wanted = Decimal(8) * 10**9 * 128 / 130 / 8 / 4096
    assert host.value("storage.V.random_writes") == pytest.approx(wanted)
    assert in_english(host.value("storage.V.random_writes_limit")) == "host link of SLOT 1"


@pytest.mark.arithmetic("storage links and RAID", "70 % reads at RAID 10, each way by itself")
def test_a_mixed_load_uses_both_directions_of_a_link():
    # RAID 10 of 24, uplink 9.6e9 B/s each way: 0.7 blocks in, 0.3 x 2 = 0.6 out: the reads bind
    facts = array(volume(10, 24), expander="x4", carries="{sas: 4, sata: 3}", rates=FAST)
    wanted = Decimal("9.6e9") / 4096 / Decimal("0.7")
    assert facts.value("storage.V.random_mixed") == pytest.approx(wanted)


@pytest.mark.practice("storage links and RAID", "Serial ATA carries one direction at a time")
def test_serial_ata_carries_both_directions_in_turn():
    # 6e8 B/s / 4096 / (0.7 + 0.6) a drive x 24 members
    facts = array(volume(10, 24), drive="interface: sata, generation: 3", rates=FAST)
    wanted = Decimal("6e8") / 4096 / Decimal("1.3") * 24
    assert facts.value("storage.V.random_mixed") == pytest.approx(wanted)


def test_slow_drives_are_held_by_nothing_else():
    facts = array(volume(5, 4))
    assert reads(facts) == 4000
    assert in_english(facts.value("storage.V.random_reads_limit")) == "drives"


def test_a_larger_block_halves_what_a_link_carries():
    small, large = (
        reads(array(volume(0, 2), rates=FAST, more=more)) for more in ("", "random_block: 8 KiB")
    )
    assert small == 2 * large


@pytest.mark.parametrize(
    ("declared", "random", "stage", "sequential"),
    [
        ("operations: 300000", 300000, "controller", None),
        # 1 GB/s / 4096 B = 244 140.625
        ("throughput: 1 GB/s", Decimal("244140.625"), "controller SLOT 1", 1),
    ],
)
def test_a_controllers_own_limit_holds_what_lies_behind_it(declared, random, stage, sequential):
    facts = array(volume(0, 24), rates=FAST, controller=declared)
    assert reads(facts) == random
    assert in_english(facts.value("storage.V.random_reads_limit")) == stage
    if sequential:
        assert facts.value("storage.V.read").in_unit("GB/s") == sequential


def test_a_span_of_more_than_a_million_years_is_printed_as_that():
    # a year of 365 d has 8760 h
    assert show(Duration.of(8760 * 10**6 + 1, "h")) == "more than 1 million years"
    assert show(Duration.of(8760 * 10**6, "h")) == "8\u202f760\u202f000\u202f000\u202fh"
    assert str(SAID) == BEYOND
    assert language_of("de").number(Duration.of(10**13, "h")) == ("mehr als 1 Million Jahre", "")
