# ruff: noqa: E501 (a table reads best with one row a line)
"""Breaks that show beside the name, the place or the trade: weights, prices, numbers, ports; and
twins of them that are sound."""

from typing import Final

from tests.mutated.breaks import CARDS, DRIVES, FULL, HOUSE, MEMORY, PROJECT, one
from tests.mutated.sibling_breaks import SUMMARY, WIDE, Sound

STACK: Final = "name: 3DS RDIMM 128 GiB"
E3: Final = "capacity: 3.84 TB"
CABLE: Final = "name: MCIO cable"
PLACES: Final = ".PORT 1..2, takes: transceiver"
PORT: Final = "connector: sfp28, medium: pluggable"
OPTIC: Final = "{id: sfp28-sr, name: SFP28}"
DISK: Final = "- kind: drive\n  id: disk-4t"
NEED: Final = "because: draws more than the slot gives"
STATED: Final = f"{SUMMARY}\ndate: 2026-03-02\nconditions: {{inlet: 30 degC,"
ROOM: Final = "redundancy: 1+1}"


def _stated(summary: str) -> str:
    """A build that states its line and its height, and a summary."""
    return STATED.replace("Everything at once", summary) + " line: 230 V, altitude: 900 m,"


def _optic(more: str) -> str:
    return f"{{id: sfp28-sr, name: SFP28, {more}}}"


def _room(more: str) -> str:
    return f"redundancy: 1+1, {more}}}"


def _fans(*more: str) -> str:
    """Fans of one sort and close weights; then the fans and lines given."""
    rows = [
        f"    - {{id: fan-{name}, name: Fan {name}, form: fan-80, airflow: {flow} m3/h, power: {{maximum: 15 W}}, mass: {mass} g, number: F-{flow}}}"
        for name, flow, mass in (("a", 50, 60), ("b", 55, 62), ("c", 60, 66), ("d", 65, 70))
    ]
    return "\n".join((WIDE, *rows, *more))


def _fan(more: str) -> str:
    return f"    - {{id: fan-odd, name: Odd fan, form: fan-80, airflow: 60 m3/h, power: {{maximum: 15 W}}, {more}}}"


def _blank(mass: str) -> str:
    return f"- {{kind: blank, id: blank-80, name: Fan blank of 80 mm, form: fan-80, mass: {mass}, source: {{document: cooling LN-130}}}}"


def _disks(odd: str) -> str:
    rows = "".join(
        f"    - {{id: disk-{at}, name: Disk {at} TB, capacity: {at} TB, read: {read} MB/s, random_reads: {ios}}}\n"
        for at, read, ios in ((1, 200, 140), (2, 220, 150), (3, 240, 165), (5, 260, 170))
    )
    return (
        "- kind: drive\n  common: {medium: hdd, form: 3.5-inch, interface: sata, generation: 3, swap: cold, source: {document: drive table, date: 2026-01-10}}\n  parts:\n"
        f"{rows}    - {{id: disk-odd, name: Odd disk, capacity: 6 TB, read: 250 MB/s, random_reads: {odd}}}\n{DISK}\n  read: 250 MB/s\n  random_reads: 160"
    )


