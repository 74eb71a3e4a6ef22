"""Chromium, and the published demo behind a server with a strict policy."""

import functools
import http.server
import re
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from specgen.pipeline import Survey
from tests.conftest import publish
from tests.timing import NO_HANG

SHEETS = 2
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'self'"
)
ARGUMENTS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    # a name that is looked up would be a request to another host
    "--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1",
]


class Strict(http.server.SimpleHTTPRequestHandler):
    """Files under a Content-Security-Policy, and no word on the terminal."""

    def end_headers(self) -> None:
        self.send_header("Content-Security-Policy", POLICY)
        super().end_headers()

    def log_message(self, format: str, *_: Any) -> None:  # noqa: A002  # the base class names it
        pass


@pytest.fixture(scope="session")
def address(demo_site: Path) -> Iterator[str]:
    """Where the demo is served, without the slash at the end."""
    handler = functools.partial(Strict, directory=str(demo_site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


@pytest.fixture(scope="session")
def sheets(demo: Survey, demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Spec sheets as they would be mailed."""
    folder = tmp_path_factory.mktemp("sheets")
    names = sorted(demo.cases)[:: len(demo.cases) // SHEETS]
    for name in names:
        command = [sys.executable, "-m", "specgen", "sheet", name, "--to", "html"]
        command += ["--project", str(demo_folder), "-o", str(folder / f"{name}.html")]
        subprocess.run(command, check=True)
    return [folder / f"{name}.html" for name in names]


@pytest.fixture(scope="session")
def page_of_faults(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a build that names parts that do not exist, in a site of its own."""
    folder = tmp_path_factory.mktemp("faulty")
    shutil.copytree(demo_folder, folder / "project")
    file = min((folder / "project" / "configured").glob("*.yaml"))
    text = file.read_text(encoding="utf-8")
    name = re.search(r"^id: (\S+)$", text, re.M)
    broken = re.sub(r"^(  DIMM [^:]+): \S+$", r"\1: no-such-module", text, flags=re.M)
    assert name is not None
    assert broken != text
    file.write_text(broken, encoding="utf-8")
    assert publish(folder / "project", folder / "site") == 1
    return folder / "site" / "builds" / f"{name[1]}.html"


@pytest.fixture(scope="package")  # playwright runs once at a time; other folders have their own
def browser() -> Iterator[Any]:
    """Debian's Chromium through playwright. Skips where either is missing."""
    sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        pytest.skip("Chromium is not installed")
    with sync_api.sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium, args=ARGUMENTS)
        yield running
        running.close()


@dataclass
class Watched:
    """A page of the browser and what it asked for and complained of."""

    page: Any
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def strangers(self, home: str) -> list[str]:
        """Requests that went elsewhere."""
        return [url for url in self.requests if not url.startswith(home)]


def _refusal(answer: Any) -> list[str]:
    return [f"{answer.status} {answer.url}"] if answer.status >= 400 else []


def _failure(request: Any) -> list[str]:
    """Requests that fail, but for those given up because the next page was asked for."""
    if request.failure == "net::ERR_ABORTED":
        return []
    return [f"failed: {request.url}: {request.failure}"]


Open = Callable[..., Watched]


@pytest.fixture
def opened(browser: Any) -> Iterator[Open]:
    """Opens a page: `opened(url, **options of the context)`."""
    contexts = []

    def open_page(url: str, **options: Any) -> Watched:
        context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **options})
        context.set_default_timeout(NO_HANG * 1000)
        contexts.append(context)
        watched = Watched(context.new_page())
        page, sent = watched.page, watched.complaints
        page.on("request", lambda request: watched.requests.append(request.url))
        page.on("console", lambda got: sent.append(f"{got.type}: {got.text}"))
        page.on("pageerror", lambda problem: sent.append(str(problem)))
        page.on("requestfailed", lambda request: sent.extend(_failure(request)))
        page.on("response", lambda answer: sent.extend(_refusal(answer)))
        page.goto(url)
        return watched

    yield open_page
    for context in contexts:
        context.close()
