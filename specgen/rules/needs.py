"""What parts and filled positions need present: positions filled, other parts, resources."""

from collections.abc import Iterator
from typing import Final

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.diagnostics.suggest import quoted
from specgen.facts import Facts
from specgen.fitness import field_of
from specgen.fitness.cable_reach import connector_offers
from specgen.fitness.card_power import AUXILIARY_CONNECTORS
from specgen.fitness.part_fields import resources_of
from specgen.frozen import frozen
from specgen.messages import Message, Nothing, Within, Words, listed, message_of, say
from specgen.model import Fan, Need, Part, expand
from specgen.model import places as in_short
from specgen.rules.constraints import Chain, Enough, Lack, Reached, UnreachedLack, one_by_one
from specgen.rules.places import by_line, names, unsettled_kinds
from specgen.rules.positions import known_anywhere

PRESENT: Final = (State.FILLED, State.UNKNOWN)


@frozen
class _OpenNeed:
    """A need, who has it and where it is written."""

    place: Place
    need: Need
    span: Span
    host: str | None


@frozen
class _Shortfall:
    """What a need misses: words for it, and the kinds of part that would meet it."""

    words: Words
    kinds: frozenset[str]
    note: Message | None = None


def _open_needs(assembly: Assembly) -> Iterator[_OpenNeed]:
    for place in assembly.places.values():
        if not place.filled or place.part is None:
            continue
        for index, need in enumerate(place.part.needs):
            span = place.part.origin.at("needs", index)
            yield _OpenNeed(place, need, span, place.name)
        for index, need in enumerate(place.position.needs):
            span = place.origin.at(*place.path, "needs", index)
            yield _OpenNeed(place, need, span, place.host)


