"""Names of what is measured (power, data size), as they stand within a sentence."""

from specgen.messages.message import Message
from specgen.quantity import Dimension

CONTEXT = "dimension"


def dimension_words(dimension: Dimension) -> Message:
    """`power` within a sentence; extracted for translators by `.dev/messages.py`."""
    return Message(dimension.name, context=CONTEXT)
