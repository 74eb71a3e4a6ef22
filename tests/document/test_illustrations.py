"""Pictures of a project's own: placed by templates, texts and pages, in every format; checked."""

import io
import os
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pypdf
import pytest
from PIL import Image

from specgen.cli import main
from specgen.diagnostics import Finding
from specgen.document.blocks.part_page import identity
from specgen.document.case import PartCase
from specgen.document.illustrated.picture_checks import check_pictures
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import read_texts
from specgen.document.tree import plain_text
from specgen.pipeline import read, systems_of
from specgen.site.handwritten import pages_of
from specgen.site.page_images import PageImages
from specgen.site.text_checks import check_texts
from specgen.site.workshop import pictures_from
from tests.projects import base

PICTURE = """\
id: rear
file: rear.png
alternative: The rear of a server with two supplies
caption: The rear
subject: lantern-full
"""


@cache
def png(width: int = 1000, height: int = 400) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (width, height), (90, 100, 110)).save(out, "PNG")
    return out.getvalue()


Make = Callable[..., Path]


@pytest.fixture
def make(tmp_path: Path) -> Make:
    """A project in a folder, with a picture and what else is given."""

    def made(picture: str = PICTURE, content: bytes | None = png(), **files: str) -> Path:
        for name, text in {**base(), **{k.replace("__", "/"): v for k, v in files.items()}}.items():
            path = tmp_path / (name if name.endswith(".yaml") else f"{name}.md")
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        (tmp_path / "pictures").mkdir(exist_ok=True)
        (tmp_path / "pictures" / "rear.yaml").write_text(picture, encoding="utf-8")
        if content is not None:
            (tmp_path / "pictures" / "rear.png").write_bytes(content)
        return tmp_path

    return made


def found(root: Path) -> list[Finding]:
    """What is said of the pictures and the texts of a project."""
    survey = read(root)
    assert survey.definitions is not None
    assert survey.loaded.findings == ()
    subjects = Subjects(survey.definitions, systems_of(survey.definitions))
    return list(check_texts(root, survey.loaded, subjects)[1])


def told(root: Path) -> list[tuple[str, str]]:
    """The codes, each with the text that it points at."""
    made = []
    for each in found(root):
        at = each.at.span
        line = (
            (root / at.file).read_text(encoding="utf-8", errors="replace").split("\n")[at.line - 1]
        )
        made.append((each.code.id, line[at.column - 1 : at.end_column - 1]))
    return made


PAGE = "# Rear\n\nBefore ![](../pictures/rear.png) after.\n"


def test_a_picture_that_a_page_shows_has_nothing_wrong(make: Make) -> None:
    assert found(make(pages__rear=PAGE)) == []


BROKEN = {
    "no file": ("file: rear.png", "file: raer.png", "SG509", "raer.png"),
    "outside": ("file: rear.png", "file: ../specgen.yaml", "SG509", "../specgen.yaml"),
    "of another sort": ("file: rear.png", "file: rear.gif", "SG509", "rear.gif"),
    "no dark file": ("caption", "dark: dark.png\ncaption", "SG509", "dark.png"),
    "too few pixels": ("caption", "width: 178 mm\ncaption", "SG533", "178 mm"),
    "about nothing": ("lantern-full", "lantern-fool", "SG507", "lantern-fool"),
    "no sample": ("caption", "differs: [{note: Other}]\ncaption", "SG537", "differs"),
}


@pytest.mark.parametrize("case", BROKEN)
def test_what_is_wrong_with_a_picture_is_told_at_its_line(make: Make, case: str) -> None:
    before, after, code, at = BROKEN[case]
    root = make(PICTURE.replace(before, after), png(600, 400), pages__rear=PAGE)
    assert (code, at) in told(root)


def test_a_file_that_is_no_picture_is_told_at_its_line(make: Make) -> None:
    for content in (png()[:-20], b"", b"\0", b"<script>"):
        assert ("SG531", "rear.png") in told(make(content=content, pages__rear=PAGE))


def test_a_name_close_to_a_file_is_asked_for(make: Make) -> None:
    messages = [str(each.help) for each in found(make(PICTURE.replace("rear.png", "raer.png")))]
    assert any("pictures/rear.png" in each for each in messages)


def test_a_picture_that_nothing_shows_is_worth_a_note(make: Make) -> None:
    assert told(make()) == [("SG532", "rear")]
    assert told(make(templates__own='# A\n{{ picture("rear") }}\n')) == []
    assert told(make(templates__own="# A\n{{ picture(name) }}\n")) == []  # only a run tells which


