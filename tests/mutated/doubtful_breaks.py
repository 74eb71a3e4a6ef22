# ruff: noqa: E501 (a table reads best with one row a line)
"""Breaks of the sound project that can be read and break no law, and that nobody means; and those
of which much follows and that are told once."""

from typing import Final

from tests.mutated.breaks import (
    CARDS,
    DRIVES,
    FULL,
    HOUSE,
    MEMORY,
    PLATFORM,
    PROCESSORS,
    PROJECT,
    Break,
    one,
)


def _one(name: str, file: str, old: str, new: str, line: str = "", code: str = "SG130") -> Break:
    return one(name, file, old, new, code, line)


SAS: Final = "name: SAS 3.2 TB, interface: sas, capacity: 3.2 TB"
QSFP: Final = "name: QSFP28, form: qsfp28, speed: 100 Gbit/s"
SUPPLY: Final = "outputs: [{from: 100 V, to: 240 V, output: 600 W}]"


def _taken(name: str, text: str, line: str, code: str = "SG130") -> Break:
    taken = f"documents: [sheet]\nassumptions:\n  {text}, source: {{document: handbook}}}}"
    return _one(name, PROJECT, "documents: [sheet]", taken, line, code)


EXCHANGED: Final = (
    _one("rates of blocks exchanged", DRIVES, SAS, f"{SAS}, read: 900 MB/s, write: 2100 MB/s", "id: sas-3200"),
    _one("rates at random exchanged", DRIVES, SAS, f"{SAS}, random_reads: 90000, random_writes: 350000", "id: sas-3200"),
    _one("a thousand writes a day", DRIVES, SAS, f"{SAS}, writes_per_day: 1000", "id: sas-3200"),
    _one("blocks of megabytes", DRIVES, SAS, f"{SAS}, random_block: 4 MiB", "id: sas-3200", "SG128"),
    _one("operations in thousands", CARDS, "keeps_cache: cache-protection\n", "keeps_cache: cache-protection\n      operations: 3000\n", "operations: 3000"),
    _one("throughput in megabytes", CARDS, "keeps_cache: cache-protection\n", "keeps_cache: cache-protection\n      throughput: 14 MB/s\n", "throughput: 14 MB/s", "SG128"),
    _one("a power factor of direct current", HOUSE, SUPPLY, "curve_at: -48 V, outputs: [{from: -40 V, to: -72 V, output: 600 W}]", "power_factor: 0.80"),
    _one("threads that are no multiple of the cores", PROCESSORS, "threads: 64", "threads: 46"),
    _one("too many cores", PROCESSORS, "cores: 32\n    threads: 64", "cores: 3200\n    threads: 6400", "cores: 3200"),
    _one("ten times the memory channels", PROCESSORS, "memory_channels: 2", "memory_channels: 20"),
    _one("an odd number of memory channels", PROCESSORS, "memory_channels: 2", "memory_channels: 5"),
    _one("ten processors in one system", PROCESSORS, "together: 2", "together: 12"),
    _one("an odd number of operations", PROCESSORS, "together: 2", "together: 2\n  operations_per_cycle: 17", "operations_per_cycle: 17"),
    _one("a lead of 32 lanes", PLATFORM, "EDGE 2: {from: CPU2.P2, lanes: x8, form: mcio-8i}", "EDGE 2: {from: CPU2.P2, lanes: x32, form: mcio-8i}"),
    _one("a connector of 32 lanes", CARDS, "name: Adapter of full height\n      height: full\n      length: half\n      connector: x8", "name: Adapter of full height\n      height: full\n      length: half\n      connector: x32", "connector: x32"),
    _one("wide devices with error correction", MEMORY, "name: UDIMM 16 GiB, form: udimm, capacity: 16 GiB", "name: UDIMM 16 GiB, form: udimm, capacity: 16 GiB, device_width: 16", "id: udimm-16"),
    _one("three ranks", MEMORY, "name: UDIMM 16 GiB, form: udimm, capacity: 16 GiB", "name: UDIMM 16 GiB, form: udimm, capacity: 16 GiB, ranks: 3", "id: udimm-16"),
    _one("a capacity that no dies make up", MEMORY, "name: RDIMM 64 GiB, capacity: 64 GiB", "name: RDIMM 64 GiB, capacity: 60 GiB", "id: rdimm-64"),
    _one("rack units that the chassis does not reach into", PLATFORM, "rack_units: 1", "rack_units: 2"),
    _one("a circuit of swapped digits", PROJECT, "redundancy: 1+1}", "redundancy: 1+1, circuit: 61 A}", "conditions:"),
    _one("a grid factor in grams", PROJECT, "redundancy: 1+1}", "redundancy: 1+1, grid_factor: 310}", "conditions:"),
    _one("a chassis lighter than foam", PLATFORM, "mass: 11.2 kg", "mass: 1.12 kg"),
    _one("a part heavier than steel", DRIVES, SAS, f"{SAS}, mass: 1.4 kg, size: {{width: 69.85 mm, height: 15 mm, depth: 100.45 mm}}", "id: sas-3200"),
    _one("a point lost in a draw", CARDS, "power: {maximum: 25 W}", "power: {typical: 2.2 W, maximum: 25 W}"),
)  # fmt: skip

