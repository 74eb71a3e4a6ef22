"""A page runs nothing that its writer put there, and everything taken out is told at its place."""

import json
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path

import pytest

from specgen.document.prose.checks import check_prose
from specgen.document.prose.page_html import ATTRIBUTES, CLASSES, ELEMENTS, cleaned
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import parsed
from specgen.load.definitions import load
from specgen.pipeline import systems_of
from specgen.site.handwritten import pages_of
from tests.projects import base, sources

Found = list[tuple[str, int, int]]
Read = Callable[..., tuple[str, Found]]


@pytest.fixture(scope="module")
def both() -> dict[bool, Subjects]:
    made = {}
    for allowed in (False, True):
        files = base()
        files["specgen.yaml"] += f"pages: {{html: {str(allowed).lower()}}}\n"
        definitions = load(sources(files)).definitions
        assert definitions is not None
        made[allowed] = Subjects(definitions, systems_of(definitions))
    return made


@pytest.fixture
def read(both: dict[bool, Subjects]) -> Read:
    """The HTML of a page, and what is found in it: code, line, column."""

    def page(body: str, html: bool = True) -> tuple[str, Found]:
        text, _ = parsed(body, "pages/n.md")
        found = check_prose((text,), both[html])
        (made,) = pages_of((text,), both[html])
        return made.html(), [(f.code.id, f.at.span.line, f.at.span.column) for f in found]

    return page


