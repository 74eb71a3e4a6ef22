# ruff: noqa: E501 (a table reads best with one row a line)
"""Breaks that show beside other values only: days, parts alike, ratings of one power supply; and
twins of them, edits of the same lines that are sound and must raise nothing."""

from typing import Final, NamedTuple

from tests.mutated.breaks import (
    CARDS,
    DRIVES,
    FULL,
    HOUSE,
    MEMORY,
    PLATFORM,
    PROCESSORS,
    PROJECT,
    one,
)

DAY: Final = "date: 2026-03-02"
WIDE: Final = "    - {id: fan-wide, name: Fan of 60 mm, form: fan-60}"
SUPPLY: Final = "name: Supply 600 W, outputs: [{from: 100 V, to: 240 V, output: 600 W}]"
C32: Final = "    tdp: 205 W\n    power: {idle: 60 W, typical: 150 W, maximum: 205 W}"
PAGE: Final = "source: {document: memory table, date: 2026-01-10}"
SOUND_FAN: Final = "airflow: 60 m3/h, power: {maximum: 15 W}, mass: 70 g"


def _fans(odd: str) -> str:
    """Fans of one sort, of which the last is the odd one."""
    sizes = (("a", "40 m3/h", "10 W", "60 g"), ("b", "50 m3/h", "12 W", "65 g"),
             ("c", "70 m3/h", "18 W", "80 g"), ("d", "90 m3/h", "24 W", "90 g"))  # fmt: skip
    rows = [
        f"    - {{id: fan-{name}, name: Fan {name}, form: fan-80, airflow: {flow}, power: {{maximum: {draw}}}, mass: {mass}}}"
        for name, flow, draw, mass in sizes
    ]
    return "\n".join((WIDE, *rows, f"    - {{id: fan-odd, name: Odd fan, form: fan-80, {odd}}}"))


RISER_ONE: Final = "from: .A, lanes: x16, power: 75 W}\n    - id: riser-narrow"


def _connectors(odd: str) -> str:
    """Power connectors of a riser with one slot, of which the last is the odd one."""
    rows = [f"{{name: AUX {at}, resource: pcie-8-pin, reaches: SLOT 1}}" for at in range(4)]
    listed = "\n          - ".join((*rows, f"{{name: AUX 4, {odd}}}"))
    return RISER_ONE.replace("\n", f"\n        connectors:\n          - {listed}\n", 1)


def _modules(odd: str) -> str:
    rows = [
        f"  - {{id: rdimm-{size}-s, name: RDIMM {size} GiB dies, capacity: {size} GiB, attributes: {{die density: {die}}}}}"
        for size, die in ((16, "8 Gbit"), (32, "16 Gbit"), (64, "32 Gbit"), (48, "24 Gbit"))
    ]
    return "\n".join(("  - {id: rdimm-64, name: RDIMM 64 GiB, capacity: 64 GiB}", *rows, odd))


E3: Final = "- {id: e3-3840, name: E3.S 3.84 TB, form: e3.s, capacity: 3.84 TB, generation: 5, swap: hot, power: {maximum: 20 W}}\n    - {id: m2-480,"


def _drives(odd: str) -> str:
    """Drives for bays with their weights, and the one M.2 drive."""
    rows = [
        f"- {{id: e3-{at}, name: E3.S {size} TB, form: e3.s, capacity: {size} TB, generation: 5, swap: hot, power: {{maximum: 20 W}}, mass: {150 + at} g}}"
        for at, size in enumerate(("3.2", "6.4", "7.68", "12.8", "15.36"))
    ]
    first, last = E3.split("\n    ")
    return "\n    ".join((first.replace("20 W}}", "20 W}, mass: 149 g}"), *rows, f"{last} {odd},"))


LONG: Final = "    - id: nic-long\n"


def _adapter(odd: str) -> str:
    return f"    - {{id: nic-odd, name: Odd adapter, height: low, length: half, connector: x8, lanes: x8{odd}, ethernet: [{{name: PORT 1, speed: 10 Gbit/s, connector: rj45, medium: copper}}]}}\n"


SMALLEST: Final = "    - {id: supply-300, name: Supply 300 W, outputs: [{from: 100 V, to: 240 V, output: 300 W}]}\n"
POINTS: Final = "curve: [{load: 0.1, efficiency: 0.9, power_factor: 0.9}, {load: 0.5, efficiency: 0.95, power_factor: 0.98}, {load: 1, efficiency: 0.92, power_factor: 0.99}]"
RANGED: Final = (
    "    - {id: supply-400, name: Supply 400 W, outputs: [{from: 100 V, to: 240 V, output: 400 W}]}\n"
    "- {kind: power-supply, id: supply-900, name: Supply 900 W, form: m-crps-60, inlet: C14, source: {document: supplies, date: 2026-02-01}, "
    f"outputs: [{{from: 90 V, to: 132 V, output: 700 W, {POINTS}}}, {{from: 180 V, to: 264 V, output: 900 W, {POINTS}}}]}}\n"
)


