"""What is tried with inputs made wrong at random: sorts of them, what each begins with, and what
has to hold. Hypothesis, a seeded run and a guided one (`__main__`) all ask this table.

Each input ends in a document, a value, or findings with their place; an exception is a fault of
ours, and so is what acts. Only the stage concerned runs, on a small project read once.
"""

import csv
import io
import json
import re
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache, lru_cache
from io import BytesIO
from pathlib import Path

import click
from openpyxl import load_workbook
from PIL import Image

from specgen.cli.check import _of_texts
from specgen.cli.one_build import asked, kept
from specgen.cli.order_words import _order
from specgen.cli.terminal import NoSuch
from specgen.diagnostics import Finding
from specgen.diagnostics.as_sarif import sarif_text
from specgen.diagnostics.as_text import report
from specgen.document.data import build_data
from specgen.document.prose.checks import check_prose
from specgen.document.prose.page_html import ELEMENTS
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import parsed
from specgen.document.record import compared
from specgen.document.shelf import templates_of
from specgen.drawings import LayoutEngine, nowhere
from specgen.facts.rule_book import statement_of
from specgen.images.prepared import prepared
from specgen.images.raster import NoPicture
from specgen.images.svg_cleaner import clean_svg
from specgen.limits.limit_cache import _limit
from specgen.messages.po import read_catalogue
from specgen.model import BadRange, expand
from specgen.pipeline import Survey, compose, survey, systems_of, write
from specgen.quantity import QUANTITIES, QuantityError, show
from specgen.shipped import templates_folder
from specgen.site.others_files import MARKER, InTheWay, carry_over, mark
from specgen.site.page_writer import html_of
from specgen.source import read_tree
from specgen.source.files import not_text
from specgen.write import csv as as_csv
from specgen.write import json as as_json
from specgen.write import xlsx
from specgen.write.carried import audited, form_of, unsealed
from specgen.write.seal import Holds, NoKey, key_in, new_key, seal_of, sealed
from specgen.write.worksheets import SheetData, formula_like
from specgen.write.writer_options import options_of
from tests.cli.conftest import written
from tests.hostile.test_texts_stay_texts import elements, what_acts
from tests.projects import BASE, base, checked, sources

DEMO = BASE.parent.parent.parent / "builds"


@dataclass(frozen=True)
class Sort:
    """A sort of input: what is begun with, by name, and what is tried. `few` in every run."""

    seeds: Callable[[], Mapping[str, bytes]]
    tried: Callable[[str, bytes], None]
    few: int


def told(findings: tuple[Finding, ...], texts: dict[str, str]) -> None:
    """All that was found stands at a line and a column of a file, and can be told in each form."""
    for found in findings:
        at = found.at.span
        assert at.file
        assert at.line >= 1
        assert at.column >= 1
    assert sarif_text(findings)
    report(findings, texts)


def decoded(content: bytes, name: str) -> str | None:
    """As files of a project are read; None where that is told."""
    try:
        return content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        told((not_text(error, name),), {})
        return None


# --- definitions ---

EXTRA = {
    "values/house.yaml": """- key: house.power_per_core
  label: Power per core
  short: Per core
  expression: fact("power.maximum") / fact("processors.cores")
  unit: W
  when: fact("processors.cores") > 0
  formula: input power over cores
  assumes: every core busy
  source: {document: A note, date: 2026-01-02}
- {key: "house.{position}.share", label: Share, over: drives, expression: it.capacity / 2, unit: GB}
""",
    "kinds/filter.yaml": """id: dust-filter
title: Dust filter
plural: Dust filters
description: Keeps dust out of the fans.
subsystem: cooling
fields:
  - {name: form, type: text, required: true}
  - {name: life_in_use, type: quantity, unit: h, label: Service life, required: true}
  - {name: meshes, type: whole-number}
shown: {choices: [life_in_use], comparison: life_in_use, parts_list: life_in_use}
""",
    "catalog/filters.yaml": """- kind: dust-filter
  id: coarse
  name: Coarse filter
  form: flat
  life_in_use: 4000 h
  source: {document: A note, date: 2026-01-02}
""",
}
RULES = """
rules:
  - code: QW-1
    when: processors.count == 2
    forbid: count(d for d in drives if d.medium == "hdd") > 12
    because: The fans would not do.
    severity: warning
assumptions: {hours_per_year: 8760 h}
documents: [sheet, guide]
downloads: [json, csv]
"""


@cache
def files() -> dict[str, str]:
    return {**base(), **EXTRA}


