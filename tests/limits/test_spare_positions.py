"""Positions that a platform lacks, one more of each sort, with all that belongs to it: written by
hand from the YAML. A twin is named for the last of its sort under each host or processor."""

from specgen.limits.conflict import ALL_SORTS
from specgen.limits.solve import Solver
from tests.limits.small import COMMON, HEAD, PROJECT, defined
from tests.limits.test_every_statement import PARTS

MORE = (
    "kind: memory-module, id: ram, name: Module, technology: ddr5, form: rdimm, capacity: 16 GiB, "
    "speed: 4800 MT/s, ranks: 1, device_width: 8",
    "kind: heat-sink, id: sink, name: Sink, socket: tern-a, tdp_limit: 130 W",
)
POSITIONS = """
positions:
  - {name: CPU1..2, takes: processor, socket: tern-a}
  - {name: DIMM 1, takes: memory-module, of: CPU1, channel: A}
  - {name: DIMM 2, takes: memory-module, of: CPU2, channel: A}
  - {name: HS 1..2, takes: heat-sink, socket: tern-a, cools: CPU1..2}
  - {name: RISER 1, takes: riser, leads: {A: {from: CPU1.P0, lanes: x8}, B: {from: CPU1.P1, lanes: x8}}}
  - {name: RISER 2, takes: riser, leads: {A: {from: CPU2.P0, lanes: x8}, B: {from: CPU2.P1, lanes: x8}}}
  - {name: FAN 1..2, takes: fan}
  - {name: TPM, takes: tpm, fixed: tpm}
"""  # noqa: E501  # a position a line

# Name, position that brings it, that it is usable with, that it cools, beside it, what feeds it
DECLARED = (
    *(("CPU1", "", "", "", "", ""), ("CPU2", "", "", "", "", "")),
    *(("DIMM 1", "", "CPU1", "", "", ""), ("DIMM 2", "", "CPU2", "", "", "")),
    *(("HS 1", "", "", "CPU1", "", ""), ("HS 2", "", "", "CPU2", "", "")),
    ("RISER 1", "", "", "", "", "A: CPU1.P0, B: CPU1.P1"),
    ("RISER 2", "", "", "", "", "A: CPU2.P0, B: CPU2.P1"),
    *(("FAN 1", "", "", "", "", ""), ("FAN 2", "", "", "", "", "")),
    ("TPM", "", "", "", "", ""),
    ("RISER 1.IN 1", "RISER 1", "", "", "RISER 1.IN 2", "RISER 1.A"),
    ("RISER 1.IN 2", "RISER 1", "", "", "", "RISER 1.B"),
    ("RISER 2.IN 1", "RISER 2", "", "", "RISER 2.IN 2", "RISER 2.A"),
    ("RISER 2.IN 2", "RISER 2", "", "", "", "RISER 2.B"),
)
SPARE = (
    # a processor more, with the module and the heat sink that belong to it
    ("CPU2~1", "", "", "", "", ""),
    ("DIMM 2~1", "", "CPU2~1", "", "", ""),
    ("HS 2~1", "", "", "CPU2~1", "", ""),
    # a module more for either processor
    ("DIMM 1~2", "", "CPU1", "", "", ""),
    ("DIMM 2~3", "", "CPU2", "", "", ""),
    ("HS 2~4", "", "", "CPU2", "", ""),
    # a riser more with its two slots, fed as the last one is
    ("RISER 2~5", "", "", "", "", "A: CPU2.P0, B: CPU2.P1"),
    ("RISER 2~5.IN 1", "RISER 2~5", "", "", "RISER 2~5.IN 2", "RISER 2~5.A"),
    ("RISER 2~5.IN 2", "RISER 2~5", "", "", "", "RISER 2~5.B"),
    ("FAN 2~6", "", "", "", "", ""),
    # a slot more on either riser; none where a part is soldered in
    ("RISER 1.IN 2~7", "RISER 1", "", "", "", "RISER 1.B"),
    ("RISER 2.IN 2~8", "RISER 2", "", "", "", "RISER 2.B"),
)


