# ruff: noqa: E501 (a table reads best with one row a line)
"""Deliberate breaks of the sound project in `base`: one mistake each, with all it must yield."""

from typing import Final, NamedTuple

PROJECT: Final = "specgen.yaml"
PLATFORM: Final = "platforms/lantern.yaml"
PROCESSORS: Final = "catalog/processors.yaml"
MEMORY: Final = "catalog/memory.yaml"
DRIVES: Final = "catalog/drives.yaml"
CARDS: Final = "catalog/cards.yaml"
HOUSE: Final = "catalog/house.yaml"
FULL: Final = "configured/lantern-full.yaml"
KIND: Final = "kinds/coast.yaml"
SMALL: Final = "configured/lantern-small.yaml"


class Break(NamedTuple):
    """An edit of one file, and every finding it leads to: its code and its line's text."""

    name: str
    file: str
    old: str
    new: str
    expected: tuple[tuple[str, str], ...]


def one(name: str, file: str, old: str, new: str, code: str, line: str = "") -> Break:
    """A break with one finding, on the first line of the new text unless stated."""
    return Break(name, file, old, new, ((code, line or new.strip().split("\n")[0]),))


TEXT: Final = (
    one("open bracket", FULL, "fit:", "fit: [", "SG101"),
    one("tab for spaces", FULL, "  CPU1..CPU2", "\tCPU1..CPU2", "SG101"),
    one("repeat a key", FULL, "  PACK 1: pack\n", "  PACK 1: pack\n  PACK 1: pack\n", "SG102", "PACK 1: pack"),
    one("alias within itself", FULL, "fit:", "fit: &all\n  HUB: *all", "SG103", "HUB: *all"),
    one("a tag", FULL, "name: Lantern, full", "name: !!str Lantern", "SG104", "name: !!str Lantern"),
    one("two documents", FULL, "id: lantern-full", "id: lantern-full\n---\nid: b", "SG104", "---"),
    one("a key that is a list", FULL, "  TPM: tpm", "  [TPM]: tpm", "SG104"),
    one("misspell a field", PROCESSORS, "  - id: corvane-c32\n    name: Corvane C32\n    cores:",
         "  - id: corvane-c32\n    name: Corvane C32\n    croes:", "SG111", "croes: 32"),
    one("a field of another kind", DRIVES, "name: Disk 4 TB", "name: Disk 4 TB\n  socket: tern-a", "SG111", "socket: tern-a"),
    one("misspell a field of a position", PLATFORM, "{name: TPM, takes: tpm, form:",
         "{name: TPM, takes: tpm, from_: x, form:", "SG111", "{name: TPM"),
    one("list for a word", FULL, "summary: Everything at once", "summary: [one, two]", "SG112"),
    one("word for a number", PROCESSORS, "memory_channels: 2", "memory_channels: two", "SG112"),
    one("yes for true", MEMORY, "{id: rdimm-64,", "{id: rdimm-64, error_correction: yes,", "SG112"),
    one("octal number", PROCESSORS, "    threads: 64\n", "    threads: 064\n", "SG112"),
    one("mapping for a list", SMALL, "    - {code: SG323,", "    {code: SG323,", "SG112", "allow:"),
    one("a word that is none of the choices", PLATFORM, "operating_class: A2", "operating_class: A9", "SG113"),
    one("a number out of range", PLATFORM, "rack_units: 1", "rack_units: 0", "SG113"),
    one("negative power", DRIVES, "typical: 8 W", "typical: -8 W", "SG113"),
    one("negative output", HOUSE, "name: Supply 300 W, outputs: [{from: 100 V, to: 240 V, output: 300 W}]", "name: Supply 300 W, outputs: [{from: 100 V, to: 240 V, output: -300 W}]", "SG113"),
    one("a placeholder in a published build", FULL, "summary: Everything at once", "summary: to do", "SG127"),
    one("a mark in a comment of a published build", FULL, "  TPM: tpm", "  TPM: tpm  # TODO: which one", "SG127"),
    one("a mark on the line above", FULL, "  TPM: tpm", "  # FIXME\n  TPM: tpm", "SG127", "TPM: tpm"),
    one("a mark in a part that a published build uses", HOUSE, "id: tpm, name: TPM,", "id: tpm, summary: TBD, name: TPM,", "SG127"),
    one("a mark in the platform of a published build", PLATFORM, "summary: Two processors in one rack unit", "summary: 'To do: write it'", "SG127"),
    one("a mark in the project of a published build", PROJECT, "title: Servers for a coast", "title: TODO", "SG127"),
    one("a mark in a part that nobody uses", HOUSE, "id: tpm-new, name: TPM to come,", "id: tpm-new, summary: TBD, name: TPM to come,", "SG126"),
    one("drop a required field", PLATFORM, "mass: 11.2 kg\n", "", "SG114", "id: lantern"),
    one("drop the source", DRIVES, "  swap: cold\n  source: {document: drive table, date: 2026-01-10}\n",
         "  swap: cold\n", "SG114", "kind: drive"),
    one("unknown kind", HOUSE, "{kind: cache-protection,", "{kind: energy-pak,", "SG115"),
    one("a part that needs an unknown kind", CARDS, "- {resource: pcie-8-pin, because: draws more than the slot gives}",
         "- {resource: pcie-8-pin, because: draws more than the slot gives}\n        - {kind: acelerator}", "SG115", "- {kind: acelerator}"),
    one("a position that takes an unknown kind", PLATFORM, "{name: TPM, takes: tpm",
         "{name: TPM, takes: security-moduel", "SG115"),
    one("no document at all", PROJECT, "documents: [sheet]", "documents: []", "SG113"),
    one("spaces around a position", FULL, "  PACK 1: pack", "  ' PACK 1': pack", "SG125"),
    one("field without a value", FULL, "summary: Everything at once", "summary:", "SG116"),
    one("a field of a kind under a taken name", KIND, "{name: shows,", "{name: summary,", "SG117", "- {name: summary, type: choice, choices: [colour, nothing], label: Shows that it is full by}"),
    one("a kind's field of an unknown unit", KIND, "unit: g,", "unit: gr,", "SG123", "- {name: takes_up, type: quantity, unit: gr, label: Takes up, required: true}"),
    one("a kind's field of an unknown type", KIND, "type: choice", "type: choise", "SG113", "- {name: shows, type: choise, choices: [colour, nothing], label: Shows that it is full by}"),
    one("lose the unit", PLATFORM, "mass: 11.2 kg", "mass: 11.2", "SG121"),
    one("unit of another dimension", PLATFORM, "mass: 11.2 kg", "mass: 11.2 W", "SG122"),
    one("unknown unit", PLATFORM, "mass: 11.2 kg", "mass: 11.2 stone", "SG123"),
    one("not a number", PLATFORM, "mass: 11.2 kg", "mass: heavy kg", "SG124"),
    one("range backwards", FULL, "  BAY 0..2: sas-1600", "  BAY 2..0: sas-1600", "SG125"),
    one("letters of a range backwards", FULL, "  DIMM A1..A2: rdimm-32", "  DIMM B1..A2: rdimm-32", "SG125", "DIMM B1..A2"),
    one("a range of too many", FULL, "  DIMM A1..A2: rdimm-32", "  DIMM A1..Z99: rdimm-32", "SG125", "DIMM A1..Z99"),
    one("a range over more than a letter and a number", FULL, "  DIMM A1..A2: rdimm-32", "  DIMM 1A1..2A2: rdimm-32", "SG125", "DIMM 1A1..2A2"),
    one("range without an end", FULL, "  BAY 0..2: sas-1600", "  BAY 0..: sas-1600", "SG125"),
)  # fmt: skip

