"""The same content for MkDocs alone: specgen's own documents as Markdown, its theme, its search."""

import json
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

from specgen.document.tree import Document
from specgen.pipeline import read
from specgen.site import workshop
from specgen.site.pages import make_pages
from specgen.write import markdown


def as_markdown(document: Document, resolve: Callable[[str], str | None], pictures: str) -> str:
    """A page's document as Markdown; links lead to the Markdown files of other pages."""

    def to_source(target: str) -> str | None:
        found = resolve(target)
        return None if found is None else found.replace(".html", ".md")

    return markdown.body(document, to_source, pictures)


def mkdocs_project(project: Path, target: Path, only: str | None = None) -> Path:
    """A MkDocs project with every page of the site, or the page at the path `only`; its folder.

    The navigation lists what specgen's menu lists: with every page in it, MkDocs would take time
    with the square of their number. Drawings are left out, their text is in.
    """
    docs = target / "docs"
    docs.mkdir(parents=True)
    loaded = read(project).loaded
    with patch.object(workshop, "body", as_markdown):
        made = make_pages(project, loaded, docs, jobs=1, cache=None, done=lambda _: None)
    for page in made.pages:
        assert isinstance(page.body, Path)
        if only in (None, page.path):
            page.body.rename(page.body.with_suffix(".md"))
        else:
            page.body.unlink()
    if only:
        (docs / only).with_suffix(".md").rename(docs / "index.md")
    listed = [e.path for entry in made.shell.menu for e in (entry, *entry.children)]
    config = {
        "site_name": made.shell.name,
        "docs_dir": "docs",
        "site_dir": "out",
        "theme": {"name": "mkdocs"},
        "plugins": ["search"],
        "use_directory_urls": False,
        "nav": ["index.md"] if only else [path.replace(".html", ".md") for path in listed],
        "not_in_nav": "*",
    }
    # JSON is YAML.
    (target / "mkdocs.yml").write_text(json.dumps(config), encoding="utf-8")
    return target
