"""Which limits there are, for whoever asks no more than that: no solver is imported."""

from decimal import Decimal

from specgen.facts.fact import Basis, Fact, Facts
from specgen.limits.objectives import amount_of, objectives_of, printed
from specgen.model import Definitions, Platform


def promised(definitions: Definitions, platform: Platform) -> Facts:
    """Facts of the keys and kinds that limits have, of no matter what amount, solved by nobody.

    For checks that ask only whether there is such a limit.
    """
    known = objectives_of(definitions)
    return Facts.plain(
        Fact(
            f"limits.{key}",
            "limits.{limit}",
            known[key].label,
            amount_of(known[key], Decimal(1)),
            Basis.LIMIT,
            "",
            "",
        )
        for key in printed(definitions, platform)
    )