REACHES: Final = (
    _one("kilometres of multimode fibre", CARDS, QSFP, f"{QSFP}, reach: 100 km, attributes: {{fibre: multimode OM4}}", "id: qsfp28-sr"),
    _one("metres of single-mode fibre", CARDS, QSFP, f"{QSFP}, reach: 10 m, attributes: {{fibre: single-mode}}", "id: qsfp28-sr"),
    _one("kilometres by the name of the standard", CARDS, QSFP, "name: 100GBASE-SR4, form: qsfp28, speed: 100 Gbit/s, reach: 100 km", "id: qsfp28-sr"),
)  # fmt: skip

TAKEN: Final = (
    _taken("a share without its sign", "read_share: {value: 0.7 %", "read_share"),
    _taken("a rebuild of gigabytes", "rebuild_rate: {value: 100 GB/s", "rebuild_rate"),
    _taken("a replacement of seconds", "replacement_time: {value: 24 s", "replacement_time"),
    _taken("a span of days", "endurance_span: {value: 5 d", "endurance_span"),
    _taken("cables of centimetres", "cable_space: {value: 1.1 mm", "cable_space"),
    _taken("half of everything lost on the board", "board_loss: {value: 50 %", "board_loss"),
    _taken("an error of sharing that stops every build", "supply_sharing_error: {value: 95 %", "supply_sharing_error"),
)  # fmt: skip

NAMED: Final = (
    _one("other watts than in the name", HOUSE, f"name: Supply 600 W, {SUPPLY}", f"name: Supply 660 W, {SUPPLY}", "id: supply-600"),
    _one("another rate than in the name", MEMORY, "name: RDIMM 32 GiB slower,", "name: RDIMM 32 GiB DDR5-4400,", "id: rdimm-32-slow"),
    _one("other ranks than in the name", MEMORY, "name: RDIMM 32 GiB slower one rank,", "name: RDIMM 32 GiB 2Rx8,", "id: rdimm-32-slow-r1"),
    _one("other devices than in the name", MEMORY, "name: RDIMM 32 GiB narrow devices,", "name: RDIMM 32 GiB 2Rx8,", "id: rdimm-32-x4"),
    _one("another generation than in the name", DRIVES, "name: E3.S 3.84 TB, form", "name: E3.S 3.84 TB PCIe 4.0, form", "id: e3-3840"),
    _one("another generation of SAS than in the name", DRIVES, "name: SAS 3.2 TB, interface", "name: SAS-3 3.2 TB, interface", "id: sas-3200"),
    _one("other writes than in the name", DRIVES, SAS, "name: SAS 3.2 TB 3 DWPD, interface: sas, capacity: 3.2 TB, writes_per_day: 1", "id: sas-3200"),
    _one("another length than in the name", HOUSE, "name: MCIO cable, form", "name: \"MCIO cable, 700 mm\", length: 300 mm, form", "id: cable-pcie"),
    _one("another cache than in the name", CARDS, "name: RAID controller\n", "name: RAID controller with 8 GiB of cache\n", "cache: 4 GiB"),
    _one("another cage than in the name", CARDS, "name: QSFP28, form: qsfp28, speed: 100", "name: QSFP56, form: qsfp28, speed: 100", "id: qsfp28-sr"),
    _one("another form than in the name", DRIVES, "name: Disk 4 TB", "name: Disk 4 TB 2.5-inch", "form: 3.5-inch"),
    _one("another interface than in the name", DRIVES, "name: SATA 960 GB", "name: SAS SSD 960 GB", "id: sata-960"),
    _one("another medium than in the name", DRIVES, "name: Disk 4 TB", "name: SSD 4 TB", "medium: hdd"),
    _one("another connector than in the name", HOUSE, "name: Cord to C20, form: C19", "name: Cord C13 to C20, form: C19", "id: cord-large"),
    _one("another plug than in the name", HOUSE, "name: Cord to C14", "name: Cord to C20 of the rack", "id: cord"),
    _one("other ports than in the name", CARDS, "name: Mezzanine 2 x 25", "name: Mezzanine 4 x 25 Gbit/s", "ethernet: [{name: PORT 1..2, speed: 25"),
    _one("a wide card of one slot", CARDS, "id: accel-wide, name: Accelerator two places wide, places: 2", "id: accel-wide, name: Accelerator two places wide, places: 1", "id: accel-wide"),
)  # fmt: skip

