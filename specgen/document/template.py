"""Fills a template in: Markdown with placeholders, and what each placeholder stands for.

Nothing that an expression yields is ever read as Markdown. Every value, whether a word of a
definition, a printed fact or a table of two hundred rows, is put aside and leaves a placeholder of
private-use characters in the text; `markdown` puts it back into the finished tree. So no text of a
definition needs escaping on this way, and no table passes through the Markdown parser.
"""

import inspect
import re
from collections.abc import Callable, Collection, Iterator, Mapping
from contextvars import ContextVar
from dataclasses import field
from datetime import date
from decimal import Decimal
from functools import cache, cached_property
from pathlib import Path
from typing import Final

from jinja2 import (
    BaseLoader,
    TemplateError,
    Undefined,
    nodes,
)

from specgen.document.audience import CUSTOMER, audience_of, check_readers
from specgen.document.budget import BUDGET, Budget, charge_for
from specgen.document.call import Call
from specgen.document.call_arguments import check_arguments
from specgen.document.maker import AuthorError, BlockFunction, bad_braces
from specgen.document.sandbox import Sandbox
from specgen.document.shared_texts import Texts
from specgen.document.tree import BLOCKS, INLINES, Block, Inline, Text
from specgen.document.tree_calls import calls
from specgen.files.gate import is_file
from specgen.frozen import state
from specgen.messages import Sayable, Words, say
from specgen.messages.pattern import BadPattern, names_of
from specgen.shipped import own_templates

Made = tuple[Inline, ...] | tuple[Block, ...]

_OPEN, _CLOSE = "\ue000", "\ue001"
_DIGITS = str.maketrans("0123456789", "".join(chr(0xE010 + digit) for digit in range(10)))
_NUMBER = str.maketrans("".join(chr(0xE010 + digit) for digit in range(10)), "0123456789")
_BREAKS = re.compile("[\t-\r\x1c-\x1f\x85\u2028\u2029]+")
_PLACEHOLDER = re.compile(f"{_OPEN}([\ue010-\ue019]+){_CLOSE}")


def plain(value: object) -> str:
    """The text of a word or a number; `AuthorError` for anything else."""
    if isinstance(value, (str, int, float, Decimal)) and not isinstance(value, bool):
        return str(value)
    if value is None:
        help_ = say("write `{text}` after it", text='| default("…")')
        raise AuthorError(say("there is no value to print here"), help_)
    if callable(value):
        help_ = say("add the brackets: `name(…)`")
        raise AuthorError(say("this is something to call, not a value"), help_)
    if isinstance(value, (list, tuple)):
        help_ = say("write `{text}` after it", text='| join(", ")')
        raise AuthorError(say("this is a list, not one value"), help_)
    raise AuthorError(say("this value has no printed form"))


@state
class Filled:
    """A template filled in: `source` is Markdown; `made` is what the placeholders stand for."""

    source: str = ""
    made: list[Made] = field(default_factory=list)
    subtitle: Words = ""
    kind: Words = ""
    audience: str = CUSTOMER
    numbered: bool = False
    meta: list[tuple[Words, Words | date]] = field(default_factory=list)

    def keep(self, made: Made) -> str:
        """A placeholder for it."""
        self.made.append(made)
        return f"{_OPEN}{str(len(self.made) - 1).translate(_DIGITS)}{_CLOSE}"

    def split(self, text: str) -> Iterator[str | Made]:
        """The text and what its placeholders stand for, in order; unknown ones are left out."""
        for number, piece in enumerate(_PLACEHOLDER.split(text)):
            if number % 2 == 0:
                if piece:
                    yield piece
            elif (index := int(piece.translate(_NUMBER))) < len(self.made):
                yield self.made[index]


_FILLED: ContextVar[Filled] = ContextVar("_FILLED")


def audience_now() -> str:
    """Whom the document is for whose template runs."""
    filled = _FILLED.get(None)
    return CUSTOMER if filled is None else filled.audience


