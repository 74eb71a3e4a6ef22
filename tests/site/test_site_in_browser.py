"""The theme in a real browser: search by keyboard, light, policy, phone."""

import functools
import http.server
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

sync_api = pytest.importorskip("playwright.sync_api")
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
ARGUMENTS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(not CHROMIUM, reason="Chromium is not installed"),
]


class Handler(http.server.SimpleHTTPRequestHandler):
    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", "default-src 'self'")
        super().end_headers()

    def log_message(self, *_: object) -> None:
        pass


@pytest.fixture(scope="module")
def address(sample_site: Path) -> Iterator[str]:
    handler = functools.partial(Handler, directory=str(sample_site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.fixture(scope="module")
def browser() -> Iterator["sync_api.Browser"]:
    with sync_api.sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield running
        running.close()


@pytest.fixture
def page(browser: "sync_api.Browser", address: str) -> Iterator["sync_api.Page"]:
    context = browser.new_context(base_url=address, viewport={"width": 1280, "height": 900})
    opened = context.new_page()
    troubles: list[str] = []
    opened.on("console", lambda got: troubles.append(got.text))
    opened.on("pageerror", lambda problem: troubles.append(str(problem)))
    opened.on(
        "request",
        lambda asked: None if asked.url.startswith(address) else troubles.append(asked.url),
    )
    yield opened
    context.close()
    assert troubles == []


def test_search_works_by_keyboard_alone(page: "sync_api.Page") -> None:
    page.goto("/builds/lantern-a.html")
    page.keyboard.press("/")
    field = page.get_by_role("combobox", name="Search this site")
    sync_api.expect(field).to_be_focused()
    page.keyboard.type("tarn mix")
    sync_api.expect(field).to_have_attribute("aria-expanded", "true")
    group = page.get_by_role("group", name="Parts")
    sync_api.expect(group.get_by_role("option")).to_have_count(1)
    page.keyboard.press("ArrowDown")
    sync_api.expect(page.get_by_role("option", selected=True)).to_contain_text("Tarn 320")
    chosen = page.get_by_role("option", selected=True).get_attribute("id")
    sync_api.expect(field).to_have_attribute("aria-activedescendant", str(chosen))
    page.keyboard.press("Enter")
    page.wait_for_url("**/parts/drives/tarn-320.html")


def test_escape_closes_and_then_clears(page: "sync_api.Page") -> None:
    page.goto("/index.html")
    field = page.get_by_role("combobox")
    field.fill("lantern")
    sync_api.expect(page.get_by_role("option").first).to_be_visible()
    page.keyboard.press("Escape")
    sync_api.expect(page.get_by_role("listbox")).to_be_hidden()
    sync_api.expect(field).to_have_value("lantern")
    page.keyboard.press("Escape")
    sync_api.expect(field).to_have_value("")


def test_arrows_go_round_and_pass_the_field(page: "sync_api.Page") -> None:
    page.goto("/index.html")
    field = page.get_by_role("combobox")
    field.fill("lantern a")
    options = page.get_by_role("option")
    sync_api.expect(options.first).to_be_visible()
    page.keyboard.press("ArrowUp")
    sync_api.expect(options.last).to_have_attribute("aria-selected", "true")
    page.keyboard.press("ArrowDown")
    sync_api.expect(page.get_by_role("option", selected=True)).to_have_count(0)


def test_what_is_not_found_is_said(page: "sync_api.Page") -> None:
    page.goto("/index.html")
    page.get_by_role("combobox").fill("zeppelin airship")
    sync_api.expect(page.get_by_role("status")).to_have_text("No page has any of these words")


def test_the_lamp_goes_round_and_is_remembered(page: "sync_api.Page") -> None:
    page.goto("/index.html")
    root = page.locator("html")
    for expected in ("light", "dark"):
        page.get_by_role("button", name="Light:").click()
        sync_api.expect(root).to_have_attribute("data-theme", expected)
    dark = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.goto("/parts/drives/tarn-320.html")
    sync_api.expect(root).to_have_attribute("data-theme", "dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == dark
    page.get_by_role("button", name="Light: dark").click()
    sync_api.expect(page.get_by_role("button", name="Light: auto")).to_be_visible()


@pytest.mark.parametrize("path", ["index", "platforms/lantern", "builds/lantern-a", "about"])
def test_nothing_is_wider_than_a_phone(page: "sync_api.Page", path: str) -> None:
    page.set_viewport_size({"width": 360, "height": 800})
    page.goto(f"/{path}.html")
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_wide_tables_become_cards_on_a_phone(page: "sync_api.Page") -> None:
    page.goto("/builds/lantern-a.html")
    cell = page.locator("#slots td").first
    assert cell.evaluate("cell => getComputedStyle(cell).display") == "table-cell"
    page.set_viewport_size({"width": 390, "height": 800})
    assert cell.evaluate("cell => getComputedStyle(cell, '::before').content") == '"Height"'


def test_without_script_there_are_menu_and_contents_and_no_dead_field(
    browser: "sync_api.Browser", address: str
) -> None:
    context = browser.new_context(java_script_enabled=False, base_url=address)
    page = context.new_page()
    page.goto("/builds/lantern-a.html")
    sync_api.expect(page.locator(".search")).to_be_hidden()
    sync_api.expect(page.locator(".lamp")).to_be_hidden()
    page.get_by_role("navigation", name="Sections").get_by_text("Platforms").click()
    page.wait_for_url("**/platforms/index.html")
    page.locator("#contents").get_by_text("Boathouse").click()
    page.wait_for_url("**/platforms/boathouse.html")
    context.close()


def test_search_works_from_a_folder_without_a_server(
    browser: "sync_api.Browser", sample_site: Path
) -> None:
    page = browser.new_page()
    page.goto((sample_site / "builds/lantern-a.html").as_uri())
    page.get_by_role("combobox").fill("boath")
    page.get_by_role("option", name="Boathouse").first.click()
    page.wait_for_url("**/platforms/boathouse.html")
    page.close()


def test_the_skip_link_leads_to_the_content(page: "sync_api.Page") -> None:
    page.goto("/builds/lantern-a.html")
    page.keyboard.press("Tab")
    sync_api.expect(page.get_by_role("link", name="Skip to the content")).to_be_focused()
    page.keyboard.press("Enter")
    sync_api.expect(page.locator("main")).to_be_focused()
