"""Something that a definition says and that cannot be true together with what else it says."""

from specgen.diagnostics import Code, Finding, Label
from specgen.frozen import frozen
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model import BadRange, Origin, expand
from specgen.model.pedigree import FieldPath


@frozen
class Contradiction:
    """Something in a record that cannot be: where, in words, why, and what it is held against."""

    path: FieldPath
    message: Message
    why: Message
    other: FieldPath = ()
    other_words: Message | Nothing = NOTHING
    help: Message | Nothing = NOTHING


def far_from_usual(name: str, value: object) -> Message:
    """What is said of a value that no part of its kind has."""
    return say("`{name}` is {value}, far from what is usual", name=name, value=value)


def finding_of(code: Code, origin: Origin, path: FieldPath, found: Contradiction) -> Finding:
    """What is said of it, in a record that `path` leads to."""
    labels: tuple[Label, ...] = ()
    if found.other:
        labels = (Label(origin.at(*path, *found.other), found.other_words),)
    return Finding(
        code,
        found.message,
        Label(origin.at(*path, *found.path)),
        labels=labels,
        notes=(found.why,),
        help=found.help,
    )


def expanded(text: str) -> tuple[str, ...]:
    """The names that a range stands for; none where it cannot be read, which is told there."""
    try:
        return expand(text)
    except BadRange:
        return ()
