"""The ledger: order, missing values, subjects, pedigrees, and registries that cannot be."""

from functools import lru_cache

import pytest

from specgen.assembly import Assembly
from specgen.facts import (
    BadRegistry,
    Basis,
    Calculators,
    Declared,
    Fact,
    Ledger,
    facts_of,
)
from specgen.facts.fact_inputs import FactOf, FactsOfAll
from specgen.facts.inputs import Condition, Fitted, Inspected, each, every, of, platform
from specgen.facts.registry import AnyCalculator, SubjectSort
from specgen.model import Fan, HeatSink, MemoryModule, Part, Processor
from specgen.quantity import Power
from tests.projects import base, project

SOCKETS = SubjectSort("socket", lambda _: ("CPU1", "CPU2"))
NOTHING = Inspected(lambda _assembly, _subject: (None, ()))
THREE = Inspected(lambda _assembly, _subject: (3, ()))


@lru_cache(maxsize=1)
def system() -> Assembly:
    return project(base()).assemblies["lantern-full"]


def made(key: str, function, **inputs) -> AnyCalculator:
    return Calculators()(key, key, formula="trial", **inputs)(function)


def plus_one(value: int) -> int:
    return value + 1


def must_not_be_called(**_: object) -> None:
    raise AssertionError("called without its input")


def test_a_calculator_comes_after_those_it_reads_however_they_are_listed():
    ledger = Ledger(
        [
            made("c", plus_one, value=FactOf("b")),
            made("b", plus_one, value=FactOf("a")),
            made("a", plus_one, value=THREE),
        ]
    )
    facts = ledger.calculate(system())
    assert {key: fact.value for key, fact in facts.items()} == {"a": 4, "b": 5, "c": 6}


@pytest.mark.parametrize("key", ["memory", "memory.speed", "memory.CPU1.speed"])
def test_a_fact_belongs_to_the_first_word_of_its_key(key):
    (fact,) = Ledger([made(key, plus_one, value=THREE)]).calculate(system()).values()
    assert fact.group == "memory"


def test_facts_are_listed_as_their_calculators_are():
    ledger = Ledger([made("z", plus_one, value=FactOf("a")), made("a", plus_one, value=THREE)])
    assert list(ledger.calculate(system())) == ["z", "a"]


@pytest.mark.parametrize(
    "reads", [FactOf("lost"), FactsOfAll("lost"), FactOf("lost", optional=True)]
)
def test_an_input_that_nothing_makes_is_our_mistake(reads):
    with pytest.raises(BadRegistry, match="lost"):
        Ledger([made("a", plus_one, value=reads)])


def test_a_circle_is_our_mistake():
    with pytest.raises(BadRegistry, match="circle"):
        Ledger(
            [
                made("a", plus_one, value=FactOf("c")),
                made("b", plus_one, value=FactOf("a")),
                made("c", plus_one, value=FactOf("b")),
            ]
        )


def test_a_calculator_that_reads_itself_is_our_mistake():
    with pytest.raises(BadRegistry, match="circle"):
        Ledger([made("a", plus_one, value=FactOf("a"))])


def test_two_calculators_of_one_key_are_our_mistake():
    with pytest.raises(BadRegistry, match="two"):
        Ledger([made("a", plus_one, value=THREE), made("a", plus_one, value=THREE)])


def test_no_value_goes_on_and_no_function_sees_it():
    ledger = Ledger(
        [
            made("a", must_not_be_called, value=NOTHING),
            made("b", must_not_be_called, value=FactOf("a")),
            made("c", must_not_be_called, one=THREE, two=FactOf("b")),
        ]
    )
    facts = ledger.calculate(system())
    assert [fact.value for fact in facts.values()] == [None, None, None]
    assert facts["c"].inputs == (facts["b"],)  # the pedigree still shows what is missing


def test_an_optional_input_may_have_no_value():
    ledger = Ledger(
        [
            made("a", must_not_be_called, value=NOTHING),
            made("b", lambda value: "none" if value is None else "some",
                 value=FactOf("a", optional=True)),
        ]
    )  # fmt: skip
    assert ledger.calculate(system()).value("b") == "none"


def test_the_facts_of_subjects_left_without_a_value_are_left_out_of_a_sum():
    ledger = Ledger(
        [
            Calculators()("x.{socket}", "x", formula="t", over=SOCKETS,
                   value=Inspected(lambda _, name: (3 if name == "CPU1" else None, ())))(plus_one),
            made("sum", lambda values: sum(values), values=FactsOfAll("x.{socket}")),
        ]
    )  # fmt: skip
    facts = ledger.calculate(system())
    assert facts.value("x.CPU2") is None
    assert facts.value("sum") == 4


def test_a_calculator_is_repeated_for_each_subject_and_reads_its_neighbours():
    ledger = Ledger(
        [
            Calculators()("y.{socket}", "y", formula="t", over=SOCKETS, value=FactOf("x.{socket}"))(
                plus_one
            ),
            Calculators().stated("x.{socket}", "x", of("cores"), over=SOCKETS),
        ]
    )
    facts = ledger.calculate(system())
    assert list(facts) == ["y.CPU1", "y.CPU2", "x.CPU1", "x.CPU2"]
    assert [facts[key].subject for key in facts] == ["CPU1", "CPU2", "CPU1", "CPU2"]
    assert facts.value("y.CPU2") == 33
    assert facts["y.CPU2"].inputs == (facts["x.CPU2"],)
    assert facts.of_all("y.{socket}") == (facts["y.CPU1"], facts["y.CPU2"])


