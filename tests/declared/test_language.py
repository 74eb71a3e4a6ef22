"""The language of conditions: what is refused, with its code, at the very piece of text."""

from dataclasses import replace

import pytest

from specgen.expressions.nodes import NODES, walk
from specgen.expressions.types import TypeSort
from specgen.facts import FactTypes, Ledger, ledger
from specgen.facts import rule_book as compiled
from specgen.facts.fact_types import types_of
from specgen.quantity import Power
from specgen.rules.declared import rule_book
from tests.declared.ruled import PLATFORM, base, one, project, read, ruled
from tests.timing import first

# condition, code, the piece of text that the finding points at, words of its help
REFUSED = (
    ("drives.count <= ", "SG131", "=", ""),
    ("(drives.count <= 8", "SG131", "(", ""),
    ("drives.count <= 8 # all of them", "SG131", "#", "quotes"),
    ("dri\u00fcves.count <= 8", "SG131", "\u00fc", "ASCII"),
    ('part("CPU1").id == "corvane', "SG131", '"corvane', ""),
    ("lambda", "SG131", "a", ""),
    ("drives.count // 2 <= 8", "SG132", "drives.count // 2", "`/`"),
    ("drives.count ** 2 <= 8", "SG132", "drives.count ** 2", ""),
    ("(8 if True else 9) > 8", "SG132", "8 if True else 9", ""),
    ("[d for d in drives] == 1", "SG132", "[d for d in drives]", ""),
    ("inlet is None", "SG132", "inlet is None", "=="),
    ("count(d for d in drives for e in drives) > 1", "SG132", "(d for", ""),
    ("count(inlet for inlet in drives) > 1", "SG132", "inlet", ""),
    ("count(d.id for d in drives) > 1", "SG132", "d.id", "count(d for d in"),
    ("drives.count > 1e3", "SG132", "1e3", "plain digits"),
    ('part(CPU1).tdp > "1 W"', "SG132", "CPU1", ""),
    ('it.tdp > "1 W"', "SG132", "it", ""),
    ("sum(1, 2) > 1", "SG132", "sum(1, 2)", ""),
    ("(fans.count)(8) > 1", "SG132", "fans.count", ""),
    ("drivse.count <= 8", "SG133", "drivse", "drives"),
    ("inlte <= 8", "SG133", "inlte", "inlet"),
    ("cuont(drives) <= 8", "SG133", "cuont", "count"),
    ("drives.cuont <= 8", "SG133", "cuont", "count"),
    ('part("CPU1").tpd <= "200 W"', "SG133", "tpd", "tdp"),
    ("platform.rack_unit == 1", "SG133", "rack_unit", "rack_units"),
    ('any(d.swap == "hott" for d in drives)', "SG133", '"hott"', "hot"),
    ('any(d.swap in ("cold", "hott") for d in drives)', "SG133", '"hott"', "hot"),
    ("drives.__class__ == 1", "SG133", "__class__", ""),
    ('part("CPU1").__init__ == 1', "SG133", "__init__", ""),
    ("part(\"CPU1\").origin == 1", "SG133", "origin", ""),
    ("inlet <= 30", "SG134", "inlet <= 30", "35 degC"),
    ('inlet <= line', "SG134", "inlet <= line", ""),
    ('drives.count <= "8"', "SG134", 'drives.count <= "8"', ""),
    ('inlet + inlet <= "60 degC"', "SG134", "inlet + inlet", ""),
    ('line + inlet <= "60 V"', "SG134", "line + inlet", ""),
    ("drives <= 8", "SG134", "drives", ""),
    ("not drives.count", "SG134", "drives.count", "compare"),
    ("drives.count and fans.count > 1", "SG134", "drives.count", "compare"),
    ('part("CPU1") == part("CPU2")', "SG134", 'part("CPU1")', "fields"),
    ("sum(d.form for d in drives) > 1", "SG134", "d.form", ""),
    ("max(d.form for d in drives) > 1", "SG134", "d.form", ""),
    ('any(d.form < "b" for d in drives)', "SG134", 'd.form < "b"', "in"),
    ("inlet < None", "SG134", "inlet < None", "!="),
    ("5 in drives.count", "SG134", "drives.count", "brackets"),
    ("drives.count", "SG135", "drives.count", "compare"),
    ('"all of them"', "SG135", '"all of them"', ""),
    ('part("CPU1").tdp', "SG135", 'part("CPU1").tdp', ""),
    ('inlet <= "30"', "SG121", '"30"', "degC"),
    ('inlet <= "30 W"', "SG122", '"30 W"', "degC"),
    ('inlet <= "30 degrees"', "SG123", '"30 degrees"', ""),
    ('inlet <= "warm"', "SG124", '"warm"', ""),
    ('inlet + "5 degC" <= "30 degC"', "SG122", '"5 degC"', ""),
    ('filled("FAN 1..")', "SG125", '"FAN 1.."', ""),
    ('has("rdmim-32")', "SG201", '"rdmim-32"', "rdimm-32"),
    ('part("FRONT").id == "bays-fsat"', "SG201", '"bays-fsat"', "bays-fast"),
    ('platform.id == "latern"', "SG202", '"latern"', "lantern"),
    ('filled("SLOTT 3")', "SG203", '"SLOTT 3"', "SLOT 3"),
    ('any(d.position == "BAYY 0" for d in drives)', "SG203", '"BAYY 0"', "BAY 0"),
    ('platform.family == "coats"', "SG207", '"coats"', "coast"),
    ('fact("power.maxmum") > "1 W"', "SG211", '"power.maxmum"', "power.maximum"),
)  # fmt: skip


