"""HTML that people write in pages: what is kept of it, and what is told of the rest.

The lists are what lays out words, tables and pictures. `cleaned` is the judge: nh3, a sanitizer
that parses as browsers do. `removed` reads the pieces as they were written, to tell the line.
"""

from collections.abc import Iterator, Mapping
from html import escape
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.document.html_reader import HtmlReader
from specgen.document.link_targets import ELSEWHERE, WEB, leads_away, own_file, safe_link
from specgen.document.prose.parser import SIGNALS
from specgen.document.prose.passages import Markup, ShownPicture, markup_of
from specgen.document.prose.texts import Prose
from specgen.messages import Message, say

ELEMENTS: Final = frozenset((
    "a", "abbr", "aside", "b", "bdi", "bdo", "blockquote", "br", "caption", "cite", "code", "col",
    "colgroup", "dd", "del", "details", "dfn", "div", "dl", "dt", "em", "figcaption",
    "figure", "h1", "h2", "h3", "h4", "h5", "h6", "hr", "i", "img", "ins", "kbd", "li",
    "mark", "ol", "p", "pre", "q", "rp", "rt", "ruby", "s", "samp", "section", "small", "span",
    "strong", "sub", "summary", "sup", "table", "tbody", "td", "tfoot", "th", "thead", "time",
    "tr", "u", "ul", "var", "wbr",
))  # fmt: skip
ATTRIBUTES: Final[Mapping[str, frozenset[str]]] = {
    "*": frozenset(("id", "title", "lang", "dir")),
    "a": frozenset(("href", "role", "aria-label")),
    "abbr": frozenset(),
    "aside": frozenset(("role", "aria-label")),
    "col": frozenset(("span",)),
    "colgroup": frozenset(("span",)),
    "details": frozenset(("open",)),
    "div": frozenset(("role", "aria-labelledby", "tabindex")),
    "img": frozenset(("src", "alt", "width", "height")),
    "ol": frozenset(("start", "reversed", "type")),
    "pre": frozenset(("tabindex",)),
    "section": frozenset(("role", "aria-label")),
    "span": frozenset(("data-fact", "role", "aria-label")),
    "td": frozenset(("colspan", "rowspan")),
    "th": frozenset(("colspan", "rowspan", "scope")),
    "time": frozenset(("datetime",)),
}
CLASSES: Final[Mapping[str, frozenset[str]]] = {
    "a": frozenset(("back",)),
    "aside": frozenset(("caution", *(f"{each}-sign" for each in SIGNALS))),
    "div": frozenset(("scroll",)),
    "dl": frozenset(("terms",)),
    "li": frozenset(("task",)),
    "p": frozenset(("caution-title",)),
    "section": frozenset(("notes",)),
    "span": frozenset(("value", "words", "unit", "tick")),
    "sup": frozenset(("mark",)),
    "td": frozenset(("num",)),
    "th": frozenset(("num",)),
}
"""What the style sheet knows, and we write ourselves."""
_ROLES: Final = frozenset(("region", "note", "img", "doc-noteref", "doc-endnotes", "doc-backlink"))
_WITHOUT_CONTENT: Final = frozenset((
    "script", "style", "iframe", "object", "embed", "applet", "noscript", "noembed", "noframes",
    "template", "svg", "math", "textarea", "title", "xmp", "plaintext", "select",
))  # fmt: skip
_VOID: Final = frozenset(("br", "col", "hr", "img", "wbr"))


def fits(tag: str, name: str, value: str) -> bool:
    """Whether an attribute of an element is kept."""
    if name == "class":
        return set(value.split()) <= CLASSES.get(tag, frozenset())
    if name not in ATTRIBUTES["*"] | ATTRIBUTES.get(tag, frozenset()):
        return False
    if name == "href":
        return safe_link(value)
    if name == "role":
        return value in _ROLES
    if name == "tabindex":
        return value == "0"
    return name != "src" or own_file(value)


