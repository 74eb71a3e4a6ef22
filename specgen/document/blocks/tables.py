"""The tables and lists that templates call by name. A new one is a function and a line here.

A module is imported when one of its blocks is called: a text that refers to one table would else
pay for all of them, which is a tenth of `specgen check`. Not the pictures, nor what stands in
several documents.
"""

from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any

from specgen.document.case import Case, PartCase
from specgen.document.several import Compared, Order
from specgen.document.shared_texts import Texts

OfCase = Callable[[Case], object]
OfPart = Callable[[PartCase], object]
OfCompared = Callable[[Compared], object]
OfOrdered = Callable[[Order], object]


def _blocks(**names: str) -> dict[str, Callable[..., object]]:
    """Blocks by the word that templates have for them, each as module and function beside us."""
    return {word.replace("_", "-"): _block(*name.split(".")) for word, name in names.items()}


def _block(module: str, function: str) -> Callable[..., object]:
    def block(*subject: Any) -> object:
        return getattr(import_module(f"{__package__}.{module}"), function)(*subject)

    return block


SYSTEM_TABLES: Mapping[str, OfCase] = _blocks(
    memory="fitted.memory",
    links="links_and_ports.links",
    ports="links_and_ports.ports",
    unusable="links_and_ports.unusable",
    drives="fitted.drives",
    bays="fitted.bays",
    supplies="fitted.supplies",
    parts="ordered.of_one",
    watched="ordered.watched_of_one",
    supply_choice="supply_choice.supply_choice",
    open_points="review.open_points",
    sources="review.sourced",
    fixtures="overview.fixtures",
    notes="overview.notes",
    own_kinds="own_kinds.fitted",
    positions="options.positions",
    options="options.options",
    consequences="options.consequences",
    rules="declared_rules.rules_of_platform",
    limits="reached_limits.limits",
    inlet_limits="inlet.inlet_limits",
)
SYSTEM_LISTS: Mapping[str, OfCase] = _blocks(
    review="review.summary", parts_totals="ordered.totals_of_one"
)
SERVICE_BLOCKS: Mapping[str, Callable[[Case, Texts], object]] = _blocks(
    access="procedures.access",
    procedures="procedures.procedures",
    covers="service_tables.covers",
    spare_parts="service_tables.spare_parts",
)
ORDER_TABLES: Mapping[str, OfOrdered] = _blocks(parts="ordered.parts", watched="ordered.watched")
ORDER_LISTS: Mapping[str, OfOrdered] = _blocks(parts_totals="ordered.totals")
COMPARED_TABLES: Mapping[str, OfCompared] = _blocks(
    parts="compared_systems.parts", purposes="compared_systems.suits"
)
COMPARED_LISTS: Mapping[str, OfCompared] = _blocks(systems="compared_systems.systems")
PART_TABLES: Mapping[str, OfPart] = _blocks(
    brings="part_page.brings",
    needs="part_page.needs",
    tables="part_page.tables",
    used="part_page.used",
    rules="declared_rules.rules_of_part",
)
PART_LISTS: Mapping[str, OfPart] = _blocks(identity="part_page.identity", data="part_page.data")
