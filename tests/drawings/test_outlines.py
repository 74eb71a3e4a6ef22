"""Words of a drawing as outlines: no font is asked for, nothing is said less, nothing leaves."""

import html
import re
import xml.etree.ElementTree as ET
from collections import Counter
from pathlib import Path

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.svgLib.path import parse_path

from specgen.document.figures import DRAWINGS, drawing_of
from specgen.drawings import LayoutEngine, standalone, written
from specgen.drawings.letter_outlines import outlined
from specgen.drawings.lettering import lettered_in
from specgen.drawings.picture import Element, Picture
from specgen.messages.catalogue import language_of
from specgen.pipeline import Survey
from tests.cli.conftest import Run, here, run

__all__ = ["here", "run"]

SVG = "{http://www.w3.org/2000/svg}"


def words(svg: str) -> Counter[str]:
    found = re.findall(r"<text[^>]*>(.*?)</text>", svg, re.DOTALL)
    return Counter(html.unescape(re.sub(r"<[^>]+>", "", each)) for each in found)


@pytest.mark.parametrize("what", DRAWINGS)
def test_no_word_needs_a_font_and_all_are_still_said(demo: Survey, what: str) -> None:
    drawing = drawing_of(demo.cases["lantern-office"], what, LayoutEngine())
    assert drawing.picture is not None
    made = outlined(drawing.picture)
    root = ET.fromstring(standalone(made))
    assert root.find(f".//{SVG}text") is None
    said = Counter(each.get("aria-label") or "" for each in root.iter(f"{SVG}g")
                   if each.get("role") == "img")  # fmt: skip
    assert said == words(written(drawing.picture))
    assert outlined(made) == made


def _bounds(path: str) -> tuple[float, float, float, float]:
    pen = BoundsPen(None)
    parse_path(path, pen)
    assert pen.bounds is not None
    return pen.bounds


def test_letters_stand_where_the_text_stood_as_long_as_it_was_told() -> None:
    look = {"class": "label", "x": "20", "y": "30", "text-anchor": "end", "font-size": "10"}
    text = Element("text", {**look, "textLength": "24.5"}, ("HHH&",))
    made = outlined(Picture(Element("svg", {"font-size": "12"}, (text,)), 100, 50))
    (path,) = (each.attributes for each in made.elements() if each.name == "path")
    assert path["class"] == "letters label"
    left, top, right, low = _bounds(path["d"])
    assert 20 - 28.34 < left < right < 20  # Source: `hmtx` of Arimo: H 722, ampersand 667
    assert low == pytest.approx(30, abs=0.2)
    assert top == pytest.approx(30 - 7, abs=0.5)  # letters without descenders stand on the line


def test_japanese_letters_have_outlines_too(demo: Survey) -> None:
    with lettered_in(language_of("ja")):
        drawing = drawing_of(demo.cases["pocket-lamp-room"], "mass-rack", LayoutEngine())
    assert re.search("[ぁ-ヿ一-鿿]", written(drawing.picture))
    assert drawing.picture is not None
    made = written(outlined(drawing.picture))
    for path in re.findall(r'<path class="letters[^"]*"[^>]* d="([^"]+)"/>', made):
        left, _, right, _ = _bounds(path)
        assert left < right


def test_the_command_writes_them(run: Run, here: Path) -> None:
    plain = run("draw", "lantern-full", "front").out
    made = run("draw", "lantern-full", "front", "--words", "outlines")
    assert made.status == 0
    assert "<text" in plain
    assert "<text" not in made.out
    assert 'class="letters' in made.out
