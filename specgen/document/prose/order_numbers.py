"""Order numbers typed into texts that nothing has.

What an order number looks like the definitions tell: letters stay, each digit may be another. A
look that few of them share is no rule of the publisher, and nothing is held against it.
"""

import re
from collections import Counter
from collections.abc import Iterator
from functools import cached_property
from typing import Final

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.document.prose.passages import Passage
from specgen.messages import say
from specgen.model import Definitions

SHARED: Final = 4
"""Order numbers that look alike, at least, for a look to be one of order numbers."""
_DIGIT: Final = re.compile(r"\d")
_WORD: Final = re.compile(r"(?<![\w./-])[A-Z][A-Z0-9]*(?:[-.][A-Z0-9]+)+(?![\w-])")


class OrderNumbers:
    """All order numbers of a project, those that parts had before with them."""

    def __init__(self, definitions: Definitions) -> None:
        self._definitions = definitions

    @cached_property
    def known(self) -> frozenset[str]:
        return frozenset(map(str, _numbers(self._definitions)))

    @cached_property
    def _looks(self) -> frozenset[str]:
        looks = Counter(map(_look, self.known))
        return frozenset(each for each, count in looks.items() if count >= SHARED and "0" in each)

    def unknown(self, passage: Passage) -> Iterator[Finding]:
        """SG526 for each that nothing has."""
        for match in _WORD.finditer(passage.flat):
            if match[0] in self.known or _look(match[0]) not in self._looks:
                continue
            yield Finding(
                codes.UNKNOWN_NUMBER,
                say("nothing has the order number `{number}`", number=match[0]),
                Label(passage.span(*match.span())),
                help=question(did_you_mean(match[0], self.known)),
            )


def _look(number: str) -> str:
    return _DIGIT.sub("0", number)


def _numbers(definitions: Definitions) -> Iterator[object]:
    for part in definitions.parts.values():
        yield from (part.number, *(each.number for each in part.earlier))
    yield from (each.number for each in definitions.platforms.values())
    yield from (each.number for each in definitions.builds.values())
