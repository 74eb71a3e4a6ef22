"""Auxiliary power connectors: kind, count, and what slot and connectors carry together."""

import pytest

from specgen.limits.limit import best
from specgen.limits.objectives import OBJECTIVES
from tests.facts.systems import BUILD, PLATFORM, PROJECT
from tests.projects import project


def files(card: str, offered: str, slot: str = "power: 375 W", fitted: bool = True):
    cards = f"""
- {{kind: accelerator, id: card, name: Card, source: {{document: cards}}, connector: x16, {card}}}
- {{kind: riser, id: riser, name: Riser, source: {{document: risers}},
   brings: {{resources: {{{offered}}}}}}}
"""
    positions = (
        "positions:\n  - {name: RISER 1, takes: riser, must: true}\n"
        f"  - {{name: SLOT 1, takes: accelerator, form: card, connector: x16, {slot}}}\n"
    )
    fit = "  RISER 1: riser\n" + ("  SLOT 1: card\n" if fitted else "")
    return {
        "specgen.yaml": PROJECT,
        "catalog/cards.yaml": cards,
        "platforms/bench.yaml": PLATFORM + positions,
        "configured/trial.yaml": f"{BUILD}fit:\n{fit}",
    }


# Slot 75 W; 8-pin 150 W; 12V-2x6 600 W: what the connectors do not carry comes from the slot.
PAIR = "power: {maximum: 300 W}, needs: [{resource: pcie-8-pin, count: 2}]"
CASES = (
    ("power: {maximum: 75 W}", "pcie-8-pin: 1", []),
    ("power: {maximum: 76 W}", "pcie-8-pin: 1", ["SG356"]),  # no connector of its own: 76 > 75
    ("power: {maximum: 225 W}, needs: [{resource: pcie-8-pin}]", "pcie-8-pin: 1", []),
    # 226 - 150 = 76 W are left to the slot
    ("power: {maximum: 226 W}, needs: [{resource: pcie-8-pin}]", "pcie-8-pin: 1", ["SG356"]),
    (PAIR, "pcie-8-pin: 2", []),
    # two needed, one there
    (PAIR, "pcie-8-pin: 1", ["SG314"]),
    # one needed, of another kind
    ("power: {maximum: 300 W}, needs: [{resource: 12v-2x6}]", "pcie-8-pin: 4", ["SG313"]),
    ("power: {maximum: 375 W}, needs: [{resource: 12v-2x6}]", "12v-2x6: 1", []),
    # the place is rated for 375 W with its cables
    ("power: {maximum: 376 W}, needs: [{resource: 12v-2x6}]", "12v-2x6: 1", ["SG356"]),
)  # fmt: skip


@pytest.mark.parametrize(("card", "offered", "codes"), CASES)
def test_a_card_is_fed_by_kind_and_count_and_the_solver_knows(card, offered, codes):
    checked = project(files(card, offered))
    assert checked.codes == codes, checked.findings
    definitions = project(files(card, offered, fitted=False)).loaded.definitions
    assert definitions is not None
    limit = best(definitions, definitions.platforms["bench"], OBJECTIVES["accelerators"])
    assert limit.value == (0 if codes else 1)
    assert limit.bound == limit.value


def test_the_finding_names_the_connectors_that_are_there():
    checked = project(files("needs: [{resource: 12v-2x6}]", "pcie-8-pin: 4"))
    (finding,) = checked.findings
    assert "needs 1 × `12v-2x6`" in str(finding.message)
    assert "4 × `pcie-8-pin`" in " ".join(map(str, finding.notes))
