"""Links that templates of a project write: to a place that every document with them has."""

import re
from collections.abc import Iterator
from typing import Final

from specgen.diagnostics import Finding, Label, Span, codes
from specgen.document.faults import source_of
from specgen.document.link_targets import scheme
from specgen.document.prose.form import LOST
from specgen.document.prose.passages import GAP
from specgen.document.template import Templates
from specgen.messages import Message, say

_JINJA: Final = re.compile(
    r"\{\{(?:(?!\{[{%#]).)*?\}\}|\{%(?:(?!\{[{%#]).)*?%\}|\{#(?:(?!\{[{%#]).)*?#\}"
)
"""Each piece ends before the next begins, so that a line full of beginnings is read once."""
_LINK: Final = re.compile(r"(?<!!)\[([^\[\]]*)\]\(([^()\s]*)\)")


def dead_links_of(name: str, templates: Templates) -> Iterator[Finding]:
    """SG506: links of a template that lead nowhere in a document of its own."""
    if templates.ours(name):
        return
    source = source_of(templates.environment, name)
    for number, line in enumerate(source.split("\n"), start=1):
        plain = _JINJA.sub(lambda part: GAP * len(part[0]), line)
        for found, message, help_ in _of_line(plain):
            at = Span(templates.place(name), number, found.start() + 1, number, found.end() + 1)
            yield Finding(codes.DEAD_LINK, message, Label(at), help=help_)


def _of_line(line: str) -> Iterator[tuple[re.Match[str], Message, Message]]:
    for pattern, message, help_ in LOST:
        for found in pattern.finditer(line):
            yield found, message, help_
    for found in _LINK.finditer(line):
        href = found[2]
        if not href:
            yield found, say("a link without an address"), say("write where it leads")
        elif GAP not in href and not scheme(href) and not href.startswith("#"):
            yield (
                found,
                say("`{link}` leads to no place that every document with this piece has",
                    link=href),
                say("write a reference such as `{{part ID}}`, or a whole address"),
            )  # fmt: skip
