"""Values of a project in files of their own: as if they stood in its specgen.yaml."""

from specgen.assembly import resolve
from specgen.facts import facts_of
from specgen.load.definitions import load
from specgen.rules.definitions.whole_project import misnamed
from tests.projects import base, sources

OWN = "values:\n  - {key: house.fans, label: Fans, expression: fans.count}\n"
LIST = "- {key: house.drives, label: Drives, expression: drives.count}\n"


def _facts(files: dict[str, str]):
    loaded = load(sources(files))
    assert loaded.findings == ()
    assert misnamed(loaded) == ()
    definitions = loaded.definitions
    assert definitions is not None
    assembly = resolve(definitions, definitions.builds["lantern-full"])
    assert assembly is not None
    return facts_of(assembly)


def test_they_stand_beside_those_of_the_project():
    files = base()
    files["specgen.yaml"] += OWN
    files["values/own.yaml"] = LIST
    files["values/more.yaml"] = (
        'values:\n  - {key: house.all, label: All, expression: fact("house.fans") + 1}\n'
    )
    facts = _facts(files)
    assert facts.value("house.fans") == 6
    assert facts.value("house.drives") == 8
    assert facts.value("house.all") == 7


def test_a_project_without_values_of_its_own_may_have_them():
    assert _facts({**base(), "values/own.yaml": LIST}).value("house.drives") == 8


def test_a_mistake_is_told_in_its_file_and_costs_one_value():
    wrong = LIST + "- {key: house.odd, label: Odd, expresion: 1}\n- 5\n"
    loaded = load(sources({**base(), "values/own.yaml": wrong}))
    found = [(each.code.id, each.at.span.file, each.at.span.line) for each in loaded.findings]
    assert found == [("SG111", "values/own.yaml", 2), ("SG112", "values/own.yaml", 3)]
    assert loaded.definitions is not None
    assert [each.key for each in loaded.definitions.project.values] == ["house.drives"]


def test_a_formula_that_names_nothing_is_told_in_its_file():
    wrong = "- {key: house.odd, label: Odd, expression: fnas.count}\n"
    (finding,) = misnamed(load(sources({**base(), "values/own.yaml": wrong})))
    assert (finding.code.id, finding.at.span.file) == ("SG133", "values/own.yaml")
