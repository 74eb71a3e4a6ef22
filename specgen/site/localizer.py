"""The language of a site: what the program itself says on pages, in the project's language.

Documents of templates come translated. Pages that are built as trees, the blocks laid into others
and the words of the shell are said here, at the end, when everything else about them is done.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from markupsafe import escape

from specgen.document.tree import Block, Document
from specgen.document.wording import Wording
from specgen.frozen import frozen
from specgen.messages import ENGLISH as SPOKEN
from specgen.messages import SOURCE, Language, Message, Words, listed
from specgen.messages.catalogue import language_of
from specgen.model import Definitions

CONTEXT: Final = "site"
"""The sort of place of the shell's words and of pages that are no documents."""
SCRIPT: Final = "script"
"""That of words which scripts put on a page."""


@frozen
class Localizer:
    """Says English words of the program in a language, as far as there are messages."""

    language: Language = SPOKEN
    own: str = SOURCE
    """The language of the project's texts."""

    @property
    def is_source(self) -> bool:
        """Whether the program's own language is spoken."""
        return self.language.is_source

    def at(self, context: str) -> Mapping[str, str]:
        """The words of one sort of place, by the English ones; none where English is spoken."""
        messages = self.language.catalogue.messages
        return {text: forms[0] for (at, text), forms in messages.items() if at == context}

    def document(self, document: Document) -> Document:
        """A page of messages, in the language."""
        return Wording(self.language, self.own).document(document)

    def blocks_into(
        self, document: Document, blocks: tuple[Block, ...]
    ) -> tuple[Document, tuple[Block, ...]]:
        """Blocks of messages, and the document in the language that takes them in."""
        wording = Wording(self.language, self.own)
        blocks = wording.blocks(blocks)
        foreign = {**wording.foreign, **dict(document.foreign)}
        return replace(document, foreign=tuple(sorted(foreign.items()))), blocks

    def fixed(self, words: Words, context: str = CONTEXT) -> str:
        """Words of the shell, a message of the context where they are a text."""
        return self.language.text(Message(words, (), context) if isinstance(words, str) else words)

    def text(self, words: object) -> str:
        """Words, or a value."""
        if isinstance(words, tuple):
            return self.language.text(listed(words) if words else None)
        return self.language.text(words)

    def html(self, words: Words) -> str:
        """Words for HTML; what nobody has translated says that it is English."""
        inner = str(escape(self.language.text(words)))
        unknown = any(True for _ in self.language.missing(words))
        return f'<span lang="{SOURCE}">{inner}</span>' if unknown else inner


ENGLISH: Final = Localizer()


def localizer_of(definitions: Definitions, root: Path | None) -> Localizer:
    """The voice of a project; messages of its own templates come first."""
    return localizer_in(definitions, definitions.project.language, root)


def localizer_in(definitions: Definitions, tag: str, root: Path | None) -> Localizer:
    """The voice that tells of a project in a language."""
    return Localizer(language_of(tag, root), definitions.project.language)
