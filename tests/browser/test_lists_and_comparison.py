"""Lists that are filtered and sorted, systems side by side, values that lead somewhere."""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Open
from tests.browser.test_everybody_can_use_it import axe, violations

__all__ = ["axe"]
pytestmark = pytest.mark.browser
TWO = "build:boathouse-backup,build:boathouse-archive"


def texts_of(page: Any) -> str:
    return str(page.locator(".list-count").inner_text())


def shown(page: Any) -> int:
    return int(
        page.evaluate(
            "[...document.querySelectorAll('tbody tr')].filter(r => r.checkVisibility()).length"
        )
    )


def test_parts_are_filtered_by_words_and_kind_with_a_live_count(opened: Open, address: str) -> None:
    page = opened(f"{address}/parts.html").page
    every = shown(page)
    assert texts_of(page) == f"{every} parts"
    page.get_by_role("searchbox").fill("registered 32")
    few = shown(page)
    assert 0 < few < every
    assert texts_of(page) == f"{few} of {every} parts"
    assert page.locator(".list-count").get_attribute("role") == "status"
    page.get_by_role("searchbox").press("Escape")
    page.get_by_label("Kind").select_option("Fans")
    assert 0 < shown(page) < every
    assert page.locator("figcaption:visible").all_inner_texts() == ["Fans"]


def test_columns_are_sorted_by_keyboard_and_say_so(opened: Open, address: str) -> None:
    page = opened(f"{address}/builds.html").page
    head = page.get_by_role("columnheader", name="Memory")
    as_listed = page.locator("tbody tr th").all_inner_texts()
    head.get_by_role("button").focus()
    page.keyboard.press("Enter")
    assert head.get_attribute("aria-sort") == "ascending"
    rising = [gib(text) for text in page.locator("tbody tr td:nth-child(4)").all_inner_texts()]
    assert rising == sorted(rising)
    assert len(set(rising)) > 3
    page.keyboard.press("Enter")
    assert head.get_attribute("aria-sort") == "descending"
    page.keyboard.press("Enter")
    assert head.get_attribute("aria-sort") is None
    assert page.locator("tbody tr th").all_inner_texts() == as_listed


def gib(text: str) -> float:
    number, unit = text.split("\u202f")
    return float(number) * {"GiB": 1, "TiB": 1024}[unit]


def test_a_phone_orders_lists_by_a_choice(opened: Open, address: str) -> None:
    page = opened(f"{address}/builds.html", viewport={"width": 390, "height": 844}).page
    page.get_by_label("Order").select_option("Build")
    names = page.locator("tbody tr th").all_inner_texts()
    assert names == sorted(names, key=str.lower)


def test_lists_without_script_are_plain_tables(opened: Open, address: str) -> None:
    page = opened(f"{address}/parts.html", java_script_enabled=False).page
    assert page.locator("form.list-filter").count() == 0
    assert page.locator("tbody tr").count() > 100


def test_systems_are_chosen_by_keyboard_and_stand_in_the_address(
    opened: Open, address: str
) -> None:
    watched = opened(f"{address}/compare.html")
    page = watched.page
    picker = page.get_by_label("Platform or build")
    picker.wait_for()
    assert texts_of(page) == "Choose 2 to 5"
    for name in ("Boathouse for backups", "Boathouse archive"):
        picker.select_option(label=name)
        page.get_by_role("button", name="Add").focus()
        page.keyboard.press("Enter")
        page.get_by_role("columnheader", name=name).wait_for()
    assert page.url.endswith(f"#compare={TWO}")
    assert watched.strangers(address) == []
    assert watched.complaints == []
    every = page.locator(".compared tbody tr:not(.group)").count()
    assert re.fullmatch(rf"\d+ of {every} rows differ", texts_of(page))
    page.get_by_label("Only rows that differ").press("Space")
    fewer = page.locator(".compared tbody tr:not(.group)").count()
    assert 0 < fewer < every
    assert texts_of(page) == f"{fewer} of {every} rows differ"
    assert page.url.endswith("&only=differences")
    page.get_by_role("button", name="Remove Boathouse archive").press("Enter")
    page.get_by_role("columnheader", name="Boathouse archive").wait_for(state="detached")
    assert texts_of(page) == "Choose one more"


def test_a_mailed_address_shows_the_same_choice(
    opened: Open, address: str, demo_site: Path
) -> None:
    for home in (address, demo_site.as_uri()):
        page = opened(f"{home}/compare.html#compare={TWO}&only=differences").page
        page.get_by_role("columnheader", name="Boathouse archive").wait_for()
        assert page.get_by_label("Only rows that differ").is_checked()
        assert not page.get_by_text("All platforms").is_visible()


def test_an_address_that_names_nothing_shows_the_platforms(opened: Open, address: str) -> None:
    watched = opened(f"{address}/compare.html#compare=build:none,%3Cimg%3E")
    watched.page.get_by_label("Platform or build").wait_for()
    assert watched.page.get_by_text("All platforms").is_visible()
    assert watched.complaints == []


