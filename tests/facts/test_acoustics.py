"""Sound power, summed: against published sums, and where naive sums go wrong."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.facts.calculators.acoustics import energetic_sum
from specgen.quantity import SoundPower, show
from tests.facts.english import in_english
from tests.facts.systems import calculated
from tests.sorts import rest_on

# Source: 10 lg(sum of 10^(L/10)); 80 + 85, 5 + 10 + 15 and 40 + 30 + 70 as printed by
# engineeringtoolbox.com ("Adding Decibels"), the others by arithmetic
SUMS = (
    ((80, 85), "86.1933"),
    ((5, 10, 15), "16.5113"),
    ((40, 30, 70), "70.0048"),
)
SUMS_WORKED_OUT = (
    ((60, 60), "63.0103"),
    ((55, 58, 61), "63.4363"),
    ((50, 60), "60.4139"),
    ((57,) * 4, "63.0206"),
    ((60,) * 10, "70.0000"),
)
# Source: 10 lg n
ALIKE = (
    *((2, "3.0103"), (3, "4.7712"), (4, "6.0206"), (5, "6.9897"), (8, "9.0309")),
    *((10, "10"), (15, "11.7609"), (20, "13.0103")),
)


def decibels(*levels: int) -> Decimal:
    total = energetic_sum(tuple(SoundPower.of(level, "dB") for level in levels))
    return total.in_unit("dB")


@pytest.mark.published("acoustics", "engineeringtoolbox.com: Adding Decibels")
@pytest.mark.parametrize(
    ("levels", "expected"),
    [
        *SUMS,
        *rest_on(pytest.mark.arithmetic("acoustics", "10 lg(sum of 10^(L/10))"), SUMS_WORKED_OUT),
    ],
)
def test_levels_add_on_the_linear_scale(levels, expected):
    assert decibels(*levels) == pytest.approx(Decimal(expected), abs=Decimal("5e-5"))


@pytest.mark.published("acoustics", "engineeringtoolbox.com: equal sources, L + 10 lg n")
@pytest.mark.parametrize(("count", "more"), ALIKE)
def test_so_many_alike_are_so_much_louder(count, more):
    got = decibels(*[60] * count) - 60
    assert got == pytest.approx(Decimal(more), abs=Decimal("5e-5"))


@pytest.mark.arithmetic("acoustics", "1 B = 10 dB")
def test_two_of_six_point_two_three_bels():
    total = energetic_sum((SoundPower.of("6.23"), SoundPower.of("6.23")))
    assert total.amount == pytest.approx(Decimal("6.53103"), abs=Decimal("5e-6"))


def fans(*declared: str, kind: str = "fan", field: str = "form: fan-40"):
    catalog = "".join(
        f"- {{kind: {kind}, id: p{n}, name: Part {n}, source: {{document: f}}, {field}{each}}}\n"
        for n, each in enumerate(declared)
    )
    return calculated(
        "  - {name: CPU1, takes: processor}\n"
        f"  - {{name: P 0..{len(declared)}, takes: {kind}}}\n",
        "  CPU1: processor\n" + "".join(f"  P {n}: p{n}\n" for n in range(len(declared))),
        catalog=catalog,
    )


OLD = ', noise: {} B, noise_edition: "ISO 9296:1988"'
NEW = ', noise: {} B, noise_edition: "ISO 9296:2017"'


@pytest.mark.published("acoustics", "ISO 9296:2017, LWA,c = LWA,m + Kv")
def test_the_upper_limit_is_the_mean_and_its_adder():
    facts = fans(NEW.format("6.2") + ", noise_adder: 0.3 B")
    assert facts.value("noise.upper_limit").amount == Decimal("6.5")
    assert facts.value("noise.sound_power").amount == Decimal("6.2")


def test_trap_levels_are_neither_averaged_nor_added():
    facts = fans(OLD.format("6.0"), OLD.format("6.0"))
    assert facts.value("noise.sound_power").amount not in (Decimal(6), Decimal(12))
    assert decibels(60, 60) < 64


def test_trap_two_fans_are_three_decibels_louder_and_not_six():
    assert decibels(60, 60) - 60 == pytest.approx(Decimal("3.0103"), abs=Decimal("1e-4"))


def test_trap_bels_stay_bels_in_print():
    facts = fans(OLD.format("6.2"))
    assert show(facts.value("noise.sound_power")) == "6.2\u202fB"


def test_trap_a_mean_and_a_statistical_maximum_make_no_sum():
    facts = fans(OLD.format("6.0"), NEW.format("6.0"))
    assert facts.value("noise.sound_power") is None
    assert in_english(facts.value("noise.edition")) == ("ISO 9296:1988", "ISO 9296:2017")


def test_the_edition_is_named_with_the_sum():
    assert in_english(fans(OLD.format("6.0")).value("noise.edition")) == ("ISO 9296:1988",)
    assert in_english(fans(", noise: 6 B").value("noise.edition")) == ("edition not stated",)


def test_no_upper_limit_where_an_adder_is_missing():
    facts = fans(NEW.format("6.2") + ", noise_adder: 0.3 B", NEW.format("6.2"))
    assert facts.value("noise.upper_limit") is None
    assert facts.value("noise.sound_power") is not None


def test_what_turns_and_declares_nothing_is_named():
    facts = fans(OLD.format("6.0"), "")
    assert facts.value("noise.silent") == ("p1",)
    disks = fans("", kind="drive", field="medium: hdd, form: 3.5-inch, interface: sata, "
                 "generation: 3, swap: hot, capacity: 4 TB")  # fmt: skip
    assert disks.value("noise.silent") == ("p0",)
    assert disks.value("noise.sound_power") is None
    assert disks.value("noise.edition") is None


levels = st.lists(st.integers(0, 120), min_size=1, max_size=12)


@given(levels, st.integers(0, 120))
def test_a_further_source_never_makes_it_quieter(known, further):
    assert decibels(*known, further) > decibels(*known)
    assert decibels(*known) >= max(known) - Decimal("1e-20")


@given(levels)
def test_the_order_of_sources_changes_nothing(known):
    assert decibels(*known) == decibels(*reversed(known))


def measured(said: str):
    """A system with one fan of ISO 9296:2017, and what was measured on it as a whole."""
    return calculated(
        "  - {name: CPU1, takes: processor}\n  - {name: P 0..1, takes: fan}\n",
        f"  CPU1: processor\n  P 0..1: p\nmeasured: {{source: {{document: m}}{said}}}\n",
        catalog="- {kind: fan, id: p, name: Fan, source: {document: f}, form: fan-40, "
        'noise: 5 B, noise_edition: "ISO 9296:2017"}\n',
    )


@pytest.mark.published("acoustics", "ISO 9296:2017, LWA,c = LWA,m + Kv")
def test_what_is_declared_of_the_whole_system_stands_beside_the_estimate():
    facts = measured(', noise: 6.1 B, noise_adder: 0.3 B, noise_edition: "ISO 9296:2017"')
    assert facts.value("noise.declared").amount == Decimal("6.1")
    assert facts.value("noise.declared_upper").amount == Decimal("6.4")
    assert in_english(facts.value("noise.declared_edition")) == "ISO 9296:2017"
    assert facts.value("noise.sound_power").amount == pytest.approx(Decimal("5.30103"))
    bare = measured(", noise: 6.1 B")
    assert in_english(bare.value("noise.declared_edition")) == "edition not stated"
    assert bare.value("noise.declared_upper") is None
    assert measured("").value("noise.declared_edition") is None


def test_parts_of_several_editions_are_named_where_they_are_not_added():
    mixed = fans(OLD.format("6.0"), NEW.format("6.0")).value("noise.mixed")
    assert mixed is not None
    assert fans(NEW.format("6.0"), NEW.format("6.0")).value("noise.mixed") is None
