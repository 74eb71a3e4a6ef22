"""What conditions come to on systems, and what a finding then says."""

import pytest

from specgen.diagnostics import Severity
from specgen.facts import facts_of
from specgen.facts.rule_book import RuleBook
from specgen.rules import judge
from specgen.rules.declared import declared, rule_book
from tests.declared.ruled import FULL, PLATFORM, SMALL, base, broken, fires, one, project, ruled

# What holds on the full system: two processors of 205 W, six fans of 15 W, BAY 0 to 3 SAS and
# BAY 4 to 5 NVMe, all hot-swap, two sticks in the boot module, one accelerator of 110 W.
HOLDS = (
    "drives.count == 8",
    "count(drives) == 8",
    'count(d for d in drives if d.swap == "hot") == 6',
    'count(d for d in drives if d.swap == "hot" if d.interface == "sas") == 4',
    'sum(a.power.maximum for a in accelerators) == "110 W"',
    'sum(f.power.maximum for f in fans) == "0.09 kW"',
    'sum(p.tdp for p in processors) / 2 == "205 W"',
    '2 * max(p.tdp for p in processors) >= "410 W"',
    "min(p.cores for p in processors) == 32",
    "sum(p.cores for p in processors) == 64",
    'max(d.capacity for d in drives) == "3.84 TB"',
    'any(d.capacity > "3 TB" for d in drives)',
    'all(d.medium == "ssd" for d in drives)',
    "all(False for c in cable_arms)",
    "not any(True for c in cable_arms)",
    'sum(c.length for c in cables) == "0 mm"',
    "max(c.length for c in cables) == None",
    'part("CPU1").tdp == "205 W"',
    'part("FRONT").id == "bays-fast"',
    'part("FRONT").id in ("bays-fast", "bays-cold")',
    'part("FRONT").id not in ("bays-cold",)',
    'part("SLOT 1").keeps_cache == "cache-protection"',
    '5 in part("SLOT 1").raid and 7 not in part("SLOT 1").raid',
    'part("CPU1").memory_speed[1] == "5600 MT/s"',
    'filled("SLOT 3") and usable("SLOT 3") and not empty("SLOT 3")',
    'filled("BAY 0..5")',
    'filled("OCP.PORT 1")',
    'empty("PACK 2") and usable("PACK 2")',
    'has("raid-8") and has("hub") and not has("accel-bare")',
    'any(c.soldered for c in parts) and any(not c.soldered for c in parts)',
    'any(p.kind == "riser" for p in parts)',
    'any(d.position == "BAY 4" for d in drives)',
    'inlet == "30 degC" and line == "230 V"',
    'inlet + "5 K" == "35 degC" and inlet - "30 K" == "0 degC"',
    'altitude < "1 km"',
    'redundancy == "1+1"',
    'fact("storage.drives") == 6',
    'fact("power.maximum") > "500 W"',
    "platform.rack_units == 1",
    'platform.id == "lantern" and platform.family == "coast"',
    'platform.resources["pcie-8-pin"] == 1',
    "1 < drives.count <= 8 < 9",
    "fans.count - 1 == 5 and -fans.count < 0",
    "fans.count / 4 == 1.5",
    'any(max(o.output for o in s.outputs) >= "1300 W" for s in power_supplies)',
    'any(d.lanes == 4 and any(e.position != d.position for e in drives) for d in drives)',
    "True and not False",
)  # fmt: skip

# What is absent never compares, whatever the sign.
ABSENT = (
    'part("PACK 2").mass > "0 kg"',
    'part("PACK 2").id == "pack"',
    'part("PACK 2").id != "pack"',
    'part("PACK 2").id in ("pack",)',
    'part("PACK 2").id not in ("pack",)',
    'part("PACK 2").mass + "1 kg" > "0 kg"',
    '-part("PACK 2").mass < "0 kg"',
    'part("CPU1").attributes["colour"] == "red"',
    'part("CPU1").cache < "1 TB"',
    '5 in part("SLOT 2").raid',
    "drives.count / 0 > 0",
    'part("CPU1").tdp / 0 > "0 W"',
)


