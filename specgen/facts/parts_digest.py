"""Which parts a system has, as a short word that measurements name."""

from typing import Final

from specgen.assembly import Assembly
from specgen.model import Part

LETTERS: Final = 8


def parts_digest(assembly: Assembly) -> str:
    """The same for the same parts in the same positions of the same platform."""
    from hashlib import sha256  # loads a library of its own: of measured systems alone

    fitted = sorted((place.name, part.id) for place, part in assembly.fitted(Part))
    lines = [assembly.platform.id, *(f"{name}: {part}" for name, part in fitted)]
    return sha256("\n".join(lines).encode()).hexdigest()[:LETTERS]
