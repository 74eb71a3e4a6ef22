"""Which parts a system has, as a short word that measurements name."""

from binascii import crc32

from specgen.assembly import Assembly
from specgen.model import Part


def parts_digest(assembly: Assembly) -> str:
    """The same for the same parts in the same positions of the same platform.

    It keeps a measurement from being printed of another system by an oversight, which a check sum
    does: digests that keep off fraud come with a library that takes long to load.
    """
    fitted = sorted((place.name, part.id) for place, part in assembly.fitted(Part))
    lines = [assembly.platform.id, *(f"{name}: {part}" for name, part in fitted)]
    text = "\n".join(lines)
    return f"{crc32(text.encode()):08x}"
