"""Lanes of a processor: owned, in use, free; behind switches and through positions too."""

from tests.facts.systems import calculated

PARTS = """
- kind: drive
  id: nvme
  name: Drive
  source: {document: drives}
  medium: ssd
  form: e3.s
  swap: hot
  interface: nvme
  lanes: x4
  generation: 5
  capacity: 1.92 TB
- kind: cable
  id: cable
  name: Cable
  source: {document: cables}
  form: mcio-8i
  far_form: mcio-8i
  lanes: x8
  carries: {pcie: 5}
- kind: network-adapter
  id: nic
  name: Adapter
  source: {document: cards}
  connector: x16
  lanes: x16
  generation: 5
  ethernet: [{name: PORT 1, speed: 100 Gbit/s, connector: qsfp28, medium: pluggable}]
- kind: backplane
  id: switched
  name: Bays behind a switch
  source: {document: bays}
  brings:
    positions:
      - {name: .J0, takes: cable, form: mcio-8i}
      - {name: BAY 0..3, takes: drive, from: .X0..X3, lanes: x4}
    ports:
      - {name: X0..X3, lanes: x4, carries: {pcie: 5}, behind: .J0}
- kind: backplane
  id: plain
  name: Bays without one
  source: {document: bays}
  brings:
    positions:
      - {name: BAY 0..1, takes: drive, from: ., lanes: x4}
- kind: riser
  id: switch-riser
  name: Riser with a switch
  source: {document: risers}
  brings:
    positions: [{name: SLOT 1..2, takes: network-adapter, form: card, from: .X1..X2, lanes: x16}]
    ports: [{name: X1..X2, lanes: x16, carries: {pcie: 5}, behind: .A}]
- kind: storage-controller
  id: tri
  name: Controller
  source: {document: cards}
  connector: x8
  lanes: x8
  generation: 5
  brings: {ports: [{name: C0, lanes: x8, carries: {pcie: 5}, form: mcio-8i, behind: .}]}
"""
CPU = "  - {name: CPU1, takes: processor}\n"


def lanes(
    positions: str, fit: str, ports: str = "[{name: P0..P1, lanes: x16, carries: {pcie: 5}}]"
):
    facts = calculated(CPU + positions, f"  CPU1: processor\n{fit}", catalog=PARTS, ports=ports)
    return tuple(
        facts.value(f"expansion.CPU1.{name}") for name in ("lanes", "lanes_used", "lanes_free")
    )


SLOT = "  - {name: SLOT 9, takes: network-adapter, form: card, from: CPU1.P0, lanes: x16}\n"


def test_an_empty_slot_uses_no_lanes():
    assert lanes(SLOT, "") == (32, 0, 32)


def test_a_card_uses_the_lanes_wired_to_its_slot():
    assert lanes(SLOT, "  SLOT 9: nic") == (32, 16, 16)


def test_a_switch_behind_a_cable_uses_the_lanes_of_the_cable():
    got = lanes(
        "  - {name: FRONT, takes: backplane}\n",
        "  FRONT: switched\n  FRONT.J0: {part: cable, to: CPU1.P0}\n  BAY 0..3: nvme",
    )
    assert got == (32, 8, 24)


def test_a_switch_on_a_riser_uses_the_lanes_of_its_lead():
    got = lanes(
        "  - {name: RISER, takes: riser, leads: {A: {from: CPU1.P1, lanes: x16}}}\n",
        "  RISER: switch-riser\n  SLOT 1..2: nic",
    )
    assert got == (32, 16, 16)


def test_a_switch_uses_its_lanes_before_anything_is_plugged_in_behind_it():
    got = lanes(
        "  - {name: RISER, takes: riser, leads: {A: {from: CPU1.P1, lanes: x16}}}\n",
        "  RISER: switch-riser",
    )
    assert got == (32, 16, 16)


def test_drives_behind_a_controller_use_the_controllers_lanes_only():
    got = lanes(
        "  - {name: SLOT 9, takes: storage-controller, form: card, from: CPU1.P0, lanes: x8}\n"
        "  - {name: BAY 9, takes: drive, from: SLOT 9.C0, lanes: x4}\n",
        "  SLOT 9: tri\n  BAY 9: nvme",
    )
    assert got == (32, 8, 24)


def test_a_position_that_leads_on_is_not_counted_beside_what_it_leads_to():
    got = lanes(
        "  - {name: FRONT, takes: backplane, from: CPU1.P0, lanes: x8}\n",
        "  FRONT: plain\n  BAY 0..1: nvme",
    )
    assert got == (32, 8, 24)


def test_ports_that_carry_no_pcie_are_no_pcie_lanes():
    got = lanes(
        "  - {name: SLOT 9, takes: network-adapter, form: card, from: CPU1.P0, lanes: x16}\n",
        "  SLOT 9: nic",
        "[{name: P0, lanes: x16, carries: {pcie: 5}}, {name: S0, lanes: x8, carries: {sata: 3}}]",
    )
    assert got == (16, 16, 0)