QUOTES = ("single", "double", "plain")
"""Each mistake in one of these every time, and in the two others."""


@pytest.mark.parametrize("further", first(1, range(len(QUOTES))))
@pytest.mark.parametrize("number", range(len(REFUSED)), ids=lambda number: REFUSED[number][0])
def test_a_mistake_is_reported_at_its_piece_of_text(number, further):
    condition, code, piece, mend = REFUSED[number]
    bare = " #" not in condition and condition[0] not in "'\"[" and condition[-1] != " "
    quotes = QUOTES if bare else QUOTES[:2]  # no plain scalar
    if further >= len(quotes):
        pytest.skip("no further way to write it")
    quote = quotes[(number + further) % len(quotes)]
    written = {
        "single": "'" + condition.replace("'", "''") + "'",
        "double": '"' + condition.replace('"', '\\"') + '"',
        "plain": condition,
    }[quote]
    files = base()
    files[PLATFORM] += f"rules:\n  - code: QW-1\n    require: {written}\n"
    found = project(files)
    assert found.codes == [code], found.findings
    (finding,) = found.findings
    line = found.line(finding)
    shown = line[finding.at.span.column - 1 : finding.at.span.end_column - 1]
    if quote == "double":
        shown, piece = shown.replace('\\"', '"'), piece
    assert shown.startswith(piece) or (piece.startswith(shown) and len(shown) == 1), shown
    assert mend in str(finding.help)
    assert not str(finding.message).endswith(".")


def test_a_folded_text_is_one_condition():
    files = base()
    files[PLATFORM] += "rules:\n  - code: QW-1\n    require: >-\n      fans.count >\n      1\n"
    assert project(files).codes == []


def test_mixed_quotes_that_cannot_be_told_apart_point_at_the_text():
    files = base()
    files[PLATFORM] += 'rules:\n  - code: QW-1\n    require: "fns.count > 1 and \'a\' != \\"b\\""\n'
    (finding,) = project(files).findings
    assert finding.code.id == "SG133"


LARGE = (
    "(" * 5000,
    "x" * 10_000,
    "-" * 900 + "1 > 2",
    "not " * 240 + "True",
    "1 + " * 240 + "1 > 2",
    "a." * 490 + "b",
    "f(" * 400,
    "[" * 900,
    "any(True for a in drives if any(True for b in drives if any(True for c in drives)))",
)


