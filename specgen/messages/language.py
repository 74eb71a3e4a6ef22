"""The words of a language: messages, numbers, dates and lists as its readers write them."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Final

from specgen.frozen import frozen
from specgen.messages.message import (
    SOURCE,
    AsWritten,
    Capital,
    Joint,
    Listed,
    Message,
    Naming,
    Sayable,
    Within,
    listed,
    say,
)
from specgen.messages.pattern import BadPattern, Open, Piece, names_of, pieces_of, speaks
from specgen.quantity import Quantity
from specgen.quantity.printing import (
    ENGLISH_SIGNS,
    NARROW_SPACE,
    InWords,
    Signs,
    is_beyond,
    plain,
    split,
)
from specgen.quantity.units import Unit

YES: Final = say("yes")
NO: Final = say("no")
NONE: Final = say("none")
NOT_DECLARED: Final = say("not declared")
DOES_NOT_APPLY: Final = say("does not apply")
BEYOND: Final = say("more than 1 million years")

_COMMA: Final = say("{first}, {second}", first="", second="")
_SEMICOLON: Final = say("{first}; {second}", first="", second="")
_SENTENCE: Final = say("{first} {second}", first="", second="")
_PLUS: Final = say("{first} + {second}", first="", second="")
_JOINTS: Final[Mapping[Joint, tuple[Message, Message]]] = {
    "and": (_COMMA, say("{first} and {second}", first="", second="")),
    "or": (_COMMA, say("{first} or {second}", first="", second="")),
    "comma": (_COMMA, _COMMA),
    "semicolon": (_SEMICOLON, _SEMICOLON),
    "sentence": (_SENTENCE, _SENTENCE),
    "plus": (_PLUS, _PLUS),
}
"""Between two things of a list, and between the last two."""

_OUTDATED: Final = say("translated from an earlier version")

Worded = str | object
"""A finished piece of text, or an argument that only a document tree knows how to print."""


STOPS: Final = ("。", "！", "？")
"""Ends of sentences whose sign brings its own room: no blank stands after it."""


_HALF: Final = {"：": ": ", "；": "; "}
"""Signs of full width as they are written after Latin letters and digits."""


def following(before: str, text: str) -> str:
    """A text as it stands after another: wherever pieces meet, this says what is between."""
    if before.endswith(STOPS):
        return text.removeprefix(" ")
    half = _HALF.get(text[:1])
    if half and before[-1:].isascii() and before[-1:].isalnum():
        return half + text[1:].removeprefix(" ")
    return text


_BLANKS: Final = re.compile(r"[ \t\r\n]+")


def one_line(text: str) -> str:
    """A text of the project's own as catalogues have it: lines are wrapped by whoever wrote it."""
    return _BLANKS.sub(" ", text).strip(" ")


def base_of(tag: str) -> str:
    """The language of a tag without its region or script: `de` of `de-AT`."""
    return tag.replace("_", "-").split("-")[0].lower()


def one_or_several(number: int) -> int:
    """The form for a number in English, and in most languages of its family."""
    return 0 if number == 1 else 1


@frozen
class Catalogue:
    """Translations: by context and English text, a pattern for each plural form.

    `plural_form` gives the form for a number, as the catalogue's header has it.
    """

    messages: Mapping[tuple[str, str], tuple[str, ...]] = field(default_factory=dict)
    plural_form: Callable[[int], int] = one_or_several
    texts: Mapping[str, str] = field(default_factory=dict)
    """The project's own texts in the language, each by what it is in the project's."""
    outdated: Mapping[str, str] = field(default_factory=dict)
    """Translations of what texts of the project said before they were changed."""