class Templates:
    """Where templates come from and how values are printed in them.

    `show` gives the text of a value of the project's own (a quantity); it may fall back on
    `plain`, and raises `AuthorError` for what has no printed form. `place` gives a template's
    file, relative to the project, for findings. `project` is the project's folder, where prose
    lies; None for no prose. `language` is the one to make documents in, "" for the project's own.
    `texts` reads the cautions and other texts that documents share. `shipped` is the folder of our
    own templates, which no finding blames.
    """

    def __init__(
        self,
        loader: BaseLoader,
        *,
        show: Callable[[object], str] = plain,
        place: Callable[[str], str] = "templates/{}".format,
        project: Path | None = None,
        language: str = "",
        texts: Callable[[], Texts] = Texts,
        shipped: Path | None = None,
    ) -> None:
        self.place = place
        self.shipped = shipped
        self.project = project
        self.language = language
        self._texts = texts
        self._of_project = show
        self.environment: Final = Sandbox(loader, self._show, self._out)
        self._tree = cache(self._parsed)
        self.own_makers: Mapping[str, BlockFunction] = {
            "subtitle": self._subtitle,
            "audience": self._audience,
            "numbered": self._numbered,
            "meta": self._meta,
            "say": self._printed,
        }

    @cached_property
    def texts(self) -> Texts:
        """The cautions and other texts that documents share, read when one is made."""
        return self._texts()

    def names(self) -> tuple[str, ...]:
        """The templates there are, without their `.md`."""
        found = self.environment.list_templates(extensions=["md"])
        return tuple(name.removesuffix(".md") for name in found)

    def text(self, name: str) -> str:
        """What is written in a template; "" of one that cannot be read, which is told where it is
        used."""
        try:
            assert self.environment.loader is not None
            return self.environment.loader.get_source(self.environment, f"{name}.md")[0]
        except UnicodeDecodeError:
            return ""

    def calls(self, name: str, makers: Collection[str]) -> Iterator[Call]:
        """The calls of makers of these names in a template, none in one that nobody can read."""
        tree = self._tree(name)
        return iter(()) if tree is None else calls(tree, makers)

    def _parsed(self, name: str) -> nodes.Template | None:
        try:
            return self.environment.parse(self.text(name))
        except TemplateError:
            return None  # told where the template is used

    def ours(self, name: str) -> bool:
        """Whether the template of this name is a shipped one, which the project has not got."""
        if self.shipped is None or not (self.shipped / name).is_file():
            return False
        own = self.project
        return own is None or not is_file(own, own_templates(own) / name)

    def fill(
        self, name: str, variables: Mapping[str, object], functions: Mapping[str, BlockFunction]
    ) -> Filled:
        """The template with its values and blocks put aside.

        Raises what Jinja2 raises, `AuthorError`, and whatever a maker raised; `faults` tells
        which of it is the author's.
        """
        filled = Filled()
        budget = Budget()
        kept = _FILLED.set(filled)
        spent = BUDGET.set(budget)
        try:
            template = self.environment.get_template(name)
            calls = {each: guarded(each, function) for each, function in functions.items()}
            pieces: list[str] = []
            for piece in template.root_render_func(
                template.new_context({**self.own_makers, **calls, **variables})
            ):
                budget.write(len(piece))
                pieces.append(piece)
            filled.source = "".join(pieces)
        finally:
            BUDGET.reset(spent)
            _FILLED.reset(kept)
        return filled

    def _show(self, value: object) -> str:
        """The value's text on one line; fails for a name that is not known."""
        return _BREAKS.sub(
            " ", str(value if isinstance(value, Undefined) else self._of_project(value))
        )

    def _out(self, value: object) -> str:
        made = self._made(value)
        return _FILLED.get().keep(made) if made else ""

    def _made(self, value: object) -> Made:
        if isinstance(value, BLOCKS):
            return (value,)
        if isinstance(value, INLINES):
            return (value,)
        if isinstance(value, (tuple, list)):
            if all(isinstance(each, BLOCKS) for each in value):
                return tuple(value)
            if all(isinstance(each, INLINES) for each in value):
                return tuple(value)
        text = self._show(value)
        return (Text(text),) if text else ()

    def _subtitle(self, kind: object = "", about: object = "") -> tuple[()]:
        """`{{ subtitle("Spec sheet", platform.name) }}`: what kind of document it is, of what."""
        filled, of = _FILLED.get(), about if isinstance(about, Sayable) else self._show(about)
        filled.kind = self._printed(kind) if kind else ""
        filled.subtitle = filled.kind or of
        if filled.kind and of:
            filled.subtitle = say("{kind}, {about}", kind=filled.kind, about=of)
        return ()

    def _audience(self, word: object) -> tuple[()]:
        """`{{ audience("engineer") }}`: whom the document is for; above what it decides about."""
        _FILLED.get().audience = audience_of(word)
        return ()

    def _numbered(self) -> tuple[()]:
        """`{{ numbered() }}`: tables and figures of the document have running numbers."""
        _FILLED.get().numbered = True
        return ()

    def _meta(self, label: object, value: object) -> tuple[()]:
        """`{{ meta("Edition", edition) }}`: one of the labelled lines under the title."""
        value = value if isinstance(value, (date, Sayable)) else self._show(value)
        _FILLED.get().meta.append((self._printed(label), value))
        return ()

    def _printed(self, text: object, **arguments: object) -> Words:
        """`{{ say("{n} of {all}", n=1, all=2) }}`: a message of the template.

        Its pattern is written out in the call; a value goes into an open place.
        """
        if isinstance(text, Sayable):
            return text
        pattern = self._show(text)
        try:
            unknown = [name for name in names_of(pattern) if name not in arguments]
        except BadPattern as problem:
            help_ = say("write `{{{{` and `}}}}` for braces")
            raise AuthorError(bad_braces(problem), help_) from None
        if unknown:
            place = f"{{{unknown[0]}}}"
            help_ = say("add `{name}=…`", name=unknown[0])
            raise AuthorError(say("nothing fills `{place}`", place=place), help_)
        shown = {
            name: value if isinstance(value, (*INLINES, tuple)) else self._show(value)
            for name, value in arguments.items()
        }
        return say(pattern, **shown)


def guarded(name: str, function: BlockFunction) -> BlockFunction:
    """The maker, called with what it takes only: what it then raises is no author's mistake."""

    takes = cache(lambda: inspect.signature(function))  # most makers are never called

    def call(*args: object, **kwargs: object) -> object:
        for each in (*args, *kwargs.values()):
            if isinstance(each, Undefined):
                str(each)  # says that the name is not known, before the maker is at a loss
        check_arguments(name, takes(), args, kwargs)
        if (filled := _FILLED.get(None)) is not None:
            check_readers(name, args[0] if args else "", filled.audience)
        try:
            made = function(*args, **kwargs)
            charge_for(made)
        except AuthorError as error:
            error.word = error.word or name
            raise
        return () if made is None else made

    return call
