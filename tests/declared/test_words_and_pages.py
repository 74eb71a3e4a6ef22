# ruff: noqa: E501 (a table reads best with one row a line)
"""A rule in words, and the tables of rules on the pages of platforms and parts."""

import pytest

from specgen.document.blocks.declared_rules import rules_of_part, rules_of_platform
from specgen.document.case import PartCase
from specgen.document.tree import plain_text
from specgen.expressions import evaluate
from specgen.pipeline import bare_case
from specgen.rules.declared.nouns import Quotes
from specgen.rules.declared.phrasing import in_words, sentence, value_in_words
from tests.declared.ruled import Checked, base, broken, one, read, ruled, the_rule

# fields of a rule, the sentence made of it
SENTENCES = (
    ({"when": 'inlet > "30 degC"', "forbid": "accelerators.count > 0"}, "When the inlet temperature is above 30 °C, no accelerator may be fitted."),
    ({"require": "drives.count <= 8"}, "Up to eight drives may be fitted."),
    ({"require": "drives.count < 2"}, "Fewer than two drives may be fitted."),
    ({"require": "drives.count >= 1"}, "A drive must be fitted."),
    ({"require": "drives.count > 12"}, "More than 12 drives must be fitted."),
    ({"forbid": "drives.count >= 13"}, "Fewer than 13 drives may be fitted."),
    ({"require": "8 >= drives.count"}, "Up to eight drives may be fitted."),
    ({"require": "drives.count == 0"}, "No drive may be fitted."),
    ({"require": "fans.count != 5"}, "The number of fans must not be 5."),
    ({"require": "fans.count == 2 * processors.count"}, "The number of fans must be equal to 2 times the number of processors."),
    ({"forbid": 'any(d.swap == "hot" for d in drives)'}, "No drive whose swap type is hot may be fitted."),
    ({"require": 'count(d for d in drives if d.swap == "hot" and d.capacity > "1 TB") <= 2'}, "Up to two drives whose swap type is hot and whose capacity is above 1 TB may be fitted."),
    ({"require": 'all(f.power.maximum <= "20 W" for f in fans)'}, "The maximum power of every fan must be 20 W or less."),
    ({"forbid": 'all(f.form == "fan-40" for f in fans)'}, "The form factor of some fan must not be fan-40."),
    ({"require": 'part("CPU1").tdp <= "200 W"'}, "The thermal design power of the part in CPU1 must be 200 W or less."),
    ({"require": 'part("FRONT").id in ("bays-fast", "bays-cold")'}, "FRONT must hold `bays-fast` or `bays-cold`."),
    ({"forbid": 'part("FRONT").id == "bays-cold"'}, "FRONT must not hold `bays-cold`."),
    ({"require": 'filled("FAN 5..6")'}, "FAN 5 to 6 must be filled."),
    ({"forbid": 'filled("FAN 5..6")'}, "FAN 5 to 6 must not all be filled."),
    ({"require": 'empty("SLOT 3")'}, "SLOT 3 must be empty."),
    ({"when": 'not usable("SLOT 3")', "require": 'has("tpm")'}, "When SLOT 3 is not usable, `tpm` must be fitted."),
    ({"forbid": 'has("raid-8") and has("accel-aux")'}, "`raid-8` and `accel-aux` must not be fitted together."),
    ({"forbid": 'filled("PACK 1") and filled("PACK 2")'}, "PACK 1 and PACK 2 must not be filled together."),
    ({"forbid": 'has("raid-8") and inlet > "30 degC"'}, "It must not be that `raid-8` is fitted and the inlet temperature is above 30 °C."),
    ({"forbid": 'has("raid-8") or has("accel-aux")'}, "`raid-8` must not be fitted and `accel-aux` must not be fitted."),
    ({"require": 'sum(a.power.maximum for a in accelerators) <= "600 W"'}, "The maximum power of all accelerators together must be 600 W or less."),
    ({"require": 'max(d.capacity for d in drives) <= "8 TB"'}, "The highest capacity of any drive must be 8 TB or less."),
    ({"require": 'all(max(o.output for o in s.outputs) >= "800 W" for s in power_supplies)'}, "The highest output of every power supply must be 800 W or more."),
    ({"require": 'fact("power.maximum") < "1 kW"'}, "The maximum DC load must be below 1 kW."),
    ({"require": "circuit != None"}, "The rating of the branch circuit must be stated."),
    ({"require": '5 in part("SLOT 1").raid'}, "The RAID levels of the part in SLOT 1 must hold 5."),
    ({"require": 'part("CPU1").max_clock < "5 GHz"'}, "The max. clock of the part in CPU1 must be below 5 GHz."),
    ({"require": 'fact("expansion.SLOT 1.generation") > 4'}, "The PCIe generation of SLOT 1 must be above 4."),
    ({"require": 'platform.size.depth < "1 m"'}, "The depth of the platform must be below 1 m."),
    ({"require": 'part("CPU1").tdp + "10 W" <= "300 W"'}, "The thermal design power of the part in CPU1 plus 10 W must be 300 W or less."),
    ({"require": 'drives.count >= 2'}, 'Two or more drives must be fitted.'),
    ({"require": 'drives.count == 2'}, 'Exactly two drives must be fitted.'),
    ({"require": 'drives.count == 1'}, 'Exactly one drive must be fitted.'),
    ({"require": 'drives.count <= 1'}, 'Up to one drive may be fitted.'),
    ({"require": 'drives.count <= 10'}, 'Up to 10 drives may be fitted.'),
    ({"require": 'drives.count > 0'}, 'A drive must be fitted.'),
    ({"require": 'drives.count != 0'}, 'A drive must be fitted.'),
    ({"require": 'drives.count <= 0'}, 'No drive may be fitted.'),
    ({"require": 'drives.count < 1'}, 'No drive may be fitted.'),
    ({"require": 'accelerators.count >= 1'}, 'An accelerator must be fitted.'),
    ({"require": '2 < drives.count'}, 'More than two drives must be fitted.'),
    ({"require": '2 > drives.count'}, 'Fewer than two drives may be fitted.'),
    ({"require": '2 <= drives.count'}, 'Two or more drives must be fitted.'),
    ({"require": 'not (has("raid-8") and has("tpm"))'}, '`raid-8` and `tpm` must not be fitted together.'),
    ({"require": 'has("raid-8") or has("tpm")'}, '`raid-8` must be fitted or `tpm` must be fitted.'),
    ({"require": 'part("FRONT").id not in ("bays-fast", "bays-cold")'}, 'FRONT must not hold `bays-fast` or `bays-cold`.'),
    ({"require": '5 not in part("SLOT 1").raid'}, 'The RAID levels of the part in SLOT 1 must not hold 5.'),
    ({"require": 'circuit == None'}, 'The rating of the branch circuit must not be stated.'),
    ({"require": 'min(d.capacity for d in drives) >= "1 TB"'}, 'The lowest capacity of any drive must be 1 TB or more.'),
    ({"require": 'sum(d.capacity for d in drives if d.medium == "ssd") <= "10 TB"'}, 'The capacity of all drives whose medium is SSD together must be 10 TB or less.'),
    ({"require": 'any(d.id == "sas-1600" for d in drives)'}, 'A drive that is `sas-1600` must be fitted.'),
    ({"require": 'all(d.id == "sas-1600" for d in drives)'}, 'Every drive must be `sas-1600`.'),
    ({"require": 'any(b.lockable for b in bezels)'}, 'A bezel that is lockable must be fitted.'),
    ({"require": 'all(b.lockable == False for b in bezels)'}, 'Every bezel must not be lockable.'),
    ({"forbid": 'fans.count == 5'}, 'The number of fans must not be 5.'),
    ({"forbid": 'fans.count != 4'}, 'Exactly four fans must be fitted.'),
    ({"forbid": 'fans.count < 4'}, 'Four or more fans must be fitted.'),
    ({"forbid": 'fans.count <= 4'}, 'More than four fans must be fitted.'),
    ({"forbid": 'fans.count > 4'}, 'Up to four fans may be fitted.'),
    ({"when": 'drives.count <= 4', "require": 'filled("PACK 1")'}, 'When four or fewer drives are fitted, PACK 1 must be filled.'),
    ({"when": 'drives.count <= 1', "require": 'filled("PACK 1")'}, 'When up to one drive is fitted, PACK 1 must be filled.'),
    ({"when": 'drives.count >= 4', "require": 'filled("PACK 1")'}, 'When four or more drives are fitted, PACK 1 must be filled.'),
    ({"when": 'drives.count == 0', "require": 'filled("PACK 1")'}, 'When no drive is fitted, PACK 1 must be filled.'),
    ({"when": 'drives.count > 4', "require": 'filled("PACK 1")'}, 'When more than four drives are fitted, PACK 1 must be filled.'),
    ({"when": 'drives.count < 4', "require": 'filled("PACK 1")'}, 'When fewer than four drives are fitted, PACK 1 must be filled.'),
    ({"when": 'drives.count == 4', "require": 'filled("PACK 1")'}, 'When exactly four drives are fitted, PACK 1 must be filled.'),
    ({"when": 'drives.count != 4', "require": 'filled("PACK 1")'}, 'When the number of drives is not 4, PACK 1 must be filled.'),
    ({"when": 'has("raid-8") and not has("tpm")', "require": 'filled("PACK 1")'}, 'When `raid-8` is fitted and `tpm` is not fitted, PACK 1 must be filled.'),
    ({"when": 'has("raid-8") or filled("FAN 5..6")', "require": 'filled("PACK 1")'}, 'When `raid-8` is fitted or FAN 5 to 6 are filled, PACK 1 must be filled.'),
    ({"when": 'not filled("FAN 5..6")', "require": 'filled("PACK 1")'}, 'When FAN 5 to 6 are not all filled, PACK 1 must be filled.'),
    ({"when": 'not filled("FAN 5")', "require": 'filled("PACK 1")'}, 'When FAN 5 is not filled, PACK 1 must be filled.'),
    ({"when": 'not (has("raid-8") or has("tpm"))', "require": 'filled("PACK 1")'}, 'When `raid-8` is not fitted and `tpm` is not fitted, PACK 1 must be filled.'),
    ({"when": 'not (has("raid-8") and has("tpm"))', "require": 'filled("PACK 1")'}, 'When `raid-8` is not fitted or `tpm` is not fitted, PACK 1 must be filled.'),
    ({"when": 'any(d.swap == "hot" for d in drives)', "require": 'filled("PACK 1")'}, 'When a drive whose swap type is hot is fitted, PACK 1 must be filled.'),
    ({"when": 'not any(d.swap == "hot" for d in drives)', "require": 'filled("PACK 1")'}, 'When no drive whose swap type is hot is fitted, PACK 1 must be filled.'),
    ({"when": 'all(f.form == "fan-40" for f in fans)', "require": 'filled("PACK 1")'}, 'When the form factor of every fan is fan-40, PACK 1 must be filled.'),
    ({"when": 'not all(f.form == "fan-40" for f in fans)', "require": 'filled("PACK 1")'}, 'When the form factor of some fan is not fan-40, PACK 1 must be filled.'),
    ({"when": 'part("FRONT").id == "bays-cold"', "require": 'filled("PACK 1")'}, 'When FRONT holds `bays-cold`, PACK 1 must be filled.'),
    ({"when": 'part("FRONT").id != "bays-cold"', "require": 'filled("PACK 1")'}, 'When FRONT lacks `bays-cold`, PACK 1 must be filled.'),
    ({"when": 'circuit == None', "require": 'filled("PACK 1")'}, 'When the rating of the branch circuit is not stated, PACK 1 must be filled.'),
    # What runs over a list says whose list it is, and which of its entries
    ({"require": 'all(any(o.output >= "1 kW" for o in s.outputs) for s in power_supplies)'}, "Every power supply must hold an entry of outputs whose output is 1 kW or more."),
    ({"forbid": 'all(any(o.output >= "1 kW" for o in s.outputs) for s in power_supplies)'}, "Some power supply must not hold an entry of outputs whose output is 1 kW or more."),
    ({"forbid": 'any(any(o.output >= "1 kW" for o in s.outputs) for s in power_supplies)'}, "No power supply that holds an entry of outputs whose output is 1 kW or more may be fitted."),
    ({"require": 'any(all(o.output >= "1 kW" for o in s.outputs) for s in power_supplies)'}, "A power supply where the output of every entry of outputs of it is 1 kW or more must be fitted."),
    ({"require": 'all(all(o.output >= "1 kW" for o in s.outputs) for s in power_supplies)'}, "The output of every entry of outputs of every power supply must be 1 kW or more."),
    ({"forbid": 'all(all(o.output >= "1 kW" for o in s.outputs) for s in power_supplies)'}, "The output of some entry of outputs of some power supply must be below 1 kW."),
    ({"require": 'any(e.speed >= "25 Gbit/s" for e in part("SLOT 3").ethernet)'}, "The part in SLOT 3 must hold an entry of ethernet whose speed is 25 Gbit/s or more."),
    ({"require": 'any(r > 4 for r in part("SLOT 1").raid)'}, "The part in SLOT 1 must hold an entry of RAID levels that is above 4."),
    ({"require": 'count(o for o in part("PSU 1").outputs if o.output > "1 kW") >= 2'}, "The number of outputs whose output is above 1 kW in the part in PSU 1 must be 2 or more."),
    ({"require": 'all(count(o for o in s.outputs if o.output > "1 kW") >= 2 for s in power_supplies)'}, "The number of outputs whose output is above 1 kW in every power supply must be 2 or more."),
    ({"require": 'any(count(o for o in s.outputs if o.output > "1 kW") >= 2 for s in power_supplies)'}, "A power supply whose number of outputs whose output is above 1 kW is 2 or more must be fitted."),
    ({"require": 'all(count(s.outputs) >= 2 for s in power_supplies)'}, "The number of outputs of every power supply must be 2 or more."),
    ({"require": 'any(count(s.outputs) >= 2 for s in power_supplies)'}, "A power supply whose number of outputs is 2 or more must be fitted."),
    ({"require": 'all(min(o.output for o in s.outputs) >= "1 kW" for s in power_supplies)'}, "The lowest output of every power supply must be 1 kW or more."),
    ({"require": 'all(sum(o.output for o in s.outputs) >= "1 kW" for s in power_supplies)'}, "The total output of every power supply must be 1 kW or more."),
    ({"require": 'max(e.speed for e in part("SLOT 3").ethernet if e.medium == "pluggable") >= "25 Gbit/s"'}, "The highest speed of ethernet whose medium is pluggable in the part in SLOT 3 must be 25 Gbit/s or more."),
    # Several conditions hold, or fail, of one and the same part
    ({"require": 'any(d.swap == "hot" or d.medium == "ssd" for d in drives)'}, "A drive whose swap type is hot or whose medium is SSD must be fitted."),
    ({"require": 'count(d for d in drives if not (d.medium == "ssd" and d.swap == "hot")) <= 2'}, "Up to two drives whose medium is not SSD or whose swap type is not hot may be fitted."),
    ({"require": 'all(d.swap == "hot" and d.medium == "ssd" for d in drives)'}, "The swap type of every drive must be hot and the medium of every drive must be SSD."),
    ({"require": 'all(d.swap == "hot" or d.medium == "ssd" for d in drives)'}, "No drive whose swap type is not hot and whose medium is not SSD may be fitted."),
    ({"require": 'all(not (d.swap == "hot" and d.medium == "ssd") for d in drives)'}, "No drive whose swap type is hot and whose medium is SSD may be fitted."),
    ({"require": 'all(not (d.swap == "hot" or d.medium == "ssd") for d in drives)'}, "The swap type of every drive must not be hot and the medium of every drive must not be SSD."),
    ({"forbid": 'all(d.swap == "hot" and d.medium == "ssd" for d in drives)'}, "A drive whose swap type is not hot or whose medium is not SSD must be fitted."),
    ({"forbid": 'all(d.swap == "hot" or d.medium == "ssd" for d in drives)'}, "A drive whose swap type is not hot and whose medium is not SSD must be fitted."),
    ({"when": 'not all(d.swap == "hot" and d.medium == "ssd" for d in drives)', "require": 'filled("PACK 1")'}, "When a drive whose swap type is not hot or whose medium is not SSD is fitted, PACK 1 must be filled."),
    ({"require": 'count(d for d in drives if inlet > "30 degC") <= 2'}, "Up to two drives where the inlet temperature is above 30 °C may be fitted."),
    ({"require": 'part("CPU1").tdp - "10 W" <= "200 W"'}, "The thermal design power of the part in CPU1 less 10 W must be 200 W or less."),
    ({"require": 'part("CPU1").tdp / 2 <= "200 W"'}, "The thermal design power of the part in CPU1 divided by 2 must be 200 W or less."),
    ({"require": "-drives.count < 2"}, "Minus the number of drives must be below 2."),
    ({"require": "drives.count != accelerators.count"}, "The number of drives must not be equal to the number of accelerators."),
    ({"forbid": 'filled("FAN 1") and filled("FAN 2") and filled("FAN 3")'}, "FAN 1, FAN 2 and FAN 3 must not be filled together."),
    ({"require": "drives.count <= 8", "when": "True"}, "When always, up to eight drives may be fitted."),
)  # fmt: skip


