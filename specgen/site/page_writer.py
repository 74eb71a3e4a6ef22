"""A page that somebody has written, as HTML: tokens of the one parser of texts, written safely.

Whatever stands in the page is text unless Markdown makes it more; the whole is cleaned at the end,
whether it has HTML of its own or not.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from html import escape
from posixpath import dirname, join, normpath
from typing import Any, Final
from urllib.parse import quote, unquote

from markdown_it import MarkdownIt
from markdown_it.token import Token

from specgen.document.link_targets import own_file, safe_link, scheme
from specgen.document.prose.notice import notice
from specgen.document.prose.page_html import cleaned
from specgen.document.prose.parser import (
    ADMONITION,
    OWN_ID,
    PLACED,
    REFERENCE,
    SUBJECT,
    TICK,
    parser_of,
    signal_of,
)
from specgen.document.prose.placed import placed_on_page
from specgen.document.prose.reference_values import printed
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import PAGES, Prose
from specgen.document.tree import (
    Block,
    Caution,
    Figure,
    Heading,
    Inline,
    Literal,
    Table,
    Value,
    plain_text,
)
from specgen.document.wording import Wording
from specgen.messages.catalogue import language_of
from specgen.site.heading_anchors import heading_anchors
from specgen.write.html import fragment
from specgen.write.html_pieces import (
    CAUTION_CLOSE,
    NOTES_CLOSE,
    caution_open,
    footnote_mark,
    note_open,
    notes_open,
    tick,
    way_back,
)

Picture = Callable[[str, str, str], str]
"""A picture of the project's own as HTML, by the path of its file, its words and its title; "" for
any other."""
_FIGURE: Final = re.compile("\ue100([0-9]+)\ue101")


def no_picture(_source: str, _words: str, _title: str) -> str:
    """The project has none."""
    return ""


@dataclass(slots=True)
class _Writing:
    """What the rules know while a page is written."""

    text: Prose
    subjects: Subjects
    wording: Wording
    resolve: Callable[[str], str | None]
    address: Callable[[str], str]
    anchors: list[str]
    picture: Picture
    figures: list[str] = field(default_factory=list)
    """Pictures of the project's own and blocks that the page places, which stay as they are when it
    is cleaned."""
    links: list[bool] = field(default_factory=list)
    """The links that are open, and whether each of them is written."""
    taken: set[str] = field(default_factory=set)
    """The anchors of what the page places."""
    in_heading: bool = False
    under: str = ""
    """The anchor of the heading that what is written stands below."""

    def once(self, block: Block) -> Block:
        """A block that is placed, without an anchor that another one has."""
        match block:
            case Table(anchor=anchor) | Figure(anchor=anchor) | Heading(anchor=anchor):
                if anchor in self.taken:
                    return replace(block, anchor="")
                self.taken.add(anchor)
        return block

    @property
    def tag(self) -> str:
        """The language that it is written in."""
        return self.wording.language.tag


def html_of(
    text: Prose,
    subjects: Subjects,
    resolve: Callable[[str], str | None],
    language: str,
    pages: Mapping[str, str],
    picture: Picture = no_picture,
) -> str:
    """The HTML of a page in a site of a language; `pages` are the paths of pages by their files."""
    shown = text.language or language
    writing = _Writing(
        text,
        subjects,
        Wording(language_of(shown)),
        resolve,
        lambda href: _address(href, text, pages),
        list(reversed(heading_anchors(text, subjects))),
        picture,
    )
    allowed = subjects.definitions.project.pages.html
    made = str(_writer(allowed).render(text.body, {"writing": writing}))
    note = language_of(language).text(notice(shown, language))
    above = f"<p><em>{escape(note)}</em></p>\n" if note else ""
    return _with_figures(cleaned(above + made), writing.figures)


def _with_figures(html: str, figures: Sequence[str]) -> str:
    """A clean page with its pictures, each between the paragraphs that it stands in."""
    if not figures:
        return html

    def figure(found: re.Match[str]) -> str:
        number = int(found[1])
        return figures[number] if number < len(figures) else ""

    return _FIGURE.sub(figure, html.replace("<p></p>", ""))


def _address(href: str, text: Prose, pages: Mapping[str, str]) -> str:
    """A link as the site has it: to the page that is made of a file, where it names a file."""
    path, sign, rest = _parted(href)
    if not path or scheme(href):
        return href
    here = text.file.removeprefix(f"{PAGES}/")
    page = pages.get(normpath(join(dirname(here), unquote(path))))
    if page is None:
        return href
    up = "../" * pages.get(here, here).count("/")
    return f"{up}{quote(page)}{sign}{rest}"


def _parted(href: str) -> tuple[str, str, str]:
    found = re.search(r"[?#]", href)
    at = found.start() if found else len(href)
    return href[:at], href[at : at + 1], href[at + 1 :]


@cache
def _writer(html: bool) -> MarkdownIt:
    """The parser with our rules of writing; HTML is text where it is not allowed."""
    md = parser_of(True)
    rules: dict[str, Callable[[Sequence[Token], int, _Writing], str]] = {
        REFERENCE: _reference,
        "heading_open": _heading_open,
        "heading_close": _heading_close,
        "link_open": _link_open,
        "link_close": _link_close,
        "image": _image,
        "table_open": _table_open,
        "table_close": _table_close,
        "th_open": _cell_open,
        "th_close": _cell_close,
        "td_open": _cell_open,
        "td_close": _cell_close,
        "dl_open": _terms_open,
        "list_item_open": _item_open,
        TICK: _tick,
        PLACED: _placed,
        f"{ADMONITION}_open": _admonition_open,
        f"{ADMONITION}_close": _admonition_close,
        f"{SUBJECT}_open": _nothing,
        f"{SUBJECT}_close": _nothing,
        "footnote_ref": _footnote,
        "footnote_block_open": _footnotes_open,
        "footnote_block_close": _footnotes_close,
        "footnote_open": _footnote_open,
        "footnote_anchor": _footnote_back,
        "fence": _code,
        "code_block": _code,
        "text": _text,
    }
    if not html:
        rules |= {"html_block": _as_text, "html_inline": _as_text}
    for name, rule in rules.items():
        md.add_render_rule(name, _called(rule))
    return md


def _called(rule: Callable[[Sequence[Token], int, _Writing], str]) -> Callable[..., str]:
    def call(_: Any, tokens: Sequence[Token], index: int, __: Any, env: Any) -> str:
        return rule(tokens, index, env["writing"])

    return call


def _reference(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    made = printed(tokens[index].content, writing.text.subject, writing.subjects)
    cell = writing.wording.cell(made.cell)
    if writing.in_heading:  # which menus show as plain words
        return escape(plain_text(cell))
    inner = "".join(map(_inline, cell))
    leads = writing.resolve(made.target) if made.target and not writing.links else None
    return f'<a href="{escape(leads)}">{inner}</a>' if leads else inner


def _inline(inline: Inline) -> str:
    if isinstance(inline, Value):
        unit = f'<span class="unit">\u202f{escape(inline.unit)}</span>' if inline.unit else ""
        kind = "value words" if " " in inline.number else "value"
        key = escape(inline.key or "")
        return f'<span class="{kind}" data-fact="{key}">{escape(inline.number)}{unit}</span>'
    text = escape(plain_text((inline,)))
    return f"<code>{text}</code>" if isinstance(inline, Literal) else text


def _heading_open(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    writing.in_heading = True
    writing.under = escape(writing.anchors.pop() if writing.anchors else "")
    return f'<{tokens[index].tag} id="{writing.under}">'


def _heading_close(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    writing.in_heading = False
    return f"</{tokens[index].tag}>\n"


def _text(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    content = tokens[index].content
    if writing.in_heading and index == len(tokens) - 1:
        content = OWN_ID.sub("", content)
    return escape(content, quote=False)


def _link_open(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    href = str(tokens[index].attrGet("href") or "")
    safe = safe_link(href)
    writing.links.append(safe)
    title = tokens[index].attrGet("title")
    more = f' title="{escape(str(title))}"' if title else ""
    return f'<a href="{escape(writing.address(href))}"{more}>' if safe else ""


def _link_close(_: Sequence[Token], __: int, writing: _Writing) -> str:
    return "</a>" if writing.links.pop() else ""


def _image(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    token = tokens[index]
    source, words = str(token.attrGet("src") or ""), escape(token.content)
    title = token.attrGet("title")
    own = writing.picture(source, token.content.strip(), str(title or ""))
    if own:
        writing.figures.append(own)
        return f"</p>\ue100{len(writing.figures) - 1}\ue101<p>"
    more = f' title="{escape(str(title))}"' if title else ""
    return f'<img src="{escape(source)}" alt="{words}"{more}>' if own_file(source) else words


def _table_open(_: Sequence[Token], __: int, writing: _Writing) -> str:
    named = f' role="region" aria-labelledby="{writing.under}"' if writing.under else ""
    return f'<div class="scroll"{named} tabindex="0"><table>\n'


def _table_close(_: Sequence[Token], __: int, ___: _Writing) -> str:
    return "</table></div>\n"


def _cell_open(tokens: Sequence[Token], index: int, _: _Writing) -> str:
    token = tokens[index]
    number = ' class="num"' if "right" in str(token.attrGet("style")) else ""
    return f"<{_cell_tag(token, tokens[index + 1])}{number}>"


def _cell_close(tokens: Sequence[Token], index: int, _: _Writing) -> str:
    return f"</{_cell_tag(tokens[index], tokens[index - 1])}>\n"


def _cell_tag(token: Token, inner: Token) -> str:
    return token.tag if inner.content.strip() else "td"  # a heading without words heads nothing


def _placed(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    blocks = placed_on_page(tokens[index], writing.text, writing.subjects)
    kept = writing.wording.blocks(tuple(map(writing.once, blocks)))
    writing.figures.append(fragment(kept, writing.tag, writing.resolve))
    return f"\ue100{len(writing.figures) - 1}\ue101\n"


def _nothing(_: Sequence[Token], __: int, ___: _Writing) -> str:
    return ""


def _terms_open(_: Sequence[Token], __: int, ___: _Writing) -> str:
    return '<dl class="terms">\n'


def _item_open(tokens: Sequence[Token], index: int, _: _Writing) -> str:
    inner = next((each for each in tokens[index + 1 : index + 3] if each.type == "inline"), None)
    task = inner is not None and inner.children and inner.children[0].type == TICK
    return '<li class="task">' if task else "<li>"


def _tick(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    return tick(bool(tokens[index].info), writing.tag)


def _admonition_open(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    subject = ""
    if tokens[index + 1].type == f"{SUBJECT}_open":
        inner = tokens[index + 2].children or []
        subject = "".join(_plain(each, writing) for each in inner)
        inner.clear()  # it is written with the signal word
    return caution_open(Caution(subject, (), signal_of(tokens[index])), writing.tag)


def _plain(token: Token, writing: _Writing) -> str:
    if token.type == REFERENCE:
        made = printed(token.content, writing.text.subject, writing.subjects)
        return plain_text(writing.wording.cell(made.cell))
    return token.content


def _admonition_close(_: Sequence[Token], __: int, ___: _Writing) -> str:
    return CAUTION_CLOSE


def _footnote(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    meta = tokens[index].meta
    return footnote_mark(meta["id"] + 1, writing.tag, again=meta["subId"] > 0)


def _footnotes_open(_: Sequence[Token], __: int, writing: _Writing) -> str:
    return notes_open(writing.tag)


def _footnotes_close(_: Sequence[Token], __: int, ___: _Writing) -> str:
    return NOTES_CLOSE


def _footnote_open(tokens: Sequence[Token], index: int, _: _Writing) -> str:
    return note_open(tokens[index].meta["id"] + 1)


def _footnote_back(tokens: Sequence[Token], index: int, writing: _Writing) -> str:
    meta = tokens[index].meta
    return "" if meta["subId"] else f" {way_back(meta['id'] + 1, writing.tag)}"


def _code(tokens: Sequence[Token], index: int, _: _Writing) -> str:
    return f'<pre tabindex="0"><code>{escape(tokens[index].content)}</code></pre>\n'


def _as_text(tokens: Sequence[Token], index: int, _: _Writing) -> str:
    return escape(tokens[index].content)
