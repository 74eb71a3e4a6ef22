"""How a reader gets from one document of a system to the others."""

from pathlib import Path

from site_samples import shell

from specgen.document.tree import Document
from specgen.site.assemble import publish_site
from specgen.site.document_menu import by_system, document_links, kind_of, placed, under_system
from specgen.site.page import Page, furnish

OWN = "builds/a.html"
SHEET = Page(OWN, "A", "builds", "<p>sheet</p>", of=OWN, kind="Spec sheet")
DATA = Page("builds/a/data.html", "A: Data", "builds", "<p>data</p>", of=OWN, kind="Data")
LIMITS = Page("limits/a.html", "Limits of A", "limits", "<p>most</p>", of=OWN, kind="Limits")
ALONE = Page("builds/b.html", "B", "builds", "", of="builds/b.html", kind="Spec sheet")


def test_a_document_goes_by_its_kind_else_by_its_name() -> None:
    assert kind_of(Document("A", (), subtitle="Spec sheet, Lantern", kind="Spec sheet")) == (
        "Spec sheet"
    )
    assert kind_of(Document("A", ()), "parts-list") == "Parts list"


def test_every_document_of_a_system_leads_to_all_of_them_the_own_page_first() -> None:
    groups = by_system((DATA, LIMITS, SHEET, ALONE))
    own, links = document_links(DATA, groups)
    assert own == SHEET
    assert [(link.title, link.href, link.here) for link in links] == [
        ("Spec sheet", "../../builds/a.html", ""),
        ("Data", "../../builds/a/data.html", "page"),
        ("Limits", "../../limits/a.html", ""),
    ]


def test_a_system_with_one_page_needs_no_ways() -> None:
    assert document_links(ALONE, by_system((SHEET, DATA, ALONE))) == (None, ())


def test_the_way_to_a_document_leads_through_its_system_but_only_within_a_section() -> None:
    def trail(page: Page) -> list[str]:
        furniture = furnish(shell(), page)
        return [link.title for link in under_system(page, SHEET, furniture).trail]

    assert trail(DATA) == ["Start", "Builds", "A"]
    assert trail(SHEET) == ["Start", "Builds"]
    assert "A" not in trail(LIMITS)


def test_documents_of_one_title_are_reported_apart() -> None:
    guide = Document("Lantern", (), kind="Platform guide", subtitle="Platform guide, Coast")
    page = Page("platforms/lantern/guide.html", "Lantern", "platforms", "")
    assert placed(page, "platforms/lantern.html", guide).title == "Lantern: Platform guide"
    own = Page("platforms/lantern.html", "Lantern", "platforms", "")
    assert placed(own, own.path, guide).title == "Lantern"


def test_the_published_page_shows_the_ways(tmp_path: Path) -> None:
    publish_site((SHEET, DATA, ALONE), shell(), tmp_path / "site")
    html = (tmp_path / "site" / DATA.path).read_text(encoding="utf-8")
    assert '<nav class="beside" aria-label="Documents: A">' in html
    assert '<li><a href="../../builds/a.html">Spec sheet</a>' in html
    assert '<span aria-current="page">Data</span>' in html
    assert 'class="beside"' not in (tmp_path / "site" / ALONE.path).read_text(encoding="utf-8")
