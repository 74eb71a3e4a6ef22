"""The published site as files: every link leads somewhere, and a strict policy finds no fault."""

from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.browser.kinds import KINDS
from tests.browser.pages import Pointing, html_files, read, target_of

Site = dict[Path, Pointing]


@pytest.fixture(
    scope="module", params=["small_site", pytest.param("demo_site", marks=pytest.mark.slow)]
)
def home(request: pytest.FixtureRequest) -> Path:
    """The folder of a published site."""
    folder: Path = request.getfixturevalue(request.param)
    return folder


@pytest.fixture(scope="module")
def site(home: Path) -> Site:
    # The page for addresses without one asks for its script at several depths: see below.
    return {file: read(file) for file in html_files(home) if file.name != "404.html"}


@pytest.mark.parametrize("kind", KINDS)
def test_there_is_a_page_of_each_kind(home: Path, kind: str) -> None:
    assert list(home.glob(KINDS[kind]))


def test_every_link_leads_to_a_page_and_a_place_on_it(site: Site, home: Path) -> None:
    broken = []
    for file, page in site.items():
        for address in page.addresses:
            target = target_of(address, file)
            if target is None:
                continue
            path, anchor = target
            there = path.is_file() and path.is_relative_to(home)
            if not there or (anchor and anchor not in site[path].ids):
                broken.append(f"{file.relative_to(home)}: {address}")
    assert broken == []


def test_no_link_depends_on_where_the_site_lies(site: Site) -> None:
    """It works from a folder and below any path of a server."""
    assert [a for page in site.values() for a in page.addresses if a.startswith("/")] == []


def test_nothing_is_fetched_from_elsewhere(site: Site) -> None:
    schemes = {urlsplit(address).scheme for page in site.values() for address in page.addresses}
    assert schemes <= {"", "mailto"}


def test_no_id_stands_twice_on_a_page(site: Site, home: Path) -> None:
    twice = {
        str(file.relative_to(home)): sorted({i for i in page.ids if page.ids.count(i) > 1})
        for file, page in site.items()
        if len(set(page.ids)) < len(page.ids)
    }
    assert twice == {}


def test_what_labels_and_describes_is_on_the_page(site: Site, home: Path) -> None:
    assert [
        f"{file.relative_to(home)}: {reference}"
        for file, page in site.items()
        for reference in page.references
        if reference not in page.ids
    ] == []


def test_no_page_needs_inline_script_or_style(site: Site) -> None:
    assert [found for page in site.values() for found in page.refused] == []


def test_every_page_can_be_reached_from_the_start(site: Site, home: Path) -> None:
    start = home / "index.html"
    seen, ahead = {start}, [start]
    while ahead:
        file = ahead.pop()
        for address in site[file].addresses:
            target = target_of(address, file)
            if target and target[0] in site and target[0] not in seen:
                seen.add(target[0])
                ahead.append(target[0])
    assert sorted(str(file.relative_to(home)) for file in set(site) - seen) == []


def test_the_page_for_lost_readers_leads_to_the_lists(home: Path) -> None:
    page = read(home / "404.html")
    assert page.refused == []
    assert {"index.html", "platforms.html", "builds.html", "parts.html"} <= set(page.addresses)
    assert {"js/lost.js", "../js/lost.js", "../../js/lost.js"} <= set(page.addresses)
    assert (home / "js/lost.js").is_file()
