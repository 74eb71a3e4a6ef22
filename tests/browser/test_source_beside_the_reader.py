"""A value's source opens beside the reader: by keyboard, spoken, from the page that exists."""

import pytest

from tests.browser.conftest import Open
from tests.browser.test_everybody_can_use_it import axe, violations

__all__ = ["axe"]
pytestmark = pytest.mark.browser
BUILD = "builds/boathouse-backup.html"
WAY = 'a:has([data-fact="power.maximum"])'


def test_it_opens_says_whose_source_it_is_and_gives_the_focus_back(
    opened: Open, address: str
) -> None:
    watched = opened(f"{address}/{BUILD}")
    page = watched.page
    way = page.locator(WAY).first
    assert (way.get_attribute("title") or "").startswith("Source of ")
    way.focus()
    page.keyboard.press("Enter")
    panel = page.get_by_role("dialog")
    panel.wait_for()
    assert "DC load" in panel.inner_text()
    assert page.evaluate("document.activeElement.closest('[role=dialog]') !== null")
    assert page.url.endswith(BUILD)
    page.keyboard.press("Escape")
    assert panel.is_hidden()
    assert way.evaluate("each => each === document.activeElement")
    assert watched.strangers(address) == []
    assert watched.complaints == []


def test_what_it_rests_on_is_shown_in_the_same_place_and_back(opened: Open, address: str) -> None:
    page = opened(f"{address}/{BUILD}").page
    page.locator(WAY).first.click()
    title = page.locator(".source h2")
    page.locator(".source dd a").first.wait_for()
    before = title.inner_text()
    page.locator(".source dd a").first.click()
    page.locator(".source-back").wait_for()
    assert title.inner_text() != before
    page.get_by_role("button", name="Back").click()
    assert title.inner_text() == before
    page.get_by_role("link", name="In the table of all values").click()
    page.wait_for_url("**/facts.html#power.maximum")


def test_a_folder_on_disk_leads_to_the_page_itself(opened: Open, demo_site) -> None:
    page = opened(f"{demo_site.as_uri()}/{BUILD}").page
    page.locator(WAY).first.click()
    page.wait_for_url("**/facts.html#power.maximum")


def test_without_script_the_link_leads_to_the_page(opened: Open, address: str) -> None:
    page = opened(f"{address}/{BUILD}", java_script_enabled=False).page
    page.locator(WAY).first.click()
    page.wait_for_url("**/facts.html#power.maximum")
    assert page.locator("tr:target").is_visible()


def test_the_page_of_values_is_folded_by_subject_and_opens_where_it_is_asked(
    opened: Open, address: str
) -> None:
    page = opened(f"{address}/builds/boathouse-backup/facts.html#power.maximum").page
    assert page.locator("details.folded").count() > 5
    assert page.locator("details.folded[open]").count() == 1
    row = page.locator("tr:target")
    assert row.is_visible()
    assert 0 <= row.bounding_box()["y"] < 900


@pytest.mark.parametrize("width", [1280, 390, 320])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_violation_in_an_open_panel(
    opened: Open, address: str, axe: str, scheme: str, width: int
) -> None:
    size = {"width": width, "height": 900}
    page = opened(f"{address}/{BUILD}", color_scheme=scheme, viewport=size).page
    page.locator(WAY).first.click()
    page.get_by_role("dialog").wait_for()
    assert violations(page, axe) == []
    box = page.get_by_role("dialog").bounding_box()
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= width
    assert page.evaluate("document.documentElement.scrollWidth") <= width
