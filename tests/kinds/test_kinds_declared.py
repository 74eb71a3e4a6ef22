"""What can be wrong with a kind that a project declares, and with the parts of it."""

import pickle
import re
from typing import get_args

import pytest

from specgen.model.kinds.declared_kinds import (
    TRAITS,
    DeclaredField,
    DeclaredKind,
    TraitName,
    kind_of,
)
from specgen.quantity import DataRate
from tests.kinds.shelves import (
    BUILDS,
    KINDS,
    PARTS,
    PLATFORM,
    SHELF,
    edited_shelf,
    shelf,
    shelf_files,
)
from tests.projects import project

BLANK = "    - {name: form, type: text, required: true}\n"


def findings(files: dict[str, str]) -> list[tuple[str, str, str]]:
    """Code, line pointed at, and help of everything found in a project."""
    found = project(files)
    return [(each.code.id, found.line(each).strip(), str(each.help)) for each in found.findings]


def with_field(text: str) -> dict[str, str]:
    """The shelf with one field more in its second kind."""
    files = shelf_files()
    head, blank, tail = files[KINDS].rpartition(BLANK)
    files[KINDS] = f"{head}{blank}    - {text}\n{tail}"
    return files


def test_the_shelf_is_sound():
    assert findings(shelf_files()) == []


@pytest.mark.parametrize(
    ("field", "code", "help_"),
    [
        ("{name: flow, type: quantty, unit: W}", "SG113", "did you mean `quantity`?"),
        ("{name: flow, type: quantity, unit: l/mim}", "SG123", "did you mean `l/min`"),
        ("{name: flow, type: quantity}", "SG114", "add `unit: l/min`, say"),
        ("{name: flow, type: quantity, unit: B}", "SG122", "`data size` or `sound power`"),
        ("{name: flow, type: quantity, unit: W, dimension: mass}", "SG122", "units of it are kg"),
        ("{name: flow, type: quantity, dimension: presure}", "SG113", "did you mean `pressure`?"),
        ("{name: flow, type: text, unit: W}", "SG113", "write `type: quantity`"),
        ("{name: flow, type: choice}", "SG114", "add `choices: [small, large]`, say"),
        ("{name: flow, type: choice, choices: [a, b, a]}", "SG113", ""),
        ("{name: flow, type: text, choices: [a, b]}", "SG113", "write `type: choice`"),
        ("{name: mass, type: text}", "SG117", "leave it out here"),
        ("{name: position, type: text}", "SG117", "choose another name"),
        ("{name: form, type: text}", "SG117", "give one of them another name"),
        ("{name: height, type: quantity, unit: mm}", "SG117", "the trait `card`"),
        ("{name: socket, type: whole-number}", "SG117", "choose another name"),
        ("{name: class, type: text}", "SG112", "such as `flow_rate`"),
        ("{name: Flow, type: text}", "SG112", "such as `flow_rate`"),
        ("{name: flow, type: text, labl: Flow}", "SG111", "did you mean `label`?"),
    ],
)
def test_a_field_that_cannot_be(field: str, code: str, help_: str):
    found = [each for each in findings(with_field(field)) if each[0] != "SG212"]
    assert [each[0] for each in found] == [code]
    assert found[0][1] == f"- {field}"
    assert help_ in found[0][2]


@pytest.mark.parametrize(
    "field",
    [
        "{name: socket, type: text}",
        "{name: tdp, type: quantity, unit: W}",
        "{name: raid, type: whole-number, list: true}",
        "{name: swap, type: choice, choices: [hot, cold]}",
        "{name: level, type: quantity, unit: B, dimension: sound power}",
        "{name: reach, type: quantity, dimension: length}",
    ],
)
def test_a_field_that_means_what_positions_and_checks_take_it_for(field: str):
    assert findings(with_field(field)) == []


@pytest.mark.parametrize(
    ("old", "new", "code", "help_"),
    [
        ("plural: Carrier blanks", "plural: Drives", "SG205", "choose another `plural`"),
        ("plural: Carrier blanks", "plural: Parts", "SG205", "choose another `plural`"),
        ("plural: Carrier blanks", "plural: 2U blanks", "SG113", "choose another `plural`"),
        ("traits: closes-position", "traits: closes-positions", "SG113", "`closes-position`?"),
        ("choices: [host_ports,", "choices: [host_prots,", "SG111", "`host_ports`"),
        ("title: Carrier blank", "titel: Carrier blank", "SG111", "did you mean `title`?"),
    ],
)  # fmt: skip
def test_a_kind_that_cannot_be(old: str, new: str, code: str, help_: str):
    found = findings(edited_shelf(KINDS, old, new))
    assert found[0][0] == code
    assert help_ in found[0][2]
    assert len(found) == 1, "its parts and positions are not told as well"


