"""Where links and pictures of a page may lead."""

from typing import Final

from specgen.document.tree import REFERENCES, safe_target, scheme

ELSEWHERE: Final = "external noopener noreferrer"
"""What a link to another host says of itself."""


def leads_away(target: str) -> bool:
    """Whether a link leads to another host."""
    return scheme(target) in ("http", "https") or target.startswith("//")


def safe_link(target: str) -> bool:
    """Whether a link of a page may lead there: another site, a mail address, a page, a file."""
    return safe_target(target) and scheme(target) not in REFERENCES


def own_file(source: str) -> bool:
    """Whether a picture may be shown: one of the site's own files."""
    return safe_target(source) and not scheme(source) and not source.startswith("#")