NAMES: Final = (
    one("digit for a letter in a part", FULL, "  TPM: tpm", "  TPM: tpn", "SG201"),
    one("unknown part in a range", FULL, "  BAY 4..5: e3-3840", "  BAY 4..5: e3-3480", "SG201"),
    one("unknown processor", SMALL, "CPU1: corvane-c16s", "CPU1: corvane-c17s", "SG201"),
    one("unknown part with a far end", FULL, "{part: cable-pcie, to: EDGE 1}",
         "{part: cable-pcei, to: EDGE 1}", "SG201"),
    one("unknown soldered part", PLATFORM, "fixed: watch", "fixed: wacth", "SG201"),
    one("unknown successor", HOUSE, "replaced_by: tpm", "replaced_by: tpmm", "SG201"),
    one("unknown platform", FULL, "platform: lantern", "platform: lantren", "SG202"),
    one("unknown position", FULL, "  TPM: tpm", "  TMP: tpm", "SG203"),
    one("position beyond the last", FULL, "  FAN 5..6: fan", "  FAN 5..7: fan", "SG203"),
    one("position of another riser", FULL, "  RISER 2: riser-one\n  SLOT 3:", "  RISER 2: riser-one\n  SLOT 4:", "SG203", "SLOT 4:"),
    one("mandatory part in a position that is not there", FULL, "  HS 1..2: sink", "  HSS 1..2: sink", "SG203"),
    one("no backplane", FULL, "  FRONT: bays-fast\n", "", "SG203", "FRONT.J0"),
    one("no riser", FULL, "  RISER 1: riser-two\n", "", "SG203", "SLOT 1: raid-8"),
    one("backplane with fewer bays", HOUSE, "name: BAY 4..5, takes", "name: BAY 4, takes", "SG203", "BAY 4..5: e3-3840"),
    one("unknown backplane", FULL, "  FRONT: bays-fast", "  FRONT: bays-quick", "SG201"),
    one("unknown riser", FULL, "  RISER 1: riser-two", "  RISER 1: riser-twin", "SG201"),
    one("unknown controller", FULL, "  SLOT 1: raid-8", "  SLOT 1: raid-9", "SG201"),
    one("supply in a position that is not there", SMALL, "PSU 1: supply-300\n    CORD 1: cord", "PSU 9: supply-300", "SG203"),
    one("link from no port", PLATFORM, "EDGE 1: {from: CPU1.P2", "EDGE 1: {from: CPU1.P9", "SG204"),
    one("cable to no port", FULL, "to: EDGE 1}", "to: EDGE 9}", "SG204"),
    one("cable to no port of a card", FULL, "to: SLOT 1.C0}", "to: SLOT 1.C9}", "SG204"),
    one("cable without a far end", FULL, "{part: cable-pcie, to: EDGE 1}", "cable-pcie", "SG204", "FRONT.J1: cable-pcie"),
    one("two parts with one id", MEMORY, "{id: rdimm-64,", "{id: rdimm-32,", "SG205"),
    one("two builds with one id", SMALL, "id: lantern-small", "id: lantern-full", "SG205"),
    one("position brought twice", PLATFORM, "{name: TPM,", "{name: FRONT, takes: backplane}\n  - {name: TPM,", "SG206", "FRONT, takes: backplane}"),
    one("one order number for two parts", MEMORY, "  - {id: rdimm-64, name: RDIMM 64 GiB,", "  - {id: rdimm-48, name: RDIMM 48 GiB, capacity: 48 GiB, number: QM-64}\n  - {id: rdimm-64, name: RDIMM 64 GiB, number: qm-64,", "SG214", "- {id: rdimm-64, name: RDIMM 64 GiB, number: qm-64"),
    Break("a form that no part has", PLATFORM, "form: spi-tpm", "form: spi-tmp", (("SG220", "- {name: TPM, takes"),)),
    one("a form that no part has by far", PLATFORM, "form: boot-card, connector", "form: mezzanine, connector", "SG217", "- {name: BOOT"),
    one("unknown family", PLATFORM, "family: coast", "family: coats", "SG207"),
    one("position filled twice", FULL, "  TPM: tpm", "  FAN 1: fan", "SG209"),
    one("ranges that overlap", FULL, "  BAY 3: sas-1600", "  BAY 2..3: sas-1600", "SG209"),
    one("links in a circle", PLATFORM, "EDGE 1: {from: CPU1.P2", "EDGE 1: {from: EDGE 1", "SG210"),
    one("two ports behind each other", CARDS, "name: S0..S1, lanes: x8, carries: {sata: 3}, form: slimsas-8i, swap: cold, drives: 4}",
         "name: S0, lanes: x8, carries: {sata: 3}, form: slimsas-8i, swap: cold, drives: 4, behind: .S1}\n          - {name: S1, lanes: x8, carries: {sata: 3}, form: slimsas-8i, swap: cold, drives: 4, behind: .S0}", "SG210"),
    one("a position of no power supply on a feed", PLATFORM, "population:", "feeds: {A: PSU 1, B: PSU 3}\npopulation:", "SG203", "feeds: {A: PSU 1, B: PSU 3}"),
    one("a feed of a build with a position that is not there", FULL, "redundancy: 1+1}", "redundancy: 1+1, feeds: 2}\nfeeds: {A: PSU 11}", "SG203", "feeds: {A: PSU 11}"),
    one("a position of no position", PLATFORM, "{name: TPM,", "{name: TPM, of: CPU9,", "SG203"),
    one("a neighbour that is no position", HOUSE, "neighbour: SLOT 2", "neighbour: SLOT 22", "SG203", "- {name: SLOT 1, takes: [storage"),
    one("a part takes away no position", HOUSE, "id: tpm, name: TPM,", "id: tpm, blocks: BAY 99, name: TPM,", "SG203", "- {kind: tpm, id: tpm, blocks"),
    one("a need of no position", PLATFORM, "{position: FAN 5..6,", "{position: FAN 5..9,", "SG203", "- {position: FAN 5..9"),
    one("an order of no position", PLATFORM, "order: [DIMM A1..A4]", "order: [DIMM A1..A5]", "SG203", "- {of: CPU1, order"),
    one("alternatives of no position", PLATFORM, "mass: 11.2 kg\n", "mass: 11.2 kg\nalternatives: [RISER 1, RISER 3]\n", "SG203", "alternatives: [RISER 1, RISER 3]"),
    one("allowance without use", FULL, "volumes:\n", "allow:\n  - {code: SG323, reason: none}\nvolumes:\n", "SG212", "{code: SG323"),
    one("an error cannot be allowed", FULL, "volumes:\n", "allow:\n  - {code: SG331, reason: none}\nvolumes:\n", "SG212", "{code: SG331"),
    one("allowance for an unknown code", FULL, "volumes:\n", "allow:\n  - {code: SG32, reason: none}\nvolumes:\n", "SG212", "{code: SG32"),
    one("a platform shown by a build that is not there", PLATFORM, "mass: 11.2 kg\n", "mass: 11.2 kg\nshown: lantern-fulll\n", "SG225", "shown: lantern-fulll"),
)  # fmt: skip