def of_files(*folders: str) -> Callable[[], Mapping[str, bytes]]:
    def seeds() -> Mapping[str, bytes]:
        return {
            name: text.encode() for name, text in files().items() if name.startswith(folders or "")
        }

    return seeds


def definitions(name: str, content: bytes) -> None:
    text = decoded(content, name)
    if text is not None:
        got = checked(sources({**files(), name: text}))
        told(got.findings, dict(got.sources.texts))


def settings() -> Mapping[str, bytes]:
    texts = (files()["specgen.yaml"], (DEMO / "specgen.yaml").read_text(encoding="utf-8"))
    return {"specgen.yaml": texts[0].encode(), "specgen.yaml ": texts[1].encode()}


def trees() -> Mapping[str, bytes]:
    every = {f"{name} of the demo": (DEMO / name).read_bytes() for name in
             ("platforms/pocket.yaml", "catalog/network.yaml", "specgen.yaml")}  # fmt: skip
    return {**of_files()(), **every}


def tree(name: str, content: bytes) -> None:
    text = decoded(content, name)
    if text is not None:
        _, findings = read_tree(text, name)
        told(findings, {name: text})


# --- expressions and words ---

EXPRESSIONS = (
    'count(d for d in drives if d.medium == "hdd") > 12', "processors.count == 2 and not has('x')",
    'part("CPU1").tdp <= "205 W" or altitude > "1800 m"', 'all(p.cores > 4 for p in processors)',
    'max(o.output for o in power_supplies) >= "1400 W"', 'inlet in ("25 degC", "30 degC")',
    'platform.rack_units >= 2 and filled("DIMM A1..A8")', 'fact("processors.cores") / 2 > 3 - 1',
    'any(f.airflow * 2 >= "90 CFM" for f in fans if f.position in ("FAN 1", "FAN 2"))',
    'sum(m.capacity for m in memory_modules) >= "64 GB"',
    'part("SLOT 1").attributes["colour"] == "x"',
)  # fmt: skip
Few = tuple[str, ...]


def numbered(texts: Few) -> Callable[[], Mapping[str, bytes]]:
    return lambda: {str(number): text.encode() for number, text in enumerate(texts)}


PROSE = """# By hand

It holds {{ lantern-full processors.cores }} and `{{ limit lantern cores }}`; see [it](site:x).

| a | b |
| --- | ---: |
| 1 | *2* |

> A quotation with 24 cores, 768 GB of memory and a [link](https://example.org).

1. one
   - two `code`

![A picture](picture.png)
"""


@cache
def small() -> Survey:
    """The small project, on disk as long as this process runs."""
    folder = tempfile.TemporaryDirectory(prefix="fuzzed-")
    _FOLDERS.append(folder)
    made = {**base(), "prose/lantern/introduction.md": PROSE, "pages/hand.md": PROSE}
    return survey(written(Path(folder.name), made))


_FOLDERS: list[tempfile.TemporaryDirectory[str]] = []
"""They are gone when the last name for them is."""


def expression(_: str, content: bytes) -> None:
    known = small().definitions
    assert known is not None
    text = content.decode("utf-8", "replace")
    statement, findings = statement_of(text, known, known.platforms["lantern"])
    assert (statement is None) == bool(findings)
    for found in findings:
        assert str(found.message)


def rule_and_value(_: str, content: bytes) -> None:
    text = content.decode("utf-8", "replace").replace("\n", " ")
    quoted = json.dumps(text)
    made = base()
    made["specgen.yaml"] += (
        f"rules:\n  - {{code: QW-1, forbid: {quoted}, because: No.}}\n"
        f"values:\n  - {{key: house.x, label: X, expression: {quoted}}}\n"
    )
    got = checked(sources(made))
    told(got.findings, dict(got.sources.texts))


AMOUNTS = (
    "64 GiB", "750 W", "-48 V", "35 degC", "12 Gbit/s", "1.5 kg", "16 cores", "5600 MT/s", "87 %",
    "1 h 30 min", "0.5 DWPD", "1/3", "1e3 W", "2,5 m", "90 CFM", "45 dB", "3.2 TB", "1_000 mm",
)  # fmt: skip
ASKED = (
    "inlet=35 degC", "altitude=1800 m", "voltage=230 V", "psu_redundancy=1+1", "frequency=50 Hz",
    "lantern-full=12", "DIMM A1..A8", "BAY 0-3,BAY 5", "CPU1,SLOT 1..2", "PSU 1 to 2",
)  # fmt: skip


@contextmanager
def explained(*kinds: type[Exception]) -> Iterator[None]:
    """What may be raised, so long as it says something."""
    told = ""
    try:
        yield
        return
    except kinds as problem:
        told = str(problem)
    assert told


