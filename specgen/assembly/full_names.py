"""Names of positions in one system."""

from specgen.model import shifted


def full_name(name: str, host: str | None, offset: int) -> str:
    """The name in the whole system: `.J0` is its host's, other names are raised by `offset`."""
    if not name.startswith("."):
        return shifted(name, offset)
    return (host or "") if name == "." else f"{host}{name}"