_TWO = "{position: PSU 1, part: riser-two, at: 1% 1%}"
_BOTH = "{position: PSU 1, at: 1% 1%, outline: [1% 1%, 2% 2%]}"
CALLOUTS = {
    "a position that is gone": ("{position: PSU 9, at: 1% 1%}", "SG203", "PSU 9"),
    "no place": ("{position: PSU 1}", "SG534", "{position: PSU 1}"),
    "two places": (_BOTH, "SG534", _BOTH),
    "nothing named": ("{at: 1% 1%}", "SG534", "{at: 1% 1%}"),
    "two things named": (_TWO, "SG534", _TWO),
    "beyond the right": ("{position: PSU 1, at: 1001 20}", "SG535", "1001 20"),
    "beyond the bottom": ("{position: PSU 1, at: 20% 100.5%}", "SG535", "20% 100.5%"),
    "an outline beyond": ("{position: PSU 1, outline: [1 1, 900 401]}", "SG535", "900 401"),
}


@pytest.mark.parametrize("case", CALLOUTS)
def test_a_callout_that_points_at_nothing_is_told(make: Make, case: str) -> None:
    written, code, at = CALLOUTS[case]
    root = make(f"{PICTURE}callouts:\n  - {written}\n", pages__rear=PAGE)
    assert (code, at) in told(root)


def test_callouts_on_the_edge_are_within_and_two_on_one_place_are_told(make: Make) -> None:
    edge = "callouts: [{position: PSU 1, at: 1000 400}, {part: riser-two, at: 0% 0%}]\n"
    assert found(make(PICTURE + edge, pages__rear=PAGE)) == []
    two = "callouts: [{position: PSU 1, at: 50% 50%}, {part: riser-two, at: 51% 50%}]\n"
    assert told(make(PICTURE + two, pages__rear=PAGE)) == [("SG536", "51% 50%")]


def test_a_part_that_nobody_has_is_asked_for(make: Make) -> None:
    root = make(f"{PICTURE}callouts: [{{part: riser-tow, at: 1% 1%}}]\n", pages__rear=PAGE)
    [only] = read(root).loaded.findings
    assert only.code.id == "SG201"
    assert "riser-two" in str(only.help)


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no links here")
def test_a_link_out_of_the_project_is_not_followed(make: Make, tmp_path: Path) -> None:
    root = make(content=None, pages__rear=PAGE)
    outside = tmp_path.parent / f"{tmp_path.name}-outside.png"
    outside.write_bytes(png())
    (root / "pictures" / "rear.png").symlink_to(outside)
    survey = read(root)
    assert survey.definitions is not None
    subjects = Subjects(survey.definitions, systems_of(survey.definitions))
    codes = [each.code.id for each in check_pictures(root, read_texts(root)[0], subjects)]
    assert codes == ["SG106"]


CALLED = f"""{PICTURE}\
credit: Quillmere Works
date: 2026-03-02
licence: for every use
shows: pre-production sample
differs:
  - {{part: riser-two, label: R2}}
callouts:
  - {{position: PSU 1..2, at: 31% 55%}}
  - {{part: riser-two, outline: [400 240, 480 390]}}
"""
SHEET = '{{ subtitle("Sheet") }}\n# {{ title }}\n\n{{ picture("rear") }}\n'


def sheet(root: Path, form: str) -> bytes:
    target = root / "out" / f"sheet.{form}"
    target.parent.mkdir(exist_ok=True)
    words = ["sheet", "lantern-full", "--document", "own", "--to", form, "-o", str(target)]
    assert main([*words, "--project", str(root)]) == 0
    return target.read_bytes()


LIST = ("PSU 1 to 2: Supply 1300 W", "Riser with two slots")
BELOW = ("The rear", "Quillmere Works, 2026-03-02, for every use", "Riser with two slots: label R2")


def test_html_holds_the_picture_its_numbers_and_their_list(make: Make) -> None:
    page = sheet(make(CALLED, templates__own=SHEET), "html").decode()
    size = 'width="1000" height="400"'
    assert re.search(rf'<img src="data:image/png;base64,[^"]+" {size} alt="The rear of', page)
    layer = re.search(r'<svg[^>]* class="marks" aria-hidden="true".*?</svg></div>', page, re.DOTALL)
    assert layer is not None
    assert re.findall(r"<text[^>]*>(\d)</text>", layer[0]) == ["1", "2"]
    assert 'x="31%" y="55%"' in layer[0]
    assert "M4000,6000L4800,6000L4800,9750L4000,9750z" in layer[0]
    words = re.sub(r"<[^>]+>", "", page[layer.end() :])
    assert all(each in words for each in (*LIST, *BELOW[1:]))