@pytest.mark.parametrize(("fields", "said"), SENTENCES, ids=[str(row[0]) for row in SENTENCES])
def test_a_rule_is_put_into_words(fields, said):
    assert str(in_words(read(**fields))).replace("\u202f", " ") == said


def test_because_goes_before_words():
    rule = read(require="drives.count <= 8", because="The cage is small")
    assert sentence(rule) == "The cage is small."
    assert str(in_words(rule)) == "Up to eight drives may be fitted."


def test_a_part_is_called_as_asked():
    rule = read(forbid='has("raid-8")')
    assert str(in_words(rule, Quotes(str.upper, "", ""))) == "RAID-8 must not be fitted."


def test_clauses_are_those_of_rules_to_translators():
    rule = read(require="drives.count > accelerators.count")
    said = value_in_words(rule.must.tree.left)
    assert (said.text, said.context) == ("the number of drives", "rule")


def platform_rows(found: Checked) -> list[list[str]]:
    definitions = found.loaded.definitions
    assert definitions is not None
    made = rules_of_platform(bare_case(definitions, definitions.platforms["lantern"]))
    return [] if made is None else [[plain_text(cell) for cell in row] for row in made.rows]


def part_rows(found: Checked, part: str) -> list[list[str]]:
    definitions = found.loaded.definitions
    assert definitions is not None
    made = rules_of_part(PartCase(definitions, definitions.parts[part], ()))
    return [] if made is None else [[plain_text(cell) for cell in row] for row in made.rows]


