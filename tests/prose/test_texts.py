"""Where texts lie, what they are about, in which language, and the parts they speak of."""

from pathlib import Path

import pytest

from specgen.diagnostics.codes import PART_NAMED, UNKNOWN_SUBJECT
from specgen.document.maker import AuthorError
from specgen.document.prose.block import prose_block
from specgen.document.prose.checks import check_prose
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import read_texts
from specgen.document.tree import Paragraph, plain_text
from specgen.document.wording import Wording
from specgen.messages.catalogue import language_of
from specgen.pipeline import bare_case, systems_of
from tests.prose.conftest import Check


def put(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
    return folder


def maker(subjects: Subjects, folder: Path, language: str = "en"):
    platform = subjects.definitions.platforms["lantern"]
    case = bare_case(subjects.definitions, platform)
    machines = systems_of(subjects.definitions, {platform.id: case})
    return prose_block(case, folder, language, machines)


def texts_of(blocks, language: str = "en") -> list[str]:
    worded = Wording(language_of(language)).blocks(blocks)
    return [plain_text(each.children) for each in worded if isinstance(each, Paragraph)]


@pytest.mark.parametrize(
    "sentence", ["Fit a TPM\ngone there.", "Fit tpm-old.", "Fit {part tpm-old, it}."]
)
def test_a_withdrawn_part_is_reported_with_its_successor(check: Check, sentence: str):
    (found,) = check(f"{sentence}\n")
    assert found.code is PART_NAMED
    assert "discontinued since 2026-01-31" in str(found.message)
    assert str(found.help) == "write `{part tpm}`"


def test_a_text_about_a_withdrawn_part_may_name_it(check: Check):
    assert check("TPM gone: what to do with it.\n", head="subject: tpm-old") == ()


def test_a_part_whose_name_begins_alike_is_another(check: Check):
    assert check("Fit a TPM gonewards, or a TPM to come.\n") == ()


def test_a_text_about_something_unknown_is_one_finding(check: Check):
    (found,) = check("It draws {power.maximum}.\n", head="subject: lantern-ful")
    assert found.code is UNKNOWN_SUBJECT
    assert (found.at.span.line, found.at.span.column) == (2, 10)
    assert "`lantern-full`" in str(found.help)


def test_a_piece_is_about_the_folder_it_lies_in(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"prose/lantern/walk.md": "{memory.slots}", "prose/lanten/walk.md": "x"})
    texts, findings = read_texts(tmp_path)
    assert [(text.file, text.subject) for text in texts] == [
        ("prose/lanten/walk.md", "lanten"),
        ("prose/lantern/walk.md", "lantern"),
    ]
    assert findings == ()
    assert [f.code for f in check_prose(texts, subjects)] == [UNKNOWN_SUBJECT]


def test_what_cannot_be_read_or_lies_astray_is_reported(tmp_path: Path):
    put(tmp_path, {"prose/walk.md": "x", "pages/.hidden/n.md": "x"})
    (tmp_path / "pages/n.md").write_bytes(b"caf\xe9")
    texts, findings = read_texts(tmp_path)
    assert texts == ()
    assert [f.code.id for f in findings] == ["SG100", "SG507"]


def test_a_head_that_is_no_yaml_is_reported_at_its_line(tmp_path: Path):
    put(tmp_path, {"pages/n.md": "---\ntitle: x\nsubject: [\n---\ntext\n"})
    _, (found, *_) = read_texts(tmp_path)
    assert (found.code.id, found.at.span.file) == ("SG101", "pages/n.md")


def test_a_template_prints_the_piece_with_its_references(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"prose/lantern/walk.md": "## Front\n\nIt has {memory.slots, slot, slots}.\n"})
    assert texts_of(maker(subjects, tmp_path)("walk")) == ["It has 8\u00a0slots."]
    assert maker(subjects, tmp_path)("nothing") == ()
    assert maker(subjects, tmp_path)("walk", "lantern-full") == ()


def test_what_stands_in_a_definition_is_never_read_as_markdown(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"prose/lantern/walk.md": "{part sink, **not** bold <b>}\n"})
    assert texts_of(maker(subjects, tmp_path)("walk")) == ["**not** bold <b>"]


def test_no_template_reads_files_elsewhere(tmp_path: Path, subjects: Subjects):
    for name in ("../secret", "a/b", ".x"):
        with pytest.raises(AuthorError):
            maker(subjects, tmp_path)(name)


def test_the_language_of_the_document_chooses_the_text(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"prose/lantern/walk.md": "Walk.", "prose/lantern/walk.de.md": "Gang."})
    assert texts_of(maker(subjects, tmp_path)("walk")) == ["Walk."]
    assert texts_of(maker(subjects, tmp_path, "de")("walk")) == ["Gang."]
    assert texts_of(maker(subjects, tmp_path, "de-AT")("walk")) == ["Gang."]


@pytest.mark.parametrize(
    ("language", "line"),
    [
        ("ja", "この文章は日本語版がまだないため、英語で表示しています。"),
        ("de", "Dieser Text steht hier in der Sprache Englisch; auf Deutsch gibt es noch keinen."),
        ("fr", "This text is shown in English, as there is none in French yet."),
    ],
)
def test_another_language_in_its_place_is_said(
    tmp_path: Path, subjects: Subjects, language: str, line: str
):
    put(tmp_path, {"prose/lantern/walk.md": "Walk."})
    assert texts_of(maker(subjects, tmp_path, language)("walk"), language) == [line, "Walk."]
