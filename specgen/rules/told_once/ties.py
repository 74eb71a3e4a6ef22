"""What ties a finding to the mistake that it follows from."""

import re
from collections.abc import Callable, Mapping
from dataclasses import fields
from typing import Final

from specgen.assembly import Assembly
from specgen.diagnostics import Code, Finding, Severity, Span, codes
from specgen.messages import Naming
from specgen.model import Assumptions
from specgen.rules.told_once.told import Told, asked_by, line_of, names_in, rests_of, stem

Tie = Callable[[Told, Told], bool]
"""Whether the second finding hangs on the first."""


def anywhere(cause: Told, _other: Told) -> bool:
    """Whether the first is an error, wherever the second stands."""
    return cause.is_error


def in_one_file(cause: Told, other: Told) -> bool:
    """Whether both stand in one file."""
    return cause.finding.at.span.file == other.finding.at.span.file


def counted_in_its_file(cause: Told, other: Told) -> bool:
    """Whether a text tells of another number than there are, where something is not sound."""
    return in_one_file(cause, other) and "number" in other.finding.message.named


def in_one_build(cause: Told, other: Told) -> bool:
    """Whether both are of one build."""
    return cause.assembly is not None and cause.system == other.system


def at_one_place(cause: Told, other: Told) -> bool:
    """Whether the second is told at a place where the first stands."""
    return other.finding.at.span == cause.finding.at.span


def touching(cause: Told, other: Told) -> bool:
    """Whether the second speaks of the place where the first stands."""
    return cause.finding.at.span in other.spans


def sharing_a_place(cause: Told, other: Told) -> bool:
    """Whether two findings of definitions speak of one value."""
    own = cause.assembly is None and other.assembly is None
    return own and not set(cause.spans).isdisjoint(other.spans)


def sharing_a_definition(cause: Told, other: Told) -> bool:
    """Whether the second speaks of a line of the first's, which holds a definition in short."""
    lines = {line_of(span) for span in cause.spans}
    return any(line_of(span) in lines for span in other.spans)


def of_its_file(cause: Told, other: Told) -> bool:
    """Whether the second is of a build whose platform or one of whose parts is of the first's
    file."""
    if other.assembly is None:
        return False
    return any(file == cause.finding.at.span.file for file, _ in rests_of(other.assembly).lines)


def of_its_platform(cause: Told, other: Told) -> bool:
    """Whether the second is of a build of which the first says that it is named after another
    platform."""
    build = None if other.assembly is None else other.assembly.build
    return build is not None and build.origin.at("platform") in cause.spans[1:]


def of_its_position(cause: Told, other: Told) -> bool:
    """Whether a condition asks for a part that goes into no position, where a position of the same
    definition has the word that meets nothing."""
    return "part" in other.finding.message.named and in_one_file(cause, other)


def of_its_range(cause: Told, other: Told) -> bool:
    """Whether a build fills a position of a range that is shorter than what it hangs on."""
    said = cause.finding.message.named
    if "named" not in said or not of_its_file(cause, other):
        return False
    own = stem(re.split(r",|\.\.", str(said.get("name")))[0])
    return any(stem(name) == own for name in names_in(other.finding.message))


def without_an_id(cause: Told, _other: Told) -> bool:
    """Whether it is the name of a definition that is missing."""
    return cause.finding.message.named.get("name") == "id"


def of_one_pair(cause: Told, other: Told) -> bool:
    """Whether both tell of the same two things."""
    pairs = [
        {each.text for each in (told.finding.at, *told.finding.labels)} for told in (cause, other)
    ]
    return pairs[0] == pairs[1]


def sharing_a_name(cause: Told, other: Told) -> bool:
    """Whether both speak of a position of one name."""
    return not set(names_in(cause.finding.message)).isdisjoint(names_in(other.finding.message))


def of_its_size(cause: Told, other: Told) -> bool:
    """Whether an outline, or a weight, is held against a size that the first is about."""
    return any(line_of(span) == line_of(cause.finding.at.span) for span in other.spans[1:])


def sharing_a_line(cause: Told, other: Told) -> bool:
    """Whether two values of a build rest on a line that decides about both."""
    return in_one_build(cause, other) and not set(cause.spans).isdisjoint(other.spans)


def of_its_part(cause: Told, other: Told) -> bool:
    """Whether the second stands on a line of the part that the first says does not go in."""
    if other.assembly is None or not in_one_build(cause, other):
        return False
    at = line_of(other.finding.at.span)
    return cause.finding.at.span in rests_of(other.assembly).fitted.get(at, ())


def asking_for_its_field(cause: Told, other: Told) -> bool:
    """Whether a condition that comes to the same for all asks for the field of a doubted value."""
    asked = other.finding.message.named.get("text")
    return isinstance(asked, Naming) and cause.finding.message.named.get("name") in asked.names


def asking_for_its_position(cause: Told, other: Told) -> bool:
    """Whether a declared rule asks for the position whose own line has the mistake."""
    assembly = other.assembly
    if assembly is None or not in_one_build(cause, other):
        return False
    asked = map(assembly.places.get, asked_by(assembly, other.finding).positions)
    span = cause.finding.at.span
    return any(each and each.origin.at(*each.path, "from") == span for each in asked)