FIT: Final = (
    one("part of another kind", FULL, "  TPM: tpm", "  TPM: pack", "SG301"),
    one("blank where none belongs", FULL, "  TPM: tpm", "  TPM: blank-fan", "SG301"),
    one("processor for another socket", SMALL, "CPU1: corvane-c16s", "CPU1: corvane-b8", "SG302"),
    one("heat sink too tall", FULL, "  HS 1..2: sink", "  HS 1..2: sink-tall", "SG303"),
    one("card too tall", FULL, "  SLOT 3: nic-16", "  SLOT 3: nic-tall", "SG303"),
    one("card too long", FULL, "  SLOT 3: nic-16", "  SLOT 3: nic-long", "SG304"),
    one("module of another form", FULL, "  DIMM A1..A2: rdimm-32", "  DIMM A1..A2: udimm-16", "SG305"),
    one("fan of another size", SMALL, "FAN 1..4: fan", "FAN 1..4: fan-wide", "SG305"),
    one("card two slots wide with no slot beside it", FULL, "  SLOT 3: nic-16", "  SLOT 3: accel-wide", "SG310"),
    one("wide card in a narrow connector", FULL, "  RISER 2: riser-one", "  RISER 2: riser-narrow", "SG305", "SLOT 3: nic-16"),
    one("cable that ends in another connector", PLATFORM, "EDGE 1: {from: CPU1.P2, lanes: x8, form: mcio-8i}",
         "EDGE 1: {from: CPU1.P2, lanes: x8, form: slimsas-8i}", "SG305", "FRONT.J1: {part: cable-pcie"),
    one("cable that begins in another connector", FULL, "{part: cable-pcie, to: EDGE 1}", "{part: cable-sas, to: EDGE 1}", "SG305", "FRONT.J1"),
    one("drive of another interface", FULL, "  BAY 0..2: sas-1600", "  BAY 0..2: nvme-2.5", "SG306"),
    one("memory of another technology", FULL, "  DIMM B1..B2: rdimm-32", "  DIMM B1..B2: rdimm-32-old", "SG306"),
    one("drive of another swap class", FULL, "  BAY 3: sas-1600", "  BAY 3: sas-cold", "SG307"),
    one("port that serves another swap class", CARDS, "swap: [hot, cold]}", "swap: cold}", "SG307", "BAY 0..2: sas-1600"),
    one("heat sink with other screws", FULL, "  HS 1..2: sink", "  HS 1..2: sink-key", "SG308"),
    one("backplane of another machine", SMALL, "FRONT: bays-cold\n    FRONT.J0: {part: cable-sata, to: HUB.S0}\n    FRONT.J1: {part: cable-sata, to: HUB.S1}\n    BAY 0..2: disk-4t\n  volumes:\n    - {name: Readings, level: 1, drives: BAY 0..1}\n",
         "FRONT: bays-other\n", "SG308"),
    one("another part in place of a soldered one", FULL, "  TPM: tpm", "  TPM: tpm\n  BMC: tpm", "SG365", "BMC: tpm"),
    one("cable to a connector without a form", PLATFORM, "EDGE 1: {from: CPU1.P2, lanes: x8, form: mcio-8i}",
         "EDGE 1: {from: CPU1.P2, lanes: x8}", "SG305", "FRONT.J1: {part: cable-pcie"),
    one("cable to a port without a form", CARDS, "form: slimsas-8i, swap: [hot, cold]}", "swap: [hot, cold]}", "SG305", "FRONT.J0: {part: cable-sas"),
    one("part that is not listed", FULL, "CPU1..CPU2: corvane-c32", "CPU1..CPU2: corvane-c24", "SG309"),
)  # fmt: skip