def test_markdown_refers_to_a_file_that_lies_beside(make: Make) -> None:
    root = make(CALLED, templates__own=SHEET)
    text = sheet(root, "md").decode()
    name = re.search(
        r"!\[The rear of a server with two supplies\]\((pictures/rear-\w+-1000\.png)\)", text
    )
    assert name is not None
    assert Image.open(root / "out" / name[1]).size == (1000, 400)
    assert "1. **PSU 1 to 2**: Supply 1300 W\n2. Riser with two slots" in text


def test_a_pdf_holds_the_picture_and_says_what_it_shows(make: Make) -> None:
    content = sheet(make(CALLED, templates__own=SHEET), "pdf")
    document = pypdf.PdfReader(io.BytesIO(content))
    sizes = {image.image.size for page in document.pages for image in page.images if image.image}
    assert (1000, 400) in sizes
    assert "The rear of a server with two supplies".encode("utf-16-be") in _objects(document)
    text = " ".join(page.extract_text() for page in document.pages)
    assert all(each in " ".join(text.split()) for each in (*LIST, *BELOW))


def _objects(document: pypdf.PdfReader) -> bytes:
    """Texts that stand in the tree of tags of a PDF."""
    found = []
    for number in range(1, len(document.xref[0]) + 1):
        thing = document.get_object(number)
        if isinstance(thing, dict) and "/Alt" in thing:
            found.append(str(thing["/Alt"]).encode("utf-16-be"))
    return b"".join(found)


def test_a_picture_that_cannot_be_shown_keeps_its_document_back(make: Make) -> None:
    root = make(CALLED, png()[:-20], templates__own=SHEET)
    assert main(["sheet", "lantern-full", "--document", "own", "--project", str(root)]) == 1


def test_a_text_shows_a_picture_in_its_place_in_other_words(make: Make) -> None:
    piece = 'One.\n\n![Seen otherwise](../../pictures/rear.png "Another caption")\n\nTwo.\n'
    calls = SHEET.replace('picture("rear")', 'prose("walk")')
    root = make(**{"templates__own": calls, "prose__lantern-full__walk": piece})
    assert found(root) == []
    text = sheet(root, "md").decode()
    assert re.search(
        r"One\.\n\n\*\*Another caption\*\*\n\n!\[Seen otherwise\]\([^)]+\)\n\nTwo\.", text
    )


def test_a_text_that_shows_what_no_file_tells_of_is_told(make: Make) -> None:
    piece = "![A](../../pictures/raer.png)\n"
    calls = SHEET.replace('picture("rear")', 'picture("rear") }}{{ prose("walk")')
    root = make(**{"templates__own": calls, "prose__lantern-full__walk": piece})
    assert told(root) == [("SG509", "![A](../../pictures/raer.png)")]
    assert "../../pictures/rear.png" in str(found(root)[0].help)


def test_a_page_shows_a_picture_whole_between_its_paragraphs(make: Make) -> None:
    root = make(
        CALLED, png(1000, 400), pages__rear=PAGE, pages__deep__er=PAGE.replace("../", "../../")
    )
    assert [code for code, _ in told(root)] == ["SG538"]
    survey = read(root)
    assert survey.definitions is not None
    subjects = Subjects(survey.definitions, systems_of(survey.definitions))
    texts = read_texts(root)[0]
    pages = pages_of(texts, subjects, (), PageImages(root, root / "scratch", subjects))
    assert [page.path for page in pages] == ["rear.html", "deep/er.html"]
    for page, up in zip(pages, ("", "../"), strict=True):
        html = page.html()
        assert html.count("<figure") == 1
        assert re.search(r"<p>Before </p><figure.*</figure>\n<p> after\.</p>", html, re.DOTALL)
        sizes = re.findall(rf"{up}(pictures/rear-\w+-\d+\.png) (\d+)w", html)
        assert [width for _, width in sizes] == ["480", "960", "1000"]
        for name, width in sizes:
            assert Image.open(root / "scratch" / name).width == int(width)
        assert 'class="marks"' in html
        assert "<p></p>" not in html


