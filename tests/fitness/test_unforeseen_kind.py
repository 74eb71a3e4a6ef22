"""A kind of part that nobody foresaw is held to what its fields call for, counts and is offered."""

from dataclasses import replace
from typing import ClassVar

import pytest

from specgen.assembly import Assembly, assemble
from specgen.facts import facts_of
from specgen.limits.limit import Status, limit_of, reached
from specgen.limits.objectives import INPUT, OBJECTIVES
from specgen.limits.reachable import choosable
from specgen.limits.solve import Solver
from specgen.model import (
    KINDS,
    Build,
    Definitions,
    Draw,
    Fill,
    Need,
    Part,
    Position,
    Source,
    expand,
)
from specgen.model.fields import Positive, Text, record
from specgen.model.kinds.power import SupplyOutput
from specgen.pipeline import bare_case
from specgen.quantity import Power, Temperature, Voltage
from specgen.rules import judge
from tests.limits.small import platform, sound_builds
from tests.projects import base, project


@record
class ColdPlate(Part):
    """Takes heat away by a liquid, and draws power for its pump."""

    kind: ClassVar[str] = "cold-plate"
    title: ClassVar[str] = "Cold plate"
    plural: ClassVar[str] = "Cold plates"

    socket: Text
    tdp_limit: Power


@record
class FuelCell(Part):
    """Gives power from a tank."""

    kind: ClassVar[str] = "fuel-cell"
    title: ClassVar[str] = "Fuel cell"
    plural: ClassVar[str] = "Fuel cells"

    outputs: tuple[SupplyOutput, ...]


@record
class Sled(Part):
    """Computes beside so many of its like."""

    kind: ClassVar[str] = "compute-sled"
    title: ClassVar[str] = "Compute sled"
    plural: ClassVar[str] = "Compute sleds"

    together: Positive = 1


@pytest.fixture(autouse=True)
def _known(monkeypatch: pytest.MonkeyPatch) -> None:
    for kind in (ColdPlate, FuelCell, Sled):
        monkeypatch.setitem(KINDS, kind.kind, kind)  # type: ignore[arg-type]


HERE = Source(document="sketch")


def plate(name: str, limit: int, draws: int = 4, **more: object) -> ColdPlate:
    return ColdPlate(
        id=name, name=name, source=HERE, socket="tern-a", tdp_limit=Power.of(limit),
        power=Draw(maximum=Power.of(draws)), **more,
    )  # type: ignore[arg-type]  # fmt: skip


def cell(name: str, least: int) -> FuelCell:
    outputs = SupplyOutput(from_=Voltage.of(least), to=Voltage.of(240), output=Power.of(1300))
    return FuelCell(id=name, name=name, source=HERE, outputs=(outputs,))


def grown(definitions: Definitions, name: str, *parts: Part, **takes: str) -> Definitions:
    """Definitions with parts of kinds of their own, and positions of a platform that take them."""

    def wider(position: Position) -> Position:
        own = position.name.split()[0]
        more = (takes[own],) if own in takes else ()
        power = Power.of(10) if more else position.power
        return replace(position, takes=(*position.takes, *more), power=power)

    own = definitions.platforms[name]
    changed = replace(own, positions=tuple(map(wider, own.positions)))
    return replace(
        definitions,
        parts={**definitions.parts, **{part.id: part for part in parts}},
        platforms={**definitions.platforms, name: changed},
    )


def lantern(*parts: Part, fit: dict[str, str], **takes: str) -> Assembly:
    """The full build of the base project with parts of kinds of their own in some positions."""
    loaded = project(base()).loaded.definitions
    assert loaded is not None
    definitions = grown(loaded, "lantern", *parts, **takes)
    build: Build = definitions.builds["lantern-full"]
    whole = {name: fill for text, fill in build.fit.items() for name in expand(text)}
    own = {name: Fill(part=part) for text, part in fit.items() for name in expand(text)}
    filled = {name: fill for name, fill in {**whole, **own}.items() if fill.part}
    build = replace(build, fit=filled)
    return assemble(definitions, definitions.platforms["lantern"], build)


def codes(system: Assembly) -> list[str]:
    return sorted(finding.code.id for finding in judge(system, facts_of(system)))


def test_what_cools_is_held_to_what_is_below_it() -> None:
    strong, weak = plate("strong", 205), plate("weak", 204)
    assert codes(lantern(strong, fit={"HS 1..2": "strong"}, HS="cold-plate")) == []
    system = lantern(strong, weak, fit={"HS 1..2": "weak"}, HS="cold-plate")
    (finding,) = judge(system, facts_of(system))
    assert finding.code.id == "SG332"
    assert "`weak` in HS 1 to 2 is rated for 204 W" in str(finding.message)
    assert str(finding.help) == "`strong` is rated for enough"


