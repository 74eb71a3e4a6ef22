"""The language of a site: what the program itself says on pages, in the project's language.

Documents of templates come translated. Pages that are built as trees, the blocks laid into others
and the words of the shell are said here, at the end, when everything else about them is done.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from markupsafe import escape

from specgen.document.languages import (
    NOTHING_GIVEN,
    SOURCE,
    Catalogue,
    Given,
    Translator,
    base_of,
    catalogue,
    given_of,
    translated,
)
from specgen.document.tree import Block, Document, Figure
from specgen.document.wording import Wording
from specgen.messages import ENGLISH as SPOKEN
from specgen.messages import Language, Words
from specgen.messages.catalogue import language_of
from specgen.model import Definitions

CONTEXT: Final = "site"
"""The sort of place of the shell's words and of pages that are no documents."""
SCRIPT: Final = "script"
"""That of words which scripts put on a page."""


@dataclass(frozen=True, slots=True)
class Voice:
    """Says English words of the program in a language, as far as there are messages."""

    words: Catalogue
    given: Given = NOTHING_GIVEN
    language: Language = SPOKEN

    @property
    def is_source(self) -> bool:
        """Whether there is nothing to do: the program's own language is spoken."""
        return base_of(self.words.language) == SOURCE

    def at(self, context: str) -> Mapping[str, str]:
        """The words of one sort of place, by the English ones; none where English is spoken."""
        if self.is_source:
            return {}
        return {text: said for (at, text), said in self.words.messages.items() if at == context}

    def document(self, document: Document) -> Document:
        """A page of messages, in the language."""
        wording = Wording(self.language)
        document = wording.document(document)
        if self.is_source:
            return document
        own = frozenset(wording.spoken)
        return translated(document, self.words, self.given, own)

    def beside(
        self, document: Document, blocks: tuple[Block, ...]
    ) -> tuple[Document, tuple[Block, ...]]:
        """Blocks of messages, and the document in the language that takes them in."""
        wording = Wording(self.language)
        blocks = wording.blocks(blocks)
        if self.is_source:
            return document, blocks
        translator = replace(self._translator(), own=frozenset(wording.spoken))
        said = translator.blocks(blocks)
        foreign = {**translator.foreign, **wording.foreign, **dict(document.foreign)}
        return replace(document, foreign=tuple(sorted(foreign.items()))), said

    def figure(self, number: str, unit: str) -> tuple[str, str]:
        """A printed value and its unit."""
        if self.is_source:
            return number, unit
        said = self._translator().settled(Figure(number, unit))
        assert isinstance(said, Figure)
        return said.number, said.unit

    def fixed(self, text: Words, context: str = CONTEXT) -> str:
        """A text at a place where no definition speaks."""
        if not isinstance(text, str):
            return self.language.text(text)
        return text if self.is_source else self._translator().fixed(text, context)

    def text(self, text: str, context: str = "cell") -> str:
        """A text that may hold names of the project and numbers."""
        return text if self.is_source else self._translator().text(text, context)

    def html(self, text: str, context: str = "cell") -> str:
        """The same for HTML; what nobody has translated says that it is English."""
        if self.is_source:
            return str(escape(text))
        translator = self._translator()
        said = str(escape(translator.text(text, context)))
        return f'<span lang="{SOURCE}">{said}</span>' if translator.missing else said

    def _translator(self) -> Translator:
        return Translator(self.words, self.given)


ENGLISH: Final = Voice(Catalogue(SOURCE))


def voice_of(definitions: Definitions, root: Path | None) -> Voice:
    """The voice of a project; messages of its own templates come first."""
    return voice_in(definitions, definitions.project.language, root)


def voice_in(definitions: Definitions, language: str, root: Path | None) -> Voice:
    """The voice that tells of a project in a language."""
    if base_of(language) == SOURCE:
        return ENGLISH
    return Voice(catalogue(language, root), given_of(definitions), language_of(language, root))
