"""Pages of the demo in Chromium: they open quietly, stay at home, fit, print, are found."""

from pathlib import Path
from typing import Any

import pytest

from specgen.pipeline import Survey
from tests.browser.conftest import Open
from tests.browser.pages import html_files

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
A4 = 718  # CSS pixels between margins of 1 cm


def paths(site: Path, *, parts: int) -> list[str]:
    """Every page but the parts, and of these so many, evenly spread."""
    every = [file.relative_to(site).as_posix() for file in html_files(site)]
    some = [path for path in every if path.startswith("parts/")]
    return [path for path in every if path not in some] + some[:: max(1, len(some) // parts)]


def test_pages_open_without_a_complaint_or_a_request_to_elsewhere(
    opened: Open, address: str, demo_site: Path
) -> None:
    got = {}
    watched = opened(f"{address}/index.html")
    for path in paths(demo_site, parts=40):
        watched.page.goto(f"{address}/{path}")
        assert watched.page.locator("h1").count() == 1, path
        if watched.complaints:
            got[path] = [*watched.complaints]
            watched.complaints.clear()
    assert got == {}
    assert watched.strangers(address) == []


def test_no_page_is_wider_than_a_phone(opened: Open, address: str, demo_site: Path) -> None:
    page = opened(f"{address}/index.html", viewport=PHONE).page
    wide = {}
    for path in paths(demo_site, parts=20):
        page.goto(f"{address}/{path}")
        width = page.evaluate("document.documentElement.scrollWidth")
        if width > PHONE["width"]:
            wide[path] = width
    assert wide == {}


def test_a_topology_is_an_outline_on_a_phone_and_a_figure_elsewhere(
    opened: Open, address: str
) -> None:
    for size, drawn in ((PHONE, False), ({"width": 1280, "height": 900}, True)):
        page = opened(f"{address}/builds/boathouse-archive.html", viewport=size).page
        figure = page.locator("#topology-figure")
        assert figure.locator("svg").is_visible() is drawn
        assert figure.locator(".in-words li").first.is_visible() is not drawn


SMALLEST_LETTER = """
() => {
  const found = [];
  for (const text of document.querySelectorAll("figure svg text")) {
    if (!text.textContent.trim() || !text.checkVisibility()) continue;
    const at = text.getScreenCTM();
    const scale = Math.sqrt(Math.abs(at.a * at.d - at.b * at.c));
    found.push([parseFloat(getComputedStyle(text).fontSize) * scale, text.textContent]);
  }
  return found.sort((one, other) => one[0] - other[0])[0] ?? null;
}
"""


@pytest.mark.parametrize("size", [PHONE, {"width": 1280, "height": 900}], ids=["phone", "desk"])
def test_no_letter_of_a_drawing_is_smaller_than_eleven_pixels(
    opened: Open, address: str, demo_site: Path, size: dict[str, int]
) -> None:
    found = sorted(
        path.relative_to(demo_site).as_posix()
        for path in demo_site.rglob("*.html")
        if "<svg" in path.read_text(encoding="utf-8") and "parts" not in path.parts
    )
    page = opened(f"{address}/index.html", viewport=size).page
    drawn, small = 0, {}
    for path in found:
        page.goto(f"{address}/{path}")
        least = page.evaluate(SMALLEST_LETTER)
        drawn += least is not None
        if least is not None and least[0] < 10.95:  # layout rounds to sixty-fourths of a pixel
            small[path] = least
    assert drawn > 30
    assert small == {}


@pytest.mark.parametrize("place", ["server", "folder"])
def test_search_finds_parts_builds_and_platforms(
    opened: Open, address: str, demo_site: Path, demo: Survey, place: str
) -> None:
    home = address if place == "server" else demo_site.as_uri()
    assert demo.definitions is not None
    parts = [*demo.definitions.parts.values()]
    builds = [*demo.definitions.builds.values()]
    platforms = [*demo.definitions.platforms.values()]
    wanted = [
        *((part.name, f"parts/{part.id}.html") for part in parts[::40]),
        *((part.number, f"parts/{part.id}.html") for part in parts[7::60] if part.number),
        *((build.name, f"builds/{build.id}.html") for build in builds[::9]),
        *((platform.name, f"platforms/{platform.id}.html") for platform in platforms[:2]),
    ]
    watched = opened(f"{home}/index.html")
    page = watched.page
    for words, path in wanted:
        page.goto(f"{home}/builds.html")
        page.keyboard.press("/")
        page.keyboard.type(words)
        page.locator(f'[role=option][data-href$="{path}"]').wait_for()
        _choose(page, path)
        page.wait_for_url(f"{home}/{path}")
    assert watched.complaints == []
    assert watched.strangers(home) == []


def _choose(page: Any, path: str) -> None:
    """Go down the results to the one that leads to `path`, and enter."""
    chosen = page.locator("[role=option][aria-selected=true]")
    for _ in range(page.get_by_role("option").count()):
        page.keyboard.press("ArrowDown")
        if chosen.get_attribute("data-href").endswith(path):
            break
    page.keyboard.press("Enter")


def test_a_mailed_sheet_asks_for_nothing(opened: Open, sheets: list[Path]) -> None:
    for sheet in sheets:
        watched = opened(sheet.as_uri())
        assert watched.page.locator("h1").count() == 1
        assert watched.page.locator("svg").count() >= 1
        assert watched.requests == [sheet.as_uri()]
        assert watched.complaints == []


def test_a_mailed_sheet_fits_a_phone(opened: Open, sheets: list[Path]) -> None:
    for sheet in sheets:
        page = opened(sheet.as_uri(), viewport=PHONE).page
        assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_pages_and_sheets_print(
    opened: Open, address: str, demo_site: Path, sheets: list[Path]
) -> None:
    builds = [path for path in paths(demo_site, parts=1) if path.startswith("builds/")]
    for url in (f"{address}/{builds[0]}", sheets[0].as_uri()):
        page = opened(url, viewport={"width": A4, "height": 1000}).page
        printed = page.pdf(format="A4")
        assert printed.startswith(b"%PDF-")
        page.emulate_media(media="print")
        assert page.evaluate("document.documentElement.scrollWidth") <= A4
        assert page.evaluate(CUT_OFF) == []


CUT_OFF = """
[...document.querySelectorAll(".scroll")]
  .filter(box => getComputedStyle(box).overflowX !== "visible")
  .filter(box => box.scrollWidth > box.clientWidth + 1)
  .map(box => box.getAttribute("aria-labelledby") || box.getAttribute("aria-label"))
"""
