"""What every page of a site needs."""

from collections.abc import Iterable
from pathlib import Path

from specgen.diagnostics import Finding, arrange
from specgen.document.case import Case, FamilyCase
from specgen.document.compose import Composed
from specgen.document.document_types import findings_document
from specgen.document.shelf import templates_of
from specgen.document.template import Templates
from specgen.document.tree import Document
from specgen.document.tree_walks import renditions_of
from specgen.drawings import LayoutEngine
from specgen.frozen import frozen
from specgen.images.prepared import Rendition
from specgen.load.definitions import Loaded
from specgen.model import Definitions
from specgen.pipeline import compose
from specgen.rules.declared import rule_book
from specgen.rules.definitions.whole_project import of_project
from specgen.shipped import documents_about
from specgen.site.addresses import address, resolver
from specgen.site.cross_references import CrossReferences, facts_page_name, linked
from specgen.site.localizer import Localizer, localizer_of
from specgen.site.outgoing import outgoing
from specgen.site.page import Places, places_in
from specgen.write.html import body
from specgen.write.writer_options import PICTURES


@frozen
class Workshop:
    """What every page needs: definitions, templates, the drawing engine, the known pages."""

    loaded: Loaded
    definitions: Definitions
    templates: Templates
    engine: LayoutEngine
    xrefs: CrossReferences
    scratch: Path
    cache: Path | None
    localizer: Localizer
    documents: tuple[str, ...]
    """The templates that may be about a build."""
    drafts: bool = False
    """Whether drafts are among its builds."""
    found: tuple[Finding, ...] = ()
    """What was found in all files, apart from any build."""

    @property
    def known(self) -> frozenset[str]:
        """The paths of the pages that definitions get."""
        return self.xrefs.known

    def write(
        self, document: Document, path: str, xrefs: CrossReferences | None = None, here: str = ""
    ) -> tuple[Path, Places]:
        """The document's HTML in a file beside the others, links made for the page at `path`; where
        others can lead to in it."""
        woven = linked(document, xrefs or self.xrefs, here)
        put_pictures(self.scratch, renditions_of(woven.blocks))
        html = body(woven, resolver(self.known, path), pictures_from(path))
        return self.put(path, html.encode("utf-8")), places_in(document)

    def compose(
        self,
        name: str,
        case: Case,
        path: str,
        family: FamilyCase | None = None,
        shown: Case | None = None,
    ) -> Composed:
        """A document about a system, the links of its pictures made for the page at `path`."""
        resolve = resolver(self.known, path)
        return compose(
            name,
            self.templates,
            case,
            self.engine,
            lambda part: resolve(f"part:{part}"),
            family=family,
            shown=shown,
            found=self.found,
        )

    def findings_page(self, title: str, findings: Iterable[Finding]) -> Document:
        """What takes the place of a page that cannot be published."""
        found = arrange(findings)
        document, problems = findings_document(self.templates, self.definitions, title, found)
        if document is None:
            return Document(title, (), subtitle=problems[0].message if problems else "")
        return document

    def put(self, path: str, content: bytes) -> Path:
        """A file of the site, where it waits to be published."""
        target = self.scratch / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
        return target


def workshop(
    root: Path, loaded: Loaded, scratch: Path, cache: Path | None, *, drafts: bool = False
) -> Workshop:
    """The workshop of a project that could be read; without `drafts` its drafts stay at home."""
    templates = templates_of(root)
    loaded = outgoing(loaded, templates, drafts=drafts)
    definitions = loaded.definitions
    assert definitions is not None
    facts_page = facts_page_name(definitions)
    codes = frozenset(rule_book(definitions).by_code)
    known = [
        *(f"part:{name}" for name in definitions.parts),
        *(f"platform:{name}" for name in definitions.platforms),
        *(f"platform:{name}/{facts_page}" for name in definitions.platforms),
        *(f"build:{name}" for name in (*definitions.builds, *loaded.unreadable_builds)),
        *(
            f"build:{name}/{document}"
            for name in definitions.builds
            for document in (*definitions.project.documents[1:], facts_page)
        ),
        *(f"rule:{code}" for code in codes),
    ]
    pages = frozenset(filter(None, map(address, known)))
    xrefs = CrossReferences(definitions, facts_page, pages, codes)
    engine, localizer = LayoutEngine(folder=cache), localizer_of(definitions, root)
    documents = documents_about("build", root)
    found = (*loaded.findings, *of_project(root, loaded))
    return Workshop(
        loaded,
        definitions,
        templates,
        engine,
        xrefs,
        scratch,
        cache,
        localizer,
        documents,
        drafts,
        found,
    )


def pictures_from(path: str) -> str:
    """The folder of the files of pictures, seen from a page or a file of the site."""
    return "../" * path.count("/") + PICTURES


def put_pictures(scratch: Path, files: Iterable[Rendition]) -> None:
    """Files of pictures, where they wait to be published."""
    for each in files:
        target = scratch / PICTURES / each.name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(each.content)


def pictures_in(scratch: Path) -> dict[str, Path]:
    """The files of the pictures that pages show, whichever process has put them there, by their
    paths from the site's root."""
    found = sorted((scratch / PICTURES).glob("*"))
    return {f"{PICTURES}{path.name}": path for path in found}
