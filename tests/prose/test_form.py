"""How texts are written: heads, braces, pictures, names that templates ask for, marks."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.cli.run import run
from specgen.document.prose.form import LOST
from tests.projects import base
from tests.timing import NO_HANG, stopwatch

PAGE = "pages/note.md"
PNG = b"\x89PNG\r\n\x1a\n"
PIECE = "prose/lantern/introduction.md"


Found = list[tuple[str, str, int, str]]
Find = Callable[[dict[str, str | bytes]], Found]


@pytest.fixture
def found(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> Find:
    """What `check` finds in the small project with these texts: code, file, line, help."""

    def look(files: dict[str, str | bytes]) -> Found:
        allowing = {"specgen.yaml": base()["specgen.yaml"] + "pages: {html: true}\n"}
        for name, text in {**base(), **allowing, **files}.items():
            path = tmp_path / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text if isinstance(text, bytes) else text.encode())
        run(["check", "--format", "json", "--project", str(tmp_path)])
        data = json.loads(capfd.readouterr().out)["findings"]
        return [
            (
                each["code"],
                Path(each["file"]).resolve().relative_to(tmp_path.resolve()).as_posix(),
                each["line"],
                each["help"],
            )
            for each in data
        ]

    return look


@pytest.mark.parametrize(
    ("file", "text", "code", "line", "help_"),
    [
        # heads
        (PAGE, "---\ntitel: Notes\n---\n# Notes\n", "SG111", 2, "did you mean `title`?"),
        (PAGE, "---\nauthor: X\n---\n# Notes\n", "SG111", 2, "a head may have"),
        (PIECE, "---\nsubject: lantern\n---\nText.\n", "SG111", 2, "a head may have"),
        (PAGE, "---\ntitle: [a, b]\n---\n# Notes\n", "SG112", 2, ""),
        (PAGE, "---\n- title\n---\n# Notes\n", "SG112", 2, ""),
        (PAGE, "---\nallow: [SG999]\n---\n# Notes\n", "SG212", 2, ""),
        # braces
        (PIECE, "It is {mechanics.depth deep.\n", "SG502", 1, "write `}` after the name"),
        (PIECE, "It is mechanics.depth} deep.\n", "SG502", 1, "write `{` before the name"),
        (PIECE, "Is {part tpm and {part sink} in.\n", "SG502", 1, "write `}` after the name"),
        # pictures
        (PAGE, "# Notes\n\n![Front](frnt.png)\n", "SG509", 3, "did you mean `front.png`?"),
        (PAGE, "# Notes\n\n![Front](https://a.example/b.png)\n", "SG509", 3, "put the file"),
        (PAGE, "# Notes\n\n![](front.png)\n", "SG510", 3, "say in the brackets"),
        (PAGE, '# Notes\n\n<img src="nope.png" alt="Front">\n', "SG509", 3, ""),
        (PAGE, '# Notes\n\n<img src="front.png">\n', "SG510", 3, "say in the brackets"),
        (PIECE, "![Front](front.png)\n", "SG509", 1, "put it into `pictures/`"),
        # what no document prints
        ("prose/lantern/introducton.md", "Text.\n", "SG511", 1, "did you mean `introduction`?"),
        ("prose/tpm/introduction.md", "Text.\n", "SG511", 1, 'prose("introduction", "tpm")'),
        # marks
        (PAGE, "# Notes\n\nTo do: write this.\n", "SG127", 3, "take the mark away"),
        (PIECE, "The end. TODO\n", "SG127", 1, "take the mark away"),
        ("prose/tpm-new/introduction.md", "TBD\n", "SG126", 1, "take the mark away"),
        # links
        (PAGE, "# Notes\n\n[parts](partz.html)\n", "SG506", 3, ""),
        (PAGE, "# Notes\n\n[parts]()\n", "SG506", 3, "write where it leads"),
        (PAGE, "# Notes\n\n[](parts.html)\n", "SG506", 3, "say in the brackets"),
        (PAGE, "# Notes\n\n[parts](parts.html\n", "SG506", 3, "close it"),
        (PAGE, "# Notes\n\n[parts] (parts.html)\n", "SG506", 3, "side by side"),
        (PAGE, "# Notes\n\n[all parts][parts]\n", "SG506", 3, "define the reference"),
        (PAGE, "# Notes\n\n[parts](https:parts.html)\n", "SG506", 3, "and a host"),
        ("templates/sheet.md", "# {{ build.name }}\n\n[x]()\n", "SG506", 3, "where it leads"),
        ("templates/sheet.md", "# {{ build.name }}\n\n[x](y.html)\n", "SG506", 3, "{part ID}"),
        # levels of headings
        (PAGE, "# Notes\n\n### Deep\n", "SG514", 3, "begin it with `##`"),
        (PIECE, "### Rear\n\nText.\n\n###### Deep\n", "SG514", 5, "begin it with `####`"),
        # heads of which one line is missing
        (PAGE, "---\ntitle: Notes\n# Notes\n", "SG101", 1, "a line `---`"),
        (PAGE, "title: Notes\n---\n# Notes\n", "SG101", 1, "a line `---`"),
    ],
)
def test_a_mistake_is_told_at_its_line(
    file: str,
    text: str,
    code: str,
    line: int,
    help_: str,
    found: Find,
):
    got = found({file: text, "pages/front.png": PNG})
    there = [each for each in got if each[0] == code]
    assert there, got
    assert there[0][1:3] == (file, line)
    assert help_ in there[0][3]


@pytest.mark.parametrize(
    ("file", "text"),
    [
        (PAGE, "---\ntitle: Notes\nsubject: lantern\nlanguage: en\nallow: SG506\n---\n# Notes\n"),
        (PAGE, "# Notes\n\n![Front](front.png)\n\n<img src='front.png' alt=''>\n"),
        (PAGE, '# Notes\n\n`<img src="no.png">` and `{open`\n\n```\n![](no.png)\nTODO\n```\n'),
        (PAGE, "# Notes\n\n[a](parts.html), [b](platforms/lantern/guide.html), [c](rules.html)\n"),
        (PIECE, "What to do: call us. There is nothing to do. A set {1, 2}, \\{open.\n"),
        (PIECE, "It is {mechanics.depth} deep.\n"),
        (PAGE, "# Notes\n\nAs in [1] (of 2019), m[0][1] and [parts][p].\n\n[p]: parts.html\n"),
        (PAGE, "Notes: a few\n\n---\n\n# Notes\n"),
        (PAGE, "---\n\n# Notes\n"),
    ],
)
def test_what_is_sound_is_left_alone(file: str, text: str, found: Find):
    assert found({file: text, "pages/front.png": PNG}) == []


@pytest.mark.parametrize("published", [True, False])
def test_a_draft_is_named_in_no_text_that_is_published(published: bool, found: Find):
    build = base()["configured/lantern-full.yaml"] + f"published: {str(published).lower()}\n"
    page = "# Notes\n\nSee {build lantern-full}, and {lantern-full: mechanics.depth}.\n"
    got = found({"configured/lantern-full.yaml": build, PAGE: page})
    assert got == ([] if published else [("SG513", PAGE, 3, DRAFT)])


DRAFT = "name a build that is published, or publish this one"


def test_a_template_that_asks_for_a_text_makes_it_printed(found: Find):
    sheet = '# {{ build.name }}\n\n{{ prose("introduction", "tpm") }}\n'
    files = {"prose/tpm/introduction.md": "Text.\n", "templates/sheet.md": sheet}
    assert found(files) == []
    sheet = sheet.replace('"introduction"', '"intro" ~ "duction"')
    assert found({**files, "templates/sheet.md": sheet}) == []


def test_a_bracket_before_many_letters_is_read_once() -> None:
    used = stopwatch()
    for pattern, _, _ in LOST:
        assert pattern.search("[" + "a" * 50_000 + "[" + "1" * 50_000) is None
    assert used() < NO_HANG
