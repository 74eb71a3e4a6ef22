"""What templates may call, by what they are about. A new block is a function and a line here."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import suggested
from specgen.document.blocks import (
    alternatives,
    choices,
    compared_systems,
    family,
    review,
    system_tables,
    walk,
)
from specgen.document.blocks.cautions import cautions, cautions_of_order
from specgen.document.blocks.fact_makers import (
    fact_makers,
    order_cells,
    shown_cells,
    system_cells,
)
from specgen.document.blocks.fact_table import fact_table
from specgen.document.blocks.family import configurations
from specgen.document.blocks.glossary import glossary
from specgen.document.blocks.preparation import SITE_BLOCKS
from specgen.document.blocks.tables import (
    COMPARED_LISTS,
    COMPARED_TABLES,
    ORDER_LISTS,
    ORDER_TABLES,
    PART_LISTS,
    PART_TABLES,
    SERVICE_BLOCKS,
    SYSTEM_LISTS,
    SYSTEM_TABLES,
)
from specgen.document.case import Case, FamilyCase, PartCase
from specgen.document.maker import AuthorError, BlockFunction
from specgen.document.several import Compared, Order, named
from specgen.document.shared_texts import Texts
from specgen.document.side_by_side import SIDES, side_by_side, unlisted
from specgen.document.tree import Figure
from specgen.drawings.lettering import letter
from specgen.messages import Message, say

Block = Callable[..., object]
NO_BLOCK: Final[Mapping[str, Message]] = {
    "table": say("no table is named `{name}`"),
    "facts": say("no list is named `{name}`"),
    "figure": say("no figure is named `{name}`"),
    "picture": say("no picture is named `{name}`"),
    "site": say("no block of a site is named `{name}`"),
    "service": say("no block of service is named `{name}`"),
}
"""What is said of a name that nothing has, by what a template calls it with."""


def _named(maker: str, entries: Mapping[str, Block], name: str) -> Block:
    if name not in entries:
        raise AuthorError(NO_BLOCK[maker].filled(name=name), suggested(name, entries), word=name)
    return entries[name]


def _by_name(
    subject: object, tables: Mapping[str, Block], lists: Mapping[str, Block]
) -> dict[str, BlockFunction]:
    """The tables and the lists that there are of something."""
    return {
        "table": lambda name: _named("table", tables, name)(subject),
        "facts": lambda name: _named("facts", lists, name)(subject),
    }


def system_blocks(
    case: Case,
    values: Mapping[str, Callable[[], object]],
    texts: Texts,
    family: FamilyCase | None = None,
    shown: Case | None = None,
) -> dict[str, BlockFunction]:
    """What a template about a system may call; `values` draws its pictures by name.

    `family` gives the values of its siblings; `shown` is the system in the pictures, where that
    is another one: a platform is shown by a build of it.
    """

    def figure(name: str, *, names: bool = True, caption: bool = True) -> object:
        if not names and name in SIDES:
            made: object = unlisted(name, (case if shown is None else shown).assembly)
        else:
            made = _named("figure", values, name)()
        return made if caption or not isinstance(made, Figure) else replace(made, captioned=False)

    told: choices.Told = set()
    return {
        **_by_name(case, SYSTEM_TABLES, SYSTEM_LISTS),
        **fact_makers(system_cells(case)),
        "figure": figure,
        "cautions": lambda: cautions(case, texts, shown),
        "configurations": lambda: configurations(case),
        "alternatives": partial(alternatives.alternatives, case, told),
        "choices": partial(choices.choices, case, told),
        "own_choices": partial(choices.own_choices, case, told),
        "further_parts": partial(choices.further_parts, case, told),
        "siblings": partial(compared_systems.siblings, case, _siblings(case, family)),
        "reached": partial(compared_systems.reached, case, _siblings(case, family)),
        "glossary": partial(glossary, texts),
        "service": lambda name: _named("service", SERVICE_BLOCKS, name)(case, texts),
        "signatures": review.signatures,
        "source_note": lambda: review.source_note(case),
        **_walk_blocks(case if shown is None else shown, texts),
        **({} if case.build is None else {"site": partial(_site, Order.of_one(case), texts)}),
    }


def _walk_blocks(shown: Case, texts: Texts) -> dict[str, BlockFunction]:
    done: set[str] = set()

    def side(name: str) -> str:
        if name not in walk.SIDES:
            message = say("a system has no side named `{name}`", name=name)
            raise AuthorError(message, suggested(name, walk.SIDES), word=name)
        return name

    return {
        "numbers": lambda name: walk.numbers(shown, side(name)),
        "briefing": lambda name: walk.briefing(shown, texts, side(name), done),
        "shown": lambda: named(shown),
        "shown_table": partial(fact_table, shown_cells(shown)),
    }


def _siblings(case: Case, family: FamilyCase | None) -> tuple[Case, ...]:
    """The other platforms of the family without errors, with nothing fitted."""
    platforms = () if family is None else family.platforms.values()
    return tuple(
        each
        for each in platforms
        if each.platform.family == case.platform.family
        and each.platform.id != case.platform.id
        and each.sound
    )


def _site(order: Order, texts: Texts, name: str) -> object:
    blocks = {**SITE_BLOCKS, "cautions": lambda order: cautions_of_order(order, texts)}
    return _named("site", blocks, name)(order)


def order_blocks(order: Order, texts: Texts) -> dict[str, BlockFunction]:
    """What a template about several builds, each so many times, may call."""
    return {
        "site": partial(_site, order, texts),
        **_by_name(order, ORDER_TABLES, ORDER_LISTS),
        **fact_makers(order_cells(order)),
    }


def comparison_blocks(compared: Compared) -> dict[str, BlockFunction]:
    """What a template about systems side by side may call."""
    values = {name: partial(_side_by_side, compared, name) for name in SIDES}
    return {
        "comparison": partial(compared_systems.comparison, compared),
        "differences": partial(compared_systems.differences, compared),
        **_by_name(compared, COMPARED_TABLES, COMPARED_LISTS),
        "figure": lambda name: _named("figure", values, name)(),
    }


def _side_by_side(compared: Compared, name: str) -> object:
    shown = zip(compared.cases, compared.shown or compared.cases, strict=True)
    return side_by_side(name, [_pictured(*each) for each in shown])


def _pictured(case: Case, shown: Case) -> tuple[str, Assembly]:
    """A system with its caption, which names the build that a platform is shown by."""
    if shown.thing is case.thing:
        return named(case), case.assembly
    caption = say("{platform}, here {build}", platform=named(case), build=named(shown))
    return letter(caption), shown.assembly


def part_blocks(case: PartCase) -> dict[str, BlockFunction]:
    """What a template about a part may call."""
    return _by_name(case, PART_TABLES, PART_LISTS)


def family_blocks(case: FamilyCase, platform: str = "") -> dict[str, BlockFunction]:
    """What a template about the project may call; `platform` narrows the builds to its own."""
    entries: dict[str, Callable[[], object]] = {"parts": partial(family.parts, case)}
    return {
        "table": lambda name: _named("table", entries, name)(),
        "platform_table": partial(system_tables.platform_table, case),
        "build_table": partial(system_tables.build_table, case, platform),
        "line_up": partial(family.line_up, case),
    }
