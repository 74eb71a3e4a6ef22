# ruff: noqa: E501 (a table reads best with one row a line)
"""Breaks that many checks see, each told once: at the mistake, with what follows from it."""

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
    SMALL,
    Break,
    one,
)

RACK: Final = "redundancy: 1+1, rack_units: 42, rack_load_rating: 1000 kg, per_rack: 400}"

CAUSES: Final[tuple[Break, ...]] = (
    # values of definitions, and what builds make of them
    one("an efficiency that the regulation does not take", HOUSE, "efficiency: 0.965", "efficiency: 0.695", "SG130", "supply-1300"),
    one("inlet air that no part stands", FULL, "inlet: 30 degC", "inlet: 77 degC", "SG130", "inlet: 77 degC"),
    one("inlet air of a project that no part stands", PROJECT, "inlet: 25 degC", "inlet: 77 degC", "SG130", "inlet: 77 degC"),
    one("an even number that builds rested on", PLATFORM, "{of: CPU1, order: [DIMM A1..A4], balanced: [1, 2, 4]}", "{of: CPU1, order: [DIMM A1..A4], balanced: [1, 12, 4]}", "SG118", "balanced: [1, 12, 4]"),
    one("ten times as many systems in a rack", PROJECT, "redundancy: 1+1}", RACK, "SG394", "per_rack: 400"),
    one("a capacity that several modules share", MEMORY, "  capacity: 32 GiB\n", "  capacity: 34 GiB\n", "SG130"),
    one("a draw far above its design power", PROCESSORS, "typical: 150 W, maximum: 205 W", "typical: 150 W, maximum: 2050 W", "SG130", "maximum: 2050 W"),
    one("a typical draw below idle", PLATFORM, "typical: 30 W, maximum: 40 W", "typical: 3 W, maximum: 40 W", "SG118", "typical: 3 W"),
    one("an interface of another generation", DRIVES, "    interface: nvme\n", "    interface: sata\n", "SG118", "interface: sata"),
    # names in definitions, and who uses them
    one("two ports of one name, and links to the one", PROCESSORS, "{name: P4, lanes", "{name: P3, lanes", "SG118"),
    one("an id of another part", HOUSE, "id: riser-two", "id: nic-tall", "SG205"),
    one("no id of a platform", PLATFORM, "id: lantern\n", "", "SG114", "name: Lantern"),
    one("a slot of another kind", PLATFORM, "{name: DIMM A1, takes: memory-module", "{name: DIMM A1, takes: power-cord", "SG217", "DIMM A1, takes: power-cord"),
    one("an empty slot of another kind", PLATFORM, "{name: DIMM B4, takes: memory-module", "{name: DIMM B4, takes: storage-controller", "SG217", "DIMM B4, takes"),
    one("another kind of part", DRIVES, "- kind: drive\n  id: disk-4t", "- kind: blank\n  id: disk-4t", "SG111", "- kind: blank"),
    one("a kind of part with other fields", MEMORY, "kind: memory-module", "kind: management-controller", "SG111", "kind: management-controller"),
    one("no key above a list", PLATFORM, "fixtures:\n", "", "SG111", "{name: Power"),
    one("blanks of another form than all bays that name them", HOUSE, "id: blank-bay, name: Bay blank, form: bay", "id: blank-bay, name: Bay blank, form: fan-40", "SG118"),
    one("a blank of another form than one position", HOUSE, "interface: nvme, swap: hot, from: .J1, lanes: x4, blank: blank-bay}", "interface: nvme, swap: hot, from: .J1, lanes: x4, blank: blank-fan}", "SG118", "BAY 4..5"),
    one("a kind of another's fields, of two parts", CARDS, "- kind: transceiver\n", "- kind: cable\n", "SG111", "- kind: cable"),
    one("a rule with two statements of one name", PLATFORM, "fixtures:\n", "rules:\n  - code: L-1\n    require: processors.count == 9\n    require: processors.count == 2\nfixtures:\n", "SG102", "require: processors.count == 2"),
    one("a link of a position from nowhere, and a rule for it", PLATFORM, "form: ocp-nic-3.0-sff, from: CPU1.P0, lanes: x8, power: 35 W}", "form: ocp-nic-3.0-sff, from: CPU7.P0, lanes: x8, power: 35 W}", "SG204", "- {name: OCP"),
    one("a height in centimetres, and what it would weigh a litre", PLATFORM, "height: 43.6 mm", "height: 43.6 cm", "SG118", "height: 43.6 cm"),
    one("a name for an id", PROCESSORS, "id: corvane-c32", "id: Corvane C32", "SG112"),
    one("a rule of a platform that holds by its own height", PLATFORM, "fixtures:\n", "rules:\n  - {code: L-1, when: platform.rack_units >= 1, require: processors.count >= 1}\nfixtures:\n", "SG228", "- {code: L-1"),
    one("a list without its key below a folded text", PLATFORM, "summary: Two processors in one rack unit", "summary: >-\n  Two processors in one rack unit.\n  - Where a line is rented", "SG130", "- Where a line is rented"),
    one("a dozen lines of a word that no position has", SMALL, "    BAY 0..2: disk-4t", "    BAY 0..2: disk-4t\n" + "\n".join(f"    BOX {at}: disk-4t" for at in range(0, 24, 2)), "SG203", "BOX 0: disk-4t"),
    one("a mark between brackets", FULL, "summary: Everything at once", "summary: Everything (to do) at once", "SG127"),
    one("ranks and device width the other way round", MEMORY, "{id: rdimm-32, name: RDIMM 32 GiB}", "{id: rdimm-32, name: RDIMM 32 GiB 2Rx8, ranks: 8, device_width: 2, attributes: {die density: 16 Gbit}}", "SG130"),
    one("two positions that wait for one another", PLATFORM, "form: spi-tpm}\n  - {name: RAILS, takes: rail-kit}", "form: spi-tpm, of: RAILS}\n  - {name: RAILS, takes: rail-kit, of: TPM}", "SG118", "{name: TPM, takes: tpm, form: spi-tpm, of: RAILS}"),
    one("a cable that leaves out a slot", HOUSE, "lanes: x8, power: 75 W}\n    - id: riser-one", "lanes: x8, power: 75 W}\n        connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: SLOT 2}]\n    - id: riser-one", "SG130", "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: SLOT 2}]"),
    one("a cable that leaves out the slot of a card", HOUSE, "lanes: x8, power: 75 W}\n    - id: riser-one", "lanes: x8, power: 75 W}\n        connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: SLOT 1}]\n    - id: riser-one", "SG130", "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: SLOT 1}]"),
    one("bays from below zero", HOUSE, "{name: BAY 0..3, takes", "{name: BAY -1..3, takes", "SG125"),
    one("bays of a build from below zero", FULL, "  BAY 0..2: sas-1600", "  BAY -1..2: sas-1600", "SG125"),
    # lines of builds, and what hangs on them
    one("no power supplies", FULL, "  PSU 1..2: supply-1300\n", "", "SG353", "fit:"),
    one("a cord for a power supply", SMALL, "PSU 1: supply-300", "PSU 1: cord", "SG301"),
    one("a PCIe cable on a SAS port", FULL, "cable-pcie, to: EDGE 1", "cable-pcie, to: SLOT 1.C0", "SG305"),
    one("a SAS cable on a PCIe connector", FULL, "to: SLOT 1.C0", "to: EDGE 1", "SG305", "to: EDGE 1"),
    one("a cable to another card", FULL, "to: SLOT 1.C0", "to: SLOT 2.C0", "SG204", "to: SLOT 2.C0"),
    one("a card for a riser", FULL, "RISER 1: riser-two", "RISER 1: raid-8", "SG301"),
    one("a riser for a drive", SMALL, "BAY 0..2: disk-4t", "BAY 0..2: riser-one", "SG301"),
    one("a heat sink for a drive", FULL, "BOOT.SSD 1..2: m2-480", "BOOT.SSD 1..2: sink", "SG301"),
    one("a backplane of another machine", SMALL, "FRONT: bays-cold", "FRONT: bays-other", "SG308"),
    one("a card for a drive of a volume", FULL, "BAY 3: sas-1600", "BAY 3: nic-16", "SG301"),
    one("a riser in a position of another number", FULL, "RISER 1: riser-two", "RISER 8: riser-two", "SG203"),
    one("a controller in a slot of another number", FULL, "SLOT 1: raid-8", "SLOT 10: raid-8", "SG203"),
    one("a controller in a slot that is taken", FULL, "  SLOT 1: raid-8", "  SLOT 3: raid-8", "SG102", "SLOT 3: nic-16"),
    one("no position that all builds fill", PLATFORM, "  - {name: FRONT, takes: backplane, area: front, key: lantern}\n", "", "SG203", "FRONT: bays-fast"),
    one("a drive in a bay that is taken", FULL, "  BAY 3: sas-1600", "  BAY 4: sas-1600", "SG209", "BAY 4..5"),
    one("a volume twice", FULL, "  - {name: System,", "  - {name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}\n  - {name: System,", "SG205"),
    one("a line of a part twice", CARDS, "    - id: raid-8\n", "    - id: raid-8\n    - id: raid-8\n", "SG114"),
    one("a line of bays twice", HOUSE, "{name: .J1, takes: cable, form: mcio-8i}", "{name: .J1, takes: cable, form: mcio-8i}\n          - {name: .J0..J1, takes: cable, form: mcio-8i}", "SG206", "{name: .J0..J1, takes: cable, form: mcio-8i}"),
)  # fmt: skip
