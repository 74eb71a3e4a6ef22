"""What stopped a template: an author's mistake as one finding at its line, or a fault of ours."""

import re
from collections.abc import Iterable, Iterator, Mapping
from traceback import walk_tb
from typing import Final

from jinja2 import TemplateError, TemplateNotFound, TemplateSyntaxError
from jinja2.environment import Template

from specgen.diagnostics import Code, Finding, Label, Span, did_you_mean
from specgen.diagnostics.codes import TEMPLATE_ERROR, TO_DO_PUBLISHED
from specgen.diagnostics.suggest import question
from specgen.document.maker import AuthorError, FoundElsewhere
from specgen.document.sandbox import MissingNameError, OutOfReachError, Sandbox, without_addresses
from specgen.document.template import Templates
from specgen.document.unclosed import unclosed
from specgen.messages import NOTHING, Message, Nothing, message_of, say
from specgen.source.unfinished_marks import unfinished


def finding_of(
    error: Exception, name: str, templates: Templates, known: Iterable[str]
) -> Finding | None:
    """The finding for what stopped the template `name`; None where that is a fault of our own.

    `known` are the names that the template may use. Only templates of the project are blamed: a
    line of theirs that cannot be, or that has an expression which does not work out.
    """
    if isinstance(error, FoundElsewhere):
        return error.finding
    place = _blamed(error, name, templates)
    return None if place is None else finding_at(error, *place, templates, known)


def finding_at(
    error: Exception, where: str, line: int, templates: Templates, known: Iterable[str]
) -> Finding:
    """The same at a line of the template `where` that is known already."""
    file = templates.place(where)
    explanation = _explained(error, templates.environment, known)
    if isinstance(error, TemplateSyntaxError):
        left_open = unclosed(source_of(templates.environment, where))
        if left_open is not None:
            line = left_open.line
            explanation = _Explanation(
                say("`{sign}` is never closed", sign=left_open.sign),
                help=say("close it with `{sign}`", sign=left_open.closed_by),
            )
    source = _line(templates.environment, where, line)
    span = _span(file, line, source, explanation.word)
    return Finding(
        explanation.code,
        explanation.message,
        Label(span),
        notes=explanation.notes,
        help=explanation.help,
    )


def missing_title(name: str, templates: Templates) -> Finding:
    """The finding for a template without a level-1 heading."""
    source = _line(templates.environment, name, 1)
    return Finding(
        TEMPLATE_ERROR,
        say("the template has no title"),
        Label(_span(templates.place(name), 1, source, "")),
        notes=(say("the first heading of level 1 becomes the document's title"),),
        help=say("begin it with a line such as `# {{{{ build.name }}}}`"),
    )


def left_to_do(name: str, templates: Templates) -> Iterator[Finding]:
    """SG127: what a template of the project says itself is not finished; its documents are."""
    if templates.ours(name):
        return
    source = source_of(templates.environment, name)
    for number, line in enumerate(source.split("\n"), start=1):
        found = unfinished(_MARKUP.sub(lambda sign: " " * len(sign[0]), line).strip())
        if found is not None:
            yield Finding(
                TO_DO_PUBLISHED,
                say("something is left to do here"),
                Label(_span(templates.place(name), number, line, "")),
                help=say("write what belongs there, and take the mark away"),
            )


class _Explanation:
    """What a finding says apart from its place."""

    def __init__(
        self,
        message: Message,
        *,
        word: str = "",
        notes: tuple[Message, ...] = (),
        help: Message | Nothing = NOTHING,  # noqa: A002
        code: Code = TEMPLATE_ERROR,
    ) -> None:
        self.message = message
        self.word = word
        self.notes = notes
        self.help = help
        self.code = code


def _explained(error: Exception, sandbox: Sandbox, known: Iterable[str]) -> _Explanation:
    match error:
        case AuthorError():
            return _Explanation(error.message, word=error.word, help=error.help, code=error.code)
        case OutOfReachError(name=name):
            return _Explanation(say("templates may not use `{name}`", name=name), word=name)
        case MissingNameError(owner=None, name=name):
            meant = did_you_mean(name, [*known, *sandbox.globals])
            message = say("`{name}` is not known here", name=name)
            return _Explanation(message, word=name, help=question(meant))
        case MissingNameError(owner=owner, name=name):
            meant = did_you_mean(name, _names_on(owner))
            message = say("there is no `{name}` on this value", name=name)
            return _Explanation(message, word=name, help=question(meant))
        case TemplateNotFound():
            wanted = str(error.name)
            meant = did_you_mean(wanted, _list(sandbox))
            message = say("template `{name}` not found", name=wanted)
            return _Explanation(message, word=wanted, help=question(meant))
        case RecursionError():
            return _Explanation(
                say("a macro or an include calls itself without an end, or lists nest too deep")
            )
        case MemoryError():
            return _Explanation(say("the template needs more memory than there is"))
        case UnicodeDecodeError():
            return _Explanation(
                say("the template is not text in UTF-8"), help=say("save the file as UTF-8")
            )
        case TemplateError():
            return _of_jinja(error, sandbox)
        case _:
            return _Explanation(say("this does not work out"), notes=(_theirs(str(error)),))


