"""What parts and filled positions need present: positions filled, other parts, resources."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from specgen.assembly import Assembly, Place, State
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.facts import Facts
from specgen.model import (
    Drive,
    EnergyPack,
    Fan,
    MemoryModule,
    Need,
    Processor,
    StorageController,
    condensed,
    expand,
)
from specgen.quantity import DataSize, plain
from specgen.rules.places import by_line, counted, names, settled, unsettled_kinds
from specgen.rules.positions import known_anywhere

PRESENT: Final = (State.FILLED, State.UNKNOWN)


@dataclass(frozen=True, slots=True)
class _Wish:
    """A need, who has it and where it is written."""

    place: Place
    need: Need
    span: Span
    host: str | None


@dataclass(frozen=True, slots=True)
class _Lack:
    """What a need misses: words for it, and the kinds of part that would meet it."""

    words: str
    kinds: frozenset[str]


def _wishes(assembly: Assembly) -> Iterator[_Wish]:
    for place in assembly.places.values():
        if not place.filled or place.part is None:
            continue
        for index, need in enumerate(place.part.needs):
            span = place.part.origin.at("needs", index)
            yield _Wish(place, need, span, place.name)
        for index, need in enumerate(place.position.needs):
            span = place.origin.at(*place.path, "needs", index)
            yield _Wish(place, need, span, place.host)


def needs(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG313 and SG333: needs that nothing in the build meets, each lack told once."""
    if assembly.build is None:
        return
    known = unsettled_kinds(assembly)
    told: set[str] = set()
    for wish in _wishes(assembly):
        if _kept_by_pack(wish):
            continue
        lack = _lack(assembly, wish)
        if lack is None or lack.words in told or not known.isdisjoint(lack.kinds):
            continue
        told.add(lack.words)
        yield _unmet(wish, lack)


def _kept_by_pack(wish: _Wish) -> bool:
    """Whether it is a controller's need of its energy pack, which has a check of its own."""
    part = wish.place.part
    return (
        isinstance(part, StorageController)
        and part.keeps_cache == EnergyPack.kind
        and wish.need.kind == EnergyPack.kind
    )


def _lack(assembly: Assembly, wish: _Wish) -> _Lack | None:
    need = wish.need
    if need.position is not None:
        return _missing_positions(assembly, wish)
    if need.resource is not None:
        pool = assembly.pools.get(need.resource)
        if pool is not None and pool.offered:
            return None
        return _Lack(f"something that brings `{need.resource}`", frozenset())
    present = [part for _, part in assembly.everything()]
    if need.kind is not None:
        count = sum(1 for part in present if part.kind == need.kind)
        if (
            count >= need.count or need.kind not in assembly.definitions.kinds
        ):  # the loader has told of the latter
            return None
        return _Lack(f"{need.count} of kind {need.kind}", frozenset({need.kind}))
    count = sum(1 for part in present if part.id in need.part)
    if count >= need.count or not need.part:
        return None
    parts = assembly.definitions.parts
    kinds = frozenset(parts[name].kind for name in need.part if name in parts)
    return _Lack(" or ".join(f"`{name}`" for name in need.part), kinds)


def _missing_positions(assembly: Assembly, wish: _Wish) -> _Lack | None:
    missing, kinds = [], set()
    for text in expand(wish.need.position or ""):
        name = f"{wish.host}{text}" if text.startswith(".") else text
        place = assembly.places.get(name)
        told = place is not None and place.filled_at is not None and place.part is not None
        if place is None and not known_anywhere(assembly.definitions, name):
            continue  # told where it is written
        if place is None or (place.state not in PRESENT and not told):
            missing.append(name)
            kinds |= set(place.position.takes) if place is not None else set()
    if not missing:
        return None
    return _Lack(f"{condensed(tuple(missing))} filled", frozenset(kinds))


def _unmet(wish: _Wish, lack: _Lack) -> Finding:
    place, need = wish.place, wish.need
    cooling = lack.kinds == {Fan.kind}
    what = f"`{place.part.id}` in {place.name}" if place.part is not None else place.name
    return Finding(
        codes.FANS_MISSING if cooling else codes.NEED_UNMET,
        f"{what} needs {lack.words}",
        Label(place.at, f"needs {lack.words}"),
        labels=(Label(wish.span, "the need"),),
        notes=(need.because,) if need.because else (),
    )


