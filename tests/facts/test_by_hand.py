"""Four demo builds calculated on paper from their definitions; the sums stand beside them."""

import pytest

from specgen.facts import Facts
from specgen.pipeline import Survey
from specgen.quantity import DataRate, DataSize, Mass, Power, Quantity, TransferRate
from tests.facts.english import in_english

# Pocket for a lamp room: one B8, two modules of 16 GiB, one stick, no riser, no cage.
# Bandwidth: 2 channels x 5600 MT/s x 8 B.
# Mass: platform 5.4, processor 0.034, sink 0.21, modules 2 x 0.025, supply 0.72, cord 0.31,
# bezel 0.2, stick 0.010, security module 0.006, rails 1.6, fans 3 x 0.038, riser's blank 0.095.
# Maximum: B8 61; modules 2 x 3.1; stick 6.5 + hub 4; LAN 5; fans 3 x 9; board 18 + controller 6
# + security module 0.3.
# Idle: 9; 2 x 0.6; 1.4 + 2; 2; 3 x 2; 9 + 3 + 0.02. Typical: 46; 2 x 2; 4.2 + 3; 4; 3 x 4;
# 12 + 4 + 0.05.
# Lanes: stick 4, LAN 2, hub 4 of 16 + 8 + 4 + 4.
LAMP_ROOM = {
    "processors.cores": 8,
    "processors.threads": 16,
    "memory.capacity": DataSize.of(32, "GiB"),
    "memory.speed": TransferRate.of(5600, "MT/s"),
    "memory.bandwidth": DataRate.of("89.6", "GB/s"),
    "storage.raw": DataSize.of(480, "GB"),
    "storage.usable": None,
    "power.processors.maximum": Power.of(61),
    "power.memory.maximum": Power.of("6.2"),
    "power.storage.maximum": Power.of("10.5"),
    "power.network.maximum": Power.of(5),
    "power.cooling.maximum": Power.of(27),
    "power.board.maximum": Power.of("24.3"),
    "power.accelerators.maximum": Power.of(0),
    "power.other.maximum": Power.of(0),
    "power.maximum": Power.of(134),
    "power.typical": Power.of("89.25"),
    "power.idle": Power.of("33.62"),
    "power.headroom": Power.of(340 - 134),
    "expansion.CPU1.lanes": 32,
    "expansion.CPU1.lanes_used": 10,
    "mechanics.mass": Mass.of("8.749", "kg"),
    "network.ports": 4,
    "network.shared_ports": 1,
    "network.management_ports": 0,
}

# Lantern for an island office: one C24s in a two-socket board on a line of 120 V.
# Speed: modules and processor 5600, board 4800. Bandwidth: 8 channels x 4800 x 8 B = 307.2.
# Raw: 4 x 8 TB + 480 GB. Usable: mirror 8 + stripe 2 x 8.
# Mass: platform 11.2, processor 0.086, sink 0.33, modules 8 x 0.030, fans 6 x 0.072, supplies
# 2 x 0.86, cords 2 x 0.34, riser 0.24, controller 0.12, slot's blank 0.018, backplane 0.55,
# cable 0.055, disks 4 x 0.695, bezel 0.55, mezzanine 0.085, boot module 0.06, stick 0.01,
# security module 0.006, rails 1.9; in place of the second processor a duct 0.085, of its two
# fans blanks 2 x 0.020.
# Maximum: 187; 8 x 4.4; disks 4 x 10.2 + stick 6.5 + controller 12 + hub 6 + backplane 5;
# mezzanine 5.8 + LAN 3; 6 x 16; board 42 + controller 8 + security module 0.3.
# Idle: 45; 8 x 1; 4 x 5.1 + 1.4 + 6 + 3 + 2; 2.8 + 1; 6 x 3; 22 + 4 + 0.02.
# A supply gives 850 W at 120 V, and one of two may fail.
ISLAND = {
    "processors.cores": 24,
    "processors.threads": 48,
    "memory.slots": 16,
    "memory.slots_usable": 8,
    "memory.capacity": DataSize.of(128, "GiB"),
    "memory.speed": TransferRate.of(4800, "MT/s"),
    "memory.bandwidth": DataRate.of("307.2", "GB/s"),
    "storage.raw": DataSize.of("32.48", "TB"),
    "storage.Office.usable": DataSize.of(8, "TB"),
    "storage.Office.tolerates": 1,
    "storage.Scratch.usable": DataSize.of(16, "TB"),
    "storage.Scratch.tolerates": 0,
    "storage.usable": DataSize.of(24, "TB"),
    "power.processors.maximum": Power.of(187),
    "power.memory.maximum": Power.of("35.2"),
    "power.storage.maximum": Power.of("70.3"),
    "power.network.maximum": Power.of("8.8"),
    "power.cooling.maximum": Power.of(96),
    "power.board.maximum": Power.of("50.3"),
    "power.maximum": Power.of("447.6"),
    "power.idle": Power.of("133.62"),
    "power.supply_output": Power.of(850),
    "power.available": Power.of(850),
    "power.headroom": Power.of("402.4"),
    "mechanics.mass": Mass.of("21.187", "kg"),
    "network.ports": 6,
    "network.management_ports": 1,
}

