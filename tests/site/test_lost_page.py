"""The page that a server shows where there is none: in the same shell, at any address."""

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.site.printed import printed_in
from tests.site.test_site_in_browser import Handler, browser, pytestmark, sync_api

__all__ = ["browser", "pytestmark"]


class Server(Handler):
    """Shows 404.html where it has no file, below a folder of the host."""

    def translate_path(self, path: str) -> str:
        return super().translate_path(path.removeprefix("/shelf"))

    def send_error(self, code: int, *_: object, **__: object) -> None:
        body = Path(self.directory, "404.html").read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)


@pytest.fixture(scope="module")
def address(sample_site: Path) -> Iterator[str]:
    handler = functools.partial(Server, directory=str(sample_site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.mark.parametrize("way", ["", "/shelf"])
@pytest.mark.parametrize("lost", ["/gone.html", "/builds/gone.html", "/a/b/c/d.html"])
def test_a_lost_reader_finds_the_way(
    browser: "sync_api.Browser", address: str, way: str, lost: str
) -> None:
    page = browser.new_page(base_url=address)
    page.goto(way + lost)
    assert page.locator("h1").inner_text() == "No page here"
    # the shell's style sheet has come
    assert page.locator(".unseen").first.evaluate("e => getComputedStyle(e).position") == "absolute"
    content = page.locator("a.skip").evaluate("e => e.href")
    assert content == f"{address}{way}{lost}#content"
    page.locator("#search-words").fill("lantern")
    page.locator("[role=option]").first.wait_for()
    page.locator("main a").first.click()
    page.wait_for_url(f"{address}{way}/index.html")
    page.close()


def test_the_page_is_no_answer_to_a_search(sample_site: Path) -> None:
    found = [
        file for file in (sample_site / "search").glob("p-*.js") if "404.html" in file.read_text()
    ]
    assert found == []


def test_what_is_printed_letter_by_letter_is_known_to_the_search() -> None:
    from specgen.document.tree import Document, FactList, literal, value, words

    entries = (
        ("Speed", value("5600", "MT/s")),
        ("Rule", literal("BOAT-01")),
        ("x", words("y")),
    )
    assert printed_in(Document("t", (FactList("f", entries),))) == ("5600 MT/s", "BOAT-01")
