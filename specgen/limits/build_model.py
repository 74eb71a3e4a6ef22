"""All builds of a platform as truths: which part sits where, what of it works, what it needs."""

from collections.abc import Hashable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import partial

from specgen.assembly import Assembly, Place
from specgen.assembly.resolve import covered
from specgen.diagnostics import Span
from specgen.fitness import field_of
from specgen.frozen import frozen
from specgen.limits.closure import PositionNode
from specgen.limits.reason import Reason, ReasonKind, ReasonMaker
from specgen.limits.solver import Logic
from specgen.limits.spare_positions import declared_name
from specgen.limits.sums import ONE, BoolVar, Sum
from specgen.messages import Message, Within, Words, listed, say
from specgen.model import Need, Part, expand, places


@frozen
class Seat:
    """A part in a position: `sits` where the build puts it there, `works` where it is usable."""

    node: PositionNode
    part: Part
    sits: BoolVar
    works: BoolVar


@dataclass(slots=True)
class BuildModel:
    """The truths of one platform, with what positions, hosts and needs demand of them."""

    bare: Assembly
    nodes: tuple[PositionNode, ...]
    logic: Logic = field(default_factory=Logic)
    seats: dict[tuple[int, str], Seat] = field(default_factory=dict)
    named: dict[str, list[PositionNode]] = field(default_factory=dict)
    usable: dict[int, BoolVar] = field(default_factory=dict)
    """By position, whether it is there and usable; known once `demand` was called."""
    spares: dict[int, BoolVar] = field(default_factory=dict)
    """By the first of a sort of positions, whether there are more of them (`spare_positions`)."""
    alike: dict[Hashable, list[PositionNode]] = field(default_factory=dict)
    """Positions of the platform for the same parts that are usable with the same position."""
    declared: dict[tuple[str | None, Span], list[PositionNode]] = field(default_factory=dict)
    """Positions of the platform by their host and the line on which they are declared."""

    def __post_init__(self) -> None:
        for node in self.nodes:
            if node.name == declared_name(node.name):
                self.alike.setdefault(_usable_with(node), []).append(node)
                host = None if node.host is None else node.host.name
                self.declared.setdefault((host, node.place.declared_at), []).append(node)
            self.named.setdefault(node.name, []).append(node)
            for part in node.parts:
                self._seat(node, part)
        for nodes in self.named.values():
            self.logic.at_most_one(self.exists(node) for node in nodes)  # or names would clash

    def _seat(self, node: PositionNode, part: Part) -> None:
        free = self.logic.free
        sits = self.exists(node) if node.fixed else free(f"{node.name} {part.id}")
        works = free(f"{node.name} works") if node.fixed else sits
        self.seats[node.index, part.id] = Seat(node, part, sits, works)

    def exists(self, node: PositionNode) -> BoolVar:
        """Whether there is such a position: its host holds the part that brings it."""
        there = [self._spare(node)] if node.spare_of else []
        if node.host is not None and node.bringer is not None:
            there.append(self.seats[node.host.index, node.bringer.id].sits)
        return self.logic.both(there)

    def _spare(self, node: PositionNode) -> BoolVar:
        """Whether there are more positions of a sort than the platform has."""
        index = node.spare_of[0].index
        if index not in self.spares:
            self.spares[index] = self.logic.free(f"more than {node.spare_of[0].name}")
            with self.logic.because(ReasonKind.POSITION, partial(self._so_many, node.spare_of)):
                self.logic.never(self.spares[index])
        return self.spares[index]

    def _so_many(self, alike: tuple[PositionNode, ...]) -> Reason:
        """That there are so many positions of a sort, and no more."""
        first, names = alike[0], tuple(dict.fromkeys(node.name for node in alike))
        kinds, count = self.bare.definitions.kinds, len(names)
        takes = [kinds[each] for each in first.place.position.takes if each in kinds]
        parts = listed([Within(each.named_many()) for each in takes], "or")
        where: Words = places(names)
        if count == 1:
            words = say("there is one position for {parts}: {place}", parts=parts, place=where)
        else:
            words = say(
                "there are {count} positions for {parts}: {places}",
                count=count, parts=parts, places=where,
            )  # fmt: skip
        if first.bringer is not None:
            words = say("with {part}, {statement}", part=first.bringer.name, statement=words)
            where = say("{places} ({part})", places=where, part=first.bringer.name)
        return Reason(ReasonKind.POSITION, words, first.place.declared_at, short=where)

    def at(self, node: PositionNode) -> Iterator[Seat]:
        """What may sit in a position."""
        return (self.seats[node.index, part.id] for part in node.parts)

    def at_name(self, name: str) -> Iterator[Seat]:
        """What may sit in any position of a name."""
        return (seat for node in self.named.get(name, ()) for seat in self.at(node))

    def working(self, *kinds: type[Part]) -> Iterator[Seat]:
        """All that may work of some kinds, parts that only close apart."""
        for seat in self.seats.values():
            if not seat.part.closes and isinstance(seat.part, kinds):
                yield seat

    def works(self, node: PositionNode) -> BoolVar:
        """Whether a part works in a position."""
        return self.logic.either(seat.works for seat in self.at(node) if not seat.part.closes)

    def works_at(self, name: str) -> BoolVar:
        return self.logic.either(self.works(node) for node in self.named.get(name, ()))

    def _near(self, node: PositionNode, name: str) -> PositionNode | None:
        """The position of a name that is there with another: brought together, or on the board.

        Else one of those that other parts bring, as the first.
        """
        found = self.named.get(name, ())
        for each in found:
            together = each.host is node.host and each.bringer is node.bringer
            if together or each.host is None:
                return each
        return next(iter(found), None)

    def _covered(self, seat: Seat) -> list[str]:
        """The positions beside its own that a wide part covers."""

        def at(name: str) -> Place | None:
            near = self._near(seat.node, name)
            return None if near is None else near.place

        return covered(seat.node.place, field_of(seat.part, "places") or 1, at)

    def wide(self) -> None:
        """No part wider than the positions that lie side by side, where these are there with it."""
        for seat in self.seats.values():
            width, node = field_of(seat.part, "places") or 1, seat.node
            if width < 2 or node.fixed or seat.part.closes:
                continue
            beside = self._covered(seat)
            near = [self._near(node, name) for name in beside]
            known = all(each and each.host in (None, node.host) for each in near)
            if known and len(beside) < width - 1:
                words = say("has {count} slots side by side from there on", count=1 + len(beside))
                reason = partial(position_reason, node, words, ReasonKind.WIDTH)
                with self.logic.because(ReasonKind.WIDTH, reason):
                    self.logic.never(seat.sits)

    def blocked(self) -> Mapping[int, BoolVar]:
        """By position, whether a part elsewhere takes its place."""
        blockers: dict[int, list[BoolVar]] = {}
        for seat in self.seats.values():
            names = [name for text in seat.part.blocks for name in expand(text)]
            names += self._covered(seat)
            if seat.part.closes:
                continue
            for name in names:
                for node in self.named.get(name, ()):
                    if node is not seat.node:
                        blockers.setdefault(node.index, []).append(seat.sits)
        return {index: self.logic.either(found) for index, found in blockers.items()}

    def demand(self, links: Mapping[int, BoolVar], blocked: Mapping[int, BoolVar]) -> None:
        """What sits in a position that is not usable is an error; a soldered part just rests."""
        logic = self.logic
        for node in self.nodes:
            terms = list(self._terms(node, links, blocked))
            whole = logic.both([self.exists(node), *(literal for literal, *_ in terms)])
            self.usable[node.index] = whole
            seats = list(self.at(node))
            if node.fixed:
                for seat in seats:
                    logic.implies(seat.works, whole)
                    logic.implies(whole, seat.works)
            elif ReasonKind.POSITION in logic.argues:
                self._apart(node, terms)
            else:
                logic.at_most_one([*(seat.sits for seat in seats), whole.negated()])
            if node.place.position.must and node.place.position.blank is None:
                with logic.because(
                    ReasonKind.POSITION, partial(position_reason, node, say("must be filled"))
                ):
                    logic.implies(whole, *(seat.sits for seat in seats))

    def _terms(
        self, node: PositionNode, links: Mapping[int, BoolVar], blocked: Mapping[int, BoolVar]
    ) -> Iterator[tuple[BoolVar, ReasonKind, ReasonMaker]]:
        """What a position needs to be usable beside being there, each with its statement."""
        of, host, lead = node.place.of, node.host, node.place.lead
        if host is not None and node.bringer is not None:
            maker = partial(_with_its_bringer, node.bringer)
            yield self.works(host), ReasonKind.POSITION, maker
        if of is not None:
            yield self.works_at(of), ReasonKind.POSITION, partial(self._with_another, node)
        if node.index in blocked:
            words = say("stays empty where a part elsewhere takes its room")
            maker = partial(position_reason, node, words)
            yield blocked[node.index].negated(), ReasonKind.POSITION, maker
        if node.index in links and lead is not None:
            yield links[node.index], ReasonKind.LINK, partial(self._with_lanes, node)

    def sources_beside(self, node: PositionNode) -> tuple[str, ...]:
        """What gives lanes to a position and to those declared on the same line, with the same
        host."""
        host = None if node.host is None else declared_name(node.host.name)
        beside = self.declared.get((host, node.place.declared_at), ())
        leads = (each.place.lead for each in beside)
        return tuple(dict.fromkeys(declared_name(lead.from_) for lead in leads if lead is not None))

    def _with_lanes(self, node: PositionNode) -> Reason:
        """Where the lanes of positions on one line come from."""
        host = "" if node.host is None else f"{declared_name(node.host.name)}."
        sources = tuple(each.removeprefix(host) for each in self.sources_beside(node))
        words = say("lanes come from {source}", source=places(sources))
        return position_reason(node, words, ReasonKind.LINK)

    def _with_another(self, node: PositionNode) -> Reason:
        """That positions for the same parts are usable with another, said of all."""
        alike = self.alike[_usable_with(node)]
        names = tuple(dict.fromkeys(each.name for each in alike))
        where, of = places(names), declared_name(node.place.of or "")
        words = (
            say("{places} is usable only with {place} fitted", places=where, place=of)
            if len(names) == 1
            else say("{places} are usable only with {place} fitted", places=where, place=of)
        )
        return Reason(ReasonKind.POSITION, words, alike[0].place.declared_at)

    def _apart(
        self, node: PositionNode, terms: list[tuple[BoolVar, ReasonKind, ReasonMaker]]
    ) -> None:
        """The demands of a position one by one, each a statement of its own."""
        logic, seats = self.logic, list(self.at(node))
        for seat in seats:
            logic.implies(seat.sits, self.exists(node))
        logic.at_most_one(seat.sits for seat in seats)
        for literal, sort, maker in terms:
            with logic.because(sort, maker):
                for seat in seats:
                    logic.implies(seat.sits, literal)

    def needs(self) -> None:
        """Positions, parts and resources that working parts and filled positions need."""
        for seat in self.seats.values():
            if seat.part.closes:
                continue
            for index, need in enumerate(seat.part.needs):
                with self.logic.because(ReasonKind.PART, partial(self._needing, seat, index)):
                    self._need(seat.works, need, seat.node.name)
            host = seat.node.place.host or ""
            for need in seat.node.place.position.needs:
                words = say("needs {what} when filled", what=self._wanted(need))
                with self.logic.because(
                    ReasonKind.POSITION, partial(position_reason, seat.node, words)
                ):
                    self._need(seat.works, need, host)

    def _needing(self, seat: Seat, index: int) -> Reason:
        """A need of a part."""
        need, part = seat.part.needs[index], seat.part
        what = self._wanted(need)
        words = (
            say("{part} needs {count} × {what}", part=part.name, count=need.count, what=what)
            if need.count > 1
            else say("{part} needs {what}", part=part.name, what=what)
        )
        return Reason(ReasonKind.PART, words, part.origin.at("needs", index))

    def _wanted(self, need: Need) -> Words:
        """What is needed, as a reader calls it."""
        definitions = self.bare.definitions
        if need.position is not None:
            return places(tuple(expand(need.position.removeprefix("."))))
        if need.resource is not None:
            return definitions.term(need.resource)
        if need.kind is not None:
            return Within(definitions.kinds[need.kind].named())
        parts = definitions.parts
        return listed([parts[each].name if each in parts else each for each in need.part], "or")

    def _need(self, works: BoolVar, need: Need, host: str) -> None:
        if need.position is not None:
            for text in expand(need.position):
                name = f"{host}{text}" if text.startswith(".") else text
                found = [s.sits for s in self.at_name(name) if not s.part.closes]
                self.logic.implies(works, *found)
        elif need.resource is not None:
            found = [
                seat.works
                for seat in self.seats.values()
                if need.resource in seat.part.brings.offered and not seat.part.closes
            ]
            if need.resource not in self.bare.platform.offered:
                self.logic.implies(works, *found)
        elif need.kind is not None or need.part:
            found = self._present(need)
            lack = Sum(tuple((-ONE, each) for each in found), Decimal(need.count))
            self.logic.at_most(lack, works)

    def _present(self, need: Need) -> list[BoolVar]:
        """Everything in the system that meets a need, blanks of empty positions too."""
        seats = [
            seat.sits
            for seat in self.seats.values()
            if (seat.part.kind == need.kind if need.kind else seat.part.id in need.part)
        ]
        parts = self.bare.definitions.parts
        for node in self.nodes:
            blank = parts.get(node.place.position.blank or "")
            if node.spare_of:
                continue
            if blank is not None and (
                blank.kind == need.kind if need.kind else blank.id in need.part
            ):
                seats.append(self.closed_by_blank(node))
        return seats

    def closed_by_blank(self, node: PositionNode) -> BoolVar:
        """Whether an empty position keeps its blank, where nothing takes its place."""
        empty = [seat.sits.negated() for seat in self.at(node)]
        return self.logic.both([self.exists(node), *empty])


def position_reason(
    node: PositionNode, words: Message, sort: ReasonKind = ReasonKind.POSITION
) -> Reason:
    """A statement about a position, and about those declared on the same line."""
    place = node.place
    name = places(tuple(expand(place.position.name.removeprefix("."))))
    where: Words = name
    if node.bringer is not None:
        where = say("{position} of {part}", position=name, part=node.bringer.name)
    said = (
        say("{position}: {words}", position=where, words=words)
        if sort is ReasonKind.LINK
        else say("{position} {words}", position=where, words=words)
    )
    return Reason(sort, said, place.declared_at)


def _usable_with(node: PositionNode) -> Hashable:
    """What positions have in common that one statement says to be usable with another."""
    of, bringer = node.place.of, node.bringer
    return (
        None if of is None else declared_name(of),
        None if bringer is None else bringer.id,
        node.place.position.takes,
    )


def _with_its_bringer(part: Part) -> Reason:
    """That what a part brings is usable with it."""
    words = say("what {part} provides works only with it", part=part.name)
    return Reason(ReasonKind.POSITION, words, part.origin.at("brings", "positions"))
