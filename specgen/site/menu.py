"""The menu of a site and what else stands round every page."""

from collections.abc import Iterator

from specgen.model import Definitions
from specgen.rules.declared import rule_book
from specgen.site.addresses import COMPARE, LIMITS, START
from specgen.site.localizer import CONTEXT, SCRIPT, Localizer
from specgen.site.page import MenuEntry, Shell
from specgen.site.rule_pages import INDEX


def shell_of(definitions: Definitions, localizer: Localizer, limits: bool) -> Shell:
    """What stands round every page; the menu has the lists and the platforms, never every page."""
    project, word = definitions.project, localizer.fixed
    platforms = tuple(_platform_entries(definitions))
    lists = (
        ()
        if definitions.is_empty
        else (
            MenuEntry(word("Platforms"), "platforms.html", "platforms", platforms),
            MenuEntry(word("Builds"), "builds.html", "builds"),
            MenuEntry(word("Parts"), "parts.html", "parts"),
            MenuEntry(word("Compare"), COMPARE, "compare"),
            *((MenuEntry(word("Limits"), LIMITS, "limits"),) if limits else ()),
            *((MenuEntry(word("Rules"), INDEX, "rules"),) if rule_book(definitions).rules else ()),
        )
    )
    menu = (MenuEntry(word("Start"), START, "start"), *lists)
    return Shell(
        name=project.title,
        publisher=project.publisher.name,
        menu=menu,
        language=project.language,
        edition=project.edition or "",
        words=localizer.at(CONTEXT),
        script_words=localizer.at(SCRIPT),
    )


def _platform_entries(definitions: Definitions) -> Iterator[MenuEntry]:
    for name, platform in definitions.platforms.items():
        yield MenuEntry(platform.name, f"platforms/{name}.html", "platforms")
