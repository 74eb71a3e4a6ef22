"""A call of a maker as a template writes it."""

from collections.abc import Mapping

from specgen.frozen import frozen


@frozen
class Call:
    """A call of a maker; `none` stands for what only a run can tell."""

    line: int
    name: str
    args: tuple[object, ...]
    kwargs: Mapping[str, object]
