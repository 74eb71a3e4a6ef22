"""What follows from a mistake and is told with it: a row for each sort of mistake.

The rows are gone through in their order, so the first that can explain a finding does. What was
explained explains nothing itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from enum import Enum, auto
from typing import Final

from specgen.diagnostics import Code, Finding, Label, Severity, Span, codes
from specgen.diagnostics.suggest import quoted
from specgen.frozen import frozen
from specgen.messages import Listed, Message, say_many
from specgen.rules.told_once.hanging import hanging_on
from specgen.rules.told_once.ties import (
    WORKED,
    Tie,
    anywhere,
    asking_for_its_field,
    asking_for_its_position,
    at_one_place,
    citing,
    counted_in_its_file,
    in_one_build,
    in_one_file,
    of_its_file,
    of_its_part,
    of_its_platform,
    of_its_position,
    of_its_range,
    of_its_size,
    of_one_pair,
    resting_on,
    sharing_a_definition,
    sharing_a_line,
    sharing_a_name,
    sharing_a_place,
    touching,
    without_an_id,
)
from specgen.rules.told_once.told import MOST_NAMED, Told, builds_of

Codes = frozenset[Code]


class Telling(Enum):
    """How a mistake tells of what follows from it."""

    NOT = auto()
    """Nothing is lost: it says the same, or comes back by itself with what is mended."""
    BESIDE = auto()
    """Each at its line, beside the mistake's own."""
    BY_BUILDS = auto()
    """The builds that are not sound for it, where any is."""


@frozen
class Row:
    """Mistakes, what may follow from them (anything, where it is None), and what ties the two.

    Where a tie is there, or where the mistake is an error, what is tied by `wider` follows as well:
    what is only doubtful may be meant. `least` is how many must follow before any does.
    """

    of: Codes | None
    follows: Codes | None
    tie: Tie
    shown: Telling = Telling.BESIDE
    wider: Tie | None = None
    least: int = 1
    of_one: bool = False
    """Whether all that follows must say the same: one name that nobody has, wherever used."""


NOT_FITTING: Final = frozenset(
    {
        codes.WRONG_KIND, codes.WRONG_SOCKET, codes.WRONG_CONNECTOR, codes.WRONG_KEY,
        codes.TOO_TALL, codes.TOO_LONG, codes.NOT_LISTED, codes.WRONG_INTERFACE,
        codes.WRONG_SWAP,
    }
)  # fmt: skip
"""A part that does not go in; what it lacks there says nothing."""
LACKING: Final = frozenset({codes.UNKNOWN_ENDPOINT, codes.LANES_OVERCOMMITTED})
LIMITS: Final = frozenset({codes.SOCKET_TDP, codes.HEATSINK_TDP})
"""What holds a part against the place that it is in."""
AFTER_TWICE: Final = frozenset(
    {
        codes.UNKNOWN_POSITION,
        codes.POSITION_MUST_BE_FILLED,
        codes.UNBALANCED_MEMORY,
        codes.MIXED_MEMORY,
    }
)
"""What a build finds where a position has the name of another."""
HANGING: Final = frozenset(
    {
        codes.UNKNOWN_POSITION, codes.UNKNOWN_ENDPOINT, codes.UNUSABLE_POSITION,
        codes.BLOCKED_POSITION, codes.POSITION_MUST_BE_FILLED, codes.SUPPLY_MISSING,
        codes.SPLIT_IMPOSSIBLE, codes.PROTOCOL_MISMATCH, codes.CONNECTOR_TAKEN,
        codes.RAID_UNSUPPORTED, codes.VOLUME_MEMBER, codes.VOLUME_SPLIT, codes.VALUE_DOUBTFUL,
        codes.DUPLICATE_POSITION, codes.LANES_OVERCOMMITTED, codes.SLOT_POWER,
    }
)  # fmt: skip
"""What a build finds where something that it rests on is missing or another."""
DOUBTS: Final = frozenset(
    {
        codes.DOUBTFUL_UNIT, codes.DOUBTFUL_VALUE, codes.DOUBTFUL_CHANNEL, codes.SLIP,
        codes.NOTHING_FITS,
    }
)  # fmt: skip
"""Warnings that are mistakes where a build fails at the very value that they are about."""
DOUBTED: Final = frozenset({codes.DOUBTFUL_UNIT, codes.DOUBTFUL_VALUE})
CLASHING: Final = DOUBTED | {codes.CONTRADICTION}
"""What holds one value of a definition against another, or against what is usual."""
UNNAMED: Final = frozenset({codes.UNKNOWN_PART, codes.UNKNOWN_PLATFORM})
SEVERAL: Final = 3
"""So many are no mistakes of their own."""
DEFINITIONS: Final = frozenset(
    code for name, code in codes.CODES.items() if name < "SG3" and code.severity is Severity.ERROR
)
"""Mistakes that are seen in definitions alone."""