def cleaned(html: str) -> str:
    """The HTML of a whole page without what could run, cover, fetch; links away are marked."""
    import nh3  # a page that is written by hand is rare

    def judge(tag: str, name: str, value: str) -> str | None:
        return value if fits(tag, name, value) else None

    sound = nh3.clean(
        html,
        tags=set(ELEMENTS),
        clean_content_tags=set(_WITHOUT_CONTENT),
        attributes={tag: set(names) for tag, names in ATTRIBUTES.items()},
        allowed_classes={tag: set(names) for tag, names in CLASSES.items()},
        attribute_filter=judge,
        url_schemes=set(WEB),
        link_rel=None,
        strip_comments=True,
    )
    marker = _Marker()
    marker.feed(sound)
    marker.close()
    return "".join(marker.parts)


class _Marker(HtmlReader):
    """Writes clean HTML again, with links to other hosts marked."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=False)
        self.parts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "a" and leads_away(dict(attrs).get("href") or ""):
            attrs = [*attrs, ("rel", ELSEWHERE)]
        inner = "".join(f' {name}="{escape(value or "")}"' for name, value in attrs)
        self.parts.append(f"<{tag}{inner}>")

    def handle_endtag(self, tag: str) -> None:
        if tag not in _VOID:
            self.parts.append(f"</{tag}>")

    def handle_data(self, data: str) -> None:
        self.parts.append(data)

    def handle_entityref(self, name: str) -> None:
        self.parts.append(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self.parts.append(f"&#{name};")


def removed(prose: Prose, allowed: bool) -> Iterator[Finding]:
    """SG521: HTML of a page that is not published. Comments are for writers, and are not told."""
    for piece in markup_of(prose):
        reader = read_markup(piece)
        if allowed:
            for message, at in reader.strange:
                help_ = say("take it out: what is kept stands in the manual (from-outside.md)")
                yield Finding(codes.HTML_REMOVED, message, Label(at), help=help_)
        elif reader.first is not None:
            yield Finding(
                codes.HTML_REMOVED,
                say("HTML in a page of a project that does not allow it"),
                Label(reader.first),
                help=say("write Markdown, or `pages: {{html: true}}` in specgen.yaml"),
            )


class MarkupReader(HtmlReader):
    """Reads a piece of HTML: what stands in it, what is strange, each with its place."""

    def __init__(self, piece: Markup) -> None:
        super().__init__(convert_charrefs=True)
        self.piece = piece
        self.strange: list[tuple[Message, Span]] = []
        self.pictures: list[tuple[dict[str, str], Span]] = []
        self.first: Span | None = None

    def place(self) -> Span:
        line, offset = self.getpos()
        at = self.piece.at
        column = at.column + offset if line == 1 else offset + 1
        return Span(at.file, at.line + line - 1, column, at.line + line - 1, column + 1)

    def tell(self, message: Message) -> None:
        self.first = self.first or self.place()
        self.strange.append((message, self.place()))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.first = self.first or self.place()
        if tag not in ELEMENTS:
            self.tell(say("`<{tag}>` is taken out of the page", tag=tag))
            return
        for name, value in attrs:
            shown = tag == "img" and name == "src"  # told where pictures are looked for
            if not shown and not fits(tag, name, value or ""):
                self.tell(say("`{name}` is taken out of `<{tag}>`", name=name, tag=tag))
        if tag == "img":
            self.pictures.append(({name: value or "" for name, value in attrs}, self.place()))

    def handle_decl(self, decl: str) -> None:
        self.tell(say("`<!{word}>` is taken out of the page", word=decl.split(" ", 1)[0]))

    def handle_pi(self, data: str) -> None:
        self.tell(say("`<?{word}>` is taken out of the page", word=data.split(" ", 1)[0]))

    def unknown_decl(self, data: str) -> None:
        self.handle_decl(data)


def read_markup(piece: Markup) -> MarkupReader:
    """A piece of HTML, read; where a tag in it has no end, that is strange."""
    reader = MarkupReader(piece)
    reader.feed(piece.text)
    if "<" in reader.rawdata.removeprefix("<!--"):
        reader.tell(say("a tag that is not closed is taken out of the page"))
    return reader


def pictures_in_html(prose: Prose) -> Iterator[tuple[ShownPicture, Span]]:
    """Pictures that a page shows by HTML of its own, with their places."""
    for piece in markup_of(prose):
        for said, at in read_markup(piece).pictures:
            if "alt" in said and not said["alt"]:
                said["alt"] = "decoration"  # said to be one, as HTML has it
            yield ShownPicture(said.get("src", ""), said.get("alt", ""), 0, 0), at
