# ruff: noqa: E501 (a table reads best with one row a line)
"""Tables of a system and of its parts, each row written by hand from the YAML above it: every sort
of need, of state and of life, alike things in one row, unlike ones in several."""

from functools import cache, partial
from typing import Any, Final

import pytest

from specgen.document.blocks import (
    choices,
    fitted,
    links_and_ports,
    options,
    ordered,
    overview,
    preparation,
    review,
    supply_choice,
    system_tables,
)
from specgen.document.blocks import part_page as of_part
from specgen.document.case import Case, FamilyCase, PartCase
from specgen.document.several import Order
from specgen.document.tree import FactList, Listing, Paragraph, Table, plain_text
from specgen.model import Definitions
from specgen.pipeline import bare_case, case_of
from tests.facts.english import in_english
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import project

pytestmark = [
    pytest.mark.arithmetic("tables of documents", "rows written from the YAML by hand"),
]

CATALOG: Final = """
- kind: processor
  common: {source: {document: processors, page: 7, date: 2026-01-10}, socket: tern-a, cores: 32, threads: 64, base_clock: 2.4 GHz, max_clock: 3.6 GHz, tdp: 200 W, memory_technology: ddr5, memory_channels: 4, memory_speed: {1: 5600 MT/s, 2: 4800 MT/s}, together: 2}
  parts:
    - {id: cpu, name: Processor, brings: {ports: [{name: P0..P1, lanes: x16, carries: {pcie: 5}, splits: [8+8]}]}}
- kind: memory-module
  common: {technology: ddr5, form: rdimm, device_width: 8, speed: 5600 MT/s, source: {document: memory}}
  parts:
    - {id: ram-16, name: Module 16, ranks: 1, capacity: 16 GiB}
    - {id: ram-32, name: Module 32, ranks: 2, capacity: 32 GiB}
- kind: drive
  common: {medium: ssd, form: 2.5-inch, interface: sas, generation: 4, capacity: 2 TB, source: {document: drives, date: 2026-01-10}, mass: 0.1 kg}
  parts:
    - {id: ssd, name: Hot SSD, swap: hot}
    - {id: ssd-cold, name: Cold SSD, swap: cold}
- kind: storage-controller
  id: hba
  name: HBA
  maker: Ostrel
  number: QC-1
  source: {document: cards, page: 3}
  lanes: x8
  generation: 4
  connector: x8
  life: {status: last-time-buy, since: 2026-02-01, last_time_buy: 2026-12-31, replaced_by: hba-2}
  brings: {ports: [{name: C0..C1, lanes: x8, carries: {sas: 4, sata: 3}}]}
  blocks: [AUX 1..2]
  needs:
    - {kind: fan, count: 2, because: it runs hot}
    - {kind: bezel}
    - {part: [fan-a, fan-b], count: 2}
    - {part: fan-a}
    - {resource: pcie-8-pin, count: 2}
    - {position: FAN 1..2}
- {kind: storage-controller, id: hba-2, name: HBA to come, source: {document: cards}, life: {status: planned, introduced: 2027-01-01}, lanes: x8, generation: 4}
- kind: network-adapter
  id: nic
  name: Adapter
  source: {document: cards, date: 2026-01-10}
  lanes: x8
  generation: 4
  connector: x8
  ethernet:
    - {name: A1..A2, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}
    - {name: B, speed: 1 Gbit/s, connector: rj45, medium: copper, shared: true}
    - {name: C, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true}
  brings:
    positions:
      - {name: .A1..A2, takes: transceiver, form: sfp28, needs: [{kind: fan, because: it is warm}]}
- {kind: transceiver, id: optic, name: Optic, form: sfp28, speed: 10 Gbit/s, medium: fibre, source: {document: optics}}
- kind: fan
  common: {form: fan-40, source: {document: fans}}
  parts:
    - {id: fan-a, name: Fan A, swap: hot, brings: {resources: {pcie-8-pin: 4}}}
    - {id: fan-b, name: Fan B, swap: cold}
- {kind: bezel, id: bezel, name: Bezel, mass: 0.4 kg, source: {document: front}}
- {kind: management-controller, id: watch, name: Watch, source: {document: board}, ethernet: [{name: MGMT, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true}]}
- kind: power-cord
  common: {form: C13, plug: IEC 60320 C14, current: 10 A, source: {document: cords}}
  parts:
    - {id: cord, name: Cord, length: 2 m}
- kind: power-supply
  common: {form: m-crps-60, inlet: C14, source: {document: supplies, date: 2026-02-01}, swap: hot}
  parts:
    - {id: psu, name: Supply, mass: 1 kg, outputs: [{from: 100 V, to: 127 V, output: 500 W}, {from: 200 V, to: 240 V, output: 1000 W}], curve_at: 230 V, curve: [{load: 0.2, efficiency: 0.9, power_factor: 0.9}, {load: 0.5, efficiency: 0.94}, {load: 1, efficiency: 0.92, power_factor: 0.99}]}
    - {id: psu-dc, name: DC supply, inlet: two-pole terminal, outputs: [{from: -40 V, to: -60 V, output: 900 W}]}
"""
BOARD: Final = """
number: QP-1
power: {maximum: 40 W}
positions:
  - {name: CPU1..2, takes: processor, socket: tern-a, tdp: 250 W, must: true}
  - {name: DIMM A1..A2, takes: memory-module, form: rdimm, of: CPU1, channel: A}
  - {name: DIMM B1..B2, takes: memory-module, form: rdimm, of: CPU2, channel: B}
  - {name: FAN 1..3, takes: fan, form: fan-40}
  - {name: AUX 1..2, takes: fan, form: fan-40, note: for later}
  - {name: SLOT 1..2, takes: [storage-controller, network-adapter], area: rear, connector: x8, height: low, length: half, from: CPU1.P0, lanes: x8, power: 25 W}
  - {name: SLOT 3, takes: network-adapter, area: rear, connector: x8, from: CPU2.P0, lanes: x8}
  - {name: BAY 0..3, takes: drive, area: front, form: 2.5-inch, interface: [sas, sata], swap: hot, from: SLOT 1.C0, lanes: x1}
  - {name: BAY 4, takes: drive, area: front, form: 2.5-inch, swap: cold, needs: [{position: FAN 3, because: it is far back}]}
  - {name: PSU 1..2, takes: power-supply, area: rear, form: m-crps-60, swap: hot}
  - {name: CORD 1..2, takes: power-cord, area: rear, of: PSU 1..2}
  - {name: FRONT, takes: bezel, area: front, fixed: bezel}
  - {name: BMC, takes: management-controller, fixed: watch}
fixtures:
  - {name: Power, area: front, what: button}
  - {name: USB, area: rear, what: connector, count: 2, note: for keyboards}
"""
FIT: Final = """
fit:
  CPU1: cpu
  DIMM A1: ram-16
  DIMM A2: ram-32
  FAN 1..2: fan-a
  FAN 3: fan-b
  SLOT 1: hba
  SLOT 2: nic
  SLOT 2.A1: optic
  BAY 0..1: ssd
  BAY 4: ssd-cold
  PSU 1..2: psu
  CORD 1: cord
"""
SMALL: Final = """
id: small
name: Small
platform: bench
summary: Another
published: false
fit:
  CPU1: cpu
  DIMM A1: ram-16
  FAN 1: fan-a
  BAY 4: ssd-cold
"""
Rows = list[list[str]]


