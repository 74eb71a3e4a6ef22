"""What the site adds to the documents: files, ways to values, rules, revisions, comparison."""

import json
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.cli import main
from specgen.site.addresses import anchor_of
from tests.cli.conftest import written
from tests.cli.test_site_command import tiny
from tests.projects import BASE

RULES = """
rules:
  - code: QW-001
    severity: warning
    when: processors.count == 2
    require: power_supplies.count >= 2
    because: Two processors deserve a second supply.
  - code: QW-002
    severity: warning
    until: 2030-12-31
    forbid: fans.count < 6
    because: Fewer fans are loud.
  - code: QW-003
    require: inlet <= "25 degC"
"""
ALLOWED = "    - {code: QW-002, reason: The room is empty}\n"
EVERY_FORM = "downloads: [redfish, json, xlsx, csv, pdf]\n"
HISTORY = """history:
  - {revision: A, date: 2026-01-10, note: First drawing}
  - {revision: B, date: 2026-03-02, note: A second <supply>}
"""


def project(folder: Path, rules: str = RULES, more: str = "") -> Path:
    """The base project with rules of the house, revisions, and more at the end of its file."""
    shutil.copytree(BASE, folder)
    file = folder / "specgen.yaml"
    file.write_text(file.read_text() + rules + more)
    full = folder / "configured" / "lantern-full.yaml"
    full.write_text(full.read_text() + HISTORY)
    small = folder / "configured" / "lantern-small.yaml"
    small.write_text(small.read_text() + ALLOWED)
    return folder


