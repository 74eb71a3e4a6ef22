# ruff: noqa: E501 (a table reads best with one row a line)
"""Breaks of definitions that contradict themselves, and of ideas that must be told once."""

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


def _one(name: str, file: str, old: str, new: str, line: str = "", code: str = "SG118") -> Break:
    return one(name, file, old, new, code, line)


ORDERS: Final = (
    _one("a slot in no population order", PLATFORM, "order: [DIMM B1..B4]", "order: [DIMM B1..B3]", "{of: CPU2, order"),
    _one("two population orders of one processor", PLATFORM, "{of: CPU2, order", "{of: CPU1, order"),
    _one("a slot of the other processor in an order", PLATFORM, "order: [DIMM B1..B4]", "order: [DIMM B1..B3, DIMM A4]", "{of: CPU2, order"),
    _one("a position without memory in an order", PLATFORM, "order: [DIMM B1..B4]", "order: [DIMM B1..B4, TPM]", "{of: CPU2, order"),
)  # fmt: skip

PARTS: Final = (
    _one("a curve measured where no supply works", HOUSE, "curve_at: 230 V", "curve_at: 400 V"),
    _one("rails that end before they begin", HOUSE, "adjusts_from: 600 mm, adjusts_to: 900 mm", "adjusts_from: 900 mm, adjusts_to: 600 mm", "id: rails"),
    _one("a drive faster than its interface", DRIVES, "interface: sata, capacity: 960 GB, generation: 3", "interface: sata, capacity: 960 GB, generation: 3, read: 5400 MB/s", "id: sata-960"),
    _one("a controller faster than its own link", CARDS, "keeps_cache: cache-protection\n", "keeps_cache: cache-protection\n      throughput: 28 GB/s\n", "throughput: 28 GB/s"),
    _one("a module faster than its form", CARDS, "form: qsfp28, speed: 100 Gbit/s", "form: qsfp28, speed: 200 Gbit/s", "id: qsfp28-sr"),
    _one("a port twice in an adapter", CARDS, "[{name: PORT 1..2, speed: 100 Gbit/s, connector: qsfp28, medium: pluggable}]", "[{name: PORT 1..2, speed: 100 Gbit/s, connector: qsfp28, medium: pluggable}, {name: PORT 2, speed: 100 Gbit/s, connector: qsfp28, medium: pluggable}]", "PORT 2, speed: 100"),
    _one("a port twice in a processor", PROCESSORS, "{name: P4, lanes: x4", "{name: P3..P4, lanes: x4", "{name: P3..P4"),
    Break("a cage that no position takes a module for", CARDS, "{name: PORT 1..2, speed: 25 Gbit/s", "{name: PORT 1..4, speed: 25 Gbit/s", (("SG118", "PORT 1..4, speed: 25"),)),
    _one("a cord rated above its plug", HOUSE, "plug: NEMA 5-15P, current: 15 A", "plug: NEMA 5-15P, current: 150 A", "id: cord-america"),
    _one("a generation that nobody describes", DRIVES, "capacity: 3.2 TB, generation: 4", "capacity: 3.2 TB, generation: 40", "id: sas-3200"),
    _one("a generation of PCIe that nobody describes", PLATFORM, "EDGE 2: {from: CPU2.P2, lanes: x8", "EDGE 2: {from: CPU2.P2, generation: 50, lanes: x8"),
    _one("a processor that draws less than its heat", PROCESSORS, "power: {idle: 60 W, typical: 150 W, maximum: 205 W}", "power: {idle: 60 W, typical: 150 W, maximum: 200 W}", "power: {idle"),
    _one("a device of an odd width", MEMORY, "device_width: 4}", "device_width: 5}", "id: rdimm-32-x4"),
    _one("a blank of another form", PLATFORM, "{name: BOOT, takes: boot-module, form: boot-card", "{name: BOOT, blank: blank-fan, takes: boot-module, form: boot-card"),
    Break("a highest clock below two others", PROCESSORS, "  max_clock: 3.6 GHz\n", "  max_clock: 1.6 GHz\n  vector_clock: 2 GHz\n", (("SG118", "base_clock: 2.4 GHz"),)),
    _one("a successor of another kind", HOUSE, "since: 2026-01-31, replaced_by: tpm}", "since: 2026-01-31, replaced_by: pack}", "id: tpm-old", "SG218"),
    _one("a successor that is discontinued", HOUSE, "life: {status: planned}", "life: {status: last-time-buy, since: 2026-01-01, replaced_by: tpm-old}", "id: tpm-new", "SG218"),
    Break("an inlet that is a connector of cords", HOUSE, "name: Supply 600 W, outputs", "name: Supply 600 W, inlet: C13, outputs", (("SG118", "id: supply-600"),)),
)  # fmt: skip