def amount(_: str, content: bytes) -> None:
    text = content.decode("utf-8", "replace")
    for each in QUANTITIES:
        with explained(QuantityError):
            assert show(each.parse(text))


def asked_for(_: str, content: bytes) -> None:
    text = content.decode("utf-8", "replace")
    case = small().cases["lantern-full"]
    for read in (lambda: asked((text,)), lambda: kept(text, case), lambda: _order(text)):
        with explained(click.UsageError, NoSuch):
            read()
    with explained(BadRange):
        assert expand(text)


# --- texts ---


@lru_cache(1)
def subjects() -> Subjects:
    read = small()
    assert read.definitions is not None
    return Subjects(read.definitions, systems_of(read.definitions, read.cases))


def pages() -> Mapping[str, bytes]:
    demo = (DEMO / "pages/choosing.md").read_bytes()[:3000]
    demo = re.sub(rb"\{\{ csv\(.*\n", b"", demo)  # the file beside it is not there
    head = b"---\ntitle: A page\nsubject: lantern-full\nallow: [SG505]\n---\n"
    return {"pages/a.md": PROSE.encode(), "pages/b.md": head + demo,
            "prose/lantern/c.md": PROSE.encode()}  # fmt: skip


def page(name: str, content: bytes) -> None:
    """A text is checked; a page is written too, and nothing of it acts."""
    text = decoded(content, name)
    if text is None:
        return
    prose, findings = parsed(text, name)
    told((*findings, *check_prose([prose], subjects())), {name: text})
    if prose.is_page:
        html = html_of(prose, subjects(), lambda _: None, "en", {})
        assert [*_acting(html)] == []


def _acting(html: str) -> Iterator[str]:
    """What acts, less what a page may have: links to the web, pictures beside it."""
    for each in what_acts(elements(html), scripts=False):
        if each.startswith(("href=", "src=")):
            target = each.partition("=")[2].strip("'\"").lower()
            if target.startswith(("javascript:", "data:", "vbscript:", "file:", "//")):
                yield each
        elif each not in _OF_PAGES:
            yield each


_OF_PAGES = frozenset(f"<{each}>" for each in ELEMENTS)


def texts_of_a_project(name: str, content: bytes) -> None:
    """As `check` reads them, and as a sheet prints them."""
    read = small()
    for path in ("prose/lantern/introduction.md", "pages/hand.md"):
        (read.root / path).write_bytes(content)
    told(_of_texts(read, None), dict(read.sources.texts))
    composed("sheet", b'# T\n\n{{ prose("introduction") }}\n')


TEMPLATES = ("sheet", "guide", "parts-list", "compare", "site-preparation")
ENGINE = LayoutEngine()


@cache
def shipped() -> Mapping[str, bytes]:
    folder = templates_folder()
    whole = {path.stem: path.read_bytes() for path in sorted(folder.glob("*.md"))}
    found = {name: whole[name] for name in TEMPLATES if name in whole}
    first = {f"{name}, first lines": b"\n".join(text.split(b"\n")[:15])
             for name, text in whole.items()}  # fmt: skip
    return {**found, **first}


def composed(name: str, template: bytes) -> None:
    """What becomes of a template, in every form of document."""
    read = small()
    path = read.root / "templates" / f"{name}.md"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(template)
    case = read.cases["lantern-full"]
    try:
        document, findings = compose(name, templates_of(read.root), case, ENGINE, nowhere)
        told(findings, dict(read.sources.texts))
        assert document is not None or findings
        for form in ("html", "md") if document is not None else ():
            write(document, form, options_of(case.definitions))
    finally:
        path.unlink()


def template(_: str, content: bytes) -> None:
    composed("sheet", content)


def catalogues() -> Mapping[str, bytes]:
    whole = (templates_folder() / "languages/de.po").read_bytes()
    piece = (whole[:1500] + whole[-1500:]).decode("utf-8", "ignore").encode()
    return dict.fromkeys(("de", "ja", "xx", "pt-BR", ""), piece)


def catalogue(name: str, content: bytes) -> None:
    messages, _ = read_catalogue(content, name)
    assert all(isinstance(each, str) for forms in messages.values() for each in forms)


# --- pictures and files that are handed out ---