# Boathouse for backups: one C16, twelve disks in two groups at RAID 60, a mirror of two sticks.
# Bandwidth: 4 channels x 5600 x 8 B = 179.2. Raw: 12 x 16 TB + 2 x 480 GB.
# Usable: 2 x (6 - 2) x 16 TB = 128, and 0.48.
# Mass: platform 18.6, processor 0.086, sink 0.51, fans 4 x 0.17, modules 4 x 0.036, supplies
# 2 x 0.86, cords 2 x 0.23, riser 0.34, controller 0.185, pack 0.13, backplane 1.5, cables
# 2 x 0.085, disks 12 x 0.685, mezzanine 0.12, transceivers 4 x 0.02, boot module 0.085, sticks
# 2 x 0.01, bezel 0.68, security module 0.006, rails 4; duct 0.12, blanks: fans 2 x 0.04, slots
# 2 x 0.018, second riser 0.095.
# Maximum: 132; 4 x 6.4; disks 12 x 10.9 + sticks 2 x 6.5 + controller 25 + pack 6 + boot 5 +
# hub 6 + backplane 9; mezzanine 10 + 4 x 1 + LAN 12; 4 x 28; board 58 + 8 + 0.3.
# Idle: 42; 4 x 1.4; 12 x 5.7 + 2 x 1.4 + 14 + 0.2 + 2.5 + 3 + 4; 6 + 4 x 0.6 + 5; 4 x 4;
# 32 + 4 + 0.02. Typical: 104; 4 x 4.3; 12 x 8.6 + 2 x 4.2 + 19 + 0.3 + 3.5 + 4 + 6; 8 + 4 x 0.8
# + 9; 4 x 12; 42 + 5 + 0.05.
# Lanes: slot 16, mezzanine 16, LAN 4, hub 4, boot module 4, of 6 x 16 + 8 + 4 + 4.
BACKUP = {
    "processors.cores": 16,
    "processors.threads": 32,
    "memory.capacity": DataSize.of(128, "GiB"),
    "memory.speed": TransferRate.of(5600, "MT/s"),
    "memory.channels_used": 4,
    "memory.bandwidth": DataRate.of("179.2", "GB/s"),
    "storage.drives": 12,
    "storage.boot_drives": 2,
    "storage.boot_raw": DataSize.of("0.96", "TB"),
    "storage.outside": DataSize.of(0, "TB"),
    "storage.bays": 12,
    "storage.raw": DataSize.of("192.96", "TB"),
    "storage.Backups.usable": DataSize.of(128, "TB"),
    "storage.Backups.tolerates": 2,
    "storage.System.usable": DataSize.of(480, "GB"),
    "storage.usable": DataSize.of("128.48", "TB"),
    "power.processors.maximum": Power.of(132),
    "power.memory.maximum": Power.of("25.6"),
    "power.storage.maximum": Power.of("194.8"),
    "power.network.maximum": Power.of(26),
    "power.cooling.maximum": Power.of(112),
    "power.board.maximum": Power.of("66.3"),
    "power.maximum": Power.of("556.7"),
    "power.typical": Power.of("380.85"),
    "power.idle": Power.of("207.92"),
    "power.available": Power.of(1000),
    "expansion.CPU1.lanes": 112,
    "expansion.CPU1.lanes_used": 44,
    "expansion.CPU1.lanes_free": 68,
    "mechanics.mass": Mass.of("38.067", "kg"),
    "network.ports": 6,
    "network.line_rate": DataRate.of(60, "Gbit/s"),
}