PROJECTS: Final = (
    _one("a document named twice", PROJECT, "documents: [sheet]", "documents: [sheet, parts-list, sheet]"),
    _one("a rebuild that never ends", PROJECT, "documents: [sheet]", "documents: [sheet]\nassumptions:\n  rebuild_rate: {value: 0 MB/s, source: {document: handbook}}", "rebuild_rate"),
    _one("a year of months", PROJECT, "documents: [sheet]", "documents: [sheet]\nassumptions:\n  year: {value: 876 h, source: {document: handbook}}", "year: {value: 876 h"),
    _one("rails that stand outside their rack", PROJECT, "redundancy: 1+1}", "redundancy: 1+1, rail_distance: 1740 mm, rack_length: 1100 mm}", "conditions:"),
    _one("a build and a platform of one id", SMALL, "id: lantern-small", "id: lantern", code="SG205"),
    _one("groups at a level without groups", FULL, "{name: Data, level: 5,", "{name: Data, level: 5, groups: 3,"),
)  # fmt: skip

ONCE: Final = (
    _one("a part that cannot be read and another needs", HOUSE, "{kind: cache-protection, id: pack,", "{kind: cache-protection, id: pack, mass: -1 kg,", "id: pack", "SG113"),
    _one("a resource misspelt in a card", CARDS, "{resource: pcie-8-pin,", "{resource: pcie-8-pins,", "- {resource: pcie-8-pins", "SG220"),
    _one("a need of a part that nobody defines", HOUSE, "form: spi-tpm, source: {document: security}}", "form: spi-tpm, needs: [{part: sink-tal}], source: {document: security}}", "id: tpm", "SG201"),
    _one("one id for parts of two kinds", HOUSE, "{id: supply-600, name:", "{id: fan, name:", "{id: fan, name: Supply 600 W", "SG205"),
    _one("a processor for another socket that lacks ports", SMALL, "CPU1: corvane-c16s", "CPU1: corvane-b8", "CPU1: corvane-b8", "SG302"),
)  # fmt: skip


def _rule(name: str, condition: str, code: str) -> Break:
    line = f"  - {{code: QW-1, require: {condition}}}"
    return _one(
        name, PLATFORM, "operating_class: A2", f"operating_class: A2\nrules:\n{line}", line, code
    )


RULES: Final = (
    _rule("a form misspelt in a rule", "'all(m.form != \"rdim\" for m in memory_modules)'", "SG216"),
    _rule("an inlet misspelt in a rule", "'all(t.form in (\"spi-tpm\", \"spi-tmp\") for t in tpms)'", "SG216"),
    _rule("a redundancy that cannot be written in a rule", "'redundancy != \"1 + 1\"'", "SG133"),
)  # fmt: skip

UNUSUAL: Final = (
    _one("a clock in megahertz", PROCESSORS, "base_clock: 2.4 GHz", "base_clock: 2.4 MHz", "base_clock: 2.4 MHz", "SG128"),
    _one("heat in milliwatts", PROCESSORS, "tdp: 185 W", "tdp: 185 mW", code="SG128"),
    _one("an output in kilowatts", HOUSE, "from: 100 V, to: 240 V, output: 600 W", "from: 100 V, to: 240 V, output: 600 kW", "id: supply-600", "SG128"),
    _one("a digit lost in the rate of a module", MEMORY, "rdimm-32-slow-r1, name: RDIMM 32 GiB slower one rank, speed: 4800 MT/s", "rdimm-32-slow-r1, name: RDIMM 32 GiB slower one rank, speed: 480 MT/s", "id: rdimm-32-slow-r1", "SG128"),
    _one("a module a thousand times slower than its cage", CARDS, "form: qsfp28, speed: 100 Gbit/s", "form: qsfp28, speed: 100 Mbit/s", "id: qsfp28-sr", "SG128"),
    _one("a chassis as deep as a hand", PLATFORM, "depth: 712 mm", "depth: 71.2 mm", code="SG128", line="size: {width"),
    _one("a drive of megabytes", DRIVES, "interface: sas, capacity: 3.2 TB", "interface: sas, capacity: 3.2 MB", "id: sas-3200", "SG128"),
    _one("a drive of another prefix than its name", DRIVES, "name: SAS 3.2 TB, interface: sas, capacity: 3.2 TB", "name: SAS 3.2 TB, interface: sas, capacity: 3.2 GB", "id: sas-3200", "SG128"),
    _one("a limit in degrees Fahrenheit", HOUSE, "id: supply-600, name", "id: supply-600, inlet_limit: 104 degC, name", "id: supply-600", "SG128"),
)  # fmt: skip

