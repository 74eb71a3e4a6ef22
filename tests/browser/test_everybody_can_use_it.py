"""Keyboard, screen reader, light and dark: by hand and by axe-core and the Nu HTML checker."""

import json
import os
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Open
from tests.browser.kinds import KINDS
from tests.browser.pages import html_files

pytestmark = pytest.mark.browser
SIZES = {"desk": {"width": 1280, "height": 900}, "phone": {"width": 390, "height": 844}}


def page_of(kind: str, demo_site: Path) -> str:
    """The page of a kind; the longest one where there are many."""
    found = sorted(demo_site.glob(KINDS[kind]))
    if not found and kind.startswith("limits"):
        pytest.skip("the demo is published without limits")
    several = [path for path in found if path.name != "index.html"] or found
    return max(several, key=lambda path: path.stat().st_size).relative_to(demo_site).as_posix()


@pytest.fixture(scope="session")
def axe() -> str:
    """The text of axe-core, from the file that SPECGEN_AXE names."""
    file = os.environ.get("SPECGEN_AXE", "")
    if not file:
        pytest.skip("SPECGEN_AXE does not name axe-core's axe.min.js")
    return Path(file).read_text(encoding="utf-8")


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("kind", KINDS)
def test_axe_finds_no_violation(
    opened: Open, address: str, demo_site: Path, axe: str, kind: str, scheme: str, size: str
) -> None:
    url = f"{address}/{page_of(kind, demo_site)}"
    page = opened(url, color_scheme=scheme, viewport=SIZES[size], reduced_motion="reduce").page
    assert violations(page, axe) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_violation_while_searching(
    opened: Open, address: str, axe: str, scheme: str
) -> None:
    page = opened(f"{address}/index.html", color_scheme=scheme, reduced_motion="reduce").page
    page.get_by_role("combobox").fill("drive")
    page.get_by_role("option").first.wait_for()
    page.keyboard.press("ArrowDown")
    assert violations(page, axe) == []


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_violation_in_a_mailed_sheet(
    opened: Open, sheets: list[Path], axe: str, scheme: str, size: str
) -> None:
    page = opened(sheets[0].as_uri(), color_scheme=scheme, viewport=SIZES[size]).page
    assert violations(page, axe) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_violation_on_a_page_of_faults(
    opened: Open, page_of_faults: Path, axe: str, scheme: str
) -> None:
    watched = opened(page_of_faults.as_uri(), color_scheme=scheme, viewport=SIZES["phone"])
    assert "no-such-module" in watched.page.content()
    assert watched.complaints == []
    assert watched.page.evaluate("document.documentElement.scrollWidth") <= SIZES["phone"]["width"]
    assert violations(watched.page, axe) == []


def violations(page: Any, axe: str) -> list[str]:
    """What axe-core has against a page as it stands."""
    page.evaluate(axe)
    further = "rules: {'target-size': {enabled: true}}"  # WCAG 2.2, 2.5.8: off unless asked for
    found = page.evaluate(f"axe.run(document, {{resultTypes: ['violations'], {further}}})")
    return [
        f"{problem['id']}: {problem['help']}: {node['target']}"
        for problem in found["violations"]
        for node in problem["nodes"][:4]
    ]


REACHABLE = """
() => {
  const every = document.querySelectorAll("a[href], area[href], button, input, select, " +
    "textarea, summary, [tabindex]:not([tabindex^='-'])");
  window.stops = [...every].filter(each => !each.disabled && each.checkVisibility(
    {visibilityProperty: true, contentVisibilityAuto: true}));
  return window.stops.map(each => each.outerHTML.slice(0, 120));
}
"""
STOP = """
() => {
  const here = document.activeElement;
  if (!here || here === document.body) return null;
  const style = getComputedStyle(here);
  const ring = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0;
  const box = here.getBoundingClientRect();
  const onScreen = box.bottom > 0 && box.right > 0 &&
    box.top < innerHeight && box.left < innerWidth;
  return [window.stops.indexOf(here), ring || style.boxShadow !== "none", onScreen,
    here.outerHTML.slice(0, 120)];
}
"""


@pytest.mark.parametrize("kind", KINDS)
def test_the_keyboard_reaches_everything_in_order_and_in_sight(
    opened: Open, address: str, demo_site: Path, kind: str
) -> None:
    url = f"{address}/{page_of(kind, demo_site)}"
    page = opened(url, reduced_motion="reduce").page  # else the page is still on its way there
    names = page.evaluate(REACHABLE)
    stops = walk_by_tab(page, 2 * len(names) + 20)
    reached = [stop[0] for stop in stops if stop[0] >= 0]
    assert [names[at] for at in sorted(set(range(len(names))) - set(reached))] == []
    assert reached == sorted(reached)
    assert [stop[3] for stop in stops if not stop[1]] == [], "no mark of the focus"
    assert [stop[3] for stop in stops if not stop[2]] == [], "focus out of sight"


def walk_by_tab(page: Any, most: int) -> list[Any]:
    """Where the focus stops on its way through the page."""
    stops: list[Any] = []
    for _ in range(most):
        page.keyboard.press("Tab")
        stop = page.evaluate(STOP)
        if stop is None:
            return stops
        stops.append(stop)
    pytest.fail(f"the focus does not leave the page: {stops[-3:]}")


def test_the_nu_checker_finds_no_error(
    demo_site: Path, sheets: list[Path], page_of_faults: Path
) -> None:
    jar, java = os.environ.get("SPECGEN_VNU", ""), shutil.which("java")
    if not jar or java is None:
        pytest.skip("there is no Java" if jar else "SPECGEN_VNU does not name vnu.jar")
    files = [*html_files(demo_site), *sheets, page_of_faults]
    command = [java, "-jar", jar, "--errors-only", "--format", "json", "--exit-zero-always"]
    done = subprocess.run([*command, *map(str, files)], capture_output=True, text=True, check=True)
    messages = json.loads(done.stderr or done.stdout)["messages"]
    assert [
        f"{Path(got.get('url', '')).name}:{got.get('lastLine', 0)} {got['message']}"
        for got in messages
    ] == []
