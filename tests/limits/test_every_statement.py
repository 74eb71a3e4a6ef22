"""Every statement that a platform makes to the solver, in the words that a reader gets: written
from the YAML alone, so that none is lost, said of another place, or made of other numbers."""

from specgen.limits.conflict import ALL_SORTS
from specgen.limits.reason import ReasonKind
from specgen.limits.solve import Solver
from tests.limits.small import COMMON, HEAD, PROJECT, defined

CARD = "height: full, connector: x16, lanes: x8, power: {maximum: 60 W}, mass: 1 kg"
SLOT = "takes: accelerator, form: card, height: full, connector: x16, lanes: x8, power: 75 W"
PARTS = (
    "kind: processor, id: cpu, name: Processor, socket: tern-a, cores: 8, threads: 8, "
    "base_clock: 2 GHz, max_clock: 3 GHz, tdp: 90 W, power: {maximum: 90 W}, mass: 0.1 kg, "
    "memory_technology: ddr5, memory_channels: 2, memory_speed: {1: 4800 MT/s}, together: 1, "
    "brings: {ports: [{name: P0..P1, lanes: x16, carries: {pcie: 5}, splits: [8+8]}]}",
    "kind: riser, id: riser, name: Riser, mass: 0.2 kg, brings: {positions: ["
    f"{{name: .IN 1, from: .A, neighbour: .IN 2, {SLOT}}}, {{name: .IN 2, from: .B, "
    f"needs: [{{position: .IN 1, because: order}}], {SLOT}}}]}}",
    f"kind: accelerator, id: wide, name: Wide card, places: 2, {CARD}",
    f"kind: accelerator, id: wider, name: Wider card, places: 3, {CARD}",
    f"kind: accelerator, id: thin, name: Thin card, {CARD}",
    "kind: fan, id: fan, name: Fan, form: fan-40, mass: 0.1 kg, power: {maximum: 8 W}, "
    "needs: [{part: [rails, tpm]}, {position: FAN 2, because: air}]",
    "kind: rail-kit, id: rails, name: Rails, mass: 1.5 kg, blocks: [TPM], "
    "needs: [{kind: fan, count: 2}]",
    "kind: tpm, id: tpm, name: TPM 2, form: spi, mass: 0.01 kg",
)
POSITIONS = """
positions:
  - {name: CPU1, takes: processor, socket: tern-a, must: true}
  - {name: RISER, takes: riser, leads: {A: {from: CPU1.P0, lanes: x8}, B: {from: CPU1.P1, lanes: x8}}}
  - {name: FAN 1..2, takes: fan}
  - {name: RAILS, takes: rail-kit, needs: [{kind: tpm}]}
  - {name: TPM, takes: tpm, needs: [{position: FAN 1, because: air}]}
"""  # noqa: E501  # a position a line
# The lines on which they stand: positions in their order, parts in theirs.
CPU1, RISER, FANS, RAILS, TPM = (f"platforms/small.yaml:{line}" for line in range(14, 19))
A_PROCESSOR, A_RISER, A_FAN, RAIL_KIT = (f"catalog/parts.yaml:{line}" for line in (1, 2, 6, 7))
STATEMENTS = {
    ("there is one position for processors: CPU1", CPU1),
    ("CPU1 must be filled", CPU1),
    ("P0 to 1 of Processor have 16 lanes each, and no more", A_PROCESSOR),
    ("there is one position for risers: RISER", RISER),
    ("RISER.A has 8 lanes, and no more", RISER),
    ("RISER.B has 8 lanes, and no more", RISER),
    ("with Riser, there are 2 positions for accelerators: RISER.IN 1 to 2", A_RISER),
    ("what Riser provides works only with it", A_RISER),
    ("IN 1 of Riser: lanes come from A", A_RISER),
    ("IN 2 of Riser: lanes come from B", A_RISER),
    # the wider card, of three places, goes nowhere; the wide one from IN 1 on
    ("IN 1 of Riser has 2 slots side by side from there on", A_RISER),
    ("IN 2 of Riser needs IN 1 when filled", A_RISER),
    ("IN 2 of Riser stays empty where a part elsewhere takes its room", A_RISER),
    ("there are 2 positions for fans: FAN 1 to 2", FANS),
    ("Fan needs Rails or TPM 2", A_FAN),
    ("Fan needs FAN 2", A_FAN),
    ("there is one position for rail kits: RAILS", RAILS),
    ("RAILS needs TPM when filled", RAILS),
    ("Rails needs 2 × fan", RAIL_KIT),
    ("there is one position for TPMs: TPM", TPM),
    ("TPM needs FAN 1 when filled", TPM),
    ("TPM stays empty where a part elsewhere takes its room", TPM),
}