class Elements(HTMLParser):
    """What a browser could act on."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def elements(html: str) -> list[tuple[str, dict[str, str | None]]]:
    reader = Elements()
    reader.feed(html)
    return reader.found


ACTS = {
    "script": "<script>alert(1)</script>",
    "script within": "x <script>alert(1)</script> y",
    "handler": '<b onclick="alert(1)">x</b>',
    "handler without quotes": "<b OnMouseOver=alert(1)>x</b>",
    "handler of a picture": '<p><img alt="x" src="a.png" onerror="alert(1)"></p>',
    "link that runs": '<a href="javascript:alert(1)">x</a>',
    "link that runs, disguised": '<a href=" java&#x09;script:alert(1)">x</a>',
    "link that is a page": '<a href="data:text/html,x">x</a>',
    "link to another host in disguise": '<a href="\\\\evil.example">x</a>',
    "link without a scheme": '<a href="//evil.example">x</a>',
    "frame": '<iframe src="https://evil.example"></iframe>',
    "frame of its own": '<iframe srcdoc="<script>alert(1)</script>"></iframe>',
    "object": '<object data="x.swf"></object>',
    "base": '<base href="https://evil.example/">',
    "refresh": '<meta http-equiv="refresh" content="0; url=https://evil.example">',
    "style": '<p style="background: url(https://evil.example)">x</p>',
    "style sheet": "<style>* {background: url(https://evil.example)}</style>",
    "linked style sheet": '<link rel="stylesheet" href="https://evil.example">',
    "form": '<form action="https://evil.example"><input name="x"></form>',
    "drawing": "<svg><script>alert(1)</script></svg>",
    "formula": '<math><mtext><img src="x" onerror="alert(1)"></mtext></math>',
    "video": '<video src="https://evil.example/v"></video>',
    "the look of the shell": '<div class="masthead">x</div>',
    "pictures by size": '<img alt="x" src="a.png" srcset="https://evil.example/a 2x">',
    "instruction": "<?php echo 1 ?>",
    "declaration": "<!DOCTYPE html>",
}  # fmt: skip


def test_a_table_that_is_wider_than_the_page_scrolls_under_the_name_of_its_heading(
    read: Read,
) -> None:
    html, found = read("# Page\n\n## Sizes\n\n| a | b |\n| - | - |\n| 1 | 2 |\n", html=False)
    assert found == []
    scroll = '<div class="scroll" role="region" aria-labelledby="sizes" tabindex="0"><table>'
    assert scroll in html
    assert "</table></div>" in html


@pytest.mark.parametrize("case", ACTS)
def test_what_acts_is_taken_out_and_told(read: Read, case: str) -> None:
    html, found = read(f"# Page\n\n{ACTS[case]}\n")
    assert found, html
    assert {(code, line) for code, line, _ in found} == {("SG521", 3)}
    _sound(html)


@pytest.mark.parametrize("case", ACTS)
def test_html_that_is_not_allowed_is_told_and_printed_as_text(read: Read, case: str) -> None:
    html, found = read(f"# Page\n\n{ACTS[case]}\n", html=False)
    assert {(code, line) for code, line, _ in found} == {("SG521", 3)}
    assert {tag for tag, _ in elements(html)} <= {"h1", "p"}
    assert "&lt;" in html


def _sound(html: str) -> None:
    for tag, attributes in elements(html):
        assert tag in ELEMENTS
        known = ATTRIBUTES["*"] | ATTRIBUTES.get(tag, frozenset()) | {"class", "rel"}
        assert set(attributes) <= known, attributes
        assert set((attributes.get("class") or "").split()) <= CLASSES.get(tag, frozenset())
        for name in ("href", "src"):
            value = attributes.get(name) or ""
            assert ":" not in value or value.startswith(("https://", "http://", "mailto:"))
            assert not value.startswith(("//", "\\"))


@pytest.mark.parametrize(
    ("body", "column"),
    [
        ("[a](javascript:alert(1))", 1),
        ("an [a](JavaScript:alert(1) 'x')", 4),
        ("[a](java&#10;script:alert(1))", 1),
        ("[a](data:text/html;base64,PHNjcmlwdD4=)", 1),
        ("[a](vbscript:x) and", 1),
        ("[a](file:///etc/passwd)", 1),
        ("see <javascript:alert(1)>", 5),
        ("[a](//evil.example)", 1),
        ("[a][b]\n\n[b]: javascript:alert(1)", 1),
    ],
)
@pytest.mark.parametrize("html", [True, False])
def test_a_link_that_does_more_than_lead_is_taken_out_and_told(
    read: Read, body: str, column: int, html: bool
) -> None:
    made, found = read(f"{body}\n", html)
    assert found == [("SG522", 1, column)]
    assert "<a" not in made
    _sound(made)


def test_nobody_can_allow_what_is_taken_out(read: Read) -> None:
    _, found = read("---\nallow: [SG521, SG522]\n---\n<b onclick=x>a</b> [a](javascript:x)\n")
    assert sorted(found) == [("SG521", 4, 1), ("SG522", 4, 20)]


SOUND = (
    "a <kbd>Ctrl</kbd> b<br>c H<sub>2</sub>O",
    "<details open>\n<summary>More</summary>\n\nA *word*.\n\n</details>",
    '<table><tr><th scope="col">a</th><td colspan="2">1</td></tr></table>',
    '<p id="here" lang="de" title="a &lt; b">x</p>',
    '<a href="https://example.org/?a=1&amp;b=2">x</a> <a href="n.html#x">y</a>',
    "<!-- a note for writers, <script> and all -->",
    "a `<script>` and\n\n```\n<script>alert(1)</script>\n```\n\n    <iframe>\n",
    "a < b and c > d, <3",
)


@pytest.mark.parametrize("body", SOUND)
def test_what_lays_out_words_is_kept(read: Read, body: str) -> None:
    html, found = read(f"{body}\n")
    assert found == []
    _sound(html)
    for tag in ("kbd", "br", "sub", "details", "summary", "table", "th", "td"):
        assert body.count(f"<{tag}") == html.count(f"<{tag}")
    assert "<!--" not in html


def test_a_link_to_another_host_is_marked(read: Read) -> None:
    html, found = read(
        '[a](https://a.example "t") <http://b.example> <a href="https://c.example">c</a>\n'
    )
    assert found == []
    links = [attributes for tag, attributes in elements(html) if tag == "a"]
    assert [each["href"] for each in links] == [
        "https://a.example", "http://b.example", "https://c.example"
    ]  # fmt: skip
    assert {each["rel"] for each in links} == {"external noopener noreferrer"}
    html, _ = read("[a](n.md) [b](#x) [c](mailto:a@b.example)\n")
    assert "rel=" not in html


def test_a_place_is_told_by_line_and_column(read: Read) -> None:
    body = (
        "# A\n\nWords <b>and</b> <i onclick=x>more</i>\n\n"
        "> a\n> <u onclick=x>b</u>\n\n- x\n\n  <div\n  style=x>y</div>\n"
    )
    _, found = read(body)
    assert found == [("SG521", 3, 18), ("SG521", 6, 3), ("SG521", 10, 3)]


def test_values_are_text_in_html_of_a_page(read: Read) -> None:
    html, found = read("<p>{lantern-full: power.maximum}</p>\n\n<b>*not read*</b>\n")
    assert [code for code, *_ in found] == []
    assert "{lantern-full: power.maximum}" in html


@pytest.mark.parametrize("html", ['<em title="</h2><script>">a</em>', "a&b;&lt;script&gt;"])
def test_clean_html_is_clean_when_it_is_read_again(html: str) -> None:
    once = cleaned(html)
    assert cleaned(once) == once
    assert "<script" not in once


def test_the_head_of_a_page_is_text(read: Read, both: dict[bool, Subjects]) -> None:
    text, _ = parsed(f"---\ntitle: {json.dumps('<script>x</script>')}\n---\ntext\n", "pages/n.md")
    (page,) = pages_of((text,), both[True])
    assert page.title == "<script>x</script>"  # the shell prints it as text


def test_pages_of_the_demo_have_nothing_taken_out(demo_folder: Path) -> None:
    from specgen.site.attachments import attachments

    assert attachments(demo_folder).findings == ()
