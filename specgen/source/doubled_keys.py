"""Keys that stand twice in one mapping."""

from dataclasses import replace
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.messages import say

MOST_SHOWN: Final = 12  # keys of one finding: a reader looks at the first


def told_twice(findings: list[Finding], name: str, at: Span, first: Span, following: bool) -> None:
    """Adds that a key stands twice. Of keys that follow one another (`following`) and were all
    there before, one finding tells: the line above them, which began another mapping, is gone."""
    last = findings[-1] if findings else None
    if following and last is not None and last.code is codes.DUPLICATE_KEY:
        if len(last.labels) >= MOST_SHOWN:
            return
        findings[-1] = replace(
            last,
            labels=(*last.labels, Label(at, say("and `{name}`", name=name))),
            help=say("a line that begins another mapping may be missing above"),
        )
        return
    findings.append(
        Finding(
            codes.DUPLICATE_KEY,
            say("`{name}` appears twice in one mapping", name=name),
            Label(at, say("second `{name}`", name=name)),
            labels=(Label(first, say("first `{name}`", name=name)),),
            notes=(
                say("a plain YAML reader would keep the second and drop the first without a word"),
            ),
            help=say("merge both under one `{name}`, or delete one", name=name),
        )
    )
