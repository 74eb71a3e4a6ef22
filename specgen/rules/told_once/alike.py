"""What is alike is told once: of one place, of one name, of the one line that several rest on."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Label, Span, codes, nearest_numbers
from specgen.grouped import grouped
from specgen.messages import Message, say, say_many
from specgen.model import Build
from specgen.rules.places import in_build
from specgen.rules.told_once.following import CLASHING, SEVERAL, so
from specgen.rules.told_once.told import (
    MOST_NAMED,
    Line,
    Told,
    builds_of,
    line_of,
    names_in,
    rests_of,
)

NAMES: Final = frozenset(
    {
        codes.UNKNOWN_PART, codes.UNKNOWN_PLATFORM, codes.UNKNOWN_FAMILY, codes.UNKNOWN_KIND,
        codes.DRAFT_NAMED, codes.NOTHING_FITS,
    }
)  # fmt: skip
"""Names that nobody has, or nobody may see: told where one is used first, with the others."""


def of_one_place(told: Iterable[Told]) -> list[Told]:
    """Of findings that say the same of one place, with other arguments, one with what all say."""
    groups = grouped(
        ((each.system, each.finding.code, each.finding.at.span, each.finding.message.text), each)
        for each in map(_of_definition, told)
    )
    return [_with_words(first, others) for first, *others in groups.values()]


def _of_definition(told: Told) -> Told:
    """A position that is brought twice, and a link from nowhere, are mistakes of their definition,
    though builds find them."""
    found, assembly = told.finding, told.assembly
    if found.code is codes.DUPLICATE_POSITION:
        return Told(found)
    if found.code is codes.UNKNOWN_ENDPOINT and assembly is not None:
        return told if in_build(assembly, found.at.span) else Told(found)
    return told


def _with_words(first: Told, others: Sequence[Told]) -> Told:
    """A finding, with what others say that it does not."""
    more = dict.fromkeys(each.finding.message for each in others)
    notes = tuple(words for words in more if words != first.finding.message)
    if not notes:
        return first
    return replace(first, finding=replace(first.finding, notes=(*first.finding.notes, *notes)))


def of_one_value(told: Sequence[Told]) -> list[Told]:
    """Values of several parts that do not go with one that they have in common: it is that one."""
    groups = grouped(
        ((each.finding.code, each.finding.labels[0].span), each)
        for each in told
        if each.assembly is None and each.finding.code in CLASHING and each.finding.labels
    )
    common = [each for each in groups.values() if len({x.finding.at.span for x in each}) > 1]
    instead = {id(first): [first, *others] for first, *others in common}
    gone = {id(each) for _, *others in common for each in others}
    return [
        Told(_at_common(instead[id(each)])) if id(each) in instead else each
        for each in told
        if id(each) not in gone
    ]


def _at_common(group: Sequence[Told]) -> Finding:
    first, number = group[0].finding, len(group)
    labels = (Label(each.finding.at.span, each.finding.message) for each in group[:MOST_NAMED])
    return replace(
        first,
        message=say(
            "{number} values do not go with what is stated here for all of them", number=number
        ),
        at=Label(first.labels[0].span, say("a digit, a unit or a word is probably another")),
        labels=tuple(labels),
    )


def of_absent(told: Sequence[Told]) -> list[Told]:
    """A position that builds fill and that a platform no longer has: said once, where the platform
    speaks of it, or has the nearest."""
    made: dict[int, Told] = dict(enumerate(told))
    missing = {
        at: frozenset(names_in(each.finding.message))
        for at, each in made.items()
        if each.finding.code is codes.UNKNOWN_POSITION
    }
    known = {name: at for at in missing if made[at].assembly is None for name in missing[at]}
    builds = ((at, made[at].assembly) for at in missing)
    groups = grouped(
        ((assembly.platform.id, missing[at]), (at, assembly))
        for at, assembly in builds
        if assembly is not None and in_build(assembly, made[at].finding.at.span)
    )
    for (_, names), members in groups.items():
        told_at = next((known[name] for name in sorted(names) if name in known), None)
        spans = dict.fromkeys(made[at].finding.at.span for at, _ in members)
        labels = tuple(Label(span, say("filled here")) for span in [*spans][:MOST_NAMED])
        if told_at is not None:
            found = made[told_at].finding
            made[told_at] = Told(replace(found, labels=(*found.labels, *labels)))
        elif len(members) >= min(SEVERAL, max(2, _builds_of(members[0][1]))):
            first, assembly = members.pop(0)
            found = _of_platform(made[first].finding, assembly, names, labels)
            count = len(members) + 1
            filled = say_many(count, "{number} build fills it", "{number} builds fill it")
            made[first] = Told(replace(found, notes=(*found.notes, filled)))
        else:
            continue
        for at, _ in members:
            del made[at]
    return list(made.values())


def _builds_of(assembly: Assembly) -> int:
    """How many builds the platform of one has."""
    every = assembly.definitions.builds.values()
    return sum(each.platform == assembly.platform.id for each in every)


def _of_platform(
    first: Finding, assembly: Assembly, names: Iterable[str], labels: tuple[Label, ...]
) -> Finding:
    each_near = (nearest_numbers(name, assembly.places) for name in sorted(names))
    near = next((name for found in each_near for name in found), None)
    if near is None:
        return replace(first, labels=(*first.labels, *labels[1:]))
    at = Label(assembly.places[near].declared_at, say("the nearest is {name}", name=near))
    return replace(first, at=at, labels=labels)


def of_one_line(told: Sequence[Told], systems: Sequence[Assembly]) -> list[Told]:
    """Several builds that fail alike at one line of a definition, told at that line: three, or two
    where no other has it. Of several such lines it is the one that most fail at, then the one that
    the findings name first."""
    made: dict[int, Told] = dict(enumerate(told))
    groups: dict[tuple[Code, Span], list[int]] = {}
    first_named: dict[tuple[Code, Span], int] = {}
    for at, each in made.items():
        if each.assembly is None or not each.is_error:
            continue
        found = each.finding
        for rank, span in enumerate(dict.fromkeys(label.span for label in found.labels)):
            if span.file != found.at.span.file:
                groups.setdefault((found.code, span), []).append(at)
                first_named.setdefault((found.code, span), rank)

    def weight(group: tuple[Code, Span]) -> tuple[int, int, Span]:
        return -len(builds_of(made[at] for at in groups[group])), first_named[group], group[1]

    for code, span in sorted(groups, key=weight):
        left = [at for at in groups[code, span] if at in made]
        number = len(builds_of(made[at] for at in left))
        declared = code.id not in codes.CODES  # a rule of the project's, seldom the mistake itself
        if number < 2 or (number < SEVERAL and (declared or number < _holders(systems, span))):
            continue
        made[left[0]] = Told(_at_line([made[at] for at in left], span))
        for at in left[1:]:
            del made[at]
    return list(made.values())


def _at_line(group: Sequence[Told], span: Span) -> Finding:
    first = group[0].finding
    words = next(label.text for label in first.labels if label.span == span)
    others = tuple(label for label in first.labels if label.span != span)
    return replace(
        first,
        at=Label(span, words),
        labels=(first.at, *others),
        notes=(*first.notes, so(group)),
    )


def _holders(systems: Iterable[Assembly], span: Span) -> int:
    """How many builds rest on a line of a definition."""
    return sum(line_of(span) in rests_of(assembly).lines for assembly in systems)


def of_one_name(told: Iterable[Told]) -> list[Told]:
    """One finding for each name that nobody has, with the other places that use it."""
    made: dict[object, Told] = {}
    for number, each in enumerate(sorted(told, key=lambda each: each.finding.sort_key)):
        found = each.finding
        named = found.code in NAMES
        key = (found.code, found.message) if named else number
        known = made.setdefault(key, each).finding
        if known is not found and len(known.labels) < MOST_NAMED:
            label = Label(found.at.span, say("and here"))
            raised = known.raised or each.is_error
            made[key] = Told(replace(known, labels=(*known.labels, label), raised=raised))
    return list(made.values())


def taken_over(told: Sequence[Told]) -> list[Told]:
    """What is found in a build on a line that it takes over from another: nothing where the other
    has it too, else with the line that takes it over."""
    if not any(_like(each) for each in told):
        return [*told]
    known = {_key(each) for each in told if not _like(each)}
    made = []
    for each in told:
        like = _like(each)
        if like is None or line_of(each.finding.at.span) not in _lines_of(like, each):
            made.append(each)
        elif _key(each) not in known:
            known.add(_key(each))
            label = Label(like.origin.at("like"), say("taken over by `{id}`", id=like.id))
            found = replace(each.finding, labels=(*each.finding.labels, label))
            made.append(Told(found, each.assembly))
    return made


def _like(told: Told) -> Build | None:
    """The build that a finding is of, where it is like another."""
    build = None if told.assembly is None else told.assembly.build
    return build if build is not None and build.like is not None else None


def _lines_of(build: Build, told: Told) -> frozenset[Line]:
    """The lines of what a build is like."""
    assembly = told.assembly
    base = None if assembly is None else assembly.definitions.builds.get(build.like or "")
    if assembly is None or base is None:
        return frozenset()
    origin = base.origin
    return assembly.once(_lines_of, lambda: frozenset(map(line_of, origin.everywhere())))


def _key(told: Told) -> tuple[Code, Span, Message]:
    return told.finding.code, told.finding.at.span, told.finding.message
