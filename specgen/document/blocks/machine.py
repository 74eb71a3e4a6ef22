"""What a machine is at a glance: key figures, conditions, parts, built-in things, notes."""

from specgen.diagnostics import Severity, did_you_mean, question
from specgen.document.blocks.cells import (
    column,
    head,
    joined,
    number,
    phrase,
    short_head,
    table,
    value_cell,
)
from specgen.document.case import Case
from specgen.document.maker import AuthorError
from specgen.document.tree import Cell, FactList, Figure, Table, literal, words
from specgen.facts.declared import declared_facts
from specgen.messages import Capital
from specgen.quantity import Magnitude

GLANCE: tuple[tuple[str, str], ...] = (
    ("Processors", "{processors.count} × {processors.models}"),
    ("Cores", "{processors.cores}, {processors.threads} threads"),
    ("Memory", "{memory.capacity} at {memory.speed}"),
    ("Memory the system sees", "{memory.visible}, {memory.mode}"),
    ("Memory bandwidth", "{memory.bandwidth} peak"),
    ("Drives", "{storage.drives}, {storage.raw} raw"),
    ("Drive bays", "{storage.bays}, {storage.bays_filled} filled"),
    ("In volumes", "{storage.usable} usable"),
    ("Card slots", "{expansion.slots}, {expansion.slots_used} in use"),
    ("Ethernet", "{network.ports} ports, {network.line_rate} in all"),
    ("Power", "{power.typical} typical, {power.maximum} at most"),
    ("Mass", "{mechanics.mass}"),
    ("Size", "{mechanics.rack_units} U, {mechanics.depth} deep"),
)
"""The key figures: each line is words with facts in braces."""
SIZE = ("rack_units", "width", "height", "depth", "mass")


def _nothing(value: object) -> bool:
    return (value.amount if isinstance(value, Magnitude) else value) == 0


def glance(case: Case) -> FactList:
    """The key figures of a build; a line without a value, or of nothing at all, is left out."""
    lines = (
        (label, phrase(case.facts, pattern))
        for label, pattern in GLANCE
        if not _nothing(case.facts.value(pattern[1 : pattern.index("}")]))
    )
    return FactList("At a glance", tuple((label, cell) for label, cell in lines if cell))


def size(case: Case) -> FactList:
    """Rack units, outer measures, mass."""
    facts = [case.facts[f"mechanics.{name}"] for name in SIZE]
    return FactList("Size and mass", tuple((fact.label, value_cell(fact)) for fact in facts))


def conditions(case: Case) -> FactList:
    """The circumstances the figures hold for."""
    facts = [case.facts[key] for key in case.facts if key.startswith("conditions.")]
    known = [fact for fact in facts if fact.value is not None]
    return FactList("Conditions", tuple((fact.label, value_cell(fact)) for fact in known))


def figures(case: Case, *keys: str) -> FactList:
    """Facts by key, or all of a subsystem where a key ends in a dot: `facts("power.")`."""
    entries = []
    for key in keys:
        found = (
            [case.facts[name] for name in case.facts if name.startswith(key)]
            if key.endswith(".")
            else [case.facts[key]]
            if key in case.facts
            else []
        )
        if not found:
            hint = question(did_you_mean(key, tuple(case.facts)))
            raise AuthorError(f"no figure is named `{key}`", hint, word=key)
        for fact in found:
            label = f"{fact.subject}: {fact.label}" if fact.subject else fact.label
            entries.append((label, value_cell(fact)))
    return FactList("", tuple(entries))


def fixtures(case: Case) -> Table | None:
    """Controls, indicators, connectors and labels that are built in."""
    rows: list[tuple[Cell, ...]] = [
        (
            words(fixture.name),
            words(fixture.area),
            words(fixture.what),
            (Figure(str(fixture.count), "", f"{case.platform.id}.fixtures"),),
            words(fixture.note or ""),
        )
        for fixture in case.platform.fixtures
    ]
    columns = (
        head("Name"),
        column("Where"),
        column("What"),
        number("Number"),
        column("Note"),
    )
    return table("Controls, connectors and labels", columns, rows, "fixtures-table")


def notes(case: Case) -> Table | None:
    """Warnings and notes that go with the machine."""
    rows: list[tuple[Cell, ...]] = [
        (
            literal(finding.code.id),
            (Capital(finding.message),),
            joined(map(words, finding.notes), " "),
        )
        for finding in case.findings
        if finding.severity is not Severity.ERROR
    ]
    columns = (short_head("Code"), column("Note"), column("Why"))
    return table("Review notes", columns, rows, "notes-table")


def platform_figures(case: Case) -> FactList:
    """What the platform itself declares."""
    facts = declared_facts(case.platform)
    return FactList("Platform", tuple((fact.label, value_cell(fact)) for fact in facts))