def test_a_page_without_rules_has_no_table():
    assert platform_rows(ruled()) == []
    assert part_rows(ruled(), "fan") == []


def test_the_page_of_a_platform_tells_rules_owners_and_weights():
    rule = one(require="drives.count <= 9", because="The cage is small")
    assert platform_rows(ruled(rule)) == [
        ["QW-1", "Up to nine drives may be fitted.", "The cage is small.", "error", "Lantern"]
    ]
    assert platform_rows(ruled(rule, on="family"))[0][4] == "all of Coast"
    assert platform_rows(ruled(rule, on="project"))[0][4] == "every server"
    assert platform_rows(ruled(rule, on="fan"))[0][4] == "Fan"
    bare = one(code="QW-2", require="drives.count <= 9")
    assert [row[2] for row in platform_rows(ruled(rule, bare))] == ["The cage is small.", "\u2013"]
    assert platform_rows(ruled(bare))[0][2] == "error"  # no column for reasons that nobody gives


@pytest.mark.parametrize("part", ["nic-16", "sas-1600", "m2-480", "cable-sas", "hub", "sfp28-sr"])
def test_rules_of_parts_in_positions_that_other_parts_bring_are_listed(part):
    (row,) = platform_rows(ruled(one(require="drives.count <= 9"), on=part))
    assert row[0] == "QW-1"


