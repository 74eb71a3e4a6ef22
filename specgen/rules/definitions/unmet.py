"""Positions that ask for what no part of the catalog has."""

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.fitness import field_of
from specgen.messages import Within, listed, say
from specgen.model import Definitions, Origin, Position
from specgen.model.pedigree import FieldPath
from specgen.rules.definitions.doubtful.doubtful_texts import ANSWERS
from specgen.rules.definitions.named.mistaken_words import slipped

ASKED: Final = ("socket", "form", "key")
"""What positions ask for in words of the project's own; other words are the program's."""


def unmet(definitions: Definitions) -> Iterator[Finding]:
    """SG217: a socket, a form or a key that no part of the kinds taken has; but for slips, which
    are told as that."""
    for platform in definitions.platforms.values():
        yield from _of(definitions, platform.origin, ("positions",), platform.positions)
    for part in definitions.parts.values():
        path = ("brings", "positions")
        yield from _of(definitions, part.origin, path, part.brings.positions)


def _of(
    definitions: Definitions, origin: Origin, path: FieldPath, positions: tuple[Position, ...]
) -> Iterator[Finding]:
    for index, position in enumerate(positions):
        if position.fixed is not None:
            continue  # told of the part that is soldered in there
        for field in ASKED:
            wanted = _words(getattr(position, field))
            known = _known(definitions, position.takes, field) if wanted else frozenset[str]()
            # where parts declare nothing of the sort, nobody is refused
            if not known or not known.isdisjoint((*wanted, *ANSWERS)):  # an answer is told as that
                continue
            if not slipped(definitions).isdisjoint(wanted):
                continue
            kinds = listed(map(Within, definitions.titles(position.takes)), "or")
            meant = next(filter(None, (did_you_mean(word, known) for word in wanted)), ())
            yield Finding(
                codes.NOTHING_FITS,
                say(
                    "no {kinds} has the {field} {wanted}",
                    kinds=kinds,
                    field=field,
                    wanted=listed((f"`{word}`" for word in wanted), "or"),
                ),
                Label(origin.at(*path, index, field), say("so nothing goes in")),
                help=question(meant)
                or say(
                    "parts of the kind have {known}",
                    known=listed(f"`{word}`" for word in sorted(known)),
                ),
            )


@lru_cache(maxsize=256)  # positions take the same kinds by the dozen
def _known(definitions: Definitions, kinds: tuple[str, ...], field: str) -> frozenset[str]:
    """What the parts of these kinds have under a field; nothing where one has none of it."""
    found: set[str] = set()
    for part in definitions.parts.values():
        if part.kind in kinds:
            words = _words(field_of(part, field))
            if not words:
                return frozenset()
            found.update(words)
    return frozenset(found)


def _words(value: object) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    return tuple(value) if isinstance(value, tuple) else ()
