"""Parts of declared kinds have their lines wherever those of shipped kinds have theirs."""

import json
import re
import shutil
from pathlib import Path

import jsonschema
import pytest
import yaml

from specgen.cli import main
from specgen.cli.known_kinds import complete_kind
from specgen.cli.new import part_command
from specgen.document.case import PartCase
from specgen.document.document_types import part_document
from specgen.document.shelf import templates_of
from specgen.drawings.sizes import Face, face_of
from specgen.drawings.topology import topology
from specgen.facts import facts_of
from specgen.limits.limit import Status
from specgen.limits.limit_tables import table_of
from specgen.limits.objectives import printed as printed_limits
from specgen.load.scaffold import fresh
from specgen.load.schema import schemas
from specgen.quantity import Power
from specgen.write.writer_options import Options
from specgen.write.writers import WRITERS
from tests.kinds.conftest import Printed
from tests.kinds.shelves import (
    BUILDS,
    KINDS,
    PARTS,
    PLATFORM,
    SHELF,
    edited_shelf,
    full,
    shelf,
    shelf_files,
)
from tests.projects import for_editors, project

SCHEMA_OF = {KINDS: "kind", PARTS: "part", PLATFORM: "platform", BUILDS: "build"}


def rows(markdown: str) -> list[list[str]]:
    """The rows of all tables, cell by cell."""
    return [
        [cell.strip() for cell in line.strip("|").split(" | ")]
        for line in markdown.split("\n")
        if line.startswith("| ")
    ]


def test_a_guide_offers_them_by_the_fields_that_their_kind_names(printed: Printed):
    found = rows(printed("sheet", "saltpan", "--to", "md"))
    assert [
        "I/O module", "Order number", "Host ports", "Rate of a host port", "Managed through",
        "Maximum power", "Goes into",
    ] in found  # fmt: skip
    assert [
        "Saltpan I/O module, two ports", "`QW-SP-202`", "2", "12 Gbit/s", "in-band", "16 W",
        "IOM 1 to 2",
    ] in found  # fmt: skip
    assert ["Carrier blank", "Goes into"] in found


def test_a_sheet_says_what_is_fitted(printed: Printed):
    found = rows(printed("sheet", "saltpan-full", "--to", "md"))
    name = "Saltpan I/O module, four ports"
    assert ["IOM 1 to 2", name, "2", "4", "24 Gbit/s", "own port", "23 W"] in found


def test_a_parts_list_counts_them_and_says_what_their_kind_wants_said(printed: Printed):
    [line] = [
        row
        for row in rows(printed("sheet", "saltpan-full", "--document", "parts-list", "--to", "md"))
        if row[0] == "Saltpan I/O module, four ports"
    ]
    assert line[1:] == [
        "I/O module", "`QW-SP-204`", "2", "IOM 1 to 2", "active", "1.24 kg",
        "Host ports: 4; Rate of a host port: 24 Gbit/s",
    ]  # fmt: skip
    sheet = printed("parts", "saltpan-full", "--to", "csv").splitlines()
    assert sheet[0].endswith(",Details")
    assert any(line.endswith(",Host ports: 4; Rate of a host port: 24 Gbit/s") for line in sheet)
    made = json.loads(printed("parts", "saltpan-full", "--to", "json"))
    [entry] = [each for each in made["lines"] if each["id"] == "iom-quad"]
    assert entry["details"]["host_rate"] == {
        "label": "Rate of a host port", "value": 24, "exact": 24, "unit": "Gbit/s",
    }  # fmt: skip


def test_a_comparison_counts_them_and_sets_their_fields_side_by_side(printed: Printed):
    found = rows(printed("compare", "saltpan-full", "saltpan-small", "--to", "md"))
    assert ["**I/O modules**", "2", "1"] in found
    assert ["I/O module: Rate of a host port", "24 Gbit/s", "24 Gbit/s"] in found
    assert ["Carrier blank", "Carrier blank", "–", "8"] in found


