"""A wish is met by a build, or refused with a smallest set of statements in its way."""

import re
from itertools import permutations

import pytest

from specgen.diagnostics import Severity
from specgen.limits.argument import Argument
from specgen.limits.conflict import ALL_SORTS, beyond, binding
from specgen.limits.learnt import hold
from specgen.limits.limit import Limit, Status, limit_of
from specgen.limits.limit_tables import table_of
from specgen.limits.objectives import OBJECTIVES
from specgen.limits.solve import Solver
from specgen.limits.spare_positions import MARK
from specgen.limits.wish import granted
from specgen.model import ANYWHERE, Build, Conditions, Definitions, expand
from specgen.pipeline import Survey, case_of
from specgen.quantity import Mass, Temperature
from tests.limits.small import HEAD, PROJECT, defined, platform
from tests.timing import first

FANS = (
    "- {kind: fan, id: fan, name: Fan, form: fan-40, mass: 1 kg, source: {document: table}, "
    "power: {maximum: 8 W}}\n"
    "- {kind: fan, id: fan-two, name: Fan two, form: fan-40, mass: 1 kg, source: "
    "{document: table}, power: {maximum: 8 W}}\n"
)
RULE = "rules: [{code: QW-1, require: 'fans.count <= 1', because: 'One fan is enough.'}]\n"


def fans(more: str = "", positions: str = "{name: FAN 1..3, takes: fan}") -> Definitions:
    return defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD + f"positions: [{positions}]\n" + more,
            "catalog/parts.yaml": FANS,
        }
    )


def wish(definitions: Definitions, text: str):
    found, findings = granted(definitions, definitions.platforms["small"], text)
    assert findings == ()
    assert found is not None
    return found


def filled(build: Build | None) -> list[str]:
    assert build is not None
    return list(build.fit)


def test_a_wish_within_reach_gets_a_build_of_few_parts():
    build = wish(fans(), "fans.count >= 2").build
    assert sum(len(expand(name)) for name in filled(build)) == 2


def test_a_rule_in_the_way_is_named_and_enough_by_itself():
    found = wish(fans(RULE), "fans.count >= 2")
    assert found.ruled_out
    assert found.conflict is not None
    (reason,) = found.conflict.reasons
    assert (reason.code, str(reason.words)) == ("QW-1", "One fan is enough")
    assert reason.at.file == "platforms/small.yaml"
    assert found.conflict.alone == {reason}
    assert found.conflict.together == ()


def test_without_the_rule_that_stood_in_the_way_the_wish_is_met():
    assert wish(fans(), "fans.count >= 2").build is not None


def test_positions_that_run_out_are_named_by_their_line():
    found = wish(fans(), "fans.count >= 4")
    assert found.conflict is not None
    (reason,) = found.conflict.reasons
    assert str(reason.words) == "there are 3 positions for fans: FAN 1 to 3"


def test_a_number_of_positions_is_the_reason_however_far_the_wish_is():
    found = wish(fans(), "fans.count >= 20")
    assert found.conflict is not None
    assert [str(each.words) for each in found.conflict.reasons] == [
        "there are 3 positions for fans: FAN 1 to 3"
    ]


def test_what_no_part_gives_has_no_reasons():
    found = wish(fans(), "drives.count >= 1")
    assert found.ruled_out
    assert found.conflict is not None
    assert found.conflict.reasons == ()


def test_values_that_are_sums_can_be_wished():
    build = wish(fans(), 'fact("power.maximum") >= "36 W"').build
    assert build is not None


@pytest.mark.parametrize("text", ["fans.cout >= 2", "fans.count >= '2 W'", "", "1 + 1", "("])
def test_a_wish_that_cannot_be_read_is_a_finding(text):
    definitions = fans()
    found, findings = granted(definitions, definitions.platforms["small"], text)
    assert found is None
    assert findings


def test_a_wish_that_a_solver_cannot_be_asked_is_a_finding():
    definitions = fans()
    text = 'fact("power.typical") >= "30 W"'
    found, findings = granted(definitions, definitions.platforms["small"], text)
    assert found is None
    assert "solver" in str(findings[0].message)


@pytest.mark.parametrize("seed", first(1, range(12)))
def test_nothing_of_what_binds_a_limit_can_be_left_out(seed):
    definitions = platform(seed)
    small = definitions.platforms["small"]
    solver = Solver(definitions, small)
    for key in ("cores", "drives", "accelerators", "slots", "power", "dc-load", "mass"):
        limit: Limit = limit_of(solver, OBJECTIVES[key])
        if limit.status is not Status.PROVED:
            continue
        found = binding(definitions, small, limit)
        assert found is not None, key
        assert found.reasons or not limit.value, key  # where there is any, more would give more
        assert found.tried, key
        plain = Solver(definitions, small)
        _ = plain.seek(plain.model(beyond(plain, limit).literals, started=False))
        arguing = Solver(definitions, small, argues=ALL_SORTS, spares=1)
        assert not any(MARK in str(each.words) for each in arguing.logic.reasons)
        hold(arguing.builds, plain.learnt)
        argument = Argument(arguing, beyond(arguing, limit))
        assert argument.ruled_out(found.reasons), key
        for reason in found.reasons:
            fewer = [each for each in found.reasons if each != reason]
            assert argument.ruled_out(fewer) is False, (key, reason.words)
            others = [each for each in argument.everything if each != reason]
            assert (argument.ruled_out(others) is False) is (reason in found.alone), key