PICTURE = """<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" id="p">
<defs><linearGradient id="g"><stop offset="0" stop-color="#fff"/></linearGradient></defs>
<style>.a { fill: url(#g) } @import url(https://stranger.example/x.css);</style>
<g class="a" onload="alert(1)" transform="rotate(3)"><title>A fan</title>
<a xlink:href="javascript:alert(1)"><rect width="3" height="3" style="fill: url(#g)"/></a>
<use href="#g"/><image href="data:image/png;base64,AAAA"/><script>alert(1)</script>
<foreignObject><p xmlns="http://www.w3.org/1999/xhtml">x</p></foreignObject>
<text x="1" y="2" xml:space="preserve">a &lt; b &amp; c</text></g>
</svg>
"""
TYPED = '<!DOCTYPE svg [<!ENTITY a "x"><!ENTITY b "&a;&a;">]>\n'


def pictures() -> Mapping[str, bytes]:
    drawn = PICTURE.replace('<?xml version="1.0"?>\n', "")
    return {"a.svg": PICTURE.encode(), "b.svg": (TYPED + drawn).encode(),
            "c.svg": drawn.encode("utf-16")}  # fmt: skip


ACTS = ("script", "foreignobject", "iframe", "handler", "animate", "set", "a")


def picture(name: str, content: bytes) -> None:
    made = clean_svg(content, name)
    told(made.findings, {})
    assert made.content is not None or made.findings
    if made.content is not None:
        for tag, attributes in elements(made.content.decode()):
            assert tag not in ACTS
            for key, value in attributes.items():
                assert not key.startswith("on")
                inside = value.strip().startswith(("#", "data:image/"))
                assert not key.endswith("href") or inside
        assert clean_svg(made.content, name).content is not None


def rasters() -> Mapping[str, bytes]:
    said = Image.Exif()
    said[0x0112] = 6  # held upright
    made = {}
    for name, form in (("a.png", "PNG"), ("b.jpg", "JPEG"), ("c.webp", "WEBP")):
        out = BytesIO()
        Image.linear_gradient("L").resize((48, 20)).convert("RGB").save(out, form, exif=said)
        made[name] = out.getvalue()
    return made


def raster(name: str, content: bytes) -> None:
    try:
        made = prepared.__wrapped__(content, name)
    except NoPicture:
        return
    for each in (*made.screen, made.paper):
        with Image.open(BytesIO(each.content)) as shown:
            assert shown.size == (each.width, each.height)
            assert not shown.getexif()


def sheet_of(content: bytes) -> SheetData:
    text = content.decode("utf-8", "surrogateescape")
    cells = [text[at : at + 40] for at in range(0, min(len(text), 480), 40)] or [""]
    rows = tuple((cell, index, cell[::-1]) for index, cell in enumerate(cells))
    return SheetData("x", ("a", "b", "c"), rows, (9, 9, 9))


CELLS = (
    "=1+1|cmd", "+49 30", "-5", "@SUM(A1)", "\tx", 'He said "no"; then, left', "a\r\nb\rc",
    "é\ufeff", "Lantern, 2 × C32\n768 GiB", "＝1", "x" * 90, "_x000D_", "'quoted'",
)  # fmt: skip


def table_of_programs(_: str, content: bytes) -> None:
    sheet = sheet_of(content)
    text = as_csv.table(sheet).decode()
    read = [*csv.reader(io.StringIO(text, newline=""), strict=True)]
    assert len(read) == 1 + len(sheet.rows)
    for row, (first, number, last) in zip(read[1:], sheet.rows, strict=True):
        assert row[1] == str(number)
        for shown, meant in ((row[0], str(first)), (row[2], str(last))):
            assert not formula_like(shown)
            plain = meant.encode("utf-8", "replace").decode()
            assert shown in (plain, f"'{plain}")


def workbook(_: str, content: bytes) -> None:
    sheet = sheet_of(content)
    made = xlsx.workbook(xlsx.Imprint(*map(str, sheet.rows[0])), [sheet])
    page = load_workbook(io.BytesIO(made)).worksheets[0]
    for row in page.iter_rows():
        for cell in row:
            assert cell.data_type != "f"
            assert cell.hyperlink is None


# --- what was published ---


@cache
def published() -> Mapping[str, bytes]:
    read = small()
    case = read.cases["lantern-full"]
    made = {"a.json": as_json.text(build_data(case))}
    if isinstance(made["a.json"], str):
        made["a.json"] = made["a.json"].encode()
    document, _ = compose("sheet", templates_of(read.root), case, ENGINE, nowhere)
    assert document is not None
    for form in ("html", "pdf"):
        made[f"a.{form}"] = write(document, form, options_of(case.definitions))
    made["short.html"] = made["a.html"][:200] + made["a.html"][-6000:]
    return made