def test_a_part_has_its_page_with_every_field():
    definitions = shelf().definitions
    assert definitions is not None
    part = PartCase(definitions, definitions.parts["iom-quad"], ())
    document, problems = part_document("part", templates_of(SHELF), part)
    assert problems == ()
    assert document is not None
    found = rows(WRITERS["md"].write(document, Options()).decode("utf-8"))
    assert ["Kind", "I/O module"] in found
    assert ["Zones drives by host", "yes"] in found
    assert ["protocols" in row[0].lower() and row[1] for row in found].count("sas, sata") == 1
    assert ["D", "SAS 4", "x16", "port"] in found


def test_their_power_counts_in_the_sums():
    facts, modules, drives = full().facts, 2, 12
    assert facts.value("power.storage.maximum") == Power.of(modules * 23 + drives * 11, "W")


def test_what_says_no_power_though_its_kind_draws_some_is_missed():
    files = edited_shelf(PARTS, "      power: {idle: 14 W, typical: 18 W, maximum: 23 W}\n", "")
    facts = facts_of(project(files).assemblies["saltpan-full"])
    assert facts.value("power.undeclared") == ("iom-quad",)


def test_facts_are_under_what_rules_call_them(printed: Printed):
    lines = printed("facts", "saltpan-full").splitlines()
    got = dict(line.split("\t")[:2] for line in lines)
    assert got["parts.io_modules.count"] == "2"
    assert got["parts.io_modules.host_rate"] == "24 Gbit/s"
    why = printed("explain", "saltpan-full", "parts.io_modules.host_rate")
    assert re.search(
        r"IOM 1 to 2, .*: rate of a host port = 24 Gbit/s each\s+\S*catalog/shelf.yaml:\d+", why
    )
    assert "The rate of a host port of every I/O module must be 20 Gbit/s or more" in printed(
        "explain", "QW-103"
    )


def test_the_data_of_a_build_has_their_fields(printed: Printed):
    made = json.loads(printed("data", "saltpan-full", "--to", "json"))
    [part] = [each for each in made["parts"] if each["id"] == "iom-quad"]
    assert (part["kind"], part["kind_title"]) == ("io-module", "I/O module")
    assert part["values"]["host_ports"]["value"] == 4


def test_a_topology_shows_them():
    boxes = topology(full().assembly).boxes()
    assert {"IOM 1", "IOM 2"} <= {name for box in boxes for name in box.places}


def test_pictures_draw_them_as_large_as_they_are():
    size = "mass: 0.62 kg\n      size: {width: 110 mm, height: 38 mm, depth: 180 mm}"
    files = edited_shelf(PARTS, "mass: 0.62 kg", size)
    places = project(files).assemblies["saltpan-full"].places
    assert face_of(places["IOM 1"]) == Face(110, 38, 180)


@pytest.mark.parametrize("name", SCHEMA_OF)
def test_editors_know_them(name: str):
    definitions = shelf().definitions
    assert definitions is not None
    schema = json.loads(schemas(definitions.kinds)[f"{SCHEMA_OF[name]}.json"])
    checker = jsonschema.Draft202012Validator(schema)
    tree = for_editors(yaml.safe_load(shelf_files()[name]))
    assert [error.message[:200] for error in checker.iter_errors(tree)] == []


def test_the_schema_of_parts_says_what_each_field_is_and_refuses_what_it_cannot_be():
    definitions = shelf().definitions
    assert definitions is not None
    schema = json.loads(schemas(definitions.kinds)["part.json"])
    field = schema["$defs"]["io-module"]["properties"]["host_ports"]
    assert field["title"] == "Host ports"
    assert field["description"] == "Ports to hosts and to further shelves."
    checker = jsonschema.Draft202012Validator(schema)
    part = {
        "kind": "io-module", "id": "x", "name": "X", "source": {"document": "D"},
        "form": "f", "host_ports": 4, "host_rate": "24 Gbit/s",
    }  # fmt: skip
    assert checker.is_valid(part)
    assert not checker.is_valid({**part, "host_rate": "24 W"})
    assert not checker.is_valid({**part, "management": "elsewhere"})
    assert not checker.is_valid({**part, "host_port": 4})
    assert not checker.is_valid({key: part[key] for key in part if key != "host_ports"})