PLACES: Final = (
    one("no second processor", FULL, "CPU1..CPU2: corvane-c32", "CPU1: corvane-c32", "SG311", "HS 1..2: sink"),
    one("second processor's place used without it", SMALL, "HS 1: sink", "HS 1..2: sink", "SG311"),
    one("no cable to the bays", FULL, "  FRONT.J1: {part: cable-pcie, to: EDGE 1}\n", "", "SG311", "BAY 4..5: e3-3840"),
    one("no cable to the hub", SMALL, "    FRONT.J1: {part: cable-sata, to: HUB.S1}\n", "", "SG311", "BAY 0..2: disk-4t"),
    one("no controller behind the bays", FULL, "  SLOT 1: raid-8\n", "", "SG311", "BAY 0..2: sas-1600"),
    one("cable to the processor that is missing", SMALL, "to: HUB.S1}", "to: CPU2.P0}", "SG311", "BAY 0..2: disk-4t"),
    one("slot behind a wide card", HOUSE, "id: riser-two\n", "id: riser-two\n      blocks: PACK 1\n", "SG312", "PACK 1: pack"),
    one("slot that a wide card covers", CARDS, "keeps_cache: cache-protection", "keeps_cache: cache-protection\n      places: 2", "SG312", "SLOT 2: accel-aux"),
    one("part that blocks a position", HOUSE, "id: tpm, name: TPM,", "id: tpm, blocks: PACK 1, name: TPM,", "SG312", "PACK 1: pack"),
    one("no resource of that name", PLATFORM, "resources: {pcie-8-pin: 1}\n", "", "SG313", "SLOT 2: accel-aux"),
    one("part needs another kind", HOUSE, "form: spi-tpm, source: {document: security}}", "form: spi-tpm, needs: [{kind: bezel}], source: {document: security}}", "SG313", "TPM: tpm"),
    one("part needs a named part", HOUSE, "form: spi-tpm, source: {document: security}}", "form: spi-tpm, needs: [{part: [sink-tall, sink-strong]}], source: {document: security}}", "SG313", "TPM: tpm"),
    one("part needs a position filled", HOUSE, "form: spi-tpm, source: {document: security}}", "form: spi-tpm, needs: [{position: PACK 2}], source: {document: security}}", "SG313", "TPM: tpm"),
    Break("ports faster than the link to the host", HOUSE, "from: .A, lanes: x16", "from: .A, lanes: x4", (("SG317", "SLOT 3: nic-16"), ("SG382", "SLOT 3: nic-16"))),
    one("power connectors of another kind", PLATFORM, "resources: {pcie-8-pin: 1}", "resources: {12v-2x6: 4}", "SG313", "SLOT 2: accel-aux"),
    one("more drawn than slot and connectors carry", CARDS, "id: accel-aux\n", "id: accel-aux\n      power: {maximum: 226 W}\n", "SG356", "SLOT 2: accel-aux"),
    one("more of a resource than there is", CARDS, "{resource: pcie-8-pin,", "{resource: pcie-8-pin, count: 2,", "SG314", "SLOT 2: accel-aux"),
    one("a power connector whose cable does not reach the card", PLATFORM, "resources: {pcie-8-pin: 1}", "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: [SLOT 3, OCP]}]", "SG314", "SLOT 2: accel-aux"),
    one("a power connector that reaches no position there is", PLATFORM, "resources: {pcie-8-pin: 1}", "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: SLOT 1..2}, {name: AUX 2, resource: pcie-8-pin, reaches: SLOT 22}]", "SG203", "connectors: [{name: AUX 1"),
    one("two processors of one line without memory", FULL, "  DIMM A1..A2: rdimm-32\n  DIMM B1..B2: rdimm-32\n", "", "SG325", "CPU1..CPU2: corvane-c32"),
    one("more drives than the controller serves", CARDS, "drives: 8\n", "drives: 3\n", "SG314", "BAY 0..2: sas-1600"),
    one("more drives than the port serves", CARDS, "swap: cold, drives: 4}", "swap: cold, drives: 1}", "SG314", "BAY 0..2: disk-4t"),
    one("more memory than the processor addresses", PROCESSORS, "memory_limit: 256 GiB", "memory_limit: 64 GiB", "SG314", "DIMM A1..A3: rdimm-32-slow"),
    one("more lanes than the connector has", PLATFORM, "EDGE 1: {from: CPU1.P2, lanes: x8", "EDGE 1: {from: CPU1.P2, lanes: x4", "SG315", "BAY 4..5: e3-3840"),
    one("more lanes than the port has", PLATFORM, "EDGE 1: {from: CPU1.P2", "EDGE 1: {from: CPU1.P1", "SG315", "BAY 4..5: e3-3840"),
    one("more lanes than the riser hands on", PLATFORM, "leads: {A: {from: CPU1.P1, lanes: x16}}", "leads: {A: {from: CPU1.P1, lanes: x8}}", "SG315", "SLOT 1: raid-8"),
    one("port that cannot split", PROCESSORS, "splits: [8+8, 4+4+4+4]", "splits: [4+4+4+4]", "SG316", "SLOT 1: raid-8"),
    one("link narrower than the card", HOUSE, "from: .A, lanes: x16, power", "from: .A, lanes: x8, power", "SG317", "SLOT 3: nic-16"),
    one("link slower than the drive", PLATFORM, "EDGE 1: {from: CPU1.P2,", "EDGE 1: {from: CPU1.P2, generation: 4,", "SG317", "BAY 4..5: e3-3840"),
    one("no heat sink", FULL, "  HS 1..2: sink\n", "", "SG336", "CPU1..CPU2: corvane-c32"),
    one("no heat sink for one of two", FULL, "  HS 1..2: sink\n", "  HS 1: sink\n", "SG336", "CPU1..CPU2: corvane-c32"),
    one("no processors", FULL, "  CPU1..CPU2: corvane-c32\n", "", "SG318", "fit:"),
    one("no processor", SMALL, "    CPU1: corvane-c16s\n", "", "SG318", "fit:"),
    one("no fans", SMALL, "    FAN 1..4: fan\n", "", "SG318", "fit:"),
    one("SAS drives on a SATA cable", FULL, "cable-sas, to: SLOT 1.C0", "cable-sata, to: SLOT 1.C0", "SG319", "BAY 0..2: sas-1600"),
    one("SAS drives on a SATA controller", CARDS, "carries: {sas: 4, sata: 3}, form", "carries: {sata: 3}, form", "SG319", "BAY 0..2: sas-1600"),
)  # fmt: skip

