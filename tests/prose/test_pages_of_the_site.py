"""Pages written by hand: references printed, languages chosen, links that lead nowhere told."""

import re
from functools import partial
from pathlib import Path

import pytest

from specgen.cli import main
from specgen.document.prose.checks import check_prose
from specgen.document.prose.passages import passages
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import read_texts
from specgen.document.template_calls import tables_in
from specgen.limits.promised import promised
from specgen.pipeline import systems_of
from specgen.site.handwritten import pages_of, rivals
from specgen.site.page import Page, Places
from specgen.site.text_links import dead_links
from tests.cli.test_site_command import tiny
from tests.prose.test_texts import put

NOTE = """\
---
subject: lantern-full
---
# About {build lantern-full}

It draws **{power.maximum}**, [see {power.maximum}](builds/lantern-full.html) `{power.maximum}`.
"""


def ready(folder: Path, subjects: Subjects) -> dict[str, Page]:
    texts, _ = read_texts(folder)
    return {page.path: page for page in pages_of(texts, subjects)}


def test_references_become_html_and_all_else_stays(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"pages/n.md": NOTE, "pages/deep/m.md": NOTE})
    made = ready(tmp_path, subjects)
    value = '<span class="value" data-fact="lantern-full.power.maximum">825'
    html = made["n.html"].html()
    assert html.startswith('<h1 id="about-lantern-full">About Lantern, full</h1>')
    assert f'<strong><a href="builds/lantern-full.html">{value}' in html
    assert f'<a href="builds/lantern-full.html">see {value}' in html
    assert "<code>{power.maximum}</code>" in html
    assert 'href="../builds/lantern-full.html"' in made["deep/m.html"].html()


def test_the_page_in_the_language_of_the_site_is_shown(tmp_path: Path, subjects: Subjects):
    files = {"n.md": "# N\n", "n.de.md": "# Deutsch\n", "only.de.md": "# Nur\n"}
    put(tmp_path, {f"pages/{name}": text for name, text in files.items()})
    made = ready(tmp_path, subjects)
    assert sorted(made) == ["n.html", "only.html"]
    assert made["n.html"].html() == '<h1 id="n">N</h1>\n'
    assert "shown in German" in made["only.html"].html()


def test_pages_are_named_by_their_head_their_first_heading_their_file(
    tmp_path: Path, subjects: Subjects
):
    files = {
        "a.md": "---\ntitle: First\n---\n# Other\n",
        "deep/b.md": "# The *second*\n",
        "c.md": "text\n",
        "deep/README.md": "# Deep\n",
    }
    put(tmp_path, {f"pages/{name}": text for name, text in files.items()})
    made = ready(tmp_path, subjects)
    assert {path: page.title for path, page in made.items()} == {
        "a.html": "First",
        "c.html": "c",
        "deep/b.html": "The second",
        "deep/index.html": "Deep",
    }


def test_links_lead_to_the_pages_that_are_made_of_files(tmp_path: Path, subjects: Subjects):
    text = "[a](deep/b.md#x) [b](deep/README.md) [c](plain.pdf) [d](n.md?q#y)\n"
    put(
        tmp_path,
        {"pages/n.md": text, "pages/deep/b.md": "[n](../n.md)", "pages/deep/README.md": ""},
    )
    made = ready(tmp_path, subjects)
    html = made["n.html"].html()
    for href in ("deep/b.html#x", "deep/index.html", "plain.pdf", "n.html?q#y"):
        assert f'href="{href}"' in html
    assert 'href="../n.html"' in made["deep/b.html"].html()


def test_tables_align_numbers_and_head_nothing_without_words(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"pages/n.md": "| | Depth |\n|:--|--:|\n| x | 6 |\n"})
    html = ready(tmp_path, subjects)["n.html"].html()
    assert '<td class="num">6</td>' in html
    assert '<th class="num">Depth</th>' in html
    assert "<th></th>" not in html
    assert "style=" not in html


def test_a_page_takes_the_place_of_none_that_the_site_makes(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"pages/index.md": "# mine\n"})
    texts, _ = read_texts(tmp_path)
    (found,) = rivals(texts, (Page("index.html", "I", "start", ""),))
    assert (found.code.id, found.at.span.file) == ("SG107", "pages/index.md")


LINKS = {
    "pages/n.md": "# One\n\n## A part: {part sink}\n\n[x](TARGET)\n",
    "pages/deep/m.md": "# Two\n\n# Two\n",
    "pages/file.pdf": "%PDF-1",
}


