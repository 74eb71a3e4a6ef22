"""Which facts can be impossible: numbers with a formula of their own, and answers of yes or no."""

import re
from collections.abc import Iterator
from typing import Final

from specgen.expressions.types import TypeSort
from specgen.facts import ledger
from specgen.facts.fact_types import FactTypes
from specgen.facts.registry import AnyCalculator

PLAIN: Final = frozenset(
    {"as_it_is", "printed", "total", "_count", "_least", "_most", "_sum", "_agreed"}
)
"""Formulas that read, count, add up or choose: what comes out is as possible as what goes in."""

TELLING: Final = re.compile(
    r"(?:^|[._])(?:margin|headroom|spare|left|free|room|share|load|loss|used|taken|filled|usable|"
    r"open|outside|unused|available|offered|needed|allowed|fits?|enough|kept|reach|idle|typical|"
    r"maximum|most|least|limit)(?:$|[._])"
)
"""Words of a key that speak of a whole or of what is left of it."""


def asked() -> Iterator[AnyCalculator]:
    """The calculators of which somebody must say what keeps their values possible."""
    known = FactTypes(ledger())
    for key, calculator in ledger().by_key.items():
        function = calculator.function
        code = getattr(function, "__code__", None)
        if code is not None and {"YES", "NO"} & set(code.co_names):
            yield calculator
            continue
        readable = known.readable(key)
        sorts = {type_.sort for type_ in readable.types} if readable is not None else set()
        if not sorts & {TypeSort.NUMBER, TypeSort.QUANTITY}:
            continue
        if getattr(function, "__name__", "") not in PLAIN or TELLING.search(key):
            yield calculator
