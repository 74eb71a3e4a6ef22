"""What stopped a template, as one finding at the template's line."""

import re
from collections.abc import Iterable, Mapping
from types import TracebackType

from jinja2 import TemplateError, TemplateNotFound, TemplateSyntaxError
from jinja2.environment import Template

from specgen.diagnostics import Code, Finding, Label, Span, did_you_mean
from specgen.diagnostics.codes import TEMPLATE_ERROR
from specgen.diagnostics.suggest import question
from specgen.document.sandbox import (
    AuthorError,
    MissingNameError,
    OutOfReachError,
    Sandbox,
    without_addresses,
)
from specgen.document.template import MakerError, Templates
from specgen.messages import say


def finding_of(error: Exception, name: str, templates: Templates, known: Iterable[str]) -> Finding:
    """The finding for what stopped the template `name`; `known` are the names that it may use."""
    where, line = _place(error, name)
    return finding_at(error, where, line, templates, known)


def finding_at(
    error: Exception, where: str, line: int, templates: Templates, known: Iterable[str]
) -> Finding:
    """The same at a line of the template `where` that is known already."""
    file = templates.place(where)
    source = _line(templates.environment, where, line)
    said = _said(error, templates.environment, known)
    span = _span(file, line, source, said.word)
    return Finding(said.code, said.message, Label(span), notes=said.notes, help=said.help)


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


class _Said:
    """What a finding says apart from its place."""

    def __init__(
        self,
        message: str,
        *,
        word: str = "",
        notes: tuple[str, ...] = (),
        help: str = "",  # noqa: A002
        code: Code = TEMPLATE_ERROR,
    ) -> None:
        self.message = without_addresses(message)
        self.word = word
        self.notes = tuple(map(without_addresses, notes))
        self.help = help
        self.code = code


def _said(error: Exception, sandbox: Sandbox, known: Iterable[str]) -> _Said:
    match error:
        case AuthorError():
            return _Said(error.message, word=error.word, help=error.help, code=error.code)
        case MakerError():
            cause = error.__cause__
            note = " ".join(f"{type(cause).__name__}: {cause}".split())
            return _Said(f"`{error.name}` could not be made", word=error.name, notes=(note,))
        case OutOfReachError(name=name):
            return _Said(f"templates may not use `{name}`", word=name)
        case MissingNameError(owner=None, name=name):
            meant = did_you_mean(name, [*known, *sandbox.globals])
            return _Said(f"`{name}` is not known here", word=name, help=question(meant))
        case MissingNameError(owner=owner, name=name):
            meant = did_you_mean(name, _names_on(owner))
            return _Said(f"there is no `{name}` on this value", word=name, help=question(meant))
        case TemplateNotFound():
            wanted = str(error.name)
            meant = did_you_mean(wanted, _list(sandbox))
            message = f"template `{wanted}` not found"
            return _Said(message, word=wanted, help=question(meant))
        case RecursionError():
            return _Said(
                "a macro or an include calls itself without an end, or lists nest too deep"
            )
        case MemoryError():
            return _Said("the template needs more memory than there is")
        case UnicodeDecodeError():
            return _Said("the template is not text in UTF-8", help="save the file as UTF-8")
        case TemplateError():
            return _of_jinja(error, sandbox)
        case _:
            return _Said("this does not work out", notes=(_sentence(str(error)),))


_QUOTED_NAME = re.compile(r"No (filter|test) named '([^']*)'")


def _of_jinja(error: TemplateError, sandbox: Sandbox) -> _Said:
    message = error.message or "this cannot be read"
    unknown = _QUOTED_NAME.search(message)
    if unknown:
        sort, name = unknown.groups()
        meant = did_you_mean(name, sandbox.filters if sort == "filter" else sandbox.tests)
        return _Said(f"there is no {sort} `{name}`", word=name, help=question(meant))
    return _Said(_sentence(message))


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


def _place(error: Exception, name: str) -> tuple[str, int]:
    """Template and line: of the text that cannot be read, else of the call that runs deepest."""
    if isinstance(error, TemplateSyntaxError):
        return error.name or name, error.lineno
    where, line = name, 1
    trace: TracebackType | None = error.__traceback__
    while trace is not None:
        template = trace.tb_frame.f_globals.get("__jinja_template__")
        if isinstance(template, Template):
            where = template.name or name
            line = template.get_corresponding_lineno(trace.tb_lineno)
        trace = trace.tb_next
    return where, line


def _line(sandbox: Sandbox, name: str, line: int) -> str:
    try:
        source = sandbox.loader.get_source(sandbox, name)[0] if sandbox.loader else ""
    except (TemplateNotFound, UnicodeDecodeError):
        return ""
    lines = re.split("\r\n|[\n\r\x85\u2028\u2029]", source)
    return lines[line - 1] if 0 < line <= len(lines) else ""


def _span(file: str, line: int, source: str, word: str) -> Span:
    """The word on the line, or all that the line says."""
    found = re.search(rf"(?<!\w){re.escape(word)}(?!\w)", source) if word else None
    start, end = found.span() if found else (len(source) - len(source.lstrip()), len(source))
    end = max(end if found else len(source.rstrip()), start + 1)
    return Span(file, line, start + 1, line, end + 1)
