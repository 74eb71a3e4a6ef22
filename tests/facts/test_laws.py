"""Laws that values obey, whatever the system."""

import re
from decimal import Decimal
from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specgen.facts import Declared, Fact, facts_of, ledger
from specgen.facts.calculators import storage
from specgen.facts.calculators.expansion import lane_rate
from specgen.facts.constants import LANE_RATES
from specgen.quantity import DataSize, Mass, Power
from tests.facts.systems import calculated
from tests.projects import base, project
from tests.timing import tries

FEW = settings(max_examples=tries(25))
grams = st.none() | st.integers(0, 40_000)
watts = st.none() | st.integers(0, 900)
things = st.lists(st.tuples(grams, watts), min_size=1, max_size=6)


def system(parts: list[tuple[int | None, int | None]], fitted: int):
    """A system with a place for each of the parts, the first so many of them fitted."""
    catalog = "kind: fan\ncommon: {form: fan-40, source: {document: fans}}\nparts:\n" + "".join(
        f"  - {{id: part-{number}, name: Part"
        + (f", mass: {mass} g" if mass is not None else "")
        + (f", power: {{maximum: {power} W}}" if power is not None else "")
        + "}\n"
        for number, (mass, power) in enumerate(parts)
    )
    return calculated(
        f"  - {{name: CPU1, takes: processor}}\n  - {{name: FAN 0..{len(parts)}, takes: fan}}\n",
        "  CPU1: processor\n" + "".join(f"  FAN {n}: part-{n}\n" for n in range(fitted)),
        catalog=catalog,
    )


@FEW
@given(things)
def test_a_further_part_never_lowers_mass_or_power(parts):
    less, more = system(parts, len(parts) - 1), system(parts, len(parts))
    assert more.value("mechanics.mass") >= less.value("mechanics.mass")
    drawn, before = more.value("power.maximum"), less.value("power.maximum")
    assert before is None or drawn >= before


@FEW
@given(things)
def test_mass_and_power_are_the_sums_of_what_is_declared(parts):
    facts = system(parts, len(parts))
    mass = sum(mass for mass, _ in parts if mass is not None)
    drawn = [power for _, power in parts if power is not None]
    assert facts.value("mechanics.mass") == Mass.of(10_000 + mass, "g")
    assert facts.value("power.maximum") == (Power.of(sum(drawn), "W") if drawn else None)
    silent = sum(mass is None for mass, _ in parts)
    assert facts.value("mechanics.unweighed") == silent + 1  # the processor is silent too


@given(
    st.lists(st.integers(1, 40_000), min_size=0, max_size=40),
    st.sampled_from(sorted(storage.LEVELS)),
    st.integers(1, 6),
)
def test_usable_is_never_more_than_raw_and_members_never_fewer_than_failures(sizes, level, groups):
    members = tuple(DataSize.of(size, "GB") for size in sizes)
    usable = storage.usable(members, level, groups)
    survived = storage.survived(level, len(members), groups)
    assert (usable is None) == (survived is None)
    if usable is not None and survived is not None:
        assert usable <= ledger().by_key["storage.{volume}.raw"](members)
        assert usable >= min(members)
        assert 0 <= survived < len(members)


@given(st.integers(2, 12), st.integers(2, 4), st.sampled_from([5, 6]))
def test_groups_cost_as_much_as_so_many_volumes_of_one_group(each, groups, level):
    alone = storage.data_members(level, each, 1)
    striped = storage.data_members(level * 10, each * groups, groups)
    assert striped == (None if alone is None else alone * groups)


widths = st.sampled_from([1, 2, 4, 8, 16, 32])


@given(st.sampled_from(sorted(LANE_RATES)), widths, widths)
def test_more_lanes_never_carry_less(link, one, other):
    protocol, generation = link
    narrow, wide = sorted((one, other))
    less, more = (lane_rate(protocol, generation, lanes) for lanes in (narrow, wide))
    assert less is not None
    assert more is not None
    assert less <= more
    assert more / less == pytest.approx(Decimal(wide) / narrow, rel=Decimal("1e-20"))


generations = st.integers(1, 5)


