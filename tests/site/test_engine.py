import logging
import re
from collections.abc import Callable, Sequence
from pathlib import Path

import markdown
import pytest
import site_samples

from specgen.site.assemble import publish_site
from specgen.site.mkdocs_engine import EngineFailed, MkDocsEngine
from specgen.site.page import MenuEntry, Page, Shell
from specgen.site.publish import CannotPublish

Reader = Callable[[Path], dict[str, bytes]]


def render(pages: Sequence[Page], folder: Path) -> tuple[str, ...]:
    folder.mkdir()
    return MkDocsEngine().render(pages, site_samples.shell(), folder)


def test_the_ready_html_stands_in_the_page_as_it_was_given(tmp_path: Path) -> None:
    body = "<article>\n<p>*not* Markdown</p>\n\n    no code\n&amp; [x](y) {{ 1 }}</article>"
    render([Page("builds/a.html", "A", "builds", body)], tmp_path / "out")
    assert body in (tmp_path / "out/builds/a.html").read_text(encoding="utf-8")


def test_a_body_may_lie_in_a_file(tmp_path: Path) -> None:
    (tmp_path / "body.html").write_text("<p>früh · ½</p>", encoding="utf-8")
    render([Page("a.html", "A", "start", tmp_path / "body.html")], tmp_path / "out")
    assert "<p>früh · ½</p>" in (tmp_path / "out/a.html").read_text(encoding="utf-8")


def test_generated_pages_never_meet_python_markdown(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("Python-Markdown was called")

    monkeypatch.setattr(markdown.Markdown, "convert", never)
    render(site_samples.pages(), tmp_path / "out")


def test_titles_and_names_are_text(tmp_path: Path) -> None:
    evil = '<script>x</script>"&'
    menu = (MenuEntry(evil, "index.html", "start"),)
    (tmp_path / "out").mkdir()
    MkDocsEngine().render(
        [Page("index.html", evil, "start", "", evil)],
        Shell(evil, evil, menu, "en", evil),
        tmp_path / "out",
    )
    html = (tmp_path / "out/index.html").read_text(encoding="utf-8")
    assert "<script>x" not in html
    assert html.count("&lt;script&gt;x&lt;/script&gt;&#34;&amp;") >= 7


def test_a_page_called_readme_keeps_its_name(tmp_path: Path) -> None:
    render([Page("parts/README.html", "R", "parts", "<p>r</p>")], tmp_path / "out")
    assert (tmp_path / "out/parts/README.html").is_file()


def test_two_pages_of_one_path_are_a_mistake_of_ours(tmp_path: Path) -> None:
    twice = Page("a.html", "A", "start", "")
    with pytest.raises(ValueError, match=r"two pages have one path: a\.html"):
        render([twice, twice], tmp_path / "out")


def test_handwritten_pages_get_the_shell_and_can_be_found(sample_site: Path) -> None:
    html = (sample_site / "about.html").read_text(encoding="utf-8")
    assert '<article class="document prose">' in html
    assert 'aria-label="Sections"' in html
    assert "about.html" in (sample_site / "index.html").read_text(encoding="utf-8")
    assert "About the values" in "".join(
        path.read_text() for path in (sample_site / "search").glob("p-*.js")
    )


def test_the_engine_prints_nothing_and_leaves_logging_as_it_was(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    logger = logging.getLogger("mkdocs")
    before = logger.level, logger.propagate, list(logger.handlers)
    render(site_samples.pages(), tmp_path / "out")
    assert capfd.readouterr() == ("", "")
    assert (logger.level, logger.propagate, list(logger.handlers)) == before


def test_two_sites_of_the_same_pages_are_byte_identical(
    tmp_path: Path, sample_site: Path, read_folder: Reader, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86400")
    pages = (site_samples.written_by_hand(), *reversed(site_samples.pages()))
    publish_site(pages, site_samples.shell(), tmp_path / "elsewhere")
    assert read_folder(tmp_path / "elsewhere") == read_folder(sample_site)


def test_nothing_of_the_engine_shows(sample_site: Path, read_folder: Reader) -> None:
    files = read_folder(sample_site)
    assert not [name for name in files if "sitemap" in name or name.endswith(".gz")]
    assert not [name for name, content in files.items() if b"mkdocs" in content.lower()]


def test_a_strict_policy_is_enough_and_no_host_is_asked(
    sample_site: Path, read_folder: Reader
) -> None:
    for name, content in read_folder(sample_site).items():
        text = content.decode()
        assert not re.search(r"\bdata:|@import|url\(", text), name
        assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", text), name
        if name.endswith(".html"):
            assert not re.search(r"\sstyle=|<style|\son\w+=", text), name
            assert not re.search(r"<script(?![^>]*\bsrc=)", text), name


def test_no_page_holds_the_list_of_all_pages(tmp_path: Path) -> None:
    def size(count: int) -> int:
        pages = [Page(f"parts/p{n}.html", f"P{n}", "parts", "<p>x</p>") for n in range(count)]
        out = tmp_path / str(count)
        render(pages, out)
        return (out / "parts/p0.html").stat().st_size

    assert size(2) == size(200)


def test_another_engine_takes_the_place(tmp_path: Path) -> None:
    class Plain:
        def render(self, pages: Sequence[Page], shell: Shell, folder: Path) -> tuple[str, ...]:
            for page in pages:
                (folder / page.path).write_text(page.html(), encoding="utf-8")
            return ("plain",)

    page = Page("index.html", "I", "start", "<p>i</p>")
    report = publish_site([page], site_samples.shell(), tmp_path / "out", engine=Plain())
    assert report.messages == ("plain",)
    assert report.start.read_text(encoding="utf-8") == "<p>i</p>"


def test_an_engine_that_fails_is_reported_plainly(tmp_path: Path) -> None:
    class Broken:
        def render(self, *_: object, **__: object) -> tuple[str, ...]:
            raise EngineFailed("no theme")

    with pytest.raises(CannotPublish, match="the site could not be made: no theme"):
        publish_site([], site_samples.shell(), tmp_path / "out", engine=Broken())
    assert not (tmp_path / "out").exists()


def test_files_beside_the_pages_are_published(tmp_path: Path) -> None:
    (tmp_path / "sheet.md").write_bytes(b"# sheet\n")
    files = {"builds/a.md": tmp_path / "sheet.md", "builds/a/topology.svg": b"<svg/>"}
    publish_site([], site_samples.shell(), tmp_path / "out", files=files)
    assert (tmp_path / "out/builds/a.md").read_bytes() == b"# sheet\n"
    assert (tmp_path / "out/builds/a/topology.svg").read_bytes() == b"<svg/>"
