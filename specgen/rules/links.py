"""Links: who carries what, how many lanes are taken, how ports are split."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import field
from typing import Any

from specgen.assembly import Assembly, Link, Place, PortAt, Stage
from specgen.diagnostics import Finding, Label, Span, codes
from specgen.facts import Facts
from specgen.facts.terms import SWAP, worded
from specgen.fitness import field_of
from specgen.frozen import state
from specgen.messages import Words, listed, message_of, say
from specgen.model import CARRIERS, Cable, Part
from specgen.rules.places import by_line, is_settled, names, settled

MOST_LABELS = 6


def mute_cable(assembly: Assembly, link: Link) -> tuple[Stage, bool] | None:
    """The cable of a whole link that does not carry its protocol, and whether it sits rightly."""
    for stage in link.stages:
        place = assembly.places.get(stage.cable)
        cable = place.part if place is not None else None
        if place is not None and isinstance(cable, Cable) and link.protocol not in stage.limits:
            return stage, is_settled(assembly, place)
    return None


def protocols(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG319: drives whose port, or a cable on the way, does not carry their protocol."""
    silent: dict[Words, list[tuple[Place, Any, Label]]] = {}
    for place, drive in settled(assembly, "interface"):
        link = assembly.links.get(place.name)
        if link is None or link.owner is None:
            continue
        port, cable = _mute_port(drive, link), mute_cable(assembly, link)
        if port is not None:
            label = Label(
                port.declared_at, say("carries {join}", join=listed(port.port.carries, "and"))
            )
            silent.setdefault(port.name, []).append((place, drive, label))
        elif cable is not None and cable[1]:
            label = Label(cable[0].span, say("carries {join}", join=listed(cable[0].limits, "and")))
            silent.setdefault(say("the {cable}", cable=cable[0].name), []).append(
                (place, drive, label)
            )
    for name, entries in silent.items():
        place, drive, label = entries[0]
        needs = listed(CARRIERS[drive.interface], "or")
        lines = by_line(each for each, _, _ in entries)
        yield Finding(
            codes.PROTOCOL_MISMATCH,
            say(
                "`{drive}` in {places} cannot speak to {name}",
                drive=drive.id,
                places=names(lines[0]),
                name=name,
            ),
            Label(place.at, say("needs a port that carries {needs}", needs=needs)),
            labels=(label, *_others(lines), Label(drive.origin.at("interface"), say("the drive"))),
        )


def _others(lines: tuple[tuple[Place, ...], ...]) -> tuple[Label, ...]:
    return tuple(
        Label(line[0].at, say("{places} as well", places=names(line)))
        for line in lines[1:MOST_LABELS]
    )


def _mute_port(part: Part, link: Link) -> PortAt | None:
    speaks = set(CARRIERS.get(field_of(part, "interface"), ()))
    for port in (link.owner, link.root):
        if port is not None and speaks and not speaks & set(port.port.carries):
            return port
    return None


@state
class PortLoad:
    """What hangs on one stretch or port: how many lanes it has, and who takes how many."""

    name: Words
    lanes: int
    span: Span
    taken: list[tuple[Place, int]] = field(default_factory=list)

    @property
    def total(self) -> int:
        return sum(lanes for _, lanes in self.taken)

    def terms(self) -> Words:
        """`BAY 0 to 3 4 x x4 + SLOT 1 x8`."""
        groups: dict[tuple[Span, int], list[Place]] = {}
        for place, lanes in self.taken:
            groups.setdefault((place.at, lanes), []).append(place)
        terms = (
            say(
                "{places} {number} times x{lanes}",
                places=names(places),
                number=len(places),
                lanes=lanes,
            )
            if len(places) > 1
            else say("{place} x{lanes}", place=places[0].name, lanes=lanes)
            for (_, lanes), places in groups.items()
        )
        return listed(terms, "plus")


