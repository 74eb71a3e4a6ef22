"""The one module that knows MkDocs. It puts the shell round ready pages and writes them.

MkDocs 1.x calls a plugin at each step of a build; ours adds the generated pages as files without
a source, keeps Python-Markdown away from them, and hands their HTML to the theme. Pages that
people write by hand in Markdown go MkDocs' ordinary way and get the same shell.
Another engine with the same interface takes its place by being an `SiteEngine`.
"""

# ruff: noqa: ARG002  # MkDocs passes all of these by name, whether an event needs them or not

import json
import logging
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from html import unescape
from pathlib import Path
from typing import Protocol

from jinja2 import Environment
from markupsafe import Markup
from mkdocs.commands.build import build
from mkdocs.config.base import Config, load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.nav import Navigation
from mkdocs.structure.pages import Page as EnginePage
from mkdocs.structure.toc import TableOfContents
from mkdocs.utils import get_markdown_title
from mkdocs.utils.meta import get_data
from mkdocs.utils.templates import TemplateContext

from specgen.frozen import frozen
from specgen.shipped import site_folder, theme_folder
from specgen.site.document_menu import by_system, document_links, under_system
from specgen.site.page import MenuEntry, NavLink, Page, Shell, contents, furnish
from specgen.site.scratch import scratch
from specgen.site.search import text_of

NOTES = "notes"
_ALIGNED = re.compile(r' style="text-align: (?:left|center);"')
_NAMELESS = re.compile(r"<th((?: [^>]*)?)>\s*</th>")


class EngineFailed(Exception):
    """The engine could not make the site; nothing of it may be published."""


@frozen
class Rendered:
    """What the engine wrote besides the pages given: handwritten ones, and what it had to say."""

    handwritten: tuple[Page, ...] = ()
    messages: tuple[str, ...] = ()


class SiteEngine(Protocol):
    """Puts the shell round pages and writes them, with the theme's files, into an empty folder."""

    def render(
        self, pages: Sequence[Page], shell: Shell, folder: Path, handwritten: Path | None = None
    ) -> Rendered:
        """Write the site into `folder`. Raises EngineFailed, or OSError from the disk."""
        ...


class MkDocsEngine:
    """MkDocs 1.x with the theme of our own."""

    def render(
        self, pages: Sequence[Page], shell: Shell, folder: Path, handwritten: Path | None = None
    ) -> Rendered:
        """Write the site into `folder`. Raises EngineFailed, or OSError from the disk."""
        with scratch() as nothing, _collecting_log() as logged:
            plugin = _Plugin(pages, shell)
            try:
                config = load_config(
                    str(site_folder() / "mkdocs.yml"),
                    site_name=shell.name,
                    docs_dir=str(handwritten.resolve() if handwritten else nothing),
                    site_dir=str(folder.resolve()),
                )
                # No files of the engine's own: its site map would carry the day of the build.
                config.theme.dirs = [str(theme_folder())]
                config.theme.static_templates = set()
                config.plugins["specgen"] = plugin
                build(config)
            except MkDocsException as problem:
                raise EngineFailed("; ".join([*logged, problem.message])) from problem
            return Rendered(tuple(plugin.handwritten), tuple(plugin.messages + logged))


def handwritten_entries(folder: Path) -> tuple[MenuEntry, ...]:
    """Menu entries for the Markdown pages in a folder, by their first heading.

    Raises EngineFailed if one is not UTF-8, OSError if one cannot be read.
    """
    entries = []
    for file in sorted(folder.rglob("*.md")):
        place = file.relative_to(folder)
        if any(step.startswith(".") for step in place.parts):
            continue
        try:
            markdown, meta = get_data(file.read_text(encoding="utf-8-sig"))
        except UnicodeDecodeError:
            raise EngineFailed(f"`{place.as_posix()}` is not UTF-8 text") from None
        title = str(meta.get("title") or get_markdown_title(markdown) or file.stem)
        # MkDocs makes the index of a folder of its README.
        name = "index" if file.stem == "README" else file.stem
        entries.append(MenuEntry(title, place.with_name(f"{name}.html").as_posix(), NOTES))
    return tuple(entries)


