"""One part: what it is, what it brings and needs, where it is used."""

from dataclasses import replace

from specgen.document.blocks.cells import (
    NONE,
    column,
    head,
    names_cell,
    number,
    spoken,
    table,
    value_cell,
)
from specgen.document.blocks.options import need_cell
from specgen.document.case import PartCase
from specgen.document.tree import Cell, FactList, Table, figure, link, literal, words
from specgen.facts import Fact
from specgen.facts.declared import declared_fact, declared_facts
from specgen.model import HasEthernet, PowerSupply, expand
from specgen.quantity import Ratio


def identity(case: PartCase) -> FactList:
    """Kind, maker, order number, status, source."""
    part = case.part
    entries: list[tuple[str, Cell]] = [("Kind", words(part.title))]
    if part.maker:
        entries.append(("Maker", words(part.maker)))
    if part.number:
        entries.append(("Order number", literal(part.number)))
    status = part.life.status.replace("-", " ")
    since = f" since {part.life.since.isoformat()}" if part.life.since else ""
    entries.append(("Status", words(status + since)))
    successor = case.definitions.parts.get(part.life.replaced_by or "")
    if successor is not None:
        entries.append(("Replaced by", link(successor.name, f"part:{successor.id}")))
    page = f"page {part.source.page}" if part.source.page else ""
    source = ", ".join(filter(None, (part.source.document, page)))
    dated = f" ({part.source.date.isoformat()})" if part.source.date else ""
    entries.append(("Source", words(source + dated)))
    return FactList("The part", tuple(entries))


def data(case: PartCase) -> FactList:
    """Every figure its definition states."""
    facts = declared_facts(case.part)
    return FactList("Data", tuple((fact.label, _spoken(case, fact)) for fact in facts))


def _spoken(case: PartCase, fact: Fact) -> Cell:
    """The value, short words printed as the project has them."""
    if isinstance(fact.value, str):
        fact = replace(fact, value=spoken(case.definitions.term(fact.value)))
    return value_cell(fact)


def brings(case: PartCase) -> Table | None:
    """Positions and ports that come with it."""
    part = case.part
    rows: list[tuple[Cell, ...]] = []
    for at, position in enumerate(part.brings.positions):
        takes = ", ".join(case.definitions.titles(position.takes))
        fact = declared_fact(part, ("brings", "positions", at, "lanes"), position.lanes)
        lanes = value_cell(fact, NONE)
        names = names_cell(expand(position.name))
        rows.append((names, words(takes), lanes, words("position")))
    for at, port in enumerate(part.brings.ports):
        path = ("brings", "ports", at)
        told = ", ".join(f"{spoken(name)} {number}" for name, number in port.carries.items())
        carries = value_cell(declared_fact(part, (*path, "carries"), told))
        lanes = value_cell(declared_fact(part, (*path, "lanes"), port.lanes))
        rows.append((names_cell(expand(port.name)), carries, lanes, words("port")))
    columns = (head("Name"), column("Takes or carries"), number("Lanes"), column("What"))
    return table("What it brings", columns, rows, "brings-table")


def needs(case: PartCase) -> Table | None:
    """What must be there with it, and what it takes away."""
    rows: list[tuple[Cell, ...]] = [
        (need_cell(case.definitions, need, f"{case.part.id}.needs"), words(need.because or NONE))
        for need in case.part.needs
    ]
    if case.part.blocks:
        names = tuple(name for text in case.part.blocks for name in expand(text))
        rows.append((names_cell(names), words("taken away by this part")))
    return table("What it needs", (head("Needs"), column("Why")), rows, "needs-table")


def tables(case: PartCase) -> tuple[Table, ...]:
    """Tables that only some kinds have: Ethernet ports, outputs, efficiency."""
    return tuple(filter(None, (_ethernet(case), _outputs(case), _curve(case))))


def _ethernet(case: PartCase) -> Table | None:
    part = case.part
    if not isinstance(part, HasEthernet):
        return None
    rows: list[tuple[Cell, ...]] = [
        (
            names_cell(expand(port.name)),
            value_cell(declared_fact(part, ("ethernet", at, "speed"), port.speed)),
            words(port.connector.upper()),
            words(port.medium),
            words("management" if port.management else "data, shared" if port.shared else "data"),
        )
        for at, port in enumerate(part.ethernet)
    ]
    columns = (
        head("Port"),
        number("Speed"),
        column("Connector"),
        column("Medium"),
        column("Use"),
    )
    return table("Ethernet ports", columns, rows, "ports-table")


def _outputs(case: PartCase) -> Table | None:
    part = case.part
    if not isinstance(part, PowerSupply):
        return None
    rows: list[tuple[Cell, ...]] = [
        (
            value_cell(declared_fact(part, ("outputs", at, "from"), entry.from_)),
            value_cell(declared_fact(part, ("outputs", at, "to"), entry.to)),
            value_cell(declared_fact(part, ("outputs", at, "output"), entry.output)),
        )
        for at, entry in enumerate(part.outputs)
    ]
    columns = (head("Line voltage from"), number("To"), number("Output"))
    return table("Output by line voltage", columns, rows, "outputs-table")


def _curve(case: PartCase) -> Table | None:
    part = case.part
    if not isinstance(part, PowerSupply):
        return None
    rows: list[tuple[Cell, ...]] = []
    for at, entry in enumerate(part.curve):
        shares = (("load", entry.load), ("efficiency", entry.efficiency))
        cells = (
            value_cell(declared_fact(part, ("curve", at, name), Ratio.of_fraction(share)))
            for name, share in shares
        )
        factor = declared_fact(part, ("curve", at, "power_factor"), entry.power_factor)
        rows.append((*cells, value_cell(factor, NONE)))
    columns = (head("Share of rated load"), number("Efficiency"), number("Power factor"))
    return table("Efficiency", columns, rows, "curve-table")


def used(case: PartCase) -> Table | None:
    """The builds that hold it."""
    rows: list[tuple[Cell, ...]] = []
    for name, places in case.uses:
        build = case.definitions.builds[name]
        platform = case.definitions.platforms[build.platform]
        rows.append(
            (
                link(build.name, f"build:{name}"),
                link(platform.name, f"platform:{platform.id}"),
                figure(str(len(places)), "", f"parts.{case.part.id}"),
                names_cell(places),
            )
        )
    columns = (head("Build"), column("Platform"), number("Quantity"), column("Positions"))
    return table("Where it is used", columns, rows, "used-table")
