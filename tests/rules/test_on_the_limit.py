# ruff: noqa: E501 (a table reads best with one row a line)
"""For each check a build that just passes and one a step beyond; and builds whose third of a kind
is the one that fails. `test_limits.py` holds the limits that want more words."""

import math
from typing import Final, NamedTuple

import pytest

from specgen.diagnostics.codes import CODES
from tests.projects import base, project
from tests.timing import first_of_each

PLATFORM, HOUSE, CARDS = "platforms/lantern.yaml", "catalog/house.yaml", "catalog/cards.yaml"
FULL, SMALL = "configured/lantern-full.yaml", "configured/lantern-small.yaml"
PROCESSORS, DRIVES, MEMORY = "catalog/processors.yaml", "catalog/drives.yaml", "catalog/memory.yaml"

OF_FULL: Final = "conditions: {inlet: 30 degC, redundancy: 1+1}"
TPM: Final = "id: tpm, name: TPM,"
OF_300: Final = "outputs: [{from: 100 V, to: 240 V, output: "
OF_1300: Final = (
    "outputs: [{from: 100 V, to: 127 V, output: 700 W}, {from: 200 V, to: 240 V, output: "
)
RAID5: Final = "{name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}"

# What the full build draws from one of its supplies alone: 825 W (added up in `test_limits.py`),
# between 50 and 100 % of 1300 W on the curve of `supply-1300`
SHARE: Final = (825 / 1300 - 0.5) / 0.5
ALONE: Final = 825 / (0.965 + (0.92 - 0.965) * SHARE)
CURRENT: Final = ALONE / (0.98 + (0.99 - 0.98) * SHARE) / 230
# Six fans of 60 m3/h, one of which may fail; ISO 2533 at 100 m, dry air at 30 degC, 1006 J/(kg K)
DENSITY: Final = 101325 * (1 - 2.25577e-5 * 100) ** 5.25588 / (287.05287 * 303.15)
BOTH: Final = 825 / (0.945 + (0.965 - 0.945) * (825 / 2 / 1300 - 0.2) / 0.3)
RISE: Final = max(ALONE, BOTH) / (DENSITY * 1006 * 5 * 60 / 3600)
# The chassis, the only thing that states its mass, on 600 mm x 1 m with a rack of 100 kg
FLOOR: Final = (11.2 + 100) * 9.80665 / 0.6 / 1000


class Limit(NamedTuple):
    """One edit of the sound project in two versions: the first is sound still."""

    code: str
    file: str
    old: str
    within: str
    beyond: str


def _says(code: str, within: str, beyond: str) -> Limit:
    """A condition of the full build."""
    start = OF_FULL.removesuffix("}")
    return Limit(code, FULL, OF_FULL, f"{start}, {within}}}", f"{start}, {beyond}}}")


def _up(value: float, digits: int) -> str:
    return f"{math.ceil(value * 10**digits) / 10**digits:.{digits}f}"


def _down(value: float, digits: int) -> str:
    return f"{math.floor(value * 10**digits) / 10**digits:.{digits}f}"