SYSTEM: Final = (
    one("types of memory mixed", FULL, "  DIMM B1..B2: rdimm-32", "  DIMM B1..B2: rdimm-128-3ds", "SG321"),
    one("device widths mixed", FULL, "  DIMM B1..B2: rdimm-32", "  DIMM B1..B2: rdimm-32-x4", "SG321"),
    one("ranks mixed on a channel", SMALL, "DIMM A1..A3: rdimm-32-slow", "DIMM A1..A2: rdimm-32-slow\n    DIMM A3: rdimm-32-slow-r1", "SG321", "DIMM A3: rdimm-32-slow-r1"),
    one("memory out of order", FULL, "  DIMM A1..A2: rdimm-32", "  DIMM A2..A3: rdimm-32", "SG322"),
    one("uneven number of modules", PLATFORM, "order: [DIMM B1..B4], balanced: [1, 2, 4]", "order: [DIMM B1..B4], balanced: [1, 4]", "SG323", "DIMM B1..B2: rdimm-32"),
    one("processors with different numbers of modules", FULL, "  DIMM B1..B2: rdimm-32", "  DIMM B1: rdimm-32", "SG323"),
    one("channels of different size", FULL, "  DIMM A1..A2: rdimm-32", "  DIMM A1: rdimm-32\n  DIMM A2: rdimm-64", "SG323", "DIMM A2: rdimm-64"),
    one("allowance dropped", SMALL, "  allow:\n    - {code: SG323, reason: The fourth module comes with the next order}\n", "", "SG323", "DIMM A1..A3: rdimm-32-slow"),
    one("memory slower than its modules", PLATFORM, "memory_speed: {1: 5600 MT/s,", "memory_speed: {1: 5200 MT/s,", "SG324", "DIMM A1..A2: rdimm-32"),
    one("a slower module among faster", FULL, "  DIMM B1..B2: rdimm-32", "  DIMM B1..B2: rdimm-32-slow", "SG324", "DIMM A1..A2: rdimm-32"),
    one("processor above its socket", PLATFORM, "CPU1, takes: processor, socket: tern-a, tdp: 350 W", "CPU1, takes: processor, socket: tern-a, tdp: 200 W", "SG331", "CPU1..CPU2: corvane-c32"),
    one("processor above its heat sink", FULL, "CPU1..CPU2: corvane-c32", "CPU1..CPU2: corvane-c96", "SG332", "HS 1..2: sink"),
    one("fans missing for two processors", FULL, "  FAN 5..6: fan\n", "", "SG333", "CPU1..CPU2: corvane-c32"),
    one("processors mixed", FULL, "CPU1..CPU2: corvane-c32", "CPU1: corvane-c32\n  CPU2: corvane-c16s", "SG334", "CPU2: corvane-c16s"),
    one("two of a processor that works alone", FULL, "CPU1..CPU2: corvane-c32", "CPU1..CPU2: corvane-c16s", "SG334"),
    one("inlet above the class", FULL, "inlet: 30 degC", "inlet: 36 degC", "SG335", "conditions: {inlet: 36"),
    one("inlet above the class up a mountain", FULL, "inlet: 30 degC", "inlet: 34 degC, altitude: 1500 m", "SG335", "conditions: {inlet: 34"),
    one("inlet above what a part takes", HOUSE, "id: tpm, name: TPM,", "id: tpm, inlet_limit: 28 degC, name: TPM,", "SG335", "conditions: {inlet: 30"),
    one("inlet of the project above what a part takes", DRIVES, "name: Disk 4 TB", "name: Disk 4 TB\n  inlet_limit: 20 degC", "SG335", "BAY 0..2: disk-4t"),
    one("cache without its cache protection module", FULL, "  PACK 1: pack\n", "", "SG341", "SLOT 1: raid-8"),
    one("level the controller does not offer", CARDS, "raid: [0, 1, 5, 6, 10, 50, 60]", "raid: [0, 1]", "SG342", "name: Data, level: 5"),
    one("level that does not exist", FULL, "level: 5", "level: 7", "SG342", "name: Data, level: 7"),
    one("volume on a processor's port", FULL, "level: 5, drives: BAY 0..2, spares: BAY 3}", "level: 1, drives: BAY 4..5}", "SG342", "name: Data, level: 1"),
    one("too few drives", FULL, "drives: BAY 0..2,", "drives: BAY 0..1,", "SG343", "name: Data"),
    one("odd number of drives in pairs", FULL, "level: 5, drives: BAY 0..2, spares: BAY 3", "level: 10, drives: BAY 0..2, spares: BAY 3", "SG343", "name: Data"),
    one("groups that are not equal", FULL, "level: 5, drives: BAY 0..2, spares: BAY 3", "level: 50, groups: 2, drives: BAY 0..3", "SG343", "name: Data"),
    one("volume with an empty bay", SMALL, "drives: BAY 0..1", "drives: BAY 2..3", "SG344", "name: Readings"),
    one("volume with a position that is not there", SMALL, "drives: BAY 0..1", "drives: [BAY 0, BAY 9]", "SG344", "name: Readings"),
    one("two volumes of one name", FULL, "name: System, level", "name: Data, level", "SG205", "name: Data, level: 1"),
    one("drive of two volumes", FULL, "spares: BAY 3}", "spares: BAY 2}", "SG344", "name: Data"),
    one("unequal drives", FULL, "  BAY 0..2: sas-1600", "  BAY 0..1: sas-3200\n  BAY 2: sas-1600", "SG345", "name: Data"),
    one("hot spare smaller than the members", FULL, "  BAY 0..2: sas-1600", "  BAY 0..2: sas-3200", "SG347", "name: Data"),
    one("hot spare of another interface", FULL, "  BAY 0..2: sas-1600", "  BAY 0..2: sata-960", "SG347", "name: Data"),
    one("volume over two controllers", FULL, "spares: BAY 3}", "spares: BAY 4}", "SG346", "name: Data"),
    one("supplies overloaded", SMALL, "CPU1: corvane-c16s", "CPU1: corvane-c32\n    CPU2: corvane-c32\n    HS 2: sink\n    DIMM B1..B3: rdimm-32-slow\n    FAN 5..6: fan", "SG351", "PSU 1: supply-300"),
    one("supplies mixed", FULL, "  PSU 1..2: supply-1300", "  PSU 1: supply-1300\n  PSU 2: supply-800", "SG352", "PSU 2: supply-800"),
    one("no supply", SMALL, "    PSU 1: supply-300\n    CORD 1: cord\n", "", "SG353", "fit:"),
    one("one supply for one plus one", FULL, "  PSU 1..2: supply-1300\n  CORD 1..2: cord", "  PSU 1: supply-1300\n  CORD 1: cord", "SG353", "conditions: {inlet: 30 degC, redundancy: 1+1}"),
    one("one supply cannot carry the build alone", FULL, "  PSU 1..2: supply-1300", "  PSU 1..2: supply-600", "SG354", "conditions: {inlet: 30 degC, redundancy: 1+1}"),
    one("low line lowers what a supply gives", FULL, "{inlet: 30 degC, ", "{inlet: 30 degC, line: 120 V, ", "SG354", "conditions: {inlet: 30 degC, line: 120 V"),
    one("line voltage outside every range", FULL, "{inlet: 30 degC, ", "{inlet: 30 degC, line: 150 V, ", "SG355", "conditions: {inlet: 30 degC, line: 150 V"),
    Break("line voltage of the project outside every range", HOUSE, "name: Supply 300 W, outputs: [{from: 100 V, to: 240 V", "name: Supply 300 W, outputs: [{from: 100 V, to: 127 V",
          (("SG118", "curve_at: 230 V"),)),
    one("inlets without a cord", FULL, "  CORD 1..2: cord\n", "", "SG350", "PSU 1..2: supply-1300"),
    one("connector that does not go onto the inlet", FULL, "  CORD 1..2: cord", "  CORD 1..2: cord-large", "SG357"),
    one("plug that does not go into the outlet", FULL, "redundancy: 1+1}", "redundancy: 1+1, outlet: CEE 7/3}", "SG357", "CORD 1..2: cord"),
    one("plug for another voltage", FULL, "  CORD 1..2: cord", "  CORD 1..2: cord-america", "SG358"),
    one("cord for a lower voltage", FULL, "  CORD 1..2: cord", "  CORD 1..2: cord-low", "SG358"),
    one("circuit too weak for one supply alone", FULL, "redundancy: 1+1}", "redundancy: 1+1, circuit: 3 A}", "SG359", "conditions: {inlet: 30 degC, redundancy: 1+1, circuit: 3 A}"),
    one("circuit too weak under the NEC", FULL, "redundancy: 1+1}", "redundancy: 1+1, circuit: 4 A, circuit_rule: nec}", "SG359", "conditions: {inlet: 30 degC, redundancy: 1+1, circuit: 4 A"),
    one("supply rated for less current", HOUSE, "    curve_at: 230 V\n", "    curve_at: 230 V\n    input_current: 2 A\n", "SG130", "input_current: 2 A"),
    one("cord too thin once a supply has failed", FULL, "  CORD 1..2: cord", "  CORD 1..2: cord-thin", "SG359"),
    one("DC line for supplies of AC", FULL, "{inlet: 30 degC, ", "{inlet: 30 degC, line: -48 V, ", "SG355", "conditions: {inlet: 30 degC, line: -48 V"),
    one("card above the power of its slot", FULL, "  SLOT 2: accel-aux", "  SLOT 2: accel-bare", "SG356"),
    one("more memory channels used than the processor has", PROCESSORS, "memory_channels: 2", "memory_channels: 1", "SG326", "memory_channels: 1"),
    one("memory mode that cannot protect a channel", SMALL, "  summary: One processor\n", "  summary: One processor\n  memory_mode: mirrored\n", "SG382", "memory_mode"),
    one("no memory for the second processor", FULL, "  DIMM B1..B2: rdimm-32\n", "", "SG325", "CPU1..CPU2: corvane-c32"),
    one("no memory at all", SMALL, "    DIMM A1..A3: rdimm-32-slow\n", "", "SG325", "CPU1: corvane-c16s"),
    one("memory of a technology that nobody describes", MEMORY, "technology: ddr4}", "technology: ddr7}", "SG219"),
    one("adapter faster than its link", CARDS, "PORT 1..2, speed: 100 Gbit/s, connector: qsfp28", "PORT 1..6, speed: 100 Gbit/s, connector: qsfp28", "SG382", "SLOT 3: nic-16"),
    one("too little air for the rise stated", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, rise: 2 K}", "SG390"),
    one("too little air once a fan has failed", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, rise: 8.2 K}", "SG390"),
    Break("a rack that is too narrow", PLATFORM, "mass: 11.2 kg\n", "mass: 11.2 kg\nbody_width: 434 mm\nconditions: {rack_opening: 430 mm}\n",
          (("SG397", "conditions: {rack_opening: 430 mm}"),)),
    one("a rack that is too shallow", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, rack_depth: 700 mm}", "SG391"),
    one("rails too short for the rack", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, rail_distance: 1 m}", "SG392", "RAILS: rails"),
    one("rails too long for the rack", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, rail_distance: 500 mm}", "SG392", "RAILS: rails"),
    one("a system too heavy for its rails", HOUSE, "load_rating: 30 kg", "load_rating: 10 kg", "SG393", "RAILS: rails"),
    one("more systems than the rack has units", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, rack_units: 3, per_rack: 4}", "SG394"),
    one("a rack loaded beyond its rating", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, rack_load_rating: 20 kg, per_rack: 2}", "SG395"),
    one("a floor loaded beyond its rating", FULL, "conditions: {inlet: 30 degC, redundancy: 1+1}", "conditions: {inlet: 30 degC, redundancy: 1+1, floor_load_rating: 1 kN/m2, rack_width: 600 mm, rack_length: 1 m, rack_mass: 100 kg}", "SG396"),
    one("discontinued part in a published build", FULL, "  TPM: tpm", "  TPM: tpm-old", "SG361"),
    one("planned part in a published build", FULL, "  TPM: tpm", "  TPM: tpm-new", "SG366"),
    one("part that is introduced later", HOUSE, "id: tpm, name: TPM,", "id: tpm, life: {introduced: 2026-04-01}, name: TPM,", "SG366", "TPM: tpm"),
    one("part that is active from a later day on", HOUSE, "id: tpm, name: TPM,", "id: tpm, life: {since: 2026-04-01}, name: TPM,", "SG366", "TPM: tpm"),
    one("part that could be ordered until yesterday", HOUSE, "id: tpm, name: TPM,", "id: tpm, life: {last_time_buy: 2026-03-01}, name: TPM,", "SG361", "TPM: tpm"),
    one("part that will be discontinued", HOUSE, "id: tpm, name: TPM,", "id: tpm, life: {status: discontinued, since: 2026-03-03}, name: TPM,", "SG362", "TPM: tpm"),
    one("part on last-time buy before it was introduced", HOUSE, "life: {status: planned}", "life: {status: last-time-buy, since: 2026-01-01, introduced: 2026-02-01}", "SG218", "- {kind: tpm, id: tpm-new"),
    one("part ordered until before it was introduced", HOUSE, "life: {status: planned}", "life: {introduced: 2026-02-01, last_time_buy: 2026-01-01}", "SG218", "- {kind: tpm, id: tpm-new"),
    one("part that is planned and introduced", HOUSE, "life: {status: planned}", "life: {status: planned, introduced: 2026-02-01}", "SG218", "- {kind: tpm, id: tpm-new"),
    one("part discontinued while it could be ordered", HOUSE, "since: 2026-01-31, replaced_by: tpm}", "since: 2026-01-31, last_time_buy: 2026-02-28, replaced_by: tpm}", "SG218", "- {kind: tpm, id: tpm-old"),
    one("part that replaces itself", HOUSE, "replaced_by: tpm}", "replaced_by: tpm-old}", "SG218", "- {kind: tpm, id: tpm-old"),
    one("successors in a circle", HOUSE, "life: {status: planned}}\n", "life: {status: planned, replaced_by: tpm-last}}\n- {kind: tpm, id: tpm-last, name: Last, form: spi-tpm, source: {document: security}, life: {replaced_by: tpm-new}}\n", "SG218", "- {kind: tpm, id: tpm-last"),
    one("two cables on one connector", SMALL, "to: HUB.S1}", "to: HUB.S0}", "SG363", "FRONT.J1"),
    one("transceiver of another form", FULL, "  OCP.PORT 1..2: sfp28-sr", "  OCP.PORT 1..2: qsfp28-sr", "SG364"),
    one("transceiver too fast for the port", CARDS, "speed: 25 Gbit/s, connector: sfp28", "speed: 10 Gbit/s, connector: sfp28", "SG364", "OCP.PORT 1..2: sfp28-sr"),
)  # fmt: skip