@pytest.mark.parametrize(
    "target",
    [
        *("#one", "#a-part-heat-sink", "deep/m.md", "deep/m.html#two_1", "file.pdf", "n.md#one"),
        *("parts/sink.html", "https://example.org/x", "mailto:a@example.org", "index.html"),
    ],
)
def test_links_that_lead_somewhere_are_left_alone(tmp_path: Path, subjects: Subjects, target: str):
    assert links(tmp_path, subjects, target) == []


@pytest.mark.parametrize(
    ("target", "help_"),
    [
        ("deep/mm.md", "`deep/m.md`"),
        ("#onee", "`one`"),
        ("deep/m.md#two_2", ""),
        ("parts/snik.html", ""),
        ("../parts/sink.html", "`parts/sink.html`"),
        ("/parts/sink.html", "relative"),
        ("file.pdd", "`file.pdf`"),
    ],
)
def test_links_that_lead_nowhere_are_reported(
    tmp_path: Path, subjects: Subjects, target: str, help_: str
):
    (found,) = dead_links(*_linked(tmp_path, target), subjects)
    assert found.code.id == "SG506"
    assert (found.at.span.line, found.at.span.column) == (5, 1)
    assert help_ in str(found.help)


def _linked(folder: Path, target: str):
    put(folder, {name: text.replace("TARGET", target) for name, text in LINKS.items()})
    return folder, read_texts(folder)[0]


def links(folder: Path, subjects: Subjects, target: str) -> list[str]:
    return [str(found.message) for found in dead_links(*_linked(folder, target), subjects)]


def test_with_the_site_at_hand_anchors_of_made_pages_are_judged(tmp_path: Path, subjects: Subjects):
    folder, texts = _linked(tmp_path, "parts/sink.html#b")
    page = Page("parts/sink.html", "Sink", "parts", "", places=Places(anchors=frozenset("a")))
    assert len(dead_links(folder, texts, subjects, (page,))) == 1
    page = Page("parts/sink.html", "Sink", "parts", "", places=Places(anchors=frozenset("b")))
    assert dead_links(folder, texts, subjects, (page,)) == ()


def test_a_table_that_a_page_does_not_print_is_reported(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"pages/n.md": "{lantern-full: table memory}\n"})
    page = Page("builds/lantern-full.html", "L", "builds", "<p>nothing</p>")
    (found,) = dead_links(tmp_path, read_texts(tmp_path)[0], subjects, (page,))
    assert "does not print" in str(found.message)


def test_a_piece_of_a_document_has_no_place_to_link_from(tmp_path: Path, subjects: Subjects):
    put(tmp_path, {"prose/lantern/walk.md": "[x](../parts/sink.html) [y](#z)\n"})
    (found,) = dead_links(tmp_path, read_texts(tmp_path)[0], subjects)
    assert "`{part ID}`" in str(found.help)


@pytest.mark.slow
def test_check_and_site_tell_and_print_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    note = NOTE.replace("lantern-full", "lantern-small")
    project, site = put(tmp_path / "p", tiny()), tmp_path / "site"
    put(project, {"pages/n.md": note + "\n{power.maximun}\n"})
    assert main(["check", "--project", str(project)]) == 1
    out = capsys.readouterr().out
    assert re.search(r"error\[SG501\].*\n.*pages/n\.md:8:1\n", out)
    assert "8 | {power.maximun}" in out
    words = ["site", "--project", str(project), "-o", str(site), "--jobs", "1", "-q"]
    assert main(words) == 1
    assert not (site / "n.html").exists()  # nothing is written with an error in it
    put(project, {"pages/n.md": note})
    assert main(words) == 0
    html = (site / "n.html").read_text(encoding="utf-8")
    assert '<a href="builds/lantern-small.html"><span class="value"' in html
    assert "<title>About Lantern, small" in html


def test_the_prose_of_the_demo_holds(demo_folder: Path, demo):
    texts, findings = read_texts(demo_folder)
    assert {text.subject for text in texts} >= set(demo.definitions.platforms)
    platforms = demo.definitions.platforms
    limits = {name: promised(demo.definitions, each) for name, each in platforms.items()}
    machines = systems_of(demo.definitions, demo.cases)
    subjects = Subjects(demo.definitions, machines, limits, partial(tables_in, demo_folder))
    assert (
        *findings,
        *check_prose(texts, subjects),
        *dead_links(demo_folder, texts, subjects),
    ) == ()
    typed = [
        passage.flat
        for text in texts
        for passage in passages(text)
        if re.search(r"\d", passage.flat)
    ]
    assert [line for line in typed if re.search(r"\d+ ?(W|mm|kg|GiB|TB)\b", line)] == []