def audit(_: str, content: bytes) -> None:
    form_of(content)
    seal_of(content)
    found = audited(content)
    if found is not None:
        assert all(isinstance(each, str) for pair in found.shown for each in pair)
        compared(found.shown, found.shown)


PRIVATE, PUBLIC = new_key()
"""Of this process; nothing rests on which key it is."""


@cache
def sealed_files() -> Mapping[str, bytes]:
    every = published()
    return {name: sealed(every[name], PRIVATE) for name in ("a.json", "a.pdf", "short.html")}


def seal(name: str, content: bytes) -> None:
    """Whatever is changed of a sealed file, it is told; or only the seal's letters were."""
    before = sealed_files()[name]
    held = seal_of(content)
    if held.holds is Holds.UNCHANGED and held.key == key_in(PUBLIC):
        assert unsealed(content)[0] == unsealed(before)[0]


def keys() -> Mapping[str, bytes]:
    return {"private": PRIVATE, "public": PUBLIC}


def key(_: str, content: bytes) -> None:
    for read in (lambda: key_in(content), lambda: sealed(sealed_files()["a.json"], content)):
        try:
            read()
        except NoKey:
            continue


def entries() -> Mapping[str, bytes]:
    case = small().cases["lantern-full"]
    assert case.build is not None
    fit = {name: [fill.part, fill.to] for name, fill in case.build.fit.items()}
    entry = {"key": "cores", "bound": "128", "status": "proved", "rounds": 1, "id": "x",
             "name": "X", "summary": "x", "fit": fit}  # fmt: skip
    return {"limits": json.dumps(entry, indent=1).encode()}


def entry_of_the_cache(_: str, content: bytes) -> None:
    """As it is read behind its tag: what it may raise is what `limit_cache` catches."""
    known = small().definitions
    assert known is not None
    try:
        read = json.loads(content)
        made = _limit(known, known.platforms["lantern"], read, asked(()))
    except (ValueError, LookupError, TypeError, AttributeError, ArithmeticError, RecursionError):
        return
    assert made.value is None or made.build is not None


def markers() -> Mapping[str, bytes]:
    folder = Path(tempfile.mkdtemp(prefix="fuzzed-"))
    for name in ("index.html", "parts/a.html", "search/b.js"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(name)
    mark(folder)
    content = (folder / MARKER).read_bytes()
    for path in sorted(folder.rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()
    folder.rmdir()
    return {MARKER: content}


def marker(_: str, content: bytes) -> None:
    """Whatever the list of a published folder says, what is in no list of ours is carried over."""
    with tempfile.TemporaryDirectory(prefix="fuzzed-") as folder:
        old, new = Path(folder, "old"), Path(folder, "new")
        written(old, {"index.html": "x", "CNAME": "y", "parts/notes.txt": "z"})
        written(new, {"index.html": "x2"})
        (old / MARKER).write_bytes(content)
        listed = content.decode("utf-8", "surrogateescape").split("\n")
        try:
            carry_over(old, new)
        except InTheWay:
            return
        for name in ("CNAME", "parts/notes.txt"):
            assert name in listed or (new / name).is_file()
        assert (new / "index.html").read_text() == "x2"


SORTS: dict[str, Sort] = {
    "definitions": Sort(of_files(), definitions, 15),
    "specgen.yaml": Sort(settings, lambda _, content: definitions("specgen.yaml", content), 6),
    "kinds and values": Sort(of_files("kinds", "values"), definitions, 6),
    "YAML": Sort(trees, tree, 40),
    "expressions": Sort(numbered(EXPRESSIONS), expression, 60),
    "rules and values": Sort(numbered(EXPRESSIONS), rule_and_value, 6),
    "quantities": Sort(numbered(AMOUNTS), amount, 20),
    "command lines": Sort(numbered(ASKED), asked_for, 20),
    "pages and prose": Sort(pages, page, 12),
    "prose and sheets": Sort(pages, texts_of_a_project, 4),
    "templates": Sort(shipped, template, 8),
    "catalogues": Sort(catalogues, catalogue, 25),
    "SVG": Sort(pictures, picture, 40),
    "rasters": Sort(rasters, raster, 20),
    "CSV": Sort(numbered(CELLS), table_of_programs, 20),
    "XLSX": Sort(numbered(CELLS), workbook, 4),
    "audited files": Sort(published, audit, 4),
    "sealed files": Sort(sealed_files, seal, 8),
    "keys": Sort(keys, key, 10),
    "entries of the cache": Sort(entries, entry_of_the_cache, 10),
    "lists of a published folder": Sort(markers, marker, 5),
}
