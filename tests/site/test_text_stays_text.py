"""Whatever comes from definitions is text on every page, however it looks."""

import json
import re
import shutil
from html.parser import HTMLParser
from pathlib import Path

import pytest

from specgen.cli import main
from tests.projects import BASE

NASTY = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "' onmouseover='alert(1)",
    "*not bold* _nor this_ [link](javascript:alert(1)) `code`",
    "# no heading",
    "&lt;b&gt; & <b>",
    "{{ 7 * 7 }} {% raw %}",
    '\\n \\" | $x$ @x ~~x~~',
    "</title></style></svg>",
)
EVENTS = re.compile(r"^on[a-z]+$")


class Reader(HTMLParser):
    """Collects elements, attributes and text."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.trouble: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = dict(attrs)
        if tag == "script" and not (names.get("src") or "").endswith(".js"):
            self.trouble.append("script without a source")
        if tag in ("img", "iframe", "object", "b"):
            self.trouble.append(f"<{tag}>")
        for name, value in attrs:
            if EVENTS.match(name) or name == "style":
                self.trouble.append(f"{tag} {name}={value}")
            if name in ("href", "src") and (value or "").lower().startswith("javascript"):
                self.trouble.append(f"{tag} {name}={value}")

    def handle_data(self, data: str) -> None:
        self.text.append(data)


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The base project with nasty names in place of all its names and summaries, as a site."""
    root = tmp_path_factory.mktemp("nasty")
    shutil.copytree(BASE, root / "project")
    number = 0
    for path in sorted((root / "project").rglob("*.yaml")):
        lines = []
        for line in path.read_text(encoding="utf-8").split("\n"):
            match = re.match(r"^(\s*(?:- )?(?:name|summary|title|maker): )([A-Z].*)$", line)
            if match and not re.match(r"^[A-Z]+ ?[A-Z]?\d", match[2]):
                text = NASTY[number % len(NASTY)]
                number += 1
                line = match[1] + json.dumps(f"{text} {number}")
            lines.append(line)
        path.write_text("\n".join(lines), encoding="utf-8")
    assert number > len(NASTY)
    assert main(["site", "-q", "--project", str(root / "project"), "-o", str(root / "site")]) == 0
    return root / "site"


def test_no_page_gains_an_element_or_an_attribute_from_a_name(published: Path) -> None:
    pages = sorted(published.rglob("*.html"))
    assert len(pages) > 10
    for page in pages:
        reader = Reader()
        reader.feed(page.read_text(encoding="utf-8"))
        assert reader.trouble == [], page.name


def test_every_nasty_name_can_be_read_as_it_was_written(published: Path) -> None:
    seen = ""
    for page in sorted(published.rglob("*.html")):
        reader = Reader()
        reader.feed(page.read_text(encoding="utf-8"))
        seen += "".join(reader.text)
    for text in NASTY:
        assert text in seen, text


def test_the_search_index_is_data_and_nothing_else(published: Path) -> None:
    for shard in sorted(published.rglob("search/**/*.js")):
        text = shard.read_text(encoding="ascii")
        call = re.fullmatch(r"specgenSearch\.[a-z]+\((.*)\);\n", text, re.DOTALL)
        assert call is not None, shard.name
        json.loads(f"[{call[1]}]")
