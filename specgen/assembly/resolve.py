"""A build to an assembly: fill, see what is usable, trace links, count resources."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from specgen.assembly.fill import fill
from specgen.assembly.result import Assembly, Link, Place, Pool, State, is_empty
from specgen.assembly.trace import Web, trace, uplinks
from specgen.diagnostics import Span
from specgen.diagnostics.span import ASKED
from specgen.messages import Words, say
from specgen.model import (
    ANYWHERE,
    CONDITIONS,
    Brings,
    Build,
    Conditions,
    Definitions,
    Origin,
    Platform,
    expand,
)
from specgen.quantity import Quantity, plain


def asked_at(name: str, value: Any) -> Span:
    """The place of a condition that was asked for: as it was, in no file and at line 0."""
    written = plain(value) if isinstance(value, Quantity) else str(value)
    return Span(f"{ASKED}{name}={written}", 0, 0, 0, 0)


def is_asked(span: Span) -> bool:
    """Whether it is the place of a condition that was asked for."""
    return span.file.startswith(ASKED)


def resolve(definitions: Definitions, build: Build, at: Conditions = ANYWHERE) -> Assembly | None:
    """The build resolved; None where its platform is not defined."""
    platform = definitions.platforms.get(build.platform)
    return None if platform is None else assemble(definitions, platform, build, at)


def assemble(
    definitions: Definitions,
    platform: Platform,
    build: Build | None,
    at: Conditions = ANYWHERE,
) -> Assembly:
    """A build on its platform, or the bare platform where `build` is None.

    `at` are conditions asked for, which go before those of the definitions.
    """
    work, absent = fill(definitions, platform, build)
    _block(work.places)
    missing = {entry.name: entry.span for entry in absent}
    web = Web(platform, work.places, work.ports, missing, definitions.parts)
    links = _settle(web)
    conditions, conditions_at = _conditions(definitions, platform, build, at)
    return Assembly(
        build=build,
        platform=platform,
        definitions=definitions,
        conditions=conditions,
        conditions_at=conditions_at,
        places=work.places,
        ports=work.ports,
        links=links,
        uplinks=uplinks(web),
        pools=_pools(platform, work.places),
        absent=absent,
        findings=(*work.findings, *web.findings, *web.missing_ports()),
    )


def _block(places: dict[str, Place]) -> None:
    """Positions that a part takes away, by name or by covering its neighbour."""
    for place in places.values():
        part = place.part
        if part is None:
            continue
        names = [name for text in part.blocks for name in expand(text)]
        names += covered(place, getattr(part, "places", None) or 1, places.get)
        for name in names:
            blocked = places.get(name)
            if blocked is not None and blocked is not place:
                blocked.state = State.BLOCKED
                blocked.reason = say(
                    "{part} in {holder} takes its place", part=part.name, holder=place.name
                )
                blocked.because_of = place.at
                blocked.closed_by = None


def covered(place: Place, width: int, at: Callable[[str], Place | None]) -> list[str]:
    """The positions beside a place that a part so many slots wide covers too, one by one.

    As far as each is declared to lie beside the one before; `at` gives the place of a name.
    """
    names: list[str] = []
    here: Place | None = place
    while here is not None and here.neighbour is not None and len(names) < width - 1:
        if here.neighbour in (place.name, *names):
            break  # round in a circle
        names.append(here.neighbour)
        here = at(here.neighbour)
    return names


def _settle(web: Web) -> dict[str, Link]:
    """Every link, and what cannot be used; either may change the other, so until nothing does."""
    links: dict[str, Link] = {}
    changed = True
    while changed:
        changed = False
        for place in web.places.values():
            if place.state in (State.FILLED, State.EMPTY):
                changed |= _orphaned(web.places, place)
        for place in web.places.values():
            link = trace(web, place)
            if link is None:
                continue
            links[place.name] = link
            if link.broken and place.state in (State.FILLED, State.EMPTY):
                _put_out_of_use(place, link.broken, link.broken_at)
                changed = True
    return links


def _orphaned(places: Mapping[str, Place], place: Place) -> bool:
    """Puts a place out of use whose owner, or whose host, is not there or not usable."""
    for name in (place.of, place.host):
        if name is None:
            continue
        owner = places.get(name)
        if owner is None:
            _put_out_of_use(place, say("there is no {name}", name=name), place.declared_at)
        elif owner.state in (State.UNUSABLE, State.BLOCKED):
            _put_out_of_use(place, owner.reason, owner.because_of)
        elif owner.state is State.EMPTY:
            _put_out_of_use(place, is_empty(owner.name), owner.at)
        else:
            continue
        return True
    return False


def _put_out_of_use(place: Place, reason: Words, because_of: Span | None) -> None:
    place.state, place.reason, place.because_of = State.UNUSABLE, reason, because_of


def _conditions(
    definitions: Definitions, platform: Platform, build: Build | None, at: Conditions
) -> tuple[Conditions, dict[str, Span]]:
    """Each condition as asked for, else from the build, the platform, the project."""
    asked = {name: getattr(at, name) for name in CONDITIONS}
    found = {name: value for name, value in asked.items() if value is not None}
    where = {name: asked_at(name, value) for name, value in found.items()}
    for holder in (build, platform, definitions.project):
        if holder is None:
            continue
        for name in CONDITIONS:
            value = getattr(holder.conditions, name)
            if value is not None and name not in found:
                found[name] = value
                where[name] = holder.origin.at("conditions", name)
    return Conditions(**found), where


def _pools(platform: Platform, places: dict[str, Place]) -> dict[str, Pool]:
    offered: dict[str, list[tuple[str, int, Span]]] = {}
    taken: dict[str, list[tuple[str, int, Span]]] = {}
    for name, amount, span in _offers(platform, platform.origin):
        offered.setdefault(name, []).append((platform.name, amount, span))
    for place in places.values():
        part = place.part
        if part is None or place.state is not State.FILLED:
            continue
        for name, amount, span in _offers(part.brings, part.origin, "brings"):
            offered.setdefault(name, []).append((place.name, amount, span))
        for need in (*part.needs, *place.position.needs):
            if need.resource is not None:
                taken.setdefault(need.resource, []).append((place.name, need.count, place.at))
    names = sorted({*offered, *taken})
    return {name: Pool(tuple(offered.get(name, ())), tuple(taken.get(name, ()))) for name in names}


def _offers(
    holder: Platform | Brings, origin: Origin, *path: str
) -> Iterator[tuple[str, int, Span]]:
    for name, amount in holder.resources.items():
        yield name, amount, origin.at(*path, "resources", name)
    for index, each in enumerate(holder.connectors):
        yield each.resource, each.count, origin.at(*path, "connectors", index)
