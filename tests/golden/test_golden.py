"""Whole documents of the demo, compared line by line with those that were read and found good.

The drawing and the style sheet, which have tests of their own, are left out of the pages.
"""

import json
import re
from pathlib import Path
from typing import Any

import pytest

from specgen.cli import main
from specgen.cli.cache_folder import kept_folder
from specgen.document.case import FamilyCase, PartCase
from specgen.document.compose import Composed
from specgen.document.document_types import part_document
from specgen.document.sets import comparison_document
from specgen.document.several import Compared
from specgen.drawings import nowhere
from specgen.drawings.dot import dot
from specgen.drawings.plan import plan
from specgen.drawings.topology import topology
from specgen.limits.reach import reaches
from specgen.pipeline import Survey, bare_case, compose, example_of
from specgen.site.workshop import Workshop, workshop
from specgen.write.writer_options import Options
from specgen.write.writers import WRITERS
from tests.golden.conftest import EXPECTED, Golden, compare, refuse_in_ci

ROOT = Path(__file__).resolve().parents[2]
BUILDS = ("pocket-lamp-room", "boathouse-backup")
EXPLAINED = ("memory.bandwidth", "power.headroom", "storage.Backups.usable")
PLATFORM = "lantern"
PART = "raid-tri-16"
DOCUMENTS = (
    "engineering",
    "information",
    "parts-list",
    "presenters-brief",
    "review",
    "site-preparation",
)
"""Documents about a build beside its sheet; each of a build whose sheet is not read here."""
DOCUMENTED = "capstan-eyes"
ORDERED = ("lantern-office=3", "boathouse-archive", "capstan-eyes=2")
COMPARED = ("lantern-office", "boathouse-archive")


