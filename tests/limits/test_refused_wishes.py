"""What people ask for and cannot have: why, in statements that hold; and what comes near it."""

from collections.abc import Mapping
from dataclasses import replace

import pytest

from specgen.diagnostics import Severity
from specgen.limits.argument import Conflict
from specgen.limits.build_text import fills_of
from specgen.limits.conflict import ALL_SORTS
from specgen.limits.nearest_builds import Proposal, completed, nearest
from specgen.limits.reason import ReasonKind
from specgen.limits.solve import Solver
from specgen.limits.wish import granted
from specgen.model import ANYWHERE, Build, Conditions, Definitions, Fill, expand
from specgen.pipeline import Survey, case_of
from specgen.quantity import Current, Length, Temperature, Voltage
from tests.timing import first

ABOVE = Conditions(altitude=Length.of(3000, "m"), inlet=Temperature.of(35, "degC"))
SHALLOW = Conditions(rack_depth=Length.of(600, "mm"))
WARM = Conditions(inlet=Temperature.of(30, "degC"))
LOW_LINE = Conditions(line=Voltage.of(115))
POSITION, RULE, CHECK = "position", "rule", "check"

WISHES = {
    "memory beyond the slots": (
        "pocket", 'fact("memory.capacity") >= "256 GiB"', ANYWHERE, [POSITION, POSITION],
    ),
    "more drives than bays": ("pocket", "drives.count >= 9", ANYWHERE, [POSITION] * 3),
    "a full-height card in a low slot": (
        "pocket", 'filled("SLOT 2") and any(a.height == "full" for a in accelerators)', ANYWHERE,
        ["CARD-01"],
    ),
    "air too thin for the class": ("pocket", "processors.count >= 1", ABOVE, ["SG335"]),
    "a rack too shallow": ("lantern", "processors.count >= 1", SHALLOW, ["SG391"]),
    "three accelerators in two slots": (
        "lantern", "accelerators.count >= 3", ANYWHERE, [POSITION] * 3,
    ),
    "hot processors in warm air": (
        "lantern", 'sum(p.tdp for p in processors) >= "500 W"', WARM, [POSITION, "LANTERN-01"],
    ),
    "mid and rear bays": (
        "boathouse", 'filled("MID") and filled("REAR")', ANYWHERE, ["BOAT-05"],
    ),
    "no power supply on a low line": (
        "capstan", 'any(a.power.maximum > "200 W" for a in accelerators)', LOW_LINE, [POSITION],
    ),
}  # fmt: skip
"""By what is wrong: platform, wish, conditions, and what stands in its way."""
QUICK = ("memory beyond the slots", "air too thin for the class")


@pytest.fixture(scope="module")
def definitions(demo: Survey) -> Definitions:
    assert demo.definitions is not None
    return demo.definitions


_ASKED: dict[str, Conflict] = {}


def _refused(definitions: Definitions, name: str) -> Conflict:
    """Why a wish is refused; each is asked once."""
    if name not in _ASKED:
        _ASKED[name] = _asked(definitions, name)
    return _ASKED[name]


def _asked(definitions: Definitions, name: str) -> Conflict:
    platform, text, at, _ = WISHES[name]
    found, findings = granted(definitions, definitions.platforms[platform], text, at)
    assert findings == ()
    assert found is not None
    assert found.ruled_out
    assert found.conflict is not None
    return found.conflict


@pytest.mark.parametrize(
    "name", [pytest.param(n, marks=() if n in QUICK else pytest.mark.slow) for n in WISHES]
)
def test_what_stands_in_the_way_is_named(definitions, name):
    found = _refused(definitions, name)
    assert found.tried
    sorts = [each.code or each.sort.value for each in found.reasons]
    assert sorted(sorts) == sorted(WISHES[name][3])


@pytest.mark.slow
def test_where_no_build_is_valid_at_all_the_wish_is_not_blamed(definitions):
    """Capstan's supplies are made for lines of 200 V and more, and PSU 1..2 must be filled: no rule
    for accelerators keeps anybody from anything."""
    platform, text, at, _ = WISHES["no power supply on a low line"]
    found, _ = granted(definitions, definitions.platforms[platform], text, at)
    assert found is not None
    assert found.nothing
    assert found.near == ()
    (out,) = found.left_out
    assert {each.id for each in out.parts} == {"supply-2200", "supply-2600"}
    assert str(out.why) == "is not rated at a line of 115 V AC"