LIMITS: Final = (
    Limit("SG301", PLATFORM, "{name: TPM, takes: tpm", "{name: TPM, takes: [bezel, tpm]", "{name: TPM, takes: [bezel, cache-protection]"),
    Limit("SG302", HOUSE, "{id: sink, name: Heat sink, tdp_limit: 270 W}", "{id: sink, name: Heat sink, tdp_limit: 270 W, socket: tern-a}", "{id: sink, name: Heat sink, tdp_limit: 270 W, socket: tern-b}"),
    Limit("SG303", HOUSE, "{id: sink, name: Heat sink, tdp_limit: 270 W}", "{id: sink, name: Heat sink, tdp_limit: 270 W, height: low}", "{id: sink, name: Heat sink, tdp_limit: 270 W, height: full}"),
    Limit("SG304", FULL, "  SLOT 3: nic-16", "  SLOT 3: nic-16", "  SLOT 3: nic-long"),
    Limit("SG305", FULL, "  FAN 5..6: fan", "  FAN 5..6: fan", "  FAN 5..6: fan-wide"),
    Limit("SG305", FULL, "  RISER 2: riser-one\n  SLOT 3: nic-16", "  RISER 2: riser-one\n  SLOT 3: nic-16", "  RISER 2: riser-narrow\n  SLOT 3: nic-16"),
    Limit("SG306", HOUSE, "interface: [sas, sata]", "interface: [nvme, sas]", "interface: [nvme, sata]"),
    Limit("SG307", FULL, "  BAY 3: sas-1600", "  BAY 3: sas-1600", "  BAY 3: sas-cold"),
    Limit("SG308", HOUSE, "tdp_limit: 270 W}", "tdp_limit: 270 W, key: one-unit}", "tdp_limit: 270 W, key: narrow}"),
    Limit("SG309", PLATFORM, "lists: [corvane-c32,", "lists: [corvane-c32, corvane-c24,", "lists: [corvane-c24,"),
    Limit("SG310", FULL, "  RISER 2: riser-one\n  SLOT 3: nic-16", "  RISER 2: riser-two\n  SLOT 3: accel-wide", "  RISER 2: riser-one\n  SLOT 3: accel-wide"),
    Limit("SG310", FULL, "  RISER 2: riser-one\n  SLOT 3: nic-16", "  RISER 2: riser-two\n  SLOT 3: accel-wide", "  RISER 2: riser-two\n  SLOT 4: accel-wide"),
    Limit("SG311", SMALL, "DIMM A1..A3: rdimm-32-slow", "DIMM A1..A3: rdimm-32-slow", "DIMM A1..A3: rdimm-32-slow\n    DIMM B1: rdimm-32-slow"),
    Limit("SG312", HOUSE, TPM, f"id: tpm, blocks: PACK 2, {TPM[9:]}", f"id: tpm, blocks: PACK 1, {TPM[9:]}"),
    Limit("SG313", HOUSE, "form: spi-tpm, source: {document: security}}", "form: spi-tpm, needs: [{position: PACK 1}, {kind: drive, count: 8}], source: {document: security}}", "form: spi-tpm, needs: [{position: PACK 1}, {kind: drive, count: 9}], source: {document: security}}"),
    Limit("SG314", PLATFORM, "resources: {pcie-8-pin: 1}", "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: [SLOT 1, SLOT 2]}]", "connectors: [{name: AUX 1, resource: pcie-8-pin, reaches: [SLOT 1, SLOT 3]}]"),
    Limit("SG314", CARDS, "swap: cold, drives: 4}", "swap: cold, drives: 2}", "swap: cold, drives: 1}"),
    Limit("SG315", PLATFORM, "leads: {A: {from: CPU1.P1, lanes: x16}}", "leads: {A: {from: CPU1.P1, lanes: x16}}", "leads: {A: {from: CPU1.P1, lanes: x8}}"),
    Limit("SG316", PROCESSORS, "splits: [8+8, 4+4+4+4]", "splits: [4+4+8, 8+8]", "splits: [8+4+4, 4+4+4+4]"),
    Limit("SG317", HOUSE, "from: .A, lanes: x16, power", "from: .A, lanes: x16, generation: 5, power", "from: .A, lanes: x16, generation: 4, power"),
    Limit("SG317", PLATFORM, "EDGE 1: {from: CPU1.P2,", "EDGE 1: {from: CPU1.P2, generation: 5,", "EDGE 1: {from: CPU1.P2, generation: 4,"),
    Limit("SG318", PLATFORM, "{name: RAILS, takes: rail-kit}", "{name: RAILS, takes: rail-kit}", "{name: RAILS, takes: rail-kit, must: true}"),
    Limit("SG319", HOUSE, "far_form: slimsas-8i, carries: {sas: 4, sata: 3}", "far_form: slimsas-8i, carries: {sas: 4}", "far_form: slimsas-8i, carries: {pcie: 5, sata: 3}"),
    Limit("SG321", SMALL, "DIMM A1..A3: rdimm-32-slow", "DIMM A1: rdimm-32-slow\n    DIMM A2: rdimm-32-slow-r1\n    DIMM A3: rdimm-32-slow", "DIMM A1: rdimm-32-slow\n    DIMM A2: rdimm-32-slow\n    DIMM A3: rdimm-32-slow-r1"),
    Limit("SG322", PLATFORM, "order: [DIMM A1..A4]", "order: [DIMM A2, DIMM A1, DIMM A3, DIMM A4]", "order: [DIMM A1, DIMM A4, DIMM A2, DIMM A3]"),
    Limit("SG323", PLATFORM, "order: [DIMM B1..B4], balanced: [1, 2, 4]", "order: [DIMM B1..B4], balanced: [2]", "order: [DIMM B1..B4], balanced: [1, 3, 4]"),
    Limit("SG324", PLATFORM, "memory_speed: {1: 5600 MT/s,", "memory_speed: {1: 5600 MT/s,", "memory_speed: {1: 5599 MT/s,"),
    Limit("SG324", MEMORY, "{id: rdimm-32, name: RDIMM 32 GiB}", "{id: rdimm-32, name: RDIMM 32 GiB, speed: 5600 MT/s}", "{id: rdimm-32, name: RDIMM 32 GiB, speed: 5601 MT/s}"),
    Limit("SG325", FULL, "  DIMM B1..B2: rdimm-32\n", "  DIMM B1..B2: rdimm-32\n", ""),
    Limit("SG331", PLATFORM, "CPU1, takes: processor, socket: tern-a, tdp: 350 W", "CPU1, takes: processor, socket: tern-a, tdp: 205 W", "CPU1, takes: processor, socket: tern-a, tdp: 204.9 W"),
    Limit("SG332", HOUSE, "tdp_limit: 270 W", "tdp_limit: 205 W", "tdp_limit: 204.9 W"),
    Limit("SG333", PLATFORM, "{position: FAN 5..6,", "{kind: fan, count: 6,", "{kind: fan, count: 7,"),
    Limit("SG334", PROCESSORS, "  together: 2\n", "  together: 4\n", "  together: 1\n"),
    _says("SG335", "altitude: 2400 m", "altitude: 2401 m"),  # A2: 35 degC less 1 K each 300 m above 900 m: 30 degC at 2400 m
    Limit("SG335", HOUSE, TPM, f"id: tpm, inlet_limit: 30 degC, {TPM[9:]}", f"id: tpm, inlet_limit: 29.9 degC, {TPM[9:]}"),
    Limit("SG336", FULL, "  HS 1..2: sink", "  HS 1..2: sink", "  HS 2: sink"),
    Limit("SG341", FULL, "  PACK 1: pack\n", "  PACK 2: pack\n", ""),
    Limit("SG342", CARDS, "raid: [0, 1, 5, 6, 10, 50, 60]", "raid: [5]", "raid: [0, 1, 6, 10, 50, 60]"),
    Limit("SG343", FULL, RAID5, "{name: Data, level: 6, drives: BAY 0..3}", "{name: Data, level: 6, drives: BAY 0..2}"),
    Limit("SG343", FULL, RAID5, "{name: Data, level: 10, drives: BAY 0..3}", "{name: Data, level: 10, drives: BAY 0..2}"),
    Limit("SG344", SMALL, "drives: BAY 0..1", "drives: BAY 1..2", "drives: BAY 2..3"),
    Limit("SG346", FULL, RAID5, "{name: Data, level: 5, drives: BAY 1..3}", "{name: Data, level: 5, drives: BAY 2..4}"),
    Limit("SG351", HOUSE, f"name: Supply 300 W, {OF_300}300 W}}", f"name: Small supply, {OF_300}118 W}}", f"name: Small supply, {OF_300}117.9 W}}"),
    Limit("SG352", FULL, "  PSU 1..2: supply-1300", "  PSU 1..2: supply-1300", "  PSU 1: supply-1300\n  PSU 2: supply-800"),
    Limit("SG353", FULL, "redundancy: 1+1}", "redundancy: 1+1}", "redundancy: 2+1}"),
    Limit("SG354", HOUSE, f"name: Supply 1300 W, {OF_1300}1300 W", f"name: Large supply, {OF_1300}825 W", f"name: Large supply, {OF_1300}824.9 W"),
    _says("SG355", "line: 240 V", "line: 240.1 V"),
    Limit("SG356", CARDS, "id: accel-aux\n", "id: accel-aux\n      power: {maximum: 225 W}\n", "id: accel-aux\n      power: {maximum: 225.1 W}\n"),
    Limit("SG357", HOUSE, "{id: cord, name: Cord to C14, plug: IEC 60320 C14,", "{id: cord, name: Cord to C14, plug: IEC 60320 C14,", "{id: cord, name: Cord to C14, form: C19, plug: IEC 60320 C14,"),
    Limit("SG358", HOUSE, "plug: IEC 60320 C14, rated_voltage: 250 V}", "plug: IEC 60320 C14, rated_voltage: 230 V}", "plug: IEC 60320 C14, rated_voltage: 229 V}"),
    _says("SG359", f"circuit: {_up(CURRENT, 3)} A", f"circuit: {_down(CURRENT, 3)} A"),
    _says("SG359", f"circuit: {_up(CURRENT / 0.8, 3)} A, circuit_rule: nec", f"circuit: {_down(CURRENT / 0.8, 3)} A, circuit_rule: nec"),
    Limit("SG359", HOUSE, "plug: IEC 60320 C14, rated_voltage: 250 V}", f"plug: IEC 60320 C14, rated_voltage: 250 V, current: {_up(CURRENT, 3)} A}}", f"plug: IEC 60320 C14, rated_voltage: 250 V, current: {_down(CURRENT, 3)} A}}"),
    Limit("SG361", HOUSE, TPM, f"id: tpm, life: {{last_time_buy: 2026-03-02}}, {TPM[9:]}", f"id: tpm, life: {{last_time_buy: 2026-03-01}}, {TPM[9:]}"),
    Limit("SG363", SMALL, "to: HUB.S1}", "to: HUB.S1}", "to: HUB.S0}"),
    Limit("SG364", CARDS, "speed: 25 Gbit/s, connector: sfp28", "speed: 25 Gbit/s, connector: sfp28", "speed: 24 Gbit/s, connector: sfp28"),
    Limit("SG365", FULL, "  TPM: tpm", "  TPM: tpm\n  BMC: watch", "  TPM: tpm\n  BMC: tpm"),
    Limit("SG366", HOUSE, TPM, f"id: tpm, life: {{introduced: 2026-03-02}}, {TPM[9:]}", f"id: tpm, life: {{introduced: 2026-03-03}}, {TPM[9:]}"),
    _says("SG390", f"rise: {_up(RISE, 3)} K", f"rise: {_down(RISE, 3)} K"),
    _says("SG391", "rack_depth: 712 mm", "rack_depth: 711.9 mm"),
    _says("SG392", "rail_distance: 600 mm", "rail_distance: 599.9 mm"),
    _says("SG392", "rail_distance: 900 mm", "rail_distance: 900.1 mm"),
    Limit("SG393", HOUSE, "load_rating: 30 kg", "load_rating: 11.2 kg", "load_rating: 11.19 kg"),
    _says("SG394", "rack_units: 4, per_rack: 4", "rack_units: 3, per_rack: 4"),
    _says("SG394", "rack_units: 1", "rack_units: 1, per_rack: 2"),
    _says("SG395", "rack_load_rating: 22.4 kg, per_rack: 2", "rack_load_rating: 22.39 kg, per_rack: 2"),
    _says("SG396", f"floor_load_rating: {_up(FLOOR, 3)} kN/m2, rack_width: 600 mm, rack_length: 1 m, rack_mass: 100 kg", f"floor_load_rating: {_down(FLOOR, 3)} kN/m2, rack_width: 600 mm, rack_length: 1 m, rack_mass: 100 kg"),
    Limit("SG397", PLATFORM, "mass: 11.2 kg\n", "mass: 11.2 kg\nbody_width: 434 mm\nconditions: {rack_opening: 434 mm}\n", "mass: 11.2 kg\nbody_width: 434.1 mm\nconditions: {rack_opening: 434 mm}\n"),
)  # fmt: skip


