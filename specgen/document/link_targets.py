"""Where links and pictures of documents and pages may lead."""

import re
from typing import Final

REFERENCES: Final = ("part", "platform", "build")
"""What a link can refer to by name (`part:tall-riser`); writers ask for its address."""

WEB: Final = ("http", "https", "mailto")
"""The only schemes that a link of a document may have."""

ELSEWHERE: Final = "external noopener noreferrer"
"""What a link to another host says of itself in HTML; the style sheet shows a sign for it, and
`away` of `site/print/document.typ` draws the same one in a PDF."""

_SCHEME = re.compile(r"([a-zA-Z][a-zA-Z0-9+.-]*):")
_SEGMENT = re.compile("[/?#]")
_UNFIT_IN_TARGET = re.compile(r"[\s\x00-\x20\x7f-\x9f\\<>\"\ud800-\udfff]")


def scheme(target: str) -> str:
    """The scheme of a target in lower case, "" for an anchor or a relative path."""
    found = _SCHEME.match(target)
    return found.group(1).lower() if found else ""


def safe_target(target: str) -> bool:
    """Whether a link may lead there: http, https, mailto, `#anchor`, a reference, a relative path.

    A path from the root of a host (`/x`) and another host without a scheme (`//x`) are not
    relative, and neither is anything with a blank or a control character in it.
    """
    if not target or target.startswith("/") or _UNFIT_IN_TARGET.search(target):
        return False
    if target.startswith("#"):
        return True
    first = _SEGMENT.split(target, maxsplit=1)[0]
    return ":" not in first or scheme(target) in (*WEB, *REFERENCES)


def leads_away(target: str) -> bool:
    """Whether a link leads to another host."""
    return scheme(target) in ("http", "https") or target.startswith("//")


def safe_link(target: str) -> bool:
    """Whether a link of a page may lead there: another site, a mail address, a page, a file."""
    return safe_target(target) and scheme(target) not in REFERENCES


def own_file(source: str) -> bool:
    """Whether a picture may be shown: one of the site's own files."""
    return safe_target(source) and not scheme(source) and not source.startswith("#")
