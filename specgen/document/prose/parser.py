"""The one parser of texts that people write: CommonMark, pipe tables, references in braces.

Pages of the site and pieces of documents are read alike. A page may have HTML in it, which is
judged by itself; in a piece of a document it is text.
"""

from typing import Final

from markdown_it import MarkdownIt
from markdown_it.rules_core import StateCore
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token

from specgen.document.prose.reference import IN_BRACES

REFERENCE: Final = "reference"
MOST_BRACKETS: Final = 200
"""Brackets that a paragraph may open: the parser looks for the end of each up to its own end."""


class _Parser(MarkdownIt):
    """markdown-it-py that takes any link for one: where it leads is judged and told by us."""

    def validateLink(self, url: str) -> bool:  # noqa: N802, ARG002
        return True


def parser_of(page: bool) -> MarkdownIt:
    """A new parser of pages, or of pieces of documents."""
    md = _Parser("commonmark", {"html": page}).enable("table")
    if not page:
        md.disable(["code", "lheading", "html_block", "html_inline"])
    md.core.ruler.at("inline", read_running_text)
    md.inline.ruler.before("link", REFERENCE, _reference)
    return md


def crowded(content: str) -> bool:
    """Whether a paragraph has too many brackets to be read; its words are printed as they are."""
    return content.count("[") > MOST_BRACKETS


def read_running_text(state: StateCore) -> None:
    """The parser's own step from blocks to running text, which leaves crowded paragraphs alone."""
    for token in state.tokens:
        if token.type == "inline":
            children: list[Token] = []
            if crowded(token.content):
                children.append(Token("text", "", 0, content=token.content))
            else:
                state.md.inline.parse(token.content, state.md, state.env, children)
            token.children = children


def _reference(state: StateInline, silent: bool) -> bool:
    if state.src[state.pos] != "{":
        return False
    match = IN_BRACES.match(state.src, state.pos)
    if match is None or match.end() > state.posMax:
        return False
    if not silent:
        state.push(REFERENCE, "", 0).content = match[1]
    state.pos = match.end()
    return True
