"""One cause is told once: what follows from a wrong word of a definition goes with that word.

Whatever keeps a build from being made stays an error of that build; only the list that people and
programs read is shortened. Nothing is taken out of it that leaves no error behind.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import fields, replace
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Label, Severity, Span, arrange, codes
from specgen.diagnostics.suggest import quoted
from specgen.frozen import frozen
from specgen.messages import Message, say, say_many
from specgen.model import Assumptions
from specgen.rules.one_cause import MOST_NAMED, SEVERAL, Split, Told, holders, once

Systems = Iterable[tuple[Assembly, Sequence[Finding]]]

WORKED: Final = frozenset(
    {
        codes.SUPPLY_OVERLOADED, codes.REDUNDANCY_LOST, codes.INPUT_CURRENT,
        codes.VALUE_IMPOSSIBLE, codes.VALUE_DOUBTFUL, codes.AIRFLOW_SHORT,
        codes.RACK_TOO_SHALLOW, codes.RAILS_LENGTH, codes.RAILS_OVERLOADED, codes.RACK_FULL,
        codes.RACK_OVERLOADED, codes.FLOOR_OVERLOADED, codes.RACK_TOO_NARROW,
    }
)  # fmt: skip
"""What is worked out of the values of everything in a system."""
JOINED: Final = frozenset(
    {
        codes.NEED_UNMET, codes.RESOURCE_OVERCOMMITTED, codes.WRONG_CONNECTOR,
        codes.UNKNOWN_ENDPOINT, codes.CORD_MISMATCH, codes.TRANSCEIVER_MISMATCH,
        codes.WRONG_SOCKET, codes.WRONG_KEY,
    }
)  # fmt: skip
"""What follows where the ends of two things are not called alike."""
CHANNELLED: Final = frozenset(
    {
        codes.UNBALANCED_MEMORY,
        codes.MEMORY_CHANNELS,
        codes.POPULATION_ORDER,
        codes.UNUSABLE_POSITION,
        codes.VALUE_DOUBTFUL,
    }
)
"""What follows where a slot stands on another channel than it should."""
FOLLOWING: Final[Mapping[Code, frozenset[Code]]] = {
    codes.CONTRADICTION: WORKED,
    codes.UNKNOWN_POSITION: JOINED,
    codes.SLIP: JOINED,
    codes.NOTHING_FITS: JOINED,
    codes.DOUBTFUL_UNIT: WORKED,
    codes.DOUBTFUL_VALUE: WORKED,
    codes.DOUBTFUL_CHANNEL: CHANNELLED,
}
"""What follows in every build that has the part, wherever it is told."""
DOUBTS: Final = frozenset(
    {
        codes.DOUBTFUL_UNIT, codes.DOUBTFUL_VALUE, codes.DOUBTFUL_CHANNEL, codes.SLIP,
        codes.NOTHING_FITS,
    }
)  # fmt: skip
"""Warnings that are mistakes where a build fails at the very value that they are about."""
NAMES: Final = frozenset(
    {
        codes.UNKNOWN_PART, codes.UNKNOWN_PLATFORM, codes.UNKNOWN_FAMILY, codes.UNKNOWN_KIND,
        codes.DRAFT_NAMED, codes.NOTHING_FITS,
    }
)  # fmt: skip
"""Names that nobody has, or nobody may see: told where one is used first, with the others."""


def gathered(general: Iterable[Finding], systems: Systems) -> tuple[Finding, ...]:
    """Everything found, each cause once; `systems` are the builds with what was found in each."""
    own = list(dict.fromkeys(general))
    systems = tuple(systems)
    told = [Told(assembly, each) for assembly, found in systems for each in found]
    errors = [each for each in (*own, *(one.finding for one in told)) if _error(each)]
    doubtful = any(each.code in DOUBTS for each in own)
    if not doubtful and not errors:  # nothing follows from nothing
        return arrange(_names([*own, *(each.finding for each in told)]))
    own, told = once(own, told)
    own, told = _with_causes(own, told)
    own, told = _shared(own, told, tuple(assembly for assembly, _ in systems))
    everything = _names([*own, *(each.finding for each in told)])
    if any(_error(each) and each.code is not codes.OF_UNSOUND for each in everything):
        everything = [each for each in everything if each.code is not codes.OF_UNSOUND]
    return arrange(everything)


def _error(finding: Finding) -> bool:
    return finding.severity is Severity.ERROR


def _with_causes(own: list[Finding], told: list[Told]) -> Split:
    """Mistakes of definitions, each with the builds that fail for it; what failed is left out."""
    rests = _rests(told)
    made: list[Finding] = []
    gone: set[int] = set()
    for cause in own:
        following = list(_following(cause, told, rests)) if _may_cause(cause) else []
        fatal = any(_error(told[at].finding) for at in following)
        decided = cause.code is codes.DOUBTFUL_CHANNEL
        if not following or not (_error(cause) or fatal or decided):
            made.append(cause)
            continue
        gone.update(following)
        ids = sorted({told[at].system for at in following})
        made.append(replace(cause, notes=(*cause.notes, _so(ids)), raised=fatal or cause.raised))
    return made, [each for at, each in enumerate(told) if at not in gone]


def _may_cause(finding: Finding) -> bool:
    return finding.code in DOUBTS or (_error(finding) and finding.code.id < "SG3")


def _so(ids: Sequence[str]) -> Message:
    return say_many(
        len(ids),
        "for this, {number} build is not sound: {names}",
        "for this, {number} builds are not sound: {names}",
        names=quoted([*ids[:MOST_NAMED], *(["…"] if len(ids) > MOST_NAMED else [])]),
    )


@frozen
class _Rests:
    """What a build rests on: the lines of each of its definitions, and where it has them."""

    lines: frozenset[tuple[str, int]]
    """Of its platform and its parts."""
    fitted: Mapping[tuple[str, int], frozenset[Span]]
    """By a line of a part: the lines of the build that it is fitted by."""
    called: Mapping[tuple[str, int], str]
    """And what rules call all parts of its kind."""


def _rests(told: Iterable[Told]) -> Mapping[str, _Rests]:
    made: dict[str, _Rests] = {}
    for each in told:
        assembly = each.assembly
        if each.system in made or each.finding.severity is Severity.NOTE:
            continue
        lines = {(span.file, span.line) for span in assembly.platform.origin.everywhere()}
        fitted: dict[tuple[str, int], set[Span]] = {}
        called: dict[tuple[str, int], str] = {}
        seen: dict[str, frozenset[tuple[str, int]]] = {}
        for place, part in assembly.everything():
            if part.id not in seen:
                spans = part.origin.everywhere()
                seen[part.id] = frozenset((span.file, span.line) for span in spans)
                called.update(dict.fromkeys(seen[part.id], part.collection()))
            lines |= seen[part.id]
            if place.filled_at is not None:
                for line in seen[part.id]:
                    fitted.setdefault(line, set()).add(place.filled_at)
        kept = {line: frozenset(spans) for line, spans in fitted.items()}
        made[each.system] = _Rests(frozenset(lines), kept, called)
    return made


def _following(cause: Finding, told: Sequence[Told], rests: Mapping[str, _Rests]) -> Iterator[int]:
    """The findings of builds that follow from a mistake in a definition, by their numbers."""
    line = (cause.at.span.file, cause.at.span.line)
    exact = {
        at
        for at, each in enumerate(told)
        if any(_holds(label.span, cause) for label in each.finding.labels)
        or (_decides(cause) and _joined(cause, each, rests))
    }
    yield from sorted(exact)
    if not exact and not _error(cause):
        return  # what is doubtful may be meant
    for at, each in enumerate(told):
        rest, found = rests.get(each.system), each.finding
        if at in exact or rest is None or line not in rest.lines:
            continue
        fitted = rest.fitted.get(line, frozenset())
        touched = any(span in fitted for span in (found.at.span, *(x.span for x in found.labels)))
        if found.severity is Severity.NOTE:
            continue
        if (
            touched
            or found.code in FOLLOWING.get(cause.code, ())
            or rest.called.get(line, " ") in _rule_text(each)
        ):
            yield at


def _rule_text(told: Told) -> str:
    """What the declared rule asks of which a finding tells; "" of a check of ours."""
    code, assembly = told.finding.code.id, told.assembly
    if code in codes.CODES:
        return ""
    project = assembly.definitions.project
    rules = [*project.rules, *assembly.platform.rules]
    rules += [rule for family in project.families for rule in family.rules]
    rules += [rule for _, part in assembly.everything() for rule in part.rules]
    found = next((rule for rule in rules if rule.code == code), None)
    texts = () if found is None else (found.when, found.require, found.forbid)
    return " ".join(filter(None, texts))


def _holds(span: Span, cause: Finding) -> bool:
    """Whether a place is that of a cause: of what contradicts another, also that of the other; of
    a word, also a list on one line with it in."""
    if cause.code is codes.CONTRADICTION and any(label.span == span for label in cause.labels):
        return True
    other = cause.at.span
    if span == other or cause.code not in (codes.SLIP, codes.NOTHING_FITS):
        return span == other
    one_line = (span.file, span.line, span.end_line) == (other.file, other.line, other.line)
    return one_line and span.column <= other.column and span.end_column >= other.end_column


SUMMED: Final = frozenset({"mass", "idle", "typical", "maximum", "output"})
"""Fields that are added up over a system, or that the sum is held against."""


ASSUMED: Final = frozenset(each.name for each in fields(Assumptions))


def _decides(cause: Finding) -> bool:
    """Whether a doubt decides by itself: of a word that meets nothing, of a channel, of a value
    that sums over parts are made of."""
    named = dict(cause.message.arguments).get("name")
    return (
        cause.code in (codes.SLIP, codes.DOUBTFUL_CHANNEL)
        or (cause.code in (codes.DOUBTFUL_UNIT, codes.DOUBTFUL_VALUE) and named in SUMMED)
        or _assumed(cause)
    )


def _assumed(cause: Finding) -> bool:
    named = dict(cause.message.arguments).get("name")
    return cause.code is codes.DOUBTFUL_VALUE and named in ASSUMED


def _joined(cause: Finding, each: Told, rests: Mapping[str, _Rests]) -> bool:
    """Whether a build that has the part fails in the way that follows."""
    rest = rests.get(each.system)
    line = (cause.at.span.file, cause.at.span.line)
    rests_on_it = _assumed(cause) or (rest is not None and line in rest.lines)
    return rests_on_it and each.finding.code in FOLLOWING[cause.code]


def _shared(own: list[Finding], told: list[Told], systems: Sequence[Assembly]) -> Split:
    """Several builds that fail alike at one line of a definition, told at that line: three, or two
    where no other has it."""
    groups: dict[tuple[Code, Span], list[int]] = {}
    for at, each in enumerate(told):
        found = each.finding
        if not _error(found):
            continue
        for span in {label.span for label in found.labels if label.span.file != found.at.span.file}:
            groups.setdefault((found.code, span), []).append(at)
    made, gone = list(own), set[int]()
    ranked = sorted(groups.items(), key=lambda item: (-_builds(told, item[1]), item[0][1]))
    for (code, span), members in ranked:
        left = [at for at in members if at not in gone]
        number = _builds(told, left)
        declared = code.id not in codes.CODES  # a rule of the project's, seldom the mistake itself
        if number < 2 or (number < SEVERAL and (declared or number < holders(systems, span))):
            continue
        gone.update(left)
        first = told[left[0]].finding
        words = next(label.text for label in first.labels if label.span == span)
        others = tuple(label for label in first.labels if label.span != span)
        ids = sorted({told[at].system for at in left})
        made.append(
            replace(
                first,
                at=Label(span, words),
                labels=(first.at, *others),
                notes=(*first.notes, _so(ids)),
            )
        )
    return made, [each for at, each in enumerate(told) if at not in gone]


def _builds(told: Sequence[Told], members: Iterable[int]) -> int:
    return len({told[at].system for at in members})


def _names(found: list[Finding]) -> list[Finding]:
    """One finding for each name that nobody has, with the other places that use it."""
    first: dict[tuple[Code, str], int] = {}
    made: list[Finding] = []
    for each in sorted(found, key=lambda finding: finding.sort_key):
        key = (each.code, str(each.message))
        if each.code not in NAMES or key not in first:
            first.setdefault(key, len(made))
            made.append(each)
            continue
        known = made[first[key]]
        if len(known.labels) < MOST_NAMED:
            label = Label(each.at.span, say("and here"))
            raised = known.raised or _error(each)
            made[first[key]] = replace(known, labels=(*known.labels, label), raised=raised)
    return made
