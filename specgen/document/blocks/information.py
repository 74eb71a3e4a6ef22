"""The information sheet of Regulation (EU) 2019/424, annex II, point 3.1, item by item."""

from collections.abc import Callable, Iterator
from typing import Final

from specgen.document.blocks.cells import (
    cell_of,
    column,
    head,
    joined,
    short_head,
    table,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.tree import Block, Cell, Figure, Listing, Paragraph, Table, Text, link, words
from specgen.facts.declared import declared_fact
from specgen.quantity import Magnitude

LOADS: Final = (10, 20, 50, 100)
ALLOWANCES: Final = (
    ("processors", "regulation.idle_performance"),
    ("redundant supplies", "regulation.idle_supplies"),
    ("drives", "regulation.idle_drives"),
    ("memory", "regulation.idle_memory"),
    ("memory channels", "regulation.idle_channels"),
    ("network ports", "regulation.idle_ports"),
)
SILENT: Final = "not declared"


def items(case: Case) -> Table | None:
    """Every item with its letter and what is declared of it; nothing is guessed."""
    rows: list[tuple[Cell, ...]] = [
        (words(letter), words(label), make(case) or words(SILENT)) for letter, label, make in ITEMS
    ]
    columns = (short_head("Item"), column("What is asked"), column("Declared"))
    nature = case.facts.value("regulation.nature")
    note = f"{nature[:1].upper()}{nature[1:]}. " if isinstance(nature, str) else ""
    note += "Letters are those of annex II; hold them against the text in force before publication."
    return table("Items of the information duty", columns, rows, "information-table", note)


def missing(case: Case) -> tuple[Block, ...]:
    """What the duty wants and the definitions do not hold."""
    found = list(_missing(case))
    if not found:
        return (Paragraph(words("Nothing that the definitions can hold is missing.")),)
    return (Listing(tuple((Paragraph(words(text)),) for text in found)),)


def _missing(case: Case) -> Iterator[str]:
    listed = case.facts.value("regulation.missing")
    if isinstance(listed, tuple):
        yield from (str(text) for text in listed)
    for letter, label, make in ITEMS:
        if (letter in OWN_GAPS or make is _ends) and not make(case):
            yield f"{letter} {label[:1].lower()}{label[1:]}"


def _fact(key: str) -> Callable[[Case], Cell]:
    def make(case: Case) -> Cell:
        return cell_of(case.facts, key) if case.facts.value(key) not in (None, ()) else ()

    return make


def _maker(case: Case) -> Cell:
    publisher = case.definitions.project.publisher
    told = ", ".join(filter(None, (publisher.name, publisher.address, publisher.contact)))
    return words(told) if publisher.address else ()


def _model(case: Case) -> Cell:
    build = case.build
    if build is None or not build.number:
        return ()
    platform = case.platform.number
    return words(f"{build.number}" + (f", of platform {platform}" if platform else ""))


def _year(case: Case) -> Cell:
    year = case.platform.year
    return value_cell(declared_fact(case.platform, ("year",), str(year))) if year else ()


def _efficiency(case: Case) -> Cell:
    cells = []
    for load in LOADS:
        value = _fact(f"regulation.efficiency_{load}")(case)
        if value:
            least = _fact(f"regulation.least_efficiency_{load}")(case)
            at_least = (Text(" (at least "), *least, Text(")")) if least else ()
            cells.append((*value, Text(" at "), *_share(load), *at_least))
    return joined(cells)


def _share(load: int) -> Cell:
    return (Figure(str(load), "%", f"regulation.efficiency_{load}"), Text(" load"))


def _power_factor(case: Case) -> Cell:
    value = _fact("regulation.power_factor_50")(case)
    least = _fact("regulation.least_power_factor")(case)
    if not value:
        return ()
    return (*value, *((Text(" (at least "), *least, Text(")")) if least else ()))


def _idle(case: Case) -> Cell:
    value = _fact("regulation.idle")(case)
    limit = _fact("regulation.idle_limit")(case)
    if not value:
        return ()
    return (*value, *((Text("; limit "), *limit) if limit else ()))


def _allowed(case: Case) -> Cell:
    cells: list[Cell] = []
    for label, key in ALLOWANCES:
        fact = case.facts.get(key)
        if fact is not None and isinstance(fact.value, Magnitude) and fact.value.amount:
            cells.append((*words(f"{label} "), *value_cell(fact)))
    return joined(cells)


def _active(case: Case) -> Cell:
    value, performance = (
        _fact("regulation.efficiency_active")(case),
        _fact("regulation.performance")(case),
    )
    if not value or not performance:
        return ()
    return (*words("efficiency "), *value, *words("; performance of the processors "), *performance)


def _deletion(case: Case) -> Cell:
    return words(case.platform.deletion or "")


def _configurations(case: Case) -> Cell:
    builds = [
        build
        for build in case.definitions.builds.values()
        if build.platform == case.platform.id and build.published
    ]
    cells = []
    for build in builds:
        told = f"{build.number}, {build.name}" if build.number else build.name
        cells.append(link(told, f"build:{build.id}"))
    return joined(cells)


def _ends(_: Case) -> Cell:
    """Low-end and high-end configuration of the family: no field of the definitions holds them."""
    return ()


def _chassis(case: Case) -> Cell:
    if case.platform.regulated_as == "blade":
        return ()
    return words("does not apply: no blade server")


Item = tuple[str, str, Callable[[Case], Cell]]
ITEMS: Final[tuple[Item, ...]] = (
    ("(a)", "Product type", _fact("regulation.product_type")),
    ("(b)", "Name and address of the manufacturer", _maker),
    ("(c)", "Model number", _model),
    ("(c)", "Low-end and high-end configuration of the family", _ends),
    ("(d)", "Year of manufacture", _year),
    ("(e)", "Efficiency of the supplies", _efficiency),
    ("(f)", "Power factor of the supplies at half load", _power_factor),
    ("(g)", "Rated output of a supply", _fact("regulation.rated_output")),
    ("(h)", "Idle state power", _idle),
    ("(i)", "Components that add to the idle allowance", _allowed),
    ("(j)", "Maximum power", _fact("regulation.maximum")),
    ("(k)", "Operating condition class", _fact("conditions.operating_class")),
    ("(l)", "Idle power at the upper temperature of the class", _fact("regulation.idle_warm")),
    ("(m)", "Active state efficiency and performance", _active),
    ("(n)", "How data is deleted securely", _deletion),
    ("(o)", "Chassis that blades go with", _chassis),
    ("(p)", "Configurations of the family covered", _configurations),
)
OWN_GAPS: Final = frozenset({"(a)", "(g)", "(o)"})
"""Items whose absence `regulation.missing` does not tell; the ends of (c) it does not know."""


def allowances(case: Case) -> Table | None:
    """How the limit of idle power comes about, and what is left below it."""
    keys = (
        ("Base allowance", "regulation.idle_base"),
        *((f"For {label}", key) for label, key in ALLOWANCES),
        ("Limit of idle power", "regulation.idle_limit"),
        ("Idle power, measured", "regulation.idle"),
        ("Idle power below its limit", "regulation.idle_room"),
    )
    rows: list[tuple[Cell, ...]] = [
        (words(label), cell_of(case.facts, key))
        for label, key in keys
        if case.facts.value(key) is not None
    ]
    from_ = (head("Allowance"), column("Value"))
    return table("Idle power and its limit", from_, rows, "allowances-table")