@cache
def known() -> tuple[Definitions, dict[str, Case]]:
    found = project({
        "specgen.yaml": f"{PROJECT}date: 2026-03-02\n",
        "catalog/all.yaml": CATALOG,
        "platforms/bench.yaml": f"{PLATFORM}{BOARD}",
        "configured/trial.yaml": f"{BUILD}conditions: {{redundancy: 1+1}}\n{FIT}",
        "configured/small.yaml": SMALL,
    })  # fmt: skip
    assert found.loaded.findings == (), list(map(found.line, found.loaded.findings))
    definitions = found.loaded.definitions
    assert definitions is not None
    cases = {name: case_of(definitions, build) for name, build in definitions.builds.items()}
    cases["bench"] = bare_case(definitions, definitions.platforms["bench"])
    return definitions, {name: case for name, case in cases.items() if case is not None}


def read(made: object) -> Any:
    """What stands in a block."""
    if isinstance(made, FactList):
        return [[str(label), in_english(plain_text(cell))] for label, cell in made.entries]
    if isinstance(made, Table):
        return [[in_english(plain_text(cell)) for cell in row] for row in made.rows]
    assert made is None
    return []


TRIAL: Final[tuple[tuple[Any, Rows], ...]] = (
    (fitted.memory, [  # two modules on a channel: 4800 x 8 B = 38.4 GB/s
        ["CPU1", "Module 16", "DIMM A1", "16 GiB", "5600 MT/s", "4800 MT/s", "1", "38.4 GB/s"],
        ["CPU1", "Module 32", "DIMM A2", "32 GiB", "5600 MT/s", "4800 MT/s", "1", "38.4 GB/s"],
    ]),
    (fitted.drives, [
        ["BAY 0 to 1", "Hot SSD", "2 TB", "SAS", "yes", "SLOT 1", "SAS x1"],
        ["BAY 4", "Cold SSD", "2 TB", "SAS", "no", "–", "–"],
    ]),
    (fitted.bays, [
        ["BAY 0 to 1", "2.5-inch", "yes", "filled"],
        ["BAY 2 to 3", "2.5-inch", "yes", "empty"],
        ["BAY 4", "2.5-inch", "no", "filled"],
    ]),
    (fitted.supplies, [["PSU 1 to 2", "Supply", "1000 W", "C14", "yes"]]),
    (links_and_ports.ports, [
        ["1 Gbit/s", "RJ45", "copper", "1", "SLOT 2", "–", "–", "data"],
        ["25 Gbit/s", "SFP28", "pluggable", "2", "SLOT 2", "1", "1", "data"],
        ["1 Gbit/s", "RJ45", "copper", "2", "BMC, SLOT 2", "–", "–", "management only"],
    ]),
    # PCIe 4.0 x8: 8 x 16 GT/s x 128/130 / 8; SAS-4: 22.5 GBd x 128/150 / 8
    (links_and_ports.links, [
        ["SLOT 1", "CPU1", "15.75 GB/s", "nothing"],
        ["SLOT 2", "CPU1", "15.75 GB/s", "nothing"],
        ["BAY 0 to 1", "SLOT 1", "2.4 GB/s", "nothing"],
    ]),
    (links_and_ports.unusable, [
        ["DIMM B1 to 2, SLOT 3", "CPU2 is empty"],
        ["AUX 1 to 2", "HBA in SLOT 1 takes its place"],
    ]),
    (ordered.of_one, [  # 10 + 0.2 + 0.1 + 2 + 0.4 = 12.7 kg
        ["Bench", "Platform", "QP-1", "1", "", "active", "10 kg"],
        ["Hot SSD", "Drive", "", "2", "BAY 0 to 1", "active", "0.2 kg"],
        ["Cold SSD", "Drive", "", "1", "BAY 4", "active", "0.1 kg"],
        ["Fan A", "Fan", "", "2", "FAN 1 to 2", "active", "–"],
        ["Fan B", "Fan", "", "1", "FAN 3", "active", "–"],
        ["Module 16", "Memory module", "", "1", "DIMM A1", "active", "–"],
        ["Module 32", "Memory module", "", "1", "DIMM A2", "active", "–"],
        ["Adapter", "Network adapter", "", "1", "SLOT 2", "active", "–"],
        ["Cord", "Power cord", "", "1", "CORD 1", "active", "–"],
        ["Supply", "Power supply", "", "2", "PSU 1 to 2", "active", "2 kg"],
        ["Processor", "Processor", "", "1", "CPU1", "active", "–"],
        ["HBA", "Storage controller", "QC-1", "1", "SLOT 1", "last-time buy", "–"],
        ["Optic", "Transceiver", "", "1", "SLOT 2.A1", "active", "–"],
        ["Soldered on, not ordered", "", "", "", "", "", "0.4 kg"],
        ["Sum", "", "", "", "", "", "12.7 kg"],
    ]),
    (ordered.totals_of_one, [
        ["Lines", "13"],
        ["Pieces", "16"],
        ["Weight of everything that declares one", "12.7 kg"],
        ["Lines without a weight", "9"],
        ["Parts no longer orderable", "1"],
    ]),
    (ordered.watched_of_one, [["HBA", "last-time buy", "HBA to come"]]),
    (supply_choice.supply_choice, [  # the curve was measured at 230 V
        ["DC supply", "−40 V", "−60 V", "900 W", "1800 W", "900 W", "not declared", "two-pole terminal", "yes", "another line voltage"],
        ["Supply", "100 V", "127 V", "500 W", "1000 W", "500 W", "not declared", "C14", "yes", "another line voltage"],
        ["Supply", "200 V", "240 V", "1000 W", "2000 W", "1000 W", "94 %", "C14", "yes", "yes"],
    ]),
    (overview.fixtures, [
        ["Power", "front", "button", "1", ""],
        ["USB", "rear", "connector", "2", "for keyboards"],
    ]),
    (options.positions, [
        ["CPU1 to 2", "inside", "Processor", "2", "socket tern-a, up to 250 W", "must be filled"],
        ["DIMM A1 to 2", "inside", "Memory module", "2", "rdimm", "usable with CPU1"],
        ["DIMM B1 to 2", "inside", "Memory module", "2", "rdimm", "usable with CPU2"],
        ["FAN 1 to 3", "inside", "Fan", "3", "fan-40", "–"],
        ["AUX 1 to 2", "inside", "Fan", "2", "fan-40", "for later"],
        ["SLOT 1 to 2", "rear", "Storage controller, network adapter", "2", "low profile, half length, x8 connector, x8 lanes, up to 25 W", "–"],
        ["SLOT 3", "rear", "Network adapter", "1", "x8 connector, x8 lanes", "–"],
        ["BAY 0 to 3", "front", "Drive", "4", "2.5-inch, x1 lanes, SAS or SATA, hot-swap", "–"],
        ["BAY 4", "front", "Drive", "1", "2.5-inch, cold-swap", "when filled, needs FAN 3 filled (it is far back)"],
        ["PSU 1 to 2", "rear", "Power supply", "2", "m-crps-60, hot-swap", "–"],
        ["CORD 1", "rear", "Power cord", "1", "–", "usable with PSU 1"],
        ["CORD 2", "rear", "Power cord", "1", "–", "usable with PSU 2"],
        ["FRONT", "front", "Bezel", "1", "–", "built in"],
        ["BMC", "inside", "Management controller", "1", "–", "built in"],
    ]),
    (options.options, [
        ["CPU1 to 2", "1", "Processor"],
        ["DIMM A1 to 2, DIMM B1 to 2", "2", "Module 16; Module 32"],
        ["AUX 1 to 2, FAN 1 to 3", "2", "Fan A; Fan B"],
        ["SLOT 1 to 2", "2", "Adapter; HBA"],
        ["SLOT 3", "1", "Adapter"],
        ["BAY 0 to 3", "1", "Hot SSD"],
        ["BAY 4", "1", "Cold SSD"],
        ["PSU 1 to 2", "2", "DC supply; Supply"],
        ["CORD 1 to 2", "1", "Cord"],
        ["SLOT 2.A1 to 2", "1", "Optic"],
    ]),
    (options.consequences, [
        ["Fan A", "AUX 1 to 2, FAN 1 to 3", "4 × 8-pin PCIe power connector", "–", "–"],
        ["HBA", "SLOT 1 to 2", "–", "AUX 1 to 2", "2 fans (it runs hot); 1 bezel; 2 × Fan A or Fan B; Fan A; 2 × 8-pin PCIe power connector; FAN 1 to 2 filled"],
    ]),
)  # fmt: skip


