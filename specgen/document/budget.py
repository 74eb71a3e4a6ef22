"""How much one run of a template may use: steps and characters, counted while it runs."""

from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import Final

from specgen.document.maker import AuthorError

STEPS: Final = 200_000
"""Passes of loops and calls in one document; the biggest of ours need a few hundred."""
CHARACTERS: Final = 4_000_000
"""Characters of Markdown that one template may yield."""


@dataclass(slots=True)
class Budget:
    """What one run may still use."""

    steps: int = field(default=STEPS)
    characters: int = field(default=CHARACTERS)

    def step(self, times: int = 1) -> None:
        """One pass of a loop or one call, or so many."""
        self.steps -= times
        if self.steps < 0:
            raise AuthorError(f"the template runs on past {STEPS} loop passes and calls")

    def write(self, size: int) -> None:
        """So many characters of output."""
        self.characters -= size
        if self.characters < 0:
            raise AuthorError(f"the template writes more than {CHARACTERS} characters")


BUDGET: ContextVar[Budget] = ContextVar("BUDGET")
"""The budget of the template that runs."""


def charge(steps: int = 1) -> None:
    """Charges a maker's work to the template that runs, where one does."""
    budget = BUDGET.get(None)
    if budget is not None:
        budget.step(steps)
