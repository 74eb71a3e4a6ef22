"""The menu of a site and what else stands round every page."""

from collections.abc import Iterator

from specgen.model import Definitions
from specgen.rules.declared import rule_book
from specgen.site.addresses import COMPARE, LIMITS, START
from specgen.site.page import MenuEntry, Shell
from specgen.site.rules import INDEX
from specgen.site.voice import CONTEXT, SCRIPT, Voice


def shell_of(definitions: Definitions, voice: Voice, limits: bool) -> Shell:
    """What stands round every page; the menu has the lists and the platforms, never every page."""
    project, say = definitions.project, voice.fixed
    platforms = tuple(_platform_entries(definitions))
    menu = (
        MenuEntry(say("Start"), START, "start"),
        MenuEntry(say("Platforms"), "platforms.html", "platforms", platforms),
        MenuEntry(say("Builds"), "builds.html", "builds"),
        MenuEntry(say("Parts"), "parts.html", "parts"),
        MenuEntry(say("Compare"), COMPARE, "compare"),
        *((MenuEntry(say("Limits"), LIMITS, "limits"),) if limits else ()),
        *((MenuEntry(say("Rules"), INDEX, "rules"),) if rule_book(definitions).rules else ()),
    )
    return Shell(
        name=project.title,
        publisher=project.publisher.name,
        menu=menu,
        language=project.language,
        edition=project.edition or "",
        words=voice.at(CONTEXT),
        spoken=voice.at(SCRIPT),
    )


def _platform_entries(definitions: Definitions) -> Iterator[MenuEntry]:
    for name, platform in definitions.platforms.items():
        yield MenuEntry(platform.name, f"platforms/{name}.html", "platforms")
