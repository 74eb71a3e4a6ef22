"""Texts that documents share: shipped, replaced piece by piece by a project's own, checked."""

from pathlib import Path

import pytest

from specgen.document.blocks.cautions import cautions
from specgen.document.shared_texts import mistakes, texts_of
from specgen.document.tree import Caution, Paragraph, plain_text
from specgen.pipeline import Survey
from specgen.shipped import templates_folder

OWN = """\
- id: laser-light
  subject: laser light
- id: moving-parts
  subject: moving parts
  when: fans.count >= 6
  says: Six fans or more.
- id: salt
  subject: salt
  says:
    - - The machine weighs {mechanics.mass}.
      - {when: drives.count >= 1000, text: Never said.}
"""


def written(folder: Path, text: str, file: str = "cautions.yaml") -> Path:
    own = folder / "templates" / "texts"
    own.mkdir(parents=True)
    (own / file).write_text(text, encoding="utf-8")
    return folder


def test_the_shipped_texts_are_sound(demo: Survey) -> None:
    assert demo.definitions is not None
    texts = texts_of(templates_folder(), None)
    assert list(mistakes(texts, demo.definitions)) == []
    assert len(texts.cautions) >= 7
    assert len(texts.glossary) >= 20
    assert texts.of_kind("fan").warn


def test_a_project_replaces_leaves_out_and_adds(demo: Survey, tmp_path: Path) -> None:
    texts = texts_of(templates_folder(), written(tmp_path, OWN))
    assert demo.definitions is not None
    assert list(mistakes(texts, demo.definitions)) == []
    made = {}
    for block in cautions(demo.cases["boathouse-archive"], texts):
        assert isinstance(block, Caution)
        cells = [each.children for each in block.children if isinstance(each, Paragraph)]
        made[str(block.subject)] = [plain_text(cell) for cell in cells]
    assert "laser light" not in made
    assert made["moving parts"] == ["Six fans or more."]
    assert len(made["salt"]) == 1
    assert made["salt"][0].startswith("The machine weighs ")
    assert "Never" not in made["salt"][0]
    assert "mains power" in made


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        ("id: x\n", 1, "a file of texts needs a list"),
        ("- {id: x, subject: y,\n   says: TBD}\n", 2, "`says` is left to do"),
        ("- {id: x, subject: y, says: z}  # TODO: more\n", 1, "`id` is left to do"),
        ("- {id: x, subject: to do, says: to do}  # to do\n", 1, "`subject` is left to do"),
        ("- x\n", 1, "a text needs a mapping of fields"),
        ("- {id: x}\n", 1, "`subject` is missing"),
        (
            "- {id: x, subject: y, says: z, when: fanns.count > 1}\n",
            1,
            "no collection or condition is named `fanns`",
        ),
    ],
)
def test_mistakes_are_reported_at_their_line(
    demo: Survey, tmp_path: Path, text: str, line: int, message: str
) -> None:
    assert demo.definitions is not None
    texts = texts_of(templates_folder(), written(tmp_path, text))
    (found,) = mistakes(texts, demo.definitions)
    assert found.at.span.file == "templates/texts/cautions.yaml"
    assert found.at.span.line == line
    assert str(found.message) == message
