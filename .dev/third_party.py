#!/usr/bin/env python3
"""Renews the list of what specgen rests on, with licences: `.venv/bin/python .dev/third_party.py`.

What is listed is what `lock/publish.txt` holds, and the fonts that are shipped. A package under a
licence that is not among `ALLOWED` ends the run: somebody has to read it first.
"""

import re
import sys
from importlib.metadata import metadata
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
LOCK = ROOT / ".dev" / "lock" / "publish.txt"
FONTS = ROOT / "site" / "print" / "fonts"
WRITTEN = ROOT / "site/manual/pages/trust/third-party.md"
_PIN = re.compile(r"^([\w.-]+)==([\w.+!-]+)", re.MULTILINE)

ALLOWED = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "EPL-2.0", "MIT", "MIT-0",
    "MIT-CMU", "MPL-2.0", "OFL-1.1", "PSF-2.0", "Zlib",
}  # fmt: skip
"""By their identifiers (SPDX). All let a program be used and passed on together with them; EPL and
MPL ask that changes to their own files are passed on as well, and we change none."""
SPELLINGS = {
    "3-Clause BSD License": "BSD-3-Clause",
    "Apache 2.0": "Apache-2.0",
    "Apache Software License": "Apache-2.0",
    "BSD License": "BSD-3-Clause",
    "MIT License": "MIT",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}
"""How packages without an identifier say it."""
HEAD = """\
# What specgen rests on

Made by `.dev/third_party.py` from the locked versions. The texts of the licences travel with each
package; those of the shipped fonts lie beside them, in the package too.

| package | version | licence |
| --- | --- | --- |
"""


class Unread(Exception):
    """A licence that nobody has allowed."""


def page() -> str:
    """The page as Markdown. Raises Unread."""
    pins = dict.fromkeys(_PIN.findall(LOCK.read_text(encoding="utf-8")))
    lines = [f"| {name} | {version} | {licence(name)} |" for name, version in pins]
    fonts = sorted({path.name.split("-")[0] for path in FONTS.glob("*-LICENSE.txt")})
    lines += [f"| {name} (font, shipped) | | OFL-1.1 |" for name in fonts]
    return HEAD + "\n".join(lines) + "\n"


def licence(name: str) -> str:
    """The licence of an installed package as an expression of SPDX identifiers. Raises Unread."""
    about = metadata(name)
    stated = about.get("License-Expression") or ""
    if not stated:
        classes = [text.rpartition(" :: ")[2] for text in about.get_all("Classifier") or ()
                   if text.startswith("License")]  # fmt: skip
        said = classes[0] if classes else about.get("License") or ""
        stated = SPELLINGS.get(said, said)
    unread = set(re.split(r" AND | OR ", stated)) - ALLOWED
    if unread:
        raise Unread(f"{name}: {stated or 'no licence stated'}")
    return stated


if __name__ == "__main__":
    try:
        WRITTEN.write_text(page(), encoding="utf-8")
    except Unread as problem:
        sys.exit(f"read this licence first, then add it to ALLOWED: {problem}")
