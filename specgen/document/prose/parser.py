"""The one parser of texts that people write: CommonMark, pipe tables, references in braces.

Pages of the site and pieces of documents are read alike. A page may have HTML in it, which is
judged by itself; in a piece of a document it is text.
"""

from typing import Final

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline

from specgen.document.prose.reference import IN_BRACES

REFERENCE: Final = "reference"


class _Parser(MarkdownIt):
    """markdown-it-py that takes any link for one: where it leads is judged and told by us."""

    def validateLink(self, url: str) -> bool:  # noqa: N802, ARG002
        return True


def parser_of(page: bool) -> MarkdownIt:
    """A new parser of pages, or of pieces of documents."""
    md = _Parser("commonmark", {"html": page}).enable("table")
    if not page:
        md.disable(["code", "lheading", "html_block", "html_inline"])
    md.inline.ruler.before("link", REFERENCE, _reference)
    return md


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
