"""Three questions of readers, each answered from the start page in two clicks or by one query."""

from typing import Any

import pytest

from tests.browser.conftest import Open

pytestmark = pytest.mark.browser


def searched(page: Any, words: str) -> str:
    """The first hit for a query, in words."""
    page.get_by_role("combobox").fill(words)
    first = page.get_by_role("option").first
    first.wait_for()
    return str(first.inner_text())


def test_what_the_archive_draws_at_worst_and_why_in_two_clicks(opened: Open, address: str) -> None:
    page = opened(f"{address}/index.html").page
    row = page.locator("tr", has=page.get_by_role("link", name="Boathouse archive", exact=True))
    value = row.locator('[data-fact="power.input"]').inner_text()
    row.get_by_role("link", name="Boathouse archive", exact=True).click()
    page.locator('a:has([data-fact="power.input"])').first.click()
    source = page.get_by_role("dialog", name="Source of Input power")
    told = source.inner_text()
    assert value in told
    assert "Max. over all power supplies" in told  # why
    assert source.get_by_role("link").count() > 1  # and what it rests on


def test_what_the_archive_draws_at_worst_by_one_query(opened: Open, address: str) -> None:
    page = opened(f"{address}/index.html").page
    told = searched(page, "how much does the archive draw at worst and why")
    assert "Input power, worst case" in told
    assert "Boathouse archive" in told
    assert "W" in told
    page.keyboard.press("Enter")
    page.wait_for_url("**/boathouse-archive/facts.html#power.input")


def test_which_server_takes_eight_accelerators_on_the_start_page(
    opened: Open, address: str
) -> None:
    page = opened(f"{address}/index.html").page
    taking = {}
    for entry in page.locator("li:has(> .picture)").all():
        facts = entry.locator(".facts > div", has_text="Accelerators")
        taking[entry.get_by_role("link").first.inner_text()] = facts.locator("dd").inner_text()
    assert [name for name, most in taking.items() if most == "up to 8"] == ["Capstan"]


def test_which_server_takes_eight_accelerators_by_one_query(opened: Open, address: str) -> None:
    page = opened(f"{address}/index.html").page
    told = searched(page, "which server takes eight accelerators")
    assert "Capstan" in told
    assert "8" in told


def test_what_fails_if_a_processor_fails_in_two_clicks(opened: Open, address: str) -> None:
    page = opened(f"{address}/index.html").page
    page.get_by_role("link", name="Boathouse archive", exact=True).click()
    page.get_by_role("link", name="Effect of a single failure").first.click()
    rows = page.locator("#failures-table tbody tr")
    first = rows.filter(has_text="Processor CPU1").inner_text()
    second = rows.filter(has_text="Processor CPU2").inner_text()
    assert "stops until it is replaced" in first
    assert "starts again without it" in second
    assert "Landing lost" in second
    assert "MID BAY 0 to 3" in second


def test_what_fails_if_a_processor_fails_by_one_query(opened: Open, address: str) -> None:
    page = opened(f"{address}/index.html").page
    told = searched(page, "what fails if a processor fails")
    assert "If a processor fails" in told
    assert "CPU1: the server stops until it is replaced" in told
    page.get_by_role("combobox").fill("what fails if a processor of the archive fails")
    page.get_by_role("option").first.filter(has_text="Boathouse archive").wait_for()
    page.keyboard.press("Enter")
    page.wait_for_url("**/boathouse-archive/facts.html#failures.processors")
    row = page.locator("tr:target")
    assert row.is_visible()
    assert "MID BAY 0 to 3 lost" in row.inner_text()
