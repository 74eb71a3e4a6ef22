"""Values that a project declares: worked out, with a pedigree, known everywhere; mistakes told."""

import json

import pytest

from specgen.facts import Declared, Fact, Facts, facts_of
from specgen.quantity import Power, show
from tests.facts.english import in_english
from tests.projects import Checked, base, project

BUILD = "lantern-full"


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def with_values(*values: dict[str, str]) -> dict[str, str]:
    """The small project with values declared, one a line."""
    files = base()
    lines = [
        ", ".join(f"{name}: {quoted(text)}" for name, text in {"label": "Trial", **value}.items())
        for value in values
    ]
    files["specgen.yaml"] += "values:\n" + "".join(f"- {{{line}}}\n" for line in lines)
    return files


def valued(*values: dict[str, str]) -> Checked:
    return project(with_values(*values))


def facts(*values: dict[str, str]) -> Facts:
    found = valued(*values)
    assert found.findings == (), [str(finding.message) for finding in found.findings]
    return facts_of(found.assemblies[BUILD])


def worked(expression: str, **fields: str) -> str:
    """What one value comes to, as it is printed."""
    return show(facts({"key": "house.a", "expression": expression, **fields})["house.a"].value)


# expression, further fields, what is printed
WORKED = (
    ("count(d for d in drives)", {}, "8"),
    ("fans.count * 2 + 1", {}, "13"),
    ('fact("power.maximum") / fact("processors.cores")', {"unit": "W"}, "12.9\u202fW"),
    ('fact("power.maximum") / "1 kW"', {}, "0.825"),
    ("drives.count / 4", {"unit": "kg"}, "2\u202fkg"),
    ("max(f.power.maximum for f in fans)", {"unit": "kW"}, "0.015\u202fkW"),
    ('fact("processors.cores") >= 64', {}, "yes"),
    ('has("corvane-c32") and not has("corvane-c32")', {}, "no"),
    ('part("CPU1").name', {}, "Corvane C32"),
    ('inlet + "5 K"', {}, "35\u202f°C"),
    ("platform.rack_units", {}, "1"),
    ("drives.count", {"when": 'inlet < "10 degC"'}, "not declared"),
    ("drives.count / 0", {}, "not declared"),
)


@pytest.mark.parametrize(("expression", "fields", "printed"), WORKED)
def test_a_value_comes_to_what_its_expression_says(expression, fields, printed):
    assert worked(expression, **fields) == printed


def test_a_value_says_what_it_is_and_where_its_formula_is_from():
    fact = facts(
        {
            "key": "house.a",
            "label": "Power for each core",
            "short": "Per core",
            "expression": 'fact("power.maximum") / fact("processors.cores")',
            "formula": "maximum power / cores",
            "assumes": "all cores draw alike",
        }
    )["house.a"]
    assert (fact.label, fact.short, fact.basis) == ("Power for each core", "Per core", "calculated")
    assert (fact.formula, fact.assumes) == ("maximum power / cores", "all cores draw alike")
    files = with_values({"key": "house.a", "expression": "fans.count"})
    files["specgen.yaml"] = files["specgen.yaml"].replace(
        "expression: 'fans.count'}",
        "expression: 'fans.count', source: {document: House rule 7, page: 3, date: 2026-03-01}}",
    )
    fact = facts_of(project(files).assemblies[BUILD])["house.a"]
    assert fact.formula == "fans.count"
    assert in_english(fact.source) == "House rule 7, page 3, 2026-03-01"


def leaves(fact: Fact) -> list[tuple[str, str, int]]:
    """Position, value and line of each leaf but the expression itself."""
    return [
        (leaf.subject, show(leaf.value), leaf.span.line)
        for leaf in fact.inputs
        if isinstance(leaf, Declared) and str(leaf.label) != "expression"
    ]


def test_the_pedigree_of_a_value_is_what_its_expression_reads_each_with_its_line():
    expression = 'sum(f.power.maximum for f in fans) + fact("power.processors.maximum")'
    fact = facts({"key": "house.a", "expression": expression, "when": 'inlet < "40 degC"'})[
        "house.a"
    ]
    assert [each.key for each in fact.inputs if isinstance(each, Fact)] == [
        "power.processors.maximum"
    ]
    found = leaves(fact)
    assert found[0][:2] == ("", "30\u202f°C")
    assert {(subject, value) for subject, value, _ in found[1:]} == {
        (f"FAN {n}", "15\u202fW") for n in range(1, 7)
    }
    assert all(line > 0 for _, _, line in found)
    own = fact.inputs[-1]
    assert isinstance(own, Declared)
    assert own.value == expression
    assert own.span.file == "specgen.yaml"


