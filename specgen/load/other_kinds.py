"""Parts that are written as those of another kind are: it is the kind that is wrong, told once."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from specgen.diagnostics import Finding, Label, Span, codes, question, quoted
from specgen.frozen import frozen
from specgen.grouped import grouped
from specgen.load.decode import decode
from specgen.messages import say
from specgen.model import Part
from specgen.source import YamlMapping

OF_FIELDS: Final = frozenset({codes.UNKNOWN_FIELD, codes.MISSING_FIELD})
MOST_MEANT: Final = 3
"""Where more kinds would do, nobody can tell which was meant."""
FEWEST_STRANGE: Final = 2
"""Of a part by itself, so many fields are of another kind; one may have strayed in."""


@frozen
class Decoded:
    """A part as it was read: what could not be, as long as nothing could."""

    tree: YamlMapping
    cls: type[Any]
    findings: tuple[Finding, ...]


def of_another_kind(
    decoded: Sequence[Decoded], classes: Mapping[str, type[Part]]
) -> Iterator[tuple[tuple[Finding, ...], Finding]]:
    """SG111: all that was found in the parts of a group, and the one finding in its place."""
    groups = grouped((each.tree.key_where("kind"), each) for each in decoded)
    for at, parts in groups.items():
        found = tuple(finding for each in parts for finding in each.findings)
        if any(OF_FIELDS.isdisjoint(f.code for f in each.findings) for each in parts):
            continue  # one part that goes with its kind tells that the kind is meant
        strange = _strange(parts)
        if len(parts) == 1 and len(strange) < FEWEST_STRANGE:
            continue
        meant = [name for name, cls in sorted(classes.items()) if _goes(cls, parts)]
        if 0 < len(meant) <= MOST_MEANT:
            yield found, _told(at, parts[0], strange, meant)


def _strange(parts: Sequence[Decoded]) -> list[str]:
    """Fields of parts that their kind does not have."""
    from specgen.load.validation_errors import field_names  # only where there is a mistake

    known = field_names(parts[0].cls)
    return list(dict.fromkeys(str(key) for each in parts for key in each.tree if key not in known))


def _goes(cls: type[Part], parts: Sequence[Decoded]) -> bool:
    """Whether parts can be read as those of a kind."""
    from specgen.load.validation_errors import field_names

    known = field_names(cls).keys()
    return all(each.tree.keys() <= known for each in parts) and all(
        decode(cls, each.tree)[0] is not None for each in parts
    )


def _told(at: Span, first: Decoded, strange: Sequence[str], meant: Sequence[str]) -> Finding:
    kind = first.cls.kind
    message = say("the parts of this kind lack fields that every {kind} has", kind=f"`{kind}`")
    labels: tuple[Label, ...] = ()
    if strange:
        message = say("no `{kind}` has the fields {names}", kind=kind, names=quoted(strange))
        key = next((each for each in strange if each in first.tree), None)
        if key is not None:
            labels = (Label(first.tree.key_where(key), say("not a field of this kind")),)
    return Finding(
        codes.UNKNOWN_FIELD,
        message,
        Label(at, say("the kind is probably another")),
        labels=labels,
        help=question(meant),
    )