@pytest.fixture(scope="module")
def fired():
    """Conditions that the full build breaks in a project that forbids each, and its opposite."""
    forbidden = {
        f"QW-{number}": condition
        for number, condition in enumerate(
            (*HOLDS, *ABSENT, *(f"not ({condition})" for condition in HOLDS)), 1
        )
    }
    found = ruled(*(one(code=code, forbid=condition) for code, condition in forbidden.items()))
    assert {finding.code.id for finding in found.findings} <= forbidden.keys()
    return {forbidden[each.code.id] for each in found.findings if each.at.span.file == FULL}


@pytest.mark.parametrize("condition", HOLDS)
def test_it_holds(fired, condition):
    assert condition in fired
    assert f"not ({condition})" not in fired


@pytest.mark.parametrize(
    "condition", ['sum(p.tdp for p in processors) == "410 W"', 'inlet == "30 degC"']
)
def test_what_a_sum_or_a_condition_may_come_to_is_not_doubted(condition):
    assert ruled(one(when=condition, require="fans.count > 0")).codes == []


@pytest.mark.parametrize("condition", ABSENT)
def test_what_is_absent_never_compares(fired, condition):
    assert condition not in fired


@pytest.mark.parametrize("value", ['part("PACK 2").mass', 'part("CPU1").cache', "circuit"])
def test_none_asks_for_what_is_absent(value):
    assert fires(f"{value} == None")
    assert not fires(f"{value} != None")


def test_the_finding_says_what_why_and_where():
    found = ruled(
        one(
            when='inlet > "28 degC"',
            require="accelerators.count == 0 and drives.count < 99",
            because="Warm air is for machines without accelerators.",
        )
    )
    (finding,) = broken(found)
    assert str(finding.message) == (
        "when the inlet temperature is above 28 \N{DEGREE SIGN}C, no accelerator may be fitted and "
        "fewer than 99 drives may be fitted"
    ).replace(" \N{DEGREE SIGN}", "\u202f\N{DEGREE SIGN}")
    assert finding.severity is Severity.ERROR
    assert str(finding.code.title) == "Warm air is for machines without accelerators"
    assert str(finding.help) == "Warm air is for machines without accelerators"
    assert found.line(finding).strip() == "SLOT 2: accel-aux"
    assert [str(label.text) for label in finding.labels] == ["the rule"]
    assert finding.labels[0].span.file == PLATFORM
    (note,) = finding.notes
    assert str(note).replace("\u202f", " ") == (
        "the inlet temperature is 30 \N{DEGREE SIGN}C; the number of accelerators is 1"
    )


# condition, what is forbidden under it, and what the finding tells: only what decided. Four drives
# of 1.6 TB, two of 3.84 TB and two of 0.48 TB are 15.04 TB.
NOTES = (
    (
        'inlet > "28 degC" or drives.count < 2',
        "platform.rack_units == 1 or drives.count > 99",
        "the inlet temperature is 30 \N{DEGREE SIGN}C; "
        "the height in rack units of the platform is 1",
    ),
    (
        'not (inlet > "90 degC")',
        "drives.count > 2 and fans.count == 6",
        "the inlet temperature is 30 \N{DEGREE SIGN}C; the number of drives is 8; "
        "the number of fans is 6",
    ),
    ("", 'has("raid-8")', "`raid-8` is in SLOT 1"),
    ("", 'filled("BAY 4") and empty("PACK 2")', "BAY 4 is filled; PACK 2 is empty"),
    (
        "",
        'sum(d.capacity for d in drives) > "1 TB"',
        "the capacity of all drives together is 15.04 TB",
    ),
    (
        "",
        'any(d.interface == "sas" for d in drives)',
        "a drive whose interface is SAS is fitted (BAY 0 to 3)",
    ),
    (
        "",
        'not all(d.interface != "sas" for d in drives)',
        "the interface of some drive is SAS (BAY 0 to 3)",
    ),
    (
        "",
        'part("OCP").id in ("ocp-25", "raid-8")',
        "the model of the part in OCP is ocp-25",
    ),
)