def needs(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG313 and SG333: needs that nothing in the build meets, each shortfall reported once."""
    if assembly.build is None:
        return
    known = unsettled_kinds(assembly)
    reported: set[Words] = set()
    for open_need in _open_needs(assembly):
        if _keeps_cache(open_need):
            continue
        shortfall = _shortfall(assembly, open_need)
        if (
            shortfall is None
            or shortfall.words in reported
            or not known.isdisjoint(shortfall.kinds)
        ):
            continue
        reported.add(shortfall.words)
        yield _unmet(assembly, open_need, shortfall)


def _keeps_cache(open_need: _OpenNeed) -> bool:
    """Whether it is a controller's need of what keeps its cache, of which `PACKS` tells."""
    part, need = open_need.place.part, open_need.need
    kept = None if part is None else keeper(part)
    return kept is not None and need.kind == kept and need.count == 1


def _shortfall(assembly: Assembly, open_need: _OpenNeed) -> _Shortfall | None:
    need = open_need.need
    if need.position is not None:
        return _missing_positions(assembly, open_need)
    if need.resource is not None:
        pool = assembly.pools.get(need.resource)
        if pool is not None and pool.offered:
            return None
        words = say("{count} × `{resource}`", count=need.count, resource=need.resource)
        return _Shortfall(words, frozenset(), _other_feeds(assembly, need.resource))
    present = [part for _, part in assembly.everything()]
    if need.kind is not None:
        count = sum(1 for part in present if part.kind == need.kind)
        if (
            count >= need.count or need.kind not in assembly.definitions.kinds
        ):  # the loader has told of the latter
            return None
        words = say("{count} of kind {kind}", count=need.count, kind=need.kind)
        return _Shortfall(words, frozenset({need.kind}))
    count = sum(1 for part in present if part.id in need.part)
    parts = assembly.definitions.parts
    if count >= need.count or not parts.keys() >= set(need.part):
        return None  # of a part that nobody knows the loader has told
    kinds = frozenset(parts[name].kind for name in need.part if name in parts)
    named = quoted(need.part, "or")
    if need.count > 1:
        return _Shortfall(say("{count} × {what}", count=need.count, what=named), kinds)
    return _Shortfall(named, kinds)


def _other_feeds(assembly: Assembly, resource: str) -> Message | None:
    """Connectors of other kinds that are there: a card's plug goes into its own kind alone."""
    offered = {
        name: sum(amount for _, amount, _ in pool.offered)
        for name, pool in assembly.pools.items()
        if name in AUXILIARY_CONNECTORS and pool.offered
    }
    if resource not in AUXILIARY_CONNECTORS or not offered:
        return None
    found = [say("{count} × `{resource}`", count=n, resource=name) for name, n in offered.items()]
    return say("there are power connectors of another kind: {found}", found=listed(found))


def _missing_positions(assembly: Assembly, open_need: _OpenNeed) -> _Shortfall | None:
    missing, kinds = [], set()
    for text in expand(open_need.need.position or ""):
        name = f"{open_need.host}{text}" if text.startswith(".") else text
        place = assembly.places.get(name)
        blocked = place is not None and place.filled_at is not None and place.part is not None
        if place is None and not known_anywhere(assembly.definitions, name):
            continue  # told where it is written
        if place is None or (place.state not in PRESENT and not blocked):
            missing.append(name)
            kinds |= set(place.position.takes) if place is not None else set()
    if not missing:
        return None
    return _Shortfall(say("{places} filled", places=in_short(tuple(missing))), frozenset(kinds))


def _unmet(assembly: Assembly, open_need: _OpenNeed, shortfall: _Shortfall) -> Finding:
    place, need = open_need.place, open_need.need
    cooling = shortfall.kinds == {Fan.kind}
    what: Words = place.name
    if place.part is not None:
        what = say("`{part}` in {place}", part=place.part.id, place=place.name)
    return Finding(
        codes.FANS_MISSING if cooling else codes.NEED_UNMET,
        say("{what} needs {words}", what=what, words=shortfall.words),
        Label(place.at, say("needs {words}", words=shortfall.words)),
        labels=(Label(open_need.span, say("the need")),),
        notes=tuple(message_of(each) for each in (need.because, shortfall.note) if each),
        help=resource_slip(assembly, need.resource or ""),
    )


def resource_slip(assembly: Assembly, name: str) -> Message | Nothing:
    """The resource that may have been meant, where nothing anywhere brings one of this name."""
    known = resources_of(assembly.definitions)
    return "" if name in known else question(did_you_mean(name, known))


FLASH: Final = "flash"
"""What keeps a cache without another part."""


def keeper(part: Part) -> str | None:
    """The kind of part that must keep a controller's cache when the power goes."""
    kept = None if field_of(part, "cache") is None else field_of(part, "keeps_cache")
    return None if kept == FLASH else kept


def _unkept(assembly: Assembly, shortfall: Lack) -> Iterator[Finding]:
    kind = listed(map(Within, assembly.definitions.titles([shortfall.group])))
    keeping, packs = len(shortfall.taken), len(shortfall.offered)
    for place, part, _ in shortfall.taken[packs:]:
        yield Finding(
            codes.CACHE_WITHOUT_ENERGY,
            say(
                "the cache of `{part}` in {place} has no {kind}",
                part=part.id,
                place=place.name,
                kind=kind,
            ),
            Label(place.at, say("one more {kind} is needed", kind=kind)),
            labels=(Label(part.origin.at("keeps_cache"), say("what keeps the cache")),),
            notes=(
                say(
                    "controllers with such a cache: {keeping}; of kind {kind}: {packs}",
                    keeping=keeping,
                    kind=kind,
                    packs=packs,
                ),
            ),
            help=say("fit one more {kind}", kind=kind),
        )


def _packs_unclear(assembly: Assembly) -> bool:
    kept = {keeper(part) for _, part in assembly.fitted(Part)}
    return not kept.isdisjoint(unsettled_kinds(assembly))


PACKS: Final = Chain(
    (
        Enough(
            code=codes.CACHE_WITHOUT_ENERGY,
            statement=say("each cache to be kept needs a cache protection module of its own"),
            taken=lambda _place, part: [(kind, 1)] if (kind := keeper(part)) else (),
            offered=lambda _place, part: [(part.kind, 1)],
            standing=lambda _: {},
            resting=True,
            findings=one_by_one(_unkept),
        ),
    ),
    _packs_unclear,
)


def _taken(place: Place, part: Part) -> Iterator[tuple[str, int]]:
    for need in (*part.needs, *place.position.needs):
        if need.resource is not None:
            yield need.resource, need.count


def _overcommitted(assembly: Assembly, shortfall: Lack) -> Iterator[Finding]:
    """What a resource is short of; where nothing offers it, the need itself is unmet."""
    name = shortfall.group
    pool = assembly.pools.get(name)
    offers = [] if pool is None else list(pool.offered)
    if not offers:
        return
    taken = sum(count for *_, count in shortfall.taken)
    offered = sum(count for _, count, _ in offers)
    terms = listed(
        (
            say("{place} {count}", place=place.name, count=count)
            for place, _, count in shortfall.taken
        ),
        "plus",
    )
    yield Finding(
        codes.RESOURCE_OVERCOMMITTED,
        say(
            "{taken} of `{name}` are taken, and there are {offered}",
            taken=taken,
            name=name,
            offered=offered,
        ),
        Label(max(shortfall.taken, key=lambda entry: entry[2])[0].at),
        labels=(
            *(
                Label(span, say("{who} offers {count}", who=who, count=count))
                for who, count, span in offers
            ),
            *_need_labels(tuple(place for place, *_ in shortfall.taken), name),
        ),
        notes=(say("{terms} = {sum}", terms=terms, sum=taken),),
    )


def _need_labels(places: tuple[Place, ...], name: str) -> tuple[Label, ...]:
    """Where the parts in these places say how much of a resource each needs."""
    found: dict[Span, Label] = {}
    for place in places:
        for at, need in enumerate(() if place.part is None else place.part.needs):
            if need.resource == name and place.part is not None:
                span = place.part.origin.at("needs", at, "count")
                found.setdefault(span, Label(span, say("each needs {count}", count=need.count)))
    return tuple(found.values())


def _unreached(assembly: Assembly, name: str, lack: UnreachedLack) -> Iterator[Finding]:
    """Connectors that are there, and of which too few reach the cards that need them."""
    where = tuple(place.name for place, _ in lack.taken)
    offers = [
        (label, each)
        for label, each in connector_offers(assembly)
        if each.resource == name and each.serves(frozenset(where))
    ]
    elsewhere = (label for label, each in connector_offers(assembly) if each.resource == name)
    taken, offered = sum(count for _, count in lack.taken), sum(e.count for _, e in offers)
    yield Finding(
        codes.RESOURCE_OVERCOMMITTED,
        say(
            "{places}: {taken} of `{name}` are taken, and the cables of {offered} reach there",
            places=in_short(where), taken=taken, name=name, offered=offered,
        ),
        Label(max(lack.taken, key=lambda entry: entry[1])[0].at),
        labels=tuple(label for label, _ in offers) or tuple(elsewhere),
        help=say("fit the card where a free connector reaches, or one that needs fewer"),
    )  # fmt: skip


RESOURCES: Final = Chain(
    (
        Enough(
            code=codes.RESOURCE_OVERCOMMITTED,
            statement=say("{group}: no more are in use than are provided"),
            taken=_taken,
            offered=lambda _place, part: part.brings.offered.items(),
            standing=lambda assembly: {
                name: -count for name, count in assembly.platform.offered.items()
            },
            findings=one_by_one(_overcommitted),
        ),
        Reached(
            code=codes.RESOURCE_OVERCOMMITTED,
            statement=say("{group}: each reaches certain slots only, and is used once"),
            taken=_taken,
            findings=_unreached,
        ),
    )
)


def drives(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG314: more drives behind a port, or a controller, than it serves.

    Which those are hangs on every cable on the way. Told of that, the solver has half as many
    variables again and takes twice as long, and lanes bound nearly all such ports as well: it is
    not asked, and what it proposes is judged by this.
    """
    behind: dict[tuple[str, int, Span], list[Place]] = {}
    for place, part in assembly.fitted(Part):
        link = assembly.links.get(place.name)
        if link is None or field_of(part, "interface") is None:
            continue
        limits = set()
        for port in (link.owner, link.root):
            if port is None:
                continue
            if port.port.drives is not None:
                limits.add((port.name, port.port.drives, port.declared_at))
            most = field_of(port.part, "drives")
            if most is not None:
                limits.add((port.place.name, most, port.part.origin.at("drives")))
        for limit in limits:
            behind.setdefault(limit, []).append(place)
    reported: set[str] = set()
    for (name, most, declared), places in sorted(behind.items(), key=lambda entry: entry[0][1::-1]):
        if len(places) <= most or any(place.name in reported for place in places):
            continue
        reported |= {place.name for place in places}
        yield Finding(
            codes.RESOURCE_OVERCOMMITTED,
            say(
                "{count} drives are wired to {name}, which serves {most}",
                count=len(places),
                name=name,
                most=most,
            ),
            Label(
                max(by_line(places), key=len)[0].at,
                say("{number} too many", number=len(places) - most),
            ),
            labels=(Label(declared, say("max. {most}", most=most)),),
            notes=(say("the drives are in {places}", places=names(places)),),
        )