def test_no_more_than_five_are_compared(opened: Open, address: str) -> None:
    six = "platform:pocket,platform:lantern,platform:beacon,platform:boathouse,platform:capstan"
    page = opened(f"{address}/compare.html#compare={six},build:boathouse-backup").page
    page.get_by_role("columnheader", name="Capstan").wait_for()
    assert page.locator(".compare-chosen li").count() == 5
    assert page.get_by_role("button", name="Add").is_disabled()


def test_without_script_the_platforms_stand_side_by_side(opened: Open, address: str) -> None:
    page = opened(f"{address}/compare.html", java_script_enabled=False).page
    assert page.get_by_role("columnheader").all_inner_texts()[0] == "Parameter"
    assert page.get_by_role("columnheader", name="Boathouse").is_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_axe_finds_no_violation_in_a_comparison(
    opened: Open,
    address: str,
    axe: str,
    scheme: str,
    width: int,
) -> None:
    url = f"{address}/compare.html#compare={TWO},platform:lantern"
    size = {"width": width, "height": 900}
    page = opened(url, color_scheme=scheme, viewport=size, reduced_motion="reduce").page
    page.locator(".compared").wait_for()
    assert violations(page, axe) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_axe_finds_no_violation_in_a_sorted_and_filtered_list(
    opened: Open,
    address: str,
    axe: str,
) -> None:
    page = opened(f"{address}/parts.html", reduced_motion="reduce").page
    page.get_by_role("searchbox").fill("fan")
    page.locator("th:visible .sort").first.click()
    assert violations(page, axe) == []


def test_a_value_leads_to_its_row_by_keyboard(opened: Open, address: str) -> None:
    page = opened(f"{address}/builds/boathouse-backup.html").page
    page.locator('a:has([data-fact="power.maximum"])').first.focus()
    page.keyboard.press("Enter")
    page.get_by_role("link", name="In the table of all values").press("Enter")
    page.wait_for_url("**/facts.html#power.maximum")
    row = page.locator("tr:target")
    assert "DC load, maximum" in row.inner_text()
    row.get_by_role("link").first.press("Enter")
    assert "#power." in page.url
    assert "DC load, maximum" not in page.url


def test_comparing_starts_with_boxes_in_a_list(opened: Open, address: str) -> None:
    page = opened(f"{address}/builds.html").page
    for name in ("Boathouse for backups", "Boathouse archive"):
        page.get_by_role("checkbox", name=f"Compare {name}").press("Space")
    assert page.get_by_role("status").filter(has_text="2 chosen").is_visible()
    page.get_by_role("region", name="Chosen to compare").get_by_role("link").press("Enter")
    page.get_by_role("columnheader", name="Boathouse archive").wait_for()
    assert page.url.endswith(f"#compare={TWO}")


def test_comparing_starts_with_a_plain_link_on_the_page_of_a_build(
    opened: Open, address: str
) -> None:
    for script in (False, True):
        page = opened(f"{address}/builds/boathouse-archive.html", java_script_enabled=script).page
        page.get_by_role("link", name="Compare with").click()
        page.wait_for_url("**/compare.html*")
        if script:
            page.get_by_role("columnheader", name="Boathouse archive").wait_for()
            assert texts_of(page) == "Choose one more"
        else:
            assert page.get_by_role("columnheader", name="Boathouse").is_visible()


def test_twenty_rows_lead_and_the_rest_is_folded(opened: Open, address: str) -> None:
    page = opened(f"{address}/compare.html#compare={TWO}").page
    page.locator(".compared").wait_for()
    rows = page.locator(".compared tbody tr:not(.group)")
    assert rows.count() == 20
    page.get_by_role("button", name="All rows").press("Enter")
    page.get_by_role("button", name="Leading rows only").wait_for()
    assert rows.count() > 60
    assert page.url.endswith("&rows=all")


def test_parts_have_the_columns_one_chooses_by(opened: Open, address: str) -> None:
    page = opened(f"{address}/parts.html").page
    processors = page.locator("#processor-table")
    processors.get_by_role("button", name="Cores").click()
    processors.get_by_role("button", name="Cores").click()
    column = processors.locator("thead th").all_inner_texts().index("Cores")
    cores = processors.locator(f"tbody tr > :nth-child({column + 1})").all_inner_texts()
    assert [int(each) for each in cores] == sorted((int(each) for each in cores), reverse=True)


def test_paper_shows_nothing_of_the_ways(opened: Open, address: str) -> None:
    page = opened(f"{address}/builds/boathouse-backup.html").page
    page.emulate_media(media="print")
    way = page.locator('a:has([data-fact="power.maximum"])').first
    assert way.evaluate("each => getComputedStyle(each).textDecorationLine") == "none"
