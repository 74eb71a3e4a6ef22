"""What can set the maximum inlet temperature of a platform: its class, parts, rules."""

from specgen.document.blocks.declared_rules import rule_words
from specgen.document.case import Case
from specgen.document.cells.cell_makers import NONE, cell_of, heads, part_cell, table, value_cell
from specgen.document.tree import Cell, Table, words
from specgen.facts.arising import can_break
from specgen.facts.declared import declared_fact
from specgen.facts.inlet_rules import rules_on_inlet
from specgen.grouped import grouped
from specgen.limits.reachable import holdable, possible
from specgen.messages import listed, say
from specgen.model import Part, natural
from specgen.quantity import Temperature


def inlet_limits(case: Case) -> Table | None:
    """A row for the class, for the parts of each lower limit, for each rule that reads the inlet
    and that a system of the platform can break.

    The sheet of a build says which of them binds there.
    """
    limit = case.facts.value("cooling.class_limit")
    if not isinstance(limit, Temperature):
        return None
    name = case.platform.operating_class
    rows: list[tuple[Cell, ...]] = [
        (words(say("class {name}", name=name)), cell_of(case.facts, "cooling.class_limit"))
    ]
    found = possible(case.assembly)
    known = (case.definitions.parts[part] for part in found)
    lower = ((part.inlet_limit, part) for part in known if _below(part, limit))
    for parts in dict(sorted(grouped(lower).items())).values():
        parts.sort(key=lambda part: natural(part.name))
        stated = declared_fact(parts[0], ("inlet_limit",), parts[0].inlet_limit)
        rows.append(((listed(part_cell(part) for part in parts),), value_cell(stated)))
    fitted = holdable(case.assembly)
    for rule in rules_on_inlet(case.definitions):
        if rule.concerns(case.assembly) and can_break(rule, case.assembly, fitted):
            said = rule_words(case.definitions, rule)
            text = say("rule {code}: {words}", code=rule.code.id, words=said)
            rows.append((words(text), words(NONE)))
    columns = heads(say("Set by"), say("Allows up to"))
    title = say("What sets the maximum inlet temperature")
    return table(title, columns, rows, "inlet-table")


def _below(part: Part, limit: Temperature) -> bool:
    return part.inlet_limit is not None and part.inlet_limit < limit
