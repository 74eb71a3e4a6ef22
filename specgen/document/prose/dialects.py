"""Signs of other dialects of Markdown, and HTML, which would be printed as they were typed."""

import re
from collections.abc import Iterator
from typing import Final

from specgen.diagnostics import Finding, Label, codes
from specgen.document.prose.parser import OWN_ID
from specgen.document.prose.passages import Passage
from specgen.frozen import frozen
from specgen.messages import Message, say


@frozen
class _Sign:
    """What stands in a text, what is said of it, and what to write instead."""

    pattern: re.Pattern[str]
    message: Message
    help: Message
    of_pages: bool = True


_ADMONITION: Final = say("write a line `::: warning …` before it and a line `:::` behind it")
SIGNS: Final = (
    _Sign(
        re.compile(r"</?[A-Za-z][A-Za-z0-9-]*(?:\s[^<>]*)?/?>|<!--"),
        say("HTML, which is printed as it stands"),
        say("write Markdown; a plain `<` is written `\\<`"),
        of_pages=False,  # HTML of a page is judged by itself
    ),
    _Sign(
        re.compile(r"\{[ \t]*[.:#%][^{}]*\}"),
        say("attributes, which are not known here"),
        say("take them away; a plain brace is written `\\{{`"),
    ),
    _Sign(
        re.compile(r"~~(?=\S)[^~]+(?<=\S)~~"),
        say("words struck out, which are not known here"),
        say("take them away, or write the signs as `\\~`"),
    ),
    _Sign(
        re.compile(r"==(?=[^\s=])[^=]+(?<=\S)=="),
        say("words marked, which are not known here"),
        say("write `**words**`"),
    ),
    _Sign(
        re.compile(r"\[\[[^\[\]]+\]\]"),
        say("a link by the name of a page"),
        say("write `[words](page.md)`"),
    ),
    _Sign(
        re.compile(r"\^\[[^\[\]]+\]"),
        say("a footnote within its line"),
        say("write `[^name]` here and `[^name]: …` on a line of its own"),
    ),
    _Sign(
        re.compile(r"^\[TOC\]$|^\[\[_TOC_\]\]$", re.MULTILINE | re.IGNORECASE),
        say("a table of contents, which is not asked for so"),
        say("take it away"),
    ),
    _Sign(re.compile(r"^(?:!!!|\?\?\?)\+?[ \t]+\w+", re.MULTILINE), say("a note by other signs"),
          _ADMONITION),
    _Sign(re.compile(r"^\[!\w+\]", re.MULTILINE), say("a note by other signs"), _ADMONITION),
    _Sign(
        re.compile(r"^=+[ \t]*$", re.MULTILINE),
        say("a line below a heading"),
        say("write `#` before the heading"),
    ),
    _Sign(
        re.compile(r"\$\$[^$]+\$\$"),
        say("a formula, which is not known here"),
        say("write it in words, or as code"),
    ),
)  # fmt: skip
"""What is common in other dialects. Source: common practice, no source."""


_ANY: Final = re.compile("[<{~=\\[^!?$]")
"""A sign without which none of them is looked for: most passages have none."""


def dialects(passage: Passage, page: bool) -> Iterator[Finding]:
    """SG519: signs that nothing here is made of."""
    if not _ANY.search(passage.flat):
        return
    for sign in SIGNS:
        if page and not sign.of_pages:
            continue
        for found in sign.pattern.finditer(passage.flat):
            if passage.kind == "heading" and OWN_ID.search(found[0]):
                continue
            at = Label(passage.span(found.start(), found.end()))
            yield Finding(codes.NOT_MARKDOWN, sign.message, at, help=sign.help)
