"""Which positions the cables of auxiliary power connectors reach, and who shares which of them."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, combinations
from typing import Final

from specgen.assembly import Assembly
from specgen.assembly.full_names import full_name
from specgen.diagnostics import Label
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Brings, Origin, Part, Platform, PowerConnector, expand
from specgen.model.pedigree import FieldPath

MOST_TOGETHER: Final = 10
"""Groups of positions whose unions are all looked at; of more, only those of two."""


@frozen
class CableOffer:
    """So many of a resource, for the positions that a cable reaches; None for all of them."""

    resource: str
    count: int
    reach: frozenset[str] | None

    def serves(self, names: frozenset[str]) -> bool:
        """Whether any of these positions may have one."""
        return self.reach is None or not self.reach.isdisjoint(names)


def offers_of(holder: Platform | Brings, host: str | None, offset: int) -> Iterator[CableOffer]:
    """What a board or a part in a position offers: resources, and connectors by their reach."""
    for resource, count in holder.resources.items():
        yield CableOffer(resource, count, None)
    own = {name for position in holder.positions for name in expand(position.name)}
    for each in holder.connectors:
        yield CableOffer(each.resource, each.count, _reach(each, own, host, offset))


def _reach(
    connector: PowerConnector, own: set[str], host: str | None, offset: int
) -> frozenset[str] | None:
    """The positions in the names of the whole system."""
    names = chain.from_iterable(expand(text) for text in connector.reaches)
    if not connector.reaches:
        return None
    return frozenset(full_name(name, host, offset if name in own else 0) for name in names)


def sharing(names: Iterable[str], offers: Sequence[CableOffer]) -> Iterator[frozenset[str]]:
    """Sets of positions that must share what reaches any of them, the smallest first.

    If each of these sets has enough, each position can have what it needs: by Hall's theorem it
    is enough to look at the positions that have no other connectors than some others together.
    """
    reaches = dict.fromkeys(each.reach for each in offers if each.reach is not None)
    by_reach: dict[frozenset[frozenset[str]], set[str]] = {}
    for name in names:
        with_it = frozenset(reach for reach in reaches if name in reach)
        by_reach.setdefault(with_it, set()).add(name)
    classes = list(by_reach)
    most = len(classes) if len(classes) <= MOST_TOGETHER else 2
    seen: dict[frozenset[str], None] = {}
    for count in range(1, most + 1):
        for chosen in combinations(classes, count):
            shared = frozenset().union(*chosen)
            closed = (members for key, members in by_reach.items() if key <= shared)
            seen[frozenset(chain.from_iterable(closed))] = None
    yield from sorted(seen, key=lambda each: (len(each), sorted(each)))


def connector_offers(assembly: Assembly) -> Iterator[tuple[Label, CableOffer]]:
    """All that board and fitted parts offer, each with the line where it is declared."""
    board = assembly.platform
    yield from _told(offers_of(board, None, 0), board, board.origin, board.name)
    for place, part in assembly.fitted(Part):
        offers = offers_of(part.brings, place.name, place.position.offset)
        yield from _told(offers, part.brings, part.origin, place.name, "brings")


def _told(
    offers: Iterator[CableOffer], holder: Platform | Brings, origin: Origin, who: str, *path: str
) -> Iterator[tuple[Label, CableOffer]]:
    at: list[FieldPath] = [(*path, "resources", name) for name in holder.resources]
    at += [(*path, "connectors", index) for index in range(len(holder.connectors))]
    for where, offer in zip(at, offers, strict=True):
        words = say("{who} offers {count}", who=who, count=offer.count)
        yield Label(origin.at(*where), words), offer
