"""Drawings as files of their own, in renderers and with fonts that they were not laid out for."""

import re
from collections.abc import Mapping
from xml.etree import ElementTree

import pytest
import resvg_py

from specgen.document.figures import DRAWINGS, drawing_of
from specgen.drawings import LayoutEngine, written
from specgen.drawings.lettering import lettered_in
from specgen.drawings.picture import Element, Picture, held
from specgen.drawings.widths import width
from specgen.messages.catalogue import language_of
from specgen.pipeline import Survey
from specgen.quantity import show
from specgen.shipped import print_folder
from tests.drawings.ink import ink_ends_at

SVG = "{http://www.w3.org/2000/svg}"
LINE = "Wide words that run on and on: RAID controller, 16 lanes, 8 GiB of cache"


def alone(length: Mapping[str, str]) -> str:
    text = Element("text", {"x": "0", "y": "25", "font-size": "20", **length}, (LINE,))
    size = {"width": "900", "height": "40", "viewBox": "0 0 900 40", "font-family": "Arimo"}
    root = Element("svg", {"xmlns": "http://www.w3.org/2000/svg", **size}, (text,))
    return written(Picture(root, 900, 40))


def drawn(demo: Survey, build: str, what: str, language: str = "en") -> str:
    case = demo.cases[build]
    with lettered_in(language_of(language)):
        made = drawing_of(case, what, LayoutEngine())
    return written(made.picture)


def texts(svg: str) -> list[str]:
    root = ElementTree.fromstring(svg.encode())
    return ["".join(each.itertext()).replace("\u202f", " ") for each in root.iter(f"{SVG}text")]


@pytest.mark.parametrize("language", ["en", "de", "ja"])
@pytest.mark.parametrize("what", DRAWINGS)
def test_every_text_says_how_long_it_is(demo: Survey, what: str, language: str):
    svg = drawn(demo, "boathouse-archive", what, language)
    runs = re.findall(r"<(?:text|tspan)( [^>]*)>[^<]+</", svg)
    assert runs
    assert all(" textLength=" in each and " lengthAdjust=" in each for each in runs)


def test_a_text_keeps_its_length_in_a_broader_font():
    """Rendered by resvg with a font that is broader than the one it was laid out for."""
    font = str(print_folder() / "fonts" / "Arimo-700Bold.ttf")

    def end(svg: str) -> int:
        options = {"skip_system_fonts": True, "font_files": [font], "dpi": 96.0}
        return ink_ends_at(bytes(resvg_py.svg_to_bytes(svg, background="#ffffff", **options)))

    room = width(LINE, 20)
    assert end(alone({})) > room + 10
    assert room - 10 < end(alone(held(LINE, 20))) <= room + 1


@pytest.mark.parametrize(
    ("what", "read"),
    [
        ("memory-map", "DIMM 1A1 32 GiB"),
        ("memory-map", "CPU1 Corvane C24"),
        ("lane-map", "SLOT 1 RAID controller, 16 lanes, 8 GiB of cache"),
    ],
)
def test_a_label_and_its_value_are_read_in_one_piece(demo: Survey, what: str, read: str):
    assert read in texts(drawn(demo, "boathouse-archive", what))


def test_a_bar_is_read_with_its_values(demo: Survey):
    found = texts(drawn(demo, "boathouse-archive", "power-chart"))
    case = demo.cases["boathouse-archive"]
    load = show(case.facts.value("power.idle.load")).replace("\u202f", " ")
    assert any(each.startswith("Idle ") and load in each for each in found), (load, found)


def test_a_letter_with_marks_is_as_broad_as_without():
    assert width("äéÜ", 10) == width("aeU", 10)