@pytest.mark.parametrize("condition", LARGE, ids=range(len(LARGE)))
def test_hostile_conditions_are_reported_and_cost_nothing(condition):
    found = ruled(one(require=condition))
    assert found.codes in (["SG136"], ["SG131"], ["SG132"])


def test_a_run_within_a_run_is_bounded_in_steps():
    condition = (
        "count(a for a in parts if count(b for b in parts if any(c > 0 for c in a.key)) > 0) >= 0"
    )
    found = ruled(one(require=condition))
    assert set(found.codes) <= {"SG132", "SG134", "SG136"}


def test_each_part_of_a_project_may_hold_rules():
    for on in ("project", "family", "platform", "raid-8", "fan"):
        found = ruled(one(forbid="fans.count > 0"), on=on)
        assert "QW-1" in found.codes, on


def test_only_a_part_s_rule_knows_it():
    assert ruled(one(require='it.cache >= "4 GiB"'), on="raid-8").codes == []
    assert ruled(one(require='it.cache >= "8 GiB"'), on="raid-8").codes == ["QW-1"]
    assert ruled(one(require='it.cahce >= "8 GiB"'), on="raid-8").codes == ["SG133"]


def test_a_position_of_another_platform_is_unknown_here():
    assert ruled(one(require='filled("SLOT 1")')).codes == ["QW-1"]
    assert ruled(one(require='filled("OCP.PORT 1")')).codes == ["QW-1"]
    assert ruled(one(require='filled("OCP.PROT 1")')).codes == ["SG203"]


def test_an_unknown_part_is_not_told_while_the_catalog_cannot_be_read():
    files = base()
    files[PLATFORM] += "rules: [" + one(forbid='has("nothing")') + "]\n"
    files["catalog/odd.yaml"] = "["
    assert "SG201" not in [f.code.id for f in project(files).findings if f.at.span.file == PLATFORM]


def test_rules_shared_by_an_alias_are_one_rule():
    files = base()
    files["catalog/house.yaml"] = (
        files["catalog/house.yaml"]
        .replace(
            "- {id: fan, name: Fan}",
            "- {id: fan, name: Fan, rules: &r [{code: QW-1, forbid: fans.count > 5}]}",
        )
        .replace("- {id: fan-wide,", "- {id: fan-wide, rules: *r,")
    )
    assert project(files).codes == ["QW-1"]


@pytest.mark.parametrize("code", ["QW-017", "LN-R-3", "A1-1"])
def test_codes_of_the_project(code):
    assert ruled(one(code=code, forbid="fans.count > 0")).codes.count(code) == 2


@pytest.mark.parametrize("code", ["SG331", "SG-331", "qw-1", "QW", "QW-", "17", "QW-1x", "Q W-1"])
def test_codes_that_are_none(code):
    assert ruled(one(code=code, forbid="fans.count > 0")).codes == ["SG112"]


def test_the_tree_is_made_of_the_listed_nodes_alone():
    rule = read(
        when='inlet + "1 K" > "1 degC" and has("fan") and filled("FAN 1") and -drives.count < 1',
        require='any(5 in c.raid or c.id in ("raid-8", "hub") for c in storage_controllers) '
        'or part("CPU1").memory_speed[1] > "1 MT/s" or fact("power.maximum") == None '
        "or not platform.rack_units * 2 == 2",
    )
    seen = {type(node) for each in rule.statements for node in walk(each.tree)}
    assert seen <= set(NODES)
    assert {each.__name__ for each in set(NODES) - seen} == {"It"}
    for statement in rule.statements:
        for node in walk(statement.tree):
            assert 0 <= node.start < node.end <= len(statement.text.plain)


def test_a_rule_book_is_made_once_for_definitions():
    definitions = ruled(one(forbid="fans.count > 0")).loaded.definitions
    assert definitions is not None
    assert rule_book(definitions) is rule_book(definitions)


def test_every_registered_value_can_be_used_in_rules():
    all_ = ledger()
    assert [key for key, each in all_.by_key.items() if len(types_of(each, all_)) != 1] == []


