"""Prose in other languages, passage by passage: what translators are handed, and where it goes.

A passage is a paragraph, a heading or a cell, written on one line with its mark-up and references,
so that wrapping it anew changes nothing. A break that the writer asks for stays one.
"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Final

from specgen.diagnostics import did_you_mean, question
from specgen.document.prose.parser import OWN_ID
from specgen.document.prose.passages import CELLS, Passage, passages
from specgen.document.prose.reference import BadReference, Reference, read_reference
from specgen.document.prose.texts import Prose, parsed
from specgen.document.translations.own_texts import OwnText
from specgen.frozen import frozen
from specgen.messages import NOTHING, Language, Message, Nothing, say
from specgen.messages.language import one_line

_BROKEN: Final = re.compile(r"(?:\\| {2,})\n[ \t]*")
_WORD: Final = re.compile(r"[^\W\d_]{2}")
_NOTE: Final = re.compile(r"\[\^[^\s\]]+\]")
_ALONE: Final = "prose/x/x.md"


def texts_of_prose(text: Prose) -> Iterator[OwnText]:
    """The passages of a text that have words of their own."""
    for passage in passages(text):
        said = said_by(passage)
        if _speaks(passage):
            yield OwnText(said, passage.span(0, len(passage.content)), f"prose: {passage.kind}")


def said_by(passage: Passage) -> str:
    """What a passage says, as catalogues have it."""
    content = passage.content
    if passage.kind == "heading":
        content = OWN_ID.sub("", content)
    return "\\\n".join(map(one_line, _BROKEN.split(content)))


def _speaks(passage: Passage) -> bool:
    """Whether a passage has words, be it those of a reference or those in place of a picture."""
    own = any("," in each.inner for each in passage.mentions)
    return own or bool(passage.pictures) or _WORD.search(passage.flat) is not None


@frozen
class Misfit:
    """Why a translation cannot stand for its text: what is wrong, and what to write instead."""

    word: str
    """What of the translation is wrong; "" where something is missing."""
    message: Message
    help: Message | Nothing = NOTHING


def misfit(source: str, translation: str) -> Misfit | None:
    """What keeps a translation of a passage from standing in its place, None if nothing.

    It has the same references, each in words of its own, the same footnotes, and is one passage.
    """
    wanted, found = _references(source), _references(translation)
    known = {_name(each) for each in wanted}
    lost = wanted - found
    for inner, each in _written(translation).items():
        if isinstance(each, BadReference):
            return Misfit(f"{{{inner}}}", each.message, each.help)
        if each is not None and found[_bare(each)] > wanted[_bare(each)]:
            meant = did_you_mean(_name(_bare(each)), known)
            return Misfit(
                f"{{{inner}}}",
                say("the text that is translated has no `{reference}`", reference=_name(each)),
                question(meant) or say("leave it out, or write it into the text first"),
            )
    for each in lost:
        message = say("the translation lacks `{reference}`", reference=_name(each))
        return Misfit("", message, say("references are the same in every language"))
    if Counter(_NOTE.findall(source)) != Counter(_NOTE.findall(translation)):
        return Misfit("", say("the translation has other footnotes than its text"))
    if not _is_one(translation):
        message = say("the translation is more than one paragraph, or something else than one")
        return Misfit("", message, say("escape what Markdown means something by: `\\-`, `\\#`"))
    return None


def _written(text: str) -> dict[str, Reference | BadReference | None]:
    """The references of a text, by what stands in their braces."""
    read: dict[str, Reference | BadReference | None] = {}
    for passage in passages(_alone(text)):
        for mention in passage.mentions:
            try:
                read[mention.inner] = read_reference(mention.inner)
            except BadReference as problem:
                read[mention.inner] = problem
    return read


def _references(text: str) -> Counter[Reference]:
    """The references of a text without their words, each with how often it is made."""
    found: Counter[Reference] = Counter()
    for passage in passages(_alone(text)):
        for mention in passage.mentions:
            try:
                found[_bare(read_reference(mention.inner))] += 1
            except BadReference:
                continue
    return found


def _bare(reference: Reference) -> Reference:
    return Reference(reference.kind, reference.name, reference.subject)


def _name(reference: Reference) -> str:
    return str(_bare(reference))


def _alone(text: str) -> Prose:
    return parsed(text, _ALONE)[0]


def _is_one(text: str) -> bool:
    made = passages(_alone(text))
    return len(made) == 1 and made[0].kind == "paragraph" and made[0].content == text.strip()


@frozen
class Translated:
    """A text in another language as far as its passages are translated.

    `places` are those of the passages that are, as `numbered` gives them.
    """

    text: Prose
    places: frozenset[tuple[int, int]]
    whole: bool


def numbered(found: Iterable[Passage]) -> Iterator[tuple[tuple[int, int], Passage]]:
    """Passages, each with the line on which it begins and its number among those of the line,
    from 0."""
    last, number = -1, 0
    for passage in found:
        line = passage.places.lines[0][1] - 1
        number = number + 1 if line == last else 0
        last = line
        yield (line, number), passage


def translated(text: Prose, language: Language) -> Translated | None:
    """A text with its passages in a language; None where none of them is translated."""
    pieces: list[str] = []
    done = set[tuple[int, int]]()
    whole, at, more = True, 0, 0
    for (line, number), passage in numbered(passages(text)):
        if not _speaks(passage):
            continue
        said = said_by(passage)
        words = language.own(said)
        if not words or misfit(said, words) is not None:
            whole = False
            continue
        start, end = _stretch(passage)
        done.add((line + more, number))
        words = _in_place(words, passage, text.body, start)
        more += words.count("\n") - text.body.count("\n", start, end)
        pieces += [text.body[at:start], words]
        at = end
    if not done:
        return None
    body = "".join((*pieces, text.body[at:]))
    made = Prose(
        text.file, body, body, text.title, text.subject, text.subject_at, text.language, text.allow
    )
    return Translated(made, frozenset(done), whole)


def _stretch(passage: Passage) -> tuple[int, int]:
    """From where to where a passage stands in its text, without the anchor of a heading."""
    length = len(passage.content)
    own = OWN_ID.search(passage.content) if passage.kind == "heading" else None
    return passage.offsets(0, own.start() if own else length)


def _in_place(words: str, passage: Passage, body: str, start: int) -> str:
    """A translation as it stands in the text: strokes in a cell escaped, lines led in alike."""
    if passage.kind in CELLS:
        words = re.sub(r"(?<!\\)\|", r"\\|", words)
    lead = body[body.rfind("\n", 0, start) + 1 : start]
    return words.replace("\n", "\n" + re.sub(r"[^>\t]", " ", lead))
