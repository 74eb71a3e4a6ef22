"""What declared rules allow at the inlet, as an input of facts.

Rules read facts, and these facts rest on rules: here alone the circle is closed, when a system is
asked. All else that reads rules knows the facts that there are.
"""

from specgen.facts.fact import Declared, Rests
from specgen.facts.inputs import Context
from specgen.frozen import frozen
from specgen.messages import Words
from specgen.quantity import Temperature


@frozen
class RuleLimit:
    """The highest temperature at the inlet that a rule allows; None where it allows none."""

    limit: Temperature | None
    reason: Words
    stated: Declared
    """The rule, for pedigrees."""


@frozen
class HeldByRules:
    """The limits that declared rules set to the inlet, below that of `most` else."""

    most: str
    """The key of the fact with what holds apart from rules."""

    @property
    def needs(self) -> frozenset[str]:
        return frozenset({self.most})

    def read(self, context: Context) -> tuple[tuple[RuleLimit, ...] | None, Rests]:
        from specgen.facts.inlet_rules import limits

        most = context.facts.value(self.most)
        if not isinstance(most, Temperature):
            return None, (context.facts[self.most],)
        found = tuple(limits(context, most)) if context.assembly.build is not None else ()
        return found, tuple(each.stated for each in found)