@pytest.mark.parametrize(
    "key", ["expansion.{card}.feeds", "network.{ports}.medium", "noise.edition"]
)
def test_several_words_are_a_list_of_texts(key):
    (type_,) = types_of(ledger().by_key[key], ledger())
    assert (type_.sort, type_.entry and type_.entry.sort) == (TypeSort.LIST, TypeSort.TEXT)


# a value, what it can be compared with
FACTS = (
    ("mechanics.rails_most", '"1 m"'),
    ("regulation.idle", '"1 kW"'),
    ("regulation.performance", "40"),
    ("regulation.inlet_highest", '"35 degC"'),
    ("storage.Data.read", '"1 GB/s"'),
)


@pytest.mark.parametrize(("key", "value"), FACTS)
def test_a_value_has_the_type_that_it_is_declared_with(key, value):
    assert ruled(one(forbid=f'fact("{key}") < {value}')).codes in ([], ["QW-1"], ["QW-1"] * 2)
    (wrong,) = ruled(one(forbid=f'fact("{key}") < "1 lx"')).codes
    assert wrong.startswith("SG1")


def test_a_value_that_can_be_of_several_sorts_is_refused_with_these(monkeypatch):
    several = ledger().by_key["power.maximum"]

    def either() -> Power | str:
        return "unknown"

    calculators = {**ledger().by_key, several.key: replace(several, function=either)}
    known = FactTypes(Ledger(calculators.values()))
    monkeypatch.setattr(compiled, "known_facts", lambda _: known)
    (finding,) = ruled(one(forbid='fact("power.maximum") > "1 W"')).findings
    assert finding.code.id == "SG134"
    assert "can be a power or text" in str(finding.message)


# the condition as it stands in the file, over several lines, below `require:` (two places in)
WRITTEN = {
    "folded": ">\n    drives.count <= 8\n    and\n    drivse.count <= 9\n",
    "folded and stripped": ">-\n    drives.count <= 8 and\n\n    drivse.count <= 9\n",
    "literal": "|\n      drives.count <= 8\n        and drivse.count <= 9\n",
    "literal with a comment": "|2- # in two\n    drives.count <= 8\n    and drivse.count <= 9\n",
    "plain": "drives.count <= 8\n    and\n      drivse.count <= 9\n",
    "plain, on the next line": "\n    drives.count <= 8 and drivse.count\n    <= 9\n",
    "single": "'any(d.swap == ''hot'' for d in drives)\n    and drivse.count <= 9'\n",
    "double": '"any(d.swap == \\"hot\\" for d in drives) \\\n      and\n    drivse.count <= 9"\n',
    "anchored": "&a >\n    drives.count <= 8\n    and drivse.count <= 9\n",
}


@pytest.mark.parametrize("written", WRITTEN.values(), ids=WRITTEN)
def test_a_mistake_in_a_condition_over_several_lines_is_shown_at_its_own(written):
    files = base()
    files[PLATFORM] += f"rules:\n- code: QW-1\n  require: {written}  severity: error\n"
    (finding,) = project(files).findings
    span = finding.at.span
    assert span.line == span.end_line
    line = files[PLATFORM].splitlines()[span.line - 1]
    assert line[span.column - 1 : span.end_column - 1] == "drivse"


def test_a_piece_over_several_lines_is_shown_from_its_first_to_its_last():
    files = base()
    files[PLATFORM] += "rules:\n- code: QW-1\n  require: >\n    inlet\n    <= 30\n"
    (finding,) = project(files).findings
    lines = files[PLATFORM].splitlines()
    assert (lines[finding.at.span.line - 1], finding.at.span.column) == ("    inlet", 5)
    assert (lines[finding.at.span.end_line - 1], finding.at.span.end_column) == ("    <= 30", 10)


def test_a_condition_with_escapes_that_cannot_be_followed_is_shown_as_a_whole():
    files = base()
    files[PLATFORM] += 'rules:\n- code: QW-1\n  require: "driv\\x73e.count\n    <= 30"\n'
    (finding,) = project(files).findings
    assert finding.at.span.end_line == finding.at.span.line + 1
