"""Whatever stands in a definition is text in everything that is written: nothing becomes more.

A project is copied with the strings of `strings.yaml` in all of its text fields, everything is
written of it that can be, and each file is read again by a reader of its form.
"""

import csv
import io
import json
import re
import shutil
from collections.abc import Callable, Iterator
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest
from markdown_it import MarkdownIt
from openpyxl import load_workbook
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, IndirectObject

from specgen.cli import main
from tests.conftest import ROOT, publish
from tests.hostile.injected import copy_of, strings
from tests.projects import BASE
from tests.timing import first

ELEMENTS = frozenset((
    "a", "article", "aside", "blockquote", "body", "br", "button", "caption", "circle", "clippath",
    "code", "dd", "defs", "desc", "details", "div", "dl", "dt", "ellipse", "em", "fieldset",
    "figcaption", "figure", "footer", "form", "g", "h1", "h2", "h3", "h4", "h5", "h6", "head",
    "header", "hr", "html", "img", "input", "kbd", "label", "legend", "li", "line", "link", "main",
    "meta", "nav", "ol", "option", "p", "path", "pattern", "picture", "polygon", "polyline", "pre",
    "rect", "script", "section", "select", "small", "source", "span", "strong", "style", "sub",
    "summary", "sup", "svg", "table", "tbody", "td", "text", "textpath", "tfoot", "th", "thead",
    "title", "tr", "tspan", "ul", "use",
))  # fmt: skip
"""What our own pages and drawings are made of."""
POINTERS = frozenset(
    ("href", "src", "action", "formaction", "data", "poster", "srcset", "xlink:href")
)
STEERING = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
OURS = re.compile(r'(?:<a id="[\w.~+-]*">|</a>|<br ?/?>|<!--[^<>]*-->|\s)*')
"""HTML that Markdown of ours has in it."""
OWN_VALUES = """
- key: house.power_per_core
  label: Power per core
  short: Per core
  expression: fact("power.maximum") / fact("processors.cores")
  unit: W
  when: processors.count > 0
  formula: input power over cores
  assumes: every core busy
  source: {document: House rule 7, date: 2026-01-02}
- {key: "house.{position}.share", label: Share, over: drives, expression: it.capacity / 2, unit: GB}
"""
Held = tuple[Path, dict[tuple[str, str], list[str]]]
Page = list[tuple[str, dict[str, str]]]