def nodes(spares: int):
    parts = (*PARTS, *MORE)
    found = defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD + POSITIONS,
            "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in parts),
        }
    )
    return Solver(found, found.platforms["small"], argues=ALL_SORTS, spares=spares).builds.nodes


def told(node):
    place = node.place
    feeds = {"": place.lead.from_} if place.lead is not None else {}
    feeds |= {f"{label}: ": lead.from_ for label, lead in place.leads.items()}
    fed = ", ".join(f"{label}{source}" for label, source in feeds.items())
    assert place.host == (None if node.host is None else node.host.name)
    assert place.name == node.name
    return (
        *(each or "" for each in (node.name, place.host, place.of, place.cools, place.neighbour)),
        fed,
    )


def test_a_platform_has_its_positions():
    assert tuple(map(told, nodes(0))) == DECLARED


def test_a_spare_position_of_each_sort_comes_with_what_belongs_to_it():
    found = nodes(1)
    assert tuple(map(told, found)) == (*DECLARED, *SPARE)
    assert [each.index for each in found] == list(range(len(found)))
    alike = {each.name: [one.name for one in each.spare_of] for each in found if each.spare_of}
    assert alike["CPU2~1"] == alike["DIMM 2~1"] == ["CPU1", "CPU2"]  # what counts is the socket
    assert alike["DIMM 1~2"] == ["DIMM 1", "DIMM 2"]
    assert "RISER 2~5.IN 1" not in alike


def test_of_several_spare_positions_each_is_one_of_its_own():
    names = [each.name for each in nodes(3) if each.name.startswith("FAN")]
    assert len(set(names)) == 5


def test_what_belongs_to_a_spare_position_within_another_is_called_after_it():
    """A cage in a riser holds a riser of one slot: the slot's lanes come through all three."""
    parts = (
        PARTS[0],
        "kind: riser, id: outer, name: Outer, mass: 0.2 kg, key: outer, brings: {positions: ["
        "{name: .CAGE 1, takes: riser, key: inner, leads: {B: {from: .A, lanes: x8}}}]}",
        "kind: riser, id: inner, name: Inner, mass: 0.2 kg, key: inner, brings: {positions: ["
        "{name: .IN 1, takes: accelerator, form: card, from: .B, lanes: x8}]}",
    )
    positions = (
        "positions:\n  - {name: CPU1, takes: processor, socket: tern-a}\n"
        "  - {name: RISER 1, takes: riser, key: outer, leads: {A: {from: CPU1.P0, lanes: x8}}}\n"
    )
    found = defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD + positions,
            "catalog/parts.yaml": "".join(f"- {{{each}, {COMMON}}}\n" for each in parts),
        }
    )
    solver = Solver(found, found.platforms["small"], argues=ALL_SORTS, spares=1)
    cages = [told(each) for each in solver.builds.nodes if ".CAGE" in each.name]
    assert cages == [
        ("RISER 1.CAGE 1", "RISER 1", "", "", "", "B: RISER 1.A"),
        ("RISER 1.CAGE 1.IN 1", "RISER 1.CAGE 1", "", "", "", "RISER 1.CAGE 1.B"),
        # with a riser more
        ("RISER 1~2.CAGE 1", "RISER 1~2", "", "", "", "B: RISER 1~2.A"),
        ("RISER 1~2.CAGE 1.IN 1", "RISER 1~2.CAGE 1", "", "", "", "RISER 1~2.CAGE 1.B"),
        # a cage more in the riser that there is
        ("RISER 1.CAGE 1~3", "RISER 1", "", "", "", "B: RISER 1.A"),
        ("RISER 1.CAGE 1~3.IN 1", "RISER 1.CAGE 1~3", "", "", "", "RISER 1.CAGE 1~3.B"),
    ]
