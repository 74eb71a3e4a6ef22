"""Pictures and texts that still show what a part was before: its number, its revision, a sample.

Costs nothing for a project whose parts have no earlier numbers and whose pictures show no samples.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from specgen.diagnostics import Finding, Label, codes
from specgen.document.illustrated.picture_callouts import shown_parts
from specgen.document.prose.passages import passages
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model import SAMPLE, Definitions, Illustration, Part


def earlier_in_texts(texts: Iterable[Prose], definitions: Definitions) -> Iterator[Finding]:
    """SG538: order numbers that a part had before, in texts and pages."""
    parts = _by_earlier_number(definitions)
    if not parts:
        return
    numbers = re.compile(
        rf"(?<![\w-])(?:{'|'.join(map(re.escape, sorted(parts, key=len, reverse=True)))})(?![\w-])"
    )
    for text in texts:
        if codes.EARLIER_SHOWN.id in text.allow:
            continue
        for passage in passages(text) if numbers.search(text.body) else ():
            for found in numbers.finditer(passage.content):
                part = parts[found[0]]
                yield Finding(
                    codes.EARLIER_SHOWN,
                    say("`{part}` had the order number {number}", part=part.id, number=found[0]),
                    Label(passage.span(*found.span())),
                    help=_now(part),
                )


def _by_earlier_number(definitions: Definitions) -> Mapping[str, Part]:
    """The parts by the numbers that they had, but for those that another has now."""
    now = {each.number for each in definitions.parts.values()}
    return {
        each.number: part
        for part in definitions.parts.values()
        for each in part.earlier
        if each.number is not None and each.number not in now
    }


def _now(part: Part) -> Message | Nothing:
    if part.number is None:
        return NOTHING
    return say("its order number is {number} now", number=part.number)


def earlier_in_picture(illustration: Illustration, subjects: Subjects) -> Iterator[Finding]:
    """SG538: a picture of a sample, and one that is older than the last change of what it shows."""
    if illustration.shows == SAMPLE:
        yield Finding(
            codes.EARLIER_SHOWN,
            say("the picture `{name}` shows a pre-production sample", name=illustration.id),
            Label(illustration.origin.at("shows")),
            help=say("take one of a production unit when there is one"),
        )
        return
    taken = illustration.date
    for name in shown_parts(illustration, subjects) if taken is not None else ():
        part = subjects.definitions.parts.get(name)
        changed = None if part is None else last_change(part)
        if part is not None and changed is not None and taken is not None and changed > taken:
            yield Finding(
                codes.EARLIER_SHOWN,
                say(
                    "the picture `{name}` is of {date}, and `{part}` has changed on {changed}",
                    name=illustration.id,
                    date=taken,
                    part=part.id,
                    changed=changed,
                ),
                Label(illustration.origin.at("date")),
                labels=(Label(part.origin.at("earlier"), say("what it was before")),),
                help=say("say under `differs` what the picture shows otherwise, or take it anew"),
            )


def last_change(part: Part) -> date | None:
    """The day from which a part is what it is now, None where it has never been another."""
    return max((each.until for each in part.earlier if each.until is not None), default=None)
