"""One part: what it is, what it brings and needs, where it is used."""

from decimal import Decimal

from specgen.document.blocks.options import need_cell
from specgen.document.blocks.own_kinds import field_cell
from specgen.document.case import PartCase
from specgen.document.cells.cell_makers import (
    ACCEPTS,
    NONE,
    heads,
    names_cell,
    part_cell,
    stated_cell,
    table,
    table_of,
    term_name,
    value_cell,
)
from specgen.document.tree import Cell, Datum, FactList, Table, link, literal, words
from specgen.facts.declared import attributes_of, declared_facts
from specgen.facts.terms import MEDIUM, STATUS, worded
from specgen.fitness.curves import declared_curves
from specgen.messages import Words, listed, say
from specgen.model import (
    EfficiencyPoint,
    EthernetPort,
    HasEthernet,
    Part,
    PowerSupply,
    Source,
    SupplyOutput,
    expand,
    places,
)
from specgen.model.labels import label_of_field
from specgen.model.pedigree import FieldPath
from specgen.quantity import Ratio


def identity(case: PartCase) -> FactList:
    """Kind, maker, order number, status, source."""
    part, life, on_the_day = case.part, case.part.life, case.definitions.status(case.part)
    status = worded(STATUS, on_the_day)
    if life.since and on_the_day == life.status:
        status = say("{status} since {day}", status=status, day=life.since)
    planned = life.introduced is not None and on_the_day == "planned"
    successor = case.definitions.parts.get(life.replaced_by or "")
    entries: tuple[tuple[Words, Cell], ...] = (
        (say("Kind"), words(part.named())),
        (say("Maker"), words(part.maker or "")),
        (say("Order number"), literal(part.number or "")),
        (say("Earlier order numbers"), words(_earlier(case.part))),
        (say("Status"), words(status)),
        (say("Orderable"), words(say("from {day}", day=life.introduced) if planned else "")),
        (
            say("Last-time buy"),
            words(say("until {day}", day=life.last_time_buy) if life.last_time_buy else ""),
        ),
        (say("Replaced by"), () if successor is None else part_cell(successor)),
        (say("Source"), words(source_words(part.source))),
    )
    return FactList(say("The part"), tuple(entry for entry in entries if entry[1]))


def _earlier(part: Part) -> Words:
    """The numbers that it had before, each with the last day on which it had it."""
    named = [each for each in part.earlier if each.number]
    said = [
        say("{number} until {day}", number=each.number, day=each.until)
        if each.until
        else each.number
        for each in named
    ]
    return listed(said) if said else ""


def source_words(source: Source) -> Words:
    """A source as a reader finds it: document, page, date."""
    named: Words = source.document
    if source.page:
        named = say("{document}, page {page}", document=named, page=source.page)
    return say("{source} ({day})", source=named, day=source.date) if source.date else named


def data(case: PartCase) -> FactList:
    """Every value its definition states."""
    facts = declared_facts(case.part)
    entries = [(fact.label, field_cell(case.definitions, fact)) for fact in facts]
    entries += [(fact.label, value_cell(fact)) for fact in attributes_of(case.part)]
    return FactList(say("Data"), tuple(entries))


def brings(case: PartCase) -> Table | None:
    """Positions and ports that come with it."""
    part = case.part
    rows: list[tuple[Cell, ...]] = []
    for at, position in enumerate(part.brings.positions):
        takes = listed(case.definitions.titles(position.takes))
        lanes = stated_cell(part, position.lanes, "brings", "positions", at, "lanes", empty=NONE)
        names = names_cell(expand(position.name.removeprefix(".")))
        rows.append((names, words(takes), lanes, words(say("position"))))
    for at, port in enumerate(part.brings.ports):
        carried = ", ".join(f"{term_name(name)} {number}" for name, number in port.carries.items())
        carries = stated_cell(part, carried, "brings", "ports", at, "carries")
        lanes = stated_cell(part, port.lanes, "brings", "ports", at, "lanes")
        rows.append((names_cell(expand(port.name)), carries, lanes, words(say("port"))))
    columns = heads(say("Name"), ACCEPTS, say("Lanes"), say("What"))
    return table(say("Provides"), columns, rows, "brings-table")