def _of(*found: Code) -> Codes:
    return frozenset(found)


ROWS: Final[tuple[Row, ...]] = (
    # of definitions
    Row(_of(codes.NUMBER_TWICE), _of(codes.NAMES_ALIKE), of_one_pair, Telling.NOT),
    Row(_of(codes.SLIP), _of(codes.SLIP), at_one_place, Telling.NOT),
    Row(_of(codes.UNKNOWN_POSITION), _of(codes.CONTRADICTION), at_one_place, Telling.NOT),
    Row(DOUBTED, CLASHING, touching),
    Row(_of(codes.CONTRADICTION), CLASHING, sharing_a_place),
    Row(CLASHING, CLASHING | _of(codes.TOLD_OTHERWISE), sharing_a_place),
    Row(
        DEFINITIONS | DOUBTED,
        _of(codes.MISPLACED, codes.DOUBTFUL_VALUE),
        of_its_size,
        Telling.NOT,
    ),
    Row(
        _of(codes.NOTHING_FITS),
        _of(codes.CONTRADICTION, codes.WRONG_KIND, codes.TOLD_OTHERWISE),
        sharing_a_definition,
    ),
    Row(_of(codes.CONTRADICTION), _of(codes.WRONG_KIND), touching),
    Row(_of(codes.SLIP), _of(codes.CONTRADICTION), touching),
    Row(_of(codes.UNSTATED), _of(codes.CONTRADICTION), sharing_a_definition),
    Row(_of(codes.SLIP, codes.NOTHING_FITS), _of(codes.IDLE_CONDITION), of_its_position),
    Row(CLASHING, _of(codes.IDLE_CONDITION), asking_for_its_field),
    # names that nobody has since the one who should is named otherwise
    Row(_of(codes.MISSING_FIELD), _of(codes.DUPLICATE_NAME), sharing_a_definition),
    Row(_of(codes.DUPLICATE_NAME, codes.DUPLICATE_KEY), UNNAMED, anywhere, of_one=True),
    Row(_of(codes.MISSING_FIELD, codes.WRONG_TYPE), UNNAMED, without_an_id, of_one=True),
    Row(_of(codes.DUPLICATE_KEY), _of(codes.UNKNOWN_ENDPOINT), of_its_file, Telling.BY_BUILDS),
    Row(_of(codes.DUPLICATE_NAME), _of(codes.VOLUME_MEMBER), sharing_a_name),
    Row(_of(codes.CONTRADICTION), _of(codes.UNKNOWN_POSITION), of_its_range, Telling.BY_BUILDS),
    Row(_of(codes.TOLD_OTHERWISE), None, of_its_platform, Telling.BY_BUILDS, least=SEVERAL),
    # of builds, for the names in definitions
    Row(_of(codes.DUPLICATE_POSITION), _of(codes.UNKNOWN_POSITION), in_one_file, Telling.NOT),
    Row(
        _of(codes.DUPLICATE_POSITION, codes.POSITION_FILLED_TWICE),
        AFTER_TWICE,
        in_one_build,
        Telling.NOT,
    ),
    # of builds, for a line of their own: what does not go in first, then names
    Row(NOT_FITTING, LACKING, of_its_part, Telling.NOT),
    Row(NOT_FITTING, LIMITS, touching, Telling.NOT),
    Row(_of(codes.WRONG_SOCKET), WORKED, in_one_build),
    Row(_of(codes.BLOCKED_POSITION), _of(codes.UNKNOWN_POSITION), hanging_on),
    Row(_of(codes.WRONG_KIND), None, hanging_on),
    Row(NOT_FITTING, HANGING | NOT_FITTING, hanging_on),
    Row(
        _of(codes.POSITION_FILLED_TWICE, codes.DUPLICATE_KEY),
        HANGING | NOT_FITTING,
        hanging_on,
    ),
    Row(_of(codes.UNKNOWN_POSITION, codes.UNKNOWN_ENDPOINT), HANGING, hanging_on),
    Row(_of(codes.SUPPLY_MISSING), None, hanging_on),
    Row(_of(codes.UNKNOWN_ENDPOINT), None, asking_for_its_position, Telling.BY_BUILDS),
    Row(_of(codes.POSITION_MUST_BE_FILLED), HANGING, hanging_on),
    # of builds, for what is stated beside their parts
    Row(_of(codes.RACK_FULL), _of(codes.RACK_OVERLOADED, codes.FLOOR_OVERLOADED), sharing_a_line),
    # of builds, for definitions
    Row(_of(codes.TO_DO_PUBLISHED), None, citing, Telling.BY_BUILDS),
    Row(DOUBTS | DEFINITIONS, None, citing, Telling.BY_BUILDS, wider=resting_on),
    # of anything, while something else is wrong
    Row(DEFINITIONS | DOUBTS, _of(codes.UNUSED_ALLOW), anywhere, Telling.NOT),
    Row(None, _of(codes.MEASURED_OTHER_PARTS), in_one_build, Telling.NOT),
    Row(DEFINITIONS, _of(codes.MEASURED_OTHER_PARTS), of_its_file, Telling.NOT),
    Row(None, _of(codes.TOLD_OTHERWISE), counted_in_its_file, Telling.NOT),
    Row(None, _of(codes.OF_UNSOUND), anywhere, Telling.NOT),
    Row(_of(codes.CONTRADICTION), _of(codes.NO_VALUE), anywhere, Telling.NOT),
    Row(_of(codes.UNKNOWN_POSITION), _of(codes.UNKNOWN_REFERENCE), sharing_a_name, Telling.NOT),
)  # fmt: skip