AT: Final = "outline: {{x: {x}, y: 2 mm, width: 60 mm, height: 40 mm{more}}}"
SUPPLIES: Final = "area: rear, form: m-crps-60}"


def _outline(name: str, x: str, code: str, more: str = "", file: str = PLATFORM) -> Break:
    text = f"area: rear, form: m-crps-60, {AT.format(x=x, more=more)}}}"
    return _one(name, file, SUPPLIES, text, "- {name: PSU 1..2", code)


OUTLINES: Final = (
    _outline("a supply outside of the chassis", "500 mm", "SG119", ", step: 65 mm"),
    _outline("a range that goes out of the chassis", "100 mm", "SG119", ", step: 650 mm"),
    _outline("a place deeper than the chassis", "100 mm", "SG119", ", step: 65 mm, depth: 7120 mm"),
    _outline("a range without a step", "100 mm", "SG129"),
    _outline("an outline in centimetres", "100 cm", "SG119", ", step: 65 mm"),
    _one("a button on another", PLATFORM, "  - {name: Power, area: front, what: button}", "  - {name: Power, area: front, what: button, outline: {x: 4 mm, y: 4 mm, width: 7 mm, height: 7 mm}}\n  - {name: Find me, area: front, what: button, outline: {x: 5 mm, y: 4 mm, width: 7 mm, height: 7 mm}}", "- {name: Find me", "SG129"),
    _one("a part larger than its place", PLATFORM, "{name: PACK 1..2, takes: cache-protection}", "{name: PACK 1..2, takes: cache-protection, outline: {x: 400 mm, y: 600 mm, width: 30 mm, height: 15 mm, step: 35 mm}}", "PACK 1: pack", "SG320"),
    _one("a part broader than its form", DRIVES, "interface: sas, capacity: 3.2 TB", "size: {width: 101.6 mm, height: 26.1 mm, depth: 147 mm}, interface: sas, capacity: 3.2 TB", "id: sas-3200"),
    _one("a body wider than the chassis", PLATFORM, "mass: 11.2 kg", "body_width: 500 mm\nmass: 11.2 kg"),
)  # fmt: skip

SLIPS: Final = (
    _one("a letter doubled in a socket", PLATFORM, "- {name: CPU1, takes: processor, socket: tern-a", "- {name: CPU1, takes: processor, socket: tern-aa", code="SG220"),
    _one("letters swapped in a key", HOUSE, "common: {socket: tern-a, height: low, key: one-unit", "common: {socket: tern-a, height: low, key: one-uint", code="SG220"),
    _one("letters swapped at the far end of a cable", HOUSE, "name: MCIO cable, form: mcio-8i, far_form: mcio-8i", "name: MCIO cable, form: mcio-8i, far_form: mico-8i", "id: cable-pcie", "SG220"),
    _one("an l for an i in a connector on the board", PLATFORM, "EDGE 2: {from: CPU2.P2, lanes: x8, form: mcio-8i}", "EDGE 2: {from: CPU2.P2, lanes: x8, form: mcio-8l}", code="SG220"),
    _one("an inlet of no standard", HOUSE, "name: Supply 600 W, outputs", "name: Supply 600 W, inlet: C41, outputs", "id: supply-600", "SG220"),
    _one("a plug of no standard", HOUSE, "plug: NEMA 5-15P", "plug: NEMA 5-51P", "id: cord-america", "SG220"),
    _one("a term that is misspelt", PROJECT, "documents: [sheet]", "documents: [sheet]\nterms: {spi-tmp: SPI TPM header}", "terms: {spi-tmp", "SG220"),
    _one("a term that nothing uses", PROJECT, "documents: [sheet]", "documents: [sheet]\nterms: {so-dimm: SO-DIMM}", "terms: {so-dimm", "SG223"),
    _one("a family without a platform", PROJECT, "families:\n", "families:\n  - {id: cliff, name: Cliff, summary: Servers for cliffs}\n", "- {id: cliff", "SG223"),
    _one("a shared field that every part states", HOUSE, "- kind: cable\n  common: {lanes: x8,", "- kind: cable\n  common: {lanes: x8, carries: {pcie: 5},", "common: {lanes", "SG223"),
)  # fmt: skip

