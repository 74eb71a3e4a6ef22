"""Blocks that a text places as templates do: `{{ table("memory") }}`, alone in its paragraph.

A subject and a colon may stand before the call, as in references:
`{{ shore-gateway: table("memory") }}`. What is called gets values that are written out, and nothing
else: no name, no sum, no loop. So a text needs no run of the language of templates, and what it
places is known before it is printed.
"""

import ast
import inspect
import re
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from typing import Final

from markdown_it.token import Token

from specgen.diagnostics import Code, Finding, Label, Span, codes, did_you_mean, question
from specgen.document.audience import CUSTOMER, INTERNAL, check_readers
from specgen.document.budget import BUDGET, Budget, charge_for
from specgen.document.call_arguments import check_arguments, check_call
from specgen.document.case import Case
from specgen.document.maker import AuthorError, BlockFunction, FoundElsewhere
from specgen.document.prose.parser import PLACED
from specgen.document.prose.passages import tokens_of
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.document.tree import BLOCKS, INLINES, Block, Paragraph
from specgen.frozen import frozen
from specgen.messages import Message, Nothing, say

Makers = Mapping[str, BlockFunction]
OF_SYSTEMS: Final = (
    "table", "facts", "figure", "fact_list", "fact_rows", "fact_table", "fact_bullets", "choices",
    "own_choices", "further_parts", "numbers", "shown_table",
)  # fmt: skip
"""What can be placed wherever a system is known."""
CSV: Final = "csv"
"""A file beside the text, which needs no system."""
OF_DOCUMENTS: Final = (
    "reached", "siblings", "alternatives", "configurations", "cautions", "glossary",
)  # fmt: skip
"""What needs more than its system: it stands in pieces of documents alone."""
_TRIED: Final = frozenset(OF_SYSTEMS) - {"choices", "own_choices", "further_parts"}
"""What takes so little that a check makes it."""
LONGEST: Final = 10_000
"""Letters of a call."""
_SUBJECT: Final = re.compile(r"([a-z0-9][a-z0-9._= -]*?)\s*:\s*(?=[a-z_]+\s*\()")
_WORDS: Final[Mapping[str, object]] = {"true": True, "false": False, "none": None}
_PLAIN: Final = say('write it as in a template: `{{{{ table("memory") }}}}`')


@frozen
class PlacedCall:
    """A maker, what it is called with, and of what; "" of what the text is about."""

    subject: str
    name: str
    args: tuple[object, ...]
    kwargs: Mapping[str, object]


def placed_in(text: Prose) -> Iterator[Token]:
    """What a text places, as the parser found it."""
    if "{{" in text.body:
        yield from (token for token in tokens_of(text)[0] if token.type == PLACED)


def read_call(token: Token) -> PlacedCall:
    """What stands between the braces. Raises `AuthorError`."""
    source = token.content.strip()
    if not token.info:
        raise AuthorError(say("a block that is not closed"), say("write `}}}}` behind it"))
    named = _SUBJECT.match(source)
    if named:
        source = source[named.end() :]
    try:
        if len(source) > LONGEST:
            raise ValueError(source)
        call = ast.parse(source, mode="eval").body
        if not isinstance(call, ast.Call) or not isinstance(call.func, ast.Name):
            raise ValueError(source)
        kwargs = {str(each.arg): _written_out(each.value) for each in call.keywords}
        args = tuple(map(_written_out, call.args))
        if None in (each.arg for each in call.keywords):
            raise ValueError(source)
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise AuthorError(say("a block that cannot be read"), _PLAIN) from None
    return PlacedCall(named[1] if named else "", call.func.id, args, kwargs)


def _written_out(node: ast.expr) -> object:
    match node:
        case ast.Constant(value=str() | bool() | int() | float() | None):
            return node.value
        case ast.List() | ast.Tuple():
            return tuple(map(_written_out, node.elts))
        case ast.Name() if node.id in _WORDS:
            return _WORDS[node.id]
        case _:
            raise ValueError(node)


def made(call: PlacedCall, makers: Makers, audience: str = CUSTOMER) -> tuple[Block, ...]:
    """What the call makes for an audience, nothing where there is nothing to print.

    Raises `AuthorError`.
    """
    if call.name not in makers:
        help_ = question(did_you_mean(call.name, makers))
        if not help_ and call.name in OF_DOCUMENTS:
            help_ = say("it stands in pieces of documents: `prose/ID/NAME.md`")
        raise AuthorError(say("no block is named `{name}`", name=call.name), help_, word=call.name)
    maker = makers[call.name]
    check_arguments(call.name, inspect.signature(maker), call.args, call.kwargs)
    check_readers(call.name, call.args[0] if call.args else "", audience)
    got = maker(*call.args, **call.kwargs)
    charge_for(got)
    if isinstance(got, BLOCKS):
        return (got,)
    pieces = got if isinstance(got, tuple | list) else ()
    blocks = tuple(each for each in pieces if isinstance(each, BLOCKS))
    inlines = tuple(each for each in pieces if isinstance(each, INLINES))
    return blocks or ((Paragraph(inlines),) if inlines else ())


def makers_of(case: Case) -> Makers:
    """What can be placed on a page, of a system."""
    from specgen.document.figures import pictures
    from specgen.drawings import LayoutEngine, nowhere

    failed: list[Finding] = []
    drawn = pictures(case, LayoutEngine(), nowhere, failed)

    def draw(make: Callable[[], object]) -> object:
        figure = make()
        if failed:
            raise FoundElsewhere(failed[0])
        return figure

    return _of_system(case, {name: partial(draw, make) for name, make in drawn.items()})


