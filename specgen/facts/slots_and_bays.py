"""Which positions are card slots and which are drive bays, as readers count them."""

from specgen.assembly import Assembly, Place
from specgen.model import BootModule, Card, Definitions, Drive, Part, StorageController
from specgen.model.position import CardHeight

M2 = "m.2"
"""How the names of M.2 form factors begin: such a drive sits on a board, in no bay."""
OWN_PLACES = frozenset({StorageController.kind, BootModule.kind})
"""A position that takes these alone is a controller's own place, and no slot for cards."""


def card_kinds(definitions: Definitions) -> frozenset[str]:
    """The kinds of part that sit on a card."""
    kinds = definitions.kinds.items()
    return frozenset(name for name, kind in kinds if issubclass(kind, Card))


def is_slot(definitions: Definitions, place: Place, height: CardHeight | None = None) -> bool:
    """Whether a position is a slot for cards with a bracket, of one height or of any.

    A mezzanine and a boot module's place have no height; what is soldered in sits in no slot.
    """
    position = place.position
    return (
        position.height is not None
        and height in (None, position.height)
        and place.lead is not None
        and position.fixed is None
        and place.how != "fixed"
        and not card_kinds(definitions).isdisjoint(position.takes)
        and not OWN_PLACES.issuperset(position.takes)
    )


def is_bay(place: Place, bringer: Part | None) -> bool:
    """Whether a position is a drive bay: an M.2 slot, and a place on a card, is none.

    `bringer` is the part that brings the position; None where the platform does.
    """
    position = place.position
    if Drive.kind not in position.takes or isinstance(bringer, Card):
        return False
    return not position.form or not all(form.startswith(M2) for form in position.form)


def in_bay(assembly: Assembly, place: Place) -> bool:
    """The same in a system, where the part that brings the position is known."""
    host = assembly.places.get(place.host or "")
    return is_bay(place, None if host is None else host.part)