def _two_sizes(size: str) -> str:
    common = "size: {width: 60 mm, height: 40 mm, depth: 185 mm}"
    rows = f"    - {{id: supply-b, name: Supply b, {common}, outputs: [{{from: 100 V, to: 240 V, output: 500 W}}]}}\n"
    return f"{rows}    - {{id: supply-600, {size}, {SUPPLY}"


RISER: Final = "    - id: riser-narrow\n"
SLOT: Final = "takes: [storage-controller, network-adapter, accelerator], form: card, height: low, length: half, connector: x16, from: .A, lanes: x8, power:"
RISERS: Final = (
    "    - id: riser-three\n      name: Riser with three slots\n      brings:\n        positions:\n"
    + "".join(f"          - {{{{name: SLOT {at}, {SLOT} 75 W}}}}\n" for at in (1, 2))
    + f"          - {{{{name: SLOT 3, {SLOT} {{}}}}}}\n{RISER}"
)
FAN: Final = "- {id: fan-odd"
MODULE: Final = "- {id: rdimm-odd"
DAYS: Final = (
    one("a source after the edition", MEMORY, PAGE, PAGE.replace("2026-01-10", "2026-10-01"), "SG222", "source:"),
    one("day and month of a source exchanged", PROCESSORS, "product table, date: 2026-01-10", "product table, date: 2026-10-01", "SG222", "source:"),
    one("a platform described after the edition", PROJECT, DAY, "date: 2026-01-05", "SG222"),
    one("an edition years after all that it cites", PROJECT, DAY, "date: 2036-03-02", "SG222"),
    one("a part gone long before its source", HOUSE, "source: {document: security}, life: {status: discontinued, since: 2026-01-31", "source: {document: security, date: 2026-01-31}, life: {status: discontinued, since: 2016-01-31", "SG222", "{kind: tpm, id: tpm-old"),
)  # fmt: skip
ALIKE: Final = (
    one("a memory slot without its channel", PLATFORM, "of: CPU1, channel: A2}\n  - {name: DIMM B1", "of: CPU1}\n  - {name: DIMM B1", "SG226", "{name: DIMM A4"),
    one("a memory slot without its owner", PLATFORM, "of: CPU2, channel: B2}\n  - {name: FAN", "channel: B2}\n  - {name: FAN", "SG226", "{name: DIMM B4"),
    one("a connector that says no slot", HOUSE, RISER_ONE, _connectors("resource: pcie-8-pin"), "SG226", "name: AUX 4"),
    one("an adapter without its generation", CARDS, LONG, _adapter("") + LONG, "SG226", "- {id: nic-odd"),
    one("a fan without its weight", HOUSE, WIDE, _fans("airflow: 60 m3/h, power: {maximum: 15 W}"), "SG226", FAN),
    one("ten times the airflow for its draw", HOUSE, WIDE, _fans("airflow: 600 m3/h, power: {maximum: 15 W}, mass: 70 g"), "SG128", FAN),
    one("ten times the weight of all alike", HOUSE, WIDE, _fans("airflow: 60 m3/h, power: {maximum: 15 W}, mass: 700 g"), "SG128", FAN),
    one("an attribute in bytes", MEMORY, _modules("").split("\n")[0], _modules("  - {id: rdimm-odd, name: RDIMM 32 GiB odd, attributes: {die density: 16 GB}}"), "SG128", MODULE),
    one("ten times the attribute", MEMORY, _modules("").split("\n")[0], _modules("  - {id: rdimm-odd, name: RDIMM 32 GiB odd, attributes: {die density: 160 Gbit}}"), "SG128", MODULE),
    one("dies that do not make up a module", MEMORY, _modules("").split("\n")[0], _modules("  - {id: rdimm-odd, name: RDIMM 32 GiB odd, attributes: {die density: 24 Gbit}}"), "SG130", MODULE),
    one("ten times the power of a slot", HOUSE, RISER, RISERS.format("750 W"), "SG128", "- {name: SLOT 3, takes: [storage-controller, network-adapter, accelerator], form: card, height: low, length: half, connector: x16, from: .A, lanes: x8, power: 750 W"),
    one("a supply lying on its side", HOUSE, f"    - {{id: supply-600, {SUPPLY}", _two_sizes("size: {width: 40 mm, height: 60 mm, depth: 185 mm}"), "SG130", "- {id: supply-600"),
)  # fmt: skip
RATINGS: Final = (
    one("ten times the input current", HOUSE, SUPPLY, f"{SUPPLY}, input_current: 75 A", "SG130", "- {id: supply-600"),
    one("an input current that cannot carry the output", HOUSE, SUPPLY, f"{SUPPLY}, input_current: 3 A", "SG130", "- {id: supply-600"),
    one("a tenth of the output at low voltage", HOUSE, "outputs: [{from: 100 V, to: 127 V, output: 700 W}", "outputs: [{from: 100 V, to: 127 V, output: 70 W}", "SG130", "- {id: supply-1300"),
    one("more output at low voltage", HOUSE, "outputs: [{from: 100 V, to: 127 V, output: 700 W}, {from: 200 V, to: 240 V, output: 1300 W}]", "outputs: [{from: 100 V, to: 127 V, output: 1400 W}, {from: 200 V, to: 240 V, output: 1300 W}]", "SG130", "- {id: supply-1300"),
    one("a dip in a curve", HOUSE, "{load: 0.2, efficiency: 0.945, power_factor: 0.95}", "{load: 0.2, efficiency: 0.945, power_factor: 0.75}", "SG130", "- {id: supply-1300"),
    one("a point without its power factor", HOUSE, "{load: 0.2, efficiency: 0.945, power_factor: 0.95}", "{load: 0.2, efficiency: 0.945}", "SG130", "- {id: supply-1300"),
    one("a TDP that is another's", PROCESSORS, C32, C32.replace("tdp: 205 W", "tdp: 85 W"), "SG130", "tdp: 85 W"),
    one("an amount of memory for one module", PROCESSORS, "memory_limit: 256 GiB", "memory_limit: 2 GiB", "SG130"),
    one("a chassis broader than a rack", PLATFORM, "size: {width: 482 mm", "size: {width: 712 mm", "SG130"),
    one("draws in the wrong order throughout", PLATFORM, "power: {idle: 20 W, typical: 30 W, maximum: 40 W}", "power: {idle: 40 W, typical: 30 W, maximum: 20 W}", "SG118"),
    one("an opening as wide as the rack", PROJECT, "redundancy: 1+1}", "redundancy: 1+1, rack_opening: 600 mm}", "SG130", "conditions:"),
    one("an inlet with its digits exchanged", PROJECT, "inlet: 25 degC", "inlet: 3 degC", "SG130", "conditions:"),
    one("more rack units than a rack has", PROJECT, "redundancy: 1+1}", "redundancy: 1+1, rack_units: 420}", "SG130", "conditions:"),
)  # fmt: skip

