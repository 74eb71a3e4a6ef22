"""Every condition that `--at` can ask for moves a limit, or is refused with the reason."""

from typing import Final

import pytest

from specgen.cli.one_build import asked
from specgen.limits.limit import Status, best
from specgen.limits.objectives import OBJECTIVES
from specgen.model import ANYWHERE, CONDITIONS
from specgen.rules.unread_conditions import OF_COSTS, WARNED_OF, unread
from tests.limits.small import HEAD, PROJECT, defined

MODULE: Final = ", source: {document: table}}\n"
PARTS: Final = (
    "- {kind: fan, id: fan, name: Fan, form: fan-40, mass: 1 kg, airflow: 30 m3/h, "
    "power: {maximum: 8 W}"
    + MODULE
    + "- {kind: drive, id: drive, name: Drive, medium: ssd, form: 2.5-inch, interface: nvme, "
    "swap: hot, lanes: x4, generation: 4, capacity: 1 TB, power: {maximum: 25 W}, mass: 1 kg, "
    "inlet_limit: 34 degC"
    + MODULE
    + "- {kind: power-supply, id: supply, name: Supply, form: crps, inlet: C14, "
    "input_current: 10 A, outputs: [{from: 100 V, to: 127 V, output: 40 W}, "
    "{from: 200 V, to: 240 V, output: 130 W}], "
    "curve_at: 230 V, curve: [{load: 0.1, efficiency: 0.91, power_factor: 0.9}, "
    "{load: 0.2, efficiency: 0.945, power_factor: 0.95}, "
    "{load: 0.5, efficiency: 0.965, power_factor: 0.98}, "
    "{load: 1, efficiency: 0.92, power_factor: 1}]"
    + MODULE
    + "- {kind: power-cord, id: cord, name: Cord, form: C13, plug: IEC 60320 C14, current: 10 A"
    + MODULE
    + "- {kind: rail-kit, id: rails, name: Rails, adjusts_from: 600 mm, adjusts_to: 900 mm, "
    "load_rating: 11 kg" + MODULE
)
POSITIONS: Final = (
    "positions:\n"
    "  - {name: BAY 1..6, takes: drive}\n"
    "  - {name: FAN 1..2, takes: fan, must: true}\n"
    "  - {name: PSU 1..2, takes: power-supply, area: rear, form: crps}\n"
    "  - {name: CORD 1..2, takes: power-cord, area: rear, form: C13, of: PSU 1..2, must: true}\n"
    "  - {name: RAILS, takes: rail-kit, must: true}\n"
)
LIMITED: Final = {
    # name: (conditions, drives at most; None where no build is left)
    "line": ("line=120 V", 1),
    "inlet": ("inlet=34.5 degC", 0),
    "altitude": ("altitude=3100 m", None),
    "redundancy": ("redundancy=1+1", 3),
    "rise": ("rise=10 K", 2),
    "circuit": ("redundancy=1+1;circuit=0.5 A", (1, 2)),
    "line_type": ("line_type=dc", None),
    "circuit_rule": ("redundancy=1+1;circuit=0.5 A;circuit_rule=nec", (1, 2)),
    "outlet": ("outlet=CEE 7/3", None),
    "rack_units": ("rack_units=1;per_rack=2", None),
    "rack_opening": ("rack_opening=430 mm", None),
    "rack_depth": ("rack_depth=700 mm", None),
    "rail_distance": ("rail_distance=950 mm", None),
    "rack_width": ("floor_load_rating=1 kN/m2;rack_length=1 m;rack_width=100 mm", 3),
    "rack_length": ("floor_load_rating=1 kN/m2;rack_width=1 m;rack_length=100 mm", 3),
    "rack_mass": ("floor_load_rating=1 kN/m2;rack_width=1 m;rack_length=1 m;rack_mass=93 kg", 1),
    "rack_load_rating": ("rack_load_rating=9 kg", 2),
    "floor_load_rating": ("floor_load_rating=0.5 kN/m2;rack_width=400 mm;rack_length=400 mm", 1),
    "per_rack": ("rack_load_rating=20 kg;per_rack=2", 3),
}
"""What is asked for together, and how many drives go in then."""
OPEN: Final = 4
"""How many go in where nothing but what the project states is asked for: what the rails carry."""


@pytest.fixture(scope="module")
def small():
    return defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD + "body_width: 434 mm\n" + POSITIONS,
            "catalog/parts.yaml": PARTS,
        }
    )


def _most(definitions, text: str):
    at = asked(tuple(text.split(";"))) if text else ANYWHERE
    return best(definitions, definitions.platforms["small"], OBJECTIVES["drives"], at)


def test_every_condition_is_tried_here_or_refused():
    assert set(LIMITED) | {*OF_COSTS, *WARNED_OF} == set(CONDITIONS)


def test_with_nothing_asked_for_the_rails_decide(small):
    assert (_most(small, "").value, _most(small, "").status) == (OPEN, Status.PROVED)


@pytest.mark.parametrize(("text", "drives"), LIMITED.values(), ids=LIMITED)
def test_a_condition_moves_the_limit(small, text, drives):
    found = _most(small, text)
    # of a circuit 80 % counts, or all of it, by the code that applies
    assert found.value in (drives if isinstance(drives, tuple) else (drives,))
    assert found.value != OPEN
    assert found.status is (Status.PROVED if drives is not None else Status.NOTHING)


def test_what_a_rule_reads_is_not_refused():
    definitions = defined(
        {
            "specgen.yaml": PROJECT % "none"
            + "rules: [{code: QW-1, require: 'energy_price < 1'}]\n",
            "platforms/small.yaml": HEAD + POSITIONS,
            "catalog/parts.yaml": PARTS,
        }
    )
    at = asked(("energy_price=2", "grid_factor=1"))
    assert unread(definitions, at) == ("grid_factor",)