@pytest.mark.parametrize(
    ("id_", "help_"),
    [("riser", "give this one another `id`"), ("io-module", "give one of them another `id`")],
)
def test_a_kind_under_an_id_that_is_taken(id_: str, help_: str):
    files = shelf_files()
    files["kinds/two.yaml"] = f"{{id: {id_}, title: Other, plural: Others}}\n"
    assert [(code, help_ in got) for code, _, got in findings(files)] == [("SG205", True)]


@pytest.mark.parametrize(
    ("old", "new", "code", "help_"),
    [
        ("host_rate: 24 Gbit/s", "host_rate: 24 W", "SG122", "such as `25 Gbit/s`"),
        ("host_rate: 24 Gbit/s", "host_rate: 24", "SG121", ""),
        ("host_ports: 4", "host_ports: four", "SG112", "such as `8`"),
        ("management: own port", "management: own prot", "SG113", "did you mean `own port`?"),
        ("zoning: true", "zoning: yes", "SG112", ""),
        ("      host_ports: 4\n", "", "SG114", "add `host_ports: …`"),
        ("host_ports: 4", "host_port: 4", "SG111", "did you mean `host_ports`?"),
        ("swap: hot\n    protocols", "swap: hott\n    protocols", "SG113", "did you mean `hot`?"),
        ("kind: drive-carrier-blank", "kind: drive-carier-blank", "SG115", "drive-carrier-blank"),
    ],
)  # fmt: skip
def test_a_part_of_a_declared_kind_is_read_as_strictly_as_others(
    old: str, new: str, code: str, help_: str
):
    found = findings(edited_shelf(PARTS, old, new))
    assert {each[0] for each in found} == {code}
    assert help_ in found[0][2]


@pytest.mark.parametrize(
    ("name", "old", "new", "code"),
    [
        (PLATFORM, "{name: IOM 2, takes: io-module", "{name: IOM 2, takes: io-modul", "SG115"),
        (BUILDS, "    IOM 1..2: iom-quad", "    IOM 1..2: disk-18t", "SG301"),
        (PARTS, "form: saltpan-iom", "form: marsh-iom", "SG217"),
        (BUILDS, "    IOM 1: iom-quad\n", "", "SG318"),
        ("specgen.yaml", "io_modules.count <= 2", "io_modules.count <= 1", "QW-101"),
        ("specgen.yaml", "part(\"IOM 2\").form", "part(\"IOM 2\").host_ports", "SG134"),
        ("specgen.yaml", "module.host_rate >=", "module.host_rat >=", "SG133"),
    ],
)  # fmt: skip
def test_positions_and_rules_judge_declared_kinds(name: str, old: str, new: str, code: str):
    codes = [each[0] for each in findings(edited_shelf(name, old, new))]
    assert code in codes


def test_a_file_of_kinds_that_cannot_be_read_is_reported_and_its_parts_are_not():
    files = shelf_files()
    files[KINDS] = "- id: [\n"
    assert {each[0] for each in findings(files)} == {"SG101"}


GUIDE = SHELF.parents[2] / "site/manual/pages/guide/kinds.md"


def test_every_trait_can_be_named_and_the_manual_tells_of_it():
    assert set(TRAITS) == set(get_args(TraitName))
    manual = GUIDE.read_text(encoding="utf-8")
    assert set(re.findall(r"^\| `([a-z-]+)` \|", manual, re.M)) == set(TRAITS)


def test_the_kind_of_the_manual_can_be_read():
    manual = GUIDE.read_text(encoding="utf-8")
    [text] = re.findall(r"^# kinds/loop.yaml\n(.*?)^```", manual, re.M | re.S)
    assert findings({**shelf_files(), "kinds/loop.yaml": text}) == []


def test_all_traits_together_make_a_kind():
    kind = kind_of(
        DeclaredKind(id="everything", title="Everything", plural="Everything", traits=tuple(TRAITS))
    )
    assert all(issubclass(kind, trait) for trait in TRAITS.values())


def test_equal_declarations_have_one_class_and_parts_travel_between_processes():
    field = DeclaredField(name="flow", type="quantity", unit="l/min")
    one, other = (
        kind_of(DeclaredKind(id="pump", title="Pump", plural="Pumps", fields=(field,)))
        for _ in range(2)
    )
    assert one is other
    definitions = shelf().definitions
    assert definitions is not None
    part = definitions.parts["iom-quad"]
    copy = pickle.loads(pickle.dumps(part))
    assert copy == part
    assert type(copy) is type(part)
    assert copy.host_rate == DataRate.parse("24 Gbit/s")
    assert copy.origin.at("host_rate") == part.origin.at("host_rate")