@pytest.mark.parametrize(("block", "rows"), TRIAL, ids=[block.__name__ for block, _ in TRIAL])
def test_a_table_of_a_build(block: Any, rows: Rows):
    assert read(block(known()[1]["trial"])) == rows


def test_parts_that_no_table_above_has_come_last_with_how_far_they_can_be_ordered():
    case = known()[1]["trial"]
    told = {"processor"}
    assert choices.choices(case, told, "drive") is not None
    made = read(choices.further_parts(case, told, "power-supply"))
    assert sorted(made) == sorted([  # kinds have an order of their own
        ["Module 16", "Memory module", "", "DIMM A1 to 2, DIMM B1 to 2"],
        ["Module 32", "Memory module", "", "DIMM A1 to 2, DIMM B1 to 2"],
        ["HBA, last-time buy", "Storage controller", "QC-1", "SLOT 1 to 2"],
        ["Adapter", "Network adapter", "", "SLOT 1 to 3"],
        ["Fan A", "Fan", "", "AUX 1 to 2, FAN 1 to 3"],
        ["Fan B", "Fan", "", "AUX 1 to 2, FAN 1 to 3"],
        ["Optic", "Transceiver", "", "A1 to 2 in SLOT 1 to 3"],
        ["Cord", "Power cord", "", "CORD 1 to 2"],
    ])  # fmt: skip


