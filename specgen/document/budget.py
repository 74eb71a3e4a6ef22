"""How much one run of a template may use: steps and characters, counted while it runs.

Steps are passes of loops, calls, and what the blocks that are called make: drawing a picture takes
as long as many passes and as much memory as many words. Nothing is measured in seconds, so that a
template ends alike on every computer.
"""

from contextvars import ContextVar
from dataclasses import field
from typing import Final

from specgen.document.maker import AuthorError
from specgen.document.tree import BLOCKS, INLINES, Figure
from specgen.document.tree_image import Image
from specgen.frozen import state
from specgen.messages import say

STEPS: Final = 200_000
"""Those of one document; the biggest of ours needs some six thousand."""
BLOCK: Final = 40
"""Steps of a block that makes nothing."""
SIZE_OF_A_STEP: Final = 100
"""Characters, or so much of everything else, that a block makes in a step."""
CHARACTERS: Final = 4_000_000
"""Characters of Markdown that one template may yield."""


@state
class Budget:
    """What one run may still use."""

    steps: int = field(default=STEPS)
    characters: int = field(default=CHARACTERS)

    def step(self, times: int = 1) -> None:
        """One pass of a loop or one call, or so many."""
        self.steps -= times
        if self.steps < 0:
            raise AuthorError(
                say(
                    "the template runs on past {count} steps: loop passes, calls, what blocks make",
                    count=STEPS,
                ),
                say("loop over less, or make several documents of it"),
            )

    def write(self, size: int) -> None:
        """So many characters of output."""
        self.characters -= size
        if self.characters < 0:
            message = say("the template writes more than {count} characters", count=CHARACTERS)
            raise AuthorError(message)


ELEMENT: Final = 400
"""Of a drawing: three times the 126 characters that one takes on average, written out."""

PIXELS: Final = 100_000
"""Of a picture, which takes as long to be made smaller as some thousand steps."""

BUDGET: ContextVar[Budget] = ContextVar("BUDGET")
"""The budget of the template that runs."""


def charge(steps: int = 1) -> None:
    """Charges a maker's work to the template that runs, where one does."""
    budget = BUDGET.get(None)
    if budget is not None:
        budget.step(steps)


def charge_for(made: object) -> None:
    """Charges what a block has made."""
    if BUDGET.get(None) is not None:
        charge(BLOCK + size_of(made) // SIZE_OF_A_STEP)


def size_of(made: object) -> int:
    """About how many bytes a piece of a document takes in memory; those of a drawing count more,
    since it takes longer to make them."""
    if isinstance(made, str):
        return len(made)
    if isinstance(made, (tuple, list)):
        return 8 * len(made) + sum(map(size_of, made))
    if isinstance(made, Figure):
        return ELEMENT * sum(1 for _ in made.picture.elements()) if made.picture else 0
    if isinstance(made, Image):
        return PIXELS + size_of(made.below)
    if isinstance(made, _PIECES):
        return 64 + sum(size_of(getattr(made, name)) for name in made.__dataclass_fields__)
    return 64


_PIECES: Final = (*BLOCKS, *INLINES)