@pytest.mark.parametrize(("when", "forbidden", "note"), NOTES)
def test_the_finding_tells_what_decided(when, forbidden, note):
    found = ruled(one(**({"when": when} if when else {}), forbid=forbidden))
    (finding,) = [each for each in broken(found) if each.at.span.file == FULL]
    assert [str(each).replace("\u202f", " ") for each in finding.notes] == [note]


# condition that is forbidden, and the line of the full build to change
PLACES = (
    ('part("OCP").id == "ocp-25"', "OCP: ocp-25"),
    ('filled("BAY 4")', "BAY 4..5: e3-3840"),
    ('has("raid-8")', "SLOT 1: raid-8"),
    ('has("raid-8") and any(d.interface == "sas" for d in drives)', "SLOT 1: raid-8"),
    ('max(d.capacity for d in drives) > "1 TB"', "BAY 4..5: e3-3840"),
    ('any(d.interface == "sas" for d in drives)', "BAY 0..2: sas-1600"),
    ('not all(d.interface != "sas" for d in drives)', "BAY 0..2: sas-1600"),
    ('inlet > "28 degC"', "conditions: {inlet: 30 degC"),
    ('line > "200 V"', "id: lantern-full"),
    ("platform.rack_units == 1", "id: lantern-full"),
    ('any(c.soldered for c in storage_controllers)', "id: lantern-full"),
    ('empty("PACK 2")', "id: lantern-full"),
)  # fmt: skip


@pytest.mark.parametrize(("condition", "line"), PLACES)
def test_the_finding_points_at_the_line_to_change(condition, line):
    found = ruled(one(forbid=condition))
    (finding,) = [each for each in broken(found) if each.at.span.file == FULL]
    assert found.line(finding).strip().startswith(line)


def test_a_part_s_rule_is_reported_once_for_each_line():
    found = ruled(one(forbid='it.position not in ("FAN 2", "FAN 6")'), on="fan")
    got = [(found.line(each).strip(), str(each.at.text)) for each in broken(found)]
    first = ("FAN 1..4: fan", "FAN 1, FAN 3 to 4")
    assert got == [first, ("FAN 5..6: fan", "FAN 5"), first]


def test_a_part_s_rule_without_it_is_reported_once():
    found = ruled(one(forbid="fans.count > 0"), on="fan")
    assert len(broken(found)) == 2  # one a build


def test_a_part_s_rule_is_for_systems_that_hold_it():
    found = ruled(one(forbid="True"), on="raid-8")
    assert [each.at.span.file for each in broken(found)] == [FULL]


def test_a_part_in_an_unusable_position_is_not_held():
    files = base()
    files[FULL] = files[FULL].replace("CPU1..CPU2: corvane-c32", "CPU1: corvane-c32")
    found = ruled(one(forbid="True"), on="riser-one", files=files)
    assert broken(found) == []


def test_severity_is_the_rule_s():
    for severity in ("error", "warning", "note"):
        (finding,) = broken(ruled(one(forbid='has("raid-8")', severity=severity)))
        assert finding.severity == severity
        assert finding.code.id == "QW-1"


def allowing(code: str):
    files = base()
    files[FULL] = files[FULL].replace(
        "volumes:\n", f"allow:\n  - {{code: {code}, reason: decided}}\nvolumes:\n"
    )
    return files


def test_a_warning_can_be_allowed():
    rule = one(forbid='has("raid-8")', severity="warning")
    assert ruled(rule, files=allowing("QW-1")).codes == []


def test_an_error_cannot_be_allowed():
    rule = one(forbid='has("raid-8")')
    assert ruled(rule, files=allowing("QW-1")).codes == ["QW-1", "SG212"]