NOTHING: Final = (
    fitted.memory, fitted.drives, fitted.supplies, links_and_ports.links, links_and_ports.ports,
    ordered.of_one, ordered.totals_of_one, ordered.watched_of_one,
)  # fmt: skip


@pytest.mark.parametrize("block", NOTHING, ids=lambda block: block.__name__)
def test_a_bare_platform_has_no_table_of_what_is_fitted(block: Any):
    made = read(block(known()[1]["bench"]))
    # a controller that is soldered on brings its port
    assert [row[-1] for row in made] == (
        ["management only"] if block is links_and_ports.ports else []
    )


def test_a_table_without_a_row_is_none():
    small = known()[1]["small"]
    assert [fitted.supplies(small), ordered.watched_of_one(small)] == [None, None]
    drives = fitted.drives(small)
    assert read(drives) == [["BAY 4", "Cold SSD", "2 TB", "SAS", "no"]]
    assert drives is not None  # served by nothing, without a link: no columns of them
    assert len(drives.columns) == 5


PARTS: Final[tuple[tuple[str, Any, Rows], ...]] = (
    ("hba", of_part.identity, [
        ["Kind", "Storage controller"],
        ["Maker", "Ostrel"],
        ["Order number", "QC-1"],
        ["Status", "last-time buy since 2026-02-01"],
        ["Last-time buy", "until 2026-12-31"],
        ["Replaced by", "HBA to come"],
        ["Source", "cards, page 3"],
    ]),
    ("hba-2", of_part.identity, [
        ["Kind", "Storage controller"],
        ["Status", "planned"],
        ["Orderable", "from 2027-01-01"],
        ["Source", "cards"],
    ]),
    ("cpu", of_part.identity, [
        ["Kind", "Processor"],
        ["Status", "active"],
        ["Source", "processors, page 7 (2026-01-10)"],
    ]),
    ("psu", of_part.data, [
        ["Weight", "1 kg"],
        ["Swap type", "hot-swap"],
        ["Form factor", "m-crps-60"],
        ["Curve measured at", "230 V"],
        ["Several outputs", "no"],
        ["Power inlet", "C14"],
    ]),
    ("hba", of_part.brings, [["C0 to 1", "SAS 4, SATA 3", "x8", "port"]]),
    ("nic", of_part.brings, [["A1 to 2", "Transceiver", "–", "position"]]),
    ("fan-b", of_part.brings, []),
    ("hba", of_part.needs, [
        ["2 fans", "it runs hot"],
        ["1 bezel", "–"],
        ["2 × Fan A or Fan B", "–"],
        ["Fan A", "–"],
        ["2 × 8-pin PCIe power connector", "–"],
        ["FAN 1 to 2 filled", "–"],
        ["AUX 1 to 2", "taken away by this part"],
    ]),
    ("nic", of_part.needs, [["A1 to 2 filled: 1 fan", "it is warm"]]),
    ("fan-a", of_part.needs, []),
    ("ssd", of_part.used, [["Trial", "Bench", "2", "BAY 0 to 1"]]),
)  # fmt: skip


