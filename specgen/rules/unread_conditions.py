"""Conditions that no check reads: asking a solver about them would change nothing."""

from typing import Final

from specgen.facts.resting import rests_on
from specgen.model import Conditions, Definitions
from specgen.rules.declared import rule_book

OF_COSTS: Final = ("energy_price", "currency", "grid_factor")
"""What a year of work costs and emits: values that built-in checks hold against nothing."""

WARNED_OF: Final = ("feeds",)
"""What is warned of and refused by no check: whether the loss of one feed is survived."""


def unread(definitions: Definitions, at: Conditions) -> tuple[str, ...]:
    """The conditions among those asked for that neither a check nor a declared rule reads."""
    asked = (name for name in (*OF_COSTS, *WARNED_OF) if getattr(at, name) is not None)
    rules = rule_book(definitions).rules
    return tuple(
        name
        for name in asked
        if not any(
            name in rule.reads.conditions
            or any(rests_on(definitions, key, name) for key in rule.reads.facts)
            for rule in rules
        )
    )
