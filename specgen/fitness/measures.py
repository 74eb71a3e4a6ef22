"""Measures of a part, or of the room for one, as they are held against each other."""

from specgen.frozen import frozen


@frozen
class Measures:
    """Measures in millimetres, the least first, as they count for what holds what."""

    sides: tuple[float, ...]

    def __str__(self) -> str:
        return " × ".join(f"{side:.2f}".rstrip("0").rstrip(".") for side in self.sides)
