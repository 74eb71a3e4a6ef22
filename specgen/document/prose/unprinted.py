"""Texts that no document prints: no template asks for one of their name about their subject."""

from collections.abc import Iterable, Iterator

from specgen.diagnostics import Finding, Label, Span, codes, did_you_mean, question
from specgen.document.call import Call
from specgen.document.prose.text_subjects import Subjects
from specgen.document.prose.texts import Prose
from specgen.document.template_calls import TemplateCalls
from specgen.messages import say

CALL = "prose"


def unprinted(
    texts: Iterable[Prose], templates: TemplateCalls, subjects: Subjects
) -> Iterator[Finding]:
    """SG511; nothing where a template puts the name together when it runs."""
    asked = tuple(_asked(templates))
    if any(name is None for name, _ in asked):
        return
    of_systems = {name for name, subject in asked if not subject}
    for text in texts:
        if text.is_page or codes.TEXT_UNPRINTED.id in text.allow:
            continue
        named = {name for name, subject in asked if subject == text.subject}
        if subjects.kind(text.subject) in ("build", "platform", ""):
            named |= of_systems
        if text.name in named:
            continue
        yield Finding(
            codes.TEXT_UNPRINTED,
            say("no document prints `{name}` of `{subject}`", name=text.name, subject=text.subject),
            Label(Span(text.file, 1, 1, 1, 1)),
            help=question(did_you_mean(text.name, filter(None, named)))
            or say(
                'write `{{{{ prose("{name}", "{subject}") }}}}` in a template, or delete it',
                name=text.name,
                subject=text.subject,
            ),
        )


def _asked(templates: TemplateCalls) -> Iterator[tuple[str | None, str]]:
    """The texts that templates ask for: name, and subject where it is not the document's own."""
    for name in templates.names():
        if CALL in templates.text(name):
            yield from map(_of_call, templates.calls(name, (CALL,)))


def _of_call(call: Call) -> tuple[str | None, str]:
    named = (*call.args, None)[0] if call.args else call.kwargs.get("name")
    about = call.args[1] if len(call.args) > 1 else call.kwargs.get("subject", "")
    known = isinstance(named, str) and isinstance(about, str)
    return (str(named), str(about)) if known else (None, "")