SERIAL = "carries: {sata: 3}, form: slim"
WIRED_PARTS = (
    PARTS[0].replace(
        "splits: [8+8]}]", f"splits: [8+8]}}, {{name: S0, lanes: x4, {SERIAL}, swap: hot}}]"
    ),
    "kind: riser, id: outer, name: Outer, mass: 0.2 kg, key: outer, brings: {positions: ["
    "{name: .CAGE 1, takes: riser, key: inner, leads: {B: {from: .A, lanes: x8}}}]}",
    "kind: riser, id: inner, name: Inner, mass: 0.2 kg, key: inner, brings: {positions: ["
    "{name: .IN 1, takes: accelerator, form: card, from: .B, lanes: x8}]}",
    "kind: accelerator, id: card, name: Card, form: card, lanes: x8, power: {maximum: 60 W}, "
    "mass: 1 kg",
    "kind: backplane, id: plane, name: Plane, mass: 0.3 kg, key: front, brings: {positions: ["
    "{name: .J0, takes: cable, form: slim}, {name: BAY 0..1, takes: drive, form: 2.5-inch, "
    "interface: sata, swap: hot, from: .J0, lanes: x1}]}",
    f"kind: cable, id: cable, name: Cable, mass: 0.1 kg, lanes: x8, far_form: slim, {SERIAL}",
    "kind: drive, id: ssd, name: Drive, medium: ssd, interface: sata, generation: 3, "
    "form: 2.5-inch, swap: hot, capacity: 2 TB, power: {maximum: 8 W}, mass: 0.1 kg",
)
WIRED = """leads:
  EDGE: {from: CPU1.P1, lanes: x4, form: slim}
positions:
  - {name: CPU1, takes: processor, socket: tern-a, must: true}
  - {name: RISER 1, takes: riser, key: outer, leads: {A: {from: CPU1.P0, lanes: x8}}}
  - {name: FRONT, takes: backplane, area: front, key: front}
"""
W_CPU1, W_RISER, W_FRONT = (f"platforms/small.yaml:{line}" for line in range(15, 18))
W_PROCESSOR, OUTER, INNER, PLANE = (f"catalog/parts.yaml:{line}" for line in (1, 2, 3, 5))
WIRED_STATEMENTS = {
    ("there is one position for processors: CPU1", W_CPU1),
    ("CPU1 must be filled", W_CPU1),
    ("P0 to 1 of Processor have 16 lanes each, and no more", W_PROCESSOR),
    ("there is one position for risers: RISER 1", W_RISER),
    ("RISER 1.A has 8 lanes, and no more", W_RISER),
    ("with Outer, there is one position for risers: RISER 1.CAGE 1", OUTER),
    ("what Outer provides works only with it", OUTER),
    ("RISER 1.CAGE 1.B has 8 lanes, and no more", OUTER),
    ("with Inner, there is one position for accelerators: RISER 1.CAGE 1.IN 1", INNER),
    ("what Inner provides works only with it", INNER),
    ("IN 1 of Inner: lanes come from B", INNER),
    ("there is one position for backplanes: FRONT", W_FRONT),
    ("with Plane, there is one position for cables: FRONT.J0", PLANE),
    ("with Plane, there are 2 positions for drives: BAY 0 to 1", PLANE),
    ("what Plane provides works only with it", PLANE),
    ("BAY 0 to 1 of Plane: lanes come from J0", PLANE),
    ("the cable in FRONT.J0 has no lanes left", PLANE),
}


def said(platform: str, parts: tuple[str, ...], of_checks: bool = False) -> set[tuple[str, str]]:
    """What a platform says to the solver of positions, parts and links, or else of its checks."""
    found = defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD + platform,
            "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in parts),
        }
    )
    solver = Solver(found, found.platforms["small"], argues=ALL_SORTS, spares=1)
    return {
        (str(each.words), each.at.shown)
        for each in solver.logic.reasons
        if (each.sort is ReasonKind.CHECK) is of_checks
    }


def test_every_statement_about_positions_parts_and_links():
    assert said(POSITIONS, PARTS) == STATEMENTS


def test_every_statement_about_a_riser_in_a_riser_and_a_cable():
    assert said(WIRED, WIRED_PARTS) == WIRED_STATEMENTS


MANY_PORTS = tuple(
    each.replace(
        "{name: BAY 0..1, takes: drive, form: 2.5-inch, interface: sata, swap: hot, from: .J0, ",
        "{name: .X0..1, takes: cable, form: slim}, {name: BAY 0..1, takes: drive, form: 2.5-inch, "
        "interface: sata, swap: hot, from: .X0..1, ",
    )
    for each in WIRED_PARTS
)


def test_what_positions_on_one_line_need_of_their_ports_is_one_statement():
    """Of each bay in turn, sixty bays would say it sixty times."""
    links = {words for words, _ in said(WIRED, MANY_PORTS) if "lanes come from" in words}
    assert links == {
        "IN 1 of Inner: lanes come from B",
        "BAY 0 to 1 of Plane: lanes come from X0 to 1",
    }
    ports = [each for each in said(WIRED, MANY_PORTS, of_checks=True) if "a port" in each[0]]
    assert ports == [
        ("SATA drives, hot-swap need a port behind FRONT.X0 to 1 that serves them", PLANE)
    ]
