"""Where each thing has its page."""

from collections.abc import Callable, Mapping
from typing import Final

from specgen.model import Definitions

FOLDERS = {"part": "parts", "platform": "platforms", "build": "builds"}
RULES: Final = "rules"
START = "index.html"
COMPARE: Final = "compare.html"
LIMITS: Final = "limits.html"
LISTS: Final = (START, *(f"{each}.html" for each in (*FOLDERS.values(), RULES)), COMPARE, LIMITS)
"""The pages at the top of the site that are not written by hand."""
_SAFE: Final = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789.-_")


def address(reference: str) -> str | None:
    """The path of a page from the site's root: `part:x` is `parts/x.html`.

    A build's further documents are named after it: `build:x/engineering`. An anchor stays behind:
    `build:x#memory-table`. Rules have pages too (`rule:HOUSE-01`), which prose does not refer to.
    """
    kind, _, name = reference.partition(":")
    name, mark, anchor = name.partition("#")
    folder = RULES if kind == "rule" else FOLDERS.get(kind)
    return None if folder is None or not name else f"{folder}/{name}.html{mark}{anchor}"


def reference_of(path: str) -> str:
    """What the page of a build, a platform or a part is called in references; "" for others."""
    folder, _, name = path.removesuffix(".html").partition("/")
    kinds = {folder: kind for kind, folder in FOLDERS.items()}
    return f"{kinds[folder]}:{name}" if folder in kinds and name and "/" not in name else ""


def ways(facts_page: str, system: str, limits: str) -> Mapping[str, object]:
    """Where scripts find pages, values and limits: addresses with `{name}` and `{key}` left open.

    `facts_page` is what the page of a system's values is called, `system` the script about a
    system, `limits` the page of a platform's limits, each likewise.
    """
    kinds = ("build", "platform")
    return {
        "page": {kind: address(f"{kind}:{{name}}") for kind in kinds},
        "value": {kind: address(f"{kind}:{{name}}/{facts_page}#{{key}}") for kind in kinds},
        "limit": f"{limits}#{{key}}",
        "system": system.removesuffix(".js"),
    }


def known_pages(definitions: Definitions) -> frozenset[str]:
    """The paths of the pages that definitions get."""
    d = definitions
    named = [
        *(f"part:{name}" for name in d.parts),
        *(f"platform:{name}" for name in d.platforms),
        *(f"build:{name}" for name in d.builds),
        *(f"platform:{name}/{each}" for name, of in d.platforms.items() for each in of.documents),
        *(f"build:{name}/{each}" for name in d.builds for each in d.project.documents[1:]),
    ]
    return frozenset(filter(None, map(address, named)))


def resolver(known: frozenset[str], path: str) -> Callable[[str], str | None]:
    """Turns references into links relative to the page at `path`; None for what has no page.

    `site:path` is any page or file by its path from the site's root, known or not.
    """
    up = "../" * path.count("/")

    def resolve(reference: str) -> str | None:
        if reference.startswith("site:"):
            return up + reference.removeprefix("site:")
        found = address(reference)
        return up + found if found is not None and found.partition("#")[0] in known else None

    return resolve


def anchor_of(key: str) -> str:
    """The anchor of a value on the page of facts: its key, in signs that an anchor may have.

    Blanks are written `+`, other signs outside ASCII letters, digits and `.-_` by their number
    between tildes, so that no two keys share an anchor.
    """
    signs = ("+" if s == " " else s if s in _SAFE else f"~{ord(s):x}~" for s in key)
    return "".join(signs)
