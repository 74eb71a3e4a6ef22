"""How codes of each weight are made."""

from specgen.diagnostics.finding import Code, Severity


def error(number: str, title: str) -> Code:
    """What must be mended: a sheet would be wrong, or a system would not work."""
    return Code(number, title, Severity.ERROR)


def decided(number: str, title: str) -> Code:
    """An error that a build may accept with a reason."""
    return Code(number, title, Severity.ERROR, allowable=True)


def warning(number: str, title: str) -> Code:
    """What works, and somebody should decide."""
    return Code(number, title, Severity.WARNING)


def note(number: str, title: str) -> Code:
    """What is worth knowing."""
    return Code(number, title, Severity.NOTE)
