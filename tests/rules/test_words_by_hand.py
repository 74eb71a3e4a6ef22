# ruff: noqa: E501 (a table reads best with one row a line)
"""What findings say in full where a check has several things to say: who is meant, how many there
are, what was worked out, what helps. Each was read against the texts of the sound project."""

from typing import Final

import pytest

from specgen.diagnostics import Finding
from tests.facts.english import in_english
from tests.mutated.breaks import CARDS, FULL, HOUSE, PLATFORM, PROCESSORS
from tests.projects import edited, project

pytestmark = [
    pytest.mark.arithmetic("words of findings", "read against the edit of the sound project"),
]

DATA: Final = "{name: Data, level: 5, drives: BAY 0..2, spares: BAY 3}"
A: Final = "  DIMM A1..A2: rdimm-32\n"
B: Final = "  DIMM B1..B2: rdimm-32\n"
CORDS: Final = "  CORD 1..2: cord\n"
OF_FULL: Final = "redundancy: 1+1}"
TPM: Final = "id: tpm, name: TPM,"


def _volume(text: str, said: str, code: str) -> tuple[str, str, str, tuple[str, ...]]:
    return FULL, DATA, text, (f"{code} {said}",)


def _needs(text: str, words: str, why: str = "") -> tuple[str, str, str, tuple[str, ...]]:
    said = f"SG313 `tpm` in TPM needs {words} | needs {words} | the need{why and f' | {why}'}"
    return HOUSE, TPM, f"id: tpm, needs: [{text}], name: TPM,", (said,)


def _fit(
    old: str, new: str, what: str, why: str, others: str
) -> tuple[str, str, str, tuple[str, ...]]:
    """Why a part does not go in; the label says the same of the part, then what would."""
    verb = what.rpartition(" ")[2]
    said = f"{what} {why} | {verb} {why} | the part | the position | {others} would go in"
    return FULL, old, new, (said,)


