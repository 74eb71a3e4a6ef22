"""A value that a document works out from facts, as one more fact with its pedigree."""

from specgen.facts.fact import Basis, Fact, Value
from specgen.facts.registry import COUNTING
from specgen.messages import Message, Words


def derived(key: str, label: Words, value: Value, formula: Message, *rests: Fact) -> Fact:
    """A value that is worked out from facts, with its pedigree."""
    return Fact(
        key=key,
        template=key,
        label=label,
        value=value,
        basis=Basis.CALCULATED,
        formula=formula,
        source=COUNTING,
        rests=(rests,),
    )