@pytest.mark.parametrize(("rule", "most"), [("io_modules.count <= 2", 2), ("zoned <= 1", 1)])
def test_how_many_a_platform_can_reach_is_proved(rule: str, most: int):
    rule = rule.replace("zoned", "count(m for m in io_modules if m.zoning)")
    files = edited_shelf("specgen.yaml", "io_modules.count <= 2", rule)
    files[PARTS] = files[PARTS].replace("host_rate: 12", "zoning: true\n      host_rate: 24")
    definitions = project(files).loaded.definitions
    assert definitions is not None
    platform = definitions.platforms["saltpan"]
    assert "io-module" in printed_limits(definitions, platform)
    [limit] = table_of(definitions, platform, ["io-module"])
    assert (limit.value, limit.status) == (most, Status.PROVED)
    assert str(limit.label) == "I/O modules"


def test_a_kind_that_nothing_takes_has_no_limit():
    files = shelf_files()
    files["kinds/more.yaml"] = "{id: cable-tray, title: Cable tray, plural: Cable trays}\n"
    definitions = project(files).loaded.definitions
    assert definitions is not None
    assert "cable-tray" not in printed_limits(definitions, definitions.platforms["saltpan"])


def test_a_guide_prints_the_limit(printed: Printed):
    assert ["I/O modules, max.", "2"] in rows(printed("sheet", "saltpan", "--to", "md"))


def test_a_sheet_in_german_leaves_the_words_of_the_project_as_they_are(capsys):
    words = ("sheet", "saltpan-full", "--to", "md", "--language", "de", "--project", str(SHELF))
    assert main([*words]) == 0
    out, err = capsys.readouterr()
    heads = [row[3:6] for row in rows(out)]
    assert ["Host ports", "Rate of a host port", "Managed through"] in heads
    assert [word for word in ("I/O module", "ost port", "Managed") if word in err] == []


def test_a_shell_completes_kinds_of_the_project(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(SHELF)
    context = part_command.make_context("part", ["x"], resilient_parsing=True)
    kind = next(each for each in part_command.params if each.name == "kind")
    offered = {item.value for item in complete_kind(context, kind, "")}
    assert {"io-module", "drive-carrier-blank", "processor"} <= offered
    assert [item.value for item in complete_kind(context, kind, "io")] == ["io-module"]


def test_schemas_within_a_project_know_its_kinds(tmp_path: Path, capsys):
    folder = tmp_path / "shelf"
    shutil.copytree(SHELF, folder)
    assert main(["schema", str(folder / ".schemas"), "--quiet"]) == 0
    assert "io-module" in (folder / ".schemas" / "part.json").read_text(encoding="utf-8")
    assert main(["new", "kind", "rail-lock", "--project", str(folder)]) == 0
    text = (folder / "kinds" / "rail-lock.yaml").read_text(encoding="utf-8")
    assert text.startswith("# yaml-language-server: $schema=../.schemas/kind.json")
    assert main(["new", "part", "lock-1", "--kind", "rail-lock", "--project", str(folder)]) == 0
    assert main(["check", "--project", str(folder)]) == 0
    assert main(["new", "kind", "io-module", "--project", str(folder)]) == 2
    assert "is there already" in capsys.readouterr().err


def test_a_new_part_of_the_kind_loads_at_once(tmp_path: Path):
    definitions = shelf().definitions
    assert definitions is not None
    text = fresh(definitions.kinds["io-module"], {"id": "iom-new", "name": "New"}, kind="io-module")
    assert "host_rate: 1 Gbit/s  # to do" in text
    assert "# to do: ports to hosts and to further shelves" in text
    found = project({**shelf_files(), "catalog/new.yaml": text})
    told = {(each.code.id, each.at.span.file) for each in found.findings}
    assert told == {("SG126", "catalog/new.yaml")}  # its placeholders, and nothing else
    assert found.loaded.definitions is not None
    assert "iom-new" in found.loaded.definitions.parts


@pytest.mark.parametrize("words", [("saltpan",), ("saltpan-full", "--document", "engineering")])
def test_documents_are_silent_about_what_a_shelf_has_no_place_for(printed: Printed, words):
    text = printed("sheet", *words, "--to", "md")
    assert "## Storage" in text
    assert [
        each for each in ("memory module", "Memory map", "Processors and") if each in text
    ] == []
