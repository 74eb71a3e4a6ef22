"""SVG pictures of a project, written anew from what only shows: shapes, text, gradients, clips.

Read with expat, event by event: a document type is dropped, one that declares entities ends it, so
nothing grows. What is not on the lists is left out, and told at its line.
"""

import re
from collections import Counter
from collections.abc import Iterator
from html import escape
from typing import Any, Final
from xml.parsers import expat

from specgen.diagnostics import Code, Finding, Label, Span, codes
from specgen.frozen import frozen
from specgen.messages import Message, say

SVG: Final = "http://www.w3.org/2000/svg"
XLINK: Final = "http://www.w3.org/1999/xlink"
XML: Final = "http://www.w3.org/XML/1998/namespace"
DEEPEST: Final = 200
MOST_TOLD: Final = 500
ELEMENTS: Final = frozenset((
    "svg", "g", "defs", "symbol", "use", "title", "desc", "switch", "path", "rect", "circle",
    "ellipse", "line", "polyline", "polygon", "text", "tspan", "textPath", "image", "marker",
    "linearGradient", "radialGradient", "stop", "pattern", "clipPath", "mask", "filter", "style",
    "feBlend", "feColorMatrix", "feComponentTransfer", "feComposite", "feConvolveMatrix",
    "feDiffuseLighting", "feDisplacementMap", "feDistantLight", "feDropShadow", "feFlood",
    "feFuncA", "feFuncB", "feFuncG", "feFuncR", "feGaussianBlur", "feMerge", "feMergeNode",
    "feMorphology", "feOffset", "fePointLight", "feSpecularLighting", "feSpotLight", "feTile",
    "feTurbulence",
))  # fmt: skip
ACTING: Final = frozenset((
    "script", "foreignObject", "iframe", "audio", "video", "handler", "listener", "set", "animate",
    "animateColor", "animateMotion", "animateTransform", "discard", "feImage", "cursor", "a",
))  # fmt: skip
"""Elements that run, move, fetch or lead away. Source of all names: SVG 1.1 and 2, W3C."""
_STRANGE_ATTRIBUTE: Final = re.compile(
    r"on[a-z]|attributename$|begin$|base$|ping$|target$|src$", re.I
)
_PLAIN: Final = re.compile(r"[A-Za-z][A-Za-z0-9-]*")
_OWN_NAME: Final = re.compile(r"#[^\s\"'<>()\\]+")
_INLINE_PICTURE: Final = re.compile(r"data:image/(?:png|jpeg|gif|webp);base64,[A-Za-z0-9+/=\s]+")
_ADDRESS_IN_STYLE: Final = re.compile(
    r"url\s{0,9}\(\s{0,9}(['\"]?)([^()'\"]{0,200})\1\s{0,9}\)", re.I
)
_UNSAFE_STYLE: Final = re.compile(
    r"@|\\|<|/\*|expression|behavior|binding|image-set|\bsrc\s*\(|javascript|\burl\b|cursor|content\s*:",
    re.I,
)


@frozen
class Cleaned:
    """The picture as it is published, None where it is none; and what was found."""

    content: bytes | None
    findings: tuple[Finding, ...]


def clean_svg(content: bytes, file: str) -> Cleaned:
    """An SVG file without what does more than show."""
    reader = _Reader(file)
    try:
        reader.parser.Parse(content, True)
    except expat.ExpatError as error:
        problem = expat.errors.messages.get(error.code, "") or expat.ErrorString(error.code)
        at = Span(file, error.lineno, error.offset + 1, error.lineno, error.offset + 2)
        return Cleaned(None, (_unreadable(say("not SVG: {problem}", problem=problem), at),))
    except (LookupError, ValueError, TypeError):  # what Python has no such table of letters for
        message = say("not SVG: its encoding is none that is read here")
        return Cleaned(None, (_unreadable(message, Span(file, 1, 1, 1, 2)),))
    except _NoPicture as stop:
        return Cleaned(None, (_unreadable(stop.words, stop.at),))
    made = '<?xml version="1.0" encoding="UTF-8"?>\n' + "".join(reader.parts) + "\n"
    return Cleaned(made.encode(), tuple(reader.findings()))


def _unreadable(message: Message, at: Span) -> Finding:
    return Finding(
        codes.UNREADABLE, message, Label(at), help=say("save the picture again as plain SVG")
    )


class _NoPicture(Exception):
    def __init__(self, words: Message, at: Span) -> None:
        super().__init__(words)
        self.words = words
        self.at = at