def edited(*edits: tuple[str, str, str]) -> dict[str, str]:
    files = base()
    for name, old, new in edits:
        assert files[name].count(old) == 1, (
            f"{old!r} stands {files[name].count(old)} times in {name}"
        )
        files[name] = files[name].replace(old, new)
    return files


TRIED: Final = first_of_each(1, LIMITS, lambda limit: limit.code)


@pytest.mark.parametrize("limit", TRIED, ids=lambda limit: f"{limit.code} {limit.beyond.strip()}")
def test_a_build_on_the_limit_passes_and_one_beyond_it_does_not(limit: Limit):
    within = project(edited((limit.file, limit.old, limit.within)))
    assert within.findings == ()
    beyond = project(edited((limit.file, limit.old, limit.beyond)))
    assert set(beyond.codes) == {limit.code}, beyond.findings


class Third(NamedTuple):
    """Edits after which the third of a kind alone is wrong, and where the finding stands."""

    code: str
    line: str
    edits: tuple[tuple[str, str, str], ...]


def _fan(code: str, fields: str) -> Third:
    part = f"    - {{id: fan-odd, name: Odd fan{fields}}}\n"
    return Third(code, "FAN 3: fan-odd", (
        (HOUSE, "    - {id: fan, name: Fan}\n", "    - {id: fan, name: Fan}\n" + part),
        (FULL, "  FAN 1..4: fan\n", "  FAN 1..2: fan\n  FAN 3: fan-odd\n  FAN 4: fan\n"),
    ))  # fmt: skip


