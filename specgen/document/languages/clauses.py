"""Declared rules in another language: a sentence of the rule language, said clause by clause.

`specgen/rules/declared/words.py` makes these sentences of a rule's trees: "When A and B, C". What
each clause says is a message of the context `rule`, its open places numbered from one, and so are
the patterns that join them. A clause that nobody has translated leaves the sentence as it is.
"""

import re
from typing import Final

from specgen.document.languages.catalogue import Catalogue

CONTEXT: Final = "rule"
WHEN: Final = "When {1}, {2}"
JOINS: Final = ("and", "or")
_SLOT: Final = re.compile(r"\{(\d+)\}")


def ruled(message: str, words: Catalogue) -> str | None:
    """A rule without its full stop, None where a clause of it has no message."""
    if not message.startswith("When "):
        said = _clause(message[:1].lower() + message[1:], words)
        return None if said is None else said[:1].upper() + said[1:]
    pattern = words.get(WHEN, CONTEXT)
    for found in re.finditer(", ", message):
        case = _clauses(message[len("When ") : found.start()], words)
        asked = _clause(message[found.end() :], words) if case else None
        if pattern is not None and case is not None and asked is not None:
            return _put(pattern, (case, asked))
    return None


def _clauses(message: str, words: Catalogue) -> str | None:
    """Clauses that are joined, each by itself; what is one clause is tried as a whole first."""
    whole = _clause(message, words)
    if whole is not None:
        return whole
    for join in JOINS:
        pattern = words.get(f"{{1}} {join} {{2}}", CONTEXT)
        for found in re.finditer(f" {join} ", message):
            first = _clause(message[: found.start()], words)
            other = _clauses(message[found.end() :], words) if first else None
            if pattern is not None and first is not None and other is not None:
                return _put(pattern, (first, other))
    return None


def _clause(message: str, words: Catalogue) -> str | None:
    """One clause, its open places under the numbers that they have in the sentence."""
    places = tuple(dict.fromkeys(_SLOT.findall(message)))
    local = _SLOT.sub(lambda found: f"{{{places.index(found[1]) + 1}}}", message)
    said = words.messages.get((CONTEXT, local))
    return None if said is None else _put(said, tuple(f"{{{each}}}" for each in places))


def _put(pattern: str, said: tuple[str, ...]) -> str:
    return _SLOT.sub(
        lambda found: said[int(found[1]) - 1] if int(found[1]) <= len(said) else found[0], pattern
    )
