"""A message: what is to be said, before anybody has chosen the words.

A message is an English pattern and its arguments. Rooms hand messages on as values; words are
chosen once, at the end, by a `Language`. Nothing ever reads a finished text back.

    say("{count} drives in {where}", count=Datum(3, key), where="BAY 0 to 2")

`{name}` stands for an argument; `{name:words}` for words within an argument that holds some, such
as a link or strong type; `{{` and `}}` are braces. What an argument may be:

- a text: it comes from a definition, and is printed as it is in every language;
- a `Message`, or several things joined by `listed`: said in the language too;
- a number, a quantity, a date, a yes or no: printed as the language writes it;
- anything a document tree has room for (`specgen.document.tree`), when the message stands in one.

The pattern is written out where `say` is called, so that translators' tools can extract it.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import ClassVar, Final
from typing import Literal as OneOf

from specgen.frozen import frozen
from specgen.quantity.printing import InWords

SOURCE: Final = "en"
"""What messages are written in."""

Joint = OneOf["and", "or", "comma", "semicolon", "sentence", "plus"]
"""How a list is joined: `a, b and c`, `a, b or c`, `a, b`, `a; b`, `A. B.`, `a + b`."""


@frozen
class Sayable(InWords):
    """What is to be said. Its `str` is English, for logs and programs; pages ask a `Language`."""

    in_english: ClassVar[Callable[["Sayable"], str]]
    """How; the language sets it, since it knows messages and not the reverse."""

    def __str__(self) -> str:
        return Sayable.in_english(self)


@frozen
class Message(Sayable):
    """An English pattern with its arguments by name.

    `context` tells apart what is one word in English and two elsewhere; `plural` is the pattern
    for another `number` than one ("" where the message does not count).
    """

    text: str
    arguments: tuple[tuple[str, object], ...] = ()
    context: str = ""
    plural: str = ""
    number: int = 1

    @property
    def named(self) -> Mapping[str, object]:
        """The arguments by name."""
        return dict(self.arguments)

    @property
    def pattern(self) -> str:
        """The English pattern for this number."""
        return self.plural if self.plural and self.number != 1 else self.text

    def filled(self, **arguments: object) -> "Message":
        """The pattern, which stands in some table, with arguments for the case in hand."""
        return replace(self, arguments=tuple(arguments.items()))


@frozen
class Listed(Sayable):
    """Several things said one after the other."""

    items: tuple[object, ...]
    joint: Joint = "comma"


@frozen
class Capital(Sayable):
    """Words that begin a sentence: the first letter is a capital."""

    words: "Words"


@frozen
class Within(Sayable):
    """A title as it stands within a sentence: English begins it small, German does not.

    Words that are capitals throughout (`TPM`, `PCIe riser`) stay as they are.
    """

    words: "Words"


@frozen
class Naming(Sayable):
    """Words that name things in short, such as a range, and the names themselves."""

    words: "Words"
    names: tuple[str, ...]


@frozen
class AsWritten(Sayable):
    """A value as the author of a definition writes it: `12500 W` in English, which `parse` reads
    back; other languages have it as their readers write it."""

    value: object


Words = str | Sayable
"""A text that is data, or something to be said."""

Nothing = OneOf[""]
NOTHING: Final[Nothing] = ""
"""The words where there is nothing to say."""


def say(text: str, /, **arguments: object) -> Message:
    """A message. Babel keyword: `say`."""
    return Message(text, tuple(arguments.items()))


def say_as(context: str, text: str, /, **arguments: object) -> Message:
    """A message whose English words mean something else elsewhere. Babel: `say_as:1c,2`."""
    return Message(text, tuple(arguments.items()), context)


def say_many(number: int, text: str, plural: str, /, **arguments: object) -> Message:
    """A message that counts: `{number}` is an argument of both patterns. Babel: `say_many:2,3`.

    `say_many(3, "{number} drive", "{number} drives")`.
    """
    arguments.setdefault("number", number)
    return Message(text, tuple(arguments.items()), "", plural, number)


def message_of(words: Words) -> Message:
    """A name, a list, somebody else's text where a message is asked for; as it stands in every
    language."""
    return words if isinstance(words, Message) else Message("{words}", (("words", words),))


def listed(items: Iterable[object], joint: Joint = "comma") -> Listed:
    """Things joined as the language joins them; empty texts are left out."""
    return Listed(tuple(each for each in items if each != ""), joint)
