import pytest
from site_samples import shell

from specgen.document.tree import Document, Emphasis, Figure, Heading, Text
from specgen.site.page import MenuEntry, Page, Places, contents, furnish, places_in
from specgen.site.ready_html import read_page


@pytest.mark.parametrize("path", ["/a.html", "../a.html", "a/../b.html", "a//b.html", "a.htm", ""])
def test_a_path_that_leaves_the_site_or_is_no_page_is_refused(path: str) -> None:
    with pytest.raises(ValueError, match="not the path of a page"):
        Page(path, "T", "parts", "")


def test_links_of_the_shell_are_relative_to_the_page() -> None:
    furniture = furnish(shell(), Page("parts/drives/x.html", "X", "parts", ""))
    assert [link.href for link in furniture.sections] == [
        "../../index.html",
        "../../platforms/index.html",
        "../../builds/index.html",
        "../../parts/index.html",
    ]


def test_the_menu_says_where_the_reader_is() -> None:
    furniture = furnish(shell(), Page("platforms/lantern.html", "L", "platforms", ""))
    assert [(link.title, link.here) for link in furniture.sections if link.here] == [
        ("Platforms", "true")
    ]
    assert [link.title for link in furniture.siblings if link.here == "page"] == ["Lantern"]
    assert [link.title for link in furniture.trail] == ["Start", "Platforms"]


def test_a_path_with_awkward_signs_is_a_proper_address() -> None:
    entry = MenuEntry("Odd", "parts/a b#c.html", "parts")
    assert contents(shell().__class__("n", "p", (entry,)), "")[0].href == "parts/a%20b%23c.html"


def test_headings_with_an_anchor_are_those_of_the_document() -> None:
    words = (Text("One "), Emphasis((Text("and"),)), Text(" two & three"))
    blocks = (Heading(2, words, "a"), Heading(2, (Text("no anchor"),)), Heading(3, words, "b"))
    made = places_in(Document("T", (*blocks, Figure("F", None, "f", "c"))))
    assert made == Places((("One and two & three", "a"),), frozenset("abc"))
    links = furnish(shell(), Page("a.html", "A", "parts", "", places=made)).headings
    assert [(link.title, link.href) for link in links] == [("One and two & three", "#a")]


def test_headings_of_a_written_page_are_read_without_their_tags() -> None:
    body = (
        '<h1>A <b>title</b></h1><h2 id="a">One <em>and</em> two &amp; three</h2>'
        '<h2>no anchor</h2><h3 id="b">deep</h3><p>x<br>y</p>'
    )
    read = read_page(body)
    assert read.title == "A title"
    below = (("deep", "b"),)
    assert read.places == Places((("One and two & three", "a"),), frozenset("ab"), below)
    assert read.words == "A title One and two & three no anchor deep x y"