def followed(told: Sequence[Told]) -> list[Told]:
    """What is told, less what follows from something else that is."""
    made: dict[int, Told] = dict(enumerate(told))
    for row in ROWS:
        for at in _causes(row, made):
            following = list(_following(row, at, made)) if at in made else []
            messages = {made[each].finding.message for each in following if row.of_one}
            if len(following) >= row.least and len(messages) <= 1:
                made[at] = _with(row.shown, made[at], [made.pop(each) for each in following])
    return list(made.values())


def _causes(row: Row, made: dict[int, Told]) -> list[int]:
    """The mistakes of a row, errors first: whatever is one, where it names none."""
    if row.of is None:
        return [at for at, each in made.items() if each.is_error and not _is(row.follows, each)]
    found = [
        at
        for at, each in made.items()
        if each.finding.code in row.of and (row.wider is None or each.assembly is None)
    ]
    return sorted(found, key=lambda at: not made[at].is_error)


def _is(found: Codes | None, told: Told) -> bool:
    return found is None or told.finding.code in found


def _following(row: Row, at: int, made: dict[int, Told]) -> Iterator[int]:
    cause = made[at]
    others = [
        (number, each)
        for number, each in made.items()
        if number != at
        and _is(row.follows, each)
        and (row.wider is None or each.assembly is not None)
    ]
    tied = [number for number, each in others if row.tie(cause, each)]
    yield from tied
    if row.wider is not None and (tied or cause.is_error):
        seen = set(tied)
        for number, each in others:
            if number not in seen and row.wider(cause, each):
                yield number


def _with(shown: Telling, cause: Told, following: Sequence[Told]) -> Told:
    """A mistake, and what follows from it; an error where that is one."""
    found = cause.finding
    fatal = [each for each in following if each.is_error]
    raised = found.raised or (bool(fatal) and not cause.is_error)
    notes, labels = found.notes, found.labels
    if shown is Telling.BY_BUILDS and fatal:
        notes += (so(fatal),)
    elif shown is not Telling.NOT:
        labels, notes = _beside(found, following)
    return replace(cause, finding=replace(found, notes=notes, labels=labels, raised=raised))


def _beside(
    found: Finding, following: Sequence[Told]
) -> tuple[tuple[Label, ...], tuple[Message | Listed, ...]]:
    """What follows, at its lines; in notes what stands at a line of the mistake's own."""
    own, labels, notes = set(found.spans), dict[Span, Label](), dict[Message, None]()
    for each in following[:MOST_NAMED]:
        at, words = each.finding.at.span, each.finding.message
        if at in own:
            notes.setdefault(words)
        else:
            labels.setdefault(at, Label(at, words))
    notes.pop(found.message, None)
    return (*found.labels, *labels.values()), (*notes, *found.notes)


def so(following: Sequence[Told]) -> Message:
    """The builds that fail for a mistake."""
    ids = builds_of(following)
    return say_many(
        len(ids),
        "for this, {number} build is not sound: {names}",
        "for this, {number} builds are not sound: {names}",
        names=quoted([*ids[:MOST_NAMED], *(["…"] if len(ids) > MOST_NAMED else [])]),
    )
