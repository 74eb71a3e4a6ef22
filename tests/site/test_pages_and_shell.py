import pytest
from site_samples import shell

from specgen.site.page import MenuEntry, Page, contents, furnish, headings


@pytest.mark.parametrize("path", ["/a.html", "../a.html", "a/../b.html", "a//b.html", "a.htm", ""])
def test_a_path_that_leaves_the_site_or_is_no_page_is_refused(path: str) -> None:
    with pytest.raises(ValueError, match="not the path of a page"):
        Page(path, "T", "parts", "")


def test_links_of_the_shell_are_relative_to_the_page() -> None:
    furniture = furnish(shell(), "parts/drives/x.html", "parts", "../../", "")
    assert [link.href for link in furniture.sections] == [
        "../../index.html",
        "../../platforms/index.html",
        "../../builds/index.html",
        "../../parts/index.html",
    ]


def test_the_menu_says_where_the_reader_is() -> None:
    furniture = furnish(shell(), "platforms/lantern.html", "platforms", "../", "")
    assert [(link.title, link.here) for link in furniture.sections if link.here] == [
        ("Platforms", "true")
    ]
    assert [link.title for link in furniture.siblings if link.here == "page"] == ["Lantern"]
    assert [link.title for link in furniture.trail] == ["Start", "Platforms"]


def test_a_path_with_awkward_signs_is_a_proper_address() -> None:
    entry = MenuEntry("Odd", "parts/a b#c.html", "parts")
    assert contents(shell().__class__("n", "p", (entry,)), "")[0].href == "parts/a%20b%23c.html"


def test_headings_with_an_anchor_are_found_without_their_tags() -> None:
    body = '<h2 id="a">One <em>and</em> two &amp; three</h2><h2>no anchor</h2><h3 id="b">deep</h3>'
    assert [(link.title, link.href) for link in headings(body)] == [
        ("One and two &amp; three", "#a")
    ]
