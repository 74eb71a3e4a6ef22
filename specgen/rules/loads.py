"""What the supplies must carry at most, term by term, as the facts have it."""

from dataclasses import dataclass

from specgen.facts import Facts
from specgen.quantity import Power, plain


@dataclass(frozen=True, slots=True)
class Load:
    """Greatest load at the supplies' output, with its terms, greatest first."""

    total: Power
    terms: tuple[tuple[str, Power], ...]

    def as_sum(self) -> str:
        """`processors 410 W + cooling 96 W = 506 W`."""
        words = " + ".join(f"{what} {plain(power)}" for what, power in self.terms)
        return f"{words} = {plain(self.total)}"


def greatest_load(facts: Facts) -> Load | None:
    """The load of the supplies, what is lost on the board with it; None where it is not known."""
    total = facts.value("power.load")
    if not isinstance(total, Power):
        return None
    terms = [
        (fact.subject, fact.value)
        for fact in facts.along("power.{subsystem}.maximum")
        if isinstance(fact.value, Power) and fact.value.amount
    ]
    lost = facts.value("power.board_loss")
    if isinstance(lost, Power) and lost.amount:
        terms.append(("loss", lost))
    return Load(total, tuple(sorted(terms, key=lambda term: (-term[1].amount, term[0]))))