def _of_files(text: Prose, subjects: Subjects, here: str = "") -> Makers:
    from specgen.document.prose.csv_table import csv_table  # few texts have any

    return {CSV: partial(csv_table, text, subjects, here)}


def _of_system(case: Case, figures: Mapping[str, Callable[[], object]]) -> Makers:
    from specgen.document.blocks.makers import system_blocks
    from specgen.document.shared_texts import Texts

    functions = system_blocks(case, figures, Texts())
    return {name: functions[name] for name in OF_SYSTEMS}


def place(
    token: Token, text: Prose, subjects: Subjects, here: str, makers: Makers, audience: str
) -> tuple[Block, ...]:
    """What a piece of a document places, by the document's own `makers` unless it says of what.

    What is wrong with it is raised as found at its place.
    """
    try:
        call = read_call(token)
        if call.name == CSV:
            return made(call, _of_files(text, subjects, here), audience)
        if not call.subject:
            return made(call, makers, audience)
        case = subjects.system(call.subject)
        if case is None or subjects.unsound(call.subject):
            raise FoundElsewhere(next(_tried(call, token, text, subjects)))
        return made(call, makers_of(case), audience)
    except FoundElsewhere:
        raise
    except AuthorError as error:
        raise FoundElsewhere(_told(error, token, text)) from None


def placed_on_page(token: Token, text: Prose, subjects: Subjects) -> tuple[Block, ...]:
    """What a page places, which has no errors."""
    call = read_call(token)
    if call.name == CSV:
        return made(call, _of_files(text, subjects))
    case = subjects.system(call.subject or text.subject)
    spent = BUDGET.set(Budget())
    try:
        return () if case is None else made(call, makers_of(case))
    finally:
        BUDGET.reset(spent)


def wrong_blocks(text: Prose, subjects: Subjects) -> Iterator[Finding]:
    """SG520, SG525: blocks that cannot be placed, and those that would print nothing."""
    for token in placed_in(text):
        try:
            call = read_call(token)
            yield from _tried(call, token, text, subjects)
        except AuthorError as error:
            yield _told(error, token, text)


def _tried(call: PlacedCall, token: Token, text: Prose, subjects: Subjects) -> Iterator[Finding]:
    from specgen.document.figures import DRAWINGS

    if call.name == CSV:
        made(call, _of_files(text, subjects))
        return
    subject = call.subject or text.subject
    case = subjects.system(subject)
    if case is None:
        yield _unknown(subject, token, text, subjects)
        return
    if subjects.unsound(subject) and (text.is_page or call.subject):
        message = say("`{name}` has errors, so its values could be wrong", name=subject)
        help_ = say("`specgen check` says which; fix them first")
        yield _finding(codes.OF_UNSOUND, message, help_, token, text)
        return
    if case.is_draft and (text.is_page or subject != text.subject):
        message = say("`{build}` is a draft, and this text is published", build=subject)
        help_ = say("name a build that is published, or publish this one")
        yield _finding(codes.DRAFT_NAMED, message, help_, token, text)
    makers = dict(_of_system(case, dict.fromkeys(DRAWINGS, tuple)))
    audience = CUSTOMER if text.is_page else INTERNAL  # of a piece, its document tells
    if call.name in OF_DOCUMENTS and not text.is_page:
        return
    if call.name in makers and call.name not in _TRIED:
        check_call(call.name, makers[call.name], call.args, call.kwargs)
    elif not made(call, makers, audience) and call.name != "figure":
        message = say(
            "`{name}` has nothing to print of `{subject}`", name=call.name, subject=subject
        )
        yield _finding(codes.BLOCK_EMPTY, message, say("take it away"), token, text)


def _unknown(subject: str, token: Token, text: Prose, subjects: Subjects) -> Finding:
    if not subject:
        message = say(
            "a block that does not say of what, and the text is about nothing in particular"
        )
        help_ = say("write `{{{{ ID: …(…) }}}}`, or `subject: ID` in the head of the text")
        return _finding(codes.BLOCK, message, help_, token, text)
    message = say("no build and no platform has the id `{name}`", name=subject)
    known = (*subjects.definitions.builds, *subjects.definitions.platforms)
    return _finding(
        codes.BLOCK, message, question(did_you_mean(subject, known)), token, text, subject
    )


def _told(error: AuthorError, token: Token, text: Prose) -> Finding:
    if isinstance(error, FoundElsewhere):
        return error.finding
    code = codes.BLOCK if error.code is codes.TEMPLATE_ERROR else error.code
    return _finding(code, error.message, error.help, token, text, error.word)


def _finding(
    code: Code,
    message: Message,
    help_: Message | Nothing,
    token: Token,
    text: Prose,
    word: str = "",
) -> Finding:
    return Finding(code, message, Label(_place(token, text, word)), help=help_)


def _place(token: Token, text: Prose, word: str) -> Span:
    """Where the word stands in the call; the first line of the call where it does not."""
    first, last = token.map or (0, 1)
    lines = text.body.split("\n")
    for number in range(first, last):
        at = lines[number].find(word) if word else -1
        if at >= 0:
            return Span(text.file, number + 1, at + 1, number + 1, at + len(word) + 1)
    column = lines[first].find("{{") + 1
    return Span(text.file, first + 1, column, first + 1, len(lines[first].rstrip()) + 1)