def test_a_subject_that_is_no_position_has_no_value():
    nowhere = SubjectSort("socket", lambda _: ("CPU9",))
    ledger = Ledger([Calculators().stated("x.{socket}", "x", of("cores"), over=nowhere)])
    assert ledger.calculate(system()).value("x.CPU9") is None


def test_each_leaves_silent_parts_out_and_every_does_not():
    # fans state their most alone: no idle draw
    ledger = Ledger(
        [
            made("each", lambda values: len(values), values=each(Part, "power", "idle")),
            made("every", must_not_be_called, values=every(Part, "power", "idle")),
            made(
                "modules", lambda values: len(values), values=every(MemoryModule, "power", "idle")
            ),
        ]
    )
    facts = ledger.calculate(system())
    assert facts.value("each") == 2 + 4 + 4  # processors, modules, SAS drives
    assert facts.value("every") is None
    assert facts.value("modules") == 4


def test_every_asks_nothing_of_parts_without_the_whole_table():
    # heat sinks state no power at all: that is not a hole in a sum of powers
    ledger = Ledger(
        [made("sinks", lambda values: len(values), values=every(HeatSink, "power", "idle"))]
    )
    assert ledger.calculate(system()).value("sinks") == 0


def test_a_hole_is_shown_in_the_pedigree():
    ledger = Ledger([made("fans", must_not_be_called, values=every(Fan, "power", "idle"))])
    leaves = ledger.calculate(system())["fans"].inputs
    assert [leaf.value for leaf in leaves] == [None] * 6


def test_leaves_carry_the_line_they_were_written_on():
    ledger = Ledger(
        [
            made("mass", lambda value: value, value=platform("mass")),
            made("fitted", lambda places: len(places), places=Fitted(MemoryModule)),
            made("redundancy", lambda value: value, value=Condition("redundancy")),
            made("inlet", lambda value: value, value=Condition("inlet")),
            made("altitude", lambda value: value, value=Condition("altitude")),
            made("cores", lambda values: sum(values), values=each(Processor, "cores")),
        ]
    )
    facts = ledger.calculate(system())
    texts = base()

    def lines(key: str) -> set[str]:
        found = set()
        for leaf in facts[key].inputs:
            assert isinstance(leaf, Declared)
            text = texts[leaf.span.file].split("\n")[leaf.span.line - 1]
            found.add(f"{leaf.span.file}: {text.strip()}")
        return found

    assert lines("cores") == {"catalog/processors.yaml: cores: 32"}
    assert lines("mass") == {"platforms/lantern.yaml: mass: 11.2 kg"}
    assert lines("fitted") == {
        "configured/lantern-full.yaml: DIMM A1..A2: rdimm-32",
        "configured/lantern-full.yaml: DIMM B1..B2: rdimm-32",
    }
    # a condition comes from the build, else the platform, else the project
    assert lines("redundancy") == lines("inlet")
    assert lines("inlet").pop().startswith("configured/lantern-full.yaml: conditions:")
    assert lines("altitude").pop().startswith("specgen.yaml: conditions:")


def test_a_leaf_of_a_part_names_its_document():
    ledger = Ledger([made("cores", lambda values: sum(values), values=each(Processor, "cores"))])
    leaf = ledger.calculate(system())["cores"].inputs[0]
    assert isinstance(leaf, Declared)
    assert leaf.source is not None
    assert leaf.source.document == "Corvane product table"


def test_a_stated_value_is_declared_and_others_are_calculated():
    ledger = Ledger(
        [Calculators().stated("mass", "Mass", platform("mass")), made("a", plus_one, value=THREE)]
    )
    facts = ledger.calculate(system())
    assert [fact.basis for fact in facts.values()] == [Basis.DECLARED, Basis.CALCULATED]


def test_a_calculator_can_be_called_with_plain_values():
    calculator = Calculators()("a", "a", formula="t", value=THREE)(plus_one)
    assert calculator(7) == calculator(value=7) == 8


def test_what_is_no_fact_has_no_value():
    facts = Ledger([made("a", plus_one, value=THREE)]).calculate(system())
    assert facts.value("b") is None
    assert facts.of_all("b") == ()
    assert len(facts) == 1


def test_power_of_a_system_with_a_silent_part_is_no_sum():
    # in the small project fans state their most alone, so there is no idle power to print
    found = project(base()).assemblies["lantern-full"]
    facts = facts_of(found)
    assert facts.value("power.idle") is None
    assert facts.value("power.cooling.idle") is None
    assert facts.value("power.cooling.maximum") == Power.of(6 * 15, "W")
    silent = [leaf for leaf in facts["power.idle"].inputs if isinstance(leaf, Declared)]
    assert {leaf.subject for leaf in silent} >= {f"FAN {n}" for n in range(1, 7)}
    assert all(isinstance(entry, Fact | Declared) for entry in facts["power.idle"].inputs)
