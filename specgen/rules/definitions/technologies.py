"""Memory technologies of which nobody has said how wide a channel is."""

from collections.abc import Iterator
from typing import Final

from specgen.diagnostics import Finding, Label, codes, did_you_mean, question
from specgen.facts.constants import CHANNEL_BITS
from specgen.fitness import field_of
from specgen.messages import listed, say
from specgen.model import Definitions
from specgen.source.unfinished_marks import unfinished

FIELDS: Final = ("technology", "memory_technology")


def known_technologies(definitions: Definitions) -> frozenset[str]:
    """The technologies that a table or the project describes."""
    return frozenset({**CHANNEL_BITS, **definitions.project.memory_technologies})


def unknown_technologies(definitions: Definitions) -> Iterator[Finding]:
    """SG219 for each part of a technology that neither a table nor the project describes."""
    known = known_technologies(definitions)
    for part in definitions.parts.values():
        for name in FIELDS:
            technology = field_of(part, name)
            if technology is None or unfinished(technology):  # told as left to do
                continue
            if technology not in known:
                close = question(did_you_mean(technology, tuple(known)))
                yield Finding(
                    codes.UNKNOWN_TECHNOLOGY,
                    say("no memory technology is named `{name}`", name=technology),
                    Label(part.origin.at(name)),
                    notes=(say("known are {known}", known=listed(sorted(known))),),
                    help=close
                    or say(
                        "say in specgen.yaml how many data bits its channels have: "
                        "`memory_technologies: {{{name}: 16}}`",
                        name=technology,
                    ),
                )