def bandwidth(port: int, lead: int, slot: int, made: int, wired: int):
    facts = calculated(
        f"  - {{name: CPU1, takes: processor}}\n  - {{name: RISER, takes: riser, "
        f"leads: {{A: {{from: CPU1.P0, lanes: x{lead}, generation: {wired}}}}}}}\n",
        "  CPU1: processor\n  RISER: riser",
        catalog=f"""
kind: riser
id: riser
name: Riser
source: {{document: risers}}
brings: {{positions: [{{name: SLOT 1, takes: network-adapter, form: card, connector: x16, from: .A, lanes: x{slot}}}]}}
""",  # noqa: E501
        ports=f"[{{name: P0, lanes: x{port}, carries: {{pcie: {made}}}}}]",
    )
    return facts.value("expansion.SLOT 1.bandwidth")


@FEW
@given(
    st.tuples(widths, widths, widths),
    st.tuples(generations, generations),
    st.sampled_from([0, 1, 2, 3, 4]),
)
def test_a_stretch_made_narrower_or_slower_never_raises_bandwidth(lanes, speeds, which):
    before = [*lanes, *speeds]
    after = list(before)
    after[which] = max(1, before[which] // 2)
    assert bandwidth(*after) <= bandwidth(*before)


capacities = st.lists(st.integers(1, 512), min_size=1, max_size=32)


@given(capacities)
def test_capacity_doubles_when_every_module_doubles(gibibytes):
    capacity = ledger().by_key["memory.capacity"]
    once = capacity(tuple(DataSize.of(size, "GiB") for size in gibibytes))
    twice = capacity(tuple(DataSize.of(2 * size, "GiB") for size in gibibytes))
    assert twice == once * 2


def values(files: dict[str, str]) -> dict[str, dict[str, Fact]]:
    found = project(files)
    assert found.findings == ()
    return {name: dict(facts_of(assembly)) for name, assembly in found.assemblies.items()}


@lru_cache(maxsize=1)
def as_written() -> dict[str, dict[str, Fact]]:
    return values(base())


def test_capacity_of_a_build_doubles_with_its_modules():
    files = base()
    name = "catalog/memory.yaml"
    text = files[name].replace("capacity: 32 GiB", "capacity: 64 GiB")
    files[name] = re.sub(r"(name: [^,}\n]*)32 GiB", r"\1doubled", text)  # names say it too
    before, after = as_written()["lantern-full"], values(files)["lantern-full"]
    assert after["memory.capacity"].value == before["memory.capacity"].value * 2
    changed = {key for key in before if before[key].value != after[key].value}
    assert {"memory.capacity", "memory.visible", "memory.capacity_per_core"} <= changed
    named = {"memory.kinds"}  # by what the modules are called
    assert changed - named <= {key for key in before if rests_on(before[key], "capacity: 32 GiB")}


def rests_on(fact: Fact | Declared, text: str) -> bool:
    """Whether a line of the base project that holds this text is among the leaves of a fact."""
    if isinstance(fact, Declared):
        lines = base().get(fact.span.file, "").split("\n")
        return text in "\n".join(lines[fact.span.line - 1 : fact.span.line])
    return any(rests_on(entry, text) for entry in fact.inputs)


FIT = base()["configured/lantern-full.yaml"].split("fit:\n")[1].split("volumes:")[0]


@FEW
@given(st.permutations(FIT.splitlines()))
def test_the_order_of_a_builds_lines_changes_no_value(lines):
    files = base()
    name = "configured/lantern-full.yaml"
    files[name] = files[name].replace(FIT, "".join(f"{line}\n" for line in lines))
    got = values(files)
    assert got == as_written()
    assert [list(facts) for facts in got.values()] == [
        list(facts) for facts in as_written().values()
    ]


CATALOG = sorted(name for name in base() if name.startswith("catalog/"))


@FEW
@given(st.permutations(range(len(CATALOG))))
def test_the_order_of_files_changes_no_value(order):
    files = base()
    for number, name in zip(order, CATALOG, strict=True):
        files[f"catalog/deep/{number}-{name.rpartition('/')[2]}"] = files.pop(name)
    assert values(files) == as_written()


@pytest.mark.parametrize("kind", ["catalog/processors.yaml", "catalog/house.yaml"])
def test_the_order_of_fields_changes_no_value(kind):
    files = base()
    top = files[kind]
    if kind.endswith("processors.yaml"):
        head, _, rest = top.partition("parts:\n")
        first, _, others = head.partition("common:\n")
        files[kind] = f"parts:\n{rest}common:\n{others}{first}"
    else:
        blocks = top.split("\n- ")
        files[kind] = "- " + "\n- ".join([*reversed(blocks[1:]), blocks[0].removeprefix("- ")])
    assert values(files) == as_written()
