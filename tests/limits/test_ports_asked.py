"""What a port on the way to a drive must do, and what is left to ask behind a part."""

import pytest

from specgen.limits.wiring import Asks
from specgen.model import Drive, Port, StorageController
from tests.limits.small import COMMON, HEAD, PROJECT, defined

PARTS = (
    "kind: storage-controller, id: card, name: Card, form: card, raid: [0, 1, 5], lanes: x8, "
    "generation: 4, power: {maximum: 9 W}, mass: 0.1 kg, brings: {ports: ["
    "{name: SAS, lanes: x8, carries: {sas: 4, sata: 3}, form: a, swap: [hot, cold]}, "
    "{name: COLD, lanes: x1, carries: {sata: 3}, form: a, swap: cold}, "
    "{name: ANY, lanes: x1, carries: {sata: 3}, form: a}]}",
    "kind: drive, id: disk, name: Disk, medium: hdd, form: 3.5-inch, interface: sata, "
    "generation: 3, swap: hot, capacity: 8 TB, mass: 0.6 kg",
)


def parts() -> tuple[dict[str, Port], StorageController, Drive]:
    found = defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": f"{HEAD}positions: []\n",
            "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in PARTS),
        }
    ).parts
    card, disk = found["card"], found["disk"]
    assert isinstance(card, StorageController)
    assert isinstance(disk, Drive)
    return {each.name: each for each in card.brings.ports}, card, disk


@pytest.mark.parametrize(
    ("asked", "met"),
    [
        (Asks(), {"SAS", "COLD", "ANY"}),
        (Asks(frozenset({"sas"})), {"SAS"}),
        (Asks(frozenset({"nvme", "sata"})), {"SAS", "COLD", "ANY"}),
        (Asks(frozenset({"nvme"})), set()),
        # a port that does not say which drives it serves serves both
        (Asks(swap="hot"), {"SAS", "ANY"}),
        (Asks(swap="cold"), {"SAS", "COLD", "ANY"}),
        (Asks(frozenset({"sas"}), "cold"), {"SAS"}),
        (Asks(frozenset({"nvme"}), "cold"), set()),
    ],
)
def test_ports_that_do_what_is_asked(asked: Asks, met: set[str]):
    ports, _, _ = parts()
    assert {name for name, port in ports.items() if asked.met_by(port)} == met


def test_a_raid_level_is_asked_of_the_first_part_that_has_some():
    _, card, disk = parts()
    wanted = Asks(frozenset({"sas"}), "hot", 5)
    assert wanted.beyond(disk) == wanted.beyond(None) == wanted
    assert wanted.beyond(card) == Asks(frozenset({"sas"}), "hot")
    assert Asks(raid=6).beyond(card) is None
    assert Asks(swap="hot").beyond(card) == Asks(swap="hot")
