"""Facts as plain data, for JSON."""

from specgen.facts.fact import Declared, Fact, Value
from specgen.quantity import Quantity, plain, show


def value_data(value: Value) -> object:
    """A value as JSON holds it: a figure with its unit is text that reads back exactly."""
    if value is None or isinstance(value, int | str):
        return value
    if isinstance(value, tuple):
        return list(value)
    return plain(value) if isinstance(value, Quantity) else str(value)


def fact_data(fact: Fact) -> dict[str, object]:
    """A fact with the first level of its pedigree; deeper levels are facts of their own."""
    return {
        "key": fact.key,
        "label": fact.label,
        "subject": fact.subject,
        "value": value_data(fact.value),
        "shown": show(fact.value),
        "basis": str(fact.basis),
        "formula": fact.formula,
        "source": fact.source,
        "inputs": [_input(entry) for entry in fact.inputs],
    }


def _input(entry: Fact | Declared) -> dict[str, object]:
    if isinstance(entry, Fact):
        return {"fact": entry.key}
    span = entry.span
    data: dict[str, object] = {"label": entry.label, "value": value_data(entry.value)}
    if entry.subject:
        data["subject"] = entry.subject
    if span.file:
        data["file"], data["line"] = span.file, span.line
    if entry.source is not None:
        data["document"] = entry.source.document
    return data
