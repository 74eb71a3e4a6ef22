"""Files of comma-separated values beside a text, as tables whose cells may be references."""

from pathlib import Path

import pytest

from specgen.document.prose.block import blocks_of_prose
from specgen.document.prose.checks import check_prose
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import read_texts
from specgen.document.tree import Column, Datum, Table, Text, words
from specgen.messages import ENGLISH
from specgen.quantity import Power
from tests.prose.conftest import SUBJECT
from tests.prose.test_pages_of_the_site import ready
from tests.prose.test_texts import put

CABLES = 'Where,Length,Draws\nRack,2.5,{power.maximum}\n"Wall, left",10,\n'
CALL = '{{ csv("cables.csv", "Cables") }}\n'
PIECE = f"prose/{SUBJECT}/introduction.md"
BESIDE = f"prose/{SUBJECT}/cables.csv"


def put_beside(folder: Path, content: str | bytes, call: str = CALL) -> None:
    put(folder, {PIECE: call})
    (folder / BESIDE).write_bytes(content if isinstance(content, bytes) else content.encode())


def found(folder: Path, subjects: Subjects) -> list[tuple[str, str, int, str]]:
    texts, findings = read_texts(folder)
    return [
        (each.code.id, each.at.span.file, each.at.span.line, ENGLISH.text(each.help))
        for each in (*findings, *check_prose(texts, subjects))
    ]


def test_a_file_is_a_table_with_its_references_printed(tmp_path: Path, subjects: Subjects) -> None:
    for content in (CABLES, CABLES.replace(",", ";").replace("l; l", "l, l")):
        put_beside(tmp_path, content.replace("Wall;", "Wall,"))
        ((text,), _) = read_texts(tmp_path)
        assert blocks_of_prose(text, subjects, SUBJECT) == (
            Table(
                "Cables",
                (Column("Where"), Column("Length", "end"), Column("Draws", "end")),
                (
                    (words("Rack"), (Text("2.5"),), (Datum(Power.of(825), "power.maximum"),)),
                    (words("Wall, left"), (Text("10"),), ()),
                ),
                "cables-table",
            ),
        )
        assert found(tmp_path, subjects) == []


def test_a_page_needs_no_subject_for_it(tmp_path: Path, subjects: Subjects) -> None:
    put(tmp_path, {"pages/n.md": "# One\n\n" + CALL})
    content = CABLES.replace("{power", f"{{{SUBJECT}: power")
    (tmp_path / "pages/cables.csv").write_text(content, encoding="utf-8")
    assert found(tmp_path, subjects) == []
    assert ">825" in ready(tmp_path, subjects)["n.html"].html()


@pytest.mark.parametrize(
    ("content", "code", "line", "help_"),
    [
        ("a,b\n1,2\n\n1,2,3\n", "SG518", 4, "as many cells"),
        ("a,b\n1\n", "SG518", 2, "as many cells"),
        ('a,b\n"1,2\n', "SG518", 2, "in quotes"),
        ("a,b\n", "SG518", 1, "a line below them"),
        ("", "SG518", 1, "a line below them"),
        ("a,b\n1,{power.maximun}\n", "SG501", 2, "`power.maximum`"),
        ("a,b\n1,{part tmp}\n", "SG501", 2, "`tpm`"),
    ],
)
def test_what_is_wrong_in_a_file_is_told_at_its_line(
    content: str, code: str, line: int, help_: str, tmp_path: Path, subjects: Subjects
) -> None:
    put_beside(tmp_path, content)
    ((told, file, at, mend),) = found(tmp_path, subjects)
    assert (told, file, at) == (code, BESIDE, line)
    assert help_ in mend


def test_a_file_that_is_not_there_or_no_text_is_told(tmp_path: Path, subjects: Subjects) -> None:
    put_beside(tmp_path, CABLES, '{{ csv("cabels.csv") }}\n')
    ((code, file, _, _),) = found(tmp_path, subjects)
    assert (code, file) == ("SG520", PIECE)
    put_beside(tmp_path, b"a,b\n\xff,1\n")
    assert ("SG100", BESIDE) in {(code, file) for code, file, _, _ in found(tmp_path, subjects)}


def test_a_link_that_leads_out_of_the_project_is_not_read(
    tmp_path: Path, subjects: Subjects
) -> None:
    outside = tmp_path / "outside.csv"
    outside.write_text(CABLES, encoding="utf-8")
    put(tmp_path / "own", {PIECE: CALL})
    (tmp_path / "own" / BESIDE).symlink_to(outside)
    ((text,), _) = read_texts(tmp_path / "own")
    assert text.beside == ()
