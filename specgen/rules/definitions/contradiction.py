"""Something that a definition says and that cannot be true together with what else it says."""

from specgen.frozen import frozen
from specgen.messages import NOTHING, Message, Nothing
from specgen.model import BadRange, expand
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


def expanded(text: str) -> tuple[str, ...]:
    """The names that a range stands for; none where it cannot be read, which is told there."""
    try:
        return expand(text)
    except BadRange:
        return ()