class _Reader:
    """Handles the parser's events, and keeps what is written of them."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.parts: list[str] = []
        self.kept: list[str] = []
        """The elements that are open and written."""
        self.skipped = 0
        """How deep we are in an element that is left out; its words go with it."""
        self.more: Counter[Code] = Counter()
        """How often something is left out that is not told apart."""
        self.told: dict[tuple[Code, str], tuple[Message, Span, int]] = {}
        self.style = ""
        parser: Any = expat.ParserCreate(namespace_separator=" ")
        parser.buffer_text = True
        parser.ordered_attributes = True
        parser.StartElementHandler = self.start
        parser.EndElementHandler = self.end
        parser.CharacterDataHandler = self.words
        parser.EntityDeclHandler = self.entity
        parser.StartDoctypeDeclHandler = self.doctype
        parser.ProcessingInstructionHandler = self.instruction
        self.parser = parser

    def place(self) -> Span:
        line, column = self.parser.CurrentLineNumber, self.parser.CurrentColumnNumber + 1
        return Span(self.file, line, column, line, column + 1)

    def tell(self, code: Code, name: str, message: Message) -> None:
        if len(self.told) >= MOST_TOLD and (code, name) not in self.told:
            self.more[code] += 1
            return
        message, at, times = self.told.get((code, name), (message, self.place(), 0))
        self.told[(code, name)] = message, at, times + 1

    def findings(self) -> Iterator[Finding]:
        for (code, _), (message, at, times) in self.told.items():
            notes = (say("{n} times in this file", n=times),) if times > 1 else ()
            yield Finding(code, message, Label(at), notes=notes)
        for code, times in self.more.items():
            message = say("left out of the figure besides these: {n}", n=times)
            yield Finding(code, message, Label(Span(self.file, 1, 1, 1, 2)))

    def left_out(self, name: str, acts: bool) -> None:
        code = codes.PICTURE_ACTS if acts else codes.PICTURE_CLEANED
        self.tell(code, name, say("`{name}` is left out of the figure", name=name))

    def start(self, name: str, attributes: list[str]) -> None:
        space, _, local = name.rpartition(" ")
        if not self.kept and not self.skipped and (space, local) != (SVG, "svg"):
            message = say("not SVG: its first element is `{name}`", name=local)
            raise _NoPicture(message, self.place())
        if len(self.kept) + self.skipped >= DEEPEST:
            message = say("nested more than {deepest} levels deep", deepest=DEEPEST)
            raise _NoPicture(message, self.place())
        if self.skipped:
            self.skipped += 1
            if space == SVG and local in ACTING:
                self.left_out(f"<{local}>", True)
            return
        if space == SVG and local == "a":  # what it leads from is kept
            self.left_out("<a>", True)
            self.kept.append("")
            return
        if space != SVG or local not in ELEMENTS:
            acts = local in ACTING or space == "http://www.w3.org/1999/xhtml"
            self.left_out(f"<{local}>", acts)
            self.skipped = 1
            return
        written = [f"<{local}"]
        if not self.kept:
            written.append(f' xmlns="{SVG}" xmlns:xlink="{XLINK}"')
        pairs = zip(attributes[::2], attributes[1::2], strict=True)
        written += [self.attribute(local, key, value) for key, value in pairs]
        self.parts.append("".join((*written, ">")))
        self.kept.append(local)

    def attribute(self, of: str, name: str, value: str) -> str:
        """The attribute as it is written, "" where it is left out."""
        space, _, local = name.rpartition(" ")
        if local == "href" and space in ("", XLINK):
            inside = of == "image" and _INLINE_PICTURE.fullmatch(value.strip())
            if inside or _OWN_NAME.fullmatch(value.strip()):
                prefix = "xlink:" if space else ""
                return f' {prefix}href="{escape(value.strip())}"'
            self.left_out(f"href of <{of}>", True)
            return ""
        if space == XML and local in ("space", "lang"):
            return f' xml:{local}="{escape(value)}"'
        if space or not _PLAIN.fullmatch(local) or _STRANGE_ATTRIBUTE.match(local):
            acts = space in ("", XML) and _STRANGE_ATTRIBUTE.match(local) is not None
            self.left_out(local, acts)
            return ""
        if not _is_safe(value, local == "style"):
            self.left_out(f"{local} of <{of}>", True)
            return ""
        return f' {local}="{escape(value)}"'

    def words(self, text: str) -> None:
        if self.skipped:
            return
        if self.kept and self.kept[-1] == "style":
            self.style += text
        else:
            self.parts.append(escape(text, quote=False))

    def end(self, _: str) -> None:
        if self.skipped:
            self.skipped -= 1
            return
        local = self.kept.pop()
        if local == "style":
            if _is_safe(self.style, True):
                self.parts.append(escape(self.style, quote=False))
            else:
                self.left_out("<style>", True)
            self.style = ""
        if local:
            self.parts.append(f"</{local}>")

    def entity(self, name: str, *_: object) -> None:
        message = say("not SVG: it declares the entity `{name}`", name=name)
        raise _NoPicture(message, self.place())

    def doctype(self, *_: object) -> None:
        self.left_out("<!DOCTYPE>", False)

    def instruction(self, target: str, _: str) -> None:
        self.left_out(f"<?{target}?>", target.lower().startswith("xml-stylesheet"))


def _is_safe(value: str, style: bool) -> bool:
    """Whether a value refers to nothing but names within its own file."""
    addresses = _ADDRESS_IN_STYLE.findall(value)
    if not all(_OWN_NAME.fullmatch(each.strip()) for _, each in addresses):
        return False
    rest = _ADDRESS_IN_STYLE.sub("", value)
    if style:
        return not _UNSAFE_STYLE.search(rest)
    return not re.search(r"\burl\s*\(|javascript:|\\", rest, re.I)
