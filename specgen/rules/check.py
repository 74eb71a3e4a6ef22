"""What a check is: a function from a resolved build and its facts to findings."""

from collections.abc import Callable, Iterator
from typing import Protocol

from specgen.assembly import Assembly
from specgen.diagnostics import Finding


class Facts(Protocol):
    """What checks ask of the ledger: the value of a fact, by its key."""

    def value(self, key: str) -> object:
        """The value, None where the fact is not declared or cannot be calculated."""


Check = Callable[[Assembly, Facts], Iterator[Finding]]