def made(folder: Path, target: Path, *options: str) -> int:
    return main(["site", "-q", "--project", str(folder), "-o", str(target), *options])


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project published; QW-003 refuses one of its builds, so that has no sheet."""
    root = tmp_path_factory.mktemp("made")
    folder = project(root / "project", more="downloads: [json]\n")
    assert made(folder, root / "site") == 1
    return root / "site"


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project published without the rule that refuses a build."""
    root = tmp_path_factory.mktemp("whole")
    rules = RULES.split("  - code: QW-003")[0]
    assert made(project(root / "project", rules, EVERY_FORM), root / "site") == 0
    return root / "site"


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The project published without rules, with one form of files."""
    root = tmp_path_factory.mktemp("plain")
    folder = project(root / "project", "", "downloads: [csv]\n")
    small = folder / "configured" / "lantern-small.yaml"
    small.write_text(small.read_text().replace(ALLOWED, ""))
    assert made(folder, root / "site") == 0
    return root / "site"


def read(site: Path, path: str) -> str:
    return (site / path).read_text(encoding="utf-8")


def test_a_build_offers_its_documents_and_data_with_their_sizes(whole: Path) -> None:
    page = read(whole, "builds/lantern-full.html")
    offered = page.split('id="site-files"')[1]
    found = re.findall(
        r'href="../builds/(lantern-full/[^"]+)">[^<]*</a></th><td[^>]*>(\w+)', offered
    )
    assert [(name.removeprefix("lantern-full/"), form) for name, form in found][:7] == [
        ("lantern-full.pdf", "PDF"),
        ("lantern-full.parts.csv", "CSV"),
        ("lantern-full.csv", "CSV"),
        ("lantern-full.xlsx", "XLSX"),
        ("lantern-full.json", "JSON"),
        ("lantern-full.redfish.json", "JSON"),
        ("facts.html", "page"),
    ]
    for name, _ in found[:6]:
        size = (whole / "builds" / name).stat().st_size
        assert f'{max(1, round(size / 1000))}<span class="unit">\u202fkB' in offered, name


def test_a_platform_offers_its_page_as_pdf(whole: Path) -> None:
    assert (whole / "platforms/lantern/lantern.pdf").read_bytes().startswith(b"%PDF-")
    assert 'href="../platforms/lantern/lantern.pdf"' in read(whole, "platforms/lantern.html")


def test_a_build_with_errors_hands_out_nothing(site: Path) -> None:
    assert not (site / "builds/lantern-full").exists()
    assert "site-files" not in read(site, "builds/lantern-full.html")


@pytest.mark.slow
def test_a_project_says_which_files_it_hands_out(plain: Path) -> None:
    files = (plain / "builds/lantern-small").iterdir()
    assert sorted(path.name for path in files) == [
        "facts.html",
        "lantern-small.csv",
        "lantern-small.parts.csv",
    ]
    assert not list(plain.rglob("*.pdf"))


def test_any_number_of_processes_publishes_the_same_bytes(whole: Path, tmp_path: Path) -> None:
    rules = RULES.split("  - code: QW-003")[0]
    folder = project(tmp_path / "project", rules, EVERY_FORM)
    assert made(folder, tmp_path / "one", "--jobs", "1") == 0
    names = [path.relative_to(whole) for path in whole.rglob("*") if path.is_file()]
    assert [
        n for n in names if (whole / n).read_bytes() != (tmp_path / "one" / n).read_bytes()
    ] == []


@pytest.mark.slow
def test_pdfs_are_made_in_processes_that_fork_no_others(tmp_path: Path) -> None:
    folder = written(tmp_path / "project", tiny("[pdf]"))
    words = ["site", "--quiet", "--project", str(folder), "-o", str(tmp_path / "s")]
    program = (
        "import sys; from specgen.cli import main; from specgen.drawings import typesetter; "
        f"status = main({words!r}); sys.exit(status or typesetter.has_compiled())"
    )
    done = subprocess.run([sys.executable, "-c", program], check=False)
    assert done.returncode == 0
    assert list((tmp_path / "s").rglob("*.pdf"))


def links_of(site: Path, path: str) -> Iterator[tuple[str, str]]:
    """Every printed value of a page with the address that it leads to, if any."""
    pattern = r'(?:<a href="([^"]*)">)?<span class="value[^"]*" data-fact="([^"]*)">'
    for href, key in re.findall(pattern, read(site, path)):
        yield unescape(key), unescape(href)


def test_every_value_of_a_build_leads_to_its_row_of_the_page_behind(whole: Path) -> None:
    rows = set(re.findall(r'<tr id="([^"]+)"', read(whole, "builds/lantern-full/facts.html")))
    found = list(links_of(whole, "builds/lantern-full.html"))
    leading = 0
    for key, href in found:
        split = urlsplit(href)
        if anchor_of(key) in rows:
            leading += 1
            assert split.path == "../builds/lantern-full/facts.html", key
            assert unquote(split.fragment) == anchor_of(key)
        else:
            assert not href or split.path.startswith("../parts/"), key
    assert leading > 60


def test_values_in_lists_lead_to_the_build_of_their_row(whole: Path) -> None:
    page = read(whole, "builds.html")
    assert 'href="builds/lantern-full/facts.html#memory.capacity"' in page
    assert 'href="builds/lantern-small/facts.html#memory.capacity"' in page


def test_a_value_says_how_it_came_about_and_where_that_is_written(whole: Path) -> None:
    page = read(whole, "builds/lantern-full/facts.html")
    row = page.split('<tr id="memory.capacity"')[1].split("</tr>")[0]
    assert "Sum of the capacities" in row or "sum" in row.lower()
    assert re.search(r"<code>catalog/memory\.yaml:\d+</code>", row)
    total = page.split('<tr id="power.maximum"')[1].split("</tr>")[0]
    assert 'href="#power.storage.maximum"' in total


def test_a_part_says_at_its_end_where_its_values_are_written(whole: Path) -> None:
    page = read(whole, "parts/rdimm-32.html")
    behind = page.split('id="site-figures"')[1]
    assert re.search(r'<tr id="rdimm-32\.capacity">.*?catalog/memory\.yaml:\d+', behind)
    assert 'href="../parts/rdimm-32.html#rdimm-32.capacity"' in page


@given(st.lists(st.text(min_size=1), min_size=2, max_size=2, unique=True))
def test_no_two_values_share_an_anchor(keys: list[str]) -> None:
    one, other = map(anchor_of, keys)
    assert one != other
    assert re.fullmatch(r"[A-Za-z0-9.\-_+~]+", one)


def test_a_rule_has_a_page_that_says_what_it_comes_to(site: Path) -> None:
    kept = read(site, "rules/QW-001.html")
    assert "two or more power supplies must be fitted" in kept
    assert "Two processors deserve a second supply." in kept
    assert re.search(r"<code>specgen\.yaml:\d+</code>", kept)
    assert re.search(r'lantern-full\.html">[^<]+</a>.*<td[^>]*>kept</td>', kept)
    assert "lantern-small.html" not in kept.split('id="builds"')[1]
    allowed = read(site, "rules/QW-002.html")
    assert re.search(r"until <span[^>]*>2030-12-31</span>", allowed)
    assert re.search(r"accepted with a reason</td><td[^>]*>The room is empty", allowed)
    refused = read(site, "rules/QW-003.html")
    assert re.search(r'lantern-full\.html">[^<]+</a>.*<td[^>]*>refused</td>', refused)
    assert re.search(r'lantern-small\.html">[^<]+</a>.*<td[^>]*>kept</td>', refused)


def test_the_list_of_rules_and_every_code_in_a_table_lead_to_their_pages(site: Path) -> None:
    for code in ("QW-001", "QW-002", "QW-003"):
        assert f'href="rules/{code}.html"' in read(site, "rules.html")
    assert 'href="../rules/QW-001.html"' in read(site, "platforms/lantern.html")
    assert 'href="../rules/QW-003.html"' in read(site, "builds/lantern-full.html")


def test_a_project_without_rules_has_no_pages_of_them(plain: Path) -> None:
    assert not (plain / "rules.html").exists()
    assert "rules.html" not in read(plain, "index.html")


def test_revisions_are_reported_youngest_first(whole: Path) -> None:
    page = read(whole, "builds/lantern-full.html").split('id="site-revisions"')[1]
    assert page.index("A second &lt;supply&gt;") < page.index("First drawing")
    assert "site-revisions" not in read(whole, "builds/lantern-small.html")


def script_of(site: Path, path: str) -> list[object]:
    text = (site / path).read_text(encoding="ascii")
    call = re.fullmatch(r"specgenCompare\.\w+\((.*)\);\n", text, re.DOTALL)
    assert call is not None
    return json.loads(f"[{call[1]}]")  # type: ignore[no-any-return]


def test_the_comparison_has_a_small_script_for_each_system(whole: Path) -> None:
    (start,) = script_of(whole, "compare/start.js")
    assert isinstance(start, dict)
    assert [entry[0] for entry in start["machines"]] == [
        "platform:lantern",
        "build:lantern-full",
        "build:lantern-small",
    ]
    name, system = script_of(whole, "compare/build-lantern-full.js")
    assert name == "build:lantern-full"
    assert isinstance(system, dict)
    assert system["values"]["memory.capacity"] == ["128", "GiB"]
    assert (whole / "compare/build-lantern-full.js").stat().st_size < 20_000


def test_without_script_the_comparison_shows_all_platforms(whole: Path) -> None:
    page = read(whole, "compare.html")
    assert "All platforms" in page
    assert 'href="platforms/lantern/facts.html#memory.slots"' in page
