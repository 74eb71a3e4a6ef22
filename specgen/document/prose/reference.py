"""The short syntax by which prose refers to what the definitions say.

    {power.maximum}                           a value of what the text is about, with its unit
    {shore-gateway: power.maximum}            a value of a build, a platform or a part by id
    {storage.drives, drive, drives}           a count and its noun: `4 drives`, `1 drive`
    {part tall-riser}                         the name of a part, leading to its page
    {part tall-riser, the tall riser}         the same in other words
    {platform shore}  {build shore-gateway}   likewise
    {number tall-riser}                       the order number of a part, a platform or a build
    {position SLOT 1}  {position BAY 0..3}    positions as printed on the board, once they exist
    {figure topology}  {table memory}         a picture or a table, named as in templates
    {shore: limit drives}                     the most a platform can reach
    {gateway=3 archive: order.mass}           a fact of an order of builds, each so many times

A subject and a colon may stand before a value, a position, a picture, a table and a limit. A brace
that is none of this is written `\\{`. Code is left alone, and so is a brace before anything but a
letter.
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Final

from specgen.frozen import frozen
from specgen.messages import Message, say

NUMBER: Final = "number"
BY_ID: Final = ("part", "platform", "build", NUMBER)
OF_SUBJECT: Final = ("position", "figure", "table", "limit")
FACT: Final = "fact"
MOST_LETTERS: Final = 300

IN_BRACES: Final = re.compile(r"\{(\s*[A-Za-z][^{}]{0,%d})\}" % MOST_LETTERS)  # noqa: UP031
_ID: Final = r"[a-z0-9][a-z0-9._-]*"
_COUNTED: Final = r"=[1-9][0-9]{0,6}"
_ORDER: Final = rf"(?=[^:]*=){_ID}(?:{_COUNTED})?(?: {_ID}(?:{_COUNTED})?)*"
_SUBJECT: Final = re.compile(rf"({_ID}|{_ORDER})\s*:\s*(.*)", re.DOTALL)
_KIND: Final = re.compile(rf"({'|'.join((*BY_ID, *OF_SUBJECT))})\s+(\S.*)", re.DOTALL)


@frozen
class Reference:
    """One reference: `kind` is `fact` or one of the words above; `words` are its nouns or words."""

    kind: str
    name: str
    subject: str = ""
    words: tuple[str, ...] = ()

    def __str__(self) -> str:
        kind = "" if self.kind == FACT else f"{self.kind} "
        subject = f"{self.subject}: " if self.subject else ""
        return "{" + ", ".join((f"{subject}{kind}{self.name}", *self.words)) + "}"


class BadReference(ValueError):
    """A reference that follows none of the forms; `message` says why, `help` what to write."""

    def __init__(self, message: Message, help_: Message) -> None:
        super().__init__(message)
        self.message, self.help = message, help_


@lru_cache(4096)  # several checks ask for the same
def read_reference(inner: str) -> Reference:
    """What stands between the braces as a reference. Raises `BadReference`."""
    head, *rest = (" ".join(piece.split()) for piece in inner.split(","))
    words = tuple(rest)
    if not all(words):
        raise BadReference(
            say("nothing stands after a comma"), say("write words there, or leave it out")
        )
    subject = ""
    if ":" in head:
        match = _SUBJECT.fullmatch(head)
        if match is None or not match[2]:
            raise BadReference(
                say("`{text}` is not an id, a colon and a name", text=head),
                _write("{ID: power.maximum}"),
            )
        subject, head = match[1], match[2]
    kind = _KIND.fullmatch(head)
    made = Reference(kind[1] if kind else FACT, kind[2] if kind else head, subject, words)
    _judge(made)
    return made


def _judge(made: Reference) -> None:
    if made.kind in BY_ID and made.subject:
        raise BadReference(
            _BY_OWN_ID[made.kind],
            _write(f"{{{made.kind} {made.name}}}"),
        )
    if made.kind == FACT and made.name in (*BY_ID, *OF_SUBJECT):
        message = say("`{word}` needs a name after it", word=made.name)
        raise BadReference(message, _write(f"{{{made.name} NAME}}"))
    most = _MOST_WORDS.get(made.kind, 1)
    if len(made.words) > most:
        raise BadReference(say("too many commas"), _WORDS_TOO[most])


_BY_OWN_ID: Final[Mapping[str, Message]] = {
    "part": say("a part is referred to by its own id"),
    "platform": say("a platform is referred to by its own id"),
    "build": say("a build is referred to by its own id"),
    NUMBER: say("an order number is referred to by the id of what has it"),
}
_MOST_WORDS: Final[Mapping[str, int]] = {FACT: 2, "limit": 2, NUMBER: 0}
_WORDS_TOO: Final = (
    say("an order number stands alone"),
    say("there may be other words, without a comma"),
    say("there may be a noun and its plural"),
)


def _write(text: str) -> Message:
    return say("write `{text}`", text=text)
