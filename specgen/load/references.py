"""Names that definitions use for one another: each must be defined somewhere."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from specgen.diagnostics import Code, Finding, Label, Span, codes, did_you_mean, meant, question
from specgen.diagnostics.unknown_names import NO_SUCH
from specgen.messages import NOTHING, say
from specgen.model import Cover, Definitions, Need, Origin, Part, Platform, Position
from specgen.model.fields import is_id

Known = Mapping[str, frozenset[str]]
Called = Mapping[str, tuple[str, ...]]
NAMED: Called = {}
NameUse = tuple[str, Span]

_NO_TOOL = say("name it under `tools` of specgen.yaml")
_FOLDERS = {
    codes.UNKNOWN_PART: "catalog",
    codes.UNKNOWN_PLATFORM: "platforms",
    codes.UNKNOWN_KIND: "kinds",
}


def unknown_references(
    definitions: Definitions, known: Known, unread: frozenset[str]
) -> Iterator[Finding]:
    """A finding for every name that nothing defines, in the order of the files' definitions.

    `unread` names the folders in which a file could not be read. What it defines is not known,
    so names of that sort are not judged. Nor is a name whose definition is there under an id that
    cannot be one: that is told.
    """
    malformed: dict[str, list[str]] = {}
    for finding in _unknown_references(definitions, known):
        folder = _FOLDERS.get(finding.code, "")
        if folder and folder not in malformed:
            malformed[folder] = [name for name in known[folder] if not is_id(name)]
        name = str(dict(finding.message.arguments).get("name", ""))
        if folder not in unread and not did_you_mean(name, malformed.get(folder, ())):
            yield finding


def _unknown_references(definitions: Definitions, known: Known) -> Iterator[Finding]:
    parts, platforms = known["catalog"], known["platforms"]
    kinds = {*definitions.kinds, *known["kinds"]}
    families = frozenset(family.id for family in definitions.project.families)
    for part in definitions.parts.values():
        uses = _part_uses(part.origin, part.brings.positions, part.needs)
        yield from _parts(uses, parts, definitions)
        if part.life.replaced_by:
            at = part.origin.at("life", "replaced_by")
            yield from _parts([(part.life.replaced_by, at)], parts, definitions)
        yield from _kinds(part.origin, ("brings", "positions"), part.brings.positions, kinds)
        yield from _needed_kinds(part.origin, ("needs",), part.needs, kinds)
        yield from _tools(part.origin, ("brings", "positions"), part.brings.positions, definitions)
    for platform in definitions.platforms.values():
        origin = platform.origin
        yield from _tools(origin, ("positions",), platform.positions, definitions)
        yield from _tools(origin, ("covers",), platform.covers, definitions)
        uses = _position_uses(origin, ("positions",), platform.positions)
        listed = [(name, origin.at("lists", at)) for at, name in enumerate(platform.lists)]
        yield from _parts([*uses, *listed], parts, definitions)
        yield from _kinds(origin, ("positions",), platform.positions, kinds)
        if platform.family not in families:
            at = origin.at("family")
            yield _unknown(codes.UNKNOWN_FAMILY, platform.family, at, families)
    for picture in definitions.illustrations.values():
        shown = [("callouts", at, each.part) for at, each in enumerate(picture.callouts)]
        shown += [("differs", at, each.part) for at, each in enumerate(picture.differs)]
        found = [(name, picture.origin.at(field, at, "part")) for field, at, name in shown if name]
        yield from _parts(found, parts, definitions)
    for build in definitions.builds.values():
        if build.platform not in platforms:
            at = build.origin.at("platform")
            called = _called(definitions.platforms)
            yield _unknown(codes.UNKNOWN_PLATFORM, build.platform, at, platforms, called)
        for name, fill in build.fit.items():
            short = build.origin.written("fit", name) is not None
            at = build.origin.at("fit", name) if short else build.origin.at("fit", name, "part")
            yield from _parts([(fill.part, at)], parts, definitions)


def _parts(
    uses: list[NameUse], parts: frozenset[str], definitions: Definitions
) -> Iterator[Finding]:
    for name, at in uses:
        if name not in parts:
            called = _called(definitions.parts)
            yield _unknown(codes.UNKNOWN_PART, name, at, parts, called)


def _part_uses(
    origin: Origin, positions: tuple[Position, ...], needs: tuple[Need, ...]
) -> list[NameUse]:
    return [
        *_position_uses(origin, ("brings", "positions"), positions),
        *_need_uses(origin, ("needs",), needs),
    ]


def _position_uses(
    origin: Origin, path: tuple[str | int, ...], positions: tuple[Position, ...]
) -> list[NameUse]:
    uses = []
    for index, position in enumerate(positions):
        for field in ("fixed", "blank"):
            name = getattr(position, field)
            if name:
                uses.append((name, origin.at(*path, index, field)))
        uses += _need_uses(origin, (*path, index, "needs"), position.needs)
    return uses


def _need_uses(
    origin: Origin, path: tuple[str | int, ...], needs: tuple[Need, ...]
) -> list[NameUse]:
    return [
        (name, origin.at(*path, index, "part"))
        for index, need in enumerate(needs)
        for name in need.part
    ]


def _tools(
    origin: Origin,
    path: tuple[str | int, ...],
    holders: tuple[Position | Cover, ...],
    definitions: Definitions,
) -> Iterator[Finding]:
    """Tools that positions and covers take."""
    known = frozenset(definitions.project.tools)
    for index, holder in enumerate(holders):
        for at, name in enumerate(holder.tool):
            if name not in known:
                span = origin.entry(at, *path, index, "tool")
                found = _unknown(codes.UNKNOWN_TOOL, name, span, known)
                yield found if found.help else replace(found, help=_NO_TOOL)


def _kinds(
    origin: Origin,
    path: tuple[str | int, ...],
    positions: tuple[Position, ...],
    kinds: Collection[str],
) -> Iterator[Finding]:
    """Kinds that positions take and need."""
    for index, position in enumerate(positions):
        for kind in position.takes:
            if kind not in kinds:
                yield _unknown_kind(kind, origin.at(*path, index, "takes"), kinds)
        yield from _needed_kinds(origin, (*path, index, "needs"), position.needs, kinds)


def _needed_kinds(
    origin: Origin, path: tuple[str | int, ...], needs: tuple[Need, ...], kinds: Collection[str]
) -> Iterator[Finding]:
    for index, need in enumerate(needs):
        if need.kind is not None and need.kind not in kinds:
            yield _unknown_kind(need.kind, origin.at(*path, index, "kind"), kinds)


def _unknown_kind(kind: str, at: Span, kinds: Collection[str]) -> Finding:
    return _unknown(codes.UNKNOWN_KIND, kind, at, frozenset(kinds))


def _unknown(
    code: Code, name: str, at: Span, candidates: frozenset[str], called: Called = NAMED
) -> Finding:
    """A name that nothing has; `called` gives the ids of things by what they are called."""
    ids = called.get(name.casefold(), ())
    one = len(ids) == 1
    help_ = say("write its id, `{name}`", name=ids[0]) if one else meant(name, candidates)
    if not help_ and called:
        slip = did_you_mean(name.casefold(), called, most=1)
        help_ = question(called[slip[0]]) if slip else NOTHING
    label = Label(at, say("not found among {count}", count=len(candidates)))
    return Finding(code, NO_SUCH[code].filled(name=name), label, help=help_)


def _called(things: Mapping[str, Part] | Mapping[str, Platform]) -> Called:
    """The ids of parts or platforms by their names and order numbers, in small letters."""
    found: dict[str, tuple[str, ...]] = {}
    for thing in things.values():
        for word in dict.fromkeys(filter(None, (thing.name, thing.number))):
            found[word.casefold()] = (*found.get(word.casefold(), ()), thing.id)
    return found