def part_case(name: str) -> PartCase:
    return PartCase(known()[0], known()[0].parts[name], (("trial", ("BAY 0", "BAY 1")),))


@pytest.mark.parametrize(
    ("name", "block", "rows"), PARTS, ids=[f"{name}-{block.__name__}" for name, block, _ in PARTS]
)
def test_a_table_of_a_part(name: str, block: Any, rows: Rows):
    assert read(block(part_case(name))) == rows


@pytest.mark.parametrize(
    ("name", "tables"),
    [
        ("nic", [[
            ["A1 to 2", "25 Gbit/s", "SFP28", "pluggable", "data"],
            ["B", "1 Gbit/s", "RJ45", "copper", "data, shared"],
            ["C", "1 Gbit/s", "RJ45", "copper", "management"],
        ]]),
        ("psu", [
            [["AC", "100 V", "127 V", "500 W"], ["AC", "200 V", "240 V", "1000 W"]],
            [["20 %", "90 %", "0.9"], ["50 %", "94 %", "–"], ["100 %", "92 %", "0.99"]],
        ]),
        ("psu-dc", [[["DC", "−40 V", "−60 V", "900 W"]]]),
        ("fan-a", []),
    ],
)  # fmt: skip
def test_tables_that_only_some_kinds_have(name: str, tables: list[Rows]):
    assert list(map(read, of_part.tables(part_case(name)))) == tables