def _rule(name: str, condition: str, code: str) -> Break:
    """A rule on the platform whose condition cannot be read."""
    line = f"  - {{code: QW-1, require: {condition}}}"
    return one(
        name, PLATFORM, "operating_class: A2", f"operating_class: A2\nrules:\n{line}", code, line
    )


RULES: Final = (
    _rule("open bracket in a rule", "'count(drives <= 8'", "SG131"),
    _rule("a function of its own in a rule", "'(lambda x) > 8'", "SG131"),
    _rule("a power in a rule", "'drives.count ** 2 > 8'", "SG132"),
    _rule("misspell a collection in a rule", "'drivse.count <= 8'", "SG133"),
    _rule("misspell a field in a rule", "'part(\"CPU1\").tpd <= \"200 W\"'", "SG133"),
    _rule("misspell a word in a rule", "'all(d.swap != \"cool\" for d in drives)'", "SG133"),
    _rule("a quantity beside a number in a rule", "'inlet <= 30'", "SG134"),
    _rule("lose the unit in a rule", "'inlet <= \"30\"'", "SG121"),
    _rule("unit of another dimension in a rule", "'inlet <= \"30 W\"'", "SG122"),
    _rule("a rule that states nothing", "drives.count", "SG135"),
    _rule("a rule without end", f"'{'1 + ' * 300}1 > 2'", "SG136"),
    _rule("a rule that requires and forbids", "drives.count > 0, forbid: fans.count > 99", "SG137"),
    _rule("unknown part in a rule", "'not has(\"raid-9\")'", "SG201"),
    _rule("unknown platform in a rule", "'platform.id != \"latern\"'", "SG202"),
    _rule("unknown position in a rule", "'not filled(\"FAN 9\")'", "SG203"),
    _rule("unknown fact in a rule", "'fact(\"power.maxmum\") < \"9 kW\"'", "SG211"),
    _rule("an attribute that no part declares", "'any(d.attributes[\"set\"] == \"x\" for d in drives)'", "SG216"),
    one("two rules with one code", PLATFORM, "operating_class: A2",
         "operating_class: A2\nrules:\n  - {code: QW-1, require: fans.count > 0}\n  - {code: QW-1, forbid: fans.count > 99}",
         "SG205", "{code: QW-1, forbid"),
    one("a value over several things whose key does not say which", PROJECT, "documents: [sheet]",
         "documents: [sheet]\nvalues:\n  - {key: house.mass, label: Mass, over: fans, expression: it.mass}",
         "SG138", "{key: house.mass"),
    one("a value that rests on itself", PROJECT, "documents: [sheet]",
         "documents: [sheet]\nvalues:\n  - {key: house.a, label: A, expression: 'fact(\"house.a\") + 1'}",
         "SG139", "{key: house.a"),
    one("a code that looks like the program's own", PLATFORM, "operating_class: A2",
         "operating_class: A2\nrules:\n  - {code: SG-331, require: fans.count > 0}", "SG112", "{code: SG-331"),
    one("dates of a rule swapped", PLATFORM, "operating_class: A2",
         "operating_class: A2\nrules:\n  - {code: QW-1, require: fans.count > 0, from: 2026-05-01, until: 2026-04-01}", "SG113", "{code: QW-1"),
)  # fmt: skip