S300: Final = "    - {id: supply-300, name: Supply 300 W, outputs: [{from: 100 V, to: 240 V, output: 300 W}]}\n"
DC_CORDS: Final = "- kind: power-cord\n  common: {form: two-pole terminal, plug: cable lugs, current: 32 A, source: {document: cords}}\n  parts:\n    - {id: cord-dc, name: DC cord}\n    - {id: cord-dc-short, name: Short DC cord, form: two-pole terminal}\n"
WORDS: Final = (
    _one("a maker misspelt", MEMORY, "{id: rdimm-32, name: RDIMM 32 GiB}\n  - {id: rdimm-32-slow, name: RDIMM 32 GiB slower, speed: 4800 MT/s}\n  - {id: rdimm-32-slow-r1,", "{id: rdimm-32, maker: Ostrel Memory, name: RDIMM 32 GiB}\n  - {id: rdimm-32-slow, maker: Ostrel Memory, name: RDIMM 32 GiB slower, speed: 4800 MT/s}\n  - {id: rdimm-32-slow-r1, maker: Ostrel Memroy,", "id: rdimm-32-slow-r1", "SG220"),
    _one("an attribute misspelt", PROCESSORS, "    tdp: 185 W\n  - id: corvane-b8", "    tdp: 185 W\n    attributes: {colour: red, colur: red}\n  - id: corvane-b8", "attributes: {colour: red, colur", "SG220"),
    _one("a document misspelt", HOUSE, "name: Air duct, source: {document: cooling LN-130}", "name: Air duct, source: {document: coolling LN-130}", "id: duct", "SG220"),
    _one("a digit in a word of a name", HOUSE, "name: Heat sink with other screws", "name: Heat s1nk with other screws", "id: sink-key", "SG220"),
    _one("a term of another spelling", PROJECT, "documents: [sheet]", "documents: [sheet]\nterms: {slimsas-8i: SlimSSA 8i}", "terms: {slimsas", "SG220"),
    _one("an inlet that no cord has", HOUSE, f"output: 600 W}}]}}\n{S300}- kind: power-cord", f"output: 600 W}}], inlet: two-ole terminal}}\n{S300}{DC_CORDS}- kind: power-cord", "id: supply-600", "SG220"),
)  # fmt: skip

CHANNELS: Final = (
    _one("two slots more on one channel", PLATFORM, "{name: DIMM A4, takes: memory-module, form: [rdimm, 3ds-rdimm], of: CPU1, channel: A2}", "{name: DIMM A4, takes: memory-module, form: [rdimm, 3ds-rdimm], of: CPU2, channel: A2}", code="SG224"),
)  # fmt: skip

ONCE: Final = (
    _one("a platform's draws in kilowatts", PLATFORM, "power: {idle: 20 W, typical: 30 W, maximum: 40 W}", "power: {idle: 20 kW, typical: 30 kW, maximum: 40 kW}", code="SG128"),
    _one("an id that cannot be one", DRIVES, "id: e3-3840,", "id: E3-3840,", "id: E3-3840", "SG112"),
    _one("the key of an id in capitals", DRIVES, "{id: e3-3840,", "{ID: e3-3840,", "ID: e3-3840", "SG111"),
    _one("a range of fans that ends too early", PLATFORM, "name: FAN 5..6, takes", "name: FAN 5, takes", "- {position: FAN 5..6", "SG203"),
    _one("a range of fans that goes on", PLATFORM, "name: FAN 1..4, takes", "name: FAN 1..5, takes", "- {name: FAN 5..6", "SG206"),
    _one("a slot that is there twice", PLATFORM, "{name: DIMM A2,", "{name: DIMM A1,", code="SG206"),
    _one("a line that begins a mapping is gone", FULL, "volumes:\n  - {name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}\n", "conditions: {inlet: 30 degC}\nvolumes:\n  - {name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}\n", "conditions: {inlet: 30", "SG102"),
    _one("a field of one letter's likeness", PROJECT, "documents: [sheet]", "documents: [sheet]\nassumptions:\n  year: {va1ue: 8760 h, source: {document: handbook}}", "year: {va1ue", "SG111"),
    _one("slots of a kind that nobody knows", PLATFORM, "{name: DIMM A2, takes: memory-module,", "{name: DIMM A2, takes: memory-modules,", code="SG115"),
)  # fmt: skip

DOUBTFUL: Final = (
    *EXCHANGED,
    *REACHES,
    *TAKEN,
    *NAMED,
    *WORDS,
    *CHANNELS,
    *ONCE,
)
