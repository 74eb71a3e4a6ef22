import re
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from socket import socket

import pytest

from specgen.site.preview import CannotPreview, _Server, preview, start, watched
from tests.timing import NO_HANG


@contextmanager
def serving(
    build: Callable[[], None], watch: Path, site: Path, problems: list[Exception]
) -> Iterator[str]:
    """Its address, with a port that the system gives when it begins to serve."""
    server = start(build, [watch], "127.0.0.1", 0, site, problems.append)
    thread = threading.Thread(target=server.serve, daemon=True)
    thread.start()
    try:
        wait_for(lambda: bool(getattr(server, "server_port", 0)))
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown(wait=False)
        thread.join(NO_HANG)


def get(url: str, within: float = NO_HANG) -> str:
    until = time.monotonic() + within
    while True:
        try:
            with urllib.request.urlopen(url, timeout=within) as answer:
                return str(answer.read().decode())
        except OSError:
            if time.monotonic() > until:
                raise
            time.sleep(0.02)


def wait_for(seen: Callable[[], bool], within: float = NO_HANG) -> None:
    until = time.monotonic() + within
    while not seen():
        assert time.monotonic() < until, "nothing happened"
        time.sleep(0.02)


def test_a_change_is_built_and_a_failed_build_keeps_the_last_good_site(tmp_path: Path) -> None:
    source, site = tmp_path / "source", tmp_path / "site"
    source.mkdir()
    site.mkdir()
    (source / "a.yaml").write_text("one")

    def build() -> None:
        text = (source / "a.yaml").read_text()
        if text == "bad":
            raise ValueError("a mistake")
        (site / "index.html").write_text(f"<body>{text}</body>")

    problems: list[Exception] = []
    with serving(build, source, site, problems) as url:
        assert "one" in get(url)
        (source / "a.yaml").write_text("the second")
        wait_for(lambda: "the second" in get(url))
        (source / "a.yaml").write_text("bad")
        wait_for(lambda: bool(problems))
        assert "the second" in get(url)
        (source / "a.yaml").write_text("mended")
        wait_for(lambda: "mended" in get(url))
    assert [str(problem) for problem in problems] == ["a mistake"]


def test_a_first_build_that_fails_is_reported(tmp_path: Path) -> None:
    def build() -> None:
        raise ValueError("a mistake")

    problems: list[Exception] = []
    start(build, [], "127.0.0.1", 0, tmp_path, problems.append).server_close()
    assert len(problems) == 1


def test_a_taken_address_is_reported_plainly(tmp_path: Path) -> None:
    with socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = int(taken.getsockname()[1])
        with pytest.raises(CannotPreview, match=f"cannot serve on 127.0.0.1:{port}"):
            preview(lambda: None, [], "127.0.0.1", port, tmp_path)


def test_the_published_site_is_not_watched(tmp_path: Path) -> None:
    for name in ("catalog", "out/site", "out/other", ".git"):
        (tmp_path / name).mkdir(parents=True)
    assert watched([tmp_path, tmp_path / "missing"], tmp_path / "out/site") == [
        (tmp_path, False),
        (tmp_path / "catalog", True),
        (tmp_path / "out", False),
        (tmp_path / "out/other", True),
    ]
    assert watched([tmp_path / "catalog"], tmp_path / "out/site") == [(tmp_path / "catalog", True)]


def test_the_script_of_the_server_is_the_only_one_that_its_page_lets_in() -> None:
    server = object.__new__(_Server)
    page = (
        b"<meta content=\"script-src 'self'; img-src 'self'\"><script src=x></script><body></body>"
    )
    made = server._inject_js_into_html(page, 1).decode()
    (once,) = re.findall(r"<script nonce=\"([\w-]+)\">", made)
    assert f"script-src 'nonce-{once}' 'self';" in made
    assert made.count(once) == 2
    assert once not in server._inject_js_into_html(page, 1).decode()