def test_nobody_can_write_the_sign_of_a_picture(make: Make) -> None:
    root = make(pages__rear="# A\n\n\ue1000\ue101 &#xe100;7&#xe101;\n\n![](../pictures/rear.png)\n")
    survey = read(root)
    assert survey.definitions is not None
    subjects = Subjects(survey.definitions, systems_of(survey.definitions))
    [page] = pages_of(read_texts(root)[0], subjects, (), PageImages(root, root / "out", subjects))
    assert not re.search("[\ue100\ue101]", page.html())


HOUSE = "catalog/house.yaml"


def with_earlier(until: str) -> dict[str, str]:
    """The riser of the picture, which had another number until a day."""
    before = "id: riser-two\n"
    assert before in base()[HOUSE]
    earlier = f"      number: RT-2\n      earlier: [{{number: RT-1, until: {until}}}]\n"
    return {HOUSE: base()[HOUSE].replace(before, before + earlier)}


def test_texts_that_have_a_number_of_before_are_told(make: Make) -> None:
    page = "# A\n\nOrder RT-1, not RT-11 or X-RT-1. `RT-1`\n\n![](../pictures/rear.png)\n"
    root = make(**with_earlier("2026-01-01"), pages__a=page)
    assert told(root) == [("SG538", "RT-1"), ("SG538", "RT-1")]
    assert "RT-2" in str(found(root)[0].help)
    allowed = make(pages__a=f"---\nallow: SG538\n---\n{page}")
    assert told(allowed) == []


@pytest.mark.parametrize(
    ("until", "codes"), [("2026-03-01", []), ("2026-03-02", []), ("2026-03-03", ["SG538"])]
)
def test_a_picture_older_than_the_change_of_its_part_is_told(
    make: Make, until: str, codes: list[str]
) -> None:
    picture = f"{PICTURE}date: 2026-03-02\ncallouts: [{{part: riser-two, at: 10% 10%}}]\n"
    root = make(picture, **with_earlier(until), pages__rear=PAGE)
    assert [code for code, _ in told(root)] == codes


def test_a_picture_of_a_sample_is_worth_a_note_until_another_takes_its_place(make: Make) -> None:
    root = make(CALLED, pages__rear=PAGE)
    assert told(root) == [("SG538", "pre-production sample")]


def test_the_contact_sheet_tells_of_every_picture(make: Make) -> None:
    root = make(CALLED, **with_earlier("2026-03-03"), pages__rear=PAGE)
    target = root / "sheet.md"
    words = ["sheet", "lantern", "--document", "contact-sheet", "--to", "md", "-o", str(target)]
    assert main([*words, "--project", str(root)]) == 0
    text = " ".join(target.read_text(encoding="utf-8").split())
    assert "| Placed by | pages/rear.md" in text
    assert "| Shows | Lantern, full, pre-production sample" in text
    assert "| Changed since | Riser with two slots on 2026-03-03" in text
    assert "![The rear of a server with two supplies](pictures/rear-" in text


def test_the_page_of_a_part_has_its_earlier_numbers(make: Make) -> None:
    definitions = read(make(**with_earlier("2026-03-03"))).definitions
    assert definitions is not None
    said = {
        part: {str(label): plain_text(cell) for label, cell in identity(case).entries}
        for part in ("riser-two", "riser-one")
        for case in [PartCase(definitions, definitions.parts[part], ())]
    }
    assert said["riser-two"]["Earlier order numbers"] == "RT-1 until 2026-03-03"
    assert "Earlier order numbers" not in said["riser-one"]


@pytest.mark.parametrize(("high", "codes"), [(400, []), (402, []), (420, ["SG534"])])
def test_a_variant_of_another_shape_takes_no_numbers(
    make: Make, high: int, codes: list[str]
) -> None:
    called = "dark: dark.png\ncallouts: [{position: PSU 1, at: 10% 10%}]\n"
    root = make(PICTURE + called, pages__rear=PAGE)
    (root / "pictures" / "dark.png").write_bytes(png(1000, high))
    assert [code for code, _ in told(root)] == codes


def test_a_file_that_is_handed_out_finds_the_pictures_from_where_it_lies() -> None:
    assert pictures_from("note.html") == "pictures/"
    assert pictures_from("builds/lantern-full.md") == "../pictures/"
    assert pictures_from("platforms/lantern/guide.md") == "../../pictures/"