def test_it_must_match_its_place_like_any_other_part() -> None:
    other = replace(plate("other", 300), socket="tern-b")
    assert codes(lantern(other, fit={"HS 1..2": "other"}, HS="cold-plate")) == ["SG302"]
    hungry = plate("hungry", 300, draws=11)
    assert codes(lantern(hungry, fit={"HS 1..2": "hungry"}, HS="cold-plate")) == ["SG356"]
    fed = plate("fed", 300, draws=11, needs=(Need(resource="pcie-8-pin"),))
    assert codes(lantern(fed, fit={"HS 1..2": "fed"}, HS="cold-plate")) == ["SG314"]
    frail = plate("frail", 300, inlet_limit=Temperature.parse("29 degC"))
    assert codes(lantern(frail, fit={"HS 1..2": "frail"}, HS="cold-plate")) == ["SG335"]


def test_it_counts_in_the_sums() -> None:
    plain = lantern(plate("strong", 300, draws=9), fit={}, HS="cold-plate")
    cooled = lantern(plate("strong", 300, draws=9), fit={"HS 1..2": "strong"}, HS="cold-plate")
    more = [facts_of(system).value("power.maximum") for system in (cooled, plain)]
    assert more[0] - more[1] == Power.of(18)  # type: ignore[operator]


def test_a_page_offers_it_where_it_goes_in() -> None:
    parts = (plate("strong", 300), plate("hungry", 300, draws=11))
    definitions = lantern(*parts, fit={}, HS="cold-plate").definitions
    case = bare_case(definitions, definitions.platforms["lantern"])
    offered = {part.id for part in choosable(case.assembly, case.assembly.places["HS 1"])}
    assert "strong" in offered
    assert "hungry" not in offered


def test_what_gives_power_is_counted_and_rated_as_a_supply() -> None:
    cells = (cell("cell", 200), cell("low", 120), cell("high", 235))
    assert codes(lantern(*cells, fit={"PSU 1..2": "high"}, PSU="fuel-cell")) == ["SG355"]
    found = codes(lantern(*cells, fit={"PSU 1": "cell", "PSU 2": "low"}, PSU="fuel-cell"))
    assert found == ["SG352"]
    assert codes(lantern(*cells, fit={"PSU 1..2": "cell"}, PSU="fuel-cell")) == []
    assert codes(lantern(*cells, fit={"PSU 1": "cell"}, PSU="fuel-cell")) == ["SG352"]
    lone = lantern(*cells, fit={"PSU 1": "cell", "PSU 2": "", "CORD 2": ""}, PSU="fuel-cell")
    assert codes(lone) == ["SG353"]


def test_no_more_of_it_than_work_together() -> None:
    sleds = [Sled(id=name, name=name, source=HERE) for name in ("sled", "sledge")]
    assert codes(lantern(*sleds, fit={"TPM": "sled"}, TPM="compute-sled")) == []
    places = {"TPM": "compute-sled", "PACK": "compute-sled"}
    both = lantern(*sleds, fit={"TPM": "sled", "PACK 1": "sled"}, **places)
    assert codes(both) == ["SG334", "SG341"]
    unlike = lantern(*sleds, fit={"TPM": "sled", "PACK 1": "sledge"}, **places)
    assert codes(unlike) == ["SG334", "SG341"]


def test_limits_know_it_as_the_checks_do() -> None:
    parts = (plate("strong", 130, draws=6), plate("weak", 70, draws=2), plate("huge", 200, 30))
    seed = next(n for n in range(80) if _sinks(platform(n)))
    definitions = grown(platform(seed), "small", *parts, HS="cold-plate")
    solver = Solver(definitions, definitions.platforms["small"])
    builds = list(sound_builds(definitions))
    assert any(fill.part == "strong" for build, *_ in builds for fill in build.fit.values())
    for objective in OBJECTIVES.values():
        values = [reached(objective, assembly, facts) for _, assembly, facts in builds]
        found = limit_of(solver, objective)
        if found.status is Status.UNDECLARED:
            assert objective.fact == INPUT
            continue
        assert found.value == (max(values) if objective.most else min(values))  # type: ignore[type-var]
        assert found.status is Status.PROVED


def _sinks(definitions: Definitions) -> bool:
    names = [position.name for position in definitions.platforms["small"].positions]
    return "HS 1" in names and "SLOT 5" not in names