@pytest.mark.parametrize("part", ["tpm-old", "sink-tall", "bays-other", "udimm-16"])
def test_rules_of_parts_that_go_in_nowhere_are_not_listed(part):
    assert platform_rows(ruled(one(require="drives.count <= 9"), on=part)) == []


def test_a_processor_too_hot_for_its_socket_adds_no_rules():
    cool = base()
    cool["platforms/lantern.yaml"] = cool["platforms/lantern.yaml"].replace("350 W", "100 W")
    rule = one(require="drives.count <= 9")
    assert platform_rows(ruled(rule, on="corvane-c96", files=cool)) == []
    assert platform_rows(ruled(rule, on="corvane-c96")) != []


def test_a_warm_inlet_hides_no_rule_of_a_part_for_cooler_rooms():
    files = base()
    files["platforms/lantern.yaml"] += "conditions: {inlet: 35 degC}\n"
    name = "catalog/cards.yaml"
    files[name] = files[name].replace(
        "- {id: accel-bare,", "- {id: accel-bare, inlet_limit: 25 degC,"
    )
    assert platform_rows(ruled(one(require="drives.count <= 9"), on="accel-wide", files=files))
    files[name] = files[name].replace("110 W", "70 W")
    assert platform_rows(ruled(one(require="drives.count <= 9"), on="accel-bare", files=files))