DAYS: Final = (
    _one("two digits of a year swapped", FULL, "date: 2026-03-02", "date: 2206-03-02", code="SG222"),
    _one("a source of the last century but one", HOUSE, "source: {document: supplies, date: 2026-02-01}", "source: {document: supplies, date: 1826-02-01}", code="SG222"),
    _one("a status in a far year", HOUSE, "status: discontinued, since: 2026-01-31", "status: discontinued, since: 2062-01-31", "id: tpm-old", "SG222"),
    _one("a platform of a far year", PLATFORM, "mass: 11.2 kg", "year: 2206\nmass: 11.2 kg", code="SG222"),
)  # fmt: skip

NAMED: Final = (
    _one("two builds of one name", SMALL, "name: Lantern, small", "name: lantern, Full", code="SG221"),
    _one("two parts of one name", HOUSE, "id: supply-600, name: Supply 600 W", "id: supply-600, name: Supply 300 W", "id: supply-600", "SG221"),
    _one("a rate of two modules alone", PROCESSORS, "memory_speed: {1: 5600 MT/s, 2: 4800 MT/s}", "memory_speed: {2: 4800 MT/s}"),
    _one("groups that nobody states", FULL, "level: 5, drives: BAY 0..2, spares: BAY 3", "level: 50, drives: BAY 0..3", "name: Data", "SG114"),
)  # fmt: skip

TWICE: Final = (
    _one("a RAID level twice", CARDS, "raid: [0, 1, 5, 6", "raid: [0, 1, 5, 5, 6", "raid: ["),
    _one("a split twice", PROCESSORS, "splits: [8+8", "splits: [8+8, 8+8", "splits: ["),
    _one("a family twice", PROJECT, "families:\n", "families:\n  - {id: coast, name: Coast of old, summary: Servers for piers}\n", "- {id: coast, name: Coast, summary: Servers for weather"),
    _one("a form twice", PLATFORM, "{name: DIMM A1, takes: memory-module, form: [rdimm, 3ds-rdimm]", "{name: DIMM A1, takes: memory-module, form: [rdimm, rdimm, 3ds-rdimm]"),
)  # fmt: skip

FAR: Final = (
    _one("a platform of grams", PLATFORM, "mass: 11.2 kg", "mass: 11.2 g", code="SG128"),
    _one("a fan of kilograms", HOUSE, "- {id: fan, name: Fan}", "- {id: fan, name: Fan, mass: 72 kg}", code="SG128"),
    _one("a fan that moves a hundred times the air", HOUSE, "airflow: 60 m3/h", "airflow: 6000 m3/h", code="SG128", line="common: {form: fan-40"),
    _one("a slot of kilowatts", PLATFORM, "lanes: x8, power: 35 W", "lanes: x8, power: 35 kW", "- {name: OCP", "SG128"),
    _one("a capacity of ten times its name", DRIVES, "name: SAS 3.2 TB, interface: sas, capacity: 3.2 TB", "name: SAS 3.2 TB, interface: sas, capacity: 32 TB", "id: sas-3200", "SG128"),
    _one("a capacity of twice its name", MEMORY, "{id: rdimm-64, name: RDIMM 64 GiB,", "{id: rdimm-64, name: RDIMM 48 GiB,", "id: rdimm-64", "SG128"),
)  # fmt: skip

CONTRADICTING: Final = (
    *TWICE,
    *FAR,
    *OUTLINES,
    *SLIPS,
    *DAYS,
    *NAMED,
    *RULES,
    *UNUSUAL,
    *ORDERS,
    *PARTS,
    *PROJECTS,
    *ONCE,
)