def test_an_allowance_for_a_rule_that_is_kept_is_reported():
    found = ruled(one(forbid='has("accel-bare")', severity="warning"), files=allowing("QW-1"))
    assert found.codes == ["SG212"]
    found = ruled(
        one(code="QW-11", forbid='has("raid-8")', severity="note"), files=allowing("QW-1l")
    )
    assert [str(each.help) for each in found.findings if each.code.id == "SG212"] == [
        "did you mean `QW-11`?"
    ]


# from, until, applied? The full build is of 2026-03-02, as is the project.
DATES = (
    ("2026-03-02", None, True),
    ("2026-03-03", None, False),
    (None, "2026-03-02", True),
    (None, "2026-03-01", False),
    ("2026-03-01", "2026-03-03", True),
)


@pytest.mark.parametrize(("first", "last", "applied"), DATES)
def test_a_rule_is_applied_within_its_dates(first, last, applied):
    dates = {"from": first, "until": last}
    rule = one(forbid='has("raid-8")', **{key: day for key, day in dates.items() if day})
    assert bool(broken(ruled(rule))) is applied


def test_the_date_of_the_build_goes_before_that_of_the_project():
    rule = one(forbid="fans.count > 0", until="2026-03-31")
    files = base()
    files[FULL] = files[FULL].replace("date: 2026-03-02", "date: 2026-04-01")
    assert [each.at.span.file for each in broken(ruled(rule, files=files))] == [SMALL]
    files["specgen.yaml"] = files["specgen.yaml"].replace("date: 2026-03-02\n", "")
    found = ruled(rule, files=files)  # without any date a rule is applied
    assert [each.at.span.file for each in broken(found)] == [SMALL]


def test_what_is_not_known_is_not_judged():
    files = base()
    files[FULL] = files[FULL].replace("FAN 5..6: fan", "FAN 5..6: fna")
    assert ruled(one(require="fans.count >= 4"), files=files).codes == ["SG201"]
    assert (
        ruled(one(require='filled("FAN 5")'), files=files).codes.count("QW-1") == 1
    )  # the small one
    assert ruled(one(require='fact("power.maximum") < "1 W"'), files=files).codes.count("QW-1") == 1
    assert ruled(one(require="drives.count > 99"), files=files).codes.count("QW-1") == 2


def test_a_value_without_a_value_is_not_judged():
    found = ruled(one(require='fact("mechanics.mass") < "1 kg"'))
    facts = [facts_of(each).value("mechanics.mass") for each in found.assemblies.values()]
    assert len(broken(found)) == sum(value is not None for value in facts)


def test_a_bare_platform_is_not_judged():
    assert list(_declared_on_nothing()) == []


def _declared_on_nothing():
    from specgen.assembly import assemble

    definitions = ruled(one(require="drives.count > 99")).loaded.definitions
    assert definitions is not None
    system = assemble(definitions, definitions.platforms["lantern"], None)
    return declared(system, facts_of(system), rule_book(definitions))


def test_the_order_of_rules_and_of_checks_changes_nothing():
    rules = [one(code=f"QW-{at}", forbid=condition) for at, condition in enumerate(HOLDS[:12])]
    forward, backward = ruled(*rules), ruled(*reversed(rules))
    got = [(f.code.id, f.message, f.at, f.notes) for f in forward.findings]
    assert got == [(f.code.id, f.message, f.at, f.notes) for f in backward.findings]
    system = forward.assemblies["lantern-full"]
    facts, book = facts_of(system), rule_book(system.definitions)
    turned = RuleBook(book.rules, general=tuple(reversed(book.general)), of_parts=book.of_parts)
    assert set(declared(system, facts, book)) == set(declared(system, facts, turned))
    assert judge(system, facts) == judge(system, facts)


def test_a_project_without_rules_is_checked_as_before():
    assert project(base()).codes == []
    definitions = project(base()).loaded.definitions
    assert definitions is not None
    assert rule_book(definitions).rules == ()


def test_changing_the_text_changes_the_finding():
    strict, loose = (ruled(one(require=f"count(d for d in drives) <= {most}")) for most in (7, 8))
    (finding,) = broken(strict)
    assert "seven" in str(finding.message)
    assert broken(loose) == []