def _platform(name: str, old: str, new: str, line: str = "") -> Break:
    return one(name, PLATFORM, old, new, "SG118", line)


SUPPLY: Final = "name: Supply 800 W, outputs: [{from: 100 V, to: 240 V, output: 800 W}]"


def _supply(name: str, text: str) -> Break:
    """A break of a power supply that no build holds."""
    return one(name, HOUSE, SUPPLY, f"name: Supply 800 W, {text}", "SG118", "id: supply-800")


CONTRADICTIONS: Final = (
    one("a supply on two feeds", PLATFORM, "population:", "feeds: {A: PSU 1..2, B: PSU 2}\npopulation:", "SG118", "feeds: {A: PSU 1..2"),
    one("a build on a feed that is not stated", FULL, "volumes:", "feeds: {A: PSU 1}\nvolumes:", "SG118", "feeds: {A: PSU 1}"),
    one("a build on more feeds than are stated", FULL, "redundancy: 1+1}", "redundancy: 1+1, feeds: 2}\nfeeds: {A: PSU 1, C: PSU 2}", "SG118", "feeds: {A: PSU 1, C"),
    one("boost below base", PROCESSORS, "base_clock: 2.4 GHz", "base_clock: 4.4 GHz", "SG118"),
    one("threads below cores", PROCESSORS, "    cores: 24\n", "    cores: 240\n", "SG118"),
    one("clock of vectors above the maximum", PROCESSORS, "max_clock: 3.6 GHz", "max_clock: 3.6 GHz\n  vector_clock: 3.8 GHz", "SG118", "vector_clock: 3.8"),
    one("clock of vectors above the base clock where there is no boost", PROCESSORS, "max_clock: 3.6 GHz", "vector_clock: 2.6 GHz", "SG118", "vector_clock: 2.6"),
    one("idle above typical", PROCESSORS, "{idle: 60 W, typical: 150 W", "{idle: 160 W, typical: 150 W", "SG118", "power: {idle: 160 W"),
    one("typical above maximum", DRIVES, "typical: 8 W", "typical: 88 W", "SG118"),
    _platform("idle of the board above its maximum", "power: {idle: 20 W, typical: 30 W,", "power: {idle: 50 W,"),
    one("measurement of other parts", SMALL, "  summary: One processor\n", "  summary: One processor\n  measured: {source: {document: report}, of: 0123abcd, idle: 200 W}\n", "SG383", "measured: {source"),
    one("measured idle above measured maximum", SMALL, "  summary: One processor\n", "  summary: One processor\n  measured: {source: {document: report}, idle: 300 W, maximum: 200 W}\n", "SG118", "measured: {source"),
    _platform("higher than its rack units", "height: 43.6 mm", "height: 88.1 mm"),
    _platform("a chassis of no height", "height: 43.6 mm", "height: 0 mm"),
    _platform("a slot twice in the order", "order: [DIMM A1..A4]", "order: [DIMM A1..A4, DIMM A2]"),
    _platform("a slot in two orders", "order: [DIMM B1..B4]", "order: [DIMM B1..B4, DIMM A4]"),
    _platform("even numbers beyond the slots", "order: [DIMM B1..B4], balanced: [1, 2, 4]", "order: [DIMM B1..B4], balanced: [1, 2, 8]"),
    one("memory faster with more modules", PLATFORM, "memory_speed: {1: 5600 MT/s, 2: 4800 MT/s}", "memory_speed: {1: 4800 MT/s, 2: 5600 MT/s}", "SG118"),
    Break("two positions of one another", PLATFORM, "{name: PACK 1..2, takes: cache-protection}",
          "{name: PACK 1, of: PACK 2, takes: cache-protection}\n  - {name: PACK 2, of: PACK 1, takes: cache-protection}",
          (("SG118", "PACK 1, of: PACK 2"),)),
    _platform("a position beside itself", "{name: BOOT, takes: boot-module,", "{name: BOOT, neighbour: BOOT, takes: boot-module,"),
    _platform("a position closed by what closes nothing", "blank: blank-fan}", "blank: fan}", "{name: FAN 5..6"),
    _platform("soldered in and closed", "fixed: watch}", "fixed: watch, blank: blank-fan}"),
    _platform("soldered in where it does not go", "{name: BMC, takes: management-controller,", "{name: BMC, takes: bezel,"),
    _platform("more lanes than contacts", "connector: x4, from: CPU1.P4, lanes: x4", "connector: x4, from: CPU1.P4, lanes: x8"),
    one("a split that does not add up", PROCESSORS, "splits: [8+8, 4+4+4+4]", "splits: [8+8, 4+4+4+4, 8+4]", "SG118"),
    one("a card of more lanes than contacts", CARDS, "      connector: x4\n      lanes: x4\n      raid: [0, 1]", "      connector: x1\n      lanes: x4\n      raid: [0, 1]", "SG118", "lanes: x4"),
    one("a cache kept that is not there", CARDS, "      cache: 4 GiB\n", "", "SG118", "keeps_cache: cache-protection"),
    one("a port faster than its connector", CARDS, "speed: 25 Gbit/s, connector: sfp28", "speed: 40 Gbit/s, connector: sfp28", "SG118"),
    one("a port of another medium than its connector", CARDS, "speed: 1 Gbit/s, connector: rj45, medium: copper", "speed: 1 Gbit/s, connector: rj45, medium: fibre", "SG118"),
    one("a port of the controller's own that is shared", CARDS, "medium: copper, management: true", "medium: copper, management: true, shared: true", "SG118", "ethernet: [{name: MGMT"),
    _supply("a supply of 0 W", "outputs: [{from: 100 V, to: 240 V, output: 0 W}]"),
    _supply("a range of voltage backwards", "outputs: [{from: 240 V, to: 100 V, output: 800 W}]"),
    _supply("ranges of voltage that overlap", "outputs: [{from: 100 V, to: 220 V, output: 700 W}, {from: 200 V, to: 240 V, output: 800 W}]"),
    _supply("a curve that does not rise in load", "outputs: [{from: 100 V, to: 240 V, output: 800 W}], curve: [{load: 0.5, efficiency: 0.94}, {load: 0.2, efficiency: 0.92}]"),
    _supply("a load twice in a curve", "outputs: [{from: 100 V, to: 240 V, output: 800 W}], curve: [{load: 0.2, efficiency: 0.92}, {load: 0.2, efficiency: 0.94}]"),
    _supply("a curve that draws less for more", "outputs: [{from: 100 V, to: 240 V, output: 800 W}], curve: [{load: 0.2, efficiency: 0.40}, {load: 0.3, efficiency: 0.94}]"),
    one("a share above the whole", PROJECT, "documents: [sheet]", "documents: [sheet]\nassumptions:\n  read_share: {value: 170 %, source: {document: handbook}}", "SG118", "read_share: {value: 170 %"),
)  # fmt: skip

UNITS: Final = (
    one("a module of decimal gigabytes", MEMORY, "capacity: 128 GiB", "capacity: 128 GB", "SG128"),
    one("a limit of decimal gigabytes", PROCESSORS, "memory_limit: 256 GiB", "memory_limit: 256 GB", "SG128"),
    one("a drive of binary terabytes", DRIVES, "capacity: 4 TB", "capacity: 4 TiB", "SG128"),
    one("a port in bytes", CARDS, "speed: 1 Gbit/s, connector: rj45", "speed: 1 GB/s, connector: rj45", "SG128"),
)  # fmt: skip

BREAKS: Final = (*TEXT, *CONTRADICTIONS, *UNITS, *NAMES, *RULES, *FIT, *PLACES, *SYSTEM)