class _ReadyPage(EnginePage):
    """A page whose HTML is ready. It is read when it is written, so only one is held at a time."""

    def __init__(self, page: Page, file: File, config: MkDocsConfig) -> None:
        super().__init__(page.title, file, config)
        self.ready = page

    def render(self, config: MkDocsConfig, files: Files) -> None:
        """Python-Markdown would come here; there is nothing for it to do."""
        self.content = ""
        self.toc = TableOfContents([])


class _NoOptions(Config):  # type: ignore[no-untyped-call]
    """The plugin is made here, not named in a configuration file."""


class _Plugin(BasePlugin[_NoOptions]):  # type: ignore[no-untyped-call]
    """MkDocs' events, in the order in which they come."""

    def __init__(self, pages: Sequence[Page], shell: Shell) -> None:
        self.pages = pages
        self.shell = shell
        self.handwritten: list[Page] = []
        self.messages: list[str] = []
        self._contents: dict[str, tuple[NavLink, ...]] = {}
        self._groups = by_system(pages)
        self._script_words = json.dumps(
            dict(shell.script_words), ensure_ascii=False, sort_keys=True
        )

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files:
        taken = {file.dest_uri: file for file in files}
        for page in self.pages:
            if page.path in taken:
                if (rival := taken[page.path]).generated_by:
                    raise ValueError(f"two pages have one path: {page.path}")
                files.remove(rival)
                self.messages.append(f"{rival.src_uri} left out: {page.path} is a generated page")
            source = page.path.removesuffix(".html") + ".md"
            file = File.generated(config, source, content="", inclusion=InclusionLevel.NOT_IN_NAV)
            file.generated_by = "specgen"
            file.dest_uri = page.path
            _ReadyPage(page, file, config)
            files.append(file)
            taken[page.path] = file
        return files

    def on_env(self, env: Environment, /, *, config: MkDocsConfig, files: Files) -> Environment:
        env.autoescape = True
        env.trim_blocks = env.lstrip_blocks = True
        return env

    def on_page_content(
        self, html: str, /, *, page: EnginePage, config: MkDocsConfig, files: Files
    ) -> str:
        if not isinstance(page, _ReadyPage):
            title = unescape(str(page.title))
            words = ((text_of(html), 1),)
            self.handwritten.append(Page(page.file.dest_uri, title, NOTES, html, "", words))
            # Python-Markdown aligns cells by style attributes, which a strict policy refuses.
            html = html.replace(' style="text-align: right;"', ' class="num"')
            html = _ALIGNED.sub("", html)
            html = _NAMELESS.sub(r"<td\1></td>", html)  # a heading without words heads nothing
        return html

    def on_page_context(
        self,
        context: TemplateContext,
        /,
        *,
        page: EnginePage,
        config: MkDocsConfig,
        nav: Navigation,
    ) -> TemplateContext:
        if isinstance(page, _ReadyPage):
            ready, body = page.ready, page.ready.html()
        else:
            body = page.content or ""
            path = page.file.dest_uri
            ready = Page(path, unescape(str(page.title)), NOTES, body)
        furniture = furnish(self.shell, ready.path, ready.section, ready.root, body)
        own, documents = document_links(ready, self._groups)
        if ready.root not in self._contents:
            self._contents[ready.root] = contents(self.shell, ready.root)
        values = {
            "shell": self.shell,
            "sheet": ready,
            "body": Markup(body),  # noqa: S704  # ready HTML, escaped by the writer
            "is_written_by_hand": not isinstance(page, _ReadyPage),
            "furniture": under_system(ready, own, furniture),
            "own": own,
            "documents": documents,
            "contents": self._contents[ready.root],
            "spoken": self._script_words,
        }
        return {**context, **values}  # type: ignore[typeddict-item]


class _LogCollector(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


@contextmanager
def _collecting_log() -> Iterator[list[str]]:
    """Keep MkDocs' own log off the terminal; its warnings become messages."""
    logger = logging.getLogger("mkdocs")
    before = logger.propagate, logger.level
    ear = _LogCollector()
    logger.addHandler(ear)
    logger.propagate = False
    logger.setLevel(logging.WARNING)
    try:
        yield ear.messages
    finally:
        logger.removeHandler(ear)
        logger.propagate, level = before
        logger.setLevel(level)
