# ruff: noqa: E501 (a table reads best with one row a line)
"""What an author is told of common mistakes: one cause, one finding, and words that mend it."""

import pytest

from tests.mutated.breaks import (
    CARDS,
    DRIVES,
    FULL,
    HOUSE,
    MEMORY,
    PLATFORM,
    PROCESSORS,
    PROJECT,
    SMALL,
)
from tests.projects import edited, project

RULE = "operating_class: A2\nrules:\n  - {{code: QW-1, require: {}}}"
TOLD = (
    # days
    ("a day that August lacks", FULL, "date: 2026-03-02", "date: 2026-08-32", "SG112", "2026-08 has 31 days"),
    ("a day that February lacks", FULL, "date: 2026-03-02", "date: 2026-02-30", "SG112", "2026-02 has 28 days"),
    ("a leap day of another year", FULL, "date: 2026-03-02", "date: 2025-02-29", "SG112", "2025-02 has 28 days"),
    ("a month that no year has", FULL, "date: 2026-03-02", "date: 2026-13-02", "SG112", "no month 13"),
    ("a date in another order", FULL, "date: 2026-03-02", "date: 02.03.2026", "SG112", "write `2026-03-02`"),
    # YAML
    ("an open quote", FULL, "name: Lantern, full", 'name: "Lantern, full', "SG101", 'write `"` at the end'),
    ("an open brace", FULL, "redundancy: 1+1}", "redundancy: 1+1", "SG101", "write `}` where its entries end"),
    ("an open bracket", FULL, "  BAY 4..5: e3-3840", "  BAY 4..5: [e3-3840", "SG101", "write `]`"),
    ("no colon", FULL, "platform: lantern", "platform lantern", "SG101", "write `platform: lantern`"),
    ("no space behind a colon", FULL, "platform: lantern", "platform:lantern", "SG101", "write `platform: lantern`"),
    ("a second colon", FULL, "summary: Everything at once", "summary: Everything: at once", "SG101", '`summary: "Everything: at once"`'),
    ("an apostrophe in single quotes", FULL, "summary: Everything at once", "summary: 'It's all'", "SG101", "twice"),
    ("a text that begins like a comment", FULL, "summary: Everything at once", "summary: #1 of all", "SG116", "stands in quotes"),
    ("a point written as a comma in braces", DRIVES, "{id: sas-1600, name: SAS 1.6 TB, interface: sas, capacity: 1.6 TB", "{id: sas-1600, name: SAS 1.6 TB, interface: sas, capacity: 1,6 TB", "SG111", "with a point"),
    # positions
    ("a number beyond the last", FULL, "  BAY 4..5: e3-3840", "  BAY 4..5: e3-3840\n  BAY 99: sas-1600", "SG203", "there are BAY 0 to 5"),
    ("a range beyond the last", FULL, "  FAN 5..6: fan", "  FAN 5..7: fan", "SG203", "there are FAN 1 to 6"),
    ("a position in small letters", FULL, "  BAY 3: sas-1600", "  bay 3: sas-1600", "SG203", "did you mean `BAY 3`?"),
    ("a position without its space", FULL, "  BAY 3: sas-1600", "  BAY3: sas-1600", "SG203", "did you mean `BAY 3`?"),
    ("a position with a hyphen", FULL, "  BAY 3: sas-1600", "  BAY-3: sas-1600", "SG203", "did you mean `BAY 3`?"),
    ("a range with a hyphen", FULL, "  BAY 4..5: e3-3840", "  BAY 4-5: e3-3840", "SG203", "`BAY 4..5`"),
    ("a range with one point", FULL, "  BAY 4..5: e3-3840", "  BAY 4.5: e3-3840", "SG125", "write `BAY 4..5`"),
    ("a range with three points", FULL, "  BAY 4..5: e3-3840", "  BAY 4...5: e3-3840", "SG125", "write `BAY 4..5`"),
    ("a range with a hyphen in a volume", FULL, "drives: BAY 0..2,", "drives: BAY 0-2,", "SG344", "`BAY 0..2`"),
    ("a position of no number", PLATFORM, "of: CPU1..CPU2, cools", "of: CPU1..CPU3, cools", "SG203", "there are CPU1 to 2"),
    ("letter O for a zero in a port", PLATFORM, "from: CPU1.P0, lanes: x8, power", "from: CPU1.PO, lanes: x8, power", "SG204", "did you mean `CPU1.P0`?"),
    ("a connector without its space", FULL, "to: EDGE 1}", "to: EDGE1}", "SG204", "did you mean `EDGE 1`?"),
    ("a range over what is filled", FULL, "  BAY 3: sas-1600", "  BAY 1..3: sas-1600", "SG209", "narrow its range"),
    # ids
    ("a line for a hyphen", FULL, "PSU 1..2: supply-1300", "PSU 1..2: supply_1300", "SG201", "did you mean `supply-1300`?"),
    ("capitals in an id", FULL, "PSU 1..2: supply-1300", "PSU 1..2: Supply-1300", "SG201", "did you mean `supply-1300`?"),
    ("a space in an id", FULL, "PSU 1..2: supply-1300", "PSU 1..2: supply 1300", "SG201", "did you mean `supply-1300`?"),
    ("another number in an id", FULL, "PSU 1..2: supply-1300", "PSU 1..2: supply-1350", "SG201", "the nearest are `supply-1300`"),
    ("a name for an id", FULL, "PSU 1..2: supply-1300", "PSU 1..2: Supply 1300 W", "SG201", "write its id, `supply-1300`"),
    ("a platform's name for its id", FULL, "platform: lantern", "platform: Lantern", "SG202", "`lantern`"),
    ("capitals in a family", PLATFORM, "family: coast", "family: Coast", "SG207", "did you mean `coast`?"),
    ("a successor by its name", HOUSE, "replaced_by: tpm}", "replaced_by: TPM}", "SG201", "write its id, `tpm`"),
    ("an id of its own with spaces", FULL, "id: lantern-full", "id: Lantern Full", "SG112", "write `lantern-full`"),
    ("a list with an unknown part", PLATFORM, "lists: [corvane-c32,", "lists: [corvane-c33,", "SG201", "`corvane-c32`"),
    # parts
    ("a module in a socket", FULL, "CPU1..CPU2: corvane-c32", "CPU1..CPU2: rdimm-32", "SG301", ""),
    ("a heat sink in a socket", FULL, "CPU1..CPU2: corvane-c32", "CPU1..CPU2: sink", "SG301", ""),
    # fields
    ("a shared field that is missing", DRIVES, "    medium: ssd\n    form: 2.5-inch", "    form: 2.5-inch", "SG114", "`common`"),
    ("`common` misspelt", PROCESSORS, "common:\n", "commn:\n", "SG111", "did you mean `common`?"),
    ("a shared field beside `common`", MEMORY, "common:\n  technology: ddr5\n", "technology: ddr5\ncommon:\n", "SG111", "move it into `common`"),
    ("a shared field misspelt", PROCESSORS, "  source: {document: Corvane", "  sorce: {document: Corvane", "SG111", "did you mean `source`?"),
    ("a word for a list", PROJECT, "documents: [sheet]", "documents: sheet", "SG112", "write `documents: [sheet]`"),
    ("a word for a list of fields", FULL, "volumes:\n", "allow: SG323\nvolumes:\n", "SG112", "[{code: SG323, reason: …}]"),
    ("a word for fields", DRIVES, "  swap: cold\n  source: {document: drive table, date: 2026-01-10}", "  swap: cold\n  source: drive table", "SG112", "write `source: {document: drive table}`"),
    ("a word for the field that may hold it", HOUSE, "life: {status: planned}", "life: planned", "SG112", "write `life: {status: planned}`"),
    ("brackets for braces", FULL, "{inlet: 30 degC, redundancy: 1+1}", "[inlet: 30 degC, redundancy: 1+1]", "SG112", "`{…}` in place of `[…]`"),
    ("capitals in a key", CARDS, "carries: {sas: 4, sata: 3}, form", "carries: {SAS: 4, sata: 3}, form", "SG113", "did you mean `sas`?"),
    ("a word cut short", PLATFORM, "operating_class: A2", "operating_class: A2\nrules: [{code: QW-1, severity: warn, require: fans.count > 0}]", "SG113", "did you mean `warning`?"),
    ("the level with its word", FULL, "level: 5, drives", "level: RAID5, drives", "SG112", "write `5`"),
    ("lanes the other way round", PLATFORM, "lanes: x8, form: mcio-8i}\n  EDGE 2", "lanes: 8x, form: mcio-8i}\n  EDGE 2", "SG112", "write `x8`"),
    ("a redundancy of one number", FULL, "redundancy: 1+1}", "redundancy: 2}", "SG112", "`1+1`"),
    ("a code to allow with two digits swapped", SMALL, "code: SG323", "code: SG332", "SG212", "did you mean `SG323`?"),
    # rules
    ("one `=` in a rule", PLATFORM, "operating_class: A2", RULE.format("fans.count = 3"), "SG131", "write `==`"),
    ("a bare quantity in a rule", PLATFORM, "operating_class: A2", RULE.format("inlet <= 30 degC"), "SG131", '`"30 degC"`'),
    ("`AND` in a rule", PLATFORM, "operating_class: A2", RULE.format("fans.count > 3 AND fans.count > 1"), "SG131", "write `and`"),
    ("`|` in a rule", PLATFORM, "operating_class: A2", RULE.format("fans.count > 3 || fans.count > 1"), "SG131", "write `or`"),
    ("a part of another case in a rule", PLATFORM, "operating_class: A2", RULE.format("'has(\"Raid-8\")'"), "SG201", "did you mean `raid-8`?"),
)  # fmt: skip


