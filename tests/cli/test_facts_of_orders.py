"""`facts` and `explain` of an order and of a platform; `draw` of a platform."""

import json

import pytest

from tests.cli.conftest import Run

ORDER = ("lantern-office=3", "boathouse-archive")


def value_of(run: Run, *words: str) -> float:
    got = run("facts", *words, "--format", "json")
    assert got.status == 0, got.err
    return float(json.loads(got.out)[-1]["value"])


def test_the_facts_of_an_order_are_sums_over_its_builds(run: Run, demo_folder):
    project = ("--project", str(demo_folder))
    one = value_of(run, "lantern-office", "mechanics.mass", *project)
    other = value_of(run, "boathouse-archive", "mechanics.mass", *project)
    both = value_of(run, *ORDER, "order.mass", *project)
    assert both == pytest.approx(3 * one + other, abs=0.1)
    got = run("facts", *ORDER, *project)
    keys = [line.split("\t")[0] for line in got.out.splitlines()]
    assert {key.split(".")[0] for key in keys} == {"order"}
    assert {"order.servers", "order.heat", "order.heat.lantern-office"} <= set(keys)


def test_a_group_of_one_build_of_an_order_is_listed_under_its_id(run: Run, demo_folder):
    got = run("facts", *ORDER, "boathouse-archive.power", "--project", str(demo_folder))
    assert got.status == 0
    assert all(line.startswith("boathouse-archive.power.") for line in got.out.splitlines())


def test_conditions_hold_for_every_build_of_an_order(run: Run, demo_folder):
    words = (*ORDER, "order.current", "--project", str(demo_folder))
    assert value_of(run, *words, "--at", "line=210 V") > 1.05 * value_of(run, *words)


def test_the_pedigree_of_an_order_leads_to_the_lines_of_each_build(run: Run, demo_folder):
    got = run("explain", *ORDER, "order.mass", "--project", str(demo_folder))
    assert got.status == 0
    for line in ("[order.mass.lantern-office]", "[boathouse-archive.mechanics.mass]"):
        assert line in got.out
    assert "platforms/lantern.yaml:" in got.out
    assert "platforms/boathouse.yaml:" in got.out


def test_each_build_of_an_order_unfolds_its_own_facts(run: Run, demo_folder):
    got = run("explain", *ORDER, "order.heat", "--project", str(demo_folder))
    assert got.out.count("[lantern-office.power.maximum.input]") == 1
    assert got.out.count("[boathouse-archive.power.maximum.input]") == 1


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        (("facts", *ORDER, "order.mas"), "order.mass"),
        (("facts", "lantern-office=3", "boathouse-archve"), "boathouse-archive"),
        (("facts", "lantern-offic=3", "boathouse-archive"), "lantern-office"),
        (("facts", "lantern-office", "power.maximun"), "power.maximum"),
        (("facts", "lanten"), "lantern"),
        (("explain", *ORDER, "order.mas"), "order.mass"),
        (("explain", "lantern", "limits.drive"), "limits.drives"),
        (("draw", "lanten", "front"), "lantern"),
    ],
)
def test_an_unknown_name_ends_with_status_2_and_what_may_be_meant(
    run: Run, demo_folder, words, meant
):
    got = run(*words, "--project", str(demo_folder))
    assert got.status == 2
    assert f"did you mean `{meant}`?" in got.err


def test_an_order_of_a_platform_is_refused(run: Run, demo_folder):
    got = run("facts", "lantern=2", "order.mass", "--project", str(demo_folder))
    assert got.status == 2
    assert "no build is named `lantern`" in got.err


def test_a_platform_has_its_facts_and_its_drawings(run: Run, demo_folder):
    project = ("--project", str(demo_folder))
    got = run("facts", "pocket", "mechanics.mass", "memory.slots", *project)
    assert [line.split("\t")[0] for line in got.out.splitlines()] == [
        "memory.slots",
        "mechanics.mass",
    ]
    got = run("draw", "pocket", "front", *project)
    assert got.status == 0
    assert got.out.startswith("<?xml")


def test_conditions_asked_for_reach_a_platform(run: Run, demo_folder):
    words = ("facts", "pocket", "cooling", "--at", "altitude=1950 m", "--project", str(demo_folder))
    got = run(*words)
    assert got.status == 0
    # Source: arithmetic, class A3: 40 degC less 1 K for each 175 m above 900 m
    assert "cooling.class_limit\t34\u202f°C" in got.out


def test_explain_tells_what_a_formula_takes_for_granted(run: Run, demo_folder):
    words = ("explain", "lantern-office", "energy.year", "--depth", "1")
    got = run(*words, "--project", str(demo_folder))
    assert "  assumes: the server works as its typical power says all year" in got.out


def test_how_many_of_a_part_there_are_leads_to_the_lines_that_put_it_there(run: Run, demo_folder):
    project = ("--project", str(demo_folder))
    got = run("facts", "lantern-office", "parts.supply-1000", *project)
    assert got.out.startswith("parts.supply-1000\t2\t")
    got = run("explain", "lantern-office", "parts.supply-1000.mass", *project)
    assert "configured/lantern-office.yaml:" in got.out
    assert "catalog/supplies.yaml:" in got.out
