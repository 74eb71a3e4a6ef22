"""A liquid loop in a server: kinds that the program has never heard of, judged, summed, printed."""

import pytest

from specgen.assembly import assemble
from specgen.document.shelf import templates_of
from specgen.drawings import nowhere
from specgen.drawings.layout_engine import LayoutEngine
from specgen.facts import facts_of
from specgen.pipeline import bare_case, case_of, compose
from specgen.quantity import DataRate, Mass, Power, VolumeFlow, parse_any
from specgen.write.writer_options import Options
from specgen.write.writers import WRITERS
from tests.projects import base, project

LOOP = """
- id: coolant-pump
  title: Coolant pump
  plural: Coolant pumps
  description: Moves the coolant through the cold plates.
  subsystem: liquid-loop
  traits: [draws-power, swap]
  fields:
    - {name: form, type: text, required: true}
    - {name: flow, type: quantity, unit: l/min, label: Flow, required: true}
    - {name: head, type: quantity, unit: kPa, label: Pressure head}
    - {name: fluids, type: choice, choices: [water, glycol mixture], list: true, label: Fluids}
  shown: {choices: [flow, head, fluids], comparison: flow, parts_list: flow}
- id: cold-plate
  title: Cold plate
  plural: Cold plates
  subsystem: liquid-loop
  traits: cools
  fields:
    - {name: socket, type: text, required: true}
    - {name: needs_flow, type: quantity, unit: l/min, label: Flow it needs, required: true}
"""
PARTS = """
- kind: coolant-pump
  common: {form: pump-60, source: {document: loop LN-140}}
  parts:
    - id: pump-6
      name: Pump, 6 l/min
      flow: 6 l/min
      head: 35 kPa
      fluids: [water, glycol mixture]
      swap: hot
      mass: 0.4 kg
      power: {idle: 3 W, typical: 9 W, maximum: 14 W}
    - {id: pump-silent, name: Silent pump, flow: 2 l/min}
- kind: cold-plate
  common: {socket: tern-a, needs_flow: 1.5 l/min, key: one-unit, source: {document: loop LN-140}}
  parts:
    - {id: plate, name: Cold plate, tdp_limit: 500 W}
    - {id: plate-thin, name: Cold plate, tdp_limit: 200 W}
"""
RULE = """
rules:
  - code: QW-201
    when: cold_plates.count > 0
    require: sum(p.flow for p in coolant_pumps) >= sum(c.needs_flow for c in cold_plates)
    because: every cold plate needs its share of the flow
"""


def loop(fit: str = "", plate: str = "plate", pump: str = "pump-6") -> dict[str, str]:
    """The small sound project with cold plates in place of heat sinks, and a pump."""
    files = base()
    platform, build = "platforms/lantern.yaml", "configured/lantern-full.yaml"
    assert "takes: heat-sink," in files[platform]
    files[platform] = files[platform].replace(
        "takes: heat-sink,", "takes: [heat-sink, cold-plate],"
    )
    files[platform] = files[platform].replace(
        "positions:\n", "positions:\n  - {name: PUMP 1..2, takes: coolant-pump, form: pump-60}\n", 1
    )
    files[build] = files[build].replace(
        "  HS 1..2: sink\n", f"  HS 1..2: {plate}\n  PUMP 1: {pump}\n{fit}"
    )
    assert "rules:" not in files["specgen.yaml"]
    return {
        **files,
        "specgen.yaml": files["specgen.yaml"] + RULE,
        "kinds/loop.yaml": LOOP,
        "catalog/loop.yaml": PARTS,
    }


def errors(files: dict[str, str]) -> list[str]:
    found = project(files).findings
    return [each.code.id for each in found if each.severity.value == "error"]


def test_the_loop_is_sound():
    assert errors(loop()) == []


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        (loop(plate="plate-thin"), "SG332"),
        (loop(pump="pump-silent"), "QW-201"),
        (loop("  PUMP 2: fan\n"), "SG301"),
        (loop("  PUMP 3: pump-6\n"), "SG203"),
    ],
    ids=["a plate too weak for its processor", "too little flow", "no pump", "no such position"],
)
def test_it_is_judged(changed: dict[str, str], code: str):
    assert code in errors(changed)


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("flow: 6 l/min", "flow: 6 kg", "SG122"),
        ("flow: 6 l/min", "flow: 6 l/mn", "SG123"),
        ("flow: 6 l/min", "flow: -6 l/min", "SG113"),
        ("[water, glycol mixture]", "[water, glycol mixtur]", "SG113"),
        ("      flow: 6 l/min\n", "", "SG114"),
    ],
)
def test_its_values_are_read_strictly(old: str, new: str, code: str):
    files = loop()
    assert files["catalog/loop.yaml"].count(old) == 1
    files["catalog/loop.yaml"] = files["catalog/loop.yaml"].replace(old, new)
    assert code in errors(files)