SAID: Final = (
    _volume("{name: Data, level: 10, drives: BAY 0..2}", "volume `Data` has 3 drives; RAID 10 needs 4 | 3 drives | RAID 10 pairs its drives, and 3 is odd | use 4 drives or more", "SG343"),
    _volume("{name: Data, level: 50, drives: BAY 0..3, groups: 2}", "volume `Data` has 4 drives; RAID 50 needs 6 | 4 drives | use 6 drives or more", "SG343"),
    _volume("{name: Data, level: 50, drives: BAY 0..3, groups: 3}", "volume `Data` has 4 drives; RAID 50 needs 9 | 4 drives | 4 drives do not make 3 equal groups | use 9 drives or more", "SG343"),
    _volume("{name: Data, level: 50, drives: BAY 0..3}", "volume `Data` is RAID 50 and states no `groups` | RAID 50 | capacity and drive failures tolerated follow from the number of groups | RAID 50 needs two groups of 3 drives or more", "SG114"),
    _volume("{name: Data, level: 5, drives: BAY 0..3, groups: 2}", "volume `Data` states groups, and RAID 5 has none | RAID 5 | drives are striped over groups at RAID 50 and 60 alone | choose RAID 50 or 60, or leave `groups` out", "SG118"),
    _volume("{name: Data, level: 5, drives: BAY 0..2, spares: BAY 2}", "volume `Data` names BAY 2, which belongs to this volume already | taken already", "SG344"),
    _volume("{name: Data, level: 1, drives: BAY 0..1}\n  - {name: More, level: 1, drives: BAY 1..2}", "volume `More` names BAY 1, which belongs to volume `Data` already | taken already", "SG344"),
    _volume("{name: Data, level: 1, drives: BAY 0..1}\n  - {name: Data, level: 1, drives: BAY 2..3}", "two volumes are named `Data` | second volume | first volume | give one of them another name", "SG205"),
    _volume("{name: Data, level: 5, drives: []}", "volume `Data` has no drives | no drives | name the drives that form it, or leave the volume out", "SG343"),
    _volume("{name: Data, level: 0, drives: BAY 0..2, spares: BAY 3}", "`sas-1600` in BAY 3 cannot be a hot spare of volume `Data`: RAID 0 keeps nothing that could be rebuilt | no spare for these members | fitted here | leave the spare out, or choose a level with redundancy", "SG347"),
    _volume("{name: Data, level: 5, drives: BAY 2..4}", "the drives of volume `Data` are wired to 2 controllers | not all on one controller | BAY 2 to 3 on SLOT 1; BAY 4 on CPU1", "SG346"),
    _volume("{name: Data, level: 5, drives: [BAY 0..1, FAN 1]}", "volume `Data` names FAN 1, which holds no drive | no drive there | fit a drive there, or leave it out of the volume", "SG344"),
    _volume("{name: Data, level: 0, drives: BAY 4..5}", "volume `Data` wants RAID 0, and `corvane-c32` in CPU1 offers none | RAID 0 | offers none", "SG342"),
    (CARDS, "raid: [0, 1, 5, 6, 10, 50, 60]", "raid: [0, 1]", ("SG342 volume `Data` wants RAID 5, and `raid-8` in SLOT 1 offers 0, 1 | RAID 5 | offers 0, 1",)),
    (FULL, "  BAY 0..2: sas-1600", "  BAY 0..1: sas-1600\n  BAY 2: sas-3200", ("SG345 volume `Data` joins unequal drives | SAS SSD of 1.6 TB and SAS SSD of 3.2 TB | every member counts as 1.6 TB, the smallest",)),
    (FULL, "  BAY 3: sas-1600", "  BAY 3: sata-960", ("SG347 `sata-960` in BAY 3 cannot be a hot spare of volume `Data`: it holds 960 GB, and each member counts with 1.6 TB | no spare for these members | fitted here | name a drive of 1.6 TB or more with the members' interface and medium, or leave the spare out",)),
    (FULL, A, "  DIMM A1: rdimm-32\n  DIMM A2: rdimm-64\n", ("SG323 channel A2 carries 64 GiB, and others 32 GiB | 64 GiB on channel A2 | what goes beyond the smallest channel is served by fewer channels",)),
    (FULL, A, "  DIMM A1: rdimm-32\n", ("SG323 CPU1 has 1 memory module, and CPU2 has 2 | DIMM A1 | a processor with fewer modules reaches more of its data through the other one",)),
    (FULL, A, "  DIMM A1..A3: rdimm-32\n", (
        "SG323 3 modules cannot spread evenly over the channels | 3 modules in total: DIMM A1 to 3 | the even numbers | channels with fewer modules serve some addresses more slowly | use one of 1, 2, 4 modules",
        "SG324 memory runs at 4800 MT/s, below what its modules can do | DIMM A1 to 3, DIMM B1 to 2 | the processor | the board | 2 modules on the fullest channel",
    )),
    # The second processor's channels are the fullest
    (FULL, B, "  DIMM B1..B4: rdimm-32\n", (
        "SG323 CPU1 has 2 memory modules, and CPU2 has 4 | DIMM A1 to 2 | a processor with fewer modules reaches more of its data through the other one",
        "SG324 memory runs at 4800 MT/s, below what its modules can do | DIMM A1 to 2, DIMM B1 to 4 | the processor | the board | 2 modules on the fullest channel",
    )),
    (FULL, B, "", ("SG325 `corvane-c32` in CPU2 has no memory module | no module in DIMM B1 to 4 | a processor does not start without memory of its own | fit a module in DIMM B1 first",)),
    (FULL, A + B, "", ("SG325 `corvane-c32` in CPU1 to 2 have no memory module | no module in DIMM A1 to 4, DIMM B1 to 4 | a processor does not start without memory of its own | fit a module in DIMM A1, DIMM B1 first",)),
    (FULL, A, "  DIMM A2: rdimm-32\n", ("SG322 DIMM A2 is filled before DIMM A1 | DIMM A1 comes first | the order | use DIMM A1 instead of DIMM A2",)),
    (FULL, "  FAN 5..6: fan\n", "", ("SG333 `corvane-c32` in CPU2 needs FAN 5 to 6 filled | needs FAN 5 to 6 filled | the need | two processors need all six fans",)),
    (FULL, "  FAN 5..6: fan", "  FAN 5: fan", ("SG333 `corvane-c32` in CPU2 needs FAN 6 filled | needs FAN 6 filled | the need | two processors need all six fans",)),
    (FULL, "  FAN 1..4: fan\n", "  FAN 1..3: fan\n", ("SG318 FAN 4 must not stay empty | no fan for FAN 4 | must be filled | add a fan for FAN 4",)),
    (PLATFORM, "resources: {pcie-8-pin: 1}\n", "", ("SG313 `accel-aux` in SLOT 2 needs 1 × `pcie-8-pin` | needs 1 × `pcie-8-pin` | the need | draws more than the slot gives",)),
    (FULL, "  SLOT 3: nic-16", "  SLOT 3: accel-aux", ("SG314 2 of `pcie-8-pin` are taken, and there are 1 | Lantern offers 1 | each needs 1 | SLOT 2 1 + SLOT 3 1 = 2",)),
    (CARDS, "drives: 8", "drives: 3", ("SG314 4 drives are wired to SLOT 1, which serves 3 | 1 too many | max. 3 | the drives are in BAY 0 to 3",)),
    _needs("{kind: bezel, because: it is locked}", "1 of kind bezel", "it is locked"),
    _needs("{kind: drive, count: 9}", "9 of kind drive"),
    _needs("{part: [fan-wide, duct], count: 2}", "2 × `fan-wide` or `duct`"),
    _needs("{part: duct}", "`duct`"),
    _needs("{position: PACK 2}", "PACK 2 filled"),
    (HOUSE, TPM, "id: tpm, blocks: [FAN 6], name: TPM,", ("SG312 FAN 6 is taken away: TPM in TPM takes its place | nothing can be fitted here | because of this",)),
    (PROCESSORS, "splits: [8+8, 4+4+4+4]", "splits: [4+4+4+4]", ("SG316 CPU1.P1 cannot split into 8+8 | one of the links that share the port | splits 4+4+4+4 | SLOT 1 x8 + SLOT 2 x8 on a port of x16",)),
    (PLATFORM, "leads: {A: {from: CPU1.P1, lanes: x16}}", "leads: {A: {from: CPU1.P1, lanes: x8}}", ("SG315 RISER 1.A has 8 lanes, and 16 are taken | 8 of them | 8 lanes | SLOT 1 x8 + SLOT 2 x8 = 16, which is 8 too many",)),
    (FULL, "  PACK 1: pack\n", "", ("SG341 the cache of `raid-8` in SLOT 1 has no cache protection module | one more cache protection module is needed | what keeps the cache | controllers with such a cache: 1; of kind cache protection module: 0 | fit one more cache protection module",)),
    (FULL, "  HS 1..2: sink", "  HS 1: sink", ("SG336 nothing cools `corvane-c32` in CPU2 | HS 2 is empty | cools it | what sits in a socket is sold without what cools it | fit a heat sink in HS 2",)),
    (FULL, "  PSU 1..2: supply-1300", "  PSU 1: supply-1300\n  PSU 2: supply-800", ("SG352 `supply-800` in PSU 2 beside `supply-1300` in PSU 1 | another power supply | the first | use one model throughout",)),
    (FULL, CORDS, "  CORD 1: cord\n", ("SG350 PSU 2 has no power cord | inlet C14 | takes power cords | `cord` or `cord-thin` would go in",)),
    (FULL, CORDS, "", ("SG350 PSU 1 to 2 have no power cord | inlet C14 | takes power cords | `cord` or `cord-thin` would go in",)),
    (FULL, CORDS, "  CORD 1: cord\n  CORD 2: cord-low\n", ("SG358 `cord-low` in CORD 2 is rated for 125 V, and the line is 230 V AC | 125 V | the cord | `cord` or `cord-thin` would go in",)),
    (PROCESSORS, "  together: 2\n", "  together: 1\n", ("SG334 2 of `corvane-c32`, of which up to 1 work together | one too many | together: 1",)),
    (FULL, "  TPM: tpm", "  TPM: tpm-old", ("SG361 `tpm-old` in TPM is discontinued since 2026-01-31 | discontinued | its life | `tpm` takes its place",)),
    # 410 of processors + 110 + 20 and 88 of drives + 90 of fans + 25 and 18 + 40 + 24 = 825 W
    (FULL, OF_FULL, "redundancy: 1+1, line: 120 V}", ("SG354 the DC load is up to 825 W, and one power supply gives 700 W | 1 of 2 must be enough | each gives 700 W | load: processors 410 W + accelerators 110 W + storage 108 W + cooling 90 W + network 43 W + board 40 W + memory 24 W = 825 W | 1 x 700 W = 700 W",)),
    (FULL, OF_FULL, "redundancy: 2+1}", ("SG353 2 power supplies fitted, and redundancy 2+1 means 3 | 3 needed, 2 fitted | 2 fitted | PSU 1 to 2 take power supplies",)),
    (FULL, OF_FULL, "redundancy: 1+1, rail_distance: 950 mm}", ("SG392 `rails` in RAILS: extends to 900 mm, and the rack's rails are 950 mm apart | max. 900 mm | the rack | the rail kit",)),
    (FULL, OF_FULL, "redundancy: 1+1, rack_depth: 700 mm}", ("SG391 712 mm of depth are needed, and the rack has 700 mm | rack depth: 700 mm | Lantern: depth: 712 mm | clear depth of the rack less depth needed = -12 mm | the rack's door does not close | ask for a deeper rack, or leave the cable arm out",)),
    (FULL, OF_FULL, "redundancy: 1+1, altitude: 3100 m}", ("SG335 no operating class reaches 3100 m | max. 3050 m | its class | above that no inlet limit can be given",)),
    (PLATFORM, "CPU1, takes: processor, socket: tern-a, tdp: 350 W", "CPU1, takes: processor, socket: tern-a, tdp: 200 W", ("SG331 `corvane-c32` dissipates 205 W, and CPU1 takes 200 W | 205 W | the socket | the processor",)),
    # Free connectors are named wherever they are: on cards, on the board, on what is soldered in
    (FULL, "{part: cable-sas, to: SLOT 1.C0}", "{part: cable-sas, to: EDGE 2}", (
        "SG305 the far end of `cable-sas` in FRONT.J0 is slimsas-8i, and EDGE 2 is mcio-8i | ends in slimsas-8i | the connector | the far end of the cable | `sas-1600` in BAY 0 to 2 cannot speak to CPU2.P2 | volume `Data` wants RAID 5, and `corvane-c32` in CPU2 offers none | `HUB.S0`, `HUB.S1` or `SLOT 1.C0` would take it",
    )),
    (FULL, "{part: cable-pcie, to: EDGE 1}", "{part: cable-pcie, to: EDGE 3}", ("SG204 a link comes from `EDGE 3`, which is neither a port nor a position | nothing has this name | the nearest are `EDGE 2` and `EDGE 1`",)),
    (FULL, "{part: cable-pcie, to: EDGE 1}", "cable-pcie", ("SG204 the cable in FRONT.J1 goes nowhere | no far end | write `{part: …, to: …}` with the connector at its far end",)),
    (FULL, "  FRONT.J0: {part: cable-sas, to: SLOT 1.C0}\n", "", ("SG311 BAY 0 to 2 cannot be used: FRONT.J0 has no cable | nothing can be fitted here | BAY 3 as well | because of this",)),
    (FULL, "  RISER 1: riser-two\n", "", ("SG203 there is no position SLOT 1 to 2 while RISER 1 is empty | nothing brings it | as well | nothing is fitted here | SLOT 1 to 2 comes with `riser-narrow`, `riser-one`, `riser-two` | fit the part that brings it, or choose another position",)),
    (FULL, "  SLOT 3: nic-16", "  SLOT 3: accel-wide", ("SG310 `accel-wide` does not go into SLOT 3: it covers 2 slots, and 1 lie side by side from there on | covers 2 slots, and 1 lie side by side from there on | the slots that it covers | has no `neighbour` | `accel-aux` would go in",)),
    _fit("  SLOT 3: nic-16", "  SLOT 3: nic-tall", "SG303 `nic-tall` does not go into SLOT 3: it is", "full height, and there is room for low", "`nic-16`"),
    _fit("  SLOT 3: nic-16", "  SLOT 3: nic-long", "SG304 `nic-long` does not go into SLOT 3: it is", "full length, and there is room for half", "`nic-16`"),
    _fit(A, "  DIMM A1..A2: udimm-16\n", "SG305 `udimm-16` does not go into DIMM A1 to 2: it has", "the form udimm; what goes in is rdimm or 3ds-rdimm", "`rdimm-32` or `rdimm-128-3ds`"),
    _fit("  BAY 0..2: sas-1600", "  BAY 0..2: nvme-2.5", "SG306 `nvme-2.5` does not go into BAY 0 to 2: it speaks", "nvme, and the position sas or sata", "`sas-1600` or `sas-3200`"),
    _fit("  BAY 3: sas-1600", "  BAY 3: sas-cold", "SG307 `sas-cold` does not go into BAY 3: it is", "cold-swap, and the position hot-swap", "`sas-1600` or `sas-3200`"),
    _fit("  HS 1..2: sink", "  HS 1..2: sink-key", "SG308 `sink-key` does not go into HS 1 to 2: it is", "keyed two-unit, and the position one-unit", "`sink` or `sink-strong`"),
    (FULL, "CPU1..CPU2: corvane-c32", "CPU1..CPU2: corvane-c24", ("SG309 `corvane-c24` in CPU1 to 2 is not among the parts that Lantern lists | not listed | the list | `corvane-c16s` or `corvane-c32` is listed",)),
    (FULL, "  TPM: tpm", "  TPM: tpm\n  BMC: tpm", ("SG365 `tpm` cannot be fitted in BMC: `watch` is soldered in | cannot be replaced | soldered in here | delete the line; `watch` is there without it",)),
)  # fmt: skip


def words_of(each: Finding) -> str:
    labels = (label.text for label in each.labels)
    said = (each.message, each.at.text, *labels, *each.notes, each.help)
    return " | ".join(text for text in (str(in_english(words)) for words in said) if text)


@pytest.mark.parametrize(("file", "old", "new", "said"), SAID, ids=[row[3][0][:60] for row in SAID])
def test_a_finding_says_who_and_how_many(file: str, old: str, new: str, said: tuple[str, ...]):
    found = project(edited(file, old, new)).findings
    assert [f"{each.code.id} {words_of(each)}" for each in found] == list(said)
