"""Declared rules: a small language of conditions, read once, for checker, page and solver.

A rule stands in the `rules` of the project, a family, a platform or a part:

    rules:
      - code: CAPSTAN-01                       # the project's own, unique; it can be allowed
        when: any(a.power.maximum > "300 W" for a in accelerators)     # optional
        require: inlet <= "25 degC"            # or `forbid`, one of the two
        because: Accelerators above 300 W are cooled up to an inlet of 25 °C.   # optional
        severity: error                        # or warning, note
        from: 2026-07-01                       # optional, both days included; the date of the
        until: 2027-12-31                      # build counts, else the project's

A rule of a part concerns systems in which the part works, and calls it `it`: it is held against
each position with the part. Where parts are not known, or a fact has no value, a rule that rests
on them is silent; a finding has said so already.

Conditions are read by `specgen.expressions`, which says what can stand in them.
"""

from specgen.facts.rule_book import (
    CompiledRule,
    RuleBook,
    rule_book,
    statement_of,
)
from specgen.rules.declared.judging import declared

__all__ = [
    "CompiledRule",
    "RuleBook",
    "declared",
    "rule_book",
    "statement_of",
]
