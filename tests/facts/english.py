"""Values that are said in words, as English says them."""

from specgen.quantity import NARROW_SPACE


def in_english(value):
    """The text of a message, of each of several; numbers and units parted by plain blanks."""
    if isinstance(value, tuple):
        return tuple(map(in_english, value))
    return None if value is None else str(value).replace(NARROW_SPACE, " ")