_MARKUP: Final = re.compile(r"\{#|#\}|^\s*(?:#+|[-*]|\d+\.)\s")
_QUOTED_NAME = re.compile(r"No (filter|test) named '([^']*)'")


def _of_jinja(error: TemplateError, sandbox: Sandbox) -> _Explanation:
    if not error.message:
        return _Explanation(say("this cannot be read"))
    unknown = _QUOTED_NAME.search(error.message)
    if unknown:
        sort, name = unknown.groups()
        meant = did_you_mean(name, sandbox.filters if sort == "filter" else sandbox.tests)
        message = (
            say("there is no filter `{name}`", name=name)
            if sort == "filter"
            else say("there is no test `{name}`", name=name)
        )
        return _Explanation(message, word=name, help=question(meant))
    return _Explanation(_theirs(error.message))


def _theirs(text: str) -> Message:
    """Somebody else's words, which no language changes, without addresses in memory."""
    return message_of(_sentence(without_addresses(text)))


def _sentence(message: str) -> str:
    """Somebody else's message in our manner: its first sentence, small letter first, no stop."""
    first = re.split(r"(?<=[a-z'`)])\. ", " ".join(message.split()), maxsplit=1)[0].rstrip(".")
    return first[:1].lower() + first[1:] if first[1:2].islower() else first


def _names_on(owner: object) -> list[str]:
    names = [str(key) for key in owner] if isinstance(owner, Mapping) else dir(owner)
    return [name for name in names if not name.startswith("_")]


def _list(sandbox: Sandbox) -> list[str]:
    try:
        return sandbox.list_templates()
    except TypeError:  # this loader has no list
        return []


_THEIRS: Final = (AuthorError, MissingNameError, OutOfReachError)
"""What is raised for nothing but a mistake of an author."""
_RUN_BY_TEMPLATES: Final = ("specgen.document.sandbox", "specgen.document.template")
_ENDLESS: Final = 20  # templates and macros within one another


def _blamed(error: Exception, name: str, templates: Templates) -> tuple[str, int] | None:
    """The author's template and line: the deepest that runs, or the text that cannot be read.

    None where nothing of the author's is to blame: no template of the project runs, or what went
    wrong did so in code of ours that a template called.
    """
    if isinstance(error, TemplateSyntaxError):
        where = error.name or name
        return None if templates.ours(where) else (where, error.lineno)
    place = None if templates.ours(name) else (name, 1)
    running, strange = 0, False
    before, read = "", False
    for frame, line in walk_tb(error.__traceback__):
        template = frame.f_globals.get("__jinja_template__")
        module = str(frame.f_globals.get("__name__", ""))
        if isinstance(template, Template):
            running, strange = running + 1, False
            if not templates.ours(template.name or name):
                place = template.name or name, template.get_corresponding_lineno(line)
        elif running and not module.startswith("jinja2.") and module not in _RUN_BY_TEMPLATES:
            # Jinja2 may call the standard library; whatever else runs below a template is ours
            strange = strange or module.startswith("specgen.") or before == Templates.__module__
        before, read = module, read or module.startswith("jinja2.")
    if isinstance(error, _THEIRS):
        return place
    if not running:  # the text of the template could not be read
        return place if read else None
    endless = isinstance(error, RecursionError) and running > _ENDLESS
    return place if endless or not strange else None


def source_of(sandbox: Sandbox, name: str) -> str:
    """The text of a template; nothing where it cannot be read, which is told elsewhere."""
    try:
        return sandbox.loader.get_source(sandbox, name)[0] if sandbox.loader else ""
    except (TemplateNotFound, UnicodeDecodeError):
        return ""


def _line(sandbox: Sandbox, name: str, line: int) -> str:
    source = source_of(sandbox, name)
    lines = re.split("\r\n|[\n\r\x85\u2028\u2029]", source)
    return lines[line - 1] if 0 < line <= len(lines) else ""


def _span(file: str, line: int, source: str, word: str) -> Span:
    """The word on the line, or all that the line says."""
    found = re.search(rf"(?<!\w){re.escape(word)}(?!\w)", source) if word else None
    start, end = found.span() if found else (len(source) - len(source.lstrip()), len(source))
    end = max(end if found else len(source.rstrip()), start + 1)
    return Span(file, line, start + 1, line, end + 1)