SUMMARY: Final = "summary: Everything at once"
NEVER: Final = "forbid: processors.count > 2, because: there are two sockets"
RULES: Final = f"rules: [{{code: COAST-01, {NEVER}}}, {{code: COAST-02, {NEVER}}}, {{code: COAST-03, {NEVER}}}, "
TOLD: Final = (
    one("a summary of another processor", FULL, SUMMARY, "summary: Two Corvane C96 and everything else", "SG227"),
    one("a name of another processor", FULL, "name: Lantern, full", "name: Lantern with Corvane C24", "SG227"),
    one("a summary of more processors", FULL, SUMMARY, "summary: Everything at once on four fast processors", "SG227"),
    one("a summary of fewer drives", FULL, SUMMARY, "summary: Everything at once and nine SSDs", "SG227"),
    one("a summary of more cores", FULL, SUMMARY, "summary: Everything at once on 96 cores", "SG227"),
    one("a summary of more supplies", FULL, SUMMARY, "summary: Everything at once on its three power supplies", "SG227"),
    one("a summary of more memory", FULL, SUMMARY, "summary: Everything at once in 512 GiB of memory", "SG227"),
    one("a platform of more rack units", PLATFORM, "summary: Two processors in one rack unit", "summary: Two processors in two rack units", "SG227"),
    one("more memory in words than is fitted", FULL, SUMMARY, "summary: Half a tebibyte is not here, and two tebibytes of memory are", "SG227"),
    one("a platform of more processors", PLATFORM, "summary: Two processors in", "summary: Four processors in", "SG227"),
    one("a platform of more memory slots", PLATFORM, "summary: Two processors in one rack unit", "summary: Two processors and thirty-two memory slots", "SG227"),
    one("bays that a name counts otherwise", HOUSE, "name: Six bays", "name: Six 2.5-inch bays", "SG227", "name: Six 2.5-inch bays"),
    one("an answer for a name", HOUSE, "name: Fan of 60 mm", "name: no", "SG130", "id: fan-wide"),
    one("a quote that opens nowhere", FULL, SUMMARY, 'summary: Everything at once"', "SG130"),
    one("quotes of print round a text", FULL, SUMMARY, "summary: “Everything at once”", "SG130"),
    one("a body measured in inches", PLATFORM, "mass: 11.2 kg", "mass: 11.2 kg\nbody_width: 17.1 mm", "SG130", "body_width: 17.1"),
    one("a power factor with its point moved", HOUSE, "{load: 0.1, efficiency: 0.91, power_factor: 0.9}", "{load: 0.1, efficiency: 0.91, power_factor: 0.09}", "SG130", "- {id: supply-1300"),
    one("a cable of another plug than its name", HOUSE, "name: MCIO cable, form: mcio-8i, far_form: mcio-8i", "name: mcio-8i to slimsas-8i, form: mcio-8i, far_form: mcio-8i", "SG130", "id: cable-pcie"),
    one("the word of a rule's code misspelt", PROJECT, "documents: [sheet]", f"documents: [sheet]\n{RULES}{{code: CAOST-04, {NEVER}}}]", "SG220", "rules: [{code: COAST-01"),
    one("a range over several lines", FULL, "  FAN 1..4: fan\n  FAN 5..6: fan\n", "  FAN 1..4: fan\n  FAN 5..6: fan\n  FAN 3..6: fan\n", "SG209", "FAN 3..6: fan"),
    one("a copy with the number of its model", HOUSE, "{kind: tpm, id: tpm, name: TPM, form: spi-tpm, source: {document: security}}", "{kind: tpm, id: tpm, name: TPM, number: A-1, form: spi-tpm, source: {document: security}}\n- {kind: tpm, id: tpm-copy, name: TPM, number: A-1, form: spi-tpm, source: {document: security}}", "SG214", "- {kind: tpm, id: tpm-copy"),
)  # fmt: skip

