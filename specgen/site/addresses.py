"""Where each thing has its page."""

from collections.abc import Callable

FOLDERS = {"part": "parts", "platform": "platforms", "build": "builds"}
START = "index.html"


def address(reference: str) -> str | None:
    """The path of a page from the site's root: `part:x` is `parts/x.html`.

    A build's further documents are named after it: `build:x/engineering`.
    """
    kind, _, name = reference.partition(":")
    folder = FOLDERS.get(kind)
    return None if folder is None or not name else f"{folder}/{name}.html"


def resolver(known: frozenset[str], path: str) -> Callable[[str], str | None]:
    """Turns references into links relative to the page at `path`; None for what has no page."""
    up = "../" * path.count("/")

    def resolve(reference: str) -> str | None:
        found = address(reference)
        return up + found if found is not None and found in known else None

    return resolve
