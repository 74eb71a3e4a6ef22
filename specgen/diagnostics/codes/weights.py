"""How codes of each weight are made."""

from specgen.diagnostics.finding import Code, Severity


def error(number: str, title: str) -> Code:
    return Code(number, title, Severity.ERROR)


def decided(number: str, title: str) -> Code:
    """An error that a build may accept with a reason."""
    return Code(number, title, Severity.ERROR, allowable=True)


def warning(number: str, title: str) -> Code:
    return Code(number, title, Severity.WARNING)


def note(number: str, title: str) -> Code:
    return Code(number, title, Severity.NOTE)