def test_what_is_counted_or_looked_for_leads_to_the_line_that_put_it_there():
    full = project(base()).assemblies[BUILD]
    fact = facts({"key": "house.a", "expression": "count(d for d in drives)"})["house.a"]
    placed = {place.name: place.at.line for place, _ in full.everything()}
    found = leaves(fact)
    assert len(found) == 8
    assert all(placed[subject] == line for subject, _, line in found)
    fact = facts({"key": "house.a", "expression": 'filled("CPU2")'})["house.a"]
    assert leaves(fact) == [("CPU2", "Corvane C32", placed["CPU2"])]


def test_a_value_over_a_collection_is_about_each_part_in_its_position():
    found = facts(
        {
            "key": "house.{position}.share",
            "over": "fans",
            "unit": "%",
            "expression": 'it.power.maximum / fact("power.cooling.maximum") * 100',
        }
    )
    own = {key: show(fact.value) for key, fact in found.items() if key.startswith("house.")}
    assert own == {f"house.FAN {n}.share": "16.7\u202f%" for n in range(1, 7)}
    fact = found["house.FAN 2.share"]
    assert (fact.subject, fact.template) == ("FAN 2", "house.{position}.share")
    assert leaves(fact)[0][0] == "FAN 2"
    assert [each.key for each in found.of_all("house.{position}.share")] == list(own)


def test_a_value_over_a_subject_reads_the_facts_about_each():
    found = facts(
        {
            "key": "house.{state}.twice",
            "over": "state",
            "expression": 'fact("power.{state}.load") * 2',
        }
    )
    assert found["house.maximum.twice"].value == Power.of(2 * 825)
    assert found["house.idle.twice"].value is None


def test_values_rest_on_values_however_they_are_listed():
    found = facts(
        {"key": "house.a", "expression": 'fact("house.b") + 1'},
        {"key": "house.b", "expression": 'fact("house.c") * 2'},
        {"key": "house.c", "expression": "fans.count"},
    )
    assert [found.value(f"house.{name}") for name in "abc"] == [13, 12, 6]


def test_rules_read_values_and_say_them_by_their_label():
    files = with_values(
        {"key": "house.a", "label": "Heat of the house", "expression": 'fact("power.maximum")'}
    )
    files["platforms/lantern.yaml"] += (
        'rules:\n- {code: QW-1, require: \'fact("house.a") < "500 W"\'}\n'
    )
    found = project(files)
    (broken,) = [each for each in found.findings if each.at.span.file.endswith("full.yaml")]
    assert str(broken.message) == "the heat of the house must be below 500\u202fW"
    assert tuple(map(str, broken.notes)) == ("the heat of the house is 825\u202fW",)


# the fields of a value, code, the text that the finding points at, words of message and help
MISTAKES = (
    ({"expression": "fan.count"}, "SG133", "fan", "fans"),
    ({"expression": 'fact("power.maximun")'}, "SG211", '"power.maximun"', "power.maximum"),
    ({"expression": 'fact("house.b") + 1'}, "SG211", '"house.b"', "house.a"),
    ({"expression": 'fans.count + "5 W"'}, "SG134", 'fans.count + "5 W"', "added"),
    ({"expression": "fans"}, "SG135", "fans", "count it"),
    ({"expression": 'part("CPU1")'}, "SG135", 'part("CPU1")', "fields"),
    ({"expression": "fans.count +"}, "SG131", "+", ""),
    ({"expression": "it.mass"}, "SG132", "it", "here `it` is nothing"),
    ({"expression": "fans.count", "when": "fans.count"}, "SG135", "fans.count", "holds"),
    ({"expression": 'has("corvan-c32")'}, "SG201", '"corvan-c32"', "corvane-c32"),
    ({"expression": 'fact("power.maximum")', "unit": "kg"}, "SG122", "'kg'", "power"),
    ({"expression": "fans.count", "unit": "watt"}, "SG123", "'watt'", ""),
    ({"expression": "fans.count > 2", "unit": "W"}, "SG138", "'W'", "leave `unit` out"),
    ({"expression": "it.mass", "over": "fan"}, "SG133", "'fan'", "fans"),
    ({"expression": "it.mass", "over": "fans"}, "SG138", "'house.a'", "`house.{position}."),
    (
        {"expression": "it.mass", "over": "fans", "key": "house.one.mass"},
        *("SG138", "'house.one.mass'", "`house.{position}.…`"),
    ),
    ({"expression": "fans.count", "key": "house.{position}.a"}, "SG138", "", "add `over"),
    ({"expression": 'fact("power.{state}.load")'}, "SG133", '"power.{state}.load"', "braces"),
    ({"expression": "fans.count", "key": "power.maximum"}, "SG205", "'power.maximum'", "house"),
    ({"expression": "fans.count", "key": "power.idle.input"}, "SG205", "", "already"),
    ({"expression": "fans.count", "key": "order.fans"}, "SG138", "'order.fans'", "house.fans"),
    ({"expression": "fans.count", "key": "order.all.fans"}, "SG138", "", "`house.all.fans`"),
    ({"expression": "fans.count", "key": "lantern.fans"}, "SG138", "'lantern.fans'", "kept"),
    ({"expression": "fans.count", "key": "House"}, "SG112", "'House'", "house.power_per_core"),
)


