"""Pictures and files beside pages: what acts is taken out and told, the rest is what it says."""

from pathlib import Path
from xml.etree import ElementTree

import pytest

from specgen.images.svg_cleaner import ACTING, ELEMENTS, SVG, XLINK, clean_svg
from specgen.site.attachments import BEGINNINGS, attachments
from tests.timing import NO_HANG, stopwatch

HEAD = f'<svg xmlns="{SVG}" xmlns:xlink="{XLINK}" viewBox="0 0 9 9">\n'

ACTS = {
    "script": "<script>alert(1)</script>",
    "script elsewhere": '<script href="https://evil.example/x.js"/>',
    "handler": '<rect onload="alert(1)"/>',
    "handler in capitals": '<rect ONCLICK="alert(1)"/>',
    "foreign page": '<foreignObject><body xmlns="http://www.w3.org/1999/xhtml"/></foreignObject>',
    "element of HTML": '<iframe xmlns="http://www.w3.org/1999/xhtml" src="https://evil.example"/>',
    "link": '<a href="https://evil.example"><text>x</text></a>',
    "link that runs": '<a xlink:href="javascript:alert(1)"><text>x</text></a>',
    "change of a link": '<set attributeName="href" to="javascript:alert(1)"/>',
    "animation": '<rect><animate attributeName="x" values="1;2"/></rect>',
    "picture elsewhere": '<image href="https://evil.example/x.png"/>',
    "picture of a picture": '<image href="data:image/svg+xml;base64,PHN2Zz4="/>',
    "file of the computer": '<image xlink:href="file:///etc/passwd"/>',
    "use of another file": '<use href="other.svg#x"/>',
    "fetching filter": '<filter><feImage href="https://evil.example"/></filter>',
    "paint elsewhere": '<rect fill="url(https://evil.example#x)"/>',
    "paint elsewhere in a style": "<rect style=\"fill: url( 'https://evil.example' )\"/>",
    "style that fetches": "<style>@import 'https://evil.example';</style>",
    "style with a font": "<style>@font-face{font-family:x;src:url(https://evil.example)}</style>",
    "style in disguise": r"<style>.a{fill:\75rl(https://evil.example)}</style>",
    "style sheet": '<?xml-stylesheet href="https://evil.example"?>',
}


@pytest.mark.parametrize("case", ACTS)
def test_what_acts_is_taken_out_and_told(case: str) -> None:
    made = clean_svg(f"{HEAD}{ACTS[case]}<rect/></svg>".encode(), "pages/x.svg")
    assert {each.code.id for each in made.findings} == {"SG523"}
    assert {each.at.span.line for each in made.findings} == {2}
    assert made.content is not None
    for sign in (b"evil", b"script", b"passwd", b"alert", b"other.svg", b"svg+xml"):
        assert sign not in made.content.lower()
    root = ElementTree.fromstring(made.content)
    assert root.find(f"{{{SVG}}}rect") is not None
    assert not {each.tag.removeprefix(f"{{{SVG}}}") for each in root.iter()} & ACTING


SOUND = """\
<title>Front &amp; rear</title><desc>A &lt;b&gt;</desc>
<style>.a{fill:#123;stroke:url(#g)} text{font:12px sans-serif}</style>
<defs><linearGradient id="g"><stop offset="0" stop-color="red"/></linearGradient></defs>
<g class="a" style="opacity:.5;fill:url('#g')" transform="translate(1 2)"><path d="M0 0L1 1"/></g>
<use xlink:href="#g"/><text xml:space="preserve" aria-label="x">a <tspan>b</tspan></text>
<image href="data:image/png;base64,iVBORw0KGgo="/>
"""


def test_what_shows_is_kept() -> None:
    made = clean_svg(f"{HEAD}{SOUND}</svg>".encode(), "pages/x.svg")
    assert made.findings == ()
    assert made.content is not None
    before, after = (
        ElementTree.fromstring(f"{HEAD}{SOUND}</svg>"),
        ElementTree.fromstring(made.content),
    )
    assert [(each.tag, each.attrib, each.text) for each in before.iter()] == [
        (each.tag, each.attrib, each.text) for each in after.iter()
    ]
    assert clean_svg(made.content, "x").content == made.content