# Beacon for many hosts, whose channels are filled unevenly: for each of two C48, modules of 32 GiB
# and two ranks on all eight channels, a second one on every other channel.
# Fullest channel: 2 modules, 4 ranks. Module 5600; board at 2 modules 4800; processor at 2 modules
# 4800, at 4 ranks 4800: one clock for the whole system, so the channels with one module follow.
# Bandwidth: 8 channels x 4800 x 8 B = 307.2 a processor. Capacity: 12 x 32 = 384 a processor,
# 768 for 96 cores. Channels 1, 3, 5, 7 hold 64, the others 32: the next go into 10, 12, 14, 16.
HOSTS = {
    "memory.slots": 32,
    "memory.modules": 24,
    "memory.capacity": DataSize.of(768, "GiB"),
    "memory.visible": DataSize.of(768, "GiB"),
    "memory.held_back": DataSize.of(0, "GiB"),
    "memory.capacity_per_core": DataSize.of(8, "GiB"),
    "memory.speed": TransferRate.of(4800, "MT/s"),
    "memory.channels": 16,
    "memory.channels_used": 16,
    "memory.bandwidth": DataRate.of("614.4", "GB/s"),
    **{
        f"memory.CPU{number}.{name}": value
        for number in (1, 2)
        for name, value in {
            "modules_per_channel": 2,
            "ranks_per_channel": 4,
            "own_speed": TransferRate.of(4800, "MT/s"),
            "speed": TransferRate.of(4800, "MT/s"),
            "channels": 8,
            "channels_used": 8,
            "bandwidth": DataRate.of("307.2", "GB/s"),
            "capacity": DataSize.of(384, "GiB"),
            "visible": DataSize.of(384, "GiB"),
        }.items()
    },
}

Expected = dict[str, Quantity | int | None]


@pytest.mark.parametrize(
    ("build", "expected"),
    [
        ("pocket-lamp-room", LAMP_ROOM),
        ("lantern-island", ISLAND),
        ("boathouse-backup", BACKUP),
        ("beacon-hosts", HOSTS),
    ],
)
def test_a_build_is_what_it_is_on_paper(demo: Survey, build: str, expected: Expected):
    facts: Facts = demo.cases[build].facts
    assert {key: facts.value(key) for key in expected} == expected


def test_uneven_channels_are_told_with_what_to_fill_next(demo: Survey):
    facts = demo.cases["beacon-hosts"].facts
    assert in_english(facts.value("memory.CPU1.balance")) == (
        "uneven: channels 1B, 1D, 1F, 1H hold less than 64 GiB"
    )
    assert in_english(facts.value("memory.CPU2.next")) == ("DIMM 2B2, DIMM 2D2, DIMM 2F2, DIMM 2H2")
    assert in_english(facts.value("memory.speed_set_by")) == (
        "the processor at 2 modules on a channel",
        "the board at 2 modules on a channel",
        "the processor at 4 ranks on a channel",
    )
