"""The one module that knows MkDocs. It puts the shell round ready pages and writes them.

MkDocs 1.x calls a plugin at each step of a build; ours adds the generated pages as files without
a source, keeps Python-Markdown away from them, and hands their HTML to the theme.
Another engine with the same interface takes its place by being an `SiteEngine`.
"""

# ruff: noqa: ARG002  # MkDocs passes all of these by name, whether an event needs them or not

import json
import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
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
from mkdocs.utils.templates import TemplateContext

from specgen.files.scratch import scratch
from specgen.shipped import site_folder, theme_folder
from specgen.site.document_menu import by_system, comparing, document_links, under_system
from specgen.site.page import NavLink, Page, Shell, contents, furnish, is_written

OWN_FILES = "'self' file:"  # from a folder on disk, where some browsers call no two files the same
POLICY = (
    f"default-src 'none'; script-src {OWN_FILES}; style-src {OWN_FILES}; img-src {OWN_FILES}; "
    f"connect-src 'self'; form-action {OWN_FILES}; base-uri "
)
"""What a page may do, whoever serves it: run the theme's scripts, show the site's own files."""
NO_BASE, OWN_BASE = "'none'", "'self'"
"""The page that is shown for any address has its base set by the theme's script, no other has."""


class EngineFailed(Exception):
    """The engine could not make the site; nothing of it may be published."""


class SiteEngine(Protocol):
    """Puts the shell round pages and writes them, with the theme's files, into an empty folder."""

    def render(self, pages: Sequence[Page], shell: Shell, folder: Path) -> tuple[str, ...]:
        """Write the site into `folder`; what there is to say of it.

        Raises EngineFailed, or OSError from the disk.
        """
        ...


class MkDocsEngine:
    """MkDocs 1.x with the theme of our own."""

    def render(self, pages: Sequence[Page], shell: Shell, folder: Path) -> tuple[str, ...]:
        """Write the site into `folder`; what there is to say of it.

        Raises EngineFailed, or OSError from the disk.
        """
        with scratch() as nothing, _collecting_log() as logged:
            plugin = _Plugin(pages, shell)
            try:
                config = load_config(
                    str(site_folder() / "mkdocs.yml"),
                    site_name=shell.name,
                    docs_dir=str(nothing),
                    site_dir=str(folder.resolve()),
                )
                # No files of the engine's own: its site map would carry the day of the build.
                config.theme.dirs = [str(theme_folder())]
                config.theme.static_templates = set()
                config.plugins["specgen"] = plugin
                build(config)
            except MkDocsException as problem:
                raise EngineFailed("; ".join([*logged, problem.message])) from problem
            return tuple(logged)


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
        self._contents: dict[str, tuple[NavLink, ...]] = {}
        self._groups = by_system(pages)
        self._script_words = json.dumps(
            dict(shell.script_words), ensure_ascii=False, sort_keys=True
        )

    def on_files(self, files: Files, /, *, config: MkDocsConfig) -> Files:
        taken = {file.dest_uri: file for file in files}
        for page in self.pages:
            if page.path in taken:
                raise ValueError(f"two pages have one path: {page.path}")
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

    def on_page_context(
        self,
        context: TemplateContext,
        /,
        *,
        page: EnginePage,
        config: MkDocsConfig,
        nav: Navigation,
    ) -> TemplateContext:
        assert isinstance(page, _ReadyPage)
        ready = page.ready
        furniture = furnish(self.shell, ready)
        own, documents = document_links(ready, self._groups)
        if ready.root not in self._contents:
            self._contents[ready.root] = contents(self.shell, ready.root)
        values = {
            "shell": self.shell,
            "sheet": ready,
            "body": Markup(ready.html()),  # noqa: S704  # ready HTML, escaped by the writer
            "is_written_by_hand": is_written(ready),
            "furniture": under_system(ready, own, furniture),
            "own": own,
            "compared": comparing(own, ready.root),
            "documents": documents,
            "contents": self._contents[ready.root],
            "spoken": self._script_words,
            "policy": POLICY + (OWN_BASE if ready.roots else NO_BASE),
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