def test_parts_are_called_by_their_names_on_pages():
    (row,) = platform_rows(ruled(one(forbid='has("accel-bare")')))
    assert row[1] == "\u201cAccelerator without\u201d must not be fitted."


def test_dates_are_shown_where_there_are_any():
    dated = one(code="QW-2", require="drives.count <= 9", from_="2026-01-01", until="2026-12-31")
    rows = platform_rows(ruled(one(require="drives.count <= 9"), dated.replace("from_", "from")))
    assert [row[4] for row in rows] == ["\u2013", "from 2026-01-01 until 2026-12-31"]


def test_the_page_of_a_part_lists_its_rules():
    assert part_rows(ruled(one(require="drives.count <= 9"), on="fan"), "fan") == [
        ["QW-1", "Up to nine drives may be fitted.", "error"]
    ]


def test_changing_the_text_changes_finding_and_page_alike():
    for most, got in (("7", "Up to seven"), ("6", "Up to six")):
        found = ruled(one(require=f"drives.count <= {most}"))
        assert platform_rows(found)[0][1].startswith(got)
        assert str(broken(found)[0].message).startswith(got[0].lower() + got[1:])


def test_the_words_of_authors_stay_text():
    found = ruled(one(forbid="fans.count > 0", because="<b>No</b> {{ fans }} | *here*"))
    assert platform_rows(found)[0][2] == "<b>No</b> {{ fans }} | *here*."


def test_a_rule_that_takes_too_long_is_reported(monkeypatch):
    monkeypatch.setattr(evaluate, "MOST_STEPS", 100)
    condition = "count(a for a in parts if any(a.id == b.id for b in parts)) > 0"
    found = ruled(one(require=condition))
    assert set(found.codes) == {"SG136"}
    assert found.findings[0].at.span == the_rule(found).must.place()


def test_steps_are_enough_for_a_large_system():
    condition = "all(any(a.id == b.id for b in parts) for a in parts)"
    assert ruled(one(require=condition), files=base()).codes == []
