"""Claims of what a system can reach are values, never typed."""

import re
from pathlib import Path

import pytest

from specgen.shipped import templates_folder

CLAIM = re.compile(r"\b(?:up to|as many as|at most|no more than)\s+\d", re.IGNORECASE)
VALUE = re.compile(r'<span class="value[^>]*data-fact="[^"]+".*?</span>(?:</span>)?', re.DOTALL)
PARAGRAPH = re.compile(r"<p[ >].*?</p>|<li>.*?</li>", re.DOTALL)


def typed(html: str) -> list[str]:
    """Claims in running text whose number is no value; rules are quoted in tables as declared."""
    found = []
    for paragraph in PARAGRAPH.findall(html):
        text = re.sub(r"<[^>]+>", "", VALUE.sub("§", paragraph))
        found += [text for _ in CLAIM.findall(text)]
    return found


def test_no_claim_stands_in_what_the_demo_is_made_of(demo_folder: Path) -> None:
    texts = [
        *demo_folder.glob("platforms/*.yaml"), *demo_folder.glob("configured/*.yaml"),
        demo_folder / "specgen.yaml", *demo_folder.glob("**/*.md"),
        *templates_folder().glob("*.md"), *templates_folder().glob("texts/*.yaml"),
    ]  # fmt: skip
    assert len(texts) > 60
    found = {path.name: CLAIM.findall(path.read_text("utf-8")) for path in texts}
    assert {name: claims for name, claims in found.items() if claims} == {}


@pytest.mark.slow
def test_no_claim_of_the_demo_is_typed(demo_site: Path) -> None:
    pages = [*demo_site.glob("platforms/**/*.html"), demo_site / "platforms.html"]
    assert len(pages) > 10
    assert [found for page in pages for found in typed(page.read_text("utf-8"))] == []


def test_claims_of_a_platform_are_limits(small_site: Path) -> None:
    page = (small_site / "platforms/lantern.html").read_text("utf-8")
    assert 'data-fact="limits.drives"' in page
    assert 'href="../limits/lantern.html#' in page
    assert typed(page) == []


@pytest.mark.slow
def test_claims_of_platforms_are_limits(demo_site: Path) -> None:
    for name in ("pocket", "lantern", "beacon", "boathouse", "capstan"):
        page = (demo_site / f"platforms/{name}.html").read_text("utf-8")
        assert 'data-fact="limits.drives"' in page
        assert f'href="../limits/{name}.html#' in page


def test_a_typed_claim_would_be_seen() -> None:
    assert typed("<p>It takes up to 24 drives.</p>")
    assert not typed(
        '<p>It takes up to <a href="x"><span class="value" data-fact="limits.drives">24</span></a> '
        "drives.</p>"
    )
