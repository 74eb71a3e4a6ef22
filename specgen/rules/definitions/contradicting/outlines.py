"""Where positions and fixtures are said to lie: within their chassis, and none on another.

What a definition does not measure is not judged. Inside, things may lie over one another (bays
under the lid); there, and where a holder is only a rim round what it brings, only what lies on
another for the most part is told.
"""

from collections.abc import Iterable, Iterator, Set
from itertools import combinations
from typing import Final, NamedTuple

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.fitness.frames import Frame, frames, mm
from specgen.messages import AsWritten, Message, say
from specgen.model import Definitions, Origin, Outline, Part, Platform, Position
from specgen.model.pedigree import FieldPath
from specgen.model.rule import Rule
from specgen.quantity import Length
from specgen.rules.definitions.contradicting.contradiction import expanded
from specgen.rules.definitions.doubtful.unusual_values import CHASSIS

SLACK: Final = 1.0
"""Millimetres that are no matter: drawings of chassis are rounded. common practice, no source"""
MOSTLY: Final = 0.5
"""Of the smaller of two, where things may lie over one another."""
OPENING: Final = 450.0  # between the posts. Source: EIA/ECA-310-E
SEVERAL: Final = 4
"""So many outlines tell something about the chassis."""
HOLDERS: Final = frozenset({"riser", "backplane"})


class _Thing(NamedTuple):
    """Something with an outline: its name, side, frame, and where that is declared."""

    name: str
    area: str
    frame: Frame
    at: Span
    reach: Length | None
    holds: bool = False


def misplaced(definitions: Definitions) -> Iterator[Finding]:
    """SG119: outlines that lie outside of what they belong to, or on one another."""
    for platform in definitions.platforms.values():
        own = [*_positions(platform.origin, ("positions",), platform.positions), *_built(platform)]
        outside = [each for each in own if not _within(_room(platform, each.area), each.frame)]
        if _unusual(platform):
            continue  # a size that cannot be is told as that
        if len(outside) > MOSTLY * len(own) and len(own) >= SEVERAL:
            yield _too_small(platform, len(outside))
            continue
        yield from _outside(outside, platform)
        yield from _too_deep(own, platform)
        inside = [each for each in own if each not in outside]
        yield from _stacked(inside, _Apart.on(definitions, platform))
    for part in definitions.parts.values():
        yield from _brought(definitions, part)


def _unusual(platform: Platform) -> bool:
    size = platform.size
    return not all(least <= getattr(size, name) <= most for name, (least, most) in CHASSIS.items())


def _too_small(platform: Platform, count: int) -> Finding:
    """Most outlines lie outside: what is wrong is said once, of the chassis."""
    return Finding(
        codes.MISPLACED,
        say("{count} outlines lie outside of the chassis", count=count),
        Label(platform.origin.at("size"), say("of this size")),
        help=say("check the width, the height and the depth of the chassis"),
    )


def _positions(origin: Origin, path: FieldPath, positions: Iterable[Position]) -> Iterator[_Thing]:
    for index, position in enumerate(positions):
        if position.outline is None:
            continue
        at = origin.at(*path, index, "outline")
        holds = not HOLDERS.isdisjoint(position.takes)
        names = expanded(position.name.removeprefix("."))
        for name, frame in frames(position.outline, names).items():
            yield _Thing(name, position.area, frame, at, position.outline.depth, holds)


def _built(platform: Platform) -> Iterator[_Thing]:
    """Fixtures: buttons, lamps, sockets."""
    for index, fixture in enumerate(platform.fixtures):
        outline: Outline | None = fixture.outline
        if outline is not None:
            at = platform.origin.at("fixtures", index, "outline")
            numbers = tuple(map(str, range(fixture.count)))
            for frame in frames(outline, numbers).values():
                yield _Thing(fixture.name, fixture.area, frame, at, outline.depth)


def _room(platform: Platform, area: str) -> Frame:
    """What lies on a side has this much room: the front with its ears, the rear without."""
    size, body = platform.size, mm(platform.body_width)
    width = mm(size.width)
    if area == "inside":
        return Frame(0, 0, width, mm(size.depth))
    if area == "rear":
        width = min(width, body or OPENING)
    return Frame(0, 0, width, mm(size.height))


def _within(room: Frame, frame: Frame) -> bool:
    return Frame(
        room.x - SLACK, room.y - SLACK, room.width + 2 * SLACK, room.height + 2 * SLACK
    ).holds(frame)


def _outside(things: Iterable[_Thing], platform: Platform) -> Iterator[Finding]:
    told: set[Span] = set()
    for each in things:
        if each.at in told:
            continue
        told.add(each.at)
        size = platform.size
        whole: Message = say(
            "the chassis is {width} wide, {height} high and {depth} deep",
            width=AsWritten(size.width), height=AsWritten(size.height),
            depth=AsWritten(size.depth),
        )  # fmt: skip
        yield Finding(
            codes.MISPLACED,
            say("{name} lies outside of the chassis", name=each.name),
            Label(each.at, _extent(each.frame)),
            labels=(Label(platform.origin.at("size"), say("of this size")),),
            notes=(whole, FROM[each.area]),
            help=say("check the numbers and their units, and `step`, `down` and `columns`"),
        )


FROM: Final = {
    "front": say("`x` runs from the left and `y` from the top, seen from the front"),
    "rear": say("`x` runs from the left and `y` from the top, seen from the rear"),
    "inside": say("`x` runs from the left and `y` from the front inwards"),
}