def cache_without_energy(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG341: controllers whose cache an energy pack must keep, and fewer packs than controllers."""
    if EnergyPack.kind in unsettled_kinds(assembly):
        return
    keeping = [
        (place, part)
        for place, part in assembly.fitted(StorageController)
        if part.cache is not None and part.keeps_cache == EnergyPack.kind
    ]
    # a pack in a place that cannot be used is told there
    packs = sum(1 for _, part in assembly.everything() if isinstance(part, EnergyPack))
    for place, part in keeping[packs:]:
        yield Finding(
            codes.CACHE_WITHOUT_ENERGY,
            f"the cache of `{part.id}` in {place.name} has no energy pack",
            Label(place.at, "needs an energy pack"),
            labels=(Label(part.origin.at("keeps_cache"), "kept by an energy pack"),),
            notes=(f"{counted(len(keeping), 'such controller')}, {counted(packs, 'energy pack')}",),
            help="fit an energy pack",
        )


def resources(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG314: resources, drives of a port or controller, memory of a processor: more than it has."""
    for name, pool in assembly.pools.items():
        offered = sum(amount for _, amount, _ in pool.offered)
        taken = sum(amount for _, amount, _ in pool.taken)
        if pool.offered and taken > offered:
            _, _, at = max(pool.taken, key=lambda entry: entry[1])
            terms = " + ".join(f"{who} {amount}" for who, amount, _ in pool.taken)
            yield Finding(
                codes.RESOURCE_OVERCOMMITTED,
                f"{taken} of `{name}` are taken, and there are {offered}",
                Label(at),
                labels=tuple(Label(span, f"{who} offers {n}") for who, n, span in pool.offered),
                notes=(f"{terms} = {taken}",),
            )
    yield from _drives(assembly)
    yield from _memory(assembly)


def _drives(assembly: Assembly) -> Iterator[Finding]:
    """Drives behind a port, and behind a controller, where these state a limit."""
    behind: dict[tuple[str, int, Span], list[Place]] = {}
    for place, _ in assembly.fitted(Drive):
        link = assembly.links.get(place.name)
        if link is None:
            continue
        limits = set()
        for port in (link.owner, link.root):
            if port is None:
                continue
            if port.port.drives is not None:
                limits.add((port.name, port.port.drives, port.declared_at))
            if isinstance(port.part, StorageController) and port.part.drives is not None:
                limits.add((port.place.name, port.part.drives, port.part.origin.at("drives")))
        for limit in limits:
            behind.setdefault(limit, []).append(place)
    told: set[str] = set()
    for (name, most, declared), places in sorted(behind.items(), key=lambda entry: entry[0][1::-1]):
        if len(places) <= most or any(place.name in told for place in places):
            continue
        told |= {place.name for place in places}
        yield Finding(
            codes.RESOURCE_OVERCOMMITTED,
            f"{len(places)} drives are wired to {name}, which serves {most}",
            Label(max(by_line(places), key=len)[0].at, f"{len(places) - most} too many"),
            labels=(Label(declared, f"at most {most}"),),
            notes=(f"the drives are in {names(places)}",),
        )


def _memory(assembly: Assembly) -> Iterator[Finding]:
    for place, processor in assembly.fitted(Processor):
        limit = processor.memory_limit
        if limit is None:
            continue
        modules = [entry for entry in settled(assembly, MemoryModule) if entry[0].of == place.name]
        total = sum((module.capacity for _, module in modules), DataSize.zero())
        if total > limit:
            lines = by_line(each for each, _ in modules)
            yield Finding(
                codes.RESOURCE_OVERCOMMITTED,
                f"{plain(total)} of memory at {place.name}, which addresses {plain(limit)}",
                Label(max(lines, key=len)[0].at),
                labels=(Label(processor.origin.at("memory_limit"), "the limit"),),
                notes=(
                    f"{counted(len(modules), 'module')} in {names(each for each, _ in modules)}",
                ),
            )