def needs(case: PartCase) -> Table | None:
    """What must be there with it, and what it takes away."""
    rows: list[tuple[Cell, ...]] = [
        (
            need_cell(case.definitions, need, f"{case.part.id}.needs.{at}.count"),
            words(need.because or NONE),
        )
        for at, need in enumerate(case.part.needs)
    ]
    for index, position in enumerate(case.part.brings.positions):
        for at, need in enumerate(position.needs):
            key = f"{case.part.id}.brings.positions.{index}.needs.{at}.count"
            cell = need_cell(case.definitions, need, key)
            names = places(expand(position.name.removeprefix(".")))
            what = say("{position} filled: {need}", position=names, need=cell)
            rows.append(((what,), words(need.because or NONE)))
    if case.part.blocks:
        taken = tuple(name for text in case.part.blocks for name in expand(text))
        rows.append((names_cell(taken), words(say("taken away by this part"))))
    return table(say("What it needs"), heads(say("Needs"), say("Why")), rows, "needs-table")


def tables(case: PartCase) -> tuple[Table, ...]:
    """Tables that only some kinds have: Ethernet ports, outputs, efficiency."""
    return tuple(filter(None, (_ethernet(case), _outputs(case), _curve(case))))


def _ethernet(case: PartCase) -> Table | None:
    part = case.part
    if not isinstance(part, HasEthernet):
        return None
    return table_of(
        enumerate(part.ethernet),
        say("Ethernet ports"),
        "ports-table",
        (say("Port"), lambda _, port: names_cell(expand(port.name))),
        (
            label_of_field(EthernetPort, "speed"),
            lambda at, port: stated_cell(part, port.speed, "ethernet", at, "speed"),
        ),
        (say("Connector"), lambda _, port: port.connector.upper()),
        (label_of_field(EthernetPort, "medium"), lambda _, port: worded(MEDIUM, port.medium)),
        (say("Use"), lambda _, port: _use(port)),
    )


def _use(port: EthernetPort) -> Words:
    if port.management:
        return say("management")
    return say("data, shared") if port.shared else say("data")


def _outputs(case: PartCase) -> Table | None:
    part = case.part
    if not isinstance(part, PowerSupply):
        return None
    return table_of(
        enumerate(part.outputs),
        say("Output by line voltage"),
        "outputs-table",
        (say("PSU"), lambda _, entry: entry.supplied.upper()),
        (
            say("Line voltage from"),
            lambda at, each: stated_cell(part, each.from_, "outputs", at, "from"),
        ),
        (say("To"), lambda at, each: stated_cell(part, each.to, "outputs", at, "to")),
        (say("Output"), lambda at, each: stated_cell(part, each.output, "outputs", at, "output")),
    )


def _curve(case: PartCase) -> Table | None:
    part = case.part
    if not isinstance(part, PowerSupply):
        return None

    def at(path: FieldPath, name: str, value: Ratio | Decimal | None) -> Cell:
        return stated_cell(part, value, *path, name, empty=NONE)

    def held(home: SupplyOutput | None) -> Cell:
        at = next((at for at, entry in enumerate(part.outputs) if entry is home), None)
        if home is None or at is None:
            return words(NONE)
        ends = {"least": (home.from_, "from"), "most": (home.to, "to")}
        cells = {
            name: stated_cell(part, end, "outputs", at, field)
            for name, (end, field) in ends.items()
        }
        return (say("{least} to {most}", **cells),)

    curves = tuple(declared_curves(part))
    share = Ratio.of_fraction
    return table_of(
        (
            ((*path, number), each, home)
            for points, path, home in curves
            for number, each in enumerate(points)
        ),
        say("Efficiency"),
        "curve-table",
        (say("Line voltage"), lambda _, __, home: held(home)) if len(curves) > 1 else None,
        (say("Share of rated load"), lambda path, each, _: at(path, "load", share(each.load))),
        (
            label_of_field(EfficiencyPoint, "efficiency"),
            lambda path, each, _: at(path, "efficiency", share(each.efficiency)),
        ),
        (
            label_of_field(EfficiencyPoint, "power_factor"),
            lambda path, each, _: at(path, "power_factor", each.power_factor),
        ),
    )


def used(case: PartCase) -> Table | None:
    """The builds that hold it."""
    known = case.definitions
    uses = ((known.builds[name], places) for name, places in case.uses)
    return table_of(
        ((build, known.platforms[build.platform], places) for build, places in uses),
        say("Where it is used"),
        "used-table",
        (say("Build"), lambda build, *_: link(build.name, f"build:{build.id}")),
        (say("Platform"), lambda _, home, __: link(home.name, f"platform:{home.id}")),
        (say("Quantity"), lambda *each: (Datum(len(each[2]), f"parts.{case.part.id}"),)),
        (say("Positions"), lambda *each: names_cell(each[2])),
    )