def test_notes_of_drawing_programs_are_told_and_left_out() -> None:
    inner = (
        '<m:note xmlns:m="https://draw.example/m" m:x="1"><m:deep/></m:note>'
        '<rect xmlns:m="https://draw.example/m" m:grid="1" width="1"/>'
        '<rect xmlns:m="https://draw.example/m" m:grid="2"/><metadata/>'
    )
    made = clean_svg(f"{HEAD}{inner}</svg>".encode(), "pages/x.svg")
    assert [(each.code.id, str(each.message)) for each in made.findings] == [
        ("SG524", "`<note>` is left out of the figure"),
        ("SG524", "`grid` is left out of the figure"),
        ("SG524", "`<metadata>` is left out of the figure"),
    ]
    assert "2 times" in str(made.findings[1].notes[0])
    assert b"draw.example" not in (made.content or b"")


@pytest.mark.parametrize(
    ("content", "line"),
    [
        (b"", 1),
        (b"<svg", 1),
        (b"<html/>", 1),
        (b'<svg xmlns="urn:x"/>', 1),
        (HEAD.encode() + b"<rect>\n<b", 3),
        (b'<!DOCTYPE svg [\n<!ENTITY a "x">\n]><svg/>', 2),
        (b'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]><svg>&a;</svg>', 1),
        (HEAD.encode() + b"&nbsp;</svg>", 2),
        (HEAD.encode() + b"\xff</svg>", 2),
        (HEAD.encode() + b"\x00</svg>", 2),
        (HEAD.encode() + b"<g>" * 500, 2),
        (b'<?xml version="1.0" encoding="x"?><svg/>', 1),
        (b'<?xml version="1.0" encoding="zip"?><svg/>', 1),
        (b'<?xml version="1.0" encoding="shift_jis"?><svg/>', 1),
        (b'<?xml version="1.0" encoding="utf-7"?><svg/>', 1),
    ],
)
def test_what_is_no_picture_is_told_at_its_line(content: bytes, line: int) -> None:
    made = clean_svg(content, "pages/x.svg")
    (found,) = made.findings
    assert made.content is None
    assert (found.code.id, found.at.span.line) == ("SG100", line)


def test_entities_that_grow_come_to_an_end() -> None:
    names = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">\n' for n in range(1, 30))
    content = f'<!DOCTYPE svg [<!ENTITY a0 "x">{names}]>{HEAD}&a29;</svg>'.encode()
    used = stopwatch()
    made = clean_svg(content, "pages/x.svg")
    assert used() < NO_HANG
    assert made.content is None


@pytest.mark.parametrize(
    "piece", ["<g>", "<rect/>", "<a>", "x", "<!---->", "<rect m='1'/>", "<b c='"]
)
def test_a_large_picture_is_read_to_its_end(piece: str) -> None:
    content = (HEAD + piece * (1_000_000 // len(piece))).encode()
    used = stopwatch()
    clean_svg(content, "pages/x.svg")
    assert used() < NO_HANG


def test_the_lists_have_nothing_in_common() -> None:
    assert not ELEMENTS & ACTING


@pytest.fixture
def pages(tmp_path: Path) -> Path:
    (tmp_path / "pages").mkdir()
    return tmp_path / "pages"


@pytest.mark.parametrize(
    "name",
    ["a.html", "a.htm", "a.xhtml", "a.js", "a.mjs", "a.css", "a.xml", "a.svgz", "a.wasm", "a.exe",
     "a", "a.png.html", ".htaccess", "a.php", "a.mhtml", "a.shtml"],
)  # fmt: skip
def test_only_named_endings_are_published(pages: Path, name: str) -> None:
    (pages / name).write_bytes(b"<script>alert(1)</script>")
    made = attachments(pages.parent)
    assert made.contents == {}
    told = [each.code.id for each in made.findings]
    assert told == ([] if name.startswith(".") else ["SG107"])


@pytest.mark.parametrize("ending", [each for each, begins in BEGINNINGS.items() if begins])
def test_a_file_is_what_its_ending_says(pages: Path, ending: str) -> None:
    (pages / f"a.{ending}").write_bytes(b"<html><script>alert(1)</script>")
    (pages / f"b.{ending.upper()}").write_bytes(BEGINNINGS[ending][0] + b"rest")
    made = attachments(pages.parent)
    assert list(made.contents) == [f"b.{ending.upper()}"]
    assert [(each.code.id, each.at.span.file) for each in made.findings] == [
        ("SG107", f"pages/a.{ending}")
    ]


def test_no_file_takes_the_place_of_one_of_the_site(pages: Path) -> None:
    (pages / "img").mkdir()
    (pages / "img/mark.svg").write_text(f"{HEAD}</svg>")
    (pages / "builds").mkdir()
    (pages / "builds/x.csv").write_text("a")
    made = attachments(pages.parent, {"builds/x.csv": b""})
    assert made.contents == {}
    assert {each.code.id for each in made.findings} == {"SG107"}
