"""All checks of prose but that of links, which the site makes since it knows its pages."""

from collections.abc import Iterable, Iterator, Mapping
from functools import partial

from specgen.diagnostics import Finding, Label, Severity, arrange, codes, did_you_mean, question
from specgen.document.illustrated.picture_uses import placed_by
from specgen.document.prose.dialects import dialects
from specgen.document.prose.form import (
    allowances,
    braces,
    crowd,
    left_to_do,
    levels,
    links,
    lost_links,
    pictures,
)
from specgen.document.prose.name_finder import Named, NameFinder
from specgen.document.prose.order_numbers import OrderNumbers
from specgen.document.prose.passages import Passage, ShownPicture, markup_of, passages
from specgen.document.prose.placed import wrong_blocks
from specgen.document.prose.reference_values import printed
from specgen.document.prose.structure import structure, unused_notes
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.document.prose.typed import typed_values
from specgen.document.prose.typed_cells import typed_cells
from specgen.messages import NOTHING, Message, Nothing, say
from specgen.model import Definitions
from specgen.source import first_mistakes


def check_prose(texts: Iterable[Prose], subjects: Subjects) -> tuple[Finding, ...]:
    """What is wrong with the texts, less what each of them allows."""
    names, numbers = NameFinder(subjects.definitions), OrderNumbers(subjects.definitions)
    found = [
        finding
        for text in texts
        for finding in first_mistakes(_of_text(text, names, numbers, subjects))
        if finding.code.id not in text.allow or finding.code in _TAKEN_OUT
    ]
    return arrange(found)


def _of_text(
    text: Prose, names: NameFinder, numbers: OrderNumbers, subjects: Subjects
) -> Iterator[Finding]:
    if text.subject and not subjects.kind(text.subject):
        yield Finding(
            codes.UNKNOWN_SUBJECT,
            say("no build, platform or part has the id `{subject}`", subject=text.subject),
            Label(text.subject_at),
            help=question(did_you_mean(text.subject, subjects.ids)),
        )
        return
    language = text.language or subjects.definitions.project.language
    yield from allowances(text)
    if markup_of(text):
        from specgen.document.prose.page_html import removed  # few pages have any HTML

        yield from removed(text, subjects.definitions.project.pages.html)
    yield from levels(passages(text))
    yield from unused_notes(text)
    yield from structure(text)
    yield from wrong_blocks(text, subjects)
    drafts: set[str] = set()
    for passage in passages(text):
        yield from _written(passage, text, subjects)
        yield from pictures(passage, partial(_has_words, text, subjects))
        named = names.within(passage)
        yield from _parts(passage, text, named, subjects.definitions)
        yield from _drafts(passage, text, named, subjects, drafts)
        yield from lost_links(passage)
        yield from numbers.unknown(passage)
        yield from typed_values(passage, text.subject, named, subjects, language)
    yield from typed_cells(passages(text), text.subject, names, subjects, language)


def _has_words(text: Prose, subjects: Subjects, shown: ShownPicture) -> bool:
    """Whether a picture brings a text of its own to stand in its place."""
    return placed_by(shown.source, text.file, subjects.definitions) is not None


def errors_of(text: Prose, subjects: Subjects) -> tuple[Finding, ...]:
    """What keeps a document from being written that prints the text."""
    written = (each for passage in passages(text) for each in _written(passage, text, subjects))
    found = (*structure(text), *written)
    return tuple(each for each in found if each.severity is Severity.ERROR)


def _written(passage: Passage, text: Prose, subjects: Subjects) -> Iterator[Finding]:
    yield from _references(passage, text, subjects)
    yield from braces(passage)
    yield from links(passage, text.is_page)
    yield from crowd(passage)
    yield from dialects(passage, text.is_page)
    published = text.is_page or subjects.published(text.subject)
    yield from left_to_do(passage, codes.TO_DO_PUBLISHED if published else codes.TO_DO)


def _references(passage: Passage, text: Prose, subjects: Subjects) -> Iterator[Finding]:
    told: set[object] = set()
    own = not text.is_page and subjects.unsound(text.subject)
    for mention in passage.mentions:
        made = printed(mention.inner, text.subject, subjects)
        if made.code is codes.OF_UNSOUND and (own or made.message in told):
            continue  # its own system is not printed, nor is the text
        told.add(made.message)
        if passage.content[: mention.start].endswith("{"):
            yield Finding(
                codes.BLOCK,
                say("a block within a line of words"),
                Label(passage.span(mention.start - 1, mention.end)),
                help=say("let it stand alone, with an empty line before it and behind it"),
            )
            continue
        if made.code is not None and made.message:
            at = Label(passage.span(mention.start, mention.end))
            yield Finding(made.code, made.message, at, help=made.help)


def _drafts(
    passage: Passage, text: Prose, names: Iterable[Named], subjects: Subjects, told: set[str]
) -> Iterator[Finding]:
    """SG513: builds that nobody outside sees, in a text that others read; each once."""
    if not text.is_page and not subjects.published(text.subject):
        return
    for named in names:
        for draft in subjects.drafts(named.id):
            if draft != text.subject and draft not in told:
                told.add(draft)
                yield Finding(
                    codes.DRAFT_NAMED,
                    say("`{build}` is a draft, and this text is published", build=draft),
                    Label(passage.span(named.start, named.end)),
                    help=say("name a build that is published, or publish this one"),
                )


def _parts(
    passage: Passage, text: Prose, names: Iterable[Named], definitions: Definitions
) -> Iterator[Finding]:
    """Parts named that cannot be ordered any more, or whose successor is known.

    A text about such a part may name it.
    """
    for named in names:
        part = definitions.parts.get(named.id)
        if part is None or part.id == text.subject:
            continue
        status = definitions.status(part)
        if status != "discontinued" and part.life.replaced_by is None:
            continue
        successor = definitions.parts.get(part.life.replaced_by or "")
        told = part.life.since is not None and status == part.life.status
        words = _STATES.get(status, say("`{part}` has a successor"))
        if told:
            words = _SINCE.get(status, say("`{part}` has a successor since {day}"))
        instead = say("name what takes its place")
        label: Message | Nothing = NOTHING
        if successor is not None:
            instead = say("write `{text}`", text=f"{{part {successor.id}}}")
            label = say("replaced by {name}", name=successor.name)
        yield Finding(
            codes.PART_NAMED,
            words.filled(part=part.id, day=part.life.since),
            Label(passage.span(named.start, named.end), label),
            help=instead,
        )


_TAKEN_OUT = (codes.HTML_REMOVED, codes.UNSAFE_LINK)
"""Codes that nobody can allow: what they tell of is not published either way."""
_STATES: Mapping[str, Message] = {
    "discontinued": say("`{part}` is discontinued"),
    "last-time-buy": say("`{part}` is in its last-time buy"),
}
_SINCE: Mapping[str, Message] = {
    "discontinued": say("`{part}` is discontinued since {day}"),
    "last-time-buy": say("`{part}` is in its last-time buy since {day}"),
}
