"""The lettering of drawings: words are chosen where they are drawn, for the language asked for.

How broad a word is decides the layout, so a drawing cannot be made first and said afterwards. The
language is the drawing's, set once by whoever asks for it (`lettered_in`).
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace
from functools import wraps
from typing import Final, TypeVar

from specgen.assembly import Assembly
from specgen.messages import ENGLISH, Language, Message, Words
from specgen.model import places

T = TypeVar("T")
SHORT: Final = "svg"
"""The context of short words, which catalogues keep for drawings where room is scarce."""

_LANGUAGE: ContextVar[Language] = ContextVar("_LANGUAGE", default=ENGLISH)


@contextmanager
def lettered_in(language: Language) -> Iterator[None]:
    """All drawings made inside are lettered in a language."""
    token = _LANGUAGE.set(language)
    try:
        yield
    finally:
        _LANGUAGE.reset(token)


def drawn_once(draw: Callable[[Assembly], T]) -> Callable[[Assembly], T]:
    """A drawing of a system is made once in each language: pictures, what their numbers point at
    and what is said of those ask for the same."""

    @wraps(draw)
    def drawn(assembly: Assembly) -> T:
        language = _LANGUAGE.get()  # kept beside the drawing, so that no other has its identity
        key = (draw.__name__, id(language))
        return assembly.once(key, lambda: (language, draw(assembly)))[1]

    return drawn


def letter(words: Words, *, short: bool = False) -> str:
    """Words in the drawing's language; texts of definitions stay as they are.

    Where room is `short`, a language's short word goes before its usual one.
    """
    language = _LANGUAGE.get()
    if short and isinstance(words, Message) and not language.is_source:
        return language.text(replace(words, context=SHORT))
    return language.text(words)


def lettered(names: tuple[str, ...]) -> str:
    """Names of positions in short form: BAY 0 to 7, SLOT 2."""
    return letter(places(names))