def test_where_no_change_is_enough_by_itself_the_fewest_that_are_together_are_told(definitions):
    """One slot more would do, but for what the processor addresses: 4 x 48 GiB, and no more."""
    found = _refused(definitions, "memory beyond the slots")
    assert found.alone == frozenset()
    words = {str(each.words) for each in found.together}
    assert words == {
        "a processor addresses up to 192 GiB of memory",
        "there are 4 positions for memory modules: DIMM 1A1 to 1B2",
    }


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("air too thin for the class",
         "class A3 at 3000 m allows inlet air of up to 28 degC, and 35 degC is stated"),
        ("a rack too shallow", "822 mm of depth are needed, and the rack has 600 mm"),
    ],
)  # fmt: skip
def test_a_reason_of_conditions_has_their_values(definitions, name, words):
    """A3: 40 °C less 1 °C for each 175 m above 900 m, so 12 °C at 3000 m. Lantern: 712 mm and room
    for cables of 110 mm. arithmetic"""
    assert [str(each.words) for each in _refused(definitions, name).reasons] == [words]


def test_what_reads_alike_is_one_statement(definitions):
    arguing = Solver(definitions, definitions.platforms["lantern"], argues=ALL_SORTS, spares=1)
    said = [(str(each.words), each.at.shown) for each in arguing.logic.reasons]
    assert len(said) == len(set(said))


@pytest.mark.parametrize("name", first(1, ("pocket", "lantern", "beacon", "boathouse", "capstan")))
def test_spare_positions_take_no_statement_away_and_change_none(definitions, name):
    """Else what was found without them would be nothing that is said with them."""
    platform = definitions.platforms[name]
    plain, spared = (Solver(definitions, platform, argues=ALL_SORTS, spares=n) for n in (0, 1))
    assert set(plain.logic.reasons) <= set(spared.logic.reasons)
    more = set(spared.logic.reasons) - set(plain.logic.reasons)
    assert {each.sort for each in more} == {ReasonKind.POSITION}


@pytest.mark.slow
def test_a_weight_is_argued_with_what_must_be_there_and_with_more_positions(definitions):
    """Twelve drives in 25 kg: ten fit. What is heavy and must be there stands in the way, and that
    no second boot module brings the other two."""
    wish = 'fact("mechanics.mass") <= "25 kg" and drives.count >= 12'
    found, _ = granted(definitions, definitions.platforms["boathouse"], wish)
    assert found is not None
    assert found.conflict is not None
    assert found.conflict.tried
    words = {str(each.words) for each in found.conflict.reasons}
    assert words >= {
        "CPU1 must be filled",
        "FAN 1 to 4 must be filled",
        "there is one position for boot modules: BOOT",
        "NVMe drives, hot-swap need a port behind FRONT.X0 to 23 that serves them",
    }
    assert len(words) < 12


def test_a_rule_of_a_part_says_whose_it_is(definitions):
    arguing = Solver(definitions, definitions.platforms["lantern"], argues=ALL_SORTS)
    words = {each.code: str(each.words) for each in arguing.logic.reasons}
    assert words["CPU-01"] == "Corvane C96: Its limits were measured up to 1500 m"


# Builds that cannot be, and those near them.


def _changed(whole: Build, changes: Mapping[str, str | None]) -> Build:
    fit = dict(fills_of(whole))
    for names, part in changes.items():
        for name in expand(names):
            fit.pop(name, None)
            if part is not None:
                fit[name] = Fill(part=part)
    return replace(whole, fit=fit)


def _near(
    definitions: Definitions,
    name: str,
    changes: Mapping[str, str | None],
    at: Conditions = ANYWHERE,
    level: int | None = None,
) -> list[list[str]]:
    """The changes of each build near one that has errors; all of them pass the checks."""
    wrong = _changed(definitions.builds[name], changes)
    if level is not None:
        *others, last = wrong.volumes
        wrong = replace(wrong, volumes=(*others, replace(last, level=level)))
    found = nearest(definitions, wrong, at=at)
    for each in found:
        assert _findings(definitions, each, at)[Severity.ERROR] == []
    return [[change.words for change in each.changes] for each in found]