def _leaves(assembly: Assembly) -> Iterator[tuple[Place, Link]]:
    """Links that end in a fitted part, or feed a switch, rather than lead on through it."""
    round_about = {each.name for circle in _circles(assembly) for each in circle}
    for link in assembly.uplinks.values():
        if not link.broken and (link.owner is None or link.owner.name not in round_about):
            yield assembly.places[link.place], link
    passed = {
        stage.name
        for link in assembly.links.values()
        for stage in link.stages
        if stage.name != link.place
    }
    for name, link in assembly.links.items():
        place = assembly.places[name]
        part = place.part
        if part is None or not place.filled or name in passed or link.broken:
            continue
        if is_settled(assembly, place) and mute_cable(assembly, link) is None:
            yield place, link


def lanes(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG315: a connector, cable or port whose links take more lanes than it has."""
    stretches: dict[tuple[Words, Span], PortLoad] = {}
    ports: dict[str, PortLoad] = {}
    for place, link in _leaves(assembly):
        for stage in link.stages:
            if stage.name != place.name:
                key = (stage.name, stage.span)
                load = stretches.setdefault(key, PortLoad(stage.name, stage.lanes, stage.span))
                load.taken.append((place, link.lanes))
        owner = link.owner
        if owner is not None:
            load = ports.setdefault(
                owner.name, PortLoad(owner.name, owner.port.lanes, owner.declared_at)
            )
            load.taken.append((place, link.lanes))
    reported: set[frozenset[str]] = set()
    shared = {name for name, count in _far_ends(assembly).items() if count > 1}
    for load in sorted((*stretches.values(), *ports.values()), key=lambda each: each.lanes):
        if load.name in shared:
            continue  # told as two cables on one connector
        members = frozenset(place.name for place, _ in load.taken)
        if load.total > load.lanes and not any(members & known for known in reported):
            reported.add(members)
            yield _too_many_lanes(load)


def _far_ends(assembly: Assembly) -> Counter[str]:
    """How many cables go to each connector."""
    return Counter(place.to for place, _ in settled(assembly, "far_form") if place.to)


def _too_many_lanes(load: PortLoad) -> Finding:
    lines = by_line(place for place, _ in load.taken)
    taken = {place.name: lanes for place, lanes in load.taken}
    biggest = max(lines, key=lambda line: sum(taken[place.name] for place in line))
    return Finding(
        codes.LANES_OVERCOMMITTED,
        say(
            "{load} has {lanes} lanes, and {total} are taken",
            load=load.name,
            lanes=load.lanes,
            total=load.total,
        ),
        Label(biggest[0].at, say("{sum} of them", sum=sum(taken[place.name] for place in biggest))),
        labels=(Label(load.span, say("{lanes} lanes", lanes=load.lanes)),),
        notes=(
            say(
                "{terms} = {total}, which is {number} too many",
                terms=load.terms(),
                total=load.total,
                number=load.total - load.lanes,
            ),
        ),
    )


def circles(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG210: ports of switches or expanders that are fed by one another, and by nothing else."""
    for circle in _circles(assembly):
        port = circle[0]
        yield Finding(
            codes.LINK_CYCLE,
            say(
                "{ports} are fed by one another",
                ports=listed((each.name for each in circle), "and"),
            )
            if len(circle) > 1
            else say("{port} is fed by itself", port=port.name),
            Label(port.declared_at, say("behind `{behind}`", behind=port.port.behind)),
            labels=tuple(
                Label(each.declared_at, say("behind `{behind}`", behind=each.port.behind))
                for each in circle[1:]
            ),
            help=say("let one of them lie behind the port or position that feeds it from outside"),
        )


def _circles(assembly: Assembly) -> Iterator[tuple[PortAt, ...]]:
    """Ports that are fed in a circle, each circle once."""
    known: set[str] = set()
    for first in assembly.ports.values():
        route: list[PortAt] = []
        port: PortAt | None = first
        while port is not None and port.port.behind and port.name not in known:
            known.add(port.name)
            route.append(port)
            link = assembly.uplinks.get(port.port.behind) or assembly.links.get(port.port.behind)
            port = link.owner if link is not None else None
        names = [each.name for each in route]
        if port is not None and port.name in names:
            yield tuple(route[names.index(port.name) :])


def splits(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG316: PCIe ports asked to divide in a way they cannot."""
    loads: dict[str, tuple[PortAt, PortLoad]] = {}
    for place, link in _leaves(assembly):
        owner = link.owner
        if owner is not None and link.protocol == "pcie":
            fresh = PortLoad(owner.name, owner.port.lanes, owner.declared_at)
            loads.setdefault(owner.name, (owner, fresh))[1].taken.append((place, link.lanes))
    for port, load in loads.values():
        widths = sorted((lanes for _, lanes in load.taken), reverse=True)
        if len(widths) < 2 or load.total > load.lanes or _can_split(port, widths):
            continue
        splits = ", ".join("+".join(map(str, split)) for split in port.port.splits)
        lines = by_line(place for place, _ in load.taken)
        yield Finding(
            codes.SPLIT_IMPOSSIBLE,
            say("{port} cannot split into {join}", port=port.name, join="+".join(map(str, widths))),
            Label(max(lines, key=len)[0].at, say("one of the links that share the port")),
            labels=(
                Label(
                    port.declared_at,
                    say("splits {ways}", ways=splits) if splits else say("does not split"),
                ),
            ),
            notes=(say("{terms} on a port of x{lanes}", terms=load.terms(), lanes=load.lanes),),
        )


def _can_split(port: PortAt, widths: list[int]) -> bool:
    for split in port.port.splits:
        parts = sorted(split, reverse=True)
        fits = all(width <= part for width, part in zip(widths, parts, strict=False))
        if len(widths) <= len(parts) and fits:
            return True
    return False


def narrowed(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG317: parts with more lanes, or of a later generation, than their link leaves them."""
    groups: dict[tuple[Span, Words], list[tuple[Place, Words]]] = {}
    for place, link in _leaves(assembly):
        part = place.part
        if part is None or link.owner is None:
            continue
        lost = _lost(part, link) if link.place in assembly.links else ""
        if lost and _mute_port(part, link) is None:
            groups.setdefault((place.at, lost), []).append((place, lost))
    for (at, lost), entries in groups.items():
        place = entries[0][0]
        stage = min(assembly.links[place.name].stages, key=lambda each: each.lanes)
        yield Finding(
            codes.LINK_NARROWED,
            say(
                "`{value}` in {places} runs {lost}",
                value=place.part.id if place.part else "",
                places=names((each for each, _ in entries)),
                lost=lost,
            ),
            Label(at),
            labels=(
                Label(stage.span, say("{name}: x{lanes}", name=stage.name, lanes=stage.lanes)),
            ),
        )


def _lost(part: Part, link: Link) -> Words:
    """What a part has beyond its link, of those that speak the link's protocol."""
    interface = field_of(part, "interface")
    own = "pcie" if interface in (None, "nvme") else interface
    if link.protocol != own:
        return ""
    lanes, generation = field_of(part, "lanes"), field_of(part, "generation")
    words = []
    if lanes is not None and link.lanes < lanes:
        words.append(say("on {have} of its {lanes} lanes", have=link.lanes, lanes=lanes))
    if generation is not None and 0 < link.generation < generation:
        words.append(
            say(
                "at generation {have} instead of {generation}",
                have=link.generation,
                generation=generation,
            )
        )
    return listed(words, "and") if words else ""


def swap_of_ports(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG307: drives of a swap class that the port behind their bay cannot serve."""
    groups: dict[str, list[tuple[Place, Any, PortAt]]] = {}
    for place, drive in settled(assembly, "interface"):
        link = assembly.links.get(place.name)
        for port in (link.owner, link.root) if link is not None else ():
            swap = field_of(drive, "swap")
            if swap and port is not None and port.port.swap and swap not in port.port.swap:
                groups.setdefault(port.name, []).append((place, drive, port))
                break
    for entries in groups.values():
        place, drive, port = entries[0]
        lines = by_line(each for each, _, _ in entries)
        serves = listed((worded(SWAP, swap) for swap in port.port.swap), "and")
        yield Finding(
            codes.WRONG_SWAP,
            say(
                "`{drive}` in {places} is {swap}, and {port} serves {serves} only",
                drive=drive.id,
                places=names(lines[0]),
                swap=worded(SWAP, drive.swap),
                port=port.name,
                serves=serves,
            ),
            Label(place.at, message_of(worded(SWAP, drive.swap))),
            labels=(
                Label(port.declared_at, say("serves {serves}", serves=serves)),
                *_others(lines),
            ),
        )
