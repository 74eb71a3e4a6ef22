"""Pages of a hostile project in Chromium: nothing of it runs, no request leaves the site."""

import functools
import http.server
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.conftest import Open, Strict
from tests.browser.pages import html_files
from tests.conftest import publish
from tests.hostile.injected import copy_of, strings
from tests.projects import BASE
from tests.prose.test_page_html import ACTS
from tests.site.test_pictures_of_pages import ACTS as PICTURES
from tests.site.test_pictures_of_pages import HEAD

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with the strings in its texts, pages of nothing else, and pictures that act."""
    folder = tmp_path_factory.mktemp("hostile")
    copy_of(BASE, folder / "project", words=False)
    pages = folder / "project/pages"
    pages.mkdir()
    for number, text in enumerate((*strings(), *ACTS.values())):
        # errors keep a page from being published; what the cleaner leaves is looked at below
        (pages / f"{number}.md").write_text(f"# {text}\n\n{text}\n\n- {text}\n", encoding="utf-8")
    for number, text in enumerate(PICTURES.values()):
        (pages / f"{number}.svg").write_text(f"{HEAD}{text}</svg>", encoding="utf-8")
    shown = "".join(f"![x]({number}.svg)\n" for number in range(len(PICTURES)))
    (pages / "pictures.md").write_text(f"# Pictures\n\n{shown}", encoding="utf-8")
    assert publish(folder / "project", folder / "site", "--jobs", "1") == 1
    assert (folder / "site/pictures.html").is_file()
    return folder / "site"


@pytest.fixture
def address(site: Path) -> Iterator[str]:
    handler = functools.partial(Strict, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.mark.parametrize("place", ["server", "folder"])
def test_nothing_runs_and_no_request_leaves(
    opened: Open, address: str, site: Path, place: str
) -> None:
    home = address if place == "server" else site.as_uri()
    watched = opened(f"{home}/index.html")
    ran: list[str] = []
    watched.page.on("dialog", lambda dialog: (ran.append(dialog.message), dialog.dismiss()))
    got: dict[str, list[str]] = {}
    for path in (*html_files(site), *sorted(site.rglob("*.svg"))):
        name = path.relative_to(site).as_posix()
        if name == "404.html" and place == "folder":
            continue  # it looks for its scripts above itself, since a server shows it anywhere
        watched.page.goto(f"{home}/{name}")
        if watched.complaints and path.suffix == ".html":  # a strict server refuses styles of SVG
            got[name] = [*watched.complaints]
        watched.complaints.clear()
    assert ran == []
    assert watched.strangers(home) == []
    assert got == {}


def test_what_the_cleaner_leaves_does_nothing_without_a_policy(
    opened: Open, tmp_path: Path
) -> None:
    from specgen.document.prose.page_html import cleaned

    page = "\n".join(cleaned(text) for text in (*strings(), *ACTS.values()))
    (tmp_path / "page.html").write_text(f"<!DOCTYPE html><h1>x</h1>{page}", encoding="utf-8")
    watched = opened("about:blank")
    ran: list[str] = []
    watched.page.on("dialog", lambda dialog: (ran.append(dialog.message), dialog.dismiss()))
    watched.page.goto((tmp_path / "page.html").as_uri())
    assert ran == []
    others = [url for url in watched.requests if not url.startswith("file:")]
    assert others == ["about:blank"] or others == []


def test_the_policy_of_a_page_stops_what_would_run(
    opened: Open, site: Path, tmp_path: Path
) -> None:
    page = (site / "index.html").read_text(encoding="utf-8")
    bad = "<script>alert(1)</script><img src=x onerror=alert(2)><img src=https://stranger.example/>"
    (site / "bad.html").write_text(page.replace("</main>", f"{bad}</main>"), encoding="utf-8")
    watched = opened("about:blank")
    ran: list[str] = []
    watched.page.on("dialog", lambda dialog: (ran.append(dialog.message), dialog.dismiss()))
    watched.page.goto((site / "bad.html").as_uri())
    (site / "bad.html").unlink()
    assert ran == []
    assert len([each for each in watched.complaints if "Content Security Policy" in each]) >= 3


def test_a_link_to_another_host_shows_it(opened: Open, tmp_path: Path, site: Path) -> None:
    from specgen.document.prose.page_html import cleaned

    style = (site / "css/document.css").read_text(encoding="utf-8")
    links = cleaned('<a id="a" href="https://a.example/">a</a> <a id="b" href="b.html">b</a>')
    (tmp_path / "page.html").write_text(f"<style>{style}</style>{links}", encoding="utf-8")
    sign = "name => getComputedStyle(document.querySelector(name), '::after').content"
    for scheme in ("light", "dark"):
        page = opened((tmp_path / "page.html").as_uri(), color_scheme=scheme).page
        assert "↗" in page.evaluate(sign, "#a")
        assert page.evaluate(sign, "#b") == "none"
        page.emulate_media(media="print")
        assert "https://a.example/" in page.evaluate(sign, "#a")
