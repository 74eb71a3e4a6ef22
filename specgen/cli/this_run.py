"""What commands, and what is told of a fault, know of the run that they are of."""

from typing import Any


class Run:
    """What holds for one run: whether to print where a fault is, and what was found until then."""

    def __init__(self) -> None:
        self.debug = False
        self.found: Any = None
        """The `Survey` of the project, once there is one (see `terminal.remembered`)."""
        self.more: list[Any] = []
        """Findings that have come since."""