@frozen(slots=False)
class Language:
    """Chooses words. `tag` is a language tag of BCP 47 (`de-AT`)."""

    tag: str = SOURCE
    catalogue: Catalogue = field(default_factory=Catalogue, repr=False)

    @property
    def is_source(self) -> bool:
        """Whether messages stand as they are written."""
        return self.tag == SOURCE or base_of(self.tag) == SOURCE

    def pattern(self, message: Message) -> str | None:
        """The pattern of a message in this language; None where nobody has translated it.

        A translation whose open places are not among the message's counts as none.
        """
        if self.is_source:
            return message.pattern
        messages = self.catalogue.messages
        forms = messages.get((message.context, message.text))
        if forms is None and message.context:
            forms = messages.get(("", message.text))
        if not forms:
            return None
        at = self.catalogue.plural_form(message.number) if message.plural else 0
        pattern = forms[min(at, len(forms) - 1)]
        try:
            fits = set(names_of(pattern)) <= {name for name, _ in message.arguments}
        except BadPattern:
            return None
        return pattern if fits else None

    def own(self, text: str) -> str:
        """A text of the project's own in this language; "" where nobody has translated it.

        The translation of what it said before says that it is one.
        """
        known = self.catalogue
        if not known.texts and not known.outdated:
            return ""
        plain = one_line(text)
        found = known.texts.get(plain, "")
        if not found and (found := known.outdated.get(plain, "")):
            mark = self.pattern(_OUTDATED) or _OUTDATED.text
            found += following(found, f" ({mark})")
        return found

    def missing(self, words: object) -> Iterator[Message]:
        """The messages in words that nobody has translated; those without letters need not be."""
        match words:
            case Message():
                if self.pattern(words) is None and speaks(words.text):
                    yield words
                for _, value in words.arguments:
                    yield from self.missing(value)
            case Listed(items):
                for each in items:
                    yield from self.missing(each)
            case Capital(inner) | Within(inner) | AsWritten(inner) | Naming(inner):
                yield from self.missing(inner)

    def pieces(self, words: object) -> Iterator[Worded]:
        """Words as finished texts and, between them, the arguments that are no text.

        An `Around` stands for an argument with words within.
        """
        match words:
            case Message():
                pattern = self.pattern(words)
                yield from self._filled(pieces_of(pattern or words.pattern), words.named)
            case Listed(items, joint):
                yield from self._joined(items, joint)
            case Naming(inner):
                yield from self.pieces(inner)
            case Capital(inner):
                yield from self._first(inner, _capital)
            case Within(inner):
                small = base_of(self.tag) == SOURCE
                yield from self._first(inner, _small if small else str)
            case AsWritten(value):
                if self.is_source:
                    yield plain(value)
                else:
                    yield from self.pieces(
                        listed(value) if isinstance(value, tuple) and value else value
                    )
            case bool():
                yield from self.pieces(YES if words else NO)
            case None:
                yield from self.pieces(NOT_DECLARED)
            case ():
                yield from self.pieces(NONE)
            case str():
                yield self.own(words) or str(words)
            case int() | Decimal() | Quantity():
                number, unit = self.number(words)
                yield f"{number}{NARROW_SPACE}{unit}" if unit else number
            case date():
                yield self.date(words)
            case InWords():  # a value that says itself, such as a line of 230 V AC
                yield str(words)
            case _:
                yield words

    def text(self, words: object) -> str:
        """Words as one text. Raises TypeError for an argument that only a tree has room for."""
        found = ""
        for piece in self.pieces(words):
            found += following(found, self._as_text(piece))
        return found

    def _as_text(self, piece: Worded) -> str:
        if isinstance(piece, str):
            return piece
        if isinstance(piece, Around):
            return "".join(map(self._as_text, piece.within))
        raise TypeError(f"no words for {type(piece).__name__}")

    def _first(self, words: object, change: Callable[[str], str]) -> Iterator[Worded]:
        """The pieces of words, the first changed where it is a text."""
        for at, piece in enumerate(self.pieces(words)):
            yield change(piece) if at == 0 and isinstance(piece, str) else piece

    def _filled(
        self, pieces: tuple[Piece, ...], arguments: Mapping[str, object]
    ) -> Iterator[Worded]:
        for piece in pieces:
            if isinstance(piece, str):
                yield piece
            elif piece.within is None:
                yield from self.pieces(arguments[piece.name])
            else:
                yield Around(arguments[piece.name], tuple(self._filled(piece.within, arguments)))

    def _joined(self, items: tuple[object, ...], joint: Joint) -> Iterator[Worded]:
        between, last = _JOINTS[joint]
        for at, item in enumerate(items):
            if at:
                pattern = last if at == len(items) - 1 else between
                yield self._between(pattern)
            yield from self.pieces(item)

    def _between(self, joint: Message) -> str:
        pieces = pieces_of(self.pattern(joint) or joint.text)
        return "".join(piece for piece in pieces if isinstance(piece, str))

    # --- numbers and dates. Source of signs and forms: Unicode CLDR, as Babel carries it ---

    def number(self, value: object, unit: Unit | None = None) -> tuple[str, str]:
        """A number or quantity, rounded as `quantity.printing` says, and its unit's sign.

        `unit` is that of the column that it stands in.
        """
        if value is None or value == () or isinstance(value, bool | tuple | Sayable):
            return self.text(listed(value) if isinstance(value, tuple) and value else value), ""
        if is_beyond(value):
            return self.text(BEYOND), ""
        # a count without groups has no signs: Babel, which knows them, need not be imported
        small = type(value) is int and 0 <= value < 10_000
        number, sign = split(value, ENGLISH_SIGNS if small else self.signs, unit)
        return number, self.unit(sign) if sign else ""

    def unit(self, sign: str) -> str:
        """The sign of a unit."""
        if self.is_source:
            return sign
        found = self.catalogue.messages.get(("unit", sign))
        return found[0] if found else sign

    @cached_property
    def signs(self) -> Signs:
        if self.is_source:
            return ENGLISH_SIGNS
        from babel.numbers import get_decimal_symbol, get_group_symbol

        from specgen.messages.locales import locale_of

        locale = locale_of(self.tag)
        return Signs(get_decimal_symbol(locale), get_group_symbol(locale))

    def date(self, day: date, *, long: bool = False) -> str:
        """A day; English has ISO 8601."""
        if self.is_source:
            return day.isoformat()
        from babel.dates import format_date

        from specgen.messages.locales import locale_of

        return format_date(day, "long" if long else "medium", locale=locale_of(self.tag))


@frozen
class Around:
    """An argument with the words that stand within it, in the language."""

    argument: object
    within: tuple[Worded, ...]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _small(text: str) -> str:
    """A text within a sentence: an acronym (`TPM`, `M.2`, `I/O`) keeps its capitals."""
    first = text.partition(" ")[0][1:]
    acronym = any(sign.isupper() or sign.isdigit() for sign in first)
    return text if acronym else text[:1].lower() + text[1:]


ENGLISH: Final = Language()
Sayable.in_english = ENGLISH.text

__all__ = ["ENGLISH", "SOURCE", "Around", "Catalogue", "Language", "Open", "base_of"]
