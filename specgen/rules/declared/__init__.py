"""Declared rules: a small language of conditions, read once, for checker, page and solver.

The reference stands in README.md of the project under "Rules in words".
"""

from specgen.rules.declared.compile import (
    CompiledRule,
    RuleBook,
    Statement,
    rule_book,
    statement_of,
)
from specgen.rules.declared.judging import declared
from specgen.rules.declared.words import in_words, sentence

__all__ = [
    "CompiledRule",
    "RuleBook",
    "Statement",
    "declared",
    "in_words",
    "rule_book",
    "sentence",
    "statement_of",
]
