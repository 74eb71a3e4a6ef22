"""The manual: a project of pages, published by the program itself."""

import re
from pathlib import Path

import pytest

from specgen.cli import COMMANDS, main
from specgen.diagnostics import codes
from specgen.shipped import manual_folder
from specgen.site.ready_html import read_page
from tests.site.finder import Finder, scripts_of

FIRST_STEPS = manual_folder() / "pages/begin/README.md"


@pytest.fixture(scope="module")
def manual(tmp_path_factory: pytest.TempPathFactory) -> Path:
    site = tmp_path_factory.mktemp("manual") / "site"
    assert main(["manual", "--quiet", "-o", str(site)]) == 0
    return site


def words(page: Path) -> str:
    return read_page(page.read_text(encoding="utf-8")).words


def test_the_manual_has_no_findings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["manual", "-o", str(tmp_path / "site")]) == 0
    assert re.fullmatch(r"\d+ pages: \S+\n", capsys.readouterr().out)


def test_each_command_and_each_option_of_it_is_told(manual: Path) -> None:
    told = words(manual / "reference/commands.html")
    for command in COMMANDS:
        assert f"Usage: specgen {command}" in told
    assert "--want CONDITION" in told


def test_each_code_is_told(manual: Path) -> None:
    told = words(manual / "reference/findings.html")
    for code in codes.CODES.values():
        assert f"{code.id}: {code.title}" in told


@pytest.mark.parametrize("code", ["SG331", "sg203"])
def test_a_code_that_is_searched_leads_to_what_it_means(manual: Path, code: str) -> None:
    first = Finder(scripts_of(manual)).hits(code)[0]
    assert first.startswith(f"reference/findings.html#{code.lower()}-")


def test_a_reason_is_printed_as_explain_prints_it(manual: Path) -> None:
    told = words(manual / "reference/findings.html").replace("\u00a0", " ")
    with_braces = [each for each in codes.CODES.values() if "{" in codes.about(each)]
    assert with_braces
    for code in with_braces:
        pieces = re.split(r"\s*`\s*", codes.about(code))  # what stands in code has blanks round it
        assert all(piece in told for piece in pieces)


def test_a_command_is_told_as_its_help_is_printed(
    manual: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["site", "--help"]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "-h, --help" in printed
    assert printed in words(manual / "reference/commands.html")


def test_fields_of_each_kind_are_told(manual: Path) -> None:
    told = words(manual / "reference/fields.html")
    assert "kind: processor" in told
    assert "memory_channels" in told


def test_the_start_is_written_and_the_menu_has_an_entry_for_each_folder(
    manual: Path,
) -> None:
    page = (manual / "index.html").read_text(encoding="utf-8")
    menu = page.split('<nav class="sections"')[1].split("</nav>")[0]
    titles = [read_page(each).words for each in re.findall(r"<a [^>]*>.*?</a>", menu)]
    assert titles == ["Start", "First steps", "Guides", "Reference", "Trust", "Contents"]
    assert "<h1" in page
    for made in ("builds.html", "parts.html", "platforms.html", "compare.html"):
        assert not (manual / made).exists()


def test_pages_stand_in_the_order_that_their_heads_say(manual: Path) -> None:
    page = (manual / "guide/index.html").read_text(encoding="utf-8")
    beside = page.split('<nav class="siblings"')[1].split("</nav>")[0]
    titles = [read_page(each).words for each in re.findall(r"<a [^>]*>.*?</a>", beside)]
    assert titles[:3] == ["Guides", "Texts", "Templates"]


def test_the_first_steps_can_be_followed_to_the_letter(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = FIRST_STEPS.read_text(encoding="utf-8")
    blocks = re.findall(r"^```(\w*)\n(.*?)^```$", text, re.MULTILINE | re.DOTALL)
    for name, content in (body.split("\n", 1) for kind, body in blocks if kind == "yaml"):
        path = tmp_path / name.removeprefix("# ")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    asked = [line for kind, body in blocks if not kind for line in body.splitlines()]
    assert len(asked) >= 6
    for line in asked:
        program, *arguments = re.findall(r'"[^"]*"|\S+', line)
        assert program == "specgen"
        assert main([each.strip('"') for each in arguments]) == 0, line
    assert (tmp_path / "sheet.pdf").is_file()
    assert (tmp_path / "public/builds/box-plain.html").is_file()
    parts = tmp_path / "catalog/parts.yaml"
    parts.write_text(parts.read_text("utf-8").replace("socket: tern-b", "socket: tern-c"), "utf-8")
    capsys.readouterr()
    assert main(["check"]) == 1
    assert "platforms/box.yaml:11" in capsys.readouterr().out


def test_a_project_of_nothing_still_has_a_start(tmp_path: Path) -> None:
    (tmp_path / "specgen.yaml").write_text(
        "title: Nothing yet\npublisher: {name: Quillmere Works}\nfamilies: []\n", "utf-8"
    )
    assert main(["site", "-q", "--project", str(tmp_path), "-o", str(tmp_path / "site")]) == 0
    assert "Nothing yet" in words(tmp_path / "site/index.html")


def test_an_order_that_is_no_number_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "specgen.yaml").write_text(
        "title: T\npublisher: {name: Quillmere Works}\nfamilies: []\n", "utf-8"
    )
    (tmp_path / "pages").mkdir()
    (tmp_path / "pages/a.md").write_text("---\norder: first\n---\n# A\n", "utf-8")
    assert main(["check", "--project", str(tmp_path)]) == 1
    assert "pages/a.md:2:8" in capsys.readouterr().out