# --- findings of builds that hang on a definition

WORKED: Final = frozenset(
    {
        codes.SUPPLY_OVERLOADED, codes.REDUNDANCY_LOST, codes.INPUT_CURRENT,
        codes.VALUE_IMPOSSIBLE, codes.AIRFLOW_SHORT,
        codes.RACK_TOO_SHALLOW, codes.RAILS_LENGTH, codes.RAILS_OVERLOADED, codes.RACK_FULL,
        codes.RACK_OVERLOADED, codes.FLOOR_OVERLOADED, codes.RACK_TOO_NARROW,
    }
)  # fmt: skip
"""What is worked out of the values of everything in a system, and fails for them alone."""
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
    codes.CONTRADICTION: WORKED | {codes.VALUE_DOUBTFUL},
    codes.UNKNOWN_POSITION: JOINED,
    codes.SLIP: JOINED,
    codes.NOTHING_FITS: JOINED,
    codes.DOUBTFUL_UNIT: WORKED,
    codes.DOUBTFUL_VALUE: WORKED,
    codes.DOUBTFUL_CHANNEL: CHANNELLED,
}
"""What follows in every build that has the part, wherever it is told."""
SUMMED: Final = frozenset({"mass", "idle", "typical", "maximum", "output", "airflow"})
"""Fields that are added up over a system, or that the sum is held against."""
ASSUMED: Final = frozenset(each.name for each in fields(Assumptions))


def citing(cause: Told, other: Told) -> bool:
    """Whether a build fails at the very value of a definition, or follows from it for sure."""
    return (
        any(_holds(span, cause, other) for span in other.spans)
        or (_decides(cause.finding) and _joined(cause.finding, other))
        or _ruled(cause.finding, other)
    )


def resting_on(cause: Told, other: Told) -> bool:
    """Whether what a build fails for may hang on a mistake in one of its definitions."""
    found, line = other.finding, line_of(cause.finding.at.span)
    if other.assembly is None or found.severity is Severity.NOTE:
        return False
    rest = rests_of(other.assembly)
    return line in rest.lines and (
        not rest.fitted.get(line, frozenset()).isdisjoint(other.spans)
        or found.code in FOLLOWING.get(cause.finding.code, ())
        or rest.kinds.get(line) in asked_by(other.assembly, found).kinds
        or (found.code is codes.UNKNOWN_ENDPOINT and _alike_named(cause.finding, found))
    )


def _alike_named(cause: Finding, other: Finding) -> bool:
    """Whether the names in two findings differ in their numbers alone."""
    stems = {stem(name) for name in names_in(cause.message)}
    return any(stem(name) in stems for name in names_in(other.message))


def _ruled(cause: Finding, other: Told) -> bool:
    """Whether a declared rule asks for a condition, in a build that has it from that line."""
    named = cause.message.named.get("name")
    if other.assembly is None or other.assembly.conditions_at.get(str(named)) != cause.at.span:
        return False
    return named in asked_by(other.assembly, other.finding).conditions


def _holds(span: Span, cause: Told, other: Told) -> bool:
    """Whether a place is that of a mistake, or holds it; of what contradicts another, also that of
    the other; of a word, also a list on one line with it in."""
    found, at = cause.finding, cause.finding.at.span
    places = [at]
    if found.code is codes.CONTRADICTION:
        places += (label.span for label in found.labels)
    if span in places:
        return True
    own = [each for each in places if each.file == span.file]
    if own and other.assembly is not None:
        inside = _inside(other.assembly, span)
        if any(each in inside for each in own):
            return True
    one_line = (span.file, span.line, span.end_line) == (at.file, at.line, at.line)
    within = span.column <= at.column and span.end_column >= at.end_column
    return found.code in (codes.SLIP, codes.NOTHING_FITS) and one_line and within


def _inside(assembly: Assembly, span: Span) -> frozenset[Span]:
    """The places of what a field holds, in whatever definition of the build it stands."""

    def made() -> frozenset[Span]:
        parts = {part.id: part.origin for _, part in assembly.everything()}
        build = () if assembly.build is None else (assembly.build.origin,)
        origins = (assembly.platform.origin, *build, *parts.values())
        own = (each.inside(span) for each in origins if span.file in each.files)
        return frozenset().union(*own)

    return assembly.once((_inside, span), made)


def _decides(cause: Finding) -> bool:
    """Whether a doubt decides by itself: of a word that meets nothing, of a channel, of a value
    that sums over parts are made of."""
    named = cause.message.named.get("name")
    return (
        cause.code in (codes.SLIP, codes.DOUBTFUL_CHANNEL)
        or (cause.code in (codes.DOUBTFUL_UNIT, codes.DOUBTFUL_VALUE) and named in SUMMED)
        or _assumed(cause)
    )


def _assumed(cause: Finding) -> bool:
    return cause.code is codes.DOUBTFUL_VALUE and cause.message.named.get("name") in ASSUMED


def _joined(cause: Finding, other: Told) -> bool:
    """Whether a build that has the part fails in the way that follows."""
    if other.assembly is None or other.finding.code not in FOLLOWING[cause.code]:
        return False
    return _assumed(cause) or line_of(cause.at.span) in rests_of(other.assembly).lines
