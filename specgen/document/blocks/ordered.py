"""The list of what to order: quantities, order numbers, positions, status, weight."""

from collections.abc import Iterator
from dataclasses import replace

from specgen.document.blocks import own_kinds
from specgen.document.case import Case
from specgen.document.cells.cell_makers import NONE, WEIGHT, part_cell, table_of, value_cell
from specgen.document.cells.rounded_rows import ROUNDED, adds_up, with_sentence
from specgen.document.data import parts_list
from specgen.document.data.parts_list import SOLDERED
from specgen.document.data.plain_values import LineData, PartsList
from specgen.document.several import Order
from specgen.document.tree import Cell, Datum, FactList, Strong, Table, link, literal, words
from specgen.facts.derived import derived
from specgen.facts.terms import STATUS, worded
from specgen.messages import Message, Words, listed, say
from specgen.model import places
from specgen.quantity import Mass


def parts(order: Order) -> Table | None:
    """A line a part, the platform first; positions say of which build where there are several."""
    made = parts_list(order.lines)
    several = len(order.lines) > 1
    weighed = any(line.kilograms is not None for line in made.lines)
    detailed = any(line.details for line in made.lines)
    found = table_of(
        ((line,) for line in made.lines),
        say("What to order"),
        "parts-table",
        (say("Part"), _name),
        (say("Kind"), lambda line: _kind(order, line)),
        (say("Order number"), lambda line: literal(line.number or "")),
        (say("Quantity"), lambda line: (Datum(line.quantity, f"parts.{line.id}"),)),
        (say("Positions"), lambda line: _positions(order, line, several)),
        (say("Status"), lambda line: worded(STATUS, line.status)),
        (WEIGHT, _mass) if weighed else None,
        (say("Details"), lambda line: _details(order, line)) if detailed else None,
    )
    if found is None or not weighed:
        return found
    sums = _weights(made, len(found.columns) - detailed, detailed)
    weights = [line.kilograms for line in made.lines] + [made.kilograms_soldered]
    added = adds_up((Mass.of(each) for each in weights if each), Mass.of(made.kilograms))
    note = found.note if added else with_sentence(found.note, ROUNDED)
    return replace(found, rows=(*found.rows, *sums), note=note)


def of_one(case: Case) -> Table | None:
    """The list for one build; nothing for a bare platform, which is no order."""
    return None if case.build is None else parts(Order.of_one(case))


def totals_of_one(case: Case) -> FactList:
    """The sums for one build; nothing for a bare platform."""
    return FactList("", ()) if case.build is None else totals(Order.of_one(case))


def watched_of_one(case: Case) -> Table | None:
    """What to watch in the order of one build; nothing for a bare platform."""
    return None if case.build is None else watched(Order.of_one(case))


def _kind(order: Order, line: LineData) -> Words:
    part = order.definitions.parts.get(line.id)
    return say("Platform") if part is None else part.named()


def _name(line: LineData) -> Cell:
    return link(line.name, f"{'platform' if line.kind == 'Platform' else 'part'}:{line.id}")


def _details(order: Order, line: LineData) -> Cell:
    return (
        own_kinds.details(order.definitions, order.definitions.parts[line.id])
        if line.details
        else ()
    )


def _positions(order: Order, line: LineData, several: bool) -> Cell:
    if not several:
        return words(places(line.uses[0].positions))
    names = {case.build.id: case.build.name for case, _ in order.lines if case.build}
    uses = [
        say("{name}: {places}", name=names[use.build], places=places(use.positions))
        if use.positions
        else names[use.build]
        for use in line.uses
    ]
    return words(listed(uses, "semicolon"))


def _mass(line: LineData) -> Cell:
    if line.kilograms is None:
        return words(NONE)
    mass = Mass.of(line.kilograms)
    key, formula = f"parts.{line.id}.mass", say("quantity times the weight of one")
    return value_cell(derived(key, WEIGHT, mass, formula))


def _weights(made: PartsList, columns: int, detailed: bool) -> Iterator[tuple[Cell, ...]]:
    """The last rows: what is soldered on and stands in no line, and the weight of everything."""
    soldered, after = made.kilograms_soldered, ((),) if detailed else ()
    blank: tuple[Cell, ...] = ((),) * (columns - 2)
    summed = say("sum of weights")
    if soldered:
        mass = derived("parts.soldered.mass", WEIGHT, Mass.of(soldered), summed)
        yield (words(SOLDERED), *blank, value_cell(mass), *after)
    mass = derived("parts.mass", WEIGHT, Mass.of(made.kilograms), summed)
    yield ((Strong(words(say("Sum"))),), *blank, (Strong(value_cell(mass)),), *after)


def totals(order: Order) -> FactList:
    """How many there are, what they weigh, what is to be watched."""
    made = parts_list(order.lines)
    pieces = sum(line.quantity for line in made.lines)
    inactive = sum(line.status != "active" for line in made.lines)
    weight = Mass.of(made.kilograms)
    values: tuple[tuple[str, Message, int | Mass], ...] = (
        ("lines", say("Lines"), len(made.lines)),
        ("pieces", say("Pieces"), pieces),
        ("mass_of_what_is_weighed", say("Weight of everything that declares one"), weight),
        ("lines_without_a_mass", say("Lines without a weight"), made.without_mass),
        ("lines_not_active", say("Parts no longer orderable"), inactive),
    )
    entries = ((label, (Datum(value, f"parts.{key}"),)) for key, label, value in values)
    return FactList(say("The list"), tuple(entries))


def watched(order: Order) -> Table | None:
    """Parts that are not simply to be had: planned, in its last-time buy, discontinued."""
    known = order.definitions.parts

    def heir(line: LineData) -> Cell | Words:
        found = known.get(line.replaced_by or "")
        return NONE if found is None else part_cell(found)

    return table_of(
        ((line,) for line in parts_list(order.lines).lines if line.status != "active"),
        say("To be watched"),
        "watched-table",
        (say("Part"), _name),
        (say("Status"), lambda line: worded(STATUS, line.status)),
        (say("Replaced by"), heir),
    )
