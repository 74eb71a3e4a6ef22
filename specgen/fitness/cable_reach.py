"""Which positions the cables of auxiliary power connectors reach, and who shares which of them."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain

from specgen.assembly import Assembly
from specgen.assembly.full_names import full_name
from specgen.diagnostics import Label
from specgen.frozen import frozen
from specgen.messages import say
from specgen.model import Brings, Origin, Part, Platform, PowerConnector, expand
from specgen.model.pedigree import FieldPath


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


def unreached(taken: Mapping[str, int], offers: Sequence[CableOffer]) -> frozenset[str]:
    """Positions that together take more than reaches any of them; none where each can have its own.

    Connectors are handed out one after the other, those handed out before changing places where
    that helps. Where one can be had in no way, the positions that were asked on the way share too
    little (Hall's theorem); of them those are named that it takes for that.
    """
    handed: list[dict[str, int]] = [{} for _ in offers]
    short: list[frozenset[str]] = []
    for name in sorted(taken):
        wanted = taken[name]
        while wanted:
            asked: set[str] = set()
            got = _hand(name, wanted, offers, handed, asked)
            if not got:
                short.append(_needed_of(frozenset(asked), taken, offers))
                break
            wanted -= got
    return min(short, key=lambda names: (len(names), sorted(names)), default=frozenset())


def _hand(
    name: str,
    wanted: int,
    offers: Sequence[CableOffer],
    handed: list[dict[str, int]],
    asked: set[str],
) -> int:
    """How many connectors more a position gets, up to what it wants; notes whom it asked."""
    asked.add(name)
    for offer, given in zip(offers, handed, strict=True):
        if not offer.serves(frozenset((name,))):
            continue
        got = min(wanted, offer.count - sum(given.values()))
        for other in sorted(given) if not got else ():
            if other not in asked and given[other]:
                got = _hand(other, min(wanted, given[other]), offers, handed, asked)
                if got:
                    given[other] -= got
                    break
        if got:
            given[name] = given.get(name, 0) + got
            return got
    return 0


def _needed_of(
    names: frozenset[str], taken: Mapping[str, int], offers: Sequence[CableOffer]
) -> frozenset[str]:
    """Of positions that share too little, those without any of which the others would not."""
    for name in sorted(names):
        fewer = names - {name}
        there = sum(each.count for each in offers if each.serves(fewer))
        if sum(taken[each] for each in fewer) > there:
            names = fewer
    return names


def connector_offers(assembly: Assembly) -> Iterator[tuple[Label, CableOffer]]:
    """All that board and fitted parts offer, each with the line where it is declared."""
    board = assembly.platform
    yield from _at_lines(offers_of(board, None, 0), board, board.origin, board.name)
    for place, part in assembly.fitted(Part):
        offers = offers_of(part.brings, place.name, place.position.offset)
        yield from _at_lines(offers, part.brings, part.origin, place.name, "brings")


def _at_lines(
    offers: Iterator[CableOffer], holder: Platform | Brings, origin: Origin, who: str, *path: str
) -> Iterator[tuple[Label, CableOffer]]:
    at: list[FieldPath] = [(*path, "resources", name) for name in holder.resources]
    at += [(*path, "connectors", index) for index in range(len(holder.connectors))]
    for where, offer in zip(at, offers, strict=True):
        words = say("{who} offers {count}", who=who, count=offer.count)
        yield Label(origin.at(*where), words), offer
