"""A template of the project's own that extends a shipped one and replaces some of its blocks."""

from dataclasses import replace
from pathlib import Path

import pytest

from specgen.cli import main
from specgen.document.template_calls import OnDisk
from specgen.shipped import templates_folder
from tests.projects import base

OWN = """{% extends "shipped/sheet.md" %}
{% block network %}
## Network

Ask the network team of {{ project.publisher.name }} first.

{{ super() }}
{% endblock %}
{% block topology %}{% endblock %}
{% block safety %}
## Before work begins

{{ cautions() }}

{{ prose("handover") }}
{% endblock %}
"""


@pytest.fixture
def here(tmp_path: Path) -> Path:
    files = {**base(), "templates/sheet.md": OWN}
    files["prose/lantern-full/handover.md"] = (
        "Hand over with {lantern-full: processors.cores} cores.\n"
    )
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def test_blocks_are_replaced_and_all_else_is_that_of_the_shipped_one(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["sheet", "lantern-full", "--to", "md", "--project", str(here)]) == 0
    changed = capsys.readouterr().out
    (here / "templates/sheet.md").unlink()
    assert main(["sheet", "lantern-full", "--to", "md", "--project", str(here)]) == 0
    shipped = capsys.readouterr().out
    assert "Ask the network team of" in changed
    assert "## Topology" in shipped
    assert "## Topology" not in changed
    assert "## Before work begins" in changed
    assert "## Safety" not in changed
    assert "Hand over with 64 cores" in changed.replace("\N{NO-BREAK SPACE}", " ")
    for heading in ("## Processors and memory", "## Storage", "## Power"):
        section = shipped.split(heading)[1].split("\n## ")[0]
        assert section in changed


def test_what_the_shipped_one_calls_is_called(here: Path) -> None:
    """Prose refers to its tables, and texts that it prints are not told as unprinted."""
    makers = ("fact_table", "prose", "cautions")
    whole = list(OnDisk(here).calls("sheet", makers))
    (here / "templates/sheet.md").unlink()
    ours = [replace(each, line=1) for each in OnDisk(here).calls("sheet", makers)]
    assert [each.name for each in whole[: -len(ours)]] == ["cautions", "prose"]
    assert whole[-len(ours) :] == ours


def test_a_shipped_one_that_is_not_there_is_told_at_its_line(
    here: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (here / "templates/sheet.md").write_text(OWN.replace("shipped/sheet", "shipped/shet"))
    assert main(["sheet", "lantern-full", "--to", "md", "--project", str(here)]) != 0
    said = capsys.readouterr().err
    assert "SG401" in said
    assert "templates/sheet.md:1" in said


@pytest.mark.parametrize("name", ["sheet", "guide"])
def test_every_section_can_be_replaced(name: str) -> None:
    text = (templates_folder() / f"{name}.md").read_text(encoding="utf-8")
    depth = 0
    for line in text.split("\n"):
        depth += line.startswith("{% block") - line.startswith("{% endblock")
        assert not line.startswith("## ") or depth == 1, line