def test_it_has_its_place_in_the_sums():
    with_pump, without = loop(), loop(pump="pump-silent")
    facts = facts_of(project(with_pump).assemblies["lantern-full"])
    silent = facts_of(project(without).assemblies["lantern-full"])
    assert facts.value("power.liquid-loop.maximum") == Power.of(14, "W")
    assert facts.value("power.liquid-loop.idle") == Power.of(3, "W")
    assert facts.value("power.maximum") == silent.value("power.maximum") + Power.of(14, "W")
    assert facts.value("mechanics.mass") == silent.value("mechanics.mass") + Mass.of("0.4")
    assert facts.value("parts.coolant_pumps.count") == 1
    assert facts.value("parts.coolant_pumps.flow") == VolumeFlow.of(6, "l/min")
    undeclared = "power.undeclared"
    assert "pump-silent" in silent.value(undeclared)
    assert {*silent.value(undeclared)} - {*facts.value(undeclared)} == {"pump-silent"}


def test_a_value_of_the_project_adds_up_what_it_declares():
    files = loop("  PUMP 2: pump-6\n")
    files["specgen.yaml"] += (
        "values:\n  - {key: loop.flow, label: Flow of the loop, "
        "expression: 'sum(p.flow for p in coolant_pumps)', unit: l/min}\n"
    )
    found = project(files)
    assert [each.code.id for each in found.findings if each.severity.value == "error"] == []
    flow = facts_of(found.assemblies["lantern-full"]).value("loop.flow")
    assert flow == parse_any("12 l/min")


def test_it_has_its_lines_on_pages():
    definitions = project(loop()).loaded.definitions
    assert definitions is not None
    templates = templates_of(project(loop()).sources.root)
    case = case_of(definitions, definitions.builds["lantern-full"])
    assert case is not None
    bare = bare_case(definitions, definitions.platforms["lantern"])
    lines = {}
    for name, of in (("sheet", case), ("guide", bare)):
        document, problems = compose(name, templates, of, LayoutEngine(), nowhere)
        assert problems == ()
        assert document is not None
        text = WRITERS["md"].write(document, Options()).decode("utf-8").replace("\u202f", " ")
        lines[name] = [" ".join(line.split()) for line in text.split("\n")]
    assert "| Liquid loop | 3 W | 9 W | 14 W |" in lines["sheet"]
    fitted = "| PUMP 1 | Pump, 6 l/min | 1 | 6 l/min | 35 kPa | water, glycol mixture |"
    assert fitted in lines["sheet"]
    assert (
        "| Pump, 6 l/min | 6 l/min | 35 kPa | water, glycol mixture | PUMP 1 to 2 |"
        in lines["guide"]
    )
    captions = [line for line in lines["guide"] if line.endswith("Coolant pumps to choose from**")]
    assert len(captions) == 1  # numbered in a guide


def test_its_positions_are_there_with_nothing_fitted():
    definitions = project(loop()).loaded.definitions
    assert definitions is not None
    bare = assemble(definitions, definitions.platforms["lantern"], None)
    assert [place.name for place in bare.taking("coolant-pump")] == ["PUMP 1", "PUMP 2"]


SWITCH = """
id: switch-module
title: Switch module
plural: Switch modules
subsystem: network
traits: [card, ethernet-ports, draws-power]
fields:
  - {name: buffers, type: quantity, unit: MiB, label: Packet buffer}
"""
SWITCHING = """
kind: switch-module
id: switch-4
name: Switch module, four ports
form: ocp-nic-3.0-sff
lanes: x8
generation: 4
connector: x8
buffers: 12 MiB
power: {idle: 9 W, typical: 14 W, maximum: 19 W}
ethernet: [{name: PORT 1..4, speed: 25 Gbit/s, connector: sfp28, medium: copper}]
source: {document: network LN-150}
"""


def test_a_card_with_ports_of_a_declared_kind_counts_like_an_adapter():
    files = base()
    platform, build = "platforms/lantern.yaml", "configured/lantern-full.yaml"
    assert "{name: OCP, takes: network-adapter," in files[platform]
    files[platform] = files[platform].replace(
        "{name: OCP, takes: network-adapter,",
        "{name: OCP, takes: [network-adapter, switch-module],",
    )
    lines = files[build].split("\n")
    kept = [line for line in lines if not line.startswith("  OCP.PORT")]
    files[build] = "\n".join(kept).replace("  OCP: ocp-25", "  OCP: switch-4")
    files |= {"kinds/switch.yaml": SWITCH, "catalog/switch.yaml": SWITCHING}
    assert errors(files) == []
    assembly = project(files).assemblies["lantern-full"]
    facts, before = facts_of(assembly), facts_of(project(base()).assemblies["lantern-full"])
    assert facts.value("network.ports") == before.value("network.ports") + 2
    assert facts.value("network.OCP.line_rate") == DataRate.of(100, "Gbit/s")
    assert facts.value("network.OCP.host_bandwidth") == before.value("network.OCP.host_bandwidth")
    assert assembly.links["OCP"].lanes == 8
    assert facts.value("power.network.maximum") > before.value("power.network.maximum")