def test_what_one_statement_says_of_many_positions_is_one_reason():
    definitions = defined(
        {
            "specgen.yaml": PROJECT % "none",
            "platforms/small.yaml": HEAD
            + "positions: [{name: A, takes: fan}, {name: FAN 1..3, takes: fan, of: A}]\n",
            "catalog/parts.yaml": FANS,
        }
    )
    arguing = Solver(definitions, definitions.platforms["small"], argues=ALL_SORTS, spares=1)
    words = [str(each.words) for each in arguing.logic.reasons]
    assert [each for each in words if "usable" in each] == [
        "FAN 1 to 3 are usable only with A fitted"
    ]


@pytest.mark.parametrize("name", ["pocket", "lantern"])
def test_statements_are_in_words_of_the_trade(demo: Survey, name: str):
    """No name of the solver's own, no range as a file writes it, interfaces spelled as usual."""
    assert demo.definitions is not None
    platform = demo.definitions.platforms[name]
    arguing = Solver(demo.definitions, platform, argues=ALL_SORTS, spares=1)
    words = [str(each.words) for each in arguing.logic.reasons]
    assert "SAS drives, hot-swap need a port behind FRONT.J0 that serves them" in words or (
        name != "lantern"
    )
    assert [each for each in words if re.search(rf"{MARK}|\.\.|\b(sas|sata|nvme)\b", each)] == []


KEYS = ("cores", "memory", "drives", "slots", "slots-full", "accelerators", "ports")


@pytest.mark.parametrize(
    "about",
    first(2, [f"{name} {key}" for name in ("pocket", "lantern", "capstan") for key in KEYS]),
)
def test_limits_of_the_demo_are_held_by_few_statements_an_engineer_would_name(
    demo: Survey, about: str
):
    assert demo.definitions is not None
    name, key = about.split()
    platform = demo.definitions.platforms[name]
    (limit,) = table_of(demo.definitions, platform, (key,))
    found = binding(demo.definitions, platform, limit)
    assert found is not None
    assert 1 <= len(found.reasons) <= 6
    assert any("position" in str(each.words) for each in found.reasons)


@pytest.mark.parametrize(
    "about", first(1, ("pocket mass", "pocket power", "capstan mass", "capstan power"))
)
def test_what_keeps_power_and_weight_from_more_is_narrowed_down(demo: Survey, about: str):
    """Twenty statements and more, each of which was tried without."""
    assert demo.definitions is not None
    name, key = about.split()
    platform = demo.definitions.platforms[name]
    (limit,) = table_of(demo.definitions, platform, (key,))
    found = binding(demo.definitions, platform, limit)
    assert found is not None
    assert found.tried
    assert len(found.reasons) > 6
    assert found.alone


@pytest.mark.slow
def test_conflicts_of_the_demo_name_the_statement_an_engineer_would(demo: Survey):
    assert demo.definitions is not None
    capstan = demo.definitions.platforms["capstan"]
    text = "accelerators.count >= 8 and processors.count == 1"
    found, _ = granted(demo.definitions, capstan, text)
    assert found is not None
    assert found.conflict is not None
    words = [str(reason.words) for reason in found.conflict.reasons]
    assert any("CPU2" in each or "positions for processors" in each for each in words), words
    assert all(reason.at.file for reason in found.conflict.reasons)


# How far a build comes, and what cannot be fitted at all.


def demo_wish(demo: Survey, platform: str, text: str):
    assert demo.definitions is not None
    found, findings = granted(demo.definitions, demo.definitions.platforms[platform], text)
    assert findings == ()
    assert found is not None
    return found


def test_a_value_out_of_reach_is_told_with_the_last_that_is_within(demo: Survey):
    """Pocket has four slots, whatever is fitted; one processor was blamed alone before."""
    found = demo_wish(demo, "pocket", "memory_modules.count >= 12")
    assert found.short is not None
    assert str(found.short.words) == "the number of memory modules: no build has more than 4"
    assert found.conflict is not None
    words = [str(each.words) for each in found.conflict.reasons]
    assert "there are 4 positions for memory modules: DIMM 1A1 to 1B2" in words


def test_of_two_that_exclude_one_another_the_first_is_told_beside_the_second():
    found = wish(fans(), 'fans.count >= 3 and empty("FAN 2")')
    assert found.short is not None
    assert str(found.short.words) == (
        "the number of fans: no build that meets the rest has more than 2"
    )


def test_a_wish_within_reach_of_other_parts_names_nothing_left_out():
    assert wish(fans(), "fans.count >= 4").left_out == ()


