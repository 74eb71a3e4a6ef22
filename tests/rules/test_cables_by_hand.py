"""Far ends of cables at connectors of a card that sits in a riser: names of three steps."""

import pytest

from tests.facts.systems import ALL_PORTS, BUILD, PLATFORM, PROJECT, processor
from tests.projects import Checked, project
from tests.rules.test_words_by_hand import words_of

POSITIONS = """positions:
  - {name: CPU1, takes: processor, socket: tern-a}
  - {name: RISER, takes: riser, key: riser, leads: {A: {from: CPU1.P0, lanes: x8}}}
  - {name: FRONT, takes: backplane, key: front}
"""
PARTS = """
- kind: riser
  id: riser
  name: Riser
  key: riser
  source: {document: drawing}
  brings:
    positions:
      - {name: .IN 1, takes: storage-controller, form: card, from: .A, lanes: x8}
      - {name: .CAGE, takes: riser, key: cage, leads: {B: {from: .A, lanes: x4, form: other}}}
- kind: backplane
  id: plane
  name: Plane
  key: front
  source: {document: drawing}
  brings: {positions: [{name: .J0, takes: cable, form: slim}]}
- kind: cable
  id: cable
  name: Cable
  form: slim
  far_form: slim
  lanes: x4
  carries: {sata: 3}
  source: {document: drawing}
- kind: storage-controller
  id: card
  name: Card
  form: card
  raid: [1]
  lanes: x8
  generation: 4
  source: {document: drawing}
  brings:
    ports:
      - {name: C0, lanes: x4, carries: {sata: 3}, form: slim}
      - {name: C1, lanes: x4, carries: {sata: 3}, form: other}
      - {name: C2, lanes: x4, carries: {sata: 3}}
"""


def cabled(to: str, card: str = "card") -> Checked:
    """A build with a cable that goes there."""
    fit = "  CPU1: processor\n  RISER: riser\n  FRONT: plane\n"
    fit += f"  FRONT.J0: {{part: cable, to: {to}}}\n"
    fit += f"  RISER.IN 1: {card}\n" if card else ""
    found = project(
        {
            "specgen.yaml": PROJECT,
            "catalog/processor.yaml": processor(ALL_PORTS, 8, "6400 MT/s"),
            "catalog/parts.yaml": PARTS,
            "platforms/bench.yaml": PLATFORM + POSITIONS,
            "configured/trial.yaml": f"{BUILD}fit:\n{fit}",
        }
    )
    assert found.loaded.findings == ()
    return found


def told(to: str, card: str = "card") -> list[str]:
    asked = "SG204", "SG305", "SG363"
    found = cabled(to, card).findings
    return [f"{each.code.id} {words_of(each)}" for each in found if each.code.id in asked]


SLIM = "the far end of `cable` in FRONT.J0 is slim, and"
FREE = "the far end of the cable | `RISER.IN 1.C0` would take it"


@pytest.mark.parametrize(
    ("to", "said"),
    [
        ("RISER.IN 1.C0", []),
        (
            "RISER.IN 1.C1",
            [f"SG305 {SLIM} RISER.IN 1.C1 is other | ends in slim | the connector | {FREE}"],
        ),
        (
            "RISER.IN 1.C2",
            [
                f"SG305 {SLIM} RISER.IN 1.C2 states no form: nothing can be plugged in there"
                f" | ends in slim | no `form` here | {FREE}"
            ],
        ),
        (
            "RISER.IN 1.C9",
            [
                "SG204 the cable in FRONT.J0 goes to `RISER.IN 1.C9`, which does not exist"
                " | nothing has this name | did you mean `RISER.IN 1.C0` or `RISER.IN 1.C1`?"
            ],
        ),
        (
            "RISER.CAGE.B",
            [f"SG305 {SLIM} RISER.CAGE.B is other | ends in slim | the connector | {FREE}"],
        ),
        (
            "RISER.A",
            [
                f"SG305 {SLIM} RISER.A states no form: nothing can be plugged in there"
                f" | ends in slim | no `form` here | {FREE}"
            ],
        ),
    ],
)
def test_a_cable_to_a_card_in_a_riser(to: str, said: list[str]):
    assert told(to) == said


def test_a_cable_to_a_card_that_is_not_there_yet():
    """The slot is there: which connectors its card will have is not known."""
    assert told("RISER.IN 1.C0", card="") == []