SIBLINGS: Final = (*DAYS, *ALIKE, *RATINGS, *TOLD)


class Sound(NamedTuple):
    """An edit that a writer makes and that is sound."""

    name: str
    file: str
    old: str
    new: str


SOUND: Final = (
    Sound("a source of the day of the edition", MEMORY, PAGE, PAGE.replace("2026-01-10", "2026-03-02")),
    Sound("a TPM that can be reached from behind", PLATFORM, "{name: TPM, takes: tpm,", "{name: TPM, takes: tpm, area: rear,"),
    Sound("a connector of the board that reaches any slot", PLATFORM, "resources: {pcie-8-pin: 1}", "connectors: [{name: AUX 1, resource: pcie-8-pin}]"),
    Sound("a source of years ago", MEMORY, PAGE, PAGE.replace("2026-01-10", "2019-06-30")),
    Sound("the next edition", PROJECT, DAY, "date: 2027-01-20"),
    Sound("a fan like the others", HOUSE, WIDE, _fans(SOUND_FAN)),
    Sound("a fan twice as strong", HOUSE, WIDE, _fans("airflow: 160 m3/h, power: {maximum: 60 W}, mass: 150 g")),
    Sound("a module of other dies", MEMORY, _modules("").split("\n")[0], _modules("  - {id: rdimm-odd, name: RDIMM 96 GiB, capacity: 96 GiB, device_width: 4, attributes: {die density: 24 Gbit}}")),
    Sound("a module of stacked dies", MEMORY, _modules("").split("\n")[0], _modules("  - {id: rdimm-odd, name: RDIMM 128 GiB, capacity: 128 GiB, device_width: 4, attributes: {die density: 16 Gbit}}")),
    Sound("an attribute of two words", MEMORY, _modules("").split("\n")[0], _modules("  - {id: rdimm-odd, name: RDIMM 32 GiB odd, attributes: {die density: two of 8 Gbit}}")),
    Sound("the only M.2 drive, of a tenth of the weight of one in a bay", DRIVES, E3, _drives("mass: 9 g")),
    Sound("a supply with a curve of each range", HOUSE, SMALLEST, SMALLEST + RANGED),
    Sound("a slot of more power", HOUSE, RISER, RISERS.format("150 W")),
    Sound("a supply of the same measures", HOUSE, f"    - {{id: supply-600, {SUPPLY}", _two_sizes("size: {width: 60 mm, height: 40 mm, depth: 185 mm}")),
    Sound("a supply's current as rated", HOUSE, SUPPLY, f"{SUPPLY}, input_current: 7.6 A"),
    Sound("a generous input current", HOUSE, SUPPLY, f"{SUPPLY}, input_current: 12 A"),
    Sound("half the output at low voltage", HOUSE, "to: 127 V, output: 700 W}", "to: 127 V, output: 560 W}"),
    Sound("a curve that is nearly flat", HOUSE, "{load: 0.2, efficiency: 0.945, power_factor: 0.95}", "{load: 0.2, efficiency: 0.945, power_factor: 0.895}"),
    Sound("a processor with short peaks", PROCESSORS, C32, C32.replace("maximum: 205 W", "maximum: 340 W")),
    Sound("a rack of 23 inches", PROJECT, "redundancy: 1+1}", "redundancy: 1+1, rack_opening: 552 mm}"),
    Sound("inches in a name", HOUSE, "name: Fan of 60 mm", "name: Fan of 2.36\" frames"),
    Sound("a word in quotes", FULL, SUMMARY, "summary: Everything that the office calls “the lot” at once"),
    Sound("an attribute that is an answer", MEMORY, "{id: rdimm-64, name", "{id: rdimm-64, attributes: {sealed: yes}, name"),
    Sound("a body between its ears", PLATFORM, "mass: 11.2 kg", "mass: 11.2 kg\nbody_width: 434 mm"),
    Sound("a summary of its cores", FULL, SUMMARY, "summary: Everything at once on 64 cores"),
    Sound("a summary of cores of one", FULL, SUMMARY, "summary: Everything at once on 32 cores in each socket"),
    Sound("a summary of its processor", FULL, SUMMARY, "summary: Two Corvane C32 and everything else"),
    Sound("a summary that compares", FULL, SUMMARY, "summary: Everything at once, for those whom four processors of Beacon would not help"),
    Sound("a summary of what may fail", FULL, SUMMARY, "summary: Survives the loss of one drive and of one power supply"),
    Sound("a summary of all that is there", FULL, SUMMARY, "summary: Two processors, two power supplies and 128 GiB of memory"),
    Sound("a summary that counts else", FULL, SUMMARY, "summary: Asked by thirty-two offices, six times a day"),
    Sound("a card whose name tells of the most that it draws", CARDS, "name: Accelerator without}", "name: \"Accelerator without, 110 W\", power: {idle: 11 W, maximum: 110 W}}"),
    Sound("a controller that does not say how many lanes it uses", CARDS, "    lanes: x8\n    generation: 4\n    source: {document: storage", "    generation: 4\n    throughput: 7 GB/s\n    source: {document: storage"),
    Sound("what a controller moves and does", CARDS, "keeps_cache: cache-protection\n", "keeps_cache: cache-protection\n      throughput: 14 GB/s\n      operations: 3000000\n"),
    Sound("three writes a day of blocks of 8 KiB", DRIVES, "name: SAS 3.2 TB, interface: sas, capacity: 3.2 TB", "name: SAS 3.2 TB, interface: sas, capacity: 3.2 TB, writes_per_day: 3, random_block: 8 KiB"),
    Sound("the memory in words", FULL, SUMMARY, "summary: Everything at once, and 128 gibibytes of memory"),
    Sound("a platform that does with one processor", PLATFORM, "summary: Two processors in one rack unit", "summary: Runs with one processor as well as with two"),
    Sound("a platform for one processor, or two", PLATFORM, "summary: Two processors in one rack unit", "summary: Takes one processor, or two"),
    Sound("a platform that one supply carries", PLATFORM, "summary: Two processors in one rack unit", "summary: One power supply carries it, and a second stands by"),
    Sound("memory slots of each processor", PLATFORM, "summary: Two processors in one rack unit", "summary: Four memory slots for each processor"),
    Sound("memory slots that a processor has", PLATFORM, "summary: Two processors in one rack unit", "summary: Two processors, each of which has four memory slots"),
    Sound("a platform as it is", PLATFORM, "summary: Two processors in one rack unit", "summary: One rack unit, two processors and half the memory slots of others"),
    Sound("bays as the name counts them", HOUSE, "name: Six bays", "name: Four 2.5-inch bays and two E3.S ones"),
    Sound("codes of two words", PROJECT, "documents: [sheet]", f"documents: [sheet]\n{RULES}{{code: HOUSE-01, {NEVER}}}]"),
    Sound("a cool room", PROJECT, "inlet: 25 degC", "inlet: 16 degC"),
)  # fmt: skip
