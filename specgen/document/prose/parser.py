"""The one parser of texts that people write: CommonMark, pipe tables, references in braces; and
footnotes, lists of terms, lists to tick off, warnings and notes.

Pages of the site, pieces of documents and filled templates are read alike. A page may have HTML in
it, which is judged by itself; elsewhere it is text.
"""

import re
from typing import Final, get_args

from markdown_it import MarkdownIt
from markdown_it.rules_block import StateBlock
from markdown_it.rules_core import StateCore
from markdown_it.rules_inline import StateInline
from markdown_it.token import Token
from mdit_py_plugins.container import container_plugin
from mdit_py_plugins.deflist import deflist_plugin
from mdit_py_plugins.footnote import footnote_plugin

from specgen.document.prose.reference import IN_BRACES
from specgen.document.tree import Signal

REFERENCE: Final = "reference"
TICK: Final = "tick"
"""A box at the beginning of an item; its `info` is `x` where it is ticked."""
SUBJECT: Final = "subject"
"""What a warning is about: written behind its kind, and read like a paragraph."""
PLACED: Final = "placed"
"""A block that is placed as in a template; its `info` is empty where it is not closed."""
ADMONITION: Final = "container_admonition"
NOTE: Final = "footnote_reference"
"""What a footnote says, where it is written."""
NOTE_MARK: Final = "footnote_ref"
"""What refers to it."""
SIGNALS: Final[tuple[Signal, ...]] = get_args(Signal)
MOST_BRACKETS: Final = 200
"""Brackets that a paragraph may open: the parser looks for the end of each up to its own end."""
OWN_ID: Final = re.compile(r"\s*\{:?[^}]*#([\w-]+)[^}]*\}\s*$")
"""The anchor that a heading gives itself: `## Feet {#feet}`."""
_PLACED: Final = re.compile(r"\{\{[ \t]*[a-z0-9]")
_BOX: Final = re.compile(r"\[([ xX])\][ \t]+")


class _Parser(MarkdownIt):
    """markdown-it-py that takes any link for one: where it leads is judged and told by us."""

    def validateLink(self, url: str) -> bool:  # noqa: N802, ARG002
        return True


class _TemplateParser(_Parser):
    """The same, with targets of links left as written: values are put in afterwards."""

    def normalizeLink(self, url: str) -> str:  # noqa: N802
        return url


def parser_of(page: bool) -> MarkdownIt:
    """A new parser of pages, or of pieces of documents."""
    md = _with_our_rules(_Parser("commonmark", {"html": page}))
    if not page:
        _without_what_templates_indent(md)
    md.inline.ruler.before("link", REFERENCE, _reference)
    md.block.ruler.before("paragraph", PLACED, _placed)
    return md


def template_parser() -> MarkdownIt:
    """A new parser of what filled templates say: their values stand in it as placeholders."""
    md = _with_our_rules(_TemplateParser("commonmark", {"html": False}))
    _without_what_templates_indent(md)
    return md


def _with_our_rules(md: MarkdownIt) -> MarkdownIt:
    md.enable("table").use(footnote_plugin, inline=False).use(deflist_plugin)
    md.use(container_plugin, "admonition", validate=_is_admonition)
    md.core.ruler.at("inline", read_running_text)
    md.core.ruler.before("inline", SUBJECT, _subjects)
    md.core.ruler.after("inline", TICK, _ticks)
    return md


def _without_what_templates_indent(md: MarkdownIt) -> None:
    md.disable(["code", "lheading", "html_block", "html_inline"])


def _is_admonition(info: str, _markup: str) -> bool:
    return bool(info.strip())


def kind_of(admonition: Token) -> str:
    """The word behind the colons that open a warning or a note."""
    return admonition.info.split(maxsplit=1)[0]


def signal_of(admonition: Token) -> Signal:
    """The signal word of a warning or a note; of a kind that there is none of, which is told, that
    of a note."""
    kind = kind_of(admonition)
    return next((each for each in SIGNALS if each == kind), "note")


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


def _subjects(state: StateCore) -> None:
    """What stands behind the kind of a warning, as running text of its own."""
    if ":::" not in state.src:
        return
    made: list[Token] = []
    for token in state.tokens:
        made.append(token)
        if token.type == f"{ADMONITION}_open":
            _, *subject = token.info.split(maxsplit=1)
            if subject:
                line = token.map and [token.map[0], token.map[0] + 1]
                inline = Token("inline", "", 0, content=subject[0].strip(), children=[], map=line)
                made += (
                    Token(f"{SUBJECT}_open", "", 1),
                    inline,
                    Token(f"{SUBJECT}_close", "", -1),
                )
    state.tokens = made


def _ticks(state: StateCore) -> None:
    """Boxes at the beginning of items: `- [ ] still open`, `- [x] done`."""
    for before, _, token in zip(state.tokens, state.tokens[1:], state.tokens[2:], strict=False):
        if token.type == "inline" and token.children and before.type == "list_item_open":
            first = token.children[0]
            box = _BOX.match(first.content) if first.type == "text" else None
            if box is not None:
                first.content = first.content[box.end() :]
                token.children.insert(0, Token(TICK, "", 0, info=box[1].strip().lower()))


def _placed(state: StateBlock, first: int, end: int, silent: bool) -> bool:
    """`{{ table("memory") }}`, over one line or several."""
    start = state.bMarks[first] + state.tShift[first]
    if not _PLACED.match(state.src, start):
        return False
    last = first
    while last < end and not state.isEmpty(last):
        last += 1
        if state.src[: state.eMarks[last - 1]].rstrip().endswith("}}"):
            break
    inner = state.getLines(first, last, state.blkIndent, False).strip()
    if not silent:
        state.line = last
        token = state.push(PLACED, "", 0)
        token.map = [first, last]
        token.info = "}}" if inner.endswith("}}") else ""
        token.content = inner.removeprefix("{{").removesuffix("}}")
    return True


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