@pytest.fixture
def printed(demo: Survey, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    """What a command prints about the demo, which is read once for all."""
    monkeypatch.chdir(ROOT)
    monkeypatch.setattr("specgen.cli.one_build.survey", lambda *_: demo)

    def call(*words: str) -> str:
        status = main([*words, "--project", "builds"])
        out, err = capsys.readouterr()
        assert (status, err) == (0, "")
        return out

    return call


def without_pictures(page: str) -> str:
    page = re.sub(r"(<svg\b)[^>]*>.*?</svg>", r"\1><!-- the drawing --></svg>", page, flags=re.S)
    return re.sub(r"(<style>).*?(</style>)", r"\1/* the style sheet */\2", page, flags=re.S)


@pytest.mark.parametrize("build", BUILDS)
def test_a_sheet_in_markdown(golden: Golden, printed, build: str):
    golden(f"{build}.md", printed("sheet", build, "--to", "md"))


@pytest.mark.parametrize("build", BUILDS)
def test_a_sheet_in_html(golden: Golden, printed, build: str):
    golden(f"{build}.html", without_pictures(printed("sheet", build, "--to", "html")))


@pytest.mark.parametrize("name", DOCUMENTS)
def test_each_other_document_of_a_build(golden: Golden, printed, name: str):
    made = printed("sheet", DOCUMENTED, "--document", name, "--to", "md")
    golden(f"{DOCUMENTED}.{name}.md", made)


def test_documents_of_an_order(golden: Golden, printed):
    golden("order.site-preparation.md", printed("prepare", *ORDERED, "--to", "md"))
    listed = printed("prepare", *ORDERED, "--document", "parts-list", "--to", "md")
    golden("order.parts-list.md", listed)


@pytest.mark.parametrize("build", BUILDS)
def test_values_with_what_they_rest_on(golden: Golden, printed, build: str):
    facts = json.loads(printed("facts", build, "--format", "json"))
    golden(f"{build}.facts.txt", "".join(map(in_a_line, facts)))


def in_a_line(fact: dict[str, Any]) -> str:
    """A value, the facts it is made from and how many lines of definitions: short, for a diff."""
    facts = [entry["fact"] for entry in fact["inputs"] if "fact" in entry]
    lines = {(entry.get("file"), entry.get("line")) for entry in fact["inputs"]} - {(None, None)}
    rests = ", ".join([*facts, f"{len(lines)} lines"] if lines else facts)
    return f"{fact['key']} = {fact['shown']}" + (f"   from {rests}" if rests else "") + "\n"


@pytest.mark.parametrize("key", EXPLAINED)
def test_a_value_explained(golden: Golden, printed, key: str):
    golden(f"explain-{key}.txt", printed("explain", "boathouse-backup", key))


@pytest.fixture
def shop(demo: Survey, demo_folder: Path, tmp_path: Path) -> Workshop:
    return workshop(demo_folder, demo.loaded, tmp_path, None, drafts=True)


def page(shop: Workshop, made: Composed, path: str) -> str:
    document, problems = made
    assert problems == ()
    assert document is not None
    file, _ = shop.write(document, path)
    return file.read_text(encoding="utf-8")


def test_a_platforms_page(golden: Golden, demo: Survey, shop: Workshop):
    definitions = shop.definitions
    reach = reaches(definitions, kept_folder())
    bare = {
        name: bare_case(definitions, each, reach[name] if name == PLATFORM else None)
        for name, each in definitions.platforms.items()
    }
    family = FamilyCase(
        definitions,
        bare,
        {name: (case.facts, case.sound) for name, case in demo.cases.items()},
    )
    made = compose(
        "platform",
        shop.templates,
        bare[PLATFORM],
        shop.engine,
        nowhere,
        family=family,
        kept=kept_folder(),
    )
    golden(f"platform-{PLATFORM}.html", page(shop, made, f"platforms/{PLATFORM}.html"))


def as_markdown(made: Composed) -> str:
    document, problems = made
    assert problems == ()
    assert document is not None
    return WRITERS["md"].write(document, Options()).decode("utf-8")


def about_the_platform(name: str, shop: Workshop) -> Composed:
    """A document about the platform, pictured by the build that it is shown by."""
    definitions = shop.definitions
    platform = definitions.platforms[PLATFORM]
    bare = {name: bare_case(definitions, each) for name, each in definitions.platforms.items()}
    return compose(
        name,
        shop.templates,
        bare_case(definitions, platform, reaches(definitions, kept_folder())[PLATFORM]),
        shop.engine,
        nowhere,
        family=FamilyCase(definitions, bare, {}),
        shown=example_of(definitions, platform),
        kept=kept_folder(),
    )


def test_a_platforms_guide(golden: Golden, shop: Workshop):
    golden(f"guide-{PLATFORM}.md", as_markdown(about_the_platform("guide", shop)))


def test_a_service_guide(golden: Golden, shop: Workshop):
    made = about_the_platform("service-guide", shop)
    golden(f"service-guide-{PLATFORM}.md", as_markdown(made))
    path = f"platforms/{PLATFORM}/service-guide.html"
    golden(f"service-guide-{PLATFORM}.html", page(shop, made, path))


def test_two_builds_compared(golden: Golden, demo: Survey, shop: Workshop):
    compared = Compared(shop.definitions, tuple(demo.cases[name] for name in COMPARED))
    golden("comparison.md", as_markdown(comparison_document(shop.templates, compared)))


def test_a_parts_page(golden: Golden, demo: Survey, shop: Workshop):
    used: list[tuple[str, tuple[str, ...]]] = []
    for name, case in demo.cases.items():
        places = [place.name for place, part in case.assembly.everything() if part.id == PART]
        if places:
            used.append((name, tuple(places)))
    part = PartCase(shop.definitions, shop.definitions.parts[PART], tuple(used))
    made = part_document("part", shop.templates, part)
    golden(f"part-{PART}.html", page(shop, made, f"parts/{PART}.html"))


def test_a_drawing_before_it_is_laid_out(golden: Golden, demo: Survey):
    value = topology(demo.cases["pocket-lamp-room"].assembly)
    golden("pocket-lamp-room.topology.dot", dot(value, plan(value)))


def test_every_file_is_expected_by_a_test():
    names = {f"{build}{suffix}" for build in BUILDS for suffix in (".md", ".html", ".facts.txt")}
    names |= {f"{DOCUMENTED}.{name}.md" for name in DOCUMENTS}
    names |= {"order.site-preparation.md", "order.parts-list.md", "findings.txt"}
    names |= {f"explain-{key}.txt" for key in EXPLAINED}
    names |= {f"guide-{PLATFORM}.md", "comparison.md"}
    names |= {f"service-guide-{PLATFORM}.{form}" for form in ("md", "html", "typ")}
    names |= {f"platform-{PLATFORM}.html", f"part-{PART}.html", "pocket-lamp-room.topology.dot"}
    names |= {f"{name}.typ" for name in (*BUILDS, f"platform-{PLATFORM}")}
    assert {path.name for path in EXPECTED.iterdir()} == names


def test_a_difference_is_shown_line_by_line(tmp_path: Path):
    path = tmp_path / "sheet.md"
    path.write_text("one\ntwo\n")
    with pytest.raises(pytest.fail.Exception, match=r"(?s)-two\n\+three\n.*--bless"):
        compare(path, "one\nthree\n", bless=False)
    assert path.read_text() == "one\ntwo\n"


def test_blessing_writes_what_is_made_now(tmp_path: Path):
    path = tmp_path / "sheet.md"
    compare(path, "one\n", bless=True)
    compare(path, "one\n", bless=False)


@pytest.mark.parametrize("ci", ["true", "1", "True"])
def test_nothing_is_blessed_in_ci(ci: str):
    with pytest.raises(pytest.UsageError):
        refuse_in_ci(True, ci)
    refuse_in_ci(False, ci)
    refuse_in_ci(True, "")
