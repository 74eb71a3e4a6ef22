"""Volumes: levels the controller offers, enough members, alike and on one controller."""

from collections.abc import Iterable, Iterator

from specgen.assembly import Absent, Assembly, Place, PortAt, State
from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean
from specgen.facts import Facts
from specgen.facts.calculators.members import cannot_stand_by
from specgen.facts.calculators.storage import LEVELS
from specgen.facts.terms import PROTOCOL, closed_word
from specgen.frozen import frozen
from specgen.messages import NONE, NOTHING, AsWritten, Message, Nothing, listed, say
from specgen.model import Build, Drive, Part, Volume, expand, piece_of, places, range_meant
from specgen.rules.places import is_settled


@frozen
class _VolumeCase:
    """One volume of a build with its drives as they are in the system."""

    build: Build
    index: int
    volume: Volume
    members: tuple[Place, ...]
    spares: tuple[Place, ...]

    def at(self, *path: str | int) -> Span:
        return self.build.origin.at("volumes", self.index, *path)


def volumes(assembly: Assembly, _facts: Facts) -> Iterator[Finding]:
    """SG342 to SG347: for each volume the first thing that is wrong with it."""
    build = assembly.build
    if build is None:
        return
    taken: dict[str, Taken] = {}
    named: dict[str, Span] = {}
    for index, volume in enumerate(build.volumes):
        at = build.origin.at("volumes", index, "name")
        if volume.name in named:
            yield _named_twice(volume, at, named[volume.name])
        named.setdefault(volume.name, at)
        found = _member_findings(assembly, build, index, taken)
        yield from found
        members, spares = _places(assembly, volume.drives), _places(assembly, volume.spares)
        if found or members is None or spares is None:
            continue
        case = _VolumeCase(build, index, volume, members, spares)
        if not members:
            yield _no_members(case)
            continue
        finding = (
            _split(case, assembly)
            or _unsupported(case, assembly)
            or _grouped(case)
            or _ungrouped(case)
            or _too_few(case)
            or _no_spare(case)
            or _unequal(case)
        )
        if finding is not None:
            yield finding


def _named_twice(volume: Volume, second: Span, first: Span) -> Finding:
    return Finding(
        codes.DUPLICATE_NAME,
        say("two volumes are named `{volume}`", volume=volume.name),
        Label(second, say("second volume")),
        labels=(Label(first, say("first volume")),),
        help=say("give one of them another name"),
    )


def _names(texts: tuple[str, ...]) -> list[str]:
    return [name for text in texts for name in expand(text)]


def _places(assembly: Assembly, texts: tuple[str, ...]) -> tuple[Place, ...] | None:
    """The positions with their drives; None where one is not there, which has been told."""
    found = [assembly.places.get(name) for name in _names(texts)]
    places = [
        place
        for place in found
        if place is not None
        and place.filled
        and isinstance(place.part, Drive)
        and is_settled(assembly, place)
    ]
    return tuple(places) if len(places) == len(found) else None


@frozen
class Taken:
    """The first volume that names a drive, and whether as a member or as a spare."""

    volume: str
    field: str


def _member_findings(
    assembly: Assembly, build: Build, index: int, taken: dict[str, Taken]
) -> list[Finding]:
    """SG344: names without a drive, and drives that belong to a volume already.

    Several volumes may have one drive stand by for all of them.  # common practice, no source
    """
    volume = build.volumes[index]
    absent = {entry.name: entry for entry in assembly.absent}
    slips = {name for entry in absent for name in did_you_mean(entry, assembly.places)}
    found = []
    own: dict[str, Taken] = {}
    for field in ("drives", "spares"):
        texts: tuple[str, ...] = getattr(volume, field)
        for number, text in enumerate(texts):
            written = build.origin.written("volumes", index, field) is not None
            path: tuple[str | int, ...] = (field,) if written else (field, number)
            at = build.origin.at("volumes", index, *path)
            holes, doubles = [], []
            for name in expand(text):
                known = own.get(name) or taken.get(name)
                together = known is not None and field == known.field == "spares"
                if known is not None and (name in own or not together):
                    doubles.append(name)
                elif name not in slips and _is_hole(assembly.places.get(name), absent.get(name)):
                    holes.append(name)
                own.setdefault(name, Taken(volume.name, field))
            if holes:
                here = at.part(text, piece_of(text, holes[0]))
                found.append(_no_drive(volume, tuple(holes), here))
            if doubles:
                first = taken.get(doubles[0], own[doubles[0]])
                here = at.part(text, piece_of(text, doubles[0]))
                found.append(_twice(volume, tuple(doubles), first.volume, here))
    for name, entry in own.items():
        taken.setdefault(name, entry)
    return found