FAN: Final = "- {id: fan-odd"
ODD: Final = (
    one("a stacked module of other ranks than its name", MEMORY, STACK, "name: 3DS RDIMM 128 GiB 1S4Rx8", "SG130", "ranks: 2"),
    one("two digits of a capacity exchanged", DRIVES, E3, "capacity: 3.48 TB", "SG128", "id: e3-3840"),
    one("a cable of another generation than its name", HOUSE, CABLE, "name: MCIO cable PCIe 4.0", "SG130", "id: cable-pcie"),
    one("more cages than ports", CARDS, PLACES, ".PORT 1..4, takes: transceiver", "SG118", ".PORT 1..4"),
    one("a cage of copper", CARDS, PORT, "connector: sfp28, medium: copper", "SG118", "connector: sfp28, medium: copper"),
    one("an optic for another fibre than its name", CARDS, OPTIC, "{id: sfp28-sr, name: Optic 25GBASE-SR, attributes: {fibre: single-mode}}", "SG130", "25GBASE-SR"),
    one("an optic for long reach on multimode", CARDS, OPTIC, "{id: sfp28-sr, name: Optic 25GBASE-LR, attributes: {fibre: multimode OM4}}", "SG130", "25GBASE-LR"),
    one("ten times what an SFP28 may draw", CARDS, OPTIC, _optic("power: {maximum: 12 W}"), "SG128", "12 W"),
    one("a hundred times the operations of a hard drive", DRIVES, DISK, _disks("16000"), "SG128", "id: disk-odd"),
    one("a weight with its box", HOUSE, WIDE, _fans(_fan("number: F-9, mass: 190 g")), "SG128", FAN),
    one("a blank heavier than the fan", HOUSE, WIDE, _fans(_blank("200 g")), "SG128", "blank-80"),
    one("a blank lighter than paper", HOUSE, WIDE, _fans(_blank("1 g")), "SG128", "blank-80"),
    one("a part that nobody can order", HOUSE, WIDE, _fans(_fan("mass: 66 g")), "SG226", FAN),
    one("a price in cents", PROJECT, ROOM, _room("energy_price: 24, currency: euro"), "SG130", "energy_price"),
    one("a price with its point moved", PROJECT, ROOM, _room("energy_price: 0.0024, currency: EUR"), "SG130", "energy_price"),
    one("a price of yen in euro's size", PROJECT, ROOM, _room("energy_price: 0.24, currency: yen"), "SG130", "energy_price"),
    one("a price of nobody knows what", PROJECT, ROOM, _room("energy_price: 0.24"), "SG130", "energy_price"),
    one("a summary of another line", FULL, STATED, _stated("Everything at once on a line of 120 V"), "SG227", "summary: Everything"),
    one("a summary of another height", FULL, STATED, _stated("Everything at once, at 1900 m"), "SG227", "summary: Everything"),
    one("a draft that is published", FULL, SUMMARY, f"revision: draft\n{SUMMARY}", "SG130", "revision: draft"),
    one("a need of another draw", CARDS, NEED, "because: the slot gives 75 W and the card draws 140 W", "SG227", "because:"),
    one("a currency misspelled", PROJECT, ROOM, _room("energy_price: 0.24, currency: eruo"), "SG130", "currency"),
)  # fmt: skip

SOUND_ODD: Final = (
    Sound("a stacked module as its name", MEMORY, STACK, "name: 3DS RDIMM 128 GiB 2S4Rx8"),
    Sound("a capacity that a name rounds", DRIVES, "name: E3.S 3.84 TB", "name: E3.S 3.8 TB"),
    Sound("a cable as its name", HOUSE, CABLE, "name: MCIO cable PCIe 5.0"),
    Sound("an optic for its fibre", CARDS, OPTIC, "{id: sfp28-sr, name: Optic 25GBASE-SR, attributes: {fibre: multimode OM4}}"),
    Sound("a warm optic", CARDS, OPTIC, _optic("power: {maximum: 3 W}")),
    Sound("a quick hard drive", DRIVES, DISK, _disks("420")),
    Sound("a heavier fan", HOUSE, WIDE, _fans(_fan("number: F-9, mass: 140 g"))),
    Sound("a blank of steel", HOUSE, WIDE, _fans(_blank("60 g"))),
    Sound("a blank of film", HOUSE, WIDE, _fans(_blank("3 g"))),
    Sound("dear power", PROJECT, ROOM, _room("energy_price: 0.48, currency: euro")),
    Sound("cheap power", PROJECT, ROOM, _room("energy_price: 0.03, currency: CHF")),
    Sound("power in yen", PROJECT, ROOM, _room("energy_price: 31, currency: yen")),
    Sound("power in forints", PROJECT, ROOM, _room("energy_price: 70, currency: HUF")),
    Sound("power in a currency of islands", PROJECT, ROOM, _room("energy_price: 900, currency: shell")),
    Sound("a summary of its line", FULL, STATED, _stated("Everything at once on a line of 230 V")),
    Sound("a summary of another line's lack", FULL, STATED, _stated("Everything at once, where 120 V would be too little")),
    Sound("a summary of its height", FULL, STATED, _stated("Everything at once, at 900 m and 1900 m from the shore")),
    Sound("a first revision", FULL, SUMMARY, f"revision: A\n{SUMMARY}"),
    Sound("a need of its draw", CARDS, NEED, "because: the slot gives 75 W and the card draws 110 W"),
    Sound("no price", PROJECT, ROOM, _room("currency: euro")),
)  # fmt: skip