@pytest.mark.parametrize("case", TOLD, ids=lambda case: case[0])
def test_the_message_mends_the_mistake(case: tuple[str, str, str, str, str, str]):
    _, file, old, new, code, help_ = case
    found = project(edited(file, old, new)).findings
    mine = [each for each in found if each.code.id != "SG323"]  # what an allowance hid before
    assert [each.code.id for each in mine] == [code], found
    assert help_ in str(mine[0].help)


def test_what_many_parts_lack_is_told_once_with_how_many():
    found = project(
        edited(PROCESSORS, "  source: {document: Corvane product table, date: 2026-01-10}\n", "")
    ).findings
    (finding,) = found
    assert str(finding.message) == "`source` is missing, 5 times in this file"
    assert len(finding.labels) == 3


def test_words_that_differ_in_case_alone_are_told_apart():
    found = project(edited(MEMORY, "  form: rdimm\n", "  form: RDIMM\n")).findings
    assert {each.code.id for each in found} == {"SG220"}
    assert all("`rdimm`" in str(each.help) for each in found)


def test_a_part_that_lacks_a_port_is_told_once_at_its_line():
    """Links come from ports that other processors have: the one fitted is to blame, once."""
    text = "name: P0..P3, lanes: x16"
    files = edited(PROCESSORS, text, text)
    files[PROCESSORS] += (
        "  - id: corvane-c12\n    name: Corvane C12\n    cores: 12\n    threads: 24\n    tdp: 90 W\n"
        "    brings: {ports: [{name: P3, lanes: x4, carries: {pcie: 5}}]}\n"
    )
    files[PLATFORM] = files[PLATFORM].replace("lists: [", "lists: [corvane-c12, ")
    files[FULL] = files[FULL].replace("CPU1..CPU2: corvane-c32", "CPU1..CPU2: corvane-c12")
    found = project(files)
    (finding,) = [each for each in found.findings if each.code.id == "SG204"]
    assert "corvane-c12" in found.line(finding)
    assert "P2" in str(finding.message)
    assert {each.code.id for each in found.findings} == {"SG204"}


def test_a_resource_that_nothing_is_called_is_told_with_the_one_that_is():
    found = project(edited(CARDS, "{resource: pcie-8-pin,", "{resource: pcie_8_pin,")).findings
    (finding,) = [each for each in found if each.code.id == "SG220"]
    assert str(finding.help) == "did you mean `pcie-8-pin`?"


def test_a_range_of_one_position_is_one_position():
    found = project(edited(PLATFORM, "{name: HS 1..2, takes", "{name: HS 1..1, takes")).findings
    (told,) = [each for each in found if each.code.id == "SG118"]
    assert str(told.message) == "HS 1..1 is 1 position, and `of` names 2"