def _is_hole(place: Place | None, absent: Absent | None) -> bool:
    if place is None:
        return absent is None
    reported = place.state in (State.UNKNOWN, State.UNUSABLE, State.BLOCKED) and place.filled_at
    return not reported and not (place.filled and isinstance(place.part, Drive))


def _no_drive(volume: Volume, names: tuple[str, ...], at: Span) -> Finding:
    return Finding(
        codes.VOLUME_MEMBER,
        say(
            "volume `{volume}` names {places}, which holds no drive",
            volume=volume.name,
            places=places(names),
        ),
        Label(at, say("no drive there")),
        help=say("a range is written `{range}`", range=written)
        if (written := range_meant(names[0]))
        else say("fit a drive there, or leave it out of the volume"),
    )


def _twice(volume: Volume, names: tuple[str, ...], other: str, at: Span) -> Finding:
    message = say("volume `{volume}` names {places}, which belongs to volume `{other}` already")
    if other == volume.name:
        message = say("volume `{volume}` names {places}, which belongs to this volume already")
    return Finding(
        codes.VOLUME_MEMBER,
        message.filled(volume=volume.name, places=places(names), other=other),
        Label(at, say("taken already")),
    )


def _controller(assembly: Assembly, place: Place) -> tuple[str, PortAt | None]:
    port = assembly.controller(place.name)
    return (port.place.name, port) if port is not None else ("", None)


def _split(case: _VolumeCase, assembly: Assembly) -> Finding | None:
    owners: dict[str, list[str]] = {}
    for place in (*case.members, *case.spares):
        owners.setdefault(_controller(assembly, place)[0], []).append(place.name)
    if len(owners) < 2:
        return None
    terms = [
        say("{places} on {owner}", places=places(tuple(names)), owner=owner or say("nothing"))
        for owner, names in owners.items()
    ]
    return Finding(
        codes.VOLUME_SPLIT,
        say(
            "the drives of volume `{volume}` are wired to {count} controllers",
            volume=case.volume.name,
            count=len(owners),
        ),
        Label(case.at("drives"), say("not all on one controller")),
        notes=(listed(terms, "semicolon"),),
    )


def _unsupported(case: _VolumeCase, assembly: Assembly) -> Finding | None:
    name, port = _controller(assembly, case.members[0])
    part: Part | None = port.part if port is not None else None
    levels: tuple[int, ...] = getattr(part, "raid", ())
    level = case.volume.level
    if level in levels and level in LEVELS:
        return None
    message = say("volume `{volume}` wants RAID {level}, and nothing offers it")
    if part is not None:
        message = say(
            "volume `{volume}` wants RAID {level}, and `{part}` in {place} offers {offers}"
        )
    offers = listed(map(str, levels)) if levels else NONE
    labels = (
        ()
        if part is None
        else (Label(part.origin.at("raid"), say("offers {offers}", offers=offers)),)
    )
    return Finding(
        codes.RAID_UNSUPPORTED,
        message.filled(
            volume=case.volume.name,
            level=level,
            part="" if part is None else part.id,
            place=name,
            offers=offers,
        ),
        Label(case.at("level"), say("RAID {level}", level=level)),
        labels=labels,
    )


def _no_members(case: _VolumeCase) -> Finding:
    return Finding(
        codes.VOLUME_TOO_SMALL,
        say("volume `{volume}` has no drives", volume=case.volume.name),
        Label(case.at("drives"), say("no drives")),
        help=say("name the drives that form it, or leave the volume out"),
    )


def _grouped(case: _VolumeCase) -> Finding | None:
    """SG118: groups at a level that has none."""
    level, path = case.volume.level, ("volumes", case.index, "groups")
    if case.build.origin.written(*path) is None or LEVELS[level].grouped:
        return None
    return Finding(
        codes.CONTRADICTION,
        say(
            "volume `{volume}` states groups, and RAID {level} has none",
            volume=case.volume.name,
            level=level,
        ),
        Label(case.at("groups")),
        labels=(Label(case.at("level"), say("RAID {level}", level=level)),),
        notes=(say("drives are striped over groups at RAID 50 and 60 alone"),),
        help=say("choose RAID 50 or 60, or leave `groups` out"),
    )