def _findings(
    definitions: Definitions, proposal: Proposal, at: Conditions
) -> Mapping[Severity, list[str]]:
    case = case_of(definitions, proposal.build, at)
    assert case is not None
    return {
        severity: [each.code.id for each in case.findings if each.severity is severity]
        for severity in Severity
    }


def test_drives_without_a_port_get_their_cable_back(definitions):
    """The volume is at a level that the controller in SLOT 1 offers and the board does not."""
    first, *_ = _near(definitions, "lantern-office", {"FRONT.J0": None})
    assert first == ["fit Cable SlimSAS 8i to SlimSAS 8i, 700 mm to SLOT 1.C0 in FRONT.J0"]


@pytest.mark.slow
def test_a_level_that_the_controller_does_not_offer_asks_for_another(definitions):
    first, *others = _near(definitions, "lantern-office", {}, level=5)
    assert [each.split(" in ")[0] for each in first] == [
        "fit RAID controller, 16 lanes, 8 GiB of cache kept"
    ]
    ends = [[w.split(" to SLOT")[0] for w in each] for each in (first, *others)]
    assert all(ends.count(each) == 1 for each in ends)  # not the same again with another end


@pytest.mark.slow
def test_a_level_of_more_drives_than_the_volume_has_is_not_met_by_other_parts(definitions):
    """RAID 6 of two SSDs: four are its least."""
    near = _near(definitions, "lantern-gateway", {}, level=6)
    assert near == []


def test_a_card_too_high_gives_way_to_a_lower_one_or_to_none(definitions):
    near = _near(definitions, "lantern-office", {"SLOT 2": "accelerator-150"})
    was = "Inference card, full height, 32 GiB"
    assert near == [
        [f"leave SLOT 2 empty (was {was})"],
        [f"fit Inference card, low-profile, 20 GiB in SLOT 2 in place of {was}"],
    ]


@pytest.mark.slow
def test_a_cord_that_does_not_mate_is_exchanged_rather_than_left_out(definitions):
    (only, *more), *_ = _near(definitions, "beacon-hosts", {"CORD 1..2": "cord-c13-c14"})
    assert only.startswith("fit Power cord C19 to ")
    assert more == []


def test_a_power_supply_comes_with_its_cord(definitions):
    gone = {"PSU 2": None, "CORD 2": None}
    first, *_ = _near(definitions, "lantern-office", gone)
    assert sorted(first) == [
        "fit Power cord C13 to C14, 2 m in CORD 2",
        "fit Power supply 1000 W, 60 mm in PSU 2",
    ]
    filled = completed(definitions, _changed(definitions.builds["lantern-office"], gone))
    assert filled is not None
    assert filled.build.fit["CORD 2"] == Fill(part="cord-c13-c14")


@pytest.mark.slow
def test_the_memory_of_a_second_processor_is_like_that_of_the_first(definitions):
    """Two accelerators need the slots of the second processor."""
    wrong = _changed(definitions.builds["lantern-sea-watch"], {"SLOT 1..2": "accelerator-150"})
    two = [
        each
        for each in nearest(definitions, wrong)
        if "CPU2" in fills_of(each.build) and "SLOT 2" in fills_of(each.build)
    ]
    assert two
    for each in two:
        fills = fills_of(each.build)
        first = {name: fill for name, fill in fills.items() if name.startswith("DIMM 1")}
        assert first
        for name, fill in first.items():
            assert fills[name.replace("DIMM 1", "DIMM 2")] == fill
        assert _findings(definitions, each, ANYWHERE)[Severity.WARNING] == []


@pytest.mark.slow
def test_no_server_is_stripped_to_mend_one_part(definitions):
    near = _near(definitions, "beacon-memory", {"DIMM 1A1": "rdimm-16-5600"})
    assert near
    assert not any("leave" in words for each in near for words in each)


@pytest.mark.slow
def test_a_circuit_too_small_is_met_with_fewer_or_smaller_accelerators(definitions):
    at = Conditions(circuit=Current.of(6))
    first, second, *_ = _near(definitions, "capstan-forecast", {}, at)
    assert first[0].startswith("leave SLOT")
    assert second[0].startswith("fit Inference card, low-profile")


def test_nothing_is_proposed_for_a_rack_too_shallow(definitions):
    assert _near(definitions, "lantern-office", {}, SHALLOW) == []