@pytest.fixture(scope="module", params=first(1, ["texts", "words too"]))
def held(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Held:
    """The small project with the strings in its texts: sound, or broken in every word as well."""
    home = tmp_path_factory.mktemp("hostile")
    shutil.copytree(BASE, home / "sound")
    (home / "sound/values").mkdir()
    (home / "sound/values/house.yaml").write_text(OWN_VALUES, encoding="utf-8")
    folder = home / "project"
    return folder, copy_of(home / "sound", folder, words=request.param == "words too")


@pytest.fixture(scope="module")
def project(held: Held) -> Path:
    return held[0]


@pytest.fixture(scope="module")
def site(project: Path) -> Path:
    target = project.parent / "site"
    sound = main(["check", "-q", "--project", str(project)]) == 0
    assert main(["site", "-q", "--project", str(project), "-o", str(target)]) == (0 if sound else 1)
    return target


def elements(html: str) -> Page:
    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.append((tag, {name: value or "" for name, value in attrs}))

    found: Page = []
    reader = Reader()
    reader.feed(html)
    reader.close()
    return found


def what_acts(page: Page, scripts: bool = True) -> Iterator[str]:
    """What of a page would run, fetch, or is not of ours."""
    for tag, attributes in page:
        if tag not in ELEMENTS:
            yield f"<{tag}>"
        if tag == "script" and not (scripts and attributes.get("src", "").endswith(".js")):
            yield "script of its own"
        if tag == "meta" and attributes.get("http-equiv", "Content-Security-Policy") != (
            "Content-Security-Policy"
        ):
            yield "meta"
        for name, value in attributes.items():
            if name.startswith("on") or (name == "style" and tag not in ("svg", "text")):
                yield f"{name} of <{tag}>"
            for target in _targets(name, value) if name in POINTERS else ():
                if not re.fullmatch(r"[\w./#?=%&;+~:,@-]*", target):
                    yield f"{name}={value!r}"
                if ":" in target.split("/")[0] or target.startswith("//"):
                    yield f"{name}={value!r}"


def _targets(name: str, value: str) -> list[str]:
    """Where an attribute points; `srcset` to several files, each with the width it is for."""
    if name != "srcset":
        return [value]
    return [re.sub(r" \d+w$", "", each) for each in value.split(", ")]


def test_pages_have_nothing_but_what_is_ours(site: Path) -> None:
    pages = sorted(site.rglob("*.html"))
    assert len(pages) > 10
    for page in pages:
        assert [*what_acts(elements(page.read_text(encoding="utf-8")))] == [], page.name


def test_names_can_be_read_as_they_were_written(held: Held, site: Path) -> None:
    seen = ""

    class Reader(HTMLParser):
        def handle_data(self, data: str) -> None:
            nonlocal seen
            seen += data

    for page in sorted(site.rglob("*.html")):
        reader = Reader()
        reader.feed(page.read_text(encoding="utf-8"))
    there = re.sub(r"\s+", " ", seen)
    names = [text for whose in ("Platform", "Build", "Drive") for text in held[1][whose, "name"]]
    assert len(names) > 5
    assert [each for each in names if re.sub(r"\s+", " ", each) not in there] == []


def test_scripts_of_the_search_are_data_and_nothing_else(site: Path) -> None:
    shards = sorted(site.rglob("search/**/*.js"))
    assert shards
    for shard in shards:
        text = shard.read_text(encoding="ascii")
        call = re.fullmatch(r"specgenSearch\.[a-z]+\((.*)\);\n", text, re.DOTALL)
        assert call is not None, shard.name
        json.loads(f"[{call[1]}]")


def test_files_to_hand_out_have_no_formula_and_no_action(site: Path) -> None:
    for path in sorted(site.rglob("*")):
        read = READERS.get(path.suffix)
        if read is not None:
            assert [*read(path.read_bytes())] == [], path.name


def _json(content: bytes) -> Iterator[str]:
    json.loads(content)
    yield from ()


def _csv(content: bytes) -> Iterator[str]:
    text = content.decode("utf-8-sig")
    for separator in ",;":
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
            for cell in row if separator in text.split("\n", 1)[0] else ():
                if re.match(r"[=@＝＋－＠\t\r]|[+-](?!\d|$| )", cell):
                    yield cell


def _xlsx(content: bytes) -> Iterator[str]:
    book = load_workbook(io.BytesIO(content))
    for sheet in book.worksheets:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f" or cell.hyperlink is not None:
                    yield str(cell.value)
                like = isinstance(cell.value, str) and re.match(r"[=+@＝-]", cell.value)
                if like and not cell.quotePrefix:
                    yield str(cell.value)


def _svg(content: bytes) -> Iterator[str]:
    for each in ElementTree.fromstring(content).iter():
        tag = each.tag.rpartition("}")[2]
        if tag.lower() not in ELEMENTS or tag == "script":
            yield f"<{tag}>"
        for name, value in each.attrib.items():
            leads = name.endswith("href") and not re.fullmatch(r"[\w./#-]+", value)
            if name.startswith("on") or leads:
                yield f"{name}={value!r}"


def _pdf(content: bytes) -> Iterator[str]:
    reader = PdfReader(io.BytesIO(content))
    for number in sorted({*reader.xref.get(0, ()), *reader.xref_objStm}):
        held = reader.get_object(IndirectObject(number, 0, reader))
        if isinstance(held, DictionaryObject):
            names = {"/JS", "/JavaScript", "/Launch", "/OpenAction", "/AA", "/EmbeddedFiles"}
            yield from (name for name in names if name in held)
            if held.get("/S") in ("/URI", "/JavaScript", "/Launch", "/SubmitForm"):
                address = str(held.get("/URI", ""))
                if "stranger" in address or not address.startswith("https://"):
                    yield f"{held['/S']} {address}"


def _markdown(content: bytes) -> Iterator[str]:
    md = MarkdownIt("commonmark", {"html": True}).enable("table")
    for token in md.parse(content.decode()):
        for each in (token, *(token.children or ())):
            if each.type in ("html_block", "html_inline") and not OURS.fullmatch(each.content):
                yield each.content
            target = str(each.attrGet("href") or each.attrGet("src") or "")
            if "stranger" in target or re.match(r"(?i)javascript|data|file", target):
                yield target


READERS: dict[str, Callable[[bytes], Iterator[str]]] = {
    ".json": _json, ".csv": _csv, ".xlsx": _xlsx, ".svg": _svg, ".pdf": _pdf, ".md": _markdown
}  # fmt: skip

COMMANDS = (
    ("check",),
    ("check", "--format", "json"),
    ("check", "--format", "sarif"),
    ("check", "--deep"),
    ("facts", "lantern-full"),
    ("facts", "lantern-full=2", "lantern-small"),
    ("explain", "lantern-full", "power.input"),
    ("explain", "lantern-full", "mechanics.mass"),
    ("sheet", "lantern-full", "--to", "html"),
    ("sheet", "lantern-full", "--to", "md"),
    ("sheet", "lantern", "--to", "md"),
    ("sheet", "lantern-full", "--language", "ja", "--to", "md"),
    ("sheet", "lantern-full", "--to", "pdf"),
    ("compare", "lantern-full", "lantern-small", "--to", "md"),
    ("prepare", "lantern-full=2", "--to", "md"),
    ("parts", "lantern-full=2", "--to", "csv"),
    ("parts", "lantern-full=2", "--to", "csv-spreadsheet", "--language", "de"),
    ("parts", "lantern-full=2", "--to", "xlsx"),
    ("data", "lantern-full", "--to", "json"),
    ("data", "lantern-full", "--to", "csv"),
    ("data", "lantern-full", "--to", "xlsx"),
    ("data", "lantern-full", "--to", "redfish"),
    ("draw", "lantern-full", "topology"),
    ("draw", "lantern-full", "front"),
    ("draw", "lantern-full", "plan"),
)


@pytest.mark.parametrize("words", first(5, dict.fromkeys(COMMANDS[::5] + COMMANDS)), ids=" ".join)
def test_what_commands_write_has_nothing_but_what_is_ours(
    project: Path, words: tuple[str, ...], tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    to = words[words.index("--to") + 1] if "--to" in words else ""
    to = "svg" if words[0] == "draw" else to
    target = tmp_path / f"out.{to}"
    output = ["-o", str(target)] if to else []
    status = main([*words, "--project", str(project), *output])
    said = "".join(capfd.readouterr())
    assert status in (0, 1, 2), said
    assert not STEERING.search(said)
    if words[0] == "check" and "--format" in words:
        json.loads(said)
    if not target.is_file():
        assert status or not to
        return
    content = target.read_bytes()
    ending = {"csv-spreadsheet": ".csv", "redfish": ".json"}.get(to, f".{to}")
    if ending == ".html":
        assert [*what_acts(elements(content.decode()), scripts=False)] == []
    else:
        assert [*READERS[ending](content)] == []


def test_the_list_is_long_and_each_string_is_there_once() -> None:
    every = strings()
    assert len(every) >= 60
    assert len(set(every)) == len(every)


@pytest.mark.slow
def test_the_whole_demo_has_nothing_but_what_is_ours(tmp_path: Path) -> None:
    tried = copy_of(ROOT / "builds", tmp_path / "project", words=False)
    assert len(tried) > 100
    assert publish(tmp_path / "project", tmp_path / "site") == 0
    pages = sorted((tmp_path / "site").rglob("*.html"))
    assert len(pages) > 400
    for page in pages:
        assert [*what_acts(elements(page.read_text(encoding="utf-8")))] == [], page.name
    test_files_to_hand_out_have_no_formula_and_no_action(tmp_path / "site")


def test_each_text_of_a_project_s_own_values_holds_a_string(held: Held) -> None:
    for name in ("label", "short", "formula", "assumes"):
        assert held[1]["OwnValue", name]


def test_a_value_of_one_s_own_is_shown_by_the_string_that_it_is_called(
    held: Held, site: Path
) -> None:
    labels = held[1]["OwnValue", "label"]
    said = re.sub(r"\s+", " ", " ".join(
        unescape(page.read_text(encoding="utf-8")) for page in sorted(site.rglob("*.html"))
    ))  # fmt: skip
    seen = [each for each in labels if re.sub(r"\s+", " ", each) in said]
    # with a unit that is none it cannot be worked out, and no page shows it
    assert (len(seen) > 0) == (("OwnValue", "unit") not in held[1])