def _extent(frame: Frame) -> Message:
    return say(
        "it reaches from {x} to {far} across, and from {y} to {low} mm",
        x=_plain(frame.x), far=_plain(frame.x + frame.width),
        y=_plain(frame.y), low=_plain(frame.y + frame.height),
    )  # fmt: skip


def _plain(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _too_deep(things: Iterable[_Thing], platform: Platform) -> Iterator[Finding]:
    told: set[Span] = set()
    for each in things:
        if each.reach is None or each.reach <= platform.size.depth or each.at in told:
            continue
        told.add(each.at)
        yield Finding(
            codes.MISPLACED,
            say("{name} is deeper than the chassis", name=each.name),
            Label(each.at, say("{depth} deep", depth=AsWritten(each.reach))),
            labels=(Label(platform.origin.at("size"), say("of this size")),),
            help=say("check the number and its unit"),
        )


class _Apart(NamedTuple):
    """Positions never both in use: a part takes one away, or a rule names both."""

    own: Set[str] = frozenset()
    blocked: Set[str] = frozenset()
    pairs: Set[frozenset[str]] = frozenset()

    def has(self, one: str, other: str) -> bool:
        either = one in self.blocked or other in self.blocked
        return (either and {one, other} <= self.own) or frozenset((one, other)) in self.pairs

    @classmethod
    def on(cls, definitions: Definitions, platform: Platform) -> "_Apart":
        own = {name for position in platform.positions for name in expanded(position.name)}
        texts = {text for part in definitions.parts.values() for text in part.blocks}
        blocked = own.intersection(name for text in texts for name in expanded(text))
        return cls(own, blocked, _parted_by_rules(definitions, platform, own))


def _parted_by_rules(
    definitions: Definitions, platform: Platform, own: Set[str]
) -> Set[frozenset[str]]:
    apart: set[frozenset[str]] = set()
    family = next((f for f in definitions.project.families if f.id == platform.family), None)
    rules: tuple[Rule, ...] = (*platform.rules, *(family.rules if family is not None else ()))
    for rule in rules:
        text = " ".join(filter(None, (rule.when, rule.require, rule.forbid)))
        named = [name for name in own if f'"{name}"' in text]
        apart.update(frozenset(pair) for pair in combinations(named, 2))
    return apart


def _stacked(things: list[_Thing], apart: _Apart) -> Iterator[Finding]:
    """Each outline that lies on another, told once, at the one that is declared later."""
    told: set[frozenset[Span]] = set()
    for first, second in combinations(things, 2):
        if first.area != second.area or not _lies_on(first, second):
            continue
        pair = frozenset((first.at, second.at))
        if pair in told or apart.has(first.name, second.name):
            continue
        told.add(pair)
        labels = (Label(first.at, _extent(first.frame)),) if first.at != second.at else ()
        step = say("a range goes on by `step` to the right, and by `down` after so many `columns`")
        yield Finding(
            codes.STACKED,
            say("{name} lies on {other}", name=second.name, other=first.name),
            Label(second.at, _extent(second.frame)),
            labels=labels,
            help=step if first.at == second.at else say("check the numbers of both"),
        )


def _lies_on(first: _Thing, second: _Thing) -> bool:
    if first.area == "inside" and (first.holds or second.holds):
        return False  # bays under the lid, a riser over the board
    one, other = first.frame, second.frame
    across = min(one.x + one.width, other.x + other.width) - max(one.x, other.x)
    down = min(one.y + one.height, other.y + other.height) - max(one.y, other.y)
    if across <= SLACK or down <= SLACK:
        return False
    if first.area != "inside" and not first.holds and not second.holds:
        return True
    return across * down > MOSTLY * min(one.width * one.height, other.width * other.height)


def _brought(definitions: Definitions, part: Part) -> Iterator[Finding]:
    """Positions that a part brings: within the outline of the position that it goes into."""
    own = list(_positions(part.origin, ("brings", "positions"), part.brings.positions))
    if not own:
        return
    told: set[Span] = set()
    for platform, host in _hosts(definitions, part):
        for each in own:
            outline = host.outline if host.area == each.area else None
            room = _room(platform, each.area)
            if outline is not None:
                room = Frame(0, 0, mm(outline.width), mm(outline.height))
            if each.at in told or _within(room, each.frame):
                continue
            told.add(each.at)
            yield Finding(
                codes.MISPLACED,
                say("{name} lies outside of {host} of `{platform}`", name=each.name,
                    host=host.name, platform=platform.id)
                if outline is not None
                else say("{name} lies outside of the chassis of `{platform}`", name=each.name,
                         platform=platform.id),
                Label(each.at, _extent(each.frame)),
                labels=(
                    Label(
                        platform.origin.at("positions", platform.positions.index(host), "outline")
                        if outline is not None else platform.origin.at("size"),
                        say("there is room for {width} by {height} mm", width=_plain(room.width),
                            height=_plain(room.height)),
                    ),
                ),
                notes=(
                    say("outlines of what a part brings begin at the outline of its position"),
                ) if outline is not None else (FROM[each.area],),
                help=say("check the numbers and their units, and `step`, `down` and `columns`"),
            )  # fmt: skip
    yield from _stacked([each for each in own if each.at not in told], _Apart())


def _hosts(definitions: Definitions, part: Part) -> Iterator[tuple[Platform, Position]]:
    """Positions of platforms that are keyed for a part, where something is measured."""
    key = getattr(part, "key", ())
    for platform in definitions.platforms.values():
        for position in platform.positions:
            fits = part.kind in position.takes and not set(position.key).isdisjoint(key)
            if fits and (position.outline is not None or position.area == "inside"):
                yield platform, position
