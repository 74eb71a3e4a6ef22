"""The numbers on a picture as they are drawn; `picture_callouts` tells what they point at."""

from specgen.document.illustrated.picture_callouts import number_place
from specgen.drawings.number_marks import NumberMark
from specgen.model import Illustration, PictureCallout
from specgen.model.illustration import corners_of


def marks_of(illustration: Illustration, size: tuple[int, int]) -> tuple[NumberMark, ...]:
    """The numbers of a picture of so many pixels, in the order of its callouts."""
    numbered = enumerate(illustration.callouts, start=1)
    return tuple(_mark(number, each, size) for number, each in numbered)


def _mark(number: int, callout: PictureCallout, size: tuple[int, int]) -> NumberMark:
    x, y = number_place(callout, size)
    return NumberMark(number, x, y, corners_of(callout, size))
