"""What is counted, and what is not."""

from tests.facts.english import in_english
from tests.facts.systems import calculated

CATALOG = """
- kind: drive
  common: {source: {document: d}, medium: ssd, form: 2.5-inch, interface: sata, generation: 3}
  parts:
    - {id: hot, name: Hot, swap: hot, capacity: 480 GB}
    - {id: cold, name: Cold, swap: cold, capacity: 480 GB}
- kind: network-adapter
  id: nic
  name: Adapter
  source: {document: n}
  ethernet:
    - {name: PORT 1..2, speed: 25 Gbit/s, connector: sfp28, medium: pluggable}
    - {name: PORT 3, speed: 10 Gbit/s, connector: rj45, medium: copper, shared: true}
    - {name: MGMT, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true}
- kind: management-controller
  id: watch
  name: Watch
  source: {document: m}
  ethernet: [{name: MGMT, speed: 1 Gbit/s, connector: rj45, medium: copper, management: true}]
"""
CPU = "  - {name: CPU1, takes: processor}\n"


def facts(positions: str, fit: str):
    return calculated(CPU + positions, f"  CPU1: processor\n{fit}", catalog=CATALOG)


def test_a_drive_is_hot_swap_where_bay_and_drive_are():
    got = facts(
        "  - {name: BAY 0..1, takes: drive, swap: hot}\n"
        "  - {name: BAY 2..3, takes: drive, swap: cold}\n  - {name: BAY 4, takes: drive}\n",
        "  BAY 0: hot\n  BAY 1: cold\n  BAY 2: hot\n  BAY 3: cold\n  BAY 4: hot",
    )
    assert got.value("storage.drives") == 5
    assert got.value("storage.hot_swap") == 1  # a bay that says nothing allows nothing


def test_management_ports_are_apart_and_make_no_sort_of_their_own():
    got = facts(
        "  - {name: LAN, takes: network-adapter}\n  - {name: BMC, takes: management-controller}\n",
        "  LAN: nic\n  BMC: watch",
    )
    assert got.value("network.ports") == 3
    assert got.value("network.management_ports") == 2
    assert got.value("network.shared_ports") == 1
    assert got.value("network.line_rate").in_unit("Gbit/s") == 60
    sorts = [fact.subject for fact in got.of_all("network.{ports}.count")]
    assert sorts == ["10 Gbit/s rj45", "25 Gbit/s sfp28"]
    assert got.value("network.25 Gbit/s sfp28.count") == 2
    assert in_english(got.value("network.25 Gbit/s sfp28.medium")) == ("pluggable",)


def test_slots_of_an_absent_processor_are_there_but_not_usable():
    got = facts(
        "  - {name: CPU2, takes: processor}\n"
        "  - {name: DIMM A1..A4, takes: memory-module, of: CPU1}\n"
        "  - {name: DIMM B1..B4, takes: memory-module, of: CPU2}\n",
        "",
    )
    assert got.value("processors.sockets") == 2
    assert got.value("processors.count") == 1
    assert got.value("memory.slots") == 8
    assert got.value("memory.slots_usable") == 4
    assert got.value("memory.modules") == 0
    assert got.value("memory.speed") is None


def test_a_system_without_anything_has_no_clock_and_no_output():
    got = calculated("  - {name: CPU1, takes: processor}\n", "  {}\n")
    assert got.value("processors.count") == 0
    assert got.value("processors.base_clock") is None
    assert got.value("power.supply_output") is None
    assert got.value("power.headroom") is None
    assert got.value("storage.usable") is None