@pytest.mark.parametrize(("fields", "code", "piece", "words"), MISTAKES)
def test_a_mistake_in_a_value_is_a_finding_at_its_piece_of_the_line(fields, code, piece, words):
    found = valued({"key": "house.a", **fields})
    (finding,) = found.findings
    span = finding.at.span
    assert finding.code.id == code
    line = found.line(finding)
    if piece:
        assert line[span.column - 1 : span.end_column - 1] == piece
    assert words in f"{finding.message}; {finding.help}"


def test_values_in_a_circle_are_reported_once_and_others_live():
    found = valued(
        {"key": "house.a", "expression": 'fact("house.b") + 1'},
        {"key": "house.b", "expression": 'fact("house.a") + 1'},
        {"key": "house.c", "expression": 'fact("house.a") + 1'},
        {"key": "house.d", "expression": "fans.count"},
    )
    (finding,) = found.findings
    assert finding.code.id == "SG139"
    assert "`house.a`, `house.b`, `house.a`" in str(finding.message)
    made = facts_of(found.assemblies[BUILD])
    assert [key for key in made if key.startswith("house.")] == ["house.d"]


def test_what_rests_on_a_mistake_is_not_told_again():
    files = with_values(
        {"key": "house.a", "expression": "fan.count"},
        {"key": "house.b", "expression": 'fact("house.a") + 1'},
    )
    files["platforms/lantern.yaml"] += "rules:\n- {code: QW-1, require: 'fact(\"house.b\") < 5'}\n"
    assert project(files).codes == ["SG133"]


def test_one_key_for_two_values_shows_both():
    found = valued(
        {"key": "house.a", "expression": "fans.count"},
        {"key": "house.a", "expression": "drives.count"},
    )
    (finding,) = found.findings
    assert finding.code.id == "SG205"
    assert finding.labels[0].span.line == finding.at.span.line - 1


def test_a_value_that_takes_too_long_is_a_finding_and_has_no_value():
    inner = "count(a for a in parts if any(b.mass == c.mass for c in parts))"
    found = valued({"key": "house.a", "expression": f"sum({inner} for b in parts)"})
    assert {finding.code.id for finding in found.findings} <= {"SG132", "SG136"}
    assert found.findings
    assert facts_of(found.assemblies[BUILD]).value("house.a") is None


def test_a_value_is_listed_explained_exported_and_put_into_documents(tmp_path, capsys):
    from specgen.cli import main

    own = {"key": "house.a", "label": "Turning fans", "expression": "fans.count"}
    files = with_values(own)
    files["templates/note.md"] = '# Note\n\nFans: {{ fact("house.a") }}.\n'
    for name, text in files.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    project_ = ["--project", str(tmp_path)]
    assert main(["facts", BUILD, "house", *project_]) == 0
    assert capsys.readouterr().out == "house.a\t6\tTurning fans\n"
    assert main(["explain", BUILD, "house.a", *project_]) == 0
    assert "specgen.yaml:" in capsys.readouterr().out
    assert main(["data", BUILD, *project_]) == 0
    data = json.loads(capsys.readouterr().out)
    (made,) = [fact for fact in data["facts"] if fact["key"] == "house.a"]
    assert (made["value"], made["label"]) == (6, "Turning fans")
    assert main(["sheet", BUILD, "--document", "note", "--to", "md", *project_]) == 0
    assert "Fans: 6." in capsys.readouterr().out
    assert main(["compare", BUILD, "lantern-small", "--to", "md", *project_]) == 0
    assert "Turning fans" in capsys.readouterr().out