def test_a_part_that_goes_into_no_position_is_told_with_those_that_take_it(demo: Survey):
    found = demo_wish(demo, "lantern", 'has("accelerator-300")')
    assert found.conflict is not None
    assert found.conflict.reasons == ()
    (kept_out,) = found.left_out
    assert str(kept_out.words) == (
        "Compute card, double-wide, 64 GiB: no suitable position in Lantern; positions that "
        "would: SLOT 1, SLOT 3, SLOT 5, SLOT 7 of Capstan"
    )


def test_a_part_that_cannot_be_ordered_is_told_as_that():
    life = FANS.replace("form: fan-40", "form: fan-40, life: {status: planned}", 1)
    files = {
        "specgen.yaml": PROJECT % "none",
        "platforms/small.yaml": HEAD + "positions: [{name: FAN 1..3, takes: fan}]\n",
        "catalog/parts.yaml": life,
    }
    found = wish(defined(files), 'has("fan")')
    (kept_out,) = found.left_out
    assert str(kept_out.words) == "Fan: is planned and cannot be ordered yet"


@pytest.mark.parametrize(
    ("text", "met"),
    [
        ('fact("power.input") <= "320 W"', True),
        pytest.param('fact("power.input") <= "300 W"', False, marks=pytest.mark.slow),
        pytest.param('fact("power.input") >= "1450 W"', False, marks=pytest.mark.slow),
    ],
)
def test_input_power_is_what_the_plug_draws(demo: Survey, text, met):
    """Lantern's least is 313 W and its most 1444 W; its DC load, which was asked before, ends at
    1343 W and begins below 300 W."""
    found = demo_wish(demo, "lantern", text)
    assert (found.build is not None) is met
    assert found.ruled_out is not met


# Builds near a wish that no build meets.


def near(found) -> list[str]:
    return ["; ".join(str(missed.words) for missed in each.given_up) for each in found.near]


def test_a_refused_wish_gets_the_build_that_comes_nearest():
    found = wish(fans(), "fans.count >= 5")
    assert near(found) == ["fans.count >= 5 is not met (reached: 3)"]
    assert sum(len(expand(name)) for name in filled(found.near[0].build)) == 3


def test_each_demand_of_a_wish_gives_way_in_turn():
    """Three fans without the empty position, two with it; no build gives up both."""
    found = wish(fans(), 'fans.count >= 3 and empty("FAN 2")')
    assert near(found) == [
        "fans.count >= 3 is not met (reached: 2)",
        'empty("FAN 2") is not met',
    ]


def test_what_lacks_as_much_of_each_demand_as_another_is_not_offered():
    """Of fans there are three, whatever is said of the third."""
    found = wish(fans(), 'fans.count >= 5 and filled("FAN 3")')
    assert near(found) == ["fans.count >= 5 is not met (reached: 3)"]


def test_two_demands_out_of_reach_come_as_near_as_can_be_one_after_the_other():
    found = wish(fans(), 'fans.count >= 4 and fact("power.maximum") <= "30 W"')
    assert near(found) == [
        "fans.count >= 4 is not met (reached: 1)",
        'fans.count >= 4 is not met (reached: 3); fact("power.maximum") <= "30 W" is not met '
        "(reached: 44\u202fW)",
    ]


def test_as_much_as_can_be_had_lies_on_either_side():
    assert near(wish(fans(), "fans.count == 7")) == ["fans.count == 7 is not met (reached: 3)"]


def test_a_build_that_has_nothing_of_a_wish_is_not_near_to_it():
    assert wish(fans(), "drives.count >= 1").near == ()


def test_a_field_of_one_part_comes_as_near_as_any_does():
    found = wish(fans(), 'part("FAN 1").mass >= "20 kg"')
    assert [each.given_up[0].has for each in found.near] == [Mass.of(1, "kg")]


def test_where_no_build_is_valid_whatever_is_wished_that_is_said():
    rule = "rules: [{code: QW-1, require: 'inlet <= \"30 degC\"', because: 'Measured so.'}]\n"
    definitions = fans(rule)
    at = Conditions(inlet=Temperature.of(35, "degC"))
    found, _ = granted(definitions, definitions.platforms["small"], "fans.count >= 2", at)
    assert found is not None
    assert found.nothing
    assert found.near == ()
    assert found.conflict is not None
    assert [each.code for each in found.conflict.reasons] == ["QW-1"]


@pytest.mark.parametrize("seed", first(2, range(12)))
def test_builds_near_a_wish_pass_the_checks_and_lack_what_is_said(seed):
    """Small platforms by chance; what a build has is the value of its fact."""
    definitions = platform(seed)
    found = wish(definitions, 'drives.count >= 3 and fact("power.maximum") <= "20 W" and '
                              'processors.count >= 2')  # fmt: skip
    assert (found.build is None) is bool(found.near or found.ruled_out)
    for each in found.near:
        case = case_of(definitions, each.build, ANYWHERE)
        assert case is not None
        assert [e.code.id for e in case.findings if e.severity is Severity.ERROR] == []
        assert 0 < len(each.given_up) <= 3
    for one, other in permutations(found.near, 2):
        assert any(a > b for a, b in zip(one.missing, other.missing, strict=True))
