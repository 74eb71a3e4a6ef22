"""What is said of definitions several times over, and is told once: a place, a copy, a cause."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import say
from specgen.model import Definitions

MOST_SHOWN: Final = 3


def without_repeats(found: Sequence[Finding]) -> Iterator[Finding]:
    """Less what says the same of one place again: two words close to one, the name of a copy whose
    order number is told of."""
    words: set[Span] = set()
    copies = {_pair(each) for each in found if each.code is codes.NUMBER_TWICE}
    for each in found:
        again = each.code is codes.SLIP and each.at.span in words
        if each.code is codes.SLIP:
            words.add(each.at.span)
        if not again and not (each.code is codes.NAMES_ALIKE and _pair(each) in copies):
            yield each


def spans_of(finding: Finding) -> tuple[Span, ...]:
    """Where a finding stands, and what it holds that against."""
    return finding.at.span, *(label.span for label in finding.labels)


def _pair(finding: Finding) -> frozenset[str]:
    """The two things that a finding tells of."""
    return frozenset(str(each.text) for each in (finding.at, *finding.labels))


def line_of(span: Span) -> tuple[str, int]:
    return span.file, span.line


def follows_size(finding: Finding, told: set[tuple[str, int]], definitions: Definitions) -> bool:
    """Whether an outline is outside of a chassis whose own measures are told of already."""
    return finding.code is codes.MISPLACED and any(
        told.intersection((line_of(each.origin.at("size")), line_of(each.origin.at("body_width"))))
        and each.origin.at().file == finding.at.span.file
        for each in definitions.platforms.values()
    )


def of_shared(found: list[Finding]) -> Iterator[Finding]:
    """Values of several parts that do not go with one that they have in common: it is that one."""
    beside: dict[Span, dict[Span, Finding]] = {}
    for each in found:
        if each.code is codes.DOUBTFUL_VALUE and each.labels:
            beside.setdefault(each.labels[0].span, {}).setdefault(each.at.span, each)
    common = {span: group for span, group in beside.items() if len(group) > 1}
    told: set[Span] = set()
    for each in found:
        span = each.labels[0].span if each.labels else each.at.span
        if span not in common or each.at.span not in common[span]:
            yield each
        elif span not in told:
            told.add(span)
            group = common[span].values()
            yield replace(
                each,
                message=say("{number} values do not go with what is stated here for all of them",
                            number=len(group)),
                at=Label(span, say("a digit or a unit is probably another")),
                labels=tuple(Label(one.at.span, one.message) for one in [*group][:MOST_SHOWN]),
            )  # fmt: skip