def _bay(code: str, part: str, line: str = "") -> Third:
    edit = (FULL, "  BAY 0..2: sas-1600", f"  BAY 0..1: sas-1600\n  BAY 2: {part}")
    return Third(code, line or f"BAY 2: {part}", (edit,))


def _supplies(code: str, third: str, line: str, *, cords: str = "CORD 1..3: cord") -> Third:
    return Third(code, line, (
        (PLATFORM, "{name: PSU 1..2,", "{name: PSU 1..3,"),
        (PLATFORM, "{name: CORD 1..2, takes: power-cord, area: rear, of: PSU 1..2}",
         "{name: CORD 1..3, takes: power-cord, area: rear, of: PSU 1..3}"),
        (FULL, "  PSU 1..2: supply-1300\n  CORD 1..2: cord\n",
         f"  PSU 1..2: supply-1300\n  PSU 3: {third}\n  {cords}\n"),
    ))  # fmt: skip


THIRDS: Final = (
    _fan("SG305", ", form: fan-60"),
    _fan("SG361", ", life: {status: discontinued, since: 2026-01-31}"),
    _fan("SG366", ", life: {status: planned}"),
    _fan("SG313", ", needs: [{kind: bezel}]"),
    _fan("SG314", ", needs: [{resource: pcie-8-pin}]"),
    Third("SG301", "FAN 3: pack", ((FULL, "  FAN 1..4: fan\n", "  FAN 1..2: fan\n  FAN 3: pack\n  FAN 4: fan\n"),)),
    Third("SG318", "fit:", ((FULL, "  FAN 1..4: fan\n", "  FAN 1..2: fan\n  FAN 4: fan\n"),)),
    _bay("SG306", "nvme-2.5"),
    _bay("SG307", "sas-cold"),
    _bay("SG345", "sas-3200", "name: Data"),
    Third("SG347", "name: Data", (
        (FULL, "{name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}", "{name: Data, level: 1, drives: BAY 0..1, spares: BAY 2..3}"),
        (FULL, "  BAY 3: sas-1600", "  BAY 3: sata-960"),
    )),
    Third("SG321", "DIMM B1: rdimm-32-x4", ((FULL, "  DIMM B1..B2: rdimm-32", "  DIMM B1: rdimm-32-x4\n  DIMM B2: rdimm-32"),)),
    Third("SG352", "PSU 3: supply-800", _supplies("", "supply-800", "").edits),
    _supplies("SG357", "supply-1300", "CORD 3: cord-large", cords="CORD 1..2: cord\n  CORD 3: cord-large"),
    _supplies("SG358", "supply-1300", "CORD 3: cord-low", cords="CORD 1..2: cord\n  CORD 3: cord-low"),
    _supplies("SG350", "supply-1300", "PSU 3: supply-1300", cords="CORD 1..2: cord"),
)  # fmt: skip


@pytest.mark.parametrize("third", THIRDS, ids=lambda third: f"{third.code} {third.line}")
def test_the_third_of_a_kind_is_looked_at_as_the_first_is(third: Third):
    found = project(edited(*third.edits))
    lines = [found.line(each) for each in found.findings if each.code.id == third.code]
    assert set(found.codes) == {third.code}, found.findings
    assert [third.line in line for line in lines] == [True]


ONE_ANSWER: Final = {
    "SG320": "sizes of parts and places: `test_breaks` has one that just goes in and one that does not",
    "SG326": "as many channels as modules stand on: `test_breaks`, since a step less is none",
    "SG345": "drives are equal or not: the third of a kind, below",
    "SG347": "likewise",
    "SG350": "a cord is there or not: likewise",
    "SG362": "a part has a successor or none",
}


def test_every_check_of_a_build_has_a_limit_or_a_reason_why_it_has_none():
    held = {limit.code for limit in LIMITS}
    wanted = {code for code in CODES if "SG3" < code < "SG37" or "SG390" <= code < "SG4"}
    assert wanted - held - ONE_ANSWER.keys() == set()
    assert held & ONE_ANSWER.keys() == set()
