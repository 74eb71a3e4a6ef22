"""What a page offers for a place, what the checks accept there and what the solver may put there is
one and the same."""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import replace
from functools import cache

import pytest

from specgen.assembly import Assembly, State, assemble
from specgen.diagnostics import Finding, Severity
from specgen.facts import Facts, facts_of
from specgen.fitness import REQUIREMENTS, around, refusals
from specgen.limits.closure import PositionNode, closure
from specgen.limits.reachable import choosable, possible
from specgen.model import ANYWHERE, Build, Definitions, Fill, Part, Platform
from specgen.pipeline import Survey, bare_case
from specgen.rules import judge
from specgen.rules.fit import fit
from specgen.rules.life import life
from tests.fitness.seeded import platform
from tests.timing import first

SEEDS = range(24)
QUICK = 1
CODES = frozenset(row.code.id for row in REQUIREMENTS)


def _hosts(node: PositionNode) -> dict[str, Fill]:
    """What must be fitted for a position to be there."""
    if node.host is None or node.bringer is None:
        return {}
    own = {} if node.host.fixed else {node.host.name: Fill(part=node.bringer.id)}
    return {**_hosts(node.host), **own}


Judge = Callable[[Assembly, Facts], Iterable[Finding]]


def _of_places(system: Assembly, facts: Facts) -> Iterable[Finding]:
    """What the checks say that ask the table, without all others."""
    return (finding for check in (fit, life) for finding in check(system, facts))


def _errors(system: Assembly, judging: Judge) -> Counter[tuple[str, str]]:
    """Errors that speak of one part in one place, by code and words."""
    return Counter(
        (finding.code.id, finding.message)
        for finding in judging(system, facts_of(system))
        if finding.severity is Severity.ERROR and finding.code.id in CODES
    )


def accepted(
    small: Platform,
    node: PositionNode,
    parts: Iterable[Part],
    made: Callable[[Build], Assembly],
    judging: Judge,
) -> set[str]:
    """The parts that bring no error of their own into a place, as the ordinary checks see it.

    The place is taken to be usable, and open is what sits in others: the part is put there by hand.
    """
    build = Build(id="x", name="x", platform=small.id, summary="x", fit=_hosts(node))
    before, found = _errors(made(build), judging), set()
    for part in parts:
        filled = made(build)
        place = filled.places[node.name]
        place.how, place.filled_at = "build", build.origin.at("fit")
        if part.closes:
            place.state, place.part, place.closed_by = State.EMPTY, None, part
        else:
            place.state, place.part, place.closed_by = State.FILLED, part, None
        if not _errors(filled, judging) - before:
            found.add(part.id)
    return found


def _compare(
    definitions: Definitions, small: Platform, anywhere: bool, judging: Judge = judge
) -> None:
    def made(build: Build | None) -> Assembly:
        system = assemble(definitions, small, build)
        return replace(system, conditions=ANYWHERE) if anywhere else system

    every_kind = judging is judge
    alike = {node.place.declared_at: node for node in closure(made(None)) if not node.fixed}
    for node in alike.values():
        takes, blank = node.place.position.takes, node.place.position.blank
        one = {part.kind: part for part in definitions.parts.values()} if every_kind else {}
        parts = {part.id: part for part in one.values()}
        for part in definitions.parts.values():
            if part.kind in takes or part.id == blank:
                parts[part.id] = part
        domain = {part.id for part in node.parts}
        assert domain == accepted(small, node, parts.values(), made, judging), node.name


@pytest.mark.parametrize("seed", first(QUICK, SEEDS))
@pytest.mark.parametrize("anywhere", [False, True])
def test_the_solver_may_use_what_the_checks_accept(seed: int, anywhere: bool) -> None:
    definitions = platform(seed)
    _compare(definitions, definitions.platforms["small"], anywhere)


@pytest.mark.parametrize("seed", first(QUICK, SEEDS))
def test_pages_offer_what_the_solver_may_use(seed: int) -> None:
    definitions = platform(seed)
    _offers(definitions, definitions.platforms["small"])


def _offers(definitions: Definitions, small: Platform) -> None:
    case = bare_case(definitions, small)
    nodes = closure(replace(case.assembly, conditions=ANYWHERE))
    for node in nodes:
        if node.host is None and not node.fixed:
            place = case.assembly.places[node.name]
            assert choosable(case.assembly, place) == node.parts, node.name
    offers = {(node.name, part.id) for node in nodes if not node.fixed for part in node.parts}
    assert offers == {
        (at, name) for name, places in possible(case.assembly).items() for at in places
    }


@pytest.mark.parametrize("name", first(1, ("pocket", "lantern", "beacon", "boathouse", "capstan")))
def test_the_platforms_of_the_demo_offer_what_the_checks_accept(demo: Survey, name: str) -> None:
    definitions = demo.loaded.definitions
    assert definitions is not None
    own = definitions.platforms[name]
    _compare(definitions, own, anywhere=True, judging=_of_places)
    _offers(definitions, own)


@cache
def _refused() -> Counter[str]:
    found: Counter[str] = Counter()
    for seed in SEEDS:
        definitions = platform(seed)
        system = assemble(definitions, definitions.platforms["small"], None)
        for node in closure(system):
            known = around(system, node.place, node.bringer)
            feeding = (part for part in definitions.parts.values() if hasattr(part, "inlet"))
            fed = [replace(known, parts={**known.parts, node.place.of: part}) for part in feeding]
            for part in definitions.parts.values():
                for surroundings in (known, *(fed if node.place.of == "PSU 1" else ())):
                    found.update(
                        str(REQUIREMENTS.index(each.requirement))
                        for each in refusals(node.place, part, surroundings)
                    )
    return found


@pytest.mark.parametrize("row", REQUIREMENTS, ids=lambda row: f"{row.code.id} {row.fields[0]}")
def test_every_requirement_refuses_something(row) -> None:
    assert _refused()[str(REQUIREMENTS.index(row))]