def test_values_are_reviewed_by_the_age_of_their_source():
    case = known()[1]["trial"]
    # From 10 January: 21 + 28 + 2 days; from 1 February: 27 + 2
    ages = [(row[0], row[2], row[4]) for row in read(review.sourced(case))]
    assert ages == [
        ("Processor", "declared", "51 d"),
        ("Adapter", "declared", "51 d"),
        ("Hot SSD", "declared", "51 d"),
        ("Cold SSD", "declared", "51 d"),
        ("Supply", "declared", "29 d"),
    ]
    # Bench, two modules, two fans, HBA, bezel, controller, optic, cord; four conditions
    silent = [row[1] for row in read(review.open_points(case)) if row[1] != "no value"]
    assert silent == ["source without a date"] * 10 + ["no source"] * 4
    assert read(review.summary(case))[:3] == [
        ["Definitions that state values", "19"],
        ["With a source and its date", "5"],
        ["Without", "14"],
    ]
    assert plain_text(review.source_note(case).children) == (
        "Its values rest on 5 definitions with a dated source, the oldest of 2026-01-10. "
        "14 values have no dated source."
    )


def order() -> Order:
    definitions, cases = known()
    return Order(definitions, ((cases["trial"], 2), (cases["small"], 1)))


def test_an_order_of_several_says_of_which_build_each_part_is():
    found = {row[0]: row[3:5] + row[6:] for row in read(ordered.parts(order()))}
    assert found["Bench"] == ["3", "Trial; Small", "30 kg"]
    assert found["Fan A"] == ["5", "Trial: FAN 1 to 2; Small: FAN 1", "–"]
    assert found["Cold SSD"] == ["3", "Trial: BAY 4; Small: BAY 4", "0.3 kg"]
    assert found["Optic"] == ["2", "Trial: SLOT 2.A1", "–"]
    # Three bezels; 2 x 12.7 kg, and 10 + 0.1 + 0.4
    assert found["Soldered on, not ordered"] == ["", "", "1.2 kg"]
    assert found["Sum"] == ["", "", "35.9 kg"]
    assert read(ordered.totals(order()))[:3] == [
        ["Lines", "13"],
        ["Pieces", "37"],  # 2 x 16, and a platform, a processor, a module, a fan, a drive
        ["Weight of everything that declares one", "35.9 kg"],
    ]


def test_cords_of_an_order_are_counted_with_the_inlets_that_have_none():
    assert read(preparation.cords(order())) == [
        ["Cord", "C13", "IEC 60320 C14", "10 A", "2 m", "2"],
        ["without a cord in the build", "C14", "by the place", "–", "–", "2"],
    ]


def test_who_lifts_each_system_of_an_order():
    # ISO 11228-1: one person up to 20 kg and more, so neither reaches a limit
    (made,) = preparation.lifting(order())
    assert isinstance(made, Listing)
    said = []
    for (item,) in made.items:
        assert isinstance(item, Paragraph)
        said.append(in_english(plain_text(item.children)))
    assert said == [
        "Trial: about 12.7 kg: one person.",
        "Small: about 10.5 kg: one person.",
    ]


def test_the_builds_of_a_project_and_their_state():
    definitions, cases = known()
    facts = {name: (cases[name].facts, name == "small") for name in ("trial", "small")}
    both = FamilyCase(definitions, {"bench": cases["bench"]}, facts)
    columns = [
        ("Platform", "platform"),
        *("processors.cores", "memory.capacity", "storage.raw", "power.input"),
        ("State", "state"),
    ]
    assert read(system_tables.build_table(both, "", "All builds", columns)) == [
        ["Trial", "Bench", "", "", "", "", "has errors"],
        ["Small", "Bench", "32", "16 GiB", "2 TB", "does not apply", "draft"],  # no power supply
    ]
    well = FamilyCase(definitions, {}, {"trial": (cases["trial"].facts, True)})
    of_bench, of_others = (
        partial(system_tables.build_table, well, name, "Its builds", columns)
        for name in ("bench", "other")
    )
    assert [row[:5] for row in read(of_bench())] == [["Trial", "Bench", "32", "48 GiB", "6 TB"]]
    assert len(read(of_bench())[0]) == 6  # all published: no column of states
    assert of_others() is None
    columns = ["mechanics.rack_units", "processors.sockets", "memory.slots", "mechanics.depth"]
    columns += [("Builds", "builds"), ("What it is", "summary")]
    assert read(system_tables.platform_table(both, "Side by side", columns)) == [
        ["Bench", "1", "2", "4", "700 mm", "2", "A board and nothing else"]
    ]