def _ungrouped(case: _VolumeCase) -> Finding | None:
    """SG114: no groups at a level whose capacity hangs on them."""
    if case.build.origin.written("volumes", case.index, "groups") is not None:
        return None
    level, count = case.volume.level, len(case.members)
    if not LEVELS[level].grouped:
        return None
    least = LEVELS[level].least
    ways = [str(groups) for groups in range(2, count // least + 1) if count % groups == 0]
    return Finding(
        codes.MISSING_FIELD,
        say("volume `{volume}` is RAID {level} and states no `groups`",
            volume=case.volume.name, level=level),
        Label(case.at("level"), say("RAID {level}", level=level)),
        notes=(say("capacity and drive failures tolerated follow from the number of groups"),),
        help=say("write `groups: {ways}`", ways=listed(ways, "or"))
        if ways
        else say("RAID {level} needs two groups of {least} drives or more", level=level,
                 least=least),
    )  # fmt: skip


def _too_few(case: _VolumeCase) -> Finding | None:
    level, count = case.volume.level, len(case.members)
    least = max(2, LEVELS[level].least)  # a volume joins drives
    why: Message | Nothing = NOTHING
    if LEVELS[level].grouped:
        groups = case.volume.groups
        if groups < 2 or count % groups:
            why = say(
                "{count} drives do not make {groups} equal groups", count=count, groups=groups
            )
        least *= groups
    elif level == 10 and count % 2:
        why = say("RAID 10 pairs its drives, and {count} is odd", count=count)
    if count >= least and not why:
        return None
    message = say("volume `{volume}` has {count} drives; RAID {level} needs equal groups")
    if count < least:
        message = say("volume `{volume}` has {count} drives; RAID {level} needs {least}")
    return Finding(
        codes.VOLUME_TOO_SMALL,
        message.filled(volume=case.volume.name, count=count, level=level, least=least),
        Label(case.at("drives"), say("{count} drives", count=count)),
        notes=(why,) if why else (),
        help=say("use {least} drives or more", least=least) if count < least else "",
    )


def _no_spare(case: _VolumeCase) -> Finding | None:
    """SG347: hot spares that could take no member's place."""
    drives = _drives(case.members)
    for place in case.spares:
        (spare,) = _drives([place])
        why = cannot_stand_by(spare, drives, case.volume.level)
        if why is not None:
            return Finding(
                codes.SPARE_UNFIT,
                say(
                    "`{part}` in {place} cannot be a hot spare of volume `{volume}`: {why}",
                    part=spare.id,
                    place=place.name,
                    volume=case.volume.name,
                    why=why,
                ),
                Label(case.at("spares"), say("no spare for these members")),
                labels=(Label(place.at, say("fitted here")),),
                help=say(
                    "name a drive of {least} or more with the members' interface and medium, or "
                    "leave the spare out",
                    least=AsWritten(min(drive.capacity for drive in drives)),
                )
                if case.volume.level
                else say("leave the spare out, or choose a level with redundancy"),
            )
    return None


def _drives(places: Iterable[Place]) -> list[Drive]:
    return [place.part for place in places if isinstance(place.part, Drive)]


def _unequal(case: _VolumeCase) -> Finding | None:
    drives = _drives(case.members)
    sorts = {(drive.medium, drive.interface, drive.capacity) for drive in drives}
    if len(sorts) < 2:
        return None
    words = [
        say(
            "{interface} {medium} of {capacity}",
            interface=PROTOCOL.get(interface, interface),
            medium=closed_word(medium),
            capacity=AsWritten(size),
        )
        for medium, interface, size in sorted(sorts)
    ]
    least = min(drive.capacity for drive in drives)
    return Finding(
        codes.VOLUME_MIXED,
        say("volume `{volume}` joins unequal drives", volume=case.volume.name),
        Label(case.at("drives"), listed(words, "and")),
        notes=(say("every member counts as {least}, the smallest", least=AsWritten(least)),),
    )
